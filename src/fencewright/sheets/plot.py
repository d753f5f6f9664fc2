"""A small graph on paper: two axes with round ticks, and lines and bands in it."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from fencewright.sheets.labels import Frame
from fencewright.sheets.picture import XY, Item, Polygon, Text, box_of, line_of

TICK_TEXT_M = 0.0020
_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


def round_ticks(low: float, high: float, most: int) -> list[float]:
    """Round numbers from `low` or just above to `high`, at most `most` of them.

    Parameters
    ----------
    low, high : float
        Range, `high` above `low`. [any]
    most : int
        At least 2.

    Returns
    -------
    list of float
        Multiples of 1, 2, 2.5 or 5 times a power of ten.
    """
    least = (high - low) / max(most - 1, 1)
    decade = 10.0 ** math.floor(math.log10(least))
    step = next(one * decade for one in _STEPS if one * decade >= least * (1 - 1e-9))
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [step * k for k in range(first, last + 1)]


@dataclass(frozen=True, slots=True)
class Plot:
    """Where a graph lies: `frame` left, low, right, high on paper [m]; ranges in the units of the sheet."""

    frame: Frame
    x_range: tuple[float, float]
    y_range: tuple[float, float]

    def x(self, value: float) -> float:
        """Paper x of a value. [m]."""
        left, _, right, _ = self.frame
        low, high = self.x_range
        return left + (value - low) / max(high - low, 1e-9) * (right - left)

    def y(self, value: float) -> float:
        """Paper y of a value, kept within the frame. [m]."""
        _, low_m, _, high_m = self.frame
        low, high = self.y_range
        share = (value - low) / max(high - low, 1e-9)
        return low_m + min(max(share, 0.0), 1.0) * (high_m - low_m)

    def line(self, points: Iterable[XY], style: str) -> Item:
        """Line through points in the units of the sheet."""
        return line_of([(self.x(x), self.y(y)) for x, y in points], style)

    def band(self, x: Sequence[float], low: Sequence[float], high: Sequence[float], style: str) -> Item:
        """Area between two lines over the same x."""
        upper = [(self.x(a), self.y(b)) for a, b in zip(x, high, strict=True)]
        lower = [(self.x(a), self.y(b)) for a, b in zip(x, low, strict=True)]
        return Polygon(((*upper, *reversed(lower)),), style)


def draw_axes(plot: Plot, y_title: str, x_ticks: Sequence[float] = ()) -> list[Item]:
    """Frame, level grid lines with their numbers, the title of the upright axis, and ticks along x."""
    left, low, right, high = plot.frame
    items: list[Item] = [box_of(left, low, right, high, "rule")]
    ticks = round_ticks(*plot.y_range, max(3, int((high - low) / 0.007)))
    for value in ticks:
        y = plot.y(value)
        items.append(line_of(((left, y), (right, y)), "grid"))
        items.append(Text(left - 0.0012, y, f"{value:,.0f}", "text", TICK_TEXT_M, "end"))
    items.append(Text(left - 0.0012, high + 0.0022, y_title, "text-quiet", TICK_TEXT_M))
    for value in x_ticks:
        items.append(line_of(((plot.x(value), low), (plot.x(value), low - 0.0008)), "axis"))
    return items
