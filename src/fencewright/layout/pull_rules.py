"""What one pull of rail may be: its length and its turning, asked of any two stations."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from fencewright.layout.kept_out import RELATIVE_TOLERANCE

PERMITTED = 1.0 + 8.0 * RELATIVE_TOLERANCE
"""What a pull may have of its limits before it counts as over them. [-]"""


@dataclass(frozen=True)
class PullRules:
    """What one pull may be, and the run's vertices with their turning summed.

    Parameters
    ----------
    length_limit_m, turning_limit_rad, ground_turning_rad_per_m, tolerance_m : float
        As `divide_run` has them; stations no further apart than the tolerance are one. [m, rad, rad/m, m]
    vertex_m : list of float (vertices,)
        Rising. [m]
    summed_rad : list of float (vertices + 1,)
        Turning of all vertices before each. [rad]
    """

    length_limit_m: float
    turning_limit_rad: float
    ground_turning_rad_per_m: float
    tolerance_m: float
    vertex_m: list[float]
    summed_rad: list[float]

    @property
    def straight_limit_m(self) -> float:
        """Longest pull without a vertex. [m]."""
        if self.ground_turning_rad_per_m == 0.0:
            return self.length_limit_m
        return min(self.length_limit_m, self.turning_limit_rad / self.ground_turning_rad_per_m)

    def vertex_turning_rad(self, from_m: float, to_m: float) -> float:
        """Sum the turning of the vertices strictly within a pull. [rad]."""
        first = bisect_right(self.vertex_m, from_m + self.tolerance_m)
        last = bisect_left(self.vertex_m, to_m - self.tolerance_m)
        return self.summed_rad[last] - self.summed_rad[first] if last > first else 0.0

    def vertices_permit(self, from_m: float, to_m: float) -> bool:
        """Whether the vertices strictly between two stations turn no more than a pull may."""
        return self.vertex_turning_rad(from_m, to_m) <= self.turning_limit_rad * PERMITTED

    def permits(self, from_m: float, to_m: float) -> bool:
        """Whether a stretch of rail may be one pull."""
        turning_rad = self.vertex_turning_rad(from_m, to_m) + self.ground_turning_rad_per_m * (to_m - from_m)
        return (
            to_m - from_m <= self.length_limit_m * PERMITTED
            and turning_rad <= self.turning_limit_rad * PERMITTED
        )

    def permitted_pairs(self, from_m: NDArray[np.float64], to_m: NDArray[np.float64]) -> NDArray[np.bool_]:
        """Whether each pair may be one pull: (from,), (to,) -> (from, to)."""
        vertex_m, summed = self._arrays
        after = summed[np.searchsorted(vertex_m, from_m + self.tolerance_m, side="right")]
        before = summed[np.searchsorted(vertex_m, to_m - self.tolerance_m, side="left")]
        pull_m = to_m[None, :] - from_m[:, None]
        turning_rad = np.maximum(before[None, :] - after[:, None], 0.0)
        turning_rad += self.ground_turning_rad_per_m * pull_m
        permitted: NDArray[np.bool_] = (
            (pull_m >= 0.0)
            & (pull_m <= self.length_limit_m * PERMITTED)
            & (turning_rad <= self.turning_limit_rad * PERMITTED)
        )
        return permitted

    @cached_property
    def _arrays(self) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        return np.array(self.vertex_m), np.array(self.summed_rad)

    def farthest_m(self, from_m: float) -> float:
        """End of the longest pull that starts at a station, forbidden stretches left aside. [m]."""
        slack = 1.0 + RELATIVE_TOLERANCE
        reach_m = from_m + self.length_limit_m * slack
        first = bisect_right(self.vertex_m, from_m + self.tolerance_m)
        for number in range(first, len(self.vertex_m) + 1):
            turning_rad = self.summed_rad[number] - self.summed_rad[first]
            left_rad = self.turning_limit_rad * slack - turning_rad
            if number > first and left_rad < self.ground_turning_rad_per_m * (
                self.vertex_m[number - 1] - from_m
            ):
                return self.vertex_m[number - 1]
            if self.ground_turning_rad_per_m > 0.0:
                reach_here_m = min(reach_m, from_m + left_rad / self.ground_turning_rad_per_m)
            else:
                reach_here_m = reach_m
            if number == len(self.vertex_m) or reach_here_m <= self.vertex_m[number]:
                return reach_here_m
        return reach_m

    def mirrored(self) -> PullRules:
        """See the same run from its end, stations negated."""
        vertex_m = [-station for station in reversed(self.vertex_m)]
        total = self.summed_rad[-1]
        summed_rad = [total - turning for turning in reversed(self.summed_rad)]
        limits = self.length_limit_m, self.turning_limit_rad, self.ground_turning_rad_per_m, self.tolerance_m
        return PullRules(*limits, vertex_m, summed_rad)

    def eased(self, factor: float) -> PullRules:
        """See the same run with its limits multiplied."""
        if factor == 1.0:
            return self
        return replace(
            self,
            length_limit_m=self.length_limit_m * factor,
            turning_limit_rad=self.turning_limit_rad * factor,
        )

    def without_ground(self) -> PullRules:
        """See the same run on level ground: no allowance for the ground's turning."""
        limits = self.length_limit_m, self.turning_limit_rad
        return PullRules(*limits, 0.0, self.tolerance_m, self.vertex_m, self.summed_rad)
