"""A picture laid on the job's plane: turned, bent and reduced, so that it stands as the fence's lines do."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.crs_text import read_crs
from fencewright.exchange.picture_file import Colours, PictureFrame, read_colours
from fencewright.exchange.plane_ways import plane_ways
from fencewright.findings import InputError
from fencewright.site.plane import Origin, Plane

Floats = NDArray[np.float64]
Bounds = tuple[float, float, float, float]

LARGEST_SPAN_M = 500_000.0  # beyond it no plane of one site is true
_BEND_CELLS = 0.1  # of the result: so far a straight line may stand from the strict place
_LEAST_CELLS = 16  # a side of the smallest piece
_ANY_PLANE = "EPSG:3857"  # of both sides of a piece: from one to the other nothing is bent


@dataclass(frozen=True, slots=True, eq=False)
class Placing:
    """Where a picture lies in the job's plane.

    Parameters
    ----------
    frame : PictureFrame
        The picture.
    to_cells, from_cells : callable
        Points (n, 2) of the plane [m] to columns and rows from its upper left corner, and back.
    bounds_m : (west, south, east, north)
        Of its whole outline. [m]
    cell_m : float
        Side of one cell on the plane, the shorter one, at its middle. [m]
    """

    frame: PictureFrame
    to_cells: Callable[[Floats], Floats]
    from_cells: Callable[[Floats], Floats]
    bounds_m: Bounds
    cell_m: float


@dataclass(frozen=True, slots=True, eq=False)
class LaidPicture:
    """A picture as it lies on the plane: `colours` (4, rows, columns), north up, over `bounds_m`. [m]"""

    colours: Colours
    bounds_m: Bounds


@dataclass(frozen=True, slots=True, eq=False)
class _Piece:
    """A block (column, row, columns, rows) of the result, the straight way (2, 3) to the picture, and cells it needs."""

    block: tuple[int, int, int, int]
    way: Floats
    cells: Floats


def place_picture(frame: PictureFrame, plane: Plane, origin: Origin | None, file_unit_m: float) -> Placing:
    """Find where a picture lies in the job's plane.

    Parameters
    ----------
    frame : PictureFrame
        The picture.
    plane : Plane
        The job's.
    origin : Origin, optional
        Where a bare local plane lies on the earth.
    file_unit_m : float
        Metres in one unit of a picture without a coordinate system; NaN: the plane's own unit. [m]

    Returns
    -------
    Placing
        The way by which the lines of a file in the same system come onto the plane.

    Raises
    ------
    InputError
        Its coordinates cannot be turned into the plane, or it reaches further than a plane can hold.
    """
    try:
        said = read_crs(frame.crs, frame.path.name)
        forth, back = plane_ways(said, plane, origin, file_unit_m)
        cells = np.asarray(np.linalg.inv(frame.to_file), np.float64)
        placing = Placing(
            frame, lambda xy: _affine(cells, forth(xy)), lambda at: back(_affine(frame.to_file, at)),
            (0.0, 0.0, 0.0, 0.0), 0.0,
        )  # fmt: skip
        outline = placing.from_cells(_outline(frame))
        middle = np.array([[frame.columns / 2, frame.rows / 2]])
        ends = placing.from_cells(middle + np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]]))
    except InputError as error:
        raise error.within(file=frame.path.name) from error
    (west, south), (east, north) = outline.min(axis=0).tolist(), outline.max(axis=0).tolist()
    if max(east - west, north - south) > LARGEST_SPAN_M:
        span = max(east - west, north - south) / 1000
        raise InputError(
            f"it spans {span:,.0f} km, more than a plane can hold: cut it to the site", file=frame.path.name
        )
    cell_m = min(math.hypot(*(end - ends[0])) for end in ends[1:])
    if not cell_m > 0.0:
        raise InputError("its cells have no size in the job's plane: export it again", file=frame.path.name)
    return replace(placing, bounds_m=(west, south, east, north), cell_m=cell_m)


def lay_picture(placing: Placing, most_cells: int, bounds_m: Bounds | None = None) -> LaidPicture | None:
    """Lay a picture, or a part of it, on the plane.

    Parameters
    ----------
    placing : Placing
        Where it lies.
    most_cells : int
        A side of what is given back has no more. It is never finer than the picture itself.
    bounds_m : (west, south, east, north), optional
        The part that is wanted; left out: all of it. [m]

    Returns
    -------
    LaidPicture or None
        Over what the part and the picture share; its cells are square, or nearly. None where they share nothing.

    Raises
    ------
    InputError
        The picture cannot be read.

    Notes
    -----
    The result is cut into pieces in which the plane's own way to the picture is straight to a tenth of a cell;
    colours are those of the four nearest cells. What is read of the picture is reduced to the result's fineness,
    so memory grows with the result, not with the picture.
    """
    west, south, east, north = _shared(placing.bounds_m, bounds_m or placing.bounds_m)
    if not (east > west and north > south):
        return None
    step_m = max(placing.cell_m, (east - west) / most_cells, (north - south) / most_cells)
    columns, rows = (
        min(max(math.ceil(span / step_m - 1e-3), 1), most_cells) for span in (east - west, north - south)
    )
    step_x, step_y = (east - west) / columns, (north - south) / rows

    def cells_of(at: Floats) -> Floats:
        return placing.to_cells(np.array([west, north]) + at * [step_x, -step_y])

    reduced = max(step_m / placing.cell_m, 1.0)
    pieces = _pieces(cells_of, (0, 0, columns, rows), _BEND_CELLS * reduced)
    colours = np.zeros((4, rows, columns), np.uint8)
    window = _window(placing.frame, np.concatenate([piece.cells for piece in pieces]))
    if window is not None:
        shape = max(math.ceil(window[3] / reduced), 1), max(math.ceil(window[2] / reduced), 1)
        source = read_colours(placing.frame, window, shape)
        for piece in pieces:
            _draw(piece, source, window, colours)
    return LaidPicture(colours, (west, south, east, north))


def _affine(matrix: Floats, points: Floats) -> Floats:
    return np.asarray(points @ matrix[:2, :2].T + matrix[:2, 2])


def _outline(frame: PictureFrame) -> Floats:
    """Points along the picture's border and across it: a bent border may bulge between its corners."""
    part = np.linspace(0.0, 1.0, 33)
    across, down = np.meshgrid(part * frame.columns, part * frame.rows)
    return np.column_stack([across.ravel(), down.ravel()])


def _shared(one: Bounds, other: Bounds) -> Bounds:
    return max(one[0], other[0]), max(one[1], other[1]), min(one[2], other[2]), min(one[3], other[3])


def _pieces(
    cells_of: Callable[[Floats], Floats], block: tuple[int, int, int, int], bend_cells: float
) -> list["_Piece"]:
    """Parts of the result that straight lines carry into the picture, none of them bent by more than this."""
    column, row, columns, rows = block
    part = np.linspace(0.0, 1.0, 5)
    across, down = np.meshgrid(column + part * columns, row + part * rows)
    at = np.column_stack([across.ravel(), down.ravel()])
    cells = cells_of(at)
    from_middle = np.column_stack([at - at.mean(axis=0), np.ones(len(at))])
    way = np.linalg.lstsq(from_middle, cells, rcond=None)[0]
    if max(columns, rows) <= _LEAST_CELLS or np.abs(from_middle @ way - cells).max() <= bend_cells:
        way[2] -= at.mean(axis=0) @ way[:2]
        return [_Piece(block, np.asarray(way.T, np.float64), cells)]
    half_columns, half_rows = max(columns // 2, 1), max(rows // 2, 1)
    quarters = [
        (left, top, width, height)
        for left, width in ((column, half_columns), (column + half_columns, columns - half_columns))
        for top, height in ((row, half_rows), (row + half_rows, rows - half_rows))
        if width and height
    ]
    return [piece for quarter in quarters for piece in _pieces(cells_of, quarter, bend_cells)]


def _draw(piece: "_Piece", source: Colours, window: tuple[int, int, int, int], colours: Colours) -> None:
    """Draw a piece of the result from the picture's cells, read by a window."""
    from affine import Affine
    from rasterio.enums import Resampling
    from rasterio.warp import reproject

    column, row, columns, rows = piece.block
    (a, b, c), (d, e, f) = piece.way.tolist()
    across, down = source.shape[2] / window[2], source.shape[1] / window[3]
    to_source = Affine(
        a * across, b * across, (c - window[0]) * across, d * down, e * down, (f - window[1]) * down
    )
    part = np.zeros((4, rows, columns), np.uint8)
    reproject(
        source, part, src_transform=~to_source, dst_transform=Affine(1.0, 0.0, column, 0.0, 1.0, row),
        src_crs=_ANY_PLANE, dst_crs=_ANY_PLANE, src_alpha=4, dst_alpha=4, resampling=Resampling.bilinear,
        num_threads=2,
    )  # fmt: skip
    colours[:, row : row + rows, column : column + columns] = part


def _window(frame: PictureFrame, cells: Floats) -> tuple[int, int, int, int] | None:
    """Part of the picture that is needed, and a margin; None where none of it is."""
    edges = []
    for axis, count in ((0, frame.columns), (1, frame.rows)):
        low, high = float(cells[:, axis].min()), float(cells[:, axis].max())
        first, last = max(math.floor(low) - 2, 0), min(math.ceil(high) + 3, count)
        if last <= first:
            return None
        edges.append((first, last - first))
    return edges[0][0], edges[1][0], edges[0][1], edges[1][1]
