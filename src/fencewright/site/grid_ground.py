"""Ground from a regular grid of heights: bilinear sampling, and what a cell hides."""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
HeightArray = NDArray[np.float32] | NDArray[np.float64]

_PART = 12_288  # points that are asked for at once


@dataclass(frozen=True, slots=True)
class GridPlace:
    """Where a grid's nodes stand.

    Parameters
    ----------
    x0_m, y0_m : float
        Place of the node in row 0, column 0. [m]
    dx_m, dy_m : float
        From one column, and from one row, to the next; either may be negative, neither zero. [m]
    """

    x0_m: float
    y0_m: float
    dx_m: float
    dy_m: float


class GridGround:
    """Elevations on a regular grid, read between its nodes by bilinear interpolation.

    Parameters
    ----------
    heights_m : float array (rows, columns)
        Elevation at the cell centres, NaN where unknown; neither copied nor changed. [m]
    place : GridPlace
        Where the nodes stand. [m]
    height_sd_m : float or float array (rows, columns)
        Standard deviation of one height as surveyed, 0 or more. [m]
    step_m : float
        Step to which heights were rounded, 0 where none. [m]
    subcell_share : float
        Part of the fall across one cell that counts as standard deviation, 0 to 1. [-]
    source : str
        As printed on the sheets.
    is_coarse : bool
        Whether cells are too large, or heights too uncertain, for cuts.

    Raises
    ------
    ValueError
        The array has no cells, or a step of the grid is zero or not finite.

    Notes
    -----
    A cell reaches half a step beyond its node: within that border the edge nodes' height is held.
    A point is unknown where any node that weighs in its height is. The standard deviation joins, as
    squares, the survey's own, the rounding (step / sqrt(12)) and `subcell_share` times the fall
    across a cell; 1 / sqrt(12) is the spread of a uniform fall. O(n) for n points.

    References
    ----------
    Bilinear interpolation and the spread of a uniform error: textbook, from memory.
    """

    def __init__(
        self,
        heights_m: HeightArray,
        place: GridPlace,
        *,
        height_sd_m: float | FloatArray,
        step_m: float = 0.0,
        subcell_share: float = 0.0,
        source: str = "grid",
        is_coarse: bool = False,
    ) -> None:
        if heights_m.ndim != 2 or not heights_m.size:
            raise ValueError("a grid needs at least one row and one column of heights")
        numbers = (place.x0_m, place.y0_m, place.dx_m, place.dy_m)
        if not all(math.isfinite(number) for number in numbers) or place.dx_m == 0 or place.dy_m == 0:
            raise ValueError("the steps of a grid must be finite and not zero")
        self.source, self.is_coarse = source, is_coarse
        self._heights_m = heights_m
        self._place = place
        self._sd_m, self._step_m, self._share = height_sd_m, step_m, subcell_share

    def _cell(self, x_m: FloatArray, y_m: FloatArray) -> tuple[NDArray[np.intp], FloatArray, FloatArray]:
        """Give the flat index of each point's first node, and the parts to the next column and row."""
        rows, columns = self._heights_m.shape
        across, inside_x = _node(x_m, self._place.x0_m, self._place.dx_m, columns)
        down, inside_y = _node(y_m, self._place.y0_m, self._place.dy_m, rows)
        column = np.minimum(across.astype(np.intp), max(columns - 2, 0))
        row = np.minimum(down.astype(np.intp), max(rows - 2, 0))
        part = across - column
        inside = inside_x & inside_y
        if not inside.all():
            part[~inside] = np.nan
        return row * columns + column, part, down - row

    def _corners(self, array: HeightArray, first: NDArray[np.intp]) -> tuple[FloatArray, ...]:
        """Give the four nodes' values around each point: this row, next row."""
        rows, columns = array.shape
        flat = array.reshape(-1)
        right, below = int(columns > 1), columns * int(rows > 1)
        shifts = (0, right, below, below + right)
        return tuple(flat[first + shift].astype(np.float64, copy=False) for shift in shifts)

    def elevation_m(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        """Give the elevation at points (n,), NaN where unknown. [m]."""
        return _by_parts(self._elevation_m, np.asarray(x_m, float), np.asarray(y_m, float))

    def sd_m(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        """Give the standard deviation at points (n,), NaN where the elevation is unknown. [m]."""
        return _by_parts(self._part_sd_m, np.asarray(x_m, float), np.asarray(y_m, float))

    def _elevation_m(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        first, part_x, part_y = self._cell(x_m, y_m)
        return _bilinear(self._corners(self._heights_m, first), part_x, part_y)

    def _part_sd_m(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        first, part_x, part_y = self._cell(x_m, y_m)
        corners = self._corners(self._heights_m, first)
        here, right, below, across = corners
        known = np.isfinite(_bilinear(corners, part_x, part_y))
        fall_x = np.fmax(np.abs(right - here), np.abs(across - below))
        fall_y = np.fmax(np.abs(below - here), np.abs(across - right))
        fall_m = np.hypot(fall_x, fall_y)
        if not np.isfinite(fall_m).all():
            fall_m = np.hypot(np.nan_to_num(fall_x), np.nan_to_num(fall_y))
        survey_m: float | FloatArray = (
            _bilinear(self._corners(self._sd_m, first), part_x, part_y)
            if isinstance(self._sd_m, np.ndarray)
            else self._sd_m
        )
        rounding_m = self._step_m / math.sqrt(12.0)
        return np.where(known, np.sqrt(survey_m**2 + rounding_m**2 + (self._share * fall_m) ** 2), np.nan)


def _by_parts(
    at: Callable[[FloatArray, FloatArray], FloatArray], x_m: FloatArray, y_m: FloatArray
) -> FloatArray:
    """Ask for points (n,) in parts that stay in the processor's cache."""
    if x_m.size <= _PART:
        return at(x_m, y_m)
    found = np.empty(x_m.size)
    for start in range(0, x_m.size, _PART):
        part = slice(start, start + _PART)
        found[part] = at(x_m[part], y_m[part])
    return found


def _node(
    place_m: FloatArray, origin_m: float, step_m: float, count: int
) -> tuple[FloatArray, NDArray[np.bool_]]:
    """Give places in nodes, held within the first and last, and which lie within half a cell of them."""
    node = (place_m - origin_m) / step_m
    edge = 0.5 + 1e-9 * max(count, 1)
    inside = (node >= -edge) & (node <= count - 1 + edge)
    if not inside.all():
        node = np.where(inside, node, 0.0)
    return np.clip(node, 0.0, count - 1.0), inside


def _bilinear(corners: tuple[FloatArray, ...], part_x: FloatArray, part_y: FloatArray) -> FloatArray:
    """Weigh four nodes; a node of no weight may be unknown."""
    left, above = 1 - part_x, 1 - part_y
    weights = (left * above, part_x * above, left * part_y, part_x * part_y)
    parts = [weight * value for weight, value in zip(weights, corners, strict=True)]
    summed = parts[0] + parts[1] + parts[2] + parts[3]
    if np.isfinite(summed).all():
        return summed
    parts = [np.where(weight == 0.0, 0.0, part) for weight, part in zip(weights, parts, strict=True)]
    return parts[0] + parts[1] + parts[2] + parts[3]
