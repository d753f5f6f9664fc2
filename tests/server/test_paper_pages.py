"""Pages of the papers as pictures: as many and as large as the PDF has, drawn once, refused in one sentence."""

import io
from pathlib import Path
from typing import Any

import httpx
import numpy as np
import pytest
from PIL import Image
from pypdf import PdfReader

from fencewright.server import paper_pages
from fencewright.server.paper_pages import PaperPages

PADDOCK = Path(__file__).parents[2] / "examples" / "small-paddock"


@pytest.fixture(scope="module")
def at(running: Any) -> str:
    """Import the small paddock with its price book; gives the address of its outputs."""
    files = [("files", (name, (PADDOCK / name).read_bytes())) for name in ("job.toml", "prices.toml")]
    made = httpx.post(f"{running.address}/api/jobs/import", files=files, timeout=60)
    assert made.status_code == 201, made.text
    return f"/api/jobs/{made.json()['id']}/outputs"


def test_pages_are_as_many_and_as_large_as_the_papers_own(client: httpx.Client, at: str) -> None:
    for name in ("quote.pdf", "field-pack.pdf", "hand-over.pdf"):
        answer = client.get(f"{at}/{name}/pages").json()
        read = PdfReader(io.BytesIO(client.get(f"{at}/{name}").content))
        sizes = [(float(page.mediabox.width), float(page.mediabox.height)) for page in read.pages]
        told = [(page["width_mm"] / 25.4 * 72, page["height_mm"] / 25.4 * 72) for page in answer["pages"]]
        assert len(told) == len(sizes) > 1
        assert np.allclose(told, sizes, atol=0.01)
        assert answer["name"] == name


def test_a_picture_is_as_wide_as_asked_for_and_has_ink(client: httpx.Client, at: str) -> None:
    pages = client.get(f"{at}/quote.pdf/pages").json()["pages"]
    seen = set()
    for page in pages:
        answer = client.get(f"{page['address']}&width=500")
        assert answer.headers["content-type"] == "image/png"
        assert "immutable" in answer.headers["cache-control"]
        with Image.open(io.BytesIO(answer.content)) as opened:
            assert opened.width == 500
            assert opened.height == pytest.approx(500 * page["height_mm"] / page["width_mm"], abs=1)
            grey = np.asarray(opened.convert("L"))
        assert 0.003 < (grey < 128).mean() < 0.5
        assert (grey > 250).mean() > 0.4
        seen.add(answer.content)
    assert len(seen) == len(pages)
    plain = client.get(f"{at}/quote.pdf/pages/1.png")
    assert (
        plain.headers["cache-control"] == "no-cache"
    )  # without its key it may be another revision's tomorrow


def test_what_is_not_there_is_said_in_one_sentence(client: httpx.Client, at: str) -> None:
    pages = len(client.get(f"{at}/quote.pdf/pages").json()["pages"])
    for number in (0, -3, pages + 1):
        answer = client.get(f"{at}/quote.pdf/pages/{number}.png")
        assert answer.status_code == 404
        error = answer.json()["error"]
        assert error["sentence"] == f"there is no page {number}: it has pages 1 to {pages}"
        assert error["file"] == "quote.pdf"
    for address in ("plan.svg/pages", "plan.svg/pages/1.png", "nothing.pdf/pages", "programme.svg/pages"):
        answer = client.get(f"{at}/{address}")
        assert answer.status_code == 404
        said = answer.json()["error"]["sentence"]
        assert said.startswith("there is no paper of that name: there are ")
        assert "quote.pdf" in said


@pytest.mark.parametrize("asked", ["1.png?width=99", "1.png?width=3201", "1.png?width=wide", "one.png"])
def test_a_width_out_of_bounds_and_a_page_that_is_no_number_are_refused(
    client: httpx.Client, at: str, asked: str
) -> None:
    answer = client.get(f"{at}/quote.pdf/pages/{asked}")
    assert answer.status_code == 422
    assert answer.json()["error"]["code"] == "request"


def test_a_page_is_drawn_once_and_few_are_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: list[tuple[int, int]] = []

    def draw(content: bytes, number: int, width_px: int) -> bytes:
        drawn.append((number, width_px))
        return bytes(10_000_000)

    monkeypatch.setattr(paper_pages, "page_picture", draw)
    papers = PaperPages()
    for number in (1, 1, 2, 3, 1):
        papers.picture(b"paper", number, 800)
    assert drawn == [(1, 800), (2, 800), (3, 800)]
    papers.picture(b"paper", 4, 800)  # page 2, asked for longest ago, gives way
    papers.picture(b"paper", 1, 800)
    papers.picture(b"paper", 2, 800)
    papers.picture(b"another", 2, 800)
    papers.picture(b"paper", 2, 400)
    assert drawn[3:] == [(4, 800), (2, 800), (2, 800), (2, 400)]
