"""Ground that rises and falls evenly, for a fence of which no ground is known yet."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class WavyGround:
    """Waves along both axes of the plane; a protocol `Ground`.

    Parameters
    ----------
    height_m : float
        From trough to crest along a line of the plane. [m]
    length_m : float
        From crest to crest, above 0. [m]
    source : str
        As printed.
    """

    height_m: float
    length_m: float
    source: str
    is_coarse: bool = False

    def elevation_m(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        """Give the elevation at points (n,): half the height times the sine along x, and again along y. [m]."""
        turns = 2 * np.pi / self.length_m
        return np.asarray(self.height_m / 2 * (np.sin(turns * x_m) + np.sin(turns * y_m)), np.float64)

    def sd_m(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        """Give the standard deviation at points (n,): nothing, since the ground is invented. [m]."""
        return np.zeros(np.broadcast(x_m, y_m).shape)
