"""Ground from a point cloud (LAS or LAZ): the ground class alone, gridded."""

import math
import struct
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.ground_request import Bounds, GroundRequest, need_file, placed
from fencewright.exchange.height_datum import height_unit, heights_by_crs
from fencewright.exchange.las_grid import cell_size, filled, median_cells
from fencewright.findings import NOTE, Finding, InputError, Place
from fencewright.quantity.show import counted
from fencewright.site.grid_ground import GridGround, GridPlace
from fencewright.site.ground import Ground

FloatArray = NDArray[np.float64]

GROUND_CLASS = 2  # ASPRS LAS 1.4 R15, table 17: ground
MOST_POINTS = 20_000_000
MOST_CELLS = 40_000_000
_CHUNK = 1_000_000
_HEAD_BYTES, _RECORD_BYTES, _EXTENDED_BYTES = 375, 54, 60  # ASPRS LAS 1.4 R15, 2.4, 2.5 and 2.7


def las_crs(path: Path) -> str | None:
    """Coordinate system of a point cloud as well-known text; None where it has none.

    Raises
    ------
    InputError
        It cannot be read.
    """
    with _open(path) as reader:
        return _wkt(reader)


def read_las_ground(
    path: Path, request: GroundRequest, *, most_points: int = MOST_POINTS
) -> tuple[Ground, list[Finding]]:
    """Read ground from the ground class of a LAS or LAZ file.

    Parameters
    ----------
    path : Path
        The file.
    request : GroundRequest
        What is wanted of it.
    most_points : int
        Ground points held in memory.

    Returns
    -------
    ground : Ground
        In the job's plane.
    findings : list of Finding
        `ground-unit-assumed`, `ellipsoidal-heights`, `ground-without-crs` and `ground-gridded` (note:
        cell, points, cells filled).

    Raises
    ------
    InputError
        It is no point cloud, is cut short, is in degrees, has no ground class, none near the line, or
        more ground points than can be held.
    """
    with _open(path) as reader:
        wkt = _wkt(reader)
        if heights_by_crs(wkt)[3]:
            raise InputError("is in degrees: project the point cloud to metres or feet first", file=path.name)
        plane_unit_m = heights_by_crs(wkt)[1] or 1.0
        points, classes = _ground_points(reader, path.name, _wider(request, path.name), most_points)
    if not len(points):
        raise _no_ground(path.name, classes)
    unit_m, findings = height_unit(path.name, request.z_factor, None, wkt)
    if wkt is None:
        findings.append(
            Finding(
                NOTE,
                "ground-without-crs",
                Place("ground", path.name),
                f"{path.name} names no coordinate system: it is taken to lie in the job's own plane",
                "export it with its coordinate system, or check that both agree",
            )
        )
    points[:, 2] *= unit_m
    ground, note = _gridded(points, path.name, request, plane_unit_m)
    return placed(ground, request), [*findings, note]


def _open(path: Path) -> Any:
    """Open a point cloud; whatever the library says becomes one sentence."""
    need_file(path)
    import laspy

    with path.open("rb") as stream:
        head = stream.read(_HEAD_BYTES)
    if head[:4] != b"LASF":
        raise InputError("is no LAS or LAZ point cloud", file=path.name)
    if _records_bytes(head) > path.stat().st_size:  # the library would read on without end
        raise _broken(path.name)
    try:
        return laspy.open(path)
    except _faults() as error:
        raise _broken(path.name) from error


def _records_bytes(head: bytes) -> int:
    """Give the least size of a file that holds as many records as its head says."""
    head = head.ljust(_HEAD_BYTES, b"\0")
    head_bytes, records = struct.unpack_from("<H4xI", head, 94)
    extended = struct.unpack_from("<I", head, 243)[0] if head[25] >= 4 else 0
    return int(head_bytes + _RECORD_BYTES * records + _EXTENDED_BYTES * extended)


def _faults() -> tuple[type[BaseException], ...]:
    """Give what laspy and its decompressor raise on damaged files."""
    import laspy
    import lazrs
    from pyproj.exceptions import CRSError

    return (
        CRSError,
        laspy.errors.LaspyException,
        lazrs.LazrsError,
        OSError,
        ValueError,
        KeyError,
        IndexError,
        TypeError,
        OverflowError,
        MemoryError,
        struct.error,
        AttributeError,
    )


def _broken(file: str) -> InputError:
    return InputError("cannot be read as a point cloud: it is cut short or damaged", file=file)


def _wkt(reader: Any) -> str | None:
    try:
        crs = reader.header.parse_crs()
    except _faults():
        return None
    return None if crs is None else str(crs.to_wkt())


def _wider(request: GroundRequest, file: str) -> Bounds | None:
    """Widen the bounds by the distance over which gaps are filled."""
    bounds = request.file_bounds(file)
    if bounds is None:
        return None
    across_m, down_m = request.metres_per_unit()
    x, y = request.precision.gap_fill_m / across_m, request.precision.gap_fill_m / down_m
    return bounds[0] - x, bounds[1] - y, bounds[2] + x, bounds[3] + y


def _ground_points(
    reader: Any, file: str, bounds: Bounds | None, most_points: int
) -> tuple[FloatArray, dict[int, int]]:
    """Collect ground points (n, 3) within the bounds, in the file's units, and count the classes."""
    kept: list[FloatArray] = []
    counts = np.zeros(256, np.int64)
    held = read = 0
    try:
        for chunk in reader.chunk_iterator(_CHUNK):
            read += len(chunk)
            classes = np.asarray(chunk.classification, np.uint8)
            counts += np.bincount(classes, minlength=256)
            ground = classes == GROUND_CLASS
            points = np.column_stack([np.asarray(axis)[ground] for axis in (chunk.x, chunk.y, chunk.z)])
            kept.append(points[_within(points, bounds)])
            held += len(kept[-1])
            if held > most_points:
                raise InputError(
                    f"holds more than {most_points:,} ground points near the line: cut it to the site",
                    file=file,
                )
    except _faults() as error:
        raise _broken(file) from error
    if read < reader.header.point_count:
        raise _broken(file)
    return np.concatenate(kept or [np.zeros((0, 3))]), {
        int(c): int(counts[c]) for c in np.flatnonzero(counts)
    }


def _within(points: FloatArray, bounds: Bounds | None) -> NDArray[np.bool_]:
    low, high = (bounds[:2], bounds[2:]) if bounds is not None else ((-np.inf, -np.inf), (np.inf, np.inf))
    inside = (points[:, :2] >= np.array(low)) & (points[:, :2] <= np.array(high))
    return np.asarray(inside.all(axis=1) & np.isfinite(points[:, 2]), dtype=np.bool_)


def _no_ground(file: str, classes: dict[int, int]) -> InputError:
    if not classes:
        return InputError("holds no points", file=file)
    if GROUND_CLASS in classes:
        return InputError(
            "has no ground points near the line: give a cloud that covers it, or check its coordinate system",
            file=file,
        )
    listed = ", ".join(f"{code} ({counted(count, 'point')})" for code, count in classes.items())
    return InputError(
        f"has no points of the ground class ({GROUND_CLASS}), only class {listed}: classify its ground",
        file=file,
    )


def _gridded(
    points: FloatArray, file: str, request: GroundRequest, plane_unit_m: float
) -> tuple[GridGround, Finding]:
    """Grid ground points whose heights are in metres."""
    precision, show, unit_m = request.precision, request.show, max(request.metres_per_unit(plane_unit_m))
    cell = cell_size(points[:, 0], points[:, 1], precision.cell_points)
    try:
        height_m, spread_m, origin = median_cells(points[:, 0], points[:, 1], points[:, 2], cell, MOST_CELLS)
    except ValueError as error:
        raise InputError("spreads over more cells than can be held: cut it to the site", file=file) from error
    cell_m = cell * unit_m
    reach = max(precision.gap_fill_m / cell_m, 1.5)  # one empty cell among full ones is no gap
    smooth_m, distance = filled(height_m, reach)
    slope = _typical_slope(height_m)
    sd_m = np.hypot(request.sd_m(precision.las_sd_m), np.hypot(np.nan_to_num(spread_m), slope * distance))
    filled_cells = int((np.isfinite(smooth_m) & np.isnan(height_m)).sum())
    ground = GridGround(
        smooth_m,
        GridPlace(origin[0], origin[1], cell, cell),
        height_sd_m=np.where(np.isnan(smooth_m), np.nan, sd_m),
        subcell_share=precision.subcell_share,
        source=f"{file}, ground points in cells of {show.long(cell_m)}",
        is_coarse=bool(
            cell_m > precision.coarse_spacing_m or request.sd_m(precision.las_sd_m) > precision.coarse_sd_m
        ),
    )
    note = Finding(
        NOTE,
        "ground-gridded",
        Place("ground", file),
        f"{len(points):,} ground points of {file} are gridded in cells of {show.long(cell_m)}; {filled_cells:,} "
        f"empty cells are filled over at most {show.long(reach * cell_m)}",
    )
    return ground, note


def _typical_slope(height_m: FloatArray) -> float:
    """Root mean square fall from one known cell to the next. [m]."""
    falls = np.concatenate([np.diff(height_m, axis=0).ravel(), np.diff(height_m, axis=1).ravel()])
    falls = falls[np.isfinite(falls)]
    return float(math.sqrt(np.mean(falls**2))) if len(falls) else 0.0
