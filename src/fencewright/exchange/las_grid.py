"""Ground points of a cloud to a grid: a median a cell, small gaps filled, and how well each cell is known."""

import math

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

_SIZES = (1.0, 2.0, 5.0)
_FILL_ROUNDS = 60


def cell_size(x: FloatArray, y: FloatArray, points_wanted: float) -> float:
    """Choose a cell so that an occupied one holds about so many points.

    Parameters
    ----------
    x, y : float array (points,)
        Places, at least one.
    points_wanted : float
        Points in one cell, above 0. [-]

    Returns
    -------
    float
        1, 2 or 5 times a power of ten, in the unit of x and y.

    Notes
    -----
    Density is counted over squares that hold points, of a width at which about sixteen fall in one,
    found by repetition: empty corners of the box, rivers and roofs do not thin it out.
    """
    width = max(float(np.ptp(x)), float(np.ptp(y)), 1e-6)
    area = max(float(np.ptp(x)), 1e-6 * width) * max(float(np.ptp(y)), 1e-6 * width)
    for _ in range(20):
        square = math.sqrt(16.0 * area / len(x))
        columns = int(np.ptp(x) / square) + 1
        key = ((y - y.min()) / square).astype(np.int64) * columns + ((x - x.min()) / square).astype(np.int64)
        before, area = area, len(np.unique(key)) * square**2
        if area > 0.8 * before:
            break
    wanted = math.sqrt(points_wanted * area / len(x))
    power = 10.0 ** math.floor(math.log10(wanted))
    return min((size * power for size in (*_SIZES, 10.0)), key=lambda size: abs(math.log(size / wanted)))


def median_cells(
    x: FloatArray, y: FloatArray, z: FloatArray, cell: float, most_cells: int
) -> tuple[FloatArray, FloatArray, tuple[float, float]]:
    """Take the median height of each cell.

    Parameters
    ----------
    x, y, z : float array (points,)
        Ground points.
    cell : float
        Width of a cell.
    most_cells : int
        Greatest grid allowed.

    Returns
    -------
    height, spread : float array (rows, columns)
        Median, and standard deviation of the points of a cell over the root of their count; NaN where
        there are none. South row first.
    origin : (float, float)
        Centre of the first cell.

    Raises
    ------
    ValueError
        The grid would be larger than allowed.
    """
    x0, y0 = math.floor(x.min() / cell) * cell, math.floor(y.min() / cell) * cell
    column, row = ((x - x0) / cell).astype(np.int64), ((y - y0) / cell).astype(np.int64)
    columns, rows = int(column.max()) + 1, int(row.max()) + 1
    if rows * columns > most_cells:
        raise ValueError("grid too large")
    key = row * columns + column
    order = np.lexsort((z, key))
    sorted_z = z[order]
    cells, first, count = np.unique(key[order], return_index=True, return_counts=True)
    median = (sorted_z[first + (count - 1) // 2] + sorted_z[first + count // 2]) / 2.0
    mean = np.add.reduceat(sorted_z, first) / count
    squares = np.add.reduceat((sorted_z - np.repeat(mean, count)) ** 2, first)
    height, spread = np.full(rows * columns, np.nan), np.full(rows * columns, np.nan)
    height[cells] = median
    spread[cells] = np.sqrt(squares / np.maximum(count - 1, 1) / count)
    return height.reshape(rows, columns), spread.reshape(rows, columns), (x0 + cell / 2, y0 + cell / 2)


def filled(height: FloatArray, most_cells: float) -> tuple[FloatArray, FloatArray]:
    """Fill gaps no wider than a distance from the cells around them.

    Parameters
    ----------
    height : float array (rows, columns)
        NaN where empty; at least one known.
    most_cells : float
        Greatest distance to a known cell, in cells.

    Returns
    -------
    height : float array (rows, columns)
        With gaps filled; NaN farther away.
    distance : float array (rows, columns)
        To the nearest known cell, in cells.

    Notes
    -----
    Starts from the nearest known height and averages neighbours until the fill is smooth (a soap film
    for gaps of a few cells).
    """
    empty = np.isnan(height)
    if not empty.any():
        return height, np.zeros_like(height)
    from scipy.ndimage import distance_transform_edt, uniform_filter  # slow to import, needed for gaps alone

    distance, nearest = distance_transform_edt(empty, return_indices=True)
    fill = height[nearest[0], nearest[1]]
    for _ in range(_FILL_ROUNDS):
        fill = np.where(empty, uniform_filter(fill, 3, mode="nearest"), height)
    return np.where(distance <= most_cells, fill, np.nan), np.asarray(distance, np.float64)
