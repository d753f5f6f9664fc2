"""A picture's world file: six numbers that place it, and the `.prj` beside it that names their system."""

import math
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.intake import decode, read_bytes, shown
from fencewright.findings import InputError

Floats = NDArray[np.float64]

_MAX_BYTES = 100_000
_ENDINGS = {
    ".png": (".pgw", ".pngw", ".wld"),
    ".jpg": (".jgw", ".jpgw", ".wld"),
    ".jpeg": (".jgw", ".jpgw", ".wld"),
    ".tif": (".tfw", ".tifw", ".wld"),
    ".tiff": (".tfw", ".tifw", ".wld"),
}
KINDS = tuple(sorted({ending for endings in _ENDINGS.values() for ending in endings}))


def world_file(path: Path) -> Path | None:
    """Give the world file of a picture; None: there is none beside it."""
    return _beside(path, _ENDINGS.get(path.suffix.lower(), (".wld",)))


def prj_file(path: Path) -> Path | None:
    """Give the file beside a picture that names its coordinate system; None: there is none."""
    return _beside(path, (".prj",))


def read_world_file(path: Path) -> Floats:
    """Way from a picture's columns and rows to coordinates.

    Parameters
    ----------
    path : Path
        Six numbers, one a line: step east a column, step north a column, step east a row, step north a row,
        east and north of the middle of the upper left cell.

    Returns
    -------
    float array (3, 3)
        Turns (column, row, 1), counted from the picture's upper left corner, into (east, north, 1).

    Raises
    ------
    InputError
        It is no world file, or its cells have no size.
    """
    words = decode(read_bytes(path, _MAX_BYTES), path.name, "a world file").split()
    try:
        numbers = [float(word.replace(",", ".")) for word in words]
    except ValueError:
        numbers = []
    if len(numbers) != 6 or not all(map(math.isfinite, numbers)):
        said = f"this one has {len(numbers)}" if numbers else f'this one begins "{shown(words[0], 20)}"'
        raise InputError(
            f"a world file is six numbers, one a line, and {said}: export it again", file=path.name
        )
    across, across_north, down_east, down, east, north = numbers
    if across * down == across_north * down_east:
        raise InputError(
            "by its world file the picture's cells have no size: export it again", file=path.name
        )
    east, north = east - (across + down_east) / 2, north - (across_north + down) / 2
    return np.array([[across, down_east, east], [across_north, down, north], [0.0, 0.0, 1.0]])


def read_prj(path: Path) -> str:
    """Text of a coordinate system that a file beside the picture names."""
    return decode(read_bytes(path, _MAX_BYTES), path.name, "a coordinate system").strip()


def _beside(path: Path, endings: tuple[str, ...]) -> Path | None:
    """File of the same stem with the first of these endings, in any case."""
    there = {
        other.suffix.lower(): other
        for other in path.parent.iterdir()
        if other.stem.casefold() == path.stem.casefold()
    }
    return next((there[ending] for ending in endings if ending in there), None)
