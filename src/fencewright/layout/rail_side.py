"""The rail's side: outside at every corner, and the runs that turn both ways."""

import math

import numpy as np

from fencewright.findings import CAUTION, STOP, Finding, Place
from fencewright.layout.marks import Mark
from fencewright.layout.runs import Stretch
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import FenceLine, Role


def outer_side(line: FenceLine, marks: list[Mark], run: list[Stretch]) -> int:
    """Side on which a run's rail passes its turning posts: +1 left, -1 right.

    Opposite to the way in which the run turns most; a straight run takes the line posts' side, else left.
    """
    turning = sum(marks[stretch.to_mark].turning_rad for stretch in run[:-1])
    if abs(turning) > 1e-9:
        return -1 if turning > 0 else 1
    return line.rail_side or 1


def side_findings(line: FenceLine, marks: list[Mark], run: list[Stretch], show: UnitSystem) -> list[Finding]:
    """Name the posts from which a run's rail would pull away.

    Returns
    -------
    list of Finding
        `rail-leaves-corner` (`stop`) at a corner, `rail-leaves-bend` (`caution`) at a bend, each with the extra
        rail end that mends it.
    """
    side = outer_side(line, marks, run)
    findings = []
    for stretch in run[:-1]:
        mark = marks[stretch.to_mark]
        if mark.turning_rad * side <= 1e-9:
            continue
        is_corner = mark.role is Role.CORNER
        station = float(np.mod(stretch.to_m, line.length_m)) if line.is_closed else stretch.to_m
        face = "left" if side > 0 else "right"
        at = show.station(station)
        message = (
            f"The rail runs {face} of this run's turning posts, but the line turns {face} at {at} by "
            f"{math.degrees(abs(mark.turning_rad)):.1f} deg: it would pull away from the post."
        )
        remedy = f'End the rail here both ways: add [[strain]] with line = "{line.name}", at = "{at}".'
        edit = {"path": ["strain"], "append": {"line": line.name, "at": at}}
        level, code = (STOP, "rail-leaves-corner") if is_corner else (CAUTION, "rail-leaves-bend")
        findings.append(
            Finding(level, code, Place("line", line.name, line.name, station), message, remedy, (edit,))
        )
    return findings
