"""What every paper shares: its size, what stands in header and footer, and how numbers are told."""

from collections.abc import Mapping, Sequence
from typing import Any, Literal

from fencewright.papers.blocks import Paper, Section
from fencewright.papers.glyphs import fitted, plain_text
from fencewright.pipeline.record import Design
from fencewright.sheets.frame import NOT_TO_BE_BUILT

Size = Literal["letter", "a4"]
_PAGE_MM: Mapping[str, tuple[float, float]] = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
_SIDE_MM, _TOP_MM, _LOW_MM = 12.0, 21.0, 17.0  # margins of the template
_HEADER_PT, _PT_MM = 9.0, 25.4 / 72
_KIND_MM, _BANNER_MM = 72.0, 42.0  # kept in the header for paper and section, and for the words that forbid


def paper_size(design: Design) -> Size:
    """Paper of a job: as `[paper] size` states, else Letter with US sheets and A4 with metric ones."""
    stated = design.job.asked.paper.size
    return stated or ("letter" if design.job.asked.job.sheets == "us" else "a4")


def room_mm(size: Size, *, is_landscape: bool = False) -> tuple[float, float]:
    """Width and height of a page between its margins. [mm]."""
    width, height = _PAGE_MM[size]
    if is_landscape:
        width, height = height, width
    return width - 2 * _SIDE_MM, height - _TOP_MM - _LOW_MM


def paper_of(kind: str, design: Design, record: Mapping[str, Any], sections: Sequence[Section]) -> Paper:
    """Put sections into a paper.

    Parameters
    ----------
    kind : str
        `Field pack`, `Quote`, `Hand-over`.
    design : Design
        Of which it speaks.
    record : mapping
        Of design.json.
    sections : sequence of Section
        The cover first.

    Returns
    -------
    Paper
        Its marks are the job's name, cut to the header, its revision, the first 12 digits of the digest, the
        program's version, and the words that forbid building where a finding does.
    """
    size = paper_size(design)
    banner = "" if record["may_be_built"] else NOT_TO_BE_BUILT
    room = room_mm(size)[0] - _KIND_MM - (_BANNER_MM if banner else 0.0)
    name = plain_text(record["job"]["name"])
    marks = {
        "job": fitted(name, room / (_HEADER_PT * _PT_MM), True),
        "revision": fitted(record["job"]["revision"], 14.0),
        "digest": record["digest"][:12],
        "program": f"{record['program']} {record['version']}",
        "banner": banner,
    }
    return Paper(f"{kind}: {name}", kind, size, marks, sections)
