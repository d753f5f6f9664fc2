"""Ground from a terrain raster: GeoTIFF or ESRI ASCII grid, of which only the window wanted is read."""

import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np

from fencewright.exchange.ground_request import Bounds, GroundRequest, need_file, placed
from fencewright.exchange.height_datum import height_unit, heights_by_crs, unit_by_name
from fencewright.exchange.raster_cells import RasterFrame, height_type, open_raster, read_cells
from fencewright.exchange.raster_tiles import TiledRasterGround
from fencewright.findings import CAUTION, NOTE, Finding, InputError, Place
from fencewright.quantity.parse import FOOT_M
from fencewright.quantity.show import counted
from fencewright.site.grid_ground import GridPlace, HeightArray
from fencewright.site.ground import Ground

MEMORY_BYTES = 100_000_000
MARGIN_CELLS = 2
TILE_CELLS = 262_144
LARGEST_BLOCK_CELLS = 50_000_000


def raster_crs(path: Path) -> str | None:
    """Coordinate system of a raster as well-known text; None where it has none.

    Raises
    ------
    InputError
        It cannot be read.
    """
    need_file(path)
    with open_raster(path) as dataset:
        return _wkt(dataset)


def read_raster_ground(
    path: Path, request: GroundRequest, *, memory_bytes: int = MEMORY_BYTES
) -> tuple[Ground, list[Finding]]:
    """Read ground from a GeoTIFF or ESRI ASCII grid.

    Parameters
    ----------
    path : Path
        The file; its first band holds the heights.
    request : GroundRequest
        What is wanted of it.
    memory_bytes : int
        Windows larger than this are not held in memory: tiles are read as points ask for them.

    Returns
    -------
    ground : Ground
        In the job's plane.
    findings : list of Finding
        `ground-unit-assumed`, `ellipsoidal-heights`, `ground-without-crs` (note),
        `ground-heights-absurd` (caution), `ground-large` (note).

    Raises
    ------
    InputError
        It is no such raster, is cut short, is a picture, is turned, lies elsewhere, or has no heights
        in the window.
    """
    need_file(path)
    with open_raster(path) as dataset:
        _need_terrain(dataset, path.name)
        wkt = _wkt(dataset)
        unit_m, findings = height_unit(path.name, request.z_factor, unit_by_name(dataset.units[0]), wkt)
        if wkt is None:
            findings.append(_without_crs(path.name))
        elif request.bounds_m is None and heights_by_crs(wkt)[3]:
            raise InputError("is in degrees: say which part of it is wanted", file=path.name)
        bounds = request.file_bounds(path.name)
        frame = _frame(dataset, path, request, unit_m)
        window = _window(frame, bounds, _unit(wkt))
        if window[2] * window[3] * height_type(np.dtype(dataset.dtypes[0])).itemsize > memory_bytes:
            findings.append(_large(path.name, window))
            return placed(TiledRasterGround(frame, tile=_tile(dataset)), request), findings
        heights_m, absurd = read_cells(dataset, frame, window)
    if absurd:
        findings.append(_absurd(path.name, absurd))
    if np.isnan(heights_m[::16, ::16]).all() and np.isnan(heights_m).all():
        raise InputError("holds no heights where the line runs: give ground that covers it", file=path.name)
    return placed(_stepped(frame, heights_m).grid(heights_m, window[0], window[1]), request), findings


def _wkt(dataset: Any) -> str | None:
    return str(dataset.crs.to_wkt()) if dataset.crs else None


def _need_terrain(dataset: Any, file: str) -> None:
    """Refuse what is no terrain: pictures, complex numbers, turned or unplaced rasters."""
    kind = np.dtype(dataset.dtypes[0])
    if kind.kind == "c" or (dataset.count >= 3 and kind == np.uint8):
        raise InputError("is a picture, no terrain: give a raster of heights", file=file)
    block_rows, block_columns = dataset.block_shapes[0]
    if block_rows * block_columns > LARGEST_BLOCK_CELLS:
        raise InputError("is stored in blocks too large to read: export it tiled", file=file)
    transform = dataset.transform
    if transform.b != 0.0 or transform.d != 0.0:
        raise InputError("is turned against its coordinates: export it with north up", file=file)
    if transform.is_identity and dataset.crs is None:
        raise InputError("does not say where it lies: export it with its coordinates", file=file)
    if not all(map(math.isfinite, transform[:6])) or transform.a == 0.0 or transform.e == 0.0:
        raise InputError("has cells of no size: export it again", file=file)


def _frame(dataset: Any, path: Path, request: GroundRequest, unit_m: float) -> RasterFrame:
    transform, precision = dataset.transform, request.precision
    across_m, down_m = request.metres_per_unit(heights_by_crs(_wkt(dataset))[1] or 1.0)
    cell_m = max(abs(transform.a) * across_m, abs(transform.e) * down_m)
    sd_m = request.sd_m(precision.raster_sd_m)
    scale = dataset.scales[0] * unit_m
    return RasterFrame(
        path,
        GridPlace(transform.c + transform.a / 2, transform.f + transform.e / 2, transform.a, transform.e),
        dataset.height,
        dataset.width,
        scale,
        dataset.offsets[0] * unit_m,
        precision.lowest_m,
        precision.highest_m,
        abs(scale) if np.dtype(dataset.dtypes[0]).kind in "iu" else 0.0,
        sd_m,
        precision.subcell_share,
        f"{path.name}, raster in cells of {request.show.long(cell_m)}",
        bool(cell_m > precision.coarse_spacing_m or sd_m > precision.coarse_sd_m),
    )


def _stepped(frame: RasterFrame, heights_m: HeightArray) -> RasterFrame:
    """Note that heights held as fractions are whole units all the same."""
    known = heights_m.reshape(-1)[:: max(heights_m.size // 10_000, 1)]
    known = known[np.isfinite(known)]
    units = (known.astype(np.float64) - frame.offset_m) / frame.unit_m
    if frame.step_m or not known.size or np.abs(units - np.rint(units)).max() > 1e-3:
        return frame
    return replace(frame, step_m=abs(frame.unit_m))


def _unit(wkt: str | None) -> str:
    """Name the unit of a raster's coordinates."""
    if wkt is None:
        return "units"
    _, metres, _, is_in_degrees = heights_by_crs(wkt)
    if is_in_degrees:
        return "degrees"
    return "feet" if metres and abs(metres - FOOT_M) < 1e-3 else "metres"


def _window(frame: RasterFrame, bounds: Bounds | None, unit: str) -> tuple[int, int, int, int]:
    """Give first row, first column, rows and columns that cover the bounds and a margin of cells."""
    if bounds is None:
        return 0, 0, frame.rows, frame.columns
    place = frame.place
    columns = sorted((bounds[index] - place.x0_m) / place.dx_m for index in (0, 2))
    rows = sorted((bounds[index] - place.y0_m) / place.dy_m for index in (1, 3))
    edges = []
    for (low, high), count in ((rows, frame.rows), (columns, frame.columns)):
        if high < -0.5 or low > count - 0.5:
            last_x, last_y = place.x0_m + place.dx_m * frame.columns, place.y0_m + place.dy_m * frame.rows
            digits = 5 if unit == "degrees" else 0
            x0, x1, y0, y1, x, y = (
                f"{value:.{digits}f}"
                for value in (
                    *sorted((place.x0_m, last_x)),
                    *sorted((place.y0_m, last_y)),
                    bounds[0],
                    bounds[1],
                )
            )
            raise InputError(
                f"does not reach the line: it spans x {x0} to {x1}, y {y0} to {y1} {unit}, and the line is near "
                f"x {x}, y {y} {unit}: check its coordinate system",
                file=frame.path.name,
            )
        first = max(math.floor(low) - MARGIN_CELLS, 0)
        edges.append((first, min(math.ceil(high) + MARGIN_CELLS + 1, count) - first))
    return edges[0][0], edges[1][0], edges[0][1], edges[1][1]


def _tile(dataset: Any) -> tuple[int, int]:
    """Choose tiles of about half a megabyte to a megabyte that follow the file's own blocks."""
    rows, columns = dataset.block_shapes[0]
    if columns >= dataset.width:
        return max(TILE_CELLS // columns, rows), columns
    return max(512 // rows, 1) * rows, max(512 // columns, 1) * columns


def _without_crs(file: str) -> Finding:
    return Finding(
        NOTE,
        "ground-without-crs",
        Place("ground", file),
        f"{file} names no coordinate system: it is taken to lie in the job's own plane",
        "export it with its coordinate system, or check that both agree",
    )


def _absurd(file: str, cells: int) -> Finding:
    one, many = "holds heights that no land has: it is", "hold heights that no land has: they are"
    said = one if cells == 1 else many
    return Finding(
        CAUTION,
        "ground-heights-absurd",
        Place("ground", file),
        f"{counted(cells, 'cell')} of {file} {said} taken as missing",
        "mark missing cells with the file's no-data value, or check the unit of its heights",
    )


def _large(file: str, window: tuple[int, int, int, int]) -> Finding:
    return Finding(
        NOTE,
        "ground-large",
        Place("ground", file),
        f"{file} holds {window[2] * window[3]:,} cells around the line: they are read piece by piece",
        "cut the raster to the site to go faster",
    )
