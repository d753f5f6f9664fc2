"""A rail hanging between two level supports: the parabola, and the exact elastic catenary.

Both are read in both directions: from a tension to the unstressed length, and back. The parabola takes the
load per metre of span, the catenary per metre of unstressed rail.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fencewright.mechanics.bracketed_root import bracketed_root
from fencewright.mechanics.change_of_state import sagging_tension_n

Floats = NDArray[np.float64]

ROUNDS = 60


def parabola_sag_m(tension_n: ArrayLike, span_m: ArrayLike, load_n_m: ArrayLike) -> Floats:
    """Sag at mid-span: w L^2 / (8 H); shapes broadcast. [m]

    References
    ----------
    parabola-state.
    """
    tension, span, load = _floats(tension_n, span_m, load_n_m)
    return np.asarray(load * span**2 / (8.0 * tension))


def tension_for_sag_n(sag_m: ArrayLike, span_m: ArrayLike, load_n_m: ArrayLike) -> Floats:
    """Tension that gives a sag at mid-span, by the parabola: w L^2 / (8 s). [N]

    References
    ----------
    parabola-state.
    """
    return parabola_sag_m(sag_m, span_m, load_n_m)


def parabola_length_m(tension_n: ArrayLike, span_m: ArrayLike, load_n_m: ArrayLike) -> Floats:
    """Length of the stretched rail: L + w^2 L^3 / (24 H^2). [m]

    References
    ----------
    parabola-state.
    """
    tension, span, load = _floats(tension_n, span_m, load_n_m)
    return np.asarray(span * (1.0 + (load * span / tension) ** 2 / 24.0))


def parabola_end_tension_n(tension_n: ArrayLike, span_m: ArrayLike, load_n_m: ArrayLike) -> Floats:
    """Tension at the support, where half the span's load is added across. [N]"""
    tension, span, load = _floats(tension_n, span_m, load_n_m)
    return np.hypot(tension, load * span / 2.0)


def parabola_unstressed_m(
    tension_n: ArrayLike, span_m: ArrayLike, load_n_m: ArrayLike, stiffness_n: ArrayLike
) -> Floats:
    """Length of the rail without tension, the horizontal tension taken as that of the whole rail. [m]"""
    strain = np.asarray(tension_n, np.float64) / np.asarray(stiffness_n, np.float64)
    return np.asarray(parabola_length_m(tension_n, span_m, load_n_m) / (1.0 + strain))


def parabola_tension_n(
    unstressed_m: ArrayLike, span_m: ArrayLike, load_n_m: ArrayLike, stiffness_n: ArrayLike
) -> Floats:
    """Horizontal tension from the unstressed length: the other direction of `parabola_unstressed_m`. [N]"""
    unstressed, span, load, stiffness = _floats(unstressed_m, span_m, load_n_m, stiffness_n)
    taut = stiffness * (span / unstressed - 1.0)
    return sagging_tension_n(taut, stiffness * load**2 * span**3 / (24.0 * unstressed))


@dataclass(frozen=True, slots=True)
class Hanging:
    """A rail hanging between level supports; columns of one shape.

    Attributes
    ----------
    unstressed_m, length_m : float array
        Without tension, and as it hangs. [m]
    sag_m : float array
        At mid-span. [m]
    end_tension_n : float array
        At the supports. [N]
    """

    unstressed_m: Floats
    length_m: Floats
    sag_m: Floats
    end_tension_n: Floats


def catenary(
    tension_n: ArrayLike, span_m: ArrayLike, load_n_m: ArrayLike, stiffness_n: ArrayLike = np.inf
) -> Hanging:
    """Exact elastic catenary between level supports, from its horizontal tension.

    Parameters
    ----------
    tension_n : array
        Horizontal, above 0; shapes broadcast. [N]
    span_m : array
        Between supports. [m]
    load_n_m : array
        Weight per metre of unstressed rail, above 0. [N/m]
    stiffness_n : array
        E A; infinite for a rail that does not stretch. [N]

    Returns
    -------
    Hanging

    Notes
    -----
    span = H L0 / EA + (2 H / w) asinh(w L0 / (2 H)). The right side rises with L0 ever more slowly and the
    start is short of the root, so Newton comes up to it from below.

    References
    ----------
    elastic-catenary.
    """
    tension, span, load, stiffness = _floats(tension_n, span_m, load_n_m, stiffness_n)
    strain = tension / stiffness
    unstressed = span / (1.0 + strain)
    for _ in range(ROUNDS):
        lean = load * unstressed / (2.0 * tension)
        short = span - strain * unstressed - 2.0 * tension / load * np.arcsinh(lean)
        step = short / (strain + 1.0 / np.hypot(1.0, lean))
        unstressed = unstressed + step
        if not (np.abs(step) > 1e-15 * unstressed).any():
            break
    return _hanging(tension, unstressed, load, stiffness)


def _hanging(tension: Floats, unstressed: Floats, load: Floats, stiffness: Floats) -> Hanging:
    """Shape of an elastic catenary whose horizontal tension and unstressed length are known."""
    half = unstressed / 2.0
    end = np.hypot(tension, load * half)
    drop = load * half**2 / (end + tension)
    stretch = (half * end + tension**2 / load * np.arcsinh(load * half / tension)) / stiffness
    return Hanging(
        unstressed_m=unstressed,
        length_m=unstressed + stretch,
        sag_m=load * half**2 / (2.0 * stiffness) + drop,
        end_tension_n=end,
    )


def catenary_tension_n(
    unstressed_m: ArrayLike, span_m: ArrayLike, load_n_m: ArrayLike, stiffness_n: ArrayLike
) -> Floats:
    """Horizontal tension of the exact elastic catenary from its unstressed length.

    Parameters
    ----------
    unstressed_m, span_m : array
        Shapes broadcast. [m]
    load_n_m : array
        Weight per metre of unstressed rail, above 0. [N/m]
    stiffness_n : array
        E A, finite. [N]

    Returns
    -------
    float array
        [N]

    Notes
    -----
    The span rises with H. Below, it is shut in by the weightless rail (or a millionth of the upper bound,
    for a rail longer than its span), above by the parabola of the rail's own length.

    References
    ----------
    elastic-catenary.
    """
    unstressed, span, load, stiffness = _floats(unstressed_m, span_m, load_n_m, stiffness_n)
    taut = stiffness * (span / unstressed - 1.0)
    high = sagging_tension_n(taut, stiffness * load**2 * unstressed**2 / 24.0) * (1.0 + 1e-9)

    def too_wide_m(tension: Floats) -> Floats:
        bow = 2.0 * tension / load * np.arcsinh(load * unstressed / (2.0 * tension))
        return np.asarray(tension * unstressed / stiffness + bow - span)

    return bracketed_root(too_wide_m, np.maximum(taut * (1.0 - 1e-9), 1e-6 * high), high)


def catenary_tension_for_sag_n(sag_m: ArrayLike, span_m: ArrayLike, load_n_m: ArrayLike) -> Floats:
    """Horizontal tension of a catenary that does not stretch, from its sag at mid-span.

    Parameters
    ----------
    sag_m, span_m : array
        Above 0; shapes broadcast. [m]
    load_n_m : array
        Per metre of rail. [N/m]

    Returns
    -------
    float array
        [N]

    Notes
    -----
    (cosh t - 1) / t = s / (L / 2), with t = w L / (2 H). Each term of the series of cosh gives an upper
    bound on t; from the least of them Newton comes down to the root.

    References
    ----------
    chapra-anm.
    """
    sag, span, load = _floats(sag_m, span_m, load_n_m)
    ratio = 2.0 * sag / span
    bounds = [2.0 * ratio, *((factor * ratio) ** (1.0 / power) for factor, power in _COSH_TERMS)]
    lean = np.minimum.reduce(bounds)
    for _ in range(ROUNDS):
        rise = 2.0 * np.sinh(lean / 2.0) ** 2 / lean
        step = (rise - ratio) / ((np.sinh(lean) - rise) / lean)
        lean = lean - step
        if not (np.abs(step) > 1e-14 * lean).any():
            break
    return np.asarray(load * span / (2.0 * lean))


# factorials of the series of cosh, each with the power of t that is left: 4!, 6!, 8!, 16!
_COSH_TERMS = ((24.0, 3), (720.0, 5), (40320.0, 7), (20922789888000.0, 15))


def catenary_tension_after_n(
    tension_n: ArrayLike,
    span_m: ArrayLike,
    load_n_m: ArrayLike,
    stiffness_n: ArrayLike,
    expansion_per_c: ArrayLike,
    warmer_c: ArrayLike,
) -> Floats:
    """Horizontal tension after a change of temperature, level supports that do not give; exact.

    Parameters
    ----------
    tension_n : array
        Horizontal, before; shapes broadcast. [N]
    span_m : array
        [m]
    load_n_m : array
        Weight per metre of unstressed rail before; the warmer rail is longer and as heavy. [N/m]
    stiffness_n : array
        E A. [N]
    expansion_per_c : array
        [1/C]
    warmer_c : array
        Rise of temperature, below 0 when colder. [C]

    Returns
    -------
    float array
        [N]

    References
    ----------
    elastic-catenary.
    """
    grown = 1.0 + np.asarray(expansion_per_c, np.float64) * np.asarray(warmer_c, np.float64)
    before = catenary(tension_n, span_m, load_n_m, stiffness_n).unstressed_m
    load = np.asarray(load_n_m, np.float64) / grown
    return catenary_tension_n(before * grown, span_m, load, stiffness_n)


def _floats(*values: ArrayLike) -> list[Floats]:
    """Arrays of one shape."""
    return [np.asarray(value, np.float64) for value in np.broadcast_arrays(*values)]
