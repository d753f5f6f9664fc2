"""The posts with least in hand, each with its check, load case and clause."""

import numpy as np

from fencewright.pipeline.record import Design, brace_id, post_id
from fencewright.sheets.frame import SMALL_M, text_lines
from fencewright.sheets.letters import wrap
from fencewright.sheets.picture import Item
from fencewright.sheets.strength_marks import show_use
from fencewright.tables.strength import KINDS, Check

MOST_WORST = 10
_INDENT_M, _SOURCE_M = 0.0035, 0.0019


def worst_rows(design: Design) -> list[int]:
    """Rows of `Checks` that govern each post, the largest utilisation first.

    Notes
    -----
    One row a post: that of its largest utilisation. O(checks log checks).
    """
    checks = design.strength.checks
    counted = np.array([KINDS[Check(one)].is_counted for one in range(max(Check) + 1)] or [False])
    rows = np.flatnonzero(counted[checks.check]) if len(checks) else np.zeros(0, np.int64)
    order = rows[np.argsort(-checks.utilisation[rows], kind="stable")]
    _, first = np.unique(checks.post_index[order], return_index=True)
    return [int(one) for one in order[np.sort(first)]]


def worst_lines(design: Design) -> list[tuple[str, str]]:
    """Give the ten worst kinds in words: `94 % P3 and 50 like it: embedment`, and its case and clause.

    Returns
    -------
    list of (str, str)
        Posts whose check, case and percentage are the same share a line, so that ten lines say more.
    """
    checks = design.strength.checks
    kinds: dict[tuple[str, int, int], list[int]] = {}
    for row in worst_rows(design):
        key = (show_use(float(checks.utilisation[row])), int(checks.check[row]), int(checks.case_index[row]))
        kinds.setdefault(key, []).append(row)
    lines = []
    for (used, check, case), rows in list(kinds.items())[:MOST_WORST]:
        kind = KINDS[Check(check)]
        name = post_id(int(checks.post_index[rows[0]]))
        if checks.brace_index[rows[0]] >= 0:
            name += f" (brace {brace_id(int(checks.brace_index[rows[0]]))})"
        alike = f" and {len(rows) - 1:,} like it" if len(rows) > 1 else ""
        lines.append(
            (f"{used}  {name}{alike}: {kind.label}", f"{checks.cases[case]}; {kind.source}, {kind.clause}")
        )
    return lines


def draw_worst(
    design: Design, left_m: float, top_m: float, width_m: float, low_m: float
) -> tuple[list[Item], float]:
    """Set the table below a height, as many of its lines as there is room for. [m]."""
    lines = worst_lines(design)
    if not lines:
        return [], top_m
    items, top = text_lines(["Least in hand"], left_m, top_m, style="text-strong", height_m=0.0026)
    room = width_m / SMALL_M
    for k, (first, second) in enumerate(lines):
        head, rest = wrap(first, room, 2), wrap(second, (width_m - _INDENT_M) / _SOURCE_M, 2)
        if top - (len(head) + len(rest)) * SMALL_M * 1.5 < low_m:
            more, top = text_lines(
                [f"{len(lines) - k} more kinds: checks.csv"], left_m, top, style="text-quiet"
            )
            return [*items, *more], top
        more, top = text_lines(head, left_m, top - 0.0004, style="text")
        items += more
        more, top = text_lines(rest, left_m + _INDENT_M, top, style="text-quiet", height_m=_SOURCE_M)
        items += more
    return items, top
