"""Several level forces on an upright, put together as one force and one moment at grade."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


def resultant_at_grade(pulls_n: ArrayLike, heights_m: ArrayLike) -> tuple[Floats, Floats]:
    """Sum of level pulls, and the sum of their moments about the ground.

    Parameters
    ----------
    pulls_n : array (..., pulls)
        Positive the same way. [N]
    heights_m : array (..., pulls)
        Above grade. [m]

    Returns
    -------
    pull_n, moment_n_m : float arrays (...)
        0 where there is no pull. [N], [N m]
    """
    pulls, heights = np.broadcast_arrays(np.asarray(pulls_n, np.float64), np.asarray(heights_m, np.float64))
    return np.asarray(pulls.sum(axis=-1)), np.asarray((pulls * heights).sum(axis=-1))


def equivalent_height_m(pull_n: ArrayLike, moment_n_m: ArrayLike) -> Floats:
    """Height at which the whole pull has the same moment at grade: M / P; infinite for a pure couple. [m]

    Notes
    -----
    0 where there is neither pull nor moment.
    """
    pull, moment = np.broadcast_arrays(np.asarray(pull_n, np.float64), np.asarray(moment_n_m, np.float64))
    none = np.where(moment == 0, 0.0, np.copysign(np.inf, moment))
    return np.asarray(np.divide(moment, pull, out=none, where=pull != 0))
