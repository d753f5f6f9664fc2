"""The programme sheet: bars by day, the critical path filled, days off shaded, deliveries and cautions beside them."""

from collections.abc import Sequence
from dataclasses import replace

from fencewright.findings import sorted_findings
from fencewright.pipeline.record import Design
from fencewright.quantity.show import is_name, unit_of
from fencewright.sheets.frame import (
    MARGIN_M,
    SMALL_M,
    LegendEntry,
    common_facts,
    facts,
    foot,
    legend,
    moved,
    sheet_units,
    stop_box,
    stop_messages,
    text_lines,
    title,
)
from fencewright.sheets.letters import wrap
from fencewright.sheets.picture import Item, Layer, Picture, Text, box_of, line_of
from fencewright.sheets.programme_chart import (
    HEAD_M,
    ROW_M,
    TALL_ROW_M,
    TEXT_M,
    Chart,
    day_name,
    draw_bar,
    draw_days,
    draw_rows,
    who_text,
)
from fencewright.sheets.scales import PHONE_MARGIN_M, PHONE_WIDTH_M, Paper, paper_for
from fencewright.tables.programme import Delivery, Programme

MOST_ROWS = 160
_COLUMN_M, _GAP_M, _NAME_M = 0.056, 0.004, 0.066
_PHONE_ROW_M = 0.0070


def draw_programme(design: Design, programme: Programme) -> Picture:
    """Draw the programme, Letter or A4 landscape, on as many pages as it takes.

    Parameters
    ----------
    design : Design
        Job and units.
    programme : Programme
        What is drawn.

    Returns
    -------
    Picture
        Pages stacked downward; at most `MOST_ROWS` activities, and how many are left out is said. `scale` is 1. Its
        `phone` is the same for a narrow screen. The re-pull, weeks after the hand-over, is named and not drawn.

    Notes
    -----
    O(activities x days).
    """
    whole = replace(design, findings=sorted_findings([*design.findings, *programme.findings]))
    paper = paper_for(sheet_units(design))
    rows = [row for row, kind in enumerate(programme.activities.kind) if kind != "re-pull"]
    shown = rows[:MOST_ROWS]
    feet, low = foot(whole, MARGIN_M, paper.width_m - MARGIN_M, MARGIN_M)
    per_page = max(1, int((paper.height_m - MARGIN_M - low - HEAD_M - 0.002) / ROW_M))
    per_page = -(-len(shown) // max(1, -(-len(shown) // per_page))) or 1  # as even as can be
    pages = [shown[k : k + per_page] for k in range(0, len(shown), per_page)] or [[]]
    sheets: list[Item] = []
    bars: list[Item] = []
    frame: list[Item] = []
    for page, some in enumerate(pages):
        base = (len(pages) - page - 1) * paper.height_m
        note = f"Page {page + 1} of {len(pages)}." if len(pages) > 1 else ""
        feet, low = foot(whole, MARGIN_M, paper.width_m - MARGIN_M, base + MARGIN_M, note)
        top = base + paper.height_m - MARGIN_M
        sheets.append(box_of(0.0, base, paper.width_m, base + paper.height_m, "sheet"))
        row_m = min(TALL_ROW_M, max(ROW_M, (top - low - HEAD_M - 0.002) / max(len(some), 1)))
        width = paper.width_m - 2 * MARGIN_M - _COLUMN_M - _GAP_M
        bars += _page(programme, some, (MARGIN_M, top, width), row_m if len(pages) == 1 else ROW_M)
        place = (paper.width_m - MARGIN_M - _COLUMN_M, top, _COLUMN_M)
        column, _ = _column(whole, programme, len(rows) - len(shown), place, low)
        frame += [*feet, *column]
    layers = (
        Layer("sheet", "the sheet", tuple(sheets)),
        Layer("bars", "activities by day", tuple(bars)),
        Layer("frame", "title, legend, deliveries, cautions", tuple(frame)),
    )
    size = (paper.width_m, len(pages) * paper.height_m, paper.height_m)
    phone = _draw_for_phone(whole, programme, shown, len(rows) - len(shown))
    return _picture(whole, programme, layers, size, paper, phone)


def _page(
    programme: Programme, rows: Sequence[int], place: tuple[float, float, float], row_m: float
) -> list[Item]:
    """Draw a page's chart at `place` (left, top, width): the days that its rows touch. [m]"""
    left, top, width = place
    if not rows:
        return []
    chart = Chart(programme, left + _NAME_M, left + width, *_span(programme, rows), row_m)
    low = top - HEAD_M - len(rows) * row_m
    return [*draw_days(chart, top, low), *draw_rows(chart, rows, top, left, chart.left_m - 0.0012)]


def _span(programme: Programme, rows: Sequence[int]) -> tuple[int, int]:
    """First and last day that some activities touch."""
    table = programme.activities
    return min(int(table.start_day[row]) for row in rows), max(int(table.finish_day[row]) for row in rows)


def _legend_entries() -> list[LegendEntry]:
    return [
        LegendEntry(
            (box_of(-0.004, -0.0013, 0.004, 0.0013, "mark-solid"),),
            "critical: a day lost here is lost at the end",
        ),
        LegendEntry((box_of(-0.004, -0.0013, 0.004, 0.0013, "mark"),), "work that may slip"),
        LegendEntry((line_of(((-0.004, 0.0), (0.004, 0.0)), "leader"),), "as far as it may slip"),
        LegendEntry((box_of(-0.004, -0.0007, 0.004, 0.0007, "concrete"),), "a wait: notice, cure, drying"),
        LegendEntry(
            (box_of(-0.004, -0.0013, 0.004, 0.0013, "ground-fill"),),
            "no work that day; H: holiday or day off",
        ),
    ]


def _facts(design: Design, programme: Programme) -> list[tuple[str, str]]:
    day, bound, ticket = programme.day_text, programme.bound, programme.ticket
    people = programme.activities.people
    crew = sorted({name for names in people for name in names})
    proof = "no shorter one" if bound.is_proven else f"at most {bound.gap_days:.1f} working days too long"
    re_pull = next(
        (day(int(programme.activities.start_day[row])) for row, kind in enumerate(programme.activities.kind)
         if kind == "re-pull"),
        "",
    )  # fmt: skip
    rows = [
        ("Begins", day(0)),
        ("Hand-over", f"{day(programme.finish_day)} ({proof})"),
        ("Dig", f"from {day(ticket.dig_day)}, ticket until {day(ticket.expires_day)}"),
        (
            "Concrete",
            f"{programme.cure.share:.0%} of its strength before a pull, {programme.cure.longest_days:.1f} days",
        ),
        ("Crew", ", ".join(crew)),
    ]
    if re_pull:
        rows.append(("Re-pull", re_pull))
    return [*rows, *common_facts(design)[2:]]


def _column(
    design: Design, programme: Programme, left_out: int, place: tuple[float, float, float], low_m: float
) -> tuple[list[Item], float]:
    """Title, facts, legend, deliveries and stops at `place` (left, top, width). [m]"""
    left, top, width = place
    items, top = title(design, "Programme of works", left, top, width)
    box, top = stop_box(design, left, top, width)
    more, top = facts(_facts(design, programme), left, top - 0.001, width)
    entries, top = legend(_legend_entries(), left, top - 0.002, width)
    items += [*box, *more, *entries]
    if left_out:
        said = f"Left out: {left_out} activities; programme.csv has them all."
        lines, top = text_lines(wrap(said, width / SMALL_M), left, top - 0.001, style="text-quiet")
        items += lines
    goods, top = _deliveries(programme, left, top - 0.0015, width, low_m)
    stops = stop_messages(design, left, top - 0.001, width, low_m)
    lows = [item.y_m - 0.002 for item in stops if isinstance(item, Text)]
    return [*items, *goods, *stops], min([top, *lows])


def _count(one: Delivery) -> str:
    """Write how much: a unit of measure is told, the name of a piece stands in the item."""
    is_measured = not is_name(one.unit)
    return f"{one.quantity:g} {one.unit}" if is_measured else f"{one.quantity:g}"


def _deliveries(
    programme: Programme, left_m: float, top_m: float, width_m: float, low_m: float
) -> tuple[list[Item], float]:
    """List what must be on site by the end of which day, as far as there is room. [m]"""
    items, top = text_lines(["On site by the end of"], left_m, top_m, style="text-strong")
    days = sorted({one.day for one in programme.deliveries})
    for number, day in enumerate(days):
        goods = ", ".join(
            f"{_count(one)} {one.item} {one.size}".rstrip() for one in programme.deliveries if one.day == day
        )
        lines = wrap(f"{day_name(programme, day)}: {goods}", width_m / SMALL_M, 4)
        if top - (len(lines) + 4) * SMALL_M * 1.5 < low_m:
            rest = len(days) - number
            said = f"and on {rest} more {unit_of(rest, 'day')}: see deliveries.csv"
            more, top = text_lines([said], left_m, top, style="text-quiet")
            return [*items, *more], top
        more, top = text_lines(lines, left_m, top)
        items += more
    return items, top


def _picture(
    design: Design,
    programme: Programme,
    layers: tuple[Layer, ...],
    size: tuple[float, float, float],
    paper: Paper | None,
    phone: Picture | None,
) -> Picture:
    lead = "" if design.may_be_built else "NOT TO START. "
    return Picture(
        f"Programme of works of {design.job.asked.job.name}",
        f"{lead}{len(programme.activities)} activities from {programme.day_text(0)} to the hand-over on "
        f"{programme.day_text(programme.finish_day)}; the critical ones are filled.",
        *size,
        f"{paper.name} landscape" if paper else "narrow screen",
        1.0,
        layers,
        0,
        phone,
    )


def _draw_for_phone(design: Design, programme: Programme, rows: Sequence[int], left_out: int) -> Picture:
    """Draw the sheet narrow and tall: title, then each activity's name above its bar, then the cautions."""
    left, right = PHONE_MARGIN_M, PHONE_WIDTH_M - PHONE_MARGIN_M
    frame, top = _column(design, programme, left_out, (left, -PHONE_MARGIN_M, right - left), -10.0)
    bars: list[Item] = []
    low = top - 0.003
    if rows:
        chart = Chart(programme, left, right, *_span(programme, rows))
        low -= HEAD_M + len(rows) * _PHONE_ROW_M
        bars += draw_days(chart, top - 0.003, low)
        for number, row in enumerate(rows):
            high = top - 0.003 - HEAD_M - number * _PHONE_ROW_M
            style = "label-strong" if programme.activities.is_critical[row] else "label"
            words = f"{programme.activities.name[row]} ({who_text(programme, row)})"
            line = wrap(words, (right - left) / TEXT_M, 1)[0]
            bars.append(Text(left, high - 0.0020, line, style, TEXT_M))
            bars += draw_bar(chart, row, high - 0.0050)
    feet, high = foot(design, left, right, 0.0)
    height = PHONE_MARGIN_M + high - low
    layers = (
        Layer("sheet", "the sheet", (box_of(0, 0, PHONE_WIDTH_M, height, "sheet"),)),
        Layer("bars", "activities by day", tuple(moved(one, 0.0, height) for one in bars)),
        Layer("frame", "title, legend, deliveries", tuple(moved(one, 0.0, height) for one in frame)),
        Layer("foot", "cautions", tuple(moved(one, 0.0, PHONE_MARGIN_M) for one in feet)),
    )
    return _picture(design, programme, layers, (PHONE_WIDTH_M, height, height), None, None)
