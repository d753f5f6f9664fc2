"""What a tensioner's spool takes up: length wound in so many turns, turns for a length, re-grips."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

# how far a count may lie past a whole number and still be that number
ROUNDING = 1e-9


def wound_m(
    turns: ArrayLike, barrel_m: ArrayLike, thickness_m: ArrayLike, wraps_a_layer: ArrayLike = 1
) -> Floats:
    """Length on a spool after so many turns, its diameter growing layer by layer.

    Parameters
    ----------
    turns : array
        0 or more, also parts of a turn; shapes broadcast.
    barrel_m : array
        Diameter of the empty spool. [m]
    thickness_m : array
        Of what is wound, 0 or more. [m]
    wraps_a_layer : array
        Turns side by side before the next layer, 1 or more.

    Returns
    -------
    float array
        [m]

    Notes
    -----
    A turn of layer q (from 0) takes pi (D + (2 q + 1) t): the middle of what is wound follows a circle.

    References
    ----------
    spool-layers.
    """
    turn, barrel, thickness, wraps = _floats(turns, barrel_m, thickness_m, wraps_a_layer)
    layer = np.floor(turn / wraps)
    full = wraps * np.pi * layer * (barrel + thickness * layer)
    return np.asarray(full + (turn - layer * wraps) * np.pi * (barrel + (2.0 * layer + 1.0) * thickness))


def turns_for(
    length_m: ArrayLike, barrel_m: ArrayLike, thickness_m: ArrayLike, wraps_a_layer: ArrayLike = 1
) -> Floats:
    """Turns that wind a length: the other direction of `wound_m`.

    Parameters
    ----------
    length_m : array
        0 or more; shapes broadcast. [m]
    barrel_m, thickness_m, wraps_a_layer : array
        As `wound_m`.

    Returns
    -------
    float array
        Also parts of a turn.

    Notes
    -----
    Full layers from q (D + q t) = length / (pi wraps), the rest in the layer begun.

    References
    ----------
    spool-layers.
    """
    length, barrel, thickness, wraps = _floats(length_m, barrel_m, thickness_m, wraps_a_layer)
    layers = length / (np.pi * wraps)
    layer = np.floor(2.0 * layers / (barrel + np.sqrt(barrel**2 + 4.0 * thickness * layers)))
    rest = length - wraps * np.pi * layer * (barrel + thickness * layer)
    return np.asarray(layer * wraps + rest / (np.pi * (barrel + (2.0 * layer + 1.0) * thickness)))


def regrips_for(take_up_m: ArrayLike, capacity_m: ArrayLike) -> NDArray[np.int64]:
    """How often the rail must be cut back and gripped again to take up a length.

    Parameters
    ----------
    take_up_m : array
        Slack, stretch and the ends' giving together, 0 or more; shapes broadcast. [m]
    capacity_m : array
        What the spool takes from one grip, above 0. [m]

    Returns
    -------
    int array
        0 while one grip is enough.
    """
    take_up, capacity = _floats(take_up_m, capacity_m)
    return np.maximum(np.ceil(take_up / capacity - ROUNDING) - 1.0, 0.0).astype(np.int64)


def turns_with_regrips(
    take_up_m: ArrayLike,
    capacity_m: ArrayLike,
    barrel_m: ArrayLike,
    thickness_m: ArrayLike,
    wraps_a_layer: ArrayLike = 1,
) -> Floats:
    """Turns in all for a take-up, each re-grip starting on an empty spool; arguments as above.

    Notes
    -----
    Full spools at their turns, then the turns of the rest.

    References
    ----------
    spool-layers.
    """
    regrips = regrips_for(take_up_m, capacity_m)
    rest = np.asarray(take_up_m, np.float64) - regrips * np.asarray(capacity_m, np.float64)
    full = regrips * turns_for(capacity_m, barrel_m, thickness_m, wraps_a_layer)
    return np.asarray(full + turns_for(rest, barrel_m, thickness_m, wraps_a_layer))


def _floats(*values: ArrayLike) -> list[Floats]:
    """Arrays of one shape."""
    return [np.asarray(value, np.float64) for value in np.broadcast_arrays(*values)]
