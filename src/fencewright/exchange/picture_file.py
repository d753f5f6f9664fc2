"""Pictures of the site (orthophotos, scanned plans): opened, told from terrain, and read by window as colours."""

import math
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.ground_request import need_file
from fencewright.exchange.raster_cells import opened_raster
from fencewright.exchange.world_file import prj_file, read_prj, read_world_file, world_file
from fencewright.findings import InputError

Floats = NDArray[np.float64]
Colours = NDArray[np.uint8]

KINDS = (".tif", ".tiff", ".png", ".jpg", ".jpeg")
MOST_BLOCK_CELLS = 50_000_000
MOST_DECODED_CELLS = 400_000_000  # in one reading: some ten seconds
MOST_UNTILED_CELLS = 120_000_000  # of a PNG or JPEG, whose reader may hold all of it
_LOOK_CELLS = 400  # a side of the small copy by which cells of 16 bits are stretched
_STRICT = {"GDAL_PNG_WHOLE_IMAGE_OPTIM": "NO"}  # read whole, a PNG that is cut short would pass unseen
_STARTS = {
    b"II*\0": "GTiff", b"MM\0*": "GTiff", b"II+\0": "GTiff", b"MM\0+": "GTiff",
    b"\x89PNG": "PNG", b"\xff\xd8\xff": "JPEG",
}  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class PictureFrame:
    """What a picture is, and where its cells lie.

    Parameters
    ----------
    path : Path
        The file.
    columns, rows : int
        Its size. [cells]
    to_file : float array (3, 3)
        Turns (column, row, 1), counted from the upper left corner, into (x, y, 1) of its own coordinates.
    crs : str
        Its coordinate system as it names it; empty where it names none.
    bands : tuple of int
        One band (grey or palette) or three (red, green, blue), from 1.
    palette : uint8 array (colours, 4), optional
        Colour and opacity by cell value.
    darkest, brightest : float
        Cell values shown as black and as white.
    overviews : tuple of int
        Factors by which it holds itself reduced.
    """

    path: Path
    columns: int
    rows: int
    to_file: Floats
    crs: str
    bands: tuple[int, ...]
    palette: Colours | None
    darkest: float
    brightest: float
    overviews: tuple[int, ...]


@contextmanager
def open_picture(path: Path) -> Iterator[Any]:
    """Open a TIFF, PNG or JPEG, known by its first bytes; whatever goes wrong inside becomes one sentence.

    Parameters
    ----------
    path : Path
        The file.

    Yields
    ------
    rasterio dataset
        Open for reading.

    Raises
    ------
    InputError
        It is no such picture, or cut short.
    """
    need_file(path)
    with path.open("rb") as stream:
        start = stream.read(4)
    driver = next((name for known, name in _STARTS.items() if start.startswith(known)), None)
    if driver is None:
        raise InputError("it is no TIFF, PNG or JPEG: export it as one of them", file=path.name)
    damaged = "it cannot be read as a picture: it is cut short or damaged, export it again"
    with opened_raster(path, driver, damaged, **_STRICT) as dataset:
        yield dataset


def look_at_raster(path: Path) -> tuple[bool, bool]:
    """Tell by a raster's head whether its cells may be colours, and whether they may be heights.

    Raises
    ------
    InputError
        It cannot be read.
    """
    with open_picture(path) as dataset:
        is_picture = _is_picture(dataset)
        return is_picture, dataset.driver == "GTiff" and (not is_picture or _is_like_heights(dataset))


def read_frame(path: Path) -> PictureFrame:
    """Read what a picture is and where it lies; of its cells no more than a small copy.

    Parameters
    ----------
    path : Path
        A TIFF, PNG or JPEG, placed by itself or by a world file beside it.

    Raises
    ------
    InputError
        It cannot be read, holds heights rather than colours, nothing places it, or it is too large to be read.
    """
    with open_picture(path) as dataset:
        if not _is_picture(dataset):
            raise InputError(
                "it holds heights or other numbers, no picture: use it as the ground", file=path.name
            )
        _check_size(dataset, path.name)
        bands, palette = _bands(dataset)
        darkest, brightest = _stretch(dataset, bands) if palette is None else (0.0, 255.0)
        return PictureFrame(
            path, dataset.width, dataset.height, _placing(dataset, path), _crs(dataset, path), bands, palette,
            darkest, brightest, tuple(dataset.overviews(bands[0])),
        )  # fmt: skip


def read_colours(frame: PictureFrame, window: tuple[int, int, int, int], shape: tuple[int, int]) -> Colours:
    """Read a window of a picture, reduced to a size; a reduced copy in the file is used where there is one.

    Parameters
    ----------
    frame : PictureFrame
        The picture.
    window : (column, row, columns, rows)
        Inside the picture. [cells]
    shape : (rows, columns)
        Of what is given back, no larger than the window.

    Returns
    -------
    uint8 array (4, rows, columns)
        Red, green, blue and opacity.

    Raises
    ------
    InputError
        It is cut short, or so much would have to be read for it that it takes too long.
    """
    from rasterio.enums import Resampling
    from rasterio.windows import Window

    _check_work(frame, window, shape)
    area = Window(*window)
    with open_picture(frame.path) as dataset:
        way = Resampling.nearest if frame.palette is not None else Resampling.average
        cells = dataset.read(
            list(frame.bands), window=area, out_shape=(len(frame.bands), *shape), resampling=way
        )
        seen = dataset.dataset_mask(window=area, out_shape=shape, resampling=Resampling.nearest)
    colours = np.empty((4, *shape), np.uint8)
    if frame.palette is not None:
        colours[:] = frame.palette[np.minimum(cells[0], len(frame.palette) - 1)].transpose(2, 0, 1)
        colours[3] = np.minimum(colours[3], seen)
        return colours
    for band in range(3):
        colours[band] = _shown(cells[min(band, len(cells) - 1)], frame)
    colours[3] = seen
    return colours


def _shown(cells: NDArray[Any], frame: PictureFrame) -> Colours:
    if cells.dtype == np.uint8 and (frame.darkest, frame.brightest) == (0.0, 255.0):
        return cells
    spread = np.float32(255.0 / (frame.brightest - frame.darkest))
    scaled = (cells.astype(np.float32) - np.float32(frame.darkest)) * spread
    colours: Colours = np.clip(np.rint(scaled), 0, 255).astype(np.uint8)
    return colours


def _is_picture(dataset: Any) -> bool:
    return np.dtype(dataset.dtypes[0]) in (np.uint8, np.uint16, np.int16)


def _is_like_heights(dataset: Any) -> bool:
    return bool(dataset.count == 1 and np.dtype(dataset.dtypes[0]).itemsize == 2)


def _check_size(dataset: Any, file: str) -> None:
    cells = dataset.width * dataset.height
    if dataset.driver != "GTiff" and cells > MOST_UNTILED_CELLS:
        raise InputError(
            f"it has {cells / 1e6:,.0f} million cells: cut it to the site, or give it as a tiled GeoTIFF",
            file=file,
        )
    block_rows, block_columns = dataset.block_shapes[0]
    if block_rows * block_columns > MOST_BLOCK_CELLS:
        raise InputError("it is stored in blocks too large to read: export it tiled", file=file)


def _check_work(frame: PictureFrame, window: tuple[int, int, int, int], shape: tuple[int, int]) -> None:
    """Refuse what would take too long: a large picture that holds no reduced copy of itself."""
    reduced = min(window[2] / shape[1], window[3] / shape[0])
    factor = max((factor for factor in frame.overviews if factor <= reduced), default=1)
    if window[2] * window[3] / factor**2 > MOST_DECODED_CELLS:
        raise InputError(
            f"it has {frame.columns * frame.rows / 1e6:,.0f} million cells and no reduced copies (overviews) of "
            "itself: cut it to the site, or save it with overviews",
            file=frame.path.name,
        )


def _bands(dataset: Any) -> tuple[tuple[int, ...], Colours | None]:
    """Bands that hold the colours, by what the file says of them; a palette where it has one."""
    from rasterio.enums import ColorInterp

    said = list(dataset.colorinterp)
    wanted = (ColorInterp.red, ColorInterp.green, ColorInterp.blue)
    if all(colour in said for colour in wanted):
        return tuple(said.index(colour) + 1 for colour in wanted), None
    if said[0] == ColorInterp.palette:
        rows = dataset.colormap(1)
        palette = np.zeros((max(rows) + 1, 4), np.uint8)
        for value, colour in rows.items():
            palette[value] = colour
        return (1,), palette
    plain = [number + 1 for number, colour in enumerate(said) if colour != ColorInterp.alpha]
    return (tuple(plain[:3]) if len(plain) >= 3 else tuple(plain[:1])) or (1,), None


def _stretch(dataset: Any, bands: tuple[int, ...]) -> tuple[float, float]:
    """Cell values to be shown as black and white: all of a byte, or what nearly all cells of 16 bits hold."""
    bits = int(dataset.tags(1, ns="IMAGE_STRUCTURE").get("NBITS", 8))
    if np.dtype(dataset.dtypes[0]) == np.uint8:
        return 0.0, float(2 ** min(bits, 8) - 1)
    shape = (min(dataset.height, _LOOK_CELLS), min(dataset.width, _LOOK_CELLS))
    if dataset.width * dataset.height > MOST_DECODED_CELLS and not dataset.overviews(bands[0]):
        return 0.0, 65_535.0  # it is refused when it is read
    cells = dataset.read(list(bands), out_shape=(len(bands), *shape), masked=True).compressed()
    if not cells.size:
        return 0.0, 65_535.0
    low, high = (float(value) for value in np.percentile(cells, (0.5, 99.5)))
    return low, max(high, low + 1.0)


def _placing(dataset: Any, path: Path) -> Floats:
    found = world_file(path)
    within = dataset.transform
    if found is not None and (dataset.driver != "GTiff" or within.is_identity):
        return read_world_file(found)
    if within.is_identity:
        raise InputError(
            "nothing says where the picture lies: give its world file with it (of the same name, ending .pgw, "
            ".jgw, .tfw or .wld), or export it as a GeoTIFF",
            file=path.name,
        )
    placing = np.array(within, np.float64).reshape(3, 3)
    if (
        not np.isfinite(placing).all()
        or within.a * within.e == within.b * within.d
        or not math.isfinite(within.c)
    ):
        raise InputError("its cells have no size: export it again", file=path.name)
    return placing


def _crs(dataset: Any, path: Path) -> str:
    if dataset.crs:
        return str(dataset.crs.to_wkt())
    beside = prj_file(path)
    return read_prj(beside) if beside is not None else ""
