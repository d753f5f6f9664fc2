"""A weightless cable that carries single loads between supports at any heights."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class LoadedCable:
    """Balance of a cable under single loads.

    Attributes
    ----------
    first_n, last_n : float
        Upward force of the two supports. [N]
    height_m : float array (loads,)
        Of each loaded point above the first support. [m]
    tension_n : float array (loads + 1,)
        Of each straight part. [N]
    """

    first_n: float
    last_n: float
    height_m: Floats
    tension_n: Floats


def loaded_cable(
    level_n: float, place_m: ArrayLike, load_n: ArrayLike, span_m: float, rise_m: float = 0.0
) -> LoadedCable:
    """Balance of a cable whose horizontal tension is known.

    Parameters
    ----------
    level_n : float
        Horizontal tension, above 0. [N]
    place_m : array (loads,)
        Of each load from the first support, rising. [m]
    load_n : array (loads,)
        Downward. [N]
    span_m : float
        Between supports, level. [m]
    rise_m : float
        Last support above the first. [m]

    Returns
    -------
    LoadedCable

    Notes
    -----
    The cable hangs below its chord by the bending moment of a beam of the same span over the tension.

    References
    ----------
    statics-cables.
    """
    place, load = np.asarray(place_m, np.float64), np.asarray(load_n, np.float64)
    last = float(load @ place) / span_m + level_n * rise_m / span_m
    first = float(load.sum()) - last
    across = first - np.concatenate([[0.0], np.cumsum(load)])
    part = np.diff(np.concatenate([[0.0], place, [span_m]]))
    return LoadedCable(first, last, -np.cumsum(across * part)[:-1] / level_n, np.hypot(level_n, across))


def level_tension_n(
    drop_m: float, at_m: float, place_m: ArrayLike, load_n: ArrayLike, span_m: float
) -> float:
    """Horizontal tension of a cable that hangs so far below its chord at a place. [N]

    Parameters
    ----------
    drop_m : float
        Below the chord, above 0. [m]
    at_m : float
        Where, from the first support. [m]
    place_m, load_n, span_m
        As `loaded_cable`.

    References
    ----------
    statics-cables.
    """
    place, load = np.asarray(place_m, np.float64), np.asarray(load_n, np.float64)
    first = float(load @ (span_m - place)) / span_m
    return (first * at_m - float(load @ np.maximum(at_m - place, 0.0))) / drop_m
