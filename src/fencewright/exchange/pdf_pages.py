"""Pages of a PDF file: how many and how large, and each as a picture for a screen."""

from collections.abc import Iterator
from contextlib import contextmanager
from threading import Lock
from typing import TYPE_CHECKING

from fencewright.exchange.png import encode_png
from fencewright.findings import InputError

if TYPE_CHECKING:
    from pypdfium2 import PdfDocument

MM_PER_POINT = 25.4 / 72
LONGEST_SIDE_PX = 6400
_ONE_AT_A_TIME = Lock()  # the library that draws may be used by one thread at a time


def page_sizes_mm(content: bytes) -> list[tuple[float, float]]:
    """Give width and height of each page. [mm]

    Raises
    ------
    InputError
        It is not a PDF.
    """
    with _opened(content) as document:
        sizes = [document.get_page_size(number) for number in range(len(document))]
    return [(width * MM_PER_POINT, height * MM_PER_POINT) for width, height in sizes]


def page_picture(content: bytes, number: int, width_px: int) -> bytes:
    """Draw one page as a PNG.

    Parameters
    ----------
    content : bytes
        The PDF.
    number : int
        Of the page, from 1.
    width_px : int
        Width of the picture; a page so high that its height would pass `LONGEST_SIDE_PX` is drawn narrower.

    Raises
    ------
    InputError
        It is not a PDF, or it has no such page.
    """
    with _opened(content) as document:
        pages = len(document)
        if not 1 <= number <= pages:
            raise InputError(f"there is no page {number}: it has pages 1 to {pages}")
        page = document[number - 1]
        try:
            width, height = page.get_size()
            scale = min(width_px / width, LONGEST_SIDE_PX / height)
            drawn = page.render(scale=scale, rev_byteorder=True)
            try:
                colours = drawn.to_numpy().copy()  # the array is the library's own memory
            finally:
                drawn.close()
        finally:
            page.close()
    return encode_png(colours)


@contextmanager
def _opened(content: bytes) -> Iterator["PdfDocument"]:
    """Open a PDF for one thread; everything of the library is closed again before the next one comes."""
    with _ONE_AT_A_TIME:
        from pypdfium2 import PdfDocument, PdfiumError

        try:
            document = PdfDocument(content)
        except PdfiumError as error:
            raise InputError("this is not a PDF that can be read") from error
        try:
            yield document
        finally:
            document.close()
