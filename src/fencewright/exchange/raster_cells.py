"""Cells of a raster on disk: opened quietly, read by window, turned to metres with gaps as NaN."""

import logging
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import InputError
from fencewright.site.grid_ground import GridGround, GridPlace, HeightArray

FloatArray = NDArray[np.float64]

_TIFF_STARTS = (b"II*\0", b"MM\0*", b"II+\0", b"MM\0+")

logging.getLogger("rasterio").addHandler(logging.NullHandler())


@dataclass(frozen=True, slots=True)
class RasterFrame:
    """How a raster's cells become ground.

    Parameters
    ----------
    path : Path
        The file.
    place : GridPlace
        Centres of its cells in the file's coordinates.
    rows, columns : int
        Its size.
    unit_m, offset_m : float
        Height = cell x unit + offset. [m]
    lowest_m, highest_m : float
        Heights outside are missing values left unmarked. [m]
    step_m : float
        Step to which heights were rounded. [m]
    height_sd_m, subcell_share : float
        As in `GridGround`.
    source : str
        As printed.
    is_coarse : bool
        Whether its cells are too large, or its heights too uncertain, for cuts.
    """

    path: Path
    place: GridPlace
    rows: int
    columns: int
    unit_m: float
    offset_m: float
    lowest_m: float
    highest_m: float
    step_m: float
    height_sd_m: float
    subcell_share: float
    source: str
    is_coarse: bool

    def grid(self, heights_m: HeightArray, row: int, column: int) -> GridGround:
        """Make ground of a window whose first cell is this row and column."""
        place = self.place
        return GridGround(
            heights_m,
            GridPlace(
                place.x0_m + column * place.dx_m, place.y0_m + row * place.dy_m, place.dx_m, place.dy_m
            ),
            height_sd_m=self.height_sd_m,
            step_m=self.step_m,
            subcell_share=self.subcell_share,
            source=self.source,
            is_coarse=self.is_coarse,
        )


def _driver(path: Path) -> str:
    """Tell the kind by the first bytes, so that nothing else is opened under a raster's name."""
    with path.open("rb") as stream:
        start = stream.read(64)
    if start[:4] in _TIFF_STARTS:
        return "GTiff"
    if start.lstrip()[:5].lower() in (b"ncols", b"nrows", b"cells", b"xllco", b"xllce", b"yllco", b"yllce"):
        return "AAIGrid"
    raise InputError("is no GeoTIFF or ESRI ASCII grid: export the ground as one of them", file=path.name)


@contextmanager
def open_raster(path: Path) -> Iterator[Any]:
    """Open a GeoTIFF or ESRI ASCII grid; whatever goes wrong inside becomes one sentence.

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
        It is no such raster, or cut short.
    """
    damaged = "cannot be read as a GeoTIFF or ESRI ASCII grid: it is cut short, or of another kind"
    with opened_raster(path, _driver(path), damaged) as dataset:
        yield dataset


@contextmanager
def opened_raster(path: Path, driver: str, damaged: str, **options: Any) -> Iterator[Any]:
    """Open a raster with one driver and options of the library; whatever goes wrong inside becomes the sentence given."""
    import rasterio
    from rasterio._err import CPLE_BaseError
    from rasterio.errors import NotGeoreferencedWarning, RasterioError

    with warnings.catch_warnings():
        warnings.simplefilter("ignore", NotGeoreferencedWarning)
        try:
            with (
                rasterio.Env(GDAL_NUM_THREADS="ALL_CPUS", GDAL_CACHEMAX=64, **options),
                rasterio.open(path, driver=driver) as dataset,
            ):
                yield dataset
        except (RasterioError, CPLE_BaseError, OSError, MemoryError) as error:
            raise InputError(damaged, file=path.name) from error


def height_type(kind: np.dtype[Any]) -> np.dtype[Any]:
    """Choose single precision for cells that it holds exactly, else double."""
    exact = kind == np.float32 or (kind.kind in "iu" and kind.itemsize <= 2)
    return np.dtype(np.float32 if exact else np.float64)


def read_cells(
    dataset: Any, frame: RasterFrame, window: tuple[int, int, int, int]
) -> tuple[HeightArray, int]:
    """Read a window of heights.

    Parameters
    ----------
    dataset : rasterio dataset
        Open.
    frame : RasterFrame
        How cells become heights.
    window : (row, column, rows, columns)
        Inside the raster.

    Returns
    -------
    heights_m : float array (rows, columns)
        Single precision where that loses nothing, else double; NaN where there is no data. [m]
    absurd : int
        Cells outside the heights of land, now NaN.
    """
    from rasterio.enums import MaskFlags
    from rasterio.windows import Window

    area = Window(window[1], window[0], window[3], window[2])
    raw = dataset.read(1, window=area)
    missing = None
    if MaskFlags.per_dataset in dataset.mask_flag_enums[0]:
        missing = dataset.read_masks(1, window=area) == 0
    elif dataset.nodata is not None and np.isfinite(dataset.nodata):
        missing = raw == (raw.dtype.type(dataset.nodata) if raw.dtype.kind == "f" else dataset.nodata)
    heights_m: HeightArray = raw.astype(height_type(raw.dtype), copy=False)
    if missing is not None and missing.any():
        heights_m[missing] = np.nan
    if frame.unit_m != 1.0 or frame.offset_m != 0.0:
        heights_m = heights_m * heights_m.dtype.type(frame.unit_m) + heights_m.dtype.type(frame.offset_m)
    low_m, high_m = np.fmin.reduce(heights_m, axis=None), np.fmax.reduce(heights_m, axis=None)
    if low_m >= frame.lowest_m and high_m <= frame.highest_m:
        return heights_m, 0
    absurd = (heights_m < frame.lowest_m) | (heights_m > frame.highest_m)
    heights_m[absurd] = np.nan
    return heights_m, int(absurd.sum())
