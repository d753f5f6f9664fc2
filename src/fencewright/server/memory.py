"""Memory of a process that answers: what is freed is kept, and what nothing reaches is looked for while nobody waits.

Python looks for cycles of garbage in the middle of whatever makes the next object: with the columns of many designs in
memory that took 20 to 100 ms, once in six edits of a fence of 50 km. Here it is done at rest.
"""

import ctypes
import gc
import sys
from contextlib import suppress

AT_REST_S = 1.0
"""How long nothing has been asked or answered before a process counts as being at rest. [s]"""
_TRIM_THRESHOLD, _MMAP_THRESHOLD = -1, -3  # of mallopt(3)
_KEPT_BYTES = 32_000_000
_LEAST_NEW, _MOST_NEW = 5_000, 1_000_000  # objects made since the last look, at rest and whatever happens
_ALL_EVERY = 20  # looks at the new alone, between two at everything


def keep_freed() -> None:
    """Let what is freed stay with the process, where its library can be told so: the next answer needs as much again."""
    if sys.platform == "linux":
        with suppress(OSError, AttributeError):  # another C library
            library = ctypes.CDLL(None)
            library.mallopt(_TRIM_THRESHOLD, 2 * _KEPT_BYTES)
            library.mallopt(_MMAP_THRESHOLD, _KEPT_BYTES)


def put_off_garbage() -> None:
    """Take all that is loaded by now as staying, and leave garbage until the process rests, or there is very much."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(_MOST_NEW, 50, 50)


class Garbage:
    """Looks for what nothing reaches when the process says that it is at rest."""

    def __init__(self) -> None:
        self._looks = 0

    def look(self) -> bool:
        """Look for it now, where enough is new; whether that was so."""
        if gc.get_count()[0] < _LEAST_NEW:
            return False
        self._looks += 1
        gc.collect(2 if self._looks % _ALL_EVERY == 0 else 0)
        return True
