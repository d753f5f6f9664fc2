"""Errors that end a run: bad input, and a fault of the program or of the disk."""

import re

_NOT_ON_A_LINE = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff]+")


class FencewrightError(Exception):
    """Root of every error that the program raises on purpose."""


class InputError(FencewrightError):
    """Input from which no design is possible.

    Parameters
    ----------
    what : str
        What is wrong and what to do, one clear sentence; what it quotes of the input may hold line breaks and the
        like, which become blanks.
    file : str, optional
        The file that holds it.
    item : str, optional
        The item in that file (`line "paddock", point 3`).
    field : tuple of str and int, optional
        Where it stands in the job file, as keys and numbers from 0 (`("gate", 0, "at")`).
    """

    def __init__(
        self, what: str, *, file: str = "", item: str = "", field: tuple[str | int, ...] = ()
    ) -> None:
        self.what = _NOT_ON_A_LINE.sub(" ", what)
        self.file = _NOT_ON_A_LINE.sub(" ", file)
        self.item = _NOT_ON_A_LINE.sub(" ", item)
        self.field = field
        super().__init__(": ".join(part for part in (self.file, self.item, self.what) if part))

    def within(self, *, file: str = "", item: str = "") -> "InputError":
        """Give the same error with its file or item named, where they were not known."""
        return InputError(self.what, file=self.file or file, item=self.item or item, field=self.field)


class InternalFault(FencewrightError):
    """A fault of the program or of the disk, in one sentence."""
