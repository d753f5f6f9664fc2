"""Uploads read within bounds, whatever the request says of their size."""

from collections.abc import Sequence

from fastapi import Request, UploadFile

from fencewright.server.errors import Refused


async def read_uploads(request: Request, files: Sequence[UploadFile], most_bytes: int) -> dict[str, bytes]:
    """Read uploaded files.

    Parameters
    ----------
    request : Request
        Its stated length is looked at first.
    files : sequence of UploadFile
        As they came.
    most_bytes : int
        All of them together may hold so much.

    Raises
    ------
    Refused
        `too-large`, or two files of one name.
    """
    taken: dict[str, bytes] = {}
    left = most_bytes
    for file in files:
        name = file.filename or ""
        content = await file.read(left + 1)
        left -= len(content)
        if left < 0:
            raise Refused("too-large", f"give at most {most_bytes / 1e6:,.0f} MB at once", file=name)
        if name in taken:
            raise Refused("input", "two files have one name: rename one of them", file=name)
        taken[name] = content
    return taken
