"""Whole jobs and their field packs, read again with an independent reader of PDF."""

from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream

from fencewright.desk.paper_writing import paper_outputs
from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.exchange.design_json import design_record
from fencewright.pipeline.record import Design

JOB = (Path(__file__).parent / "ring.toml").read_text("utf-8")


@pytest.fixture(scope="session")
def designed(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., Design]:
    """Designer of a square of a side in feet; `more` is added to the job."""
    folder = tmp_path_factory.mktemp("papers")

    def run(
        side: int = 120, *, name: str = "Ring", sheets: str = "us", more: str = "", at: Path = folder
    ) -> Design:
        return design(job_from_text(JOB.format(name=name, sheets=sheets, side=side, more=more), at))

    return run


def read_pdf(content: bytes) -> PdfReader:
    return PdfReader(BytesIO(content))


@pytest.fixture(scope="session")
def small(designed: Callable[..., Design]) -> tuple[dict[str, Any], PdfReader]:
    """Record and pack of a small ring."""
    made = designed()
    return design_record(made), read_pdf(paper_outputs(made)["field-pack.pdf"])


@pytest.fixture(scope="session")
def large(designed: Callable[..., Design]) -> tuple[dict[str, Any], PdfReader]:
    """Record and pack of some 500 posts."""
    made = designed(1500)
    return design_record(made), read_pdf(paper_outputs(made)["field-pack.pdf"])


@pytest.fixture(scope="session")
def metric(designed: Callable[..., Design]) -> tuple[dict[str, Any], PdfReader]:
    """Record and pack of a small ring in metric units on A4."""
    made = designed(sheets="metric")
    return design_record(made), read_pdf(paper_outputs(made)["field-pack.pdf"])


@pytest.fixture(scope="session")
def pages_of() -> Callable[[PdfReader, str], range]:
    """Finder of the pages of a section, by its bookmark."""

    def find(pdf: PdfReader, title: str) -> range:
        tops: list[Any] = [one for one in pdf.outline if not isinstance(one, list)]
        starts = [(str(one.title), pdf.get_destination_page_number(one)) for one in tops]
        row = next(k for k, (name, _) in enumerate(starts) if name == title)
        end = starts[row + 1][1] if row + 1 < len(starts) else len(pdf.pages)
        return range(starts[row][1] or 0, end or 0)

    return find


Matrix = tuple[float, float, float, float, float, float]


def _times(a: Matrix, b: Matrix) -> Matrix:
    return (
        a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3], a[2] * b[0] + a[3] * b[2], a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4], a[4] * b[1] + a[5] * b[3] + b[5],
    )  # fmt: skip


def _paths(
    pdf: PdfReader, stream: Any, resources: Any, matrix: Matrix
) -> Iterator[list[tuple[float, float]]]:
    stack: list[Matrix] = []
    points: list[tuple[float, float]] = []
    for args, operator in ContentStream(stream, pdf).operations:
        if operator == b"q":
            stack.append(matrix)
        elif operator == b"Q":
            matrix = stack.pop()
        elif operator == b"cm":
            matrix = _times(tuple(float(one) for one in args), matrix)  # type: ignore[arg-type]  # six of them
        elif operator in (b"m", b"l"):
            x, y = (float(one) for one in args)
            points.append(
                (matrix[0] * x + matrix[2] * y + matrix[4], matrix[1] * x + matrix[3] * y + matrix[5])
            )
        elif operator in (b"f", b"f*", b"B", b"B*", b"S", b"n", b"b"):
            if points and operator in (b"f", b"f*", b"B", b"B*", b"b"):
                yield points
            points = []
        elif operator == b"Do":
            form = resources["/XObject"][args[0]].get_object()
            if form["/Subtype"] == "/Form":
                own = tuple(float(one) for one in form.get("/Matrix", (1, 0, 0, 1, 0, 0)))
                inner = form.get("/Resources", resources)
                yield from _paths(pdf, form, inner, _times(own, matrix))  # type: ignore[arg-type]  # six of them


@pytest.fixture(scope="session")
def filled_boxes() -> Callable[[PdfReader, int], list[tuple[float, float, float, float]]]:
    """Finder of the filled paths of a page: left, low, right, high in points of the page, forms gone into."""

    def find(pdf: PdfReader, page: int) -> list[tuple[float, float, float, float]]:
        sheet = pdf.pages[page]
        paths = _paths(pdf, sheet.get_contents(), sheet["/Resources"], (1, 0, 0, 1, 0, 0))
        return [
            (
                min(x for x, _ in path),
                min(y for _, y in path),
                max(x for x, _ in path),
                max(y for _, y in path),
            )
            for path in paths
        ]

    return find
