"""Head of the long section: title, facts, scale bar, legend, stops."""

from fencewright.sheets.frame import (
    common_facts,
    draw_scale_bar,
    facts,
    legend,
    stop_box,
    stop_messages,
    title,
)
from fencewright.sheets.picture import Item, Text, line_of
from fencewright.sheets.scales import scale_bar, show_scale
from fencewright.sheets.section_legend import section_legend
from fencewright.sheets.section_strip import SectionSheet

_STOPS_M = 0.016  # height for the messages of stops
_TITLE_M, _FACTS_M, _LEGEND_M, _GAP_M = 0.070, 0.078, 0.049, 0.006


def _title(sheet: SectionSheet, left_m: float, top_m: float, width_m: float) -> tuple[list[Item], float]:
    items, top = title(sheet.design, "Long section", left_m, top_m, width_m)
    box, top = stop_box(sheet.design, left_m, top, width_m)
    stops = stop_messages(sheet.design, left_m, top, width_m, top - _STOPS_M)
    lows = [item.y_m - 0.002 for item in stops if isinstance(item, Text)]
    return [*items, *box, *stops], min([top, *lows])


def _facts(
    sheet: SectionSheet, dropped: int, place: tuple[float, float, float], along: str
) -> tuple[list[Item], float]:
    drawn = "as lengths" if sheet.times == 1 else f"{sheet.times:g} times as tall as lengths"
    rows = [
        ("Along", along),
        ("Upright", f"Heights are drawn {drawn}. Posts and holes no narrower than can be seen."),
        *common_facts(sheet.design),
        ("Left out", f"{dropped} labels for want of room" if dropped else "no label"),
    ]
    return facts(rows, *place)


def _rule(sheet: SectionSheet, low_m: float) -> tuple[Item, float]:
    rule = low_m - 0.0015
    return line_of(((sheet.margin_m, rule), (sheet.right_m, rule)), "rule"), rule - 0.001


def wide_head(sheet: SectionSheet, paper: str, top_m: float, dropped: int) -> tuple[list[Item], float]:
    """Set the head of the first page in columns; the items, and where the strips begin. [m]."""
    left, middle = sheet.margin_m, sheet.margin_m + _TITLE_M + _GAP_M
    items, low = _title(sheet, left, top_m, _TITLE_M)
    lows = [low]
    along = f"{show_scale(sheet.scale, sheet.units)} on {paper}; upright 1:{sheet.vertical_scale:,.4g}"
    more, low = _facts(sheet, dropped, (middle, top_m, _FACTS_M), along)
    items += more
    lows.append(low)
    entries = section_legend(sheet.design)
    half, right = (len(entries) + 1) // 2, middle + _FACTS_M + _GAP_M
    for column, part in enumerate((entries[:half], entries[half:])):
        more, low = legend(part, right + column * (_LEGEND_M + 0.001), top_m, _LEGEND_M)
        items += more
        lows.append(low - 0.0075 * (column == 0))
    bar = scale_bar(sheet.scale, sheet.units, 0.040)
    items += draw_scale_bar(bar, sheet.scale, right, lows[2] + 0.001)
    rule, low = _rule(sheet, min(lows))
    return [*items, rule], low


def narrow_head(sheet: SectionSheet, top_m: float, dropped: int) -> tuple[list[Item], float]:
    """Set the head for a narrow screen, one thing below the other. [m]."""
    left, wide = sheet.margin_m, sheet.right_m - sheet.margin_m
    items, low = _title(sheet, left, top_m, wide)
    more, low = _facts(sheet, dropped, (left, low - 0.001, wide), "by the bar")
    items += [
        *more,
        *draw_scale_bar(scale_bar(sheet.scale, sheet.units, 0.040), sheet.scale, left, low - 0.007),
    ]
    more, low = legend(section_legend(sheet.design), left, low - 0.009, wide)
    rule, low = _rule(sheet, low)
    return [*items, *more, rule], low
