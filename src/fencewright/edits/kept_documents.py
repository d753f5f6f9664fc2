"""Documents kept for the next edit of the same text: to copy one is several times quicker than to read it anew.

Only what was read from a text is kept: a document that was changed has its blank lines elsewhere.
"""

import pickle
from collections import OrderedDict
from threading import Lock

from tomlkit import TOMLDocument

_MOST_BYTES = 64_000_000
_MOST_READY = 4


class KeptDocuments:
    """Copies of documents by their text; the ones used longest ago go first. May be used by several threads."""

    def __init__(self, most_bytes: int = _MOST_BYTES) -> None:
        self._most_bytes = most_bytes
        self._bytes = 0
        self._copies: OrderedDict[str, bytes] = OrderedDict()
        self._ready: OrderedDict[str, TOMLDocument] = OrderedDict()
        self._lock = Lock()

    def get(self, text: str) -> TOMLDocument | None:
        """Give a copy of the document of a text; None where it is not kept."""
        with self._lock:
            copy = self._copies.get(text)
            if copy is None:
                return None
            self._copies.move_to_end(text)
            ready = self._ready.pop(text, None)
        if ready is not None:
            return ready
        document: TOMLDocument = pickle.loads(copy)
        return document

    def keep(self, text: str, document: TOMLDocument) -> None:
        """Keep a copy of the document that was read from a text; the document itself may be changed afterwards."""
        try:
            copy = pickle.dumps(document, protocol=pickle.HIGHEST_PROTOCOL)
        except RecursionError:  # nested too deeply to copy; it is read anew each time
            return
        with self._lock:
            self._bytes -= len(self._copies.pop(text, b""))
            if len(copy) > self._most_bytes:
                return
            self._copies[text] = copy
            self._bytes += len(copy)
            while self._bytes > self._most_bytes:
                self._bytes -= len(self._copies.popitem(last=False)[1])

    def make_ready(self, text: str) -> bool:
        """Make a copy of a kept document ahead, for the next who asks for it; false where none is kept."""
        with self._lock:
            copy = self._copies.get(text)
            if copy is None or text in self._ready:
                return copy is not None
        document: TOMLDocument = pickle.loads(copy)
        with self._lock:
            self._ready[text] = document
            while len(self._ready) > _MOST_READY:
                self._ready.popitem(last=False)
        return True


KEPT = KeptDocuments()
"""Of this process."""
