"""Edits of lines: their points, names, joining and dividing, and what stands on them."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fencewright.edits.carrying import (
    AT_CORNER_M,
    STATIONS,
    Placed,
    Point,
    carry,
    divide_zones,
    keep_places,
    stations_m,
    xy_m,
)
from fencewright.edits.document import (
    Document,
    add_row,
    find_row,
    metres,
    place_texts,
    plain,
    plain_array,
    remove_row,
    rounding_m,
    row_name,
    rows_of,
    set_key,
)
from fencewright.edits.requests import (
    AddLine,
    CloseLine,
    InsertCorner,
    Item,
    JoinLines,
    MoveCorner,
    MoveLine,
    OwnPoints,
    Place,
    RemoveCorner,
    RemoveLine,
    RenameLine,
    SplitLine,
)
from fencewright.findings import InputError


@dataclass(frozen=True, slots=True)
class DrawnPoints:
    """A line as a file draws it: its `points` on the job's plane [m], and whether the last joins the first."""

    points: Sequence[Point]
    is_closed: bool = False


Drawn = Mapping[str, DrawnPoints]
"""Lines that come from files, by the line's name."""
Fate = dict[int, int | None]
SAME_PLACE_M = 0.005
"""Corners of two lines this near to each other are one post."""


def add_line(document: Document, edit: AddLine, drawn: Drawn) -> str:
    """Draw a new line."""
    name = edit.name or free_name(document)
    points = [place_texts(document, point) for point in edit.points]
    add_row(document, "line", {"name": name, "points": points} | ({"closed": True} if edit.closed else {}))
    return f'draw line "{name}"'


def free_name(document: Document) -> str:
    """Give the next free name of a line: `line 2`, `line 3`, ..."""
    taken = {row.get("name") for row in rows_of(document, "line")}
    number = len(taken) + 1
    while f"line {number}" in taken:
        number += 1
    return f"line {number}"


def remove_line(document: Document, edit: RemoveLine, drawn: Drawn) -> str:
    """Remove a line and everything that stands on it."""
    number = find_row(document, "line", edit.line)
    label, name = row_name(document, "line", number), rows_of(document, "line")[number].get("name")
    remove_row(document, "line", number)
    for table in STATIONS:
        for row in reversed(range(len(rows_of(document, table)))):
            if rows_of(document, table)[row].get("line") == name:
                remove_row(document, table, row)
    return f"remove {label}"


def rename_line(document: Document, edit: RenameLine, drawn: Drawn) -> str:
    """Rename a line, and whatever names it."""
    number = find_row(document, "line", edit.line)
    rows = rows_of(document, "line")
    label, old = row_name(document, "line", number), rows[number].get("name")
    name = edit.name.strip()
    if any(row.get("name") == name for other, row in enumerate(rows) if other != number):
        raise InputError(
            f'two lines are called "{name}": give each its own name',
            item="line",
            field=("line", number, "name"),
        )
    rows[number]["name"] = name
    carry(document, str(old), lambda station_m: (name, station_m, False), moved=False)
    return f'rename {label} to "{name}"'


def move_line(document: Document, edit: MoveLine, drawn: Drawn) -> str:
    """Move a whole line."""
    number, points = _points(document, edit.line, drawn)
    move_points(document, points, edit.by)
    return f"move {row_name(document, 'line', number)}"


def move_points(document: Document, points: Any, by: Place) -> None:
    """Move every point of a list by the same way."""
    east_m, north_m = metres(by[0]), metres(by[1])
    for row, point in enumerate(points):
        moved = (metres(point[0]) + east_m, metres(point[1]) + north_m)
        points[row] = plain_array(place_texts(document, moved))


def move_corner(document: Document, edit: MoveCorner, drawn: Drawn) -> str:
    """Move one point of a line; what stands on its other legs stays where it is, and shared corners go along."""
    number, points = _points(document, edit.line, drawn)
    _check_corner(points, edit.corner, number)
    was = xy_m(points[edit.corner])
    to = edit.to
    if edit.by is not None and to is None:
        to = (was[0] + metres(edit.by[0]), was[1] + metres(edit.by[1]))
    elif to is None or edit.by is not None:
        raise InputError("say where to, or by how much", item="corner")
    label = f"move corner {edit.corner + 1} of {row_name(document, 'line', number)}"
    shared = _corners_at(document, was, drawn) if edit.shared else []
    for line, corner in dict.fromkeys([(number, edit.corner), *shared]):
        own = rows_of(document, "line")[line]["points"]
        before = [xy_m(point) for point in own]
        own[corner] = plain_array(place_texts(document, to))
        _keep_places(document, line, before, {})
        if line != number:
            label += f" and of {row_name(document, 'line', line)}"
    return label


def _corners_at(document: Document, place: Point, drawn: Drawn) -> list[tuple[int, int]]:
    """Give line and number of every corner that stands at a place; a line from a file there gets points of its own."""
    for number, row in enumerate(rows_of(document, "line")):
        from_file = None if "points" in row else drawn.get(str(row.get("name", "")))
        if from_file and any(math.dist(point, place) <= SAME_PLACE_M for point in from_file.points):
            _points(document, number, drawn)
    return [
        (number, corner)
        for number, row in enumerate(rows_of(document, "line"))
        for corner, point in enumerate(row.get("points") or ())
        if math.dist(xy_m(point), place) <= SAME_PLACE_M
    ]


def _keep_places(document: Document, number: int, before: Sequence[Point], fate: Fate) -> None:
    """Keep what stands on a line in its place, its points having changed; `fate` of those whose number has changed."""
    row = rows_of(document, "line")[number]
    after = [xy_m(point) for point in row["points"]]
    fates = [fate.get(corner, corner) for corner in range(len(before))]
    keep_places(document, str(row.get("name")), before, after, fates, closed=bool(row.get("closed")))


def insert_corner(document: Document, edit: InsertCorner, drawn: Drawn) -> str:
    """Put a point into a line; what stands on the line stays where it is."""
    number, points = _points(document, edit.line, drawn)
    if edit.after >= 0:
        _check_corner(points, edit.after, number)
    place, before = edit.after + 1, [xy_m(point) for point in points]
    points.insert(place, plain_array(place_texts(document, edit.at)))
    _keep_places(document, number, before, {corner: corner + 1 for corner in range(place, len(before))})
    return f"add a corner to {row_name(document, 'line', number)}"


def remove_corner(document: Document, edit: RemoveCorner, drawn: Drawn) -> str:
    """Take a point out of a line; what stood on its two legs goes to the nearest place of the new one."""
    number, points = _points(document, edit.line, drawn)
    _check_corner(points, edit.corner, number)
    if len(points) <= 2:
        raise InputError(
            "a line needs two points: remove the line instead",
            item=row_name(document, "line", number),
            field=("line", number, "points"),
        )
    place, before = edit.corner, [xy_m(point) for point in points]
    del points[place]
    gone: Fate = {place: None}
    _keep_places(document, number, before, gone | {one: one - 1 for one in range(place + 1, len(before))})
    return f"remove corner {edit.corner + 1} of {row_name(document, 'line', number)}"


def close_line(document: Document, edit: CloseLine, drawn: Drawn) -> str:
    """Join a line's last point to its first, or open it again."""
    number = find_row(document, "line", edit.line)
    rows_of(document, "line")[number]["closed"] = edit.closed
    return f"{'close' if edit.closed else 'open'} {row_name(document, 'line', number)}"


def own_points(document: Document, edit: OwnPoints, drawn: Drawn) -> str:
    """Give a line that comes from a file points of its own."""
    number, _ = _points(document, edit.line, drawn)
    return f"give {row_name(document, 'line', number)} points of its own"


def split_line(document: Document, edit: SplitLine, drawn: Drawn) -> str:
    """Divide a line at one of its points; a closed one is opened there."""
    number, points = _points(document, edit.line, drawn)
    _check_corner(points, edit.corner, number)
    row = rows_of(document, "line")[number]
    label, name, corner = row_name(document, "line", number), str(row.get("name")), edit.corner
    stations = stations_m(points, closed=bool(row.get("closed")))
    if row.get("closed"):
        turned = [list(point) for point in [*points[corner:], *points[: corner + 1]]]
        row["points"] = plain_array(turned)
        row["closed"] = False
        start_m, length_m = stations[corner], stations[-1]
        # a zone up to the end holds the end post however it is rounded
        last_m = length_m + rounding_m(document)
        divide_zones(document, name, start_m)

        def turned_to(at_m: float, corner_m: float) -> Placed:
            along_m = (at_m - start_m) % length_m
            is_at_corner = min(along_m, length_m - along_m) <= AT_CORNER_M
            return name, corner_m if is_at_corner else along_m, False

        carry(document, name, lambda at_m: turned_to(at_m, 0.0), ends=lambda at_m: turned_to(at_m, last_m))
        return f"open {label} at corner {corner + 1}"
    if not 0 < corner < len(points) - 1:
        raise InputError(
            "a line is divided at a corner between its ends",
            item=label,
            field=("line", number, "points", corner),
        )
    second = edit.name or free_name(document)
    if second in {str(other.get("name")) for other in rows_of(document, "line")}:
        raise InputError(f'two lines are called "{second}": give each its own name', item="line")
    tail = [list(point) for point in points[corner:]]
    kept = {key: plain(value) for key, value in row.items() if key not in ("name", "points", "closed")}
    row["points"] = plain_array([list(point) for point in points[: corner + 1]])
    add_row(document, "line", {"name": second, "points": tail, **kept})
    cut_m = stations[corner]
    last_m = cut_m + rounding_m(document)
    divide_zones(document, name, cut_m)

    def parted(at_m: float, is_first: bool) -> Placed:
        if is_first:
            return name, last_m if at_m > cut_m - AT_CORNER_M else at_m, False
        return second, max(at_m - cut_m, 0.0), False

    carry(
        document,
        name,
        lambda at_m: parted(at_m, at_m < cut_m - AT_CORNER_M),
        ends=lambda at_m: parted(at_m, at_m <= cut_m + AT_CORNER_M),
    )
    return f"divide {label} at corner {corner + 1}"


def join_lines(document: Document, edit: JoinLines, drawn: Drawn) -> str:
    """Join two open lines at their nearest ends; the first keeps its name."""
    first, points = _points(document, edit.line, drawn)
    second, others = _points(document, edit.other, drawn)
    rows = rows_of(document, "line")
    labels = row_name(document, "line", first), row_name(document, "line", second)
    if first == second or rows[first].get("closed") or rows[second].get("closed"):
        raise InputError("two open lines are joined: open a closed one first", item=labels[0])
    a, b = [list(point) for point in points], [list(point) for point in others]
    gaps = {(i, j): math.dist(xy_m(a[i]), xy_m(b[j])) for i in (-1, 0) for j in (0, -1)}
    at_a, at_b = min(gaps, key=lambda ends: (gaps[ends], ends != (-1, 0)))
    lengths = [stations_m(one, closed=False)[-1] for one in (a, b)]
    if at_a == 0:  # the other goes before: it must end where this one begins
        b = b if at_b == -1 else b[::-1]
        joined, shift_a, start_b = b + a[gaps[at_a, at_b] < 1e-3 :], lengths[1] + gaps[at_a, at_b], 0.0
    else:
        b = b if at_b == 0 else b[::-1]
        joined, shift_a, start_b = a + b[gaps[at_a, at_b] < 1e-3 :], 0.0, lengths[0] + gaps[at_a, at_b]
    turned = (at_a == 0) != (at_b == -1)
    name, other = str(rows[first].get("name")), str(rows[second].get("name"))
    rows[first]["points"] = plain_array(joined)
    remove_row(document, "line", second)
    if shift_a:
        carry(document, name, lambda at_m: (name, at_m + shift_a, False))
    carry(document, other, lambda at_m: (name, start_b + (lengths[1] - at_m if turned else at_m), turned))
    return f"join {labels[1]} to {labels[0]}"


def _points(document: Document, item: Item, drawn: Drawn) -> tuple[int, Any]:
    """Row of a line and its points; a line from a file is given points of its own first."""
    number = find_row(document, "line", item)
    row = rows_of(document, "line")[number]
    if "points" in row:
        return number, row["points"]
    name = str(row.get("name", ""))
    if name not in drawn:
        raise InputError(
            "its points stand in a file that cannot be read: mend the file first",
            item=row_name(document, "line", number),
            field=("line", number, "file"),
        )
    points = [place_texts(document, point) for point in drawn[name].points]
    set_key(document, ("line", number, "points"), points)
    if "closed" not in row and drawn[name].is_closed:  # its polygon said so until now
        set_key(document, ("line", number, "closed"), True)
    for key in ("file", "layer", "feature"):
        if key in row:
            del row[key]
    return number, row["points"]


def _check_corner(points: Any, corner: int, number: int) -> None:
    if corner >= len(points):
        raise InputError(
            f"there is no corner {corner + 1}: the line has {len(points)}", field=("line", number, "points")
        )
