"""A span pushed sideways at mid-span: how far it gives, and what tension that betrays; large displacements.

Two bounds: held at both posts (`run_m` equal to the span), and free to slide over the rest of its pull
(`run_m` the whole pull between two points that hold). The truth lies between. The push is level, at right
angles to the rail's weight; a weight hung on a tight rail gives nearly the same, counted from the sag.
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fencewright.mechanics.change_of_state import sagging_tension_n

Floats = NDArray[np.float64]

# relative step of a central difference, about the cube root of the precision of a double
STEP = 1e-5
ROUNDS = 100
LAST_STEP = 1e-13  # of the tension
NO_LENGTH = 1e-12  # of the run: rounding of its length


def linear_deflection_m(push_n: ArrayLike, span_m: ArrayLike, tension_n: ArrayLike) -> Floats:
    """Deflection while the tension does not rise: P L / (4 T), never below the sliding bound. [m]

    References
    ----------
    iowa-wire-2014.
    """
    push, span, tension = _floats(push_n, span_m, tension_n)
    return np.asarray(push * span / (4.0 * tension))


def pushed_tension_n(
    push_n: ArrayLike,
    span_m: ArrayLike,
    run_m: ArrayLike,
    tension_n: ArrayLike,
    stiffness_n: ArrayLike,
    load_n_m: ArrayLike = 0.0,
) -> Floats:
    """Tension along the rail while it is pushed at mid-span.

    Parameters
    ----------
    push_n : array
        0 or more, level and square to the fence; shapes broadcast. [N]
    span_m : array
        From post to post. [m]
    run_m : array
        Rail free to slide: the span itself for the pinned bound, the whole pull for the sliding one. [m]
    tension_n : array
        Before the push, above 0. [N]
    stiffness_n : array
        E A. [N]
    load_n_m : array
        Weight of the rail; 0 for a rail without weight. [N/m]

    Returns
    -------
    float array
        Never below the tension before. NaN where a span's weight exceeds what that tension carries. [N]

    Notes
    -----
    Each half of the span is straight (with weight: a shallow parabola about its chord). With the forces at
    mid-span in balance both ways its chord is (L / 2) / sqrt(1 - (P / 2T)^2 - (w L / 4T)^2), and the rail's
    unstressed length is what it was. One unknown: stretched length less path grows with the tension and bends down, so
    Newton climbs to the root from below and cannot overshoot. With weight the rest of the pull hangs in spans of this
    length. O(n), about five rounds.

    References
    ----------
    pushed-wire.
    """
    push, span, run, before, stiffness, load = _floats(
        push_n, span_m, run_m, tension_n, stiffness_n, load_n_m
    )
    unstressed = run * (1.0 + (load * span / before) ** 2 / 24.0) / (1.0 + before / stiffness)
    least = np.hypot(push / 2.0, load * span / 4.0) * (1.0 + 1e-12)
    tension = np.maximum(before, least)
    with np.errstate(invalid="ignore", divide="ignore"):
        for rounds in range(ROUNDS):
            path, slope = _path_and_slope(tension, push, span, run, load)
            lacking = path - (1.0 + tension / stiffness) * unstressed
            if rounds == 0:
                is_reached = lacking >= -NO_LENGTH * run
            step = np.maximum(lacking, 0.0) / (unstressed / stiffness - slope)
            tension = tension + step
            if not (step > LAST_STEP * tension).any():
                break
    return np.asarray(np.where(push > 0, np.where(is_reached, tension, np.nan), before))


def deflection_m(
    push_n: ArrayLike,
    span_m: ArrayLike,
    run_m: ArrayLike,
    tension_n: ArrayLike,
    stiffness_n: ArrayLike,
    load_n_m: ArrayLike = 0.0,
) -> Floats:
    """Deflection at mid-span under a push; arguments as `pushed_tension_n`.

    Returns
    -------
    float array
        Sideways, from where the rail was. [m]

    Notes
    -----
    P times the half chord over 2 T.

    References
    ----------
    pushed-wire.
    """
    tension = pushed_tension_n(push_n, span_m, run_m, tension_n, stiffness_n, load_n_m)
    push, span, load = _floats(push_n, span_m, load_n_m)
    return np.asarray(push * _half_chord_m(tension, push, span, load) / (2.0 * tension))


def push_for_deflection_n(
    deflection_m: ArrayLike, span_m: ArrayLike, run_m: ArrayLike, tension_n: ArrayLike, stiffness_n: ArrayLike
) -> Floats:
    """Push that gives a deflection at mid-span, for a rail without weight: closed form. [N]

    Notes
    -----
    T = E A ((run - span + 2 half chords) / L0 - 1), P = 2 T d / half chord.

    References
    ----------
    pushed-wire.
    """
    deflection, span, run, before, stiffness = _floats(deflection_m, span_m, run_m, tension_n, stiffness_n)
    half = np.hypot(span / 2.0, deflection)
    tension = stiffness * ((run - span + 2.0 * half) * (1.0 + before / stiffness) / run - 1.0)
    return np.asarray(2.0 * tension * deflection / half)


def tension_from_push_n(
    push_n: ArrayLike,
    deflection_m: ArrayLike,
    span_m: ArrayLike,
    run_m: ArrayLike,
    stiffness_n: ArrayLike,
    load_n_m: ArrayLike = 0.0,
) -> Floats:
    """Tension before the push, from a measured push and deflection: the other direction of `deflection_m`.

    Parameters
    ----------
    push_n, deflection_m : array
        As measured, above 0; shapes broadcast. [N], [m]
    span_m, run_m, stiffness_n, load_n_m : array
        As `pushed_tension_n`.

    Returns
    -------
    float array
        NaN where no tension explains it: even a rail without any would have given less. [N]

    Notes
    -----
    Explicit: the deflection gives the tension under the push, that the unstressed length, that the tension
    before (a cubic where the rail has weight). The pinned bound gives the smaller tension.

    References
    ----------
    pushed-wire.
    """
    push, deflection, span, run, stiffness, load = _floats(
        push_n, deflection_m, span_m, run_m, stiffness_n, load_n_m
    )
    level = push * span / (4.0 * deflection)
    half = np.sqrt((span / 2.0) ** 2 + deflection**2 + (load * span**2 / (8.0 * level)) ** 2)
    pushed = level * 2.0 * half / span
    unstressed = _path_m(pushed, push, span, run, load) / (1.0 + pushed / stiffness)
    taut = stiffness * (run / unstressed - 1.0)
    before = sagging_tension_n(taut, stiffness * run / unstressed * (load * span) ** 2 / 24.0)
    return np.asarray(np.where(before > 0, before, np.nan))


def tension_and_spread_n(
    push_n: ArrayLike,
    deflection_m: ArrayLike,
    push_spread_n: ArrayLike,
    deflection_spread_m: ArrayLike,
    tension_for: Callable[[Floats, Floats], Floats],
) -> tuple[Floats, Floats]:
    """Tension from a measurement, and its standard deviation to first order.

    Parameters
    ----------
    push_n, deflection_m : array
        As measured. [N], [m]
    push_spread_n, deflection_spread_m : array
        Standard deviations of the two, independent. [N], [m]
    tension_for : callable
        Tension from push and deflection: `tension_from_push_n` with the span filled in.

    Returns
    -------
    tension_n, spread_n : float arrays
        NaN where no tension explains the measurement. [N]

    Notes
    -----
    Square root of the sum of (slope x spread)^2, the slopes by central differences.
    """
    push, deflection = _floats(push_n, deflection_m)
    by_push = tension_for(push * (1 + STEP), deflection) - tension_for(push * (1 - STEP), deflection)
    by_deflection = tension_for(push, deflection * (1 + STEP)) - tension_for(push, deflection * (1 - STEP))
    spread = np.hypot(
        by_push / (2 * STEP * push) * np.asarray(push_spread_n, np.float64),
        by_deflection / (2 * STEP * deflection) * np.asarray(deflection_spread_m, np.float64),
    )
    return tension_for(push, deflection), spread


def _half_chord_m(tension: Floats, push: Floats, span: Floats, load: Floats) -> Floats:
    """From a post straight to the pushed mid-span."""
    across = (push / (2.0 * tension)) ** 2 + (load * span / (4.0 * tension)) ** 2
    return np.asarray(span / 2.0 / np.sqrt(1.0 - across))


def _path_m(tension: Floats, push: Floats, span: Floats, run: Floats, load: Floats) -> Floats:
    """Length of the stretched rail of the pushed span and of the rest of its pull."""
    return _path_and_slope(tension, push, span, run, load)[0]


def _path_and_slope(
    tension: Floats, push: Floats, span: Floats, run: Floats, load: Floats
) -> tuple[Floats, Floats]:
    """Length of the stretched rail of the pushed span and of the rest of its pull, and its change with the tension."""
    across = ((push / 2.0) ** 2 + (load * span / 4.0) ** 2) / tension**2
    half = span / 2.0 / np.sqrt(1.0 - across)
    shorter = across / (1.0 - across)  # of the half chord, for a part of the tension more
    hung, rest = (load * half / tension) ** 2 / 24.0, (load * span / tension) ** 2 / 24.0
    path = 2.0 * half * (1.0 + hung) + (run - span) * (1.0 + rest)
    slope = -2.0 * half * (shorter * (1.0 + 3.0 * hung) + 2.0 * hung) - 2.0 * (run - span) * rest
    return path, slope / tension


def _floats(*values: ArrayLike) -> list[Floats]:
    """Arrays of one shape."""
    return [np.asarray(value, np.float64) for value in np.broadcast_arrays(*values)]
