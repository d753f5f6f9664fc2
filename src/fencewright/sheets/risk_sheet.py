"""The risk sheet: how likely the cost stays below each total, and the five uncertainties that move it most."""

from dataclasses import dataclass

from fencewright.pipeline.record import Design
from fencewright.pipeline.risk_words import covered_words, named_swings
from fencewright.pipeline.risking import contingency_to
from fencewright.quantity.show import counted
from fencewright.sheets.frame import (
    MARGIN_M,
    SMALL_M,
    common_facts,
    facts,
    foot,
    moved,
    sheet_units,
    stop_box,
    text_lines,
    title,
)
from fencewright.sheets.letters import wrap
from fencewright.sheets.picture import Item, Layer, Picture, box_of
from fencewright.sheets.risk_graphs import draw_curve, draw_swings, money, swings_height_m
from fencewright.sheets.scales import PHONE_MARGIN_M, PHONE_WIDTH_M, paper_for
from fencewright.tables.price import Price
from fencewright.tables.risk import Risk, Shape

_COLUMN_M, _GAP_M, _HEAD_M = 0.058, 0.005, 0.0075
_UNDER_CURVE_M, _PHONE_CURVE_M = 0.012, 0.050
_CURVE_HEAD = "How often the whole cost stays below a total"
_SWING_HEAD = "What moves it most: P80 if it turned out well, and badly"


@dataclass(frozen=True, slots=True)
class _Sheet:
    """What is drawn."""

    design: Design
    price: Price
    risk: Risk


def draw_risk(design: Design, price: Price) -> Picture:
    """Draw the risk of a price, Letter or A4 landscape by the sheets' units.

    Parameters
    ----------
    design : Design
        For the title, the facts and the cautions.
    price : Price
        With its risk; one without says on the sheet that no price is known.

    Returns
    -------
    Picture
        Cumulative curve with P50, P80, P95, each with a mark and words of its own, and bars of at most five
        uncertainties; nothing hangs on colour. `scale` is 1. Its `phone` is the same for a narrow screen.

    Notes
    -----
    O(quantiles kept).
    """
    paper = paper_for(sheet_units(design))
    left, right, top = MARGIN_M, paper.width_m - MARGIN_M, paper.height_m - MARGIN_M
    feet, low = foot(design, left, right, MARGIN_M)
    column_left = right - _COLUMN_M
    head, below = _head(design, column_left, top, _COLUMN_M)
    items: list[Item] = []
    if price.risk is None:
        items += _no_price(left, top, column_left - _GAP_M - left)
    else:
        sheet = _Sheet(design, price, price.risk)
        more, _ = _facts(sheet, column_left, below, _COLUMN_M)
        head += more
        width = column_left - _GAP_M - left
        bars = swings_height_m(price.risk, width)
        split = low + bars + _HEAD_M
        items += _graph_head(_CURVE_HEAD, left, top, width)
        items += draw_curve(price, price.risk, (left, split + _UNDER_CURVE_M, left + width, top - _HEAD_M))
        items += _graph_head(_SWING_HEAD, left, split, width)
        items += draw_swings(price, price.risk, left, split - _HEAD_M, width)
    layers = (
        Layer("sheet", "the sheet", (box_of(0, 0, paper.width_m, paper.height_m, "sheet"),)),
        Layer("graphs", "curve of the total, and what moves it", tuple(items)),
        Layer("frame", "title, facts, cautions", (*head, *feet)),
    )
    size = (paper.width_m, paper.height_m, paper.height_m)
    return _picture(design, price, layers, size, f"{paper.name} landscape", _draw_for_phone(design, price))


def _head(design: Design, left_m: float, top_m: float, width_m: float) -> tuple[list[Item], float]:
    items, top = title(design, "Risk of the price", left_m, top_m, width_m)
    more, top = stop_box(design, left_m, top, width_m)
    return [*items, *more], top


def _graph_head(words: str, left_m: float, top_m: float, width_m: float) -> list[Item]:
    items, _ = text_lines(
        wrap(words, width_m / 0.0026, 2), left_m, top_m, style="text-strong", height_m=0.0026
    )
    return items


def _no_price(left_m: float, top_m: float, width_m: float) -> list[Item]:
    said = "No price is known, so there is no risk to draw: name a price book, [price] book, in the job."
    items, _ = text_lines(wrap(said, width_m / SMALL_M), left_m, top_m, style="text-strong")
    return items


def _facts(sheet: _Sheet, left_m: float, top_m: float, width_m: float) -> tuple[list[Item], float]:
    """Numbers in words, and what they rest on."""
    price, risk = sheet.price, sheet.risk
    total = float(price.total or 0)
    rows = [
        ("Estimate", money(price, risk.base)),
        ("Price", f"{money(price, total)}, kept in {covered_words(risk.covered(total))}"),
        *((f"P{100 * p:.0f}", money(price, risk.quantile(p))) for p in (0.5, 0.8, 0.95)),
        ("Mean", money(price, risk.mean)),
        ("To reach P80", f"{100 * contingency_to(price, 0.8):.1f} % contingency"),
        ("Runs", f"{risk.runs:,}, seed {risk.seed}"),
        *common_facts(sheet.design)[2:],
    ]
    items, top = facts(rows, left_m, top_m - 0.001, width_m)
    triangular = any(risk.uncertainties.shape == Shape.TRIANGULAR)
    said = [
        "P80: the cost stays below it in 80 of 100 runs. The estimate holds no contingency; the curve neither.",
        f"Each uncertainty: least, most likely, most ({'triangular' if triangular else 'PERT'}); prices share a market, "
        "hole times, rock and concrete the ground, other work the crew.",
        "Ranges that the job does not state are common practice without a source: state your own in [risk].",
    ]
    if price.missing:
        said.insert(
            0,
            f"Left out for want of a price: {counted(len(price.missing), 'line')}. Every total here lacks them.",
        )
    for line in said:
        more, top = text_lines(wrap(line, width_m / SMALL_M), left_m, top - 0.001, style="text-quiet")
        items += more
    return items, top


def _picture(
    design: Design,
    price: Price,
    layers: tuple[Layer, ...],
    size: tuple[float, float, float],
    paper: str,
    phone: Picture | None = None,
) -> Picture:
    risk = price.risk
    said = "No price is known."
    if risk is not None:
        names = [risk.uncertainties.words[int(risk.swings.row[k])] for k in named_swings(risk)]
        said = (
            f"P50 {money(price, risk.quantile(0.5))}, P80 {money(price, risk.quantile(0.8))}, P95 "
            f"{money(price, risk.quantile(0.95))}. What moves it most: {', '.join(names) or 'nothing'}."
        )
    return Picture(
        f"Risk of the price of {design.job.asked.job.name}", said, *size, paper, 1.0, layers, 0, phone
    )


def _draw_for_phone(design: Design, price: Price) -> Picture:
    """Draw the sheet narrow and tall: title, curve, bars, numbers, cautions."""
    left, right = PHONE_MARGIN_M, PHONE_WIDTH_M - PHONE_MARGIN_M
    width = right - left
    items, top = _head(design, left, -PHONE_MARGIN_M, width)
    if price.risk is None:
        items += _no_price(left, top - 0.002, width)
        low = top - 0.014
    else:
        sheet = _Sheet(design, price, price.risk)
        items += _graph_head(_CURVE_HEAD, left, top - 0.002, width)
        top -= 0.002 + _HEAD_M + 0.002
        items += draw_curve(price, price.risk, (left, top - _PHONE_CURVE_M, right, top))
        top -= _PHONE_CURVE_M + _UNDER_CURVE_M
        items += _graph_head(_SWING_HEAD, left, top, width)
        top -= _HEAD_M + 0.002
        items += draw_swings(price, price.risk, left, top, width)
        more, low = _facts(sheet, left, top - swings_height_m(price.risk, width), width)
        items += more
    feet, high = foot(design, left, right, 0.0)
    height = PHONE_MARGIN_M + high - low
    layers = (
        Layer("sheet", "the sheet", (box_of(0, 0, PHONE_WIDTH_M, height, "sheet"),)),
        Layer("graphs", "curve, bars, numbers", tuple(moved(one, 0.0, height) for one in items)),
        Layer("foot", "cautions", tuple(moved(one, 0.0, PHONE_MARGIN_M) for one in feet)),
    )
    return _picture(design, price, layers, (PHONE_WIDTH_M, height, height), "narrow screen")
