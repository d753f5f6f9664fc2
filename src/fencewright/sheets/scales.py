"""Standard scales, papers and scale bars."""

import math
from dataclasses import dataclass

from fencewright.quantity.parse import FOOT_M, INCH_M
from fencewright.quantity.show import UnitSystem

_US_FEET_PER_INCH = (10, 20, 30, 40, 50, 60, 100)
_METRIC_RATIOS = (1.0, 2.0, 2.5, 3.0, 4.0, 5.0, 7.5)
_BAR_STEPS = (1.0, 2.0, 2.5, 5.0)


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper, landscape. [m]."""

    name: str
    width_m: float
    height_m: float


PHONE_WIDTH_M = 0.090  # a narrow screen, at the letter sizes of the sheets
PHONE_MARGIN_M = 0.003
_LETTER = Paper("Letter", 11 * INCH_M, 8.5 * INCH_M)
_A4 = Paper("A4", 0.297, 0.210)


def paper_for(units: UnitSystem) -> Paper:
    """Letter for US sheets, A4 for metric ones."""
    return _LETTER if units.name == "us" else _A4


def _steps(units: UnitSystem) -> list[float]:
    if units.name == "us":
        return [step * 12.0 for step in _US_FEET_PER_INCH]
    return [step * 100.0 for step in _METRIC_RATIOS]


def standard_scale(least: float, units: UnitSystem) -> float:
    """Smallest standard ratio that is at least `least`.

    Parameters
    ----------
    least : float
        Metres on the ground for one metre on paper that would just fit, above 0. [-]
    units : UnitSystem
        Of the sheet.

    Returns
    -------
    float
        US: 1 in = 10, 20, 30, 40, 50, 60 or 100 ft, times a power of ten; metric: 1:100, 200, 250, 300,
        400, 500, 750, times a power of ten; never larger than 1 in = 10 ft or 1:100. [-]

    Notes
    -----
    Rounding in the last digit of `least` never asks for the next coarser scale.
    """
    decade = 1.0
    while True:
        for step in _steps(units):
            if step * decade >= least * (1 - 1e-12):
                return step * decade
        decade *= 10


def standard_scale_below(most: float, units: UnitSystem) -> float:
    """Largest standard ratio that is at most `most`, or the smallest of all. [-]."""
    decade = 1.0
    steps = _steps(units)
    best = steps[0]
    while steps[0] * decade <= most:
        best = max(step * decade for step in steps if step * decade <= most * (1 + 1e-12))
        decade *= 10
    return best


def show_scale(scale: float, units: UnitSystem) -> str:
    """Write a scale as the trade does: `1 in = 40 ft (1:480)` or `1:500`."""
    ratio = f"1:{scale:,.0f}"
    return f"1 in = {scale / 12:,.0f} ft ({ratio})" if units.name == "us" else ratio


@dataclass(frozen=True, slots=True)
class ScaleBar:
    """A scale bar: `step_m` on the ground for each of `steps` parts [m], with a label at each end of one."""

    step_m: float
    steps: int
    labels: tuple[str, ...]


def scale_bar(scale: float, units: UnitSystem, width_m: float = 0.05) -> ScaleBar:
    """Scale bar of round parts, at most `width_m` long on paper [m]."""
    unit_m = FOOT_M if units.name == "us" else 1.0
    most = width_m * scale / unit_m / 4
    decade = 10.0 ** math.floor(math.log10(most))
    step = max(step * decade for step in _BAR_STEPS if step * decade <= most * (1 + 1e-9))
    labels = tuple(f"{step * k:,g}" for k in range(4)) + (f"{step * 4:,g} {units.long_unit}",)
    return ScaleBar(step * unit_m, 4, labels)


def nice_step(least_m: float, units: UnitSystem) -> float:
    """Smallest round distance that is at least `least_m` [m]: 1, 2 or 5 times a power of ten units."""
    unit_m = units.long_factor
    least = least_m / unit_m
    decade = 10.0 ** math.floor(math.log10(least))
    return (
        next(step * decade for step in (1.0, 2.0, 5.0, 10.0) if step * decade >= least * (1 - 1e-9)) * unit_m
    )
