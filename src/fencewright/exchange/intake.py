"""What every reader does with a file before it is parsed: is it there, of a sane size, text, of its type."""

import re
from pathlib import Path

from fencewright.findings import InputError
from fencewright.findings.file_faults import NO_FILE, cannot_be_read

MAX_TEXT_BYTES = 200_000_000
MAX_BINARY_BYTES = 2_000_000_000
_MAX_SHOWN = 60
_SIGNATURES = {
    b"\x89PNG": "a PNG picture",
    b"\xff\xd8\xff": "a JPEG picture",
    b"GIF8": "a GIF picture",
    b"%PDF": "a PDF document",
    b"PK\x03\x04": "a ZIP archive",
    b"\x1f\x8b": "a gzip archive",
    b"II*\x00": "a TIFF picture",
    b"MM\x00*": "a TIFF picture",
    b"LASF": "a LAS point cloud",
    b"SQLite format 3\x00": "a SQLite database",
    b"\x00\x00\x27\x0a": "a Shapefile",
    b"\x7fELF": "a program",
    b"MZ": "a program",
}
_UTF16 = (b"\xff\xfe", b"\xfe\xff")


def shown(text: str, limit: int = _MAX_SHOWN) -> str:
    """Text of a file as it may stand in a message: one line, no control characters, cut at `limit`."""
    line = " ".join(printable(text).split())
    return line if len(line) <= limit else line[: limit - 3] + "..."


def printable(text: str) -> str:
    """Text without control characters or halves of surrogate pairs, trimmed."""
    return re.sub(r"[\x00-\x1f\x7f-\x9f\ud800-\udfff]+", " ", text).strip()


def check_file(path: Path, max_bytes: int) -> int:
    """Size of a file that is there, is a plain file, not empty and not absurdly large, in bytes.

    Raises
    ------
    InputError
        Otherwise, with the reason.
    """
    file = str(path)
    try:
        if path.is_dir():
            raise InputError("it is a folder, where a file is needed", file=file)
        if not path.exists():
            raise InputError(NO_FILE, file=file)
        if not path.is_file():
            raise InputError("it is no plain file", file=file)
        size = path.stat().st_size
    except (OSError, ValueError) as error:
        raise InputError(cannot_be_read(error), file=file) from error
    if size == 0:
        raise InputError("the file is empty", file=file)
    if size > max_bytes:
        what = f"it has {size / 1e6:,.0f} MB, more than the {max_bytes / 1e6:,.0f} MB that are read: trim it"
        raise InputError(what, file=file)
    return size


def read_bytes(path: Path, max_bytes: int = MAX_TEXT_BYTES) -> bytes:
    """Bytes of a file that passes `check_file`."""
    check_file(path, max_bytes)
    try:
        return path.read_bytes()
    except OSError as error:
        raise InputError(cannot_be_read(error), file=str(path)) from error


def read_head(path: Path, count: int) -> bytes:
    """First bytes of a file."""
    try:
        with path.open("rb") as stream:
            return stream.read(count)
    except OSError as error:
        raise InputError(cannot_be_read(error), file=str(path)) from error


def refuse_foreign(head: bytes, file: str, wanted: str) -> None:
    """Refuse a file whose first bytes show that it is something else than `wanted` (`GPX`)."""
    for signature, what in _SIGNATURES.items():
        if head.startswith(signature):
            raise InputError(
                f"it is {what}, not {wanted}: give it its right name, or another file", file=file
            )


def encoding_of(data: bytes) -> str:
    """Name the encoding of a text by its mark: UTF-16, as spreadsheets write it, else UTF-8."""
    return "utf-16" if data.startswith(_UTF16) else "utf-8-sig"


def decode(data: bytes, file: str, wanted: str) -> str:
    """Text of a UTF-8 file (or UTF-16 with its mark).

    Raises
    ------
    InputError
        Where it is another type of file, binary, or in another encoding.
    """
    refuse_foreign(data, file, wanted)
    encoding = encoding_of(data)
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise InputError(f"line {line} is not UTF-8 text: save the file as UTF-8", file=file) from error
    if "\x00" in text:
        raise InputError(f"it holds binary data, not {wanted} text", file=file)
    if not text.strip():
        raise InputError("the file holds nothing but blanks", file=file)
    return text
