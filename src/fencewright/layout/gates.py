"""Gates and crossings: their posts, their leaves, and the arc that a leaf needs."""

import math
from dataclasses import dataclass

import numpy as np

from fencewright.findings import STOP, Finding, InputError, Place
from fencewright.job.record import Job
from fencewright.job.schema import Crossing, Gate
from fencewright.job.settings import LayoutSettings
from fencewright.layout.fixed_posts import SNAP_M, held_station, turning_marks
from fencewright.layout.marks import Mark, add_marks
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import FenceLine, Role

_HAIR_M = (
    1e-6  # wide enough that no mark inside an opening is missed by rounding; each found is then looked at
)


@dataclass(frozen=True, slots=True)
class Opening:
    """A gate or crossing on its line; `leaf_m` NaN for a crossing, `swing` +1 left, -1 right, 0 both."""

    name: str
    item: str
    line_index: int
    is_crossing: bool
    from_m: float
    to_m: float
    opening_m: float
    leaf_m: float
    hinge_near: bool
    swing: int


def find_openings(job: Job, lines: tuple[FenceLine, ...]) -> tuple[list[Opening], list[Finding]]:
    """Place every gate and crossing on its line.

    Returns
    -------
    openings : list of Opening
        Gates first, then crossings, in job order; `to_m` may pass the end of a closed line.
    findings : list of Finding
        `leaf-too-long`.

    Raises
    ------
    InputError
        A line of that name is missing, or an opening passes a corner, an end, or another opening.
    """
    rows = {line.name: index for index, line in enumerate(lines)}
    openings: list[Opening] = []
    findings: list[Finding] = []
    for number, gate in enumerate(job.asked.gate):
        index = _line_row(rows, gate.line, f"gate {number + 1}")
        opening, said = _gate(job, lines[index], index, number, gate)
        openings.append(opening)
        findings.extend(said)
    for number, crossing in enumerate(job.asked.crossing):
        index = _line_row(rows, crossing.line, f"crossing {number + 1}")
        openings.append(_crossing(job, lines[index], index, number, crossing))
    for index, line in enumerate(lines):
        on_line = [one for one in openings if one.line_index == index]
        _refuse_overlap(line, on_line, job.settings.layout, UnitSystem(job.asked.job.sheets))
    return openings, findings


def _line_row(rows: dict[str, int], name: str, item: str) -> int:
    if name not in rows:
        raise InputError(f'there is no line "{name}"; lines: {", ".join(rows)}', item=item)
    return rows[name]


def _gate(job: Job, line: FenceLine, index: int, number: int, gate: Gate) -> tuple[Opening, list[Finding]]:
    settings, show = job.settings, UnitSystem(job.asked.job.sheets)
    name = gate.name or f"gate {number + 1}"
    item = f'gate {number + 1} "{gate.name}"' if gate.name else f"gate {number + 1}"
    if gate.opening <= 0:
        raise InputError("the opening must be more than nothing", item=item)
    start = held_station(line, gate.at, item, show)
    room = settings.layout.leaf_allowance_m
    leaf = gate.leaf if gate.leaf is not None else max(gate.opening - room, gate.opening / 2)
    findings = []
    if leaf > gate.opening - 1e-9:
        message = (
            f"The leaf of {show.long(leaf)} does not pass between posts {show.long(gate.opening)} apart."
        )
        remedy = f"Use a leaf of {show.long(gate.opening - room)}, or an opening of {show.long(leaf + room)}."
        findings.append(
            Finding(STOP, "leaf-too-long", Place("gate", name, line.name, start), message, remedy)
        )
    swing = {"left": 1, "right": -1, "both": 0}[gate.swing]
    end = start + gate.opening + settings.posts.end_diameter_m
    return Opening(
        name, item, index, False, start, end, gate.opening, leaf, gate.hinge == "near", swing
    ), findings


def _crossing(job: Job, line: FenceLine, index: int, number: int, crossing: Crossing) -> Opening:
    name = crossing.name or f"crossing {number + 1}"
    item = f'crossing {number + 1} "{crossing.name}"' if crossing.name else f"crossing {number + 1}"
    diameter = job.settings.posts.end_diameter_m
    if crossing.width <= diameter:
        raise InputError("the width must be more than a post", item=item)
    start = held_station(line, crossing.at, item, UnitSystem(job.asked.job.sheets))
    end = start + crossing.width
    return Opening(name, item, index, True, start, end, crossing.width - diameter, math.nan, True, 0)


def _refuse_overlap(
    line: FenceLine, openings: list[Opening], settings: LayoutSettings, show: UnitSystem
) -> None:
    for one in openings:
        if not line.is_closed and one.to_m > line.length_m + SNAP_M:
            raise InputError(
                f'the opening ends {show.long(one.to_m - line.length_m)} beyond the end of line "{line.name}": '
                "move it or make it shorter",
                item=one.item,
            )
        if line.is_closed and one.to_m - one.from_m > line.length_m - SNAP_M:
            raise InputError(
                f'the opening of {show.long(one.to_m - one.from_m)} is longer than line "{line.name}" of '
                f"{show.long(line.length_m)}: make it shorter",
                item=one.item,
            )
    ordered = sorted(openings, key=lambda one: one.from_m)
    for before, after in zip(ordered, ordered[1:] + ordered[:1], strict=True):
        wrap = line.length_m if after is ordered[0] else 0.0
        if before is after or (wrap and not line.is_closed):
            continue
        if after.from_m + wrap < before.to_m - SNAP_M:
            # one that does not fit its own side is at fault, whatever it overlaps there
            refuse_inside(line, turning_marks(line, settings, show)[0], [before, after], show)
            shared = show.long(before.to_m - after.from_m - wrap)
            raise InputError(f"it overlaps {before.name} by {shared}: move one of them", item=after.item)


def mark_openings(
    index: int, line: FenceLine, marks: list[Mark], openings: list[Opening], show: UnitSystem
) -> None:
    """Mark the two posts of each opening of a line.

    Raises
    ------
    InputError
        An opening passes a corner, a bend or another fixed post.
    """
    own = [(number, one) for number, one in enumerate(openings) if one.line_index == index]
    refuse_inside(line, marks, [opening for _, opening in own], show)
    new = []
    for number, opening in own:
        role = Role.CROSSING if opening.is_crossing else Role.GATE
        far = (
            opening.to_m - line.length_m
            if line.is_closed and opening.to_m >= line.length_m - 1e-9
            else opening.to_m
        )
        near_mark = Mark(
            opening.from_m, role, f"nearer post of {opening.name}", ends_rail=True, opening=number
        )
        far_mark = Mark(far, role, f"farther post of {opening.name}", ends_rail=True, closes=number)
        new += [near_mark, far_mark]
    add_marks(marks, new, SNAP_M, line.length_m, line.is_closed)


def refuse_inside(line: FenceLine, marks: list[Mark], openings: list[Opening], show: UnitSystem) -> None:
    """Refuse an opening in which something else is fixed.

    Raises
    ------
    InputError
        A corner, a bend, a shared post or something that the job fixes stands between its two posts.
    """
    station = np.sort([mark.station_m for mark in marks])
    first = np.array([one.from_m for one in openings]) + SNAP_M - _HAIR_M
    last = np.array([one.to_m for one in openings]) - SNAP_M + _HAIR_M
    laps = (0.0, line.length_m) if line.is_closed else (0.0,)
    held = [np.searchsorted(station, last - lap) > np.searchsorted(station, first - lap) for lap in laps]
    for row in np.flatnonzero(np.any(held, axis=0)).tolist():
        _refuse_mark_inside(line, marks, openings[row], show)


def _refuse_mark_inside(line: FenceLine, marks: list[Mark], opening: Opening, show: UnitSystem) -> None:
    for mark in marks:
        station = mark.station_m
        if line.is_closed and station < opening.from_m - SNAP_M:
            station += line.length_m
        if opening.from_m + SNAP_M < station < opening.to_m - SNAP_M:
            raise InputError(
                f"it needs {show.long(opening.to_m - opening.from_m)} from station {show.long(opening.from_m)}, but a "
                f"post must stand at station {show.long(mark.station_m)} ({mark.why}): move it or make it shorter",
                item=opening.item,
            )
