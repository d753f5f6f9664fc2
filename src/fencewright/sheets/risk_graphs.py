"""The two graphs of the risk sheet: the cumulative curve of a total, and bars of what moves it most."""

from dataclasses import dataclass

from fencewright.pipeline.risk_words import named_swings, range_words
from fencewright.sheets.labels import Frame
from fencewright.sheets.letters import text_width_em, wrap
from fencewright.sheets.picture import Item, Symbol, Text, box_of, line_of
from fencewright.sheets.plot import TICK_TEXT_M, Plot, round_ticks
from fencewright.tables.price import Price
from fencewright.tables.risk import Risk

_GUTTER_M = 0.009  # left of the curve, for its percentages
_TEXT_M = 0.0022
_BAR_M, _ROW_GAP_M = 0.0042, 0.0025
_LINE_M = 0.0033
_WIDE_LABEL_M = 0.070  # beside the bars, where the sheet is wide enough
_WIDE_FROM_M = 0.12
_MARKS = ((0.5, "post-line"), (0.8, "post-end"), (0.95, "post-bend"))  # circle, square, triangle


def money(price: Price, value: float) -> str:
    """An amount in whole units of the currency: `14,200 USD`."""
    return f"{value:,.0f} {price.currency}".strip()


def draw_curve(price: Price, risk: Risk, frame: Frame) -> list[Item]:
    """Draw how often the total stays below each amount, with P50, P80, P95 and the price. [m].

    The frame holds the numbers left of the curve; those below it stand under the frame.
    """
    left, low, right, high = frame
    whole = float(price.total or 0)
    first, last = min(float(risk.total[0]), whole), max(float(risk.total[-1]), whole)
    margin = max(0.03 * (last - first), 0.001 * last, 1.0)
    plot = Plot((left + _GUTTER_M, low, right, high), (first - margin, last + margin), (0.0, 100.0))
    items = _axes(price, plot)
    points = [
        (first - margin, 0.0),
        *zip(risk.total.tolist(), (100 * risk.probability).tolist(), strict=True),
    ]
    items.append(plot.line([*points, (last + margin, 100.0)], "fence"))
    items += _price_mark(price, risk, plot, whole)
    for chance, symbol in _MARKS:
        items += _quantile_mark(price, risk, plot, chance, symbol)
    return items


def _axes(price: Price, plot: Plot) -> list[Item]:
    left, low, right, high = plot.frame
    items: list[Item] = [box_of(left, low, right, high, "rule")]
    for percent in (0, 20, 40, 60, 80, 100):
        y = plot.y(percent)
        items.append(line_of(((left, y), (right, y)), "grid"))
        items.append(Text(left - 0.0012, y, f"{percent} %", "text", TICK_TEXT_M, "end"))
    widest = text_width_em(f"{plot.x_range[1]:,.0f}") * TICK_TEXT_M + 0.004
    for value in round_ticks(*plot.x_range, max(2, int((right - left) / widest))):
        x = plot.x(value)
        items.append(line_of(((x, low), (x, low - 0.0008)), "axis"))
        half = text_width_em(f"{value:,.0f}") * TICK_TEXT_M / 2
        x = min(max(x, left - _GUTTER_M + half), right - half)
        items.append(Text(x, low - 0.0028, f"{value:,.0f}", "text", TICK_TEXT_M, "middle"))
    items.append(Text(right, low - 0.0062, f"total, {price.currency}", "text-quiet", TICK_TEXT_M, "end"))
    return items


def _quantile_mark(price: Price, risk: Risk, plot: Plot, chance: float, symbol: str) -> list[Item]:
    """Mark a quantile on the curve, with a line down to its amount and its words to the left of the mark."""
    left, low, _, _ = plot.frame
    x, y = plot.x(risk.quantile(chance)), plot.y(100 * chance)
    words = f"P{100 * chance:.0f}  {money(price, risk.quantile(chance))}"
    wide = text_width_em(words) * _TEXT_M
    items: list[Item] = [line_of(((x, low), (x, y)), "gate-arc"), Symbol(symbol, x, y, 0.0032)]
    if x - 0.003 - wide > left:
        items.append(Text(x - 0.003, y + 0.0016, words, "label-strong", _TEXT_M, "end"))
    else:
        items.append(Text(x + 0.003, y - 0.0016, words, "label-strong", _TEXT_M))
    return items


def _price_mark(price: Price, risk: Risk, plot: Plot, whole: float) -> list[Item]:
    """Mark the price itself by a line through the graph, named at its foot, on the side with more room."""
    _, low, right, high = plot.frame
    x = plot.x(whole)
    words = f"this price: {100 * risk.covered(whole):.0f} %"
    wide = text_width_em(words) * _TEXT_M
    anchor, dx = ("start", 0.0015) if x + 0.002 + wide < right else ("end", -0.0015)
    return [
        line_of(((x, low), (x, high)), "accent-line"),
        Text(x + dx, low + 0.0025, words, "label-accent", _TEXT_M, anchor),
    ]


@dataclass(frozen=True, slots=True)
class _Bar:
    """One bar: its words with their styles, its two totals."""

    words: tuple[tuple[str, str], ...]
    low: float
    high: float

    @property
    def height_m(self) -> float:
        """Height of its words. [m]."""
        return len(self.words) * _LINE_M


def _bars(risk: Risk, label_m: float) -> list[_Bar]:
    swings, rows = risk.swings, risk.uncertainties
    bars = []
    for k in named_swings(risk):
        row = int(swings.row[k])
        said = range_words(rows, row, float(swings.low_value[k]), float(swings.high_value[k]))
        texts = ((rows.words[row], "text-strong"), (said, "text"), (rows.remedy[row], "text-quiet"))
        words = [(line, style) for text, style in texts for line in wrap(text, label_m / _TEXT_M, 2)]
        bars.append(_Bar(tuple(words), float(swings.low_total[k]), float(swings.high_total[k])))
    return bars


def _label_width(width_m: float) -> float:
    """Room for the words: beside the bars on a wide sheet, above them on a narrow one. [m]."""
    return _WIDE_LABEL_M if width_m >= _WIDE_FROM_M else width_m


def _row_height(bar: _Bar, is_wide: bool) -> float:
    return max(bar.height_m, _BAR_M) + _ROW_GAP_M if is_wide else bar.height_m + _BAR_M + _ROW_GAP_M


def swings_height_m(risk: Risk, width_m: float) -> float:
    """Height of the bars and their axis. [m]."""
    is_wide = width_m >= _WIDE_FROM_M
    bars = _bars(risk, _label_width(width_m))
    return sum(_row_height(bar, is_wide) for bar in bars) + 0.010


def draw_swings(price: Price, risk: Risk, left_m: float, top_m: float, width_m: float) -> list[Item]:
    """Draw a bar for each named uncertainty about P80: with it at its best tenth, and at its worst. [m]."""
    is_wide = width_m >= _WIDE_FROM_M
    bars = _bars(risk, _label_width(width_m))
    if not bars:
        return [Text(left_m, top_m - 0.002, "nothing is uncertain", "text-quiet", _TEXT_M)]
    left = left_m + (_WIDE_LABEL_M + 0.002 if is_wide else 0.0)
    low_m = top_m - sum(_row_height(bar, is_wide) for bar in bars)
    middle = risk.quantile(0.8)
    ends = [end for bar in bars for end in (bar.low, bar.high)] + [middle]
    numbers = max(text_width_em(f"{end:,.0f}") for end in ends) * TICK_TEXT_M + 0.002
    frame = (left + numbers, low_m, left_m + width_m - numbers, top_m)
    plot = Plot(frame, (min(ends), max(ends)), (0.0, 1.0))
    x = plot.x(middle)
    items: list[Item] = [line_of(((x, low_m), (x, top_m)), "guide")]
    y = top_m
    for bar in bars:
        items += _draw_bar(plot, bar, y, left_m, is_wide, middle)
        y -= _row_height(bar, is_wide)
    items.append(Text(x, low_m - 0.0022, f"P80 {middle:,.0f}", "text", TICK_TEXT_M, "middle"))
    words = "white: it turns out well (its best tenth); black: badly"
    items.append(Text(left_m + width_m, low_m - 0.0062, words, "text-quiet", TICK_TEXT_M, "end"))
    return items


def _draw_bar(plot: Plot, bar: _Bar, top_m: float, left_m: float, is_wide: bool, middle: float) -> list[Item]:
    items: list[Item] = []
    y = top_m
    for line, style in bar.words:
        items.append(Text(left_m, y - _LINE_M / 2, line, style, _TEXT_M))
        y -= _LINE_M
    high = top_m - (max(bar.height_m - _BAR_M, 0.0) / 2) if is_wide else y
    low = high - _BAR_M
    ends = sorted((bar.low, bar.high))
    x0, x1, xm = plot.x(ends[0]), plot.x(ends[1]), plot.x(min(max(middle, ends[0]), ends[1]))
    items.append(box_of(x0, low, xm, high, "bar-light"))
    items.append(box_of(xm, low, x1, high, "bar-dark"))
    centre = (low + high) / 2
    items.append(Text(x0 - 0.001, centre, f"{ends[0]:,.0f}", "text", TICK_TEXT_M, "end"))
    items.append(Text(x1 + 0.001, centre, f"{ends[1]:,.0f}", "text", TICK_TEXT_M))
    return items
