"""Ground: elevation at points of the plane, and how well it is known; the protocol that stages see."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import STOP, Finding, Place
from fencewright.quantity.show import UnitSystem

FloatArray = NDArray[np.float64]


class Ground(Protocol):
    """Give the elevation at points of the job's plane, with its standard deviation.

    Attributes
    ----------
    source : str
        Where the heights come from, as printed on the sheets.
    is_coarse : bool
        Its data stand further apart, or are known worse, than a post's cut needs.
    """

    @property
    def source(self) -> str:
        """Where the heights come from, as printed."""
        ...

    @property
    def is_coarse(self) -> bool:
        """Whether the heights are too far apart or too uncertain for cuts."""
        ...

    def elevation_m(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        """Give the elevation at points (n,), NaN where unknown. [m]."""
        ...

    def sd_m(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        """Give the standard deviation of one elevation at points (n,), NaN where unknown. [m]."""
        ...


@dataclass(frozen=True, slots=True)
class FlatGround:
    """Level ground everywhere.

    Parameters
    ----------
    level_m : float
        Its elevation. [m]
    level_sd_m : float
        Standard deviation of the elevation at one point, 0 or more. [m]
    source : str
        As printed on the sheets.
    is_coarse : bool
        Set where the job does not vouch for the ground being flat.
    """

    level_m: float = 0.0
    level_sd_m: float = 0.0
    source: str = "flat ground, as stated in the job"
    is_coarse: bool = False

    def elevation_m(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        """Give the elevation at points (n,). [m]."""
        return np.full(np.broadcast(x_m, y_m).shape, self.level_m)

    def sd_m(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        """Give the standard deviation at points (n,). [m]."""
        return np.full(np.broadcast(x_m, y_m).shape, self.level_sd_m)


def missing_ground_findings(
    elevation_m: FloatArray, station_m: FloatArray, line: str, source: str, show: UnitSystem
) -> Sequence[Finding]:
    """List the stretches of a line where its ground has no height.

    Parameters
    ----------
    elevation_m : float array (points,)
        Elevations along the line, NaN where unknown. [m]
    station_m : float array (points,)
        Their stations, rising. [m]
    line, source : str
        Name of the line, and the ground's own name.
    show : UnitSystem
        Units of the stations.

    Returns
    -------
    tuple of Finding
        One `ground-missing` (stop) a stretch, at its first station; empty where all heights are known.
    """
    unknown = np.concatenate([[False], np.isnan(elevation_m), [False]])
    edges = np.flatnonzero(unknown[1:] != unknown[:-1])
    findings = []
    for start, stop in zip(edges[0::2], edges[1::2], strict=True):
        first_m, last_m = float(station_m[start]), float(station_m[stop - 1])
        if len(elevation_m) == stop - start:
            where = "anywhere on the line"
        elif first_m == last_m:
            where = f"at station {show.long(first_m)}"
        else:
            where = f"from station {show.long(first_m)} to {show.long(last_m)}"
        findings.append(
            Finding(
                STOP,
                "ground-missing",
                Place("ground", line, line, first_m),
                f'the ground ({source}) has no height for line "{line}" {where}',
                "give ground that covers the whole line, or move the line",
            )
        )
    return tuple(findings)
