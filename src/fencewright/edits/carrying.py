"""What stands on a line keeps its place when the line changes: gates, crossings, strain posts, pins, zones.

A station is a distance from the line's first point, so it changes with every leg before it. On a leg that is as it was,
everything stays where it is on the ground; on one whose end moved, it keeps its distance from the end that did not; where
a corner came or went, that from the nearer corner which stayed.
"""

import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Any

from fencewright.edits.document import Document, add_row, length_text, metres, plain, rounding_m, rows_of

STATIONS = {
    "gate": ("at",),
    "crossing": ("at",),
    "strain": ("at",),
    "pin": ("at",),
    "built": ("at",),
    "rock": ("at",),
    "size": ("at",),
    "soil_zone": ("from", "to"),
}
AT_CORNER_M = 0.005  # a station this near to a corner is the corner's own
_FLOAT_M = 1e-9  # what sums of legs are off by
Point = tuple[float, float]
Placed = tuple[str, float, bool]
"""Line, station [m], and whether it is turned about."""


def xy_m(point: Any) -> Point:
    """Give a point of the document in metres."""
    return metres(str(point[0])), metres(str(point[1]))


def stations_m(points: Sequence[Any], *, closed: bool) -> list[float]:
    """Stations of a drawn line's points from 0, its length last where it is closed. [m]"""
    return _stations([xy_m(point) for point in points], closed=closed)


def _stations(xy: Sequence[Point], *, closed: bool) -> list[float]:
    total, stations = 0.0, [0.0]
    for here, there in pairwise([*xy, *(xy[:1] if closed else [])]):
        total += math.dist(here, there)
        stations.append(total)
    return stations


def carry(
    document: Document, name: str, place: Callable[[float], Placed], *,
    ends: Callable[[float], Placed] | None = None, moved: bool = True,
) -> None:  # fmt: skip
    """Carry what stands on a line to where `place` puts each station, and the end of a zone to where `ends` does.

    Not `moved`: to another line's name alone. A text stays as it was typed where a new one could not say the
    difference: a station that is written anew may come to lie on the other side of a post.
    """
    same_m = rounding_m(document) + _FLOAT_M
    for table, keys in STATIONS.items():
        for row in rows_of(document, table):
            if row.get("line") != name:
                continue
            if not moved:
                row["line"] = place(0.0)[0]
                continue
            placed = [
                (ends if ends and key == "to" else place)(metres(str(row[key]))) for key in keys if key in row
            ]
            turned = bool(placed and placed[0][2])
            for key, (line, station_m, _) in zip(keys, placed[::-1] if turned else placed, strict=False):
                if line != name:
                    row["line"] = line
                if abs(station_m - metres(str(row[key]))) > same_m:
                    row[key] = length_text(document, max(station_m, 0.0))


def divide_zones(document: Document, name: str, at_m: float) -> None:
    """Divide the soil zones of a line that reach over a station: what is cut there needs a zone on either side."""
    for number in reversed(range(len(rows_of(document, "soil_zone")))):
        row = rows_of(document, "soil_zone")[number]
        if row.get("line") != name or not {"from", "to"} <= row.keys():
            continue
        start_m, end_m = metres(str(row["from"])), metres(str(row["to"]))
        if start_m + AT_CORNER_M < at_m < end_m - AT_CORNER_M:
            cut = length_text(document, at_m)
            values = {key: plain(value) for key, value in row.items()}
            row["to"] = cut
            add_row(document, "soil_zone", values | {"from": cut})
            rows = rows_of(document, "soil_zone")
            rows.insert(number + 1, rows.pop())  # of two zones at one place the later one holds


def keep_places(
    document: Document, name: str, before: Sequence[Point], after: Sequence[Point], fate: Sequence[int | None],
    *, closed: bool,
) -> None:  # fmt: skip
    """Keep what stands on a line in its place when its points change.

    Parameters
    ----------
    document : Document
        Its stations are changed.
    name : str
        The line.
    before, after : sequence of (x, y)
        Its points. [m]
    fate : sequence of int or None
        Where each point before stands among those after; None: it is gone.
    closed : bool
        Whether the line is closed, before and after.
    """
    place = kept_places(before, after, fate, closed=closed)
    carry(document, name, lambda at_m: (name, place(at_m), False))


def kept_places(
    before: Sequence[Point], after: Sequence[Point], fate: Sequence[int | None], *, closed: bool
) -> Callable[[float], float]:
    """Give the function from a station before to the one after that is the same place; arguments as `keep_places`."""
    old, new = _stations(before, closed=closed), _stations(after, closed=closed)
    legs = len(old) - 1

    def place(station_m: float) -> float:
        if station_m > old[-1] + AT_CORNER_M:
            return station_m  # beyond the line's end: left for the reader to refuse
        at = _nearest(old, station_m)
        if abs(old[at] - station_m) <= AT_CORNER_M:
            kept = fate[at % len(before)]
            if kept is not None:  # it may stand a hair off the corner, on either side: it stays so
                there = new[-1] if closed and at == legs and kept == 0 else new[kept]
                off_m = station_m - old[at]
                return there + off_m if station_m > old[-1] else min(max(there + off_m, 0.0), new[-1])
        leg = min(max(bisect_right(old, station_m) - 1, 0), legs - 1)
        first, second = fate[leg], fate[(leg + 1) % len(before)]
        if first is not None and second is not None and second == (first + 1) % len(after):
            ends = before[leg], before[(leg + 1) % len(before)]
            moved = ends[0] != after[first], ends[1] != after[second]
            return new[first] + _along(
                station_m - old[leg], old[leg + 1] - old[leg], new[first + 1] - new[first], moved
            )
        return _in_stretch(station_m, leg, fate, (old, new), closed=closed)

    return place


def _nearest(stations: Sequence[float], station_m: float) -> int:
    """Number of the nearest of rising stations, the first of those that are as near."""
    after = min(bisect_left(stations, station_m), len(stations) - 1)
    before = bisect_left(stations, stations[max(after - 1, 0)])
    return before if abs(stations[before] - station_m) <= abs(stations[after] - station_m) else after


def _along(along_m: float, before_m: float, after_m: float, moved: tuple[bool, bool]) -> float:
    """Distance along a leg whose ends may have moved: that from the end which did not, else its share."""
    if not moved[0] and along_m <= after_m:
        return along_m
    if moved[0] and not moved[1] and before_m - along_m <= after_m:
        return after_m - (before_m - along_m)
    return along_m * after_m / before_m if before_m else 0.0


def _in_stretch(
    station_m: float, leg: int, fate: Sequence[int | None], stations: tuple[list[float], list[float]], *, closed: bool
) -> float:  # fmt: skip
    """Station in a stretch that gained or lost corners: the distance from the nearer corner that stayed is kept."""
    old, new = stations
    count, legs = len(fate), len(old) - 1
    first = next((one for one in range(leg, -1, -1) if fate[one] is not None), None)
    last = next((one for one in range(leg + 1, legs + 1) if fate[one % count] is not None), None)
    start_m = -math.inf if first is None else new[fate[first] or 0]
    end_m = math.inf
    if last is not None:
        end = fate[last % count] or 0
        end_m = new[-1] if closed and end == 0 else new[end]
    from_start = math.inf if first is None else station_m - old[first]
    to_end = math.inf if last is None else old[last] - station_m
    kept_m = start_m + from_start if from_start <= to_end else end_m - to_end
    return min(max(kept_m, start_m, 0.0), end_m, new[-1])
