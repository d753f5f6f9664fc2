"""Site checks of a pull as a small table: push at mid-span and beats of a plucked rail, by place and day."""

import numpy as np

from fencewright.pipeline.record import Design, post_id
from fencewright.sheets.frame import sheet_units
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


def proofs_height_m(design: Design, pull: int) -> float:
    """Height of the whole table; 0 where the pull has no site checks. [m]."""
    places = len(np.unique(design.site_checks.post_index[_rows_of(design, pull)]))
    return (places + 2.5) * LINE_M if places else 0.0


def draw_proofs(
    design: Design, pull: int, left_m: float, top_m: float, width_m: float, low_m: float
) -> list[Item]:
    """Draw the table below a height, as many places as there is room for above `low_m`. [m]."""
    checks, units = design.site_checks, sheet_units(design)
    rows = _rows_of(design, pull)
    room = int((top_m - low_m) / LINE_M) - 2
    if not len(rows) or room < 1:
        return []
    days = _days(design, rows, width_m)
    push = units.force(float(checks.push_n[rows[0]]))
    y = top_m - LINE_M / 2
    head = f"Prove it: push {push} at mid-span, or count the beats of a plucked rail in a second"
    items: list[Item] = [Text(left_m, y, head, "text-strong", _TEXT_M)]
    x_day = [left_m + _PLACE_M + _SPAN_M + k * _DAY_M for k in range(len(days))]
    y -= LINE_M
    items.append(Text(left_m, y, "beyond, seen from tensioner", "text-quiet", _TEXT_M * 0.9))
    for x, day in zip(x_day, days, strict=True):
        items.append(Text(x, y, f"rail at {units.temperature(day)}", "text-quiet", _TEXT_M))
    places = list(dict.fromkeys(checks.post_index[rows].tolist()))
    for post in places[:room]:
        y -= LINE_M
        items += _place(
            design, rows[checks.post_index[rows] == post], left_m, y, list(zip(x_day, days, strict=True))
        )
    if len(places) > room:
        items.append(Text(left_m + width_m, top_m - LINE_M / 2, f"{len(places) - room} more: order.xlsx", "text-quiet",
                          _TEXT_M, "end"))  # fmt: skip
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
