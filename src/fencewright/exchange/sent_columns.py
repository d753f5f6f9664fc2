"""Columns that go through a pipe, answer after answer: of one that was sent before, the change alone."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from fencewright.exchange.column_change import Change, change_of
from fencewright.exchange.compact import Cells, Named

Place = tuple[str, str]
"""Table and column."""
Said = Mapping[str, Mapping[str, Any]]
"""Of each table its `rows` and its `columns`, as `live_tables.only_new` gives them."""


@dataclass(frozen=True, slots=True)
class Same:
    """A column that is as it was sent before, but for a change."""

    change: Change | None

    def __reduce__(self) -> tuple[Any, ...]:
        """Pickle by its part, as `Change`."""
        return Same, (self.change,)


class ColumnSender:
    """Packs what is sent; what it packs must be unpacked in the same order."""

    def __init__(self) -> None:
        self._sent: dict[Place, Cells] = {}

    def pack(self, said: Said) -> dict[str, dict[str, Any]]:
        """Give tables with the changes of what was sent before in place of columns."""
        return {
            table: {
                "rows": told["rows"],
                "columns": {
                    name: self._packed((table, name), cells) for name, cells in told["columns"].items()
                },
            }
            for table, told in said.items()
        }

    def _packed(self, place: Place, cells: Cells) -> Cells | Same:
        before = self._sent.get(place)
        if before is None or not _is_of_one_kind(before, cells):
            self._sent[place] = cells
            return cells
        change = change_of(before, cells)
        if change is None:
            return Same(None)
        self._sent[place] = cells
        if isinstance(cells, Named):
            change = change.of_index()
        return Same(change) if len(change.values) < len(cells) else cells


class ColumnReceiver:
    """Unpacks what a `ColumnSender` packed."""

    def __init__(self) -> None:
        self._heard: dict[Place, Cells] = {}

    def unpack(self, packed: Said) -> dict[str, dict[str, Any]]:
        """Give the tables whole; `changes` holds, of each column that was sent as a change, what it was and the change."""
        return {table: self._unpacked(table, told) for table, told in packed.items()}

    def _unpacked(self, table: str, told: Mapping[str, Any]) -> dict[str, Any]:
        columns: dict[str, Cells] = {}
        changes: dict[str, tuple[Cells, Change]] = {}
        for name, sent in told["columns"].items():
            place = (table, name)
            if not isinstance(sent, Same):
                self._heard[place] = sent
            elif sent.change is not None:
                before = self._heard[place]
                self._heard[place] = sent.change.applied(before)
                change = sent.change.of_names(before) if isinstance(before, Named) else sent.change
                changes[name] = (before, change)
            columns[name] = self._heard[place]
        return {"rows": told["rows"], "columns": columns, "changes": changes}


def _is_of_one_kind(one: Cells, other: Cells) -> bool:
    """Whether a change of the one can be made into the other."""
    if isinstance(one, Named) and isinstance(other, Named):
        same_names = one.names is other.names or list(one.names) == list(other.names)
        return same_names and one.missing == other.missing
    if isinstance(one, np.ndarray) and isinstance(other, np.ndarray):
        return one.ndim == other.ndim == 1 and one.dtype == other.dtype
    return isinstance(one, list) and isinstance(other, list)
