"""Pages of a PDF as pictures, against another reader of PDF (pypdf) and another of PNG (Pillow)."""

import io
import threading

import numpy as np
import pytest
from PIL import Image
from pypdf import PageObject, PdfWriter

from fencewright.exchange.pdf_pages import LONGEST_SIDE_PX, page_picture, page_sizes_mm
from fencewright.exchange.png import encode_png
from fencewright.findings import InputError


def pdf_of(*sizes_pt: tuple[float, float]) -> bytes:
    """Write a PDF of empty pages."""
    writer, made = PdfWriter(), io.BytesIO()
    for width, height in sizes_pt:
        writer.add_page(PageObject.create_blank_page(width=width, height=height))
    writer.write(made)
    return made.getvalue()


def inked_pdf() -> bytes:
    """Write one page of 200 by 100 points, its left half red."""
    stream = b"1 0 0 rg 0 0 100 100 re f"
    parts = [
        b"<< /Type /Catalog /Pages 2 0 R >>",
        b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 200 100] /Contents 4 0 R >>",
        b"<< /Length %d >>\nstream\n%s\nendstream" % (len(stream), stream),
    ]
    made, places = b"%PDF-1.4\n", []
    for number, part in enumerate(parts, 1):
        places.append(len(made))
        made += b"%d 0 obj\n%s\nendobj\n" % (number, part)
    start = len(made)
    made += b"xref\n0 5\n0000000000 65535 f \n" + b"".join(b"%010d 00000 n \n" % at for at in places)
    return made + b"trailer << /Size 5 /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n" % start


def read(picture: bytes) -> np.ndarray:
    """Read a PNG."""
    with Image.open(io.BytesIO(picture)) as opened:
        assert (opened.format, opened.mode) == ("PNG", "RGB")
        return np.asarray(opened)


def test_a_png_holds_its_colours() -> None:
    colours = np.random.default_rng(7).integers(0, 256, (5, 9, 3), np.uint8)
    assert (read(encode_png(colours)) == colours).all()


def test_sizes_are_those_of_the_pages_in_order() -> None:
    sizes = page_sizes_mm(pdf_of((612, 792), (792, 612), (595.276, 841.89)))
    assert np.allclose(sizes, [(215.9, 279.4), (279.4, 215.9), (210, 297)], atol=0.01)


def test_a_page_is_drawn_in_its_colours_at_the_width_asked_for() -> None:
    drawn = read(page_picture(inked_pdf(), 1, 400))
    assert drawn.shape == (200, 400, 3)
    assert (drawn[:, 5:195] == (255, 0, 0)).all()
    assert (drawn[:, 205:] == 255).all()


def test_a_page_of_great_height_is_drawn_narrower() -> None:
    drawn = read(page_picture(pdf_of((100, 14_000)), 1, 400))
    assert drawn.shape[0] <= LONGEST_SIDE_PX + 1
    assert drawn.shape[1] == pytest.approx(LONGEST_SIDE_PX / 140, abs=1)


@pytest.mark.parametrize("number", [0, -1, 3])
def test_a_page_that_is_not_there_is_refused(number: int) -> None:
    with pytest.raises(InputError, match=rf"^there is no page {number}: it has pages 1 to 2$"):
        page_picture(pdf_of((100, 100), (100, 100)), number, 200)


@pytest.mark.parametrize("content", [b"", b"%PDF-1.7\n", b"<svg/>"])
def test_what_is_no_pdf_is_refused(content: bytes) -> None:
    with pytest.raises(InputError, match="not a PDF"):
        page_sizes_mm(content)


def test_many_threads_draw_the_same_as_one() -> None:
    content = inked_pdf()
    alone = {width: page_picture(content, 1, width) for width in range(100, 180, 10)}
    drawn: dict[int, bytes] = {}
    asking = [
        threading.Thread(target=lambda w=width: drawn.update({w: page_picture(content, 1, w)}))
        for width in alone
    ]
    for one in asking:
        one.start()
    for one in asking:
        one.join()
    assert drawn == alone
