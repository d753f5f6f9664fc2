"""Ground known only along a surveyed line: tape-and-level notes, or the smoothed heights of a track."""

import numpy as np
import shapely
from numpy.typing import NDArray

from fencewright.findings import InputError

FloatArray = NDArray[np.float64]


class ProfileGround:
    """Elevations along surveyed legs, by projection to the nearest of them.

    Parameters
    ----------
    points_m : float array (points, 3)
        Surveyed places and elevations. [m]
    point_sd_m : float or float array (points,)
        Standard deviation of each elevation, 0 or more. [m]
    legs : int array (legs, 2), optional
        Pairs of points joined by a surveyed leg; each to the next by default.
    reach_m : float
        Farther than this from every leg the ground is unknown. [m]
    cross_slope : float
        Fall away from the line that is not known: adds this times the distance, as squares. [m/m]
    source : str
        As printed on the sheets.
    is_coarse : bool
        Whether heights are too far apart or too uncertain for cuts.

    Raises
    ------
    InputError
        Fewer than two points, no leg of any length, or a value that is not finite.

    Notes
    -----
    Straight from point to point. O((n + legs) log legs) for n places asked.
    """

    def __init__(
        self,
        points_m: FloatArray,
        *,
        point_sd_m: float | FloatArray,
        legs: NDArray[np.intp] | None = None,
        reach_m: float,
        cross_slope: float = 0.0,
        source: str = "surveyed line",
        is_coarse: bool = False,
    ) -> None:
        points = np.asarray(points_m, np.float64).reshape(-1, 3)
        if not np.isfinite(points).all():
            raise InputError("a height along the line is not a number: correct or remove it")
        if legs is None:
            legs = np.column_stack([np.arange(len(points) - 1), np.arange(1, len(points))]).astype(np.intp)
        steps = points[legs[:, 1], :2] - points[legs[:, 0], :2] if len(legs) else np.zeros((0, 2))
        legs = legs[np.hypot(steps[:, 0], steps[:, 1]) > 1e-6]
        if not len(legs):
            raise InputError("heights along a line need at least two points on different places")
        self._sd_of_points_m = np.broadcast_to(np.asarray(point_sd_m, np.float64), len(points))
        self._points, self._legs = points, legs
        self._reach_m, self._cross_slope = reach_m, cross_slope
        self.source, self.is_coarse = source, is_coarse
        ends = np.stack([points[legs[:, 0], :2], points[legs[:, 1], :2]], axis=1)
        self._tree = shapely.STRtree(np.asarray(shapely.linestrings(ends)))

    def _nearest(self, x_m: FloatArray, y_m: FloatArray) -> tuple[NDArray[np.intp], FloatArray, FloatArray]:
        """Give the nearest leg of each place, the part along it, and the distance, NaN beyond reach."""
        place = np.column_stack([np.asarray(x_m, float).ravel(), np.asarray(y_m, float).ravel()])
        finite = np.flatnonzero(np.isfinite(place).all(axis=1))
        leg = np.zeros(len(place), np.intp)
        if len(finite):
            found = self._tree.query_nearest(shapely.points(place[finite]), all_matches=False)
            leg[finite[found[0]]] = found[1]
        start, stop = self._points[self._legs[leg, 0], :2], self._points[self._legs[leg, 1], :2]
        along = stop - start
        part = np.clip(np.sum((place - start) * along, axis=1) / np.sum(along**2, axis=1), 0.0, 1.0)
        away_m = np.linalg.norm(place - start - part[:, None] * along, axis=1)
        return leg, part, np.where(away_m <= self._reach_m, away_m, np.nan)

    def _between(self, values: FloatArray, leg: NDArray[np.intp], part: FloatArray) -> FloatArray:
        first, last = values[self._legs[leg, 0]], values[self._legs[leg, 1]]
        result: FloatArray = first + part * (last - first)
        return result

    def elevation_m(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        """Give the elevation at points (n,), NaN beyond reach of the line. [m]."""
        leg, part, away_m = self._nearest(x_m, y_m)
        return np.where(np.isnan(away_m), np.nan, self._between(self._points[:, 2], leg, part))

    def sd_m(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        """Give the standard deviation at points (n,), NaN beyond reach of the line. [m]."""
        leg, part, away_m = self._nearest(x_m, y_m)
        return np.hypot(self._between(self._sd_of_points_m, leg, part), self._cross_slope * away_m)
