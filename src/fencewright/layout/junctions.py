"""Where lines meet: ends on another line, corners that two lines share, lines that cross or lie on one another."""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from fencewright.findings import STOP, Finding, Place
from fencewright.geometry.polyline import nearest_station, places, stations, with_closing
from fencewright.geometry.shapes import line_shape, point_shapes
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import FenceLine

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Meeting:
    """One post shared by several lines: `line_index` and `station_m` of each, first line in job order first."""

    line_index: tuple[int, ...]
    station_m: tuple[float, ...]


def join_lines(
    lines: tuple[FenceLine, ...], join_m: float, show: UnitSystem
) -> tuple[tuple[FenceLine, ...], tuple[Meeting, ...], tuple[Finding, ...]]:
    """Find the posts that lines share, and draw later lines onto earlier ones there.

    Parameters
    ----------
    lines : tuple of FenceLine
        In job order.
    join_m : float
        Points nearer than this to another line share a post with it. [m]
    show : UnitSystem
        Units of the findings.

    Returns
    -------
    lines : tuple of FenceLine
        A point that joined an earlier line moved onto it.
    meetings : tuple of Meeting
        One a shared post.
    findings : tuple of Finding
        `lines-cross` and `lines-overlap`, both `stop`.
    """
    if len(lines) < 2:
        return lines, (), ()
    shapes = [line_shape(with_closing(line.xy_m, line.is_closed)) for line in lines]
    tree = shapely.STRtree(shapes)
    pairs = _close_points(lines, tree, join_m)
    moved = [line.xy_m.copy() for line in lines]
    ties: list[tuple[int, int, int, Floats]] = []
    for line_index, point_index, other in pairs:
        here = moved[line_index][point_index]
        place = _place_on(lines[other], moved[other], here, join_m)
        if other < line_index:
            moved[line_index][point_index] = place
        ties.append((line_index, point_index, other, place))
    joined = tuple(
        FenceLine(
            line.name, xy, stations(xy, line.is_closed), line.is_closed, line.rail_side, line.stock_side
        )
        for line, xy in zip(lines, moved, strict=True)
    )
    meetings = _meetings(joined, ties)
    return (
        joined,
        meetings,
        tuple(_overlaps(joined, ties, join_m, show) + _crossings(joined, meetings, tree, join_m, show)),
    )


def _close_points(
    lines: tuple[FenceLine, ...], tree: shapely.STRtree, join_m: float
) -> list[tuple[int, int, int]]:
    """Give (line, point, other line) for points near another line, in job order."""
    owner = np.concatenate([np.full(len(line.xy_m), index) for index, line in enumerate(lines)])
    row = np.concatenate([np.arange(len(line.xy_m)) for line in lines])
    places_m = np.vstack([line.xy_m for line in lines])
    points = point_shapes(places_m[:, 0], places_m[:, 1])
    near, other = tree.query(list(points), predicate="dwithin", distance=join_m)
    keep = owner[near] != other
    found = zip(owner[near[keep]].tolist(), row[near[keep]].tolist(), other[keep].tolist(), strict=True)
    return sorted(found, key=lambda one: (one[2], one[0], one[1]))


def _place_on(line: FenceLine, xy_m: Floats, point_m: Floats, join_m: float) -> Floats:
    """Nearest place on a line, or its own point where that is near enough."""
    away = np.hypot(*(xy_m - point_m).T)
    nearest = int(np.argmin(away))
    if away[nearest] <= join_m:
        return np.asarray(xy_m[nearest].copy())
    ring = with_closing(xy_m, line.is_closed)
    station = stations(xy_m, line.is_closed)
    return np.asarray(places(ring, station, np.array([nearest_station(ring, station, point_m)[0]]))[0])


def _station_of(line: FenceLine, place_m: Floats) -> float:
    station, _ = nearest_station(with_closing(line.xy_m, line.is_closed), line.station_m, place_m)
    return 0.0 if line.is_closed and abs(station - line.length_m) < 1e-6 else station


def _meetings(lines: tuple[FenceLine, ...], ties: list[tuple[int, int, int, Floats]]) -> tuple[Meeting, ...]:
    """Gather ties that name the same post."""
    groups: list[dict[int, float]] = []
    spots: list[Floats] = []
    for line_index, point_index, other, _ in ties:
        spot = (
            lines[max(line_index, other)].xy_m[point_index]
            if line_index > other
            else lines[line_index].xy_m[point_index]
        )
        near = [k for k, known in enumerate(spots) if np.hypot(*(known - spot)) < 1e-3]
        if not near:
            near = [len(groups)]
            groups.append({})
            spots.append(spot)
        for index in (line_index, other):
            groups[near[0]].setdefault(index, _station_of(lines[index], spot))
    ordered = [sorted(group.items()) for group in groups if len(group) > 1]
    return tuple(Meeting(tuple(k for k, _ in group), tuple(s for _, s in group)) for group in ordered)


def _overlaps(
    lines: tuple[FenceLine, ...], ties: list[tuple[int, int, int, Floats]], join_m: float, show: UnitSystem
) -> list[Finding]:
    """Legs of a later line that lie on an earlier one."""
    touching = {(line, point, other) for line, point, other, _ in ties if other < line}
    findings = []
    for line_index, point, other in sorted(touching):
        line = lines[line_index]
        after = (point + 1) % len(line.xy_m)
        if (line_index, after, other) not in touching or (after == 0 and not line.is_closed):
            continue
        middle = (line.xy_m[point] + line.xy_m[after]) / 2
        ring = with_closing(lines[other].xy_m, lines[other].is_closed)
        if nearest_station(ring, lines[other].station_m, middle)[1] > join_m:
            continue
        station, end = float(line.station_m[point]), float(line.station_m[point + 1])
        message = (
            f'Line "{line.name}" lies on line "{lines[other].name}" from station {show.long(station)} to '
            f"{show.long(end)}: the fence would be built twice."
        )
        remedy = f'Draw "{line.name}" as an open line that ends on "{lines[other].name}" at both ends.'
        findings.append(
            Finding(STOP, "lines-overlap", Place("line", line.name, line.name, station), message, remedy)
        )
    return findings


def _crossings(
    lines: tuple[FenceLine, ...],
    meetings: tuple[Meeting, ...],
    tree: shapely.STRtree,
    join_m: float,
    show: UnitSystem,
) -> list[Finding]:
    """Places where two lines cross away from any shared post."""
    shapes = [line_shape(with_closing(line.xy_m, line.is_closed)) for line in lines]
    known = [
        places(with_closing(lines[m.line_index[0]].xy_m, lines[m.line_index[0]].is_closed),
               lines[m.line_index[0]].station_m, np.array([m.station_m[0]]))[0]
        for m in meetings
    ]  # fmt: skip
    findings = []
    first, second = tree.query(shapes, predicate="intersects")
    for one, other in zip(first.tolist(), second.tolist(), strict=True):
        if one >= other:
            continue
        for spot in shapely.get_coordinates(shapes[one].intersection(shapes[other])):
            if any(np.hypot(*(spot - place)) <= 2 * join_m for place in known):
                continue
            station = _station_of(lines[other], spot)
            at = f"x {show.long(float(spot[0]))}, y {show.long(float(spot[1]))}"
            message = f'Lines "{lines[one].name}" and "{lines[other].name}" cross at {at} with no post of their own there.'
            remedy = f'End "{lines[other].name}" on "{lines[one].name}" and start a new line beyond it.'
            place = Place("line", lines[other].name, lines[other].name, station)
            findings.append(Finding(STOP, "lines-cross", place, message, remedy))
    return findings
