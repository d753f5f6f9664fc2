"""From what was measured on site to the tension, its uncertainty, and what to do: pull more, leave, ease off."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import InputError
from fencewright.job.tension_settings import SiteCheckSettings
from fencewright.mechanics.pushed_span import tension_and_spread_n, tension_from_push_n
from fencewright.mechanics.vibration import spread_from_frequency_n, tension_from_frequency_n
from fencewright.quantity.parse import GRAVITY_M_S2
from fencewright.quantity.show import UnitSystem

Floats = NDArray[np.float64]

MOST_STRAIN = 0.02  # a wire stretched more has broken
MOST_SAG = 0.1  # of the span: a rail that hangs deeper by itself is no rail under tension
PULL_MORE, LEAVE, EASE_OFF = "pull more", "leave", "ease off"


@dataclass(frozen=True, slots=True)
class MeasuredSpan:
    """The span that was measured: its length and the rail that slides with it [m], E A [N], weight [N/m]."""

    span_m: float
    run_m: float
    stiffness_n: float
    weight_n_m: float


@dataclass(frozen=True, slots=True)
class Push:
    """A push at mid-span [N] and the deflection that it gave [m]."""

    push_n: float
    deflection_m: float


@dataclass(frozen=True, slots=True)
class Beats:
    """Swings there and back of a plucked rail, in a minute."""

    per_minute: float


@dataclass(frozen=True, slots=True)
class Wanted:
    """Tension that belongs there on that day, its window, and its change for a degree of warming. [N], [N/C]"""

    tension_n: float
    low_n: float
    high_n: float
    change_n_per_c: float = 0.0


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a measurement says.

    Attributes
    ----------
    tension_n : float
        Best estimate. [N]
    low_n, high_n : float
        Two standard deviations and the two bounds, sliding and pinned, together. [N]
    wanted : Wanted
        What it was compared with.
    advice : str
        `pull more`, `leave` or `ease off`.
    is_sure : bool
        The two standard deviations lie on the advised side of the window too (for `leave`: within it).
    """

    tension_n: float
    low_n: float
    high_n: float
    wanted: Wanted
    advice: str
    is_sure: bool


def judge_measurement(
    measured: Push | Beats, span: MeasuredSpan, wanted: Wanted, known: SiteCheckSettings, show: UnitSystem
) -> Verdict:
    """Tension from a push or from beats, and what to do.

    Parameters
    ----------
    measured : Push or Beats
        What was read.
    span : MeasuredSpan
        Where.
    wanted : Wanted
        What belongs there on that day (`SiteChecks`, or the chart times the span's share).
    known : SiteCheckSettings
        How well each thing is measured.
    show : UnitSystem
        Units of the refusals.

    Returns
    -------
    Verdict
        `pull more` where even the greater bound is below the window, `ease off` where even the smaller one is above
        it, else `leave`: a rail is not touched for a reading that may be right.

    Raises
    ------
    InputError
        A measurement that is nothing or negative, whose unit cannot be right, or that no tension explains.

    Notes
    -----
    The estimate is the mean of the sliding and the pinned bound, between which the truth lies. How well the rail's
    temperature is known belongs to the window, not to the reading, and is added to its spread.

    References
    ----------
    pushed-wire, string-frequency.
    """
    pair = (
        _pushed(measured, span, known, show)
        if isinstance(measured, Push)
        else _plucked(measured, span, known, show)
    )
    (low, low_sd), (high, high_sd) = pair
    by_heat = abs(wanted.change_n_per_c) * known.temperature_sd_c
    least = max(low - 2 * math.hypot(low_sd, by_heat), 0.0)
    most = high + 2 * math.hypot(high_sd, by_heat)
    estimate = (low + high) / 2
    if high < wanted.low_n:
        return Verdict(estimate, least, most, wanted, PULL_MORE, bool(most < wanted.low_n))
    if low > wanted.high_n:
        return Verdict(estimate, least, most, wanted, EASE_OFF, bool(least > wanted.high_n))
    inside = least >= wanted.low_n and most <= wanted.high_n
    return Verdict(estimate, least, most, wanted, LEAVE, bool(inside))


def _pushed(
    measured: Push, span: MeasuredSpan, known: SiteCheckSettings, show: UnitSystem
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Lower and upper bound of the tension from a push, each with its standard deviation. [N]"""
    if not measured.push_n > 0 or not math.isfinite(measured.push_n):
        raise InputError("the push must be more than nothing: give what the scale showed", item="push")
    if not measured.deflection_m > 0 or not math.isfinite(measured.deflection_m):
        raise InputError(
            "the deflection must be more than nothing: give how far the rail moved at mid-span",
            item="deflection",
        )
    if measured.deflection_m > span.span_m / 4:
        raise InputError(
            f"{show.small(measured.deflection_m)} is more than a quarter of the span of {show.long(span.span_m)}: check "
            "its unit",
            item="deflection",
        )
    bounds = []
    for free in (span.run_m, span.span_m):

        def tension_for(push: Floats, deflection: Floats, free: float = free) -> Floats:
            return tension_from_push_n(push, deflection, span.span_m, free, span.stiffness_n, span.weight_n_m)

        tension, spread = tension_and_spread_n(
            measured.push_n,
            measured.deflection_m,
            known.push_sd * measured.push_n,
            known.deflection_sd_m,
            tension_for,
        )
        bounds.append((float(tension), float(spread)))
    sliding, pinned = bounds
    if not sliding[0] > span.weight_n_m * span.span_m / (8 * MOST_SAG):
        raise InputError(
            f"no tension explains {show.small(measured.deflection_m)} under {show.force(measured.push_n)}: even a rail "
            "that hangs slack would give way less; check both readings and their units",
            item="deflection",
        )
    if math.isnan(pinned[0]):
        pinned = (0.0, sliding[1])
    if math.isnan(pinned[1]) or math.isnan(sliding[1]):
        known_sd = next((sd for _, sd in (sliding, pinned) if not math.isnan(sd)), sliding[0])
        sliding = (sliding[0], known_sd if math.isnan(sliding[1]) else sliding[1])
        pinned = (pinned[0], known_sd if math.isnan(pinned[1]) else pinned[1])
    lower, upper = sorted((sliding, pinned))
    return lower, _below_breaking(upper, span, show)


def _plucked(
    measured: Beats, span: MeasuredSpan, known: SiteCheckSettings, show: UnitSystem
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Tension from beats, twice, with its standard deviation. [N]"""
    if not measured.per_minute > 0 or not math.isfinite(measured.per_minute):
        raise InputError("the beats must be more than nothing: count them for a minute", item="beats")
    beat, mass = measured.per_minute / 60.0, span.weight_n_m / GRAVITY_M_S2
    tension = float(tension_from_frequency_n(beat, span.span_m, mass))
    spread = float(spread_from_frequency_n(beat, span.span_m, mass, known.beats_sd * beat))
    if tension < span.weight_n_m * span.span_m / (8 * MOST_SAG):
        raise InputError(
            f"{measured.per_minute:g} beats a minute is less than a rail hanging slack makes: "
            "give beats in a minute, not in a second",
            item="beats",
        )
    answer = _below_breaking((tension, spread), span, show)
    return answer, answer


def _below_breaking(bound: tuple[float, float], span: MeasuredSpan, show: UnitSystem) -> tuple[float, float]:
    """Refuse a tension that no rail bears: a reading in another unit."""
    if bound[0] > MOST_STRAIN * span.stiffness_n:
        raise InputError(
            f"the reading would mean {show.force(bound[0])}, more than the rail can bear: check its unit "
            "(beats in a minute, deflection in mm or in)",
            item="measured",
        )
    return bound
