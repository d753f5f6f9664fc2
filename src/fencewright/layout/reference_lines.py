"""Drawn lines to reference lines through the centres of the fixed posts."""

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import NOTE, Finding, InputError, Place
from fencewright.geometry.polyline import (
    offset_points,
    self_crossing,
    signed_area,
    stations,
    straightened,
    turnings,
)
from fencewright.job.record import Job
from fencewright.job.schema import Line
from fencewright.job.settings import PostSettings
from fencewright.quantity.show import UnitSystem, unit_of
from fencewright.site.features import DrawnLine
from fencewright.tables.fence import FenceLine

Floats = NDArray[np.float64]
_SIDES = {"left": 1, "right": -1}
_LEAST_LENGTH_M = 0.5  # a line shorter than one post hole is a slip of the pen


def reference_lines(job: Job) -> tuple[tuple[FenceLine, ...], tuple[Finding, ...]]:
    """Lay each drawn line through the centres of its fixed posts.

    Returns
    -------
    lines : tuple of FenceLine
        In job order.
    findings : tuple of Finding
        `line-offset` where rail face or boundary was drawn, `points-left-out`.

    Raises
    ------
    InputError
        A line of no length, one that crosses itself, an open boundary without its inside.
    """
    lines: list[FenceLine] = []
    findings: list[Finding] = []
    show = UnitSystem(job.asked.job.sheets)
    for asked, drawn in zip(job.asked.line, job.site.lines, strict=True):
        line, said = _reference_line(asked, drawn, job.settings.posts, show)
        lines.append(line)
        findings.extend(said)
    return tuple(lines), tuple(findings)


def _reference_line(
    asked: Line, drawn: DrawnLine, posts: PostSettings, show: UnitSystem
) -> tuple[FenceLine, list[Finding]]:
    item = f'line "{asked.name}"'
    findings: list[Finding] = []
    xy = _distinct(drawn.xy_m, drawn.is_closed) if len(drawn.xy_m) else drawn.xy_m
    if len(xy) < (3 if drawn.is_closed else 2) or stations(xy, drawn.is_closed)[-1] < _LEAST_LENGTH_M:
        raise InputError("the line has no length: give at least two points apart", item=item)
    if len(xy) < len(drawn.xy_m):
        left_out = len(drawn.xy_m) - len(xy)
        findings.append(
            Finding(
                NOTE,
                "points-left-out",
                Place("line", asked.name, asked.name),
                f"{left_out} repeated {unit_of(left_out, 'point')} left out.",
            )
        )
    kept = straightened(xy, drawn.is_closed, asked.straighten)
    if len(kept) < len(xy):
        near = show.small(asked.straighten)
        message = f"{len(xy) - len(kept)} of {len(xy)} points left out, each within {near} of the line."
        findings.append(Finding(NOTE, "points-left-out", Place("line", asked.name, asked.name), message))
    _refuse_crossing(kept, drawn.is_closed, item, show)
    inside = _inside(asked, kept, drawn.is_closed)
    stock = _stock_side(asked, inside)
    rail = stock if asked.rail_side in (None, "stock") else _SIDES[asked.rail_side]
    beyond_m = posts.line_diameter_m if rail == inside and _turns_to(kept, drawn.is_closed, inside) else 0.0
    left_m, why = _offset(asked, inside, posts.end_diameter_m / 2, beyond_m, show)
    if left_m:
        kept = offset_points(kept, drawn.is_closed, left_m)
        _refuse_crossing(kept, drawn.is_closed, item, show)
        findings.append(Finding(NOTE, "line-offset", Place("line", asked.name, asked.name), why))
    return FenceLine(
        asked.name, kept, stations(kept, drawn.is_closed), drawn.is_closed, rail, stock
    ), findings


def _distinct(xy_m: Floats, is_closed: bool) -> Floats:
    """Leave out points that repeat the one before (and, where closed, a last point on the first)."""
    keep = np.concatenate([[True], np.hypot(*np.diff(xy_m, axis=0).T) > 1e-6])
    xy: Floats = xy_m[keep]
    if is_closed and len(xy) > 1 and np.hypot(*(xy[0] - xy[-1])) <= 1e-6:
        xy = xy[:-1]
    return xy


def _refuse_crossing(xy_m: Floats, is_closed: bool, item: str, show: UnitSystem) -> None:
    place = self_crossing(xy_m, is_closed)
    if place is not None:
        raise InputError(
            f"the line crosses or touches itself near x {show.long(float(place[0]))}, y {show.long(float(place[1]))}: "
            "draw it so that it does not, or as two lines",
            item=item,
        )


def _inside(asked: Line, xy_m: Floats, is_closed: bool) -> int:
    """Side of the owner's land: +1 left, -1 right, 0 unknown."""
    if asked.inside:
        return _SIDES[asked.inside]
    return (1 if signed_area(xy_m) > 0 else -1) if is_closed else 0


def _turns_to(xy_m: Floats, is_closed: bool, side: int) -> bool:
    """Whether a line turns to a side anywhere, so that its rail passes that corner on the other one."""
    return bool((turnings(xy_m, is_closed) * side > 1e-9).any())


def _offset(
    asked: Line, inside: int, radius_m: float, beyond_m: float, show: UnitSystem
) -> tuple[float, str]:
    """How far left the post centres stand from the drawn line, and the sentence that says so.

    `beyond_m`: how far line posts reach outside the corners' outer face: a diameter where their rail is inside.
    """
    if asked.drawn == "post centres":
        return 0.0, ""
    if asked.drawn == "boundary":
        if not inside:
            raise InputError(
                'an open boundary needs inside = "left" or "right", as seen along the line',
                item=f'line "{asked.name}"',
            )
        away = asked.set_back + radius_m + beyond_m
        return (
            inside * away,
            f"The boundary was drawn: centres of fixed posts stand {show.small(away)} inside it.",
        )
    outer = -inside if inside else _SIDES.get(asked.rail_side or "left", 1)
    return (
        -outer * radius_m,
        f"The rail's face was drawn: centres of fixed posts stand {show.small(radius_m)} behind it.",
    )


def _stock_side(asked: Line, inside: int) -> int:
    side = asked.stock_side or ("inside" if inside else "both")
    if side in ("inside", "outside") and not inside:
        raise InputError(
            f'stock_side = "{side}" needs inside = "left" or "right" on an open line',
            item=f'line "{asked.name}"',
        )
    return {"inside": inside, "outside": -inside, "both": 0}.get(side, _SIDES.get(side, 0))
