"""How a column changes from one answer to the next: a stretch that gives way, and single rows here and there."""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.compact import (
    Cells,
    Comparable,
    Named,
    alike,
    differ,
    differing,
    first_difference,
    last_difference,
    plain,
)

_SCATTERED_FROM = 16  # rows of a stretch from which it is looked at row by row
_ROW_COSTS = 2  # a row that is named costs its number and its value
_NO_ROWS: NDArray[np.int64] = np.zeros(0, np.int64)


@dataclass(frozen=True, slots=True, eq=False)
class Change:
    """From `start` on, `remove` cells give way to `values`; after that, `changed` stands in `rows`."""

    start: int
    remove: int
    values: Cells
    rows: NDArray[np.int64]
    changed: Cells

    def __reduce__(self) -> tuple[Any, ...]:
        """Pickle by its parts: a hundred of them go with each answer."""
        return Change, (self.start, self.remove, self.values, self.rows, self.changed)

    def splice(self) -> dict[str, Any]:
        """Give it as JSON values; `rows` and `changed` only where there are some."""
        told = {"start": self.start, "remove": self.remove, "values": plain(self.values)}
        single = {"rows": self.rows.tolist(), "changed": plain(self.changed)} if self.rows.size else {}
        return told | single

    def applied(self, before: Cells) -> Cells:
        """Give the column after it; a new one."""
        values: Any = self.values
        changed: Any = self.changed
        stop = self.start + self.remove
        if isinstance(before, Named):
            index: Any = self.of_index().applied(before.index)
            return replace(before, index=index)
        if isinstance(before, list):
            cells = [*before[: self.start], *values, *before[stop:]]
            for row, value in zip(self.rows.tolist(), changed, strict=True):
                cells[row] = value
            return cells
        after: NDArray[Any] = np.concatenate([before[: self.start], values, before[stop:]])
        after[self.rows] = changed
        return after

    def of_index(self) -> "Change":
        """Give the change of the index of a column of names."""
        values, changed = (
            cells.index if isinstance(cells, Named) else cells for cells in (self.values, self.changed)
        )
        return replace(self, values=values, changed=changed)

    def of_names(self, column: Named) -> "Change":
        """Give the change of a column of names, this being that of its index."""
        values: Any = self.values
        changed: Any = self.changed
        return replace(self, values=replace(column, index=values), changed=replace(column, index=changed))


def splice_of(before: Cells, after: Cells) -> dict[str, Any] | None:
    """Give `change_of` as JSON values."""
    change = change_of(before, after)
    return None if change is None else change.splice()


def change_of(before: Cells, after: Cells) -> Change | None:
    """Say how a column changes, as briefly as can be; None: not at all.

    Notes
    -----
    O(rows), and one comparison where nothing changed.
    """
    if before is after:
        return None
    old, new = alike(before, after)
    if isinstance(old, np.ndarray) and isinstance(new, np.ndarray) and len(old) == len(new):
        return _of_one_length(after, np.flatnonzero(differ(old, new)))
    most = min(len(old), len(new))
    start = first_difference(old, new, most)
    if start == most and len(old) == len(new):
        return None
    end = last_difference(old, new, most - start)
    stop = len(new) - end
    if stop - start >= _SCATTERED_FROM:
        scattered = _scattered(after, old[start : len(old) - end], new[start:stop], start)
        if scattered is not None:
            return scattered
    return _stretch(after, start, stop, len(old) - start - end)


def _stretch(after: Cells, start: int, stop: int, remove: int) -> Change:
    return Change(start, remove, _part(after, slice(start, stop)), _NO_ROWS, _part(after, _NO_ROWS))


def _of_one_length(after: Cells, rows: NDArray[np.int64]) -> Change | None:
    """Say how a column changes whose `rows` differ, and which has as many as before."""
    if not rows.size:
        return None
    start, stop = int(rows[0]), int(rows[-1]) + 1
    if stop - start >= _SCATTERED_FROM and _ROW_COSTS * rows.size <= stop - start:
        return Change(start, 0, _part(after, _NO_ROWS), rows, _part(after, rows))
    return _stretch(after, start, stop, stop - start)


def _scattered(after: Cells, old: Comparable, new: Comparable, start: int) -> Change | None:
    """Say how a stretch changes row by row, where few of its rows do; None where the whole of it is said as briefly.

    Up to one place its rows are compared from its beginning, from there on from its end: what a column gains or loses,
    it does there. The place is where fewest rows differ.
    """
    most = min(len(old), len(new))
    head = differing(old[:most], new[:most])
    tail = head if len(old) == len(new) else differing(old[len(old) - most :], new[len(new) - most :])
    before = np.concatenate([[0], np.cumsum(head)])
    behind = np.concatenate([[0], np.cumsum(tail)])
    counts = before + (behind[-1] - behind)
    place = int(counts.argmin())
    gained = len(new) - most
    if _ROW_COSTS * int(counts[place]) + gained > len(new):
        return None
    rows = (
        np.concatenate([np.flatnonzero(head[:place]), place + gained + np.flatnonzero(tail[place:])]) + start
    )
    place += start
    values = _part(after, slice(place, place + gained))
    return Change(place, len(old) - most, values, rows.astype(np.int64), _part(after, rows))


def _part(cells: Cells, rows: slice | NDArray[np.int64]) -> Cells:
    """Give some rows of a column."""
    if isinstance(cells, Named):
        return replace(cells, index=cells.index[rows])
    if isinstance(cells, list):
        return cells[rows] if isinstance(rows, slice) else [cells[row] for row in rows.tolist()]
    return cells[rows]
