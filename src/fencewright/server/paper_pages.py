"""Pages of the papers as the page shows them: their sizes, and each as a picture, drawn when it is first asked for."""

import hashlib
from collections import OrderedDict
from dataclasses import dataclass, field
from threading import Lock

from pydantic import Field

from fencewright.exchange.pdf_pages import page_picture
from fencewright.server.models import Told

NARROWEST_PX, USUAL_PX, WIDEST_PX = 100, 1200, 3200
_KEPT_BYTES = 32_000_000


class PageInfo(Told):
    """One page of a paper."""

    width_mm: float
    height_mm: float
    address: str = Field(description="Of its picture, of the same revision; add `&width=` in pixels.")


class PagesAnswer(Told):
    """The pages of a paper, in order."""

    name: str
    pages: list[PageInfo]
    widest_px: int = Field(description="The widest picture that is drawn. [px]")


@dataclass
class PaperPages:
    """Pictures of pages drawn so far, up to a bound of memory."""

    pictures: OrderedDict[tuple[str, int, int], bytes] = field(default_factory=OrderedDict)
    lock: Lock = field(default_factory=Lock)

    def picture(self, content: bytes, number: int, width_px: int) -> bytes:
        """Give a page of a paper as a PNG; the page that was asked for longest ago gives way to a new one.

        Raises
        ------
        InputError
            It has no such page.
        """
        key = (key_of(content), number, width_px)
        with self.lock:  # pages are drawn one at a time: who waits for the same one finds it
            if key not in self.pictures:
                self.pictures[key] = page_picture(content, number, width_px)
            self.pictures.move_to_end(key)
            while len(self.pictures) > 1 and sum(map(len, self.pictures.values())) > _KEPT_BYTES:
                self.pictures.popitem(last=False)
            return self.pictures[key]


def key_of(content: bytes) -> str:
    """Short text that changes with a paper's content."""
    return hashlib.sha256(content).hexdigest()[:16]
