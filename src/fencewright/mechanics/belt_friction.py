"""Belt friction (Euler and Eytelwein): tension left in a rail that has slid round bends."""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray


def tension_share(turning_rad: ArrayLike, friction: float) -> NDArray[np.float64]:
    """Share of the tension that passes a turning: exp(-friction * turning). [-]

    Parameters
    ----------
    turning_rad : array
        Turning summed without sign, 0 or more. [rad]
    friction : float
        Rail on bracket, 0 or more. [-]
    """
    return np.exp(-friction * np.asarray(turning_rad, np.float64))


def turning_for_share(share: float, friction: float) -> float:
    """Turning after which just that share of the tension is left; infinite without friction. [rad]"""
    return math.inf if friction <= 0 else -math.log(share) / friction
