"""Stations while two edits are merged: both are brought onto the points that they were made from, then onto the merged.

A corner that moves changes the stations of all that stands after it; two windows that each move a corner have not
thereby changed one gate.
"""

from collections.abc import Callable, Mapping, Sequence
from copy import deepcopy
from difflib import SequenceMatcher
from typing import Any

from fencewright.edits.carrying import STATIONS, kept_places, xy_m
from fencewright.edits.changes import pair_rows
from fencewright.edits.document import Document, length_text, metres, rows_of
from fencewright.findings import InputError

_SAME_M = 0.001
Plain = Mapping[str, Any]
Place = Callable[[float], float]


def on_base(base: Plain, side: Plain) -> dict[str, Any]:
    """Give a side with its stations on the points of the base; what only went along with its line is as in the base."""
    there, along = line_places(side, base), line_places(base, side)
    moved = deepcopy(dict(side))
    for table, keys in STATIONS.items() if there else ():
        own, was = moved.get(table, []), base.get(table, [])
        origin = {new: old for old, new in pair_rows(was, own) if old is not None and new is not None}
        for number, row in enumerate(own):
            name = str(row.get("line"))
            for key in keys if name in there else ():
                if key not in row:
                    continue
                at_m = metres(str(row[key]))
                before = was[origin[number]].get(key) if number in origin else None
                if before is not None and abs(along[name](metres(str(before))) - at_m) <= _SAME_M:
                    row[key] = before
                elif abs(there[name](at_m) - at_m) > _SAME_M:
                    row[key] = f"{there[name](at_m)} m"
    return moved


def onto_merged(document: Document, base: Plain, theirs: Plain, from_base: Sequence[tuple[Any, str]]) -> None:
    """Bring every station onto the merged points: those of `from_base` (row, key) from the base's, the rest from theirs."""
    merged = {"line": [dict(row) for row in rows_of(document, "line")]}
    places = {True: line_places(base, merged), False: line_places(theirs, merged)}
    for table, keys in STATIONS.items():
        for row in rows_of(document, table):
            for key in keys:
                is_base = any(row is one and key == other for one, other in from_base)
                place = places[is_base].get(str(row.get("line")))
                if place is None or key not in row:
                    continue
                at_m = metres(str(row[key]))
                if abs(place(at_m) - at_m) > 1e-6 or str(row[key]) == f"{at_m} m":
                    row[key] = length_text(document, max(place(at_m), 0.0))


def line_places(before: Plain, after: Plain) -> dict[str, Place]:
    """Give, by a line's name after or before, the station after of a station before, where its points differ."""
    rows, others = before.get("line", []), after.get("line", [])
    places: dict[str, Place] = {}
    for old, new in pair_rows(rows, others):
        if old is None or new is None:
            continue
        own, other = rows[old], others[new]
        closed = bool(own.get("closed"))
        if "points" not in own or "points" not in other or closed != bool(other.get("closed")):
            continue
        try:
            one, two = [[xy_m(point) for point in row["points"]] for row in (own, other)]
        except (InputError, IndexError, TypeError):
            continue  # it is refused when the merged job is read
        if one != two and len(one) > 1 and len(two) > 1:
            place = kept_places(one, two, fates(one, two), closed=closed)
            places |= {str(own.get("name")): place, str(other.get("name")): place}
    return places


def fates(before: Sequence[tuple[float, float]], after: Sequence[tuple[float, float]]) -> list[int | None]:
    """Where each point before stands among those after: the same, or moved alone; None: it is gone."""
    found: list[int | None] = [None] * len(before)
    for tag, i, j, k, m in SequenceMatcher(None, before, after, autojunk=False).get_opcodes():
        if tag == "equal" or (tag == "replace" and j - i == m - k):
            found[i:j] = range(k, m)
    return found
