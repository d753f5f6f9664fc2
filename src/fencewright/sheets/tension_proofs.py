"""Site checks of a pull as a small table: push at mid-span and beats of a plucked rail, by place and day."""

import numpy as np

from fencewright.pipeline.record import Design, post_id
from fencewright.quantity.show import unit_of
from fencewright.sheets.frame import sheet_units
from fencewright.sheets.letters import wrap
from fencewright.sheets.picture import Item, Text
from fencewright.tables.tension import PLACES

LINE_M = 0.0033
_TEXT_M = 0.0021
_PLACE_M, _SPAN_M, _DAY_M = 0.033, 0.013, 0.033  # widths of the columns


def _rows_of(design: Design, pull: int) -> np.ndarray:
    """Rows of the site checks of a pull, or of the strand like it that stands for it."""
    checks = design.site_checks
    run, product = design.pulls.run_index[pull], design.tension.product_index[pull]
    return np.flatnonzero((checks.run_index == run) & (checks.product_index == product))


def _days(design: Design, rows: np.ndarray, width_m: float) -> list[float]:
    """Days for which there is room, those nearest the reference temperature first, then in order. [C]."""
    days = np.unique(design.site_checks.rail_temperature_c[rows])
    most = max(1, int((width_m - _PLACE_M - _SPAN_M) / _DAY_M))
    near = np.argsort(np.abs(days - design.tension.reference_c), kind="stable")[:most]
    return [float(one) for one in np.sort(days[near])]


def _head(design: Design, rows: np.ndarray, width_m: float) -> tuple[str, ...]:
    push = sheet_units(design).force(float(design.site_checks.push_n[rows[0]]))
    return wrap(
        f"Prove it: push {push} at mid-span, or count a plucked rail's beats in a second", width_m / _TEXT_M
    )


def proofs_height_m(design: Design, pull: int, width_m: float) -> float:
    """Height of the whole table; 0 where the pull has no site checks. [m]."""
    rows = _rows_of(design, pull)
    if not len(rows):
        return 0.0
    places = len(np.unique(design.site_checks.post_index[rows]))
    return (places + len(_head(design, rows, width_m)) + 1.5) * LINE_M


def draw_proofs(
    design: Design, pull: int, left_m: float, top_m: float, width_m: float, low_m: float
) -> list[Item]:
    """Draw the table below a height, as many places as there is room for above `low_m`. [m]."""
    checks, units = design.site_checks, sheet_units(design)
    rows = _rows_of(design, pull)
    head = _head(design, rows, width_m) if len(rows) else ()
    room = int((top_m - low_m) / LINE_M) - len(head) - 1
    if not len(rows) or room < 1:
        return []
    days = _days(design, rows, width_m)
    x_day = [left_m + _PLACE_M + _SPAN_M + k * _DAY_M for k in range(len(days))]
    items: list[Item] = []
    y = top_m + LINE_M / 2
    for line in head:
        y -= LINE_M
        items.append(Text(left_m, y, line, "text-strong", _TEXT_M))
    y -= LINE_M
    items.append(Text(left_m, y, "beyond, seen from tensioner", "text-quiet", _TEXT_M * 0.9))
    for x, day in zip(x_day, days, strict=True):
        items.append(Text(x, y, f"rail at {units.temperature(day)}", "text-quiet", _TEXT_M))
    places = list(dict.fromkeys(checks.post_index[rows].tolist()))
    shown = places if len(places) <= room else places[: room - 1]
    for post in shown:
        y -= LINE_M
        mine = rows[checks.post_index[rows] == post]
        items += _place(design, mine, left_m, y, list(zip(x_day, days, strict=True)))
    if rest := len(places) - len(shown):
        said = f"{rest} more {unit_of(rest, 'place')}: order.xlsx"
        items.append(Text(left_m, y - LINE_M, said, "text-quiet", _TEXT_M))
    return items


def _place(
    design: Design, rows: np.ndarray, left_m: float, y_m: float, days: list[tuple[float, float]]
) -> list[Item]:
    """Write one line of the table."""
    checks, units = design.site_checks, sheet_units(design)
    first = int(rows[0])
    words = f"{post_id(int(checks.post_index[first]))}, {PLACES[int(checks.place[first])]}"
    items: list[Item] = [
        Text(left_m, y_m, words, "text", _TEXT_M),
        Text(left_m + _PLACE_M, y_m, units.long(float(checks.span_m[first])), "text", _TEXT_M),
    ]
    for x, day in days:
        for row in rows[checks.rail_temperature_c[rows] == day][:1].tolist():
            least, most = (
                units.small(float(one))
                for one in (checks.deflection_pinned_m[row], checks.deflection_sliding_m[row])
            )
            gives = least if least == most else f"{least.rsplit(' ', 1)[0]} to {most}"
            items.append(Text(x, y_m, f"{gives}; {checks.frequency_hz[row]:.1f}/s", "text", _TEXT_M))
    return items
