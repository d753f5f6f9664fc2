"""Open ends that almost reach another line: a gap through which a foal walks, or in which it is caught."""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from fencewright.findings import CAUTION, Finding, Place
from fencewright.geometry.polyline import nearest_station, with_closing
from fencewright.geometry.shapes import leg_shapes, line_shape, point_shapes, search_tree
from fencewright.job.record import Job
from fencewright.layout.gates import Opening
from fencewright.layout.junctions import Meeting
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import FenceLine

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_SAME_M = 0.01  # stations nearer than this are one post's


def near_end_findings(
    job: Job, lines: tuple[FenceLine, ...], meetings: Sequence[Meeting], openings: Sequence[Opening]
) -> list[Finding]:
    """Say where an open end stands beyond the joining distance of another line, but nearer than a passage.

    Parameters
    ----------
    job : Job
        Its joining distance and the least width of a passage.
    lines : tuple of FenceLine
        As joined.
    meetings : sequence of Meeting
        Posts that lines share: an end among them is closed.
    openings : sequence of Opening
        An end at a gate or crossing, or one that faces it, is meant.

    Returns
    -------
    list of Finding
        `end-near-line` (`caution`), one an end; of two ends that face each other the first alone.

    Notes
    -----
    O(points) to build the search tree; only what is found near is looked at by itself.
    """
    layout = job.settings.layout
    join_m, passage_m = layout.join_distance_m, layout.least_passage_m
    owner, is_last = _open_ends(lines, meetings, openings)
    if len(lines) < 2 or not len(owner) or passage_m <= join_m:
        return []
    end, inner = _end_legs(lines, owner, is_last)
    shapes = np.array([line_shape(with_closing(line.xy_m, line.is_closed)) for line in lines], object)
    tree = search_tree(shapes)
    row, other = tree.query(
        list(point_shapes(end[:, 0], end[:, 1])), predicate="dwithin", distance=passage_m * (1 - 1e-9)
    )
    # an end whose own last piece meets the other line is a stub beyond a post or a crossing, told elsewhere
    piece = leg_shapes(end, _towards(end, inner, passage_m))
    keep = (owner[row] != other) & (shapely.distance(piece[row], shapes[other]) > join_m)
    findings, facing = [], set()
    for one, to in sorted(zip(row[keep].tolist(), other[keep].tolist(), strict=True)):
        line, met = lines[int(owner[one])], lines[to]
        station, away = nearest_station(with_closing(met.xy_m, met.is_closed), met.station_m, end[one])
        if (
            _is_at_opening(openings, to, station, met)
            or (to, station > met.length_m / 2, int(owner[one])) in facing
        ):
            continue
        if not met.is_closed and min(station, met.length_m - station) < _SAME_M:
            facing.add((int(owner[one]), bool(is_last[one]), to))
        findings.append(
            _finding(line, bool(is_last[one]), met, station, away, join_m, UnitSystem(job.asked.job.sheets))
        )
    return findings


def _open_ends(
    lines: tuple[FenceLine, ...], meetings: Sequence[Meeting], openings: Sequence[Opening]
) -> tuple[Ints, NDArray[np.bool_]]:
    """Line of each end that no other line shares and no opening has, and whether it is the line's last point."""
    taken = {
        (index, station > lines[index].length_m / 2)
        for meeting in meetings
        for index, station in zip(meeting.line_index, meeting.station_m, strict=True)
        if min(station, lines[index].length_m - station) < _SAME_M
    }
    for one in openings:
        taken |= {(one.line_index, False)} if one.from_m < _SAME_M else set()
        taken |= {(one.line_index, True)} if one.to_m > lines[one.line_index].length_m - _SAME_M else set()
    free = [
        (index, is_last)
        for index, line in enumerate(lines)
        if not line.is_closed
        for is_last in (False, True)
        if (index, is_last) not in taken
    ]
    return np.array([index for index, _ in free], np.int64), np.array([last for _, last in free], np.bool_)


def _end_legs(lines: tuple[FenceLine, ...], owner: Ints, is_last: NDArray[np.bool_]) -> tuple[Floats, Floats]:
    """Place of each end, and of the point before it: (ends, 2) each. [m]"""
    pairs = zip(owner.tolist(), is_last.tolist(), strict=True)
    legs = np.array([lines[line].xy_m[[-1, -2] if last else [0, 1]] for line, last in pairs])
    return legs[:, 0], legs[:, 1]


def _towards(end_m: Floats, inner_m: Floats, most_m: float) -> Floats:
    """Place on each end's leg at most so far from the end: (ends, 2). [m]"""
    step = inner_m - end_m
    long = np.maximum(np.hypot(step[:, 0], step[:, 1]), 1e-12)
    return np.asarray(end_m + step * np.minimum(1.0, most_m / long)[:, None])


def _is_at_opening(openings: Sequence[Opening], line: int, station_m: float, met: FenceLine) -> bool:
    """Whether a station of a line lies in a gate or crossing; one may pass the end of a closed line."""
    places = (station_m, station_m + met.length_m) if met.is_closed else (station_m,)
    return any(
        one.line_index == line and any(one.from_m - _SAME_M <= at <= one.to_m + _SAME_M for at in places)
        for one in openings
    )


def _finding(
    line: FenceLine,
    is_last: bool,
    met: FenceLine,
    station_m: float,
    away_m: float,
    join_m: float,
    show: UnitSystem,
) -> Finding:
    at = line.length_m if is_last else 0.0
    away = show.long(away_m)
    message = (
        f'The {"last" if is_last else "first"} point of line "{line.name}" stands {away} from line "{met.name}" '
        "and does not join it: a foal walks through such a gap or is caught in it."
    )
    remedy = (
        f'Move that point onto "{met.name}" at its station {show.station(station_m)}: within {show.small(join_m)} the two '
        "become one post. If a way through is meant, put a gate there or leave it wider."
    )
    return Finding(CAUTION, "end-near-line", Place("line", line.name, line.name, at), message, remedy)
