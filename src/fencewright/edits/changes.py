"""What changed between two texts of a job, by item and key: a line's points, a gate's opening, ..."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fencewright.findings.toml_faults import read_toml

WHOLE = ""


@dataclass(frozen=True, slots=True)
class Change:
    """One key that differs.

    Attributes
    ----------
    table : str
        Table of the job file.
    row : int or None
        Number of the row before, in a table of rows; None for a plain table or a new row.
    new_row : int or None
        Number of the row after; None where it was removed, and for a plain table.
    item : str
        What it is called: `gate "main"`, `line 2`, `fence`.
    key : str
        The key; empty where the whole row was added or removed.
    before, after : any
        Its value, None where there is none.
    """

    table: str
    row: int | None
    new_row: int | None
    item: str
    key: str
    before: Any
    after: Any

    @property
    def place(self) -> tuple[str, int | None, str]:
        """What it touches, by the job before."""
        return self.table, self.row, self.key


def read_plain(text: str) -> dict[str, Any]:
    """Give the values of a job's text.

    Raises
    ------
    InputError
        It is no TOML.
    """
    return read_toml(text)


def changes_between(before: Mapping[str, Any], after: Mapping[str, Any]) -> tuple[Change, ...]:
    """List what differs between two jobs, given as plain values.

    Parameters
    ----------
    before, after : mapping
        From `read_plain`.

    Returns
    -------
    tuple of Change
        In the order of the tables. Rows are matched by equality, then by name, then in order.
    """
    found: list[Change] = []
    for table in dict.fromkeys([*before, *after]):
        old, new = before.get(table), after.get(table)
        if old == new:
            continue
        if _is_rows(old) and _is_rows(new):
            found += _row_changes(table, old or [], new or [])
        else:
            found += _key_changes(table, None, None, table.replace("_", " "), _keys(old), _keys(new))
    return tuple(found)


def _is_rows(value: Any) -> bool:
    return value is None or (isinstance(value, list) and all(isinstance(row, dict) for row in value))


def _keys(value: Any) -> Mapping[str, Any]:
    if isinstance(value, dict):
        return value
    return {} if value is None else {WHOLE: value}


def _key_changes(
    table: str,
    row: int | None,
    new_row: int | None,
    item: str,
    old: Mapping[str, Any],
    new: Mapping[str, Any],
) -> list[Change]:
    return [
        Change(table, row, new_row, item, key, old.get(key), new.get(key))
        for key in dict.fromkeys([*old, *new])
        if old.get(key) != new.get(key)
    ]


def _row_changes(table: str, old: Sequence[Any], new: Sequence[Any]) -> list[Change]:
    found: list[Change] = []
    for row, new_row in pair_rows(old, new):
        if row is None and new_row is not None:
            found.append(
                Change(table, None, new_row, _called(table, new_row, new[new_row]), WHOLE, None, new[new_row])
            )
        elif new_row is None and row is not None:
            found.append(Change(table, row, None, _called(table, row, old[row]), WHOLE, old[row], None))
        elif row is not None and new_row is not None:
            item = _called(table, row, old[row])
            found += _key_changes(table, row, new_row, item, old[row], new[new_row])
    return found


def _called(table: str, row: int, values: Mapping[str, Any]) -> str:
    word = table.replace("_", " ")
    return f'{word} "{values["name"]}"' if values.get("name") else f"{word} {row + 1}"


def pair_rows(old: Sequence[Any], new: Sequence[Any]) -> list[tuple[int | None, int | None]]:
    """Match the rows of a table before and after.

    Returns
    -------
    list of (int or None, int or None)
        Every row before and after once: equal ones, then those of one name, then the others in order.
    """
    left, right = dict(enumerate(old)), dict(enumerate(new))
    pairs: list[tuple[int | None, int | None]] = []
    for alike in (_equal, _same_name, _any):
        for row in list(left):
            match = next((other for other in right if alike(left[row], right[other])), None)
            if match is not None:
                pairs.append((row, match))
                del left[row], right[match]
    pairs += [(row, None) for row in left]
    pairs += [(None, row) for row in right]
    return sorted(pairs, key=lambda pair: (pair[1] is None, pair[1] if pair[1] is not None else pair[0]))


def _equal(old: Any, new: Any) -> bool:
    return bool(old == new)


def _same_name(old: Any, new: Any) -> bool:
    return bool(old.get("name")) and old.get("name") == new.get("name")


def _any(old: Any, new: Any) -> bool:
    return True
