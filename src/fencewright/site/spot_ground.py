"""Ground from spot heights: triangles between the spots, and how rough the ground is between them."""

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.spatial import ConvexHull, Delaunay, QhullError, cKDTree

from fencewright.findings import InputError

FloatArray = NDArray[np.float64]


class SpotGround:
    """Elevations by straight interpolation in the Delaunay triangles of spot heights.

    Parameters
    ----------
    spots_m : float array (spots, 3)
        Places and elevations; at least three that stand in no one line. Spots on one place are averaged. [m]
    spot_sd_m : float
        Standard deviation of one spot height, 0 or more. [m]
    reach_m : float
        How far outside the outermost spots ground is still read, at the nearest point of their hull. [m]
    source : str
        As printed on the sheets.
    coarse_spacing_m : float
        Ground whose spots stand further apart than this, by the median triangle side, is coarse. [m]

    Raises
    ------
    InputError
        Fewer than three spots, spots in one line, or a value that is not finite.

    Notes
    -----
    Each spot inside the hull is compared with the plane through its neighbours. Half way to them the
    ground is taken to stray as far from the triangles as the spot does from that plane: `roughness` is
    the root mean square of residual over half the neighbours' mean distance. Between spots the standard
    deviation is the spot's own joined, as squares, with roughness times the distance to the nearest
    spot. With no spot inside the hull the slope stands for the roughness. O(n log n).
    """

    def __init__(
        self,
        spots_m: FloatArray,
        *,
        spot_sd_m: float,
        reach_m: float = 0.0,
        source: str = "spot heights",
        coarse_spacing_m: float = np.inf,
    ) -> None:
        spots = np.asarray(spots_m, np.float64).reshape(-1, 3)
        if not np.isfinite(spots).all():
            raise InputError("a spot height is not a number: correct or remove it")
        places, heights = _merged(spots)
        self._centre = places.mean(axis=0) if len(places) else np.zeros(2)
        self._places, self._heights = places - self._centre, heights
        self._triangles = _triangulate(self._places)
        self._tree = cKDTree(self._places)
        self._hull = _hull_sides(self._places)
        self._spot_sd_m, self._reach_m = spot_sd_m, reach_m
        self.source = source
        self.roughness, spacing_m = _roughness(self._places, self._heights, self._triangles)
        self.is_coarse = bool(spacing_m > coarse_spacing_m)

    def _points(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        return (
            np.column_stack([np.asarray(x_m, float).ravel(), np.asarray(y_m, float).ravel()]) - self._centre
        )

    def elevation_m(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        """Give the elevation at points (n,), NaN beyond the reach of the spots. [m]."""
        points = self._points(x_m, y_m)
        result = np.full(len(points), np.nan)
        finite = np.isfinite(points).all(axis=1)
        simplex = np.full(len(points), -1)
        simplex[finite] = self._triangles.find_simplex(points[finite])
        inside = simplex >= 0
        result[inside] = _in_triangles(self._triangles, self._heights, points[inside], simplex[inside])
        outside = finite & ~inside
        if outside.any():
            result[outside] = self._beside_hull(points[outside])
        return result

    def _beside_hull(self, points: FloatArray) -> FloatArray:
        """Give the height of the nearest point of the hull, NaN beyond the reach."""
        start, stop = self._places[self._hull[:, 0]], self._places[self._hull[:, 1]]
        tree = shapely.STRtree(np.asarray(shapely.linestrings(np.stack([start, stop], axis=1))))
        side = tree.query_nearest(shapely.points(points), all_matches=False)[1]
        along = stop[side] - start[side]
        part = np.clip(np.sum((points - start[side]) * along, axis=1) / np.sum(along**2, axis=1), 0.0, 1.0)
        away_m = np.linalg.norm(points - start[side] - part[:, None] * along, axis=1)
        from_m, to_m = self._heights[self._hull[side, 0]], self._heights[self._hull[side, 1]]
        return np.where(away_m <= self._reach_m + 1e-6, from_m + part * (to_m - from_m), np.nan)

    def sd_m(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        """Give the standard deviation at points (n,), NaN where the elevation is unknown. [m]."""
        points = self._points(x_m, y_m)
        known = np.isfinite(self.elevation_m(x_m, y_m))
        result = np.full(len(points), np.nan)
        nearest_m = self._tree.query(points[known])[0]
        result[known] = np.hypot(self._spot_sd_m, self.roughness * nearest_m)
        return result


def _merged(spots: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Average spots on one place (within a millimetre)."""
    if not len(spots):
        return np.zeros((0, 2)), np.zeros(0)
    _, first, group = np.unique(np.round(spots[:, :2], 3), axis=0, return_index=True, return_inverse=True)
    group = group.reshape(-1)
    counts = np.bincount(group)
    return spots[first, :2], np.bincount(group, weights=spots[:, 2]) / counts


def _triangulate(places: FloatArray) -> Delaunay:
    if len(places) < 3:
        some = "1 spot height makes" if len(places) == 1 else f"{len(places)} spot heights make"
        raise InputError(f"{some} no ground: give at least three, not in one line")
    try:
        return Delaunay(places)
    except QhullError as error:
        raise InputError("all spot heights stand in one line: add spots to one side of it") from error


def _hull_sides(places: FloatArray) -> NDArray[np.intp]:
    """Give the sides of the spots' convex hull, as pairs of spots (sides, 2)."""
    ring = ConvexHull(places).vertices.astype(np.intp)
    return np.column_stack([ring, np.roll(ring, -1)])


def _in_triangles(
    triangles: Delaunay, heights: FloatArray, points: FloatArray, simplex: NDArray[np.intp]
) -> FloatArray:
    """Interpolate in the triangle that holds each point."""
    corners = triangles.simplices[simplex]
    a, b, c = (triangles.points[corners[:, index]] for index in range(3))
    area = _cross(b - a, c - a)
    second, third = _cross(points - a, c - a) / area, _cross(b - a, points - a) / area
    first, second, third = (np.clip(part, 0.0, 1.0) for part in (1.0 - second - third, second, third))
    total = first + second + third
    z = heights[corners]
    result: FloatArray = (first * z[:, 0] + second * z[:, 1] + third * z[:, 2]) / total
    return result


def _cross(first: FloatArray, second: FloatArray) -> FloatArray:
    return first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0]


def _roughness(places: FloatArray, heights: FloatArray, triangles: Delaunay) -> tuple[float, float]:
    """Give how far ground strays from the triangles per metre from a spot, and the median side. [m]."""
    pairs = np.concatenate([triangles.simplices[:, pair] for pair in ([0, 1], [1, 2], [2, 0])])
    pairs = np.unique(np.sort(pairs, axis=1), axis=0)
    step = places[pairs[:, 1]] - places[pairs[:, 0]]
    rise = heights[pairs[:, 1]] - heights[pairs[:, 0]]
    side_m = np.linalg.norm(step, axis=1)
    inner = np.setdiff1d(np.arange(len(places)), np.unique(triangles.convex_hull))
    if not len(inner):
        return float(np.sqrt(np.mean((rise / side_m) ** 2))), float(np.median(side_m))
    start = np.concatenate([pairs[:, 0], pairs[:, 1]])
    residual_m, reach_m = _plane_residuals(
        len(places), start, np.concatenate([step, -step]), np.concatenate([rise, -rise])
    )
    ratio = residual_m[inner] / (reach_m[inner] / 2.0)
    return float(np.sqrt(np.mean(ratio**2))), float(np.median(side_m))


def _plane_residuals(
    spots: int, start: NDArray[np.intp], step: FloatArray, rise: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Fit a plane to each spot's neighbours; give how far it passes from the spot, and their distance.

    Normal equations of z = p + q dx + r dy, all spots at once: (spots, 3, 3), by sums over neighbours.
    """
    design = np.column_stack([np.ones(len(step)), step])
    matrix, right = np.zeros((spots, 3, 3)), np.zeros((spots, 3))
    for row in range(3):
        right[:, row] = np.bincount(start, design[:, row] * rise, spots)
        for column in range(3):
            matrix[:, row, column] = np.bincount(start, design[:, row] * design[:, column], spots)
    count = np.maximum(matrix[:, 0, 0], 1.0)
    distance_m = np.bincount(start, np.linalg.norm(step, axis=1), spots) / count
    inverse = np.linalg.pinv(matrix, hermitian=True)
    return np.einsum("si,si->s", inverse[:, 0, :], right), distance_m
