"""Two edits of one job made side by side: merged where they touch different things, else told."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import Any

from fencewright.edits.carrying import STATIONS
from fencewright.edits.changes import WHOLE, Change, changes_between, pair_rows, read_plain
from fencewright.edits.document import (
    Document,
    add_row,
    document_text,
    open_document,
    remove_row,
    rows_of,
    set_key,
)
from fencewright.edits.merging_places import on_base, onto_merged
from fencewright.findings import InputError
from fencewright.job.reading import parse_job

Rowset = set[tuple[str, int | None]]


@dataclass(frozen=True, slots=True)
class Merge:
    """How two edits went together: the merged `text`, or None and what both touch (`clashes`)."""

    text: str | None
    clashes: tuple[str, ...] = ()


def merge_texts(base: str, mine: str, theirs: str) -> Merge:
    """Merge two texts of a job that were both made from a third.

    Parameters
    ----------
    base : str
        What both were made from.
    mine, theirs : str
        The later edit, and what stands in the job now.

    Returns
    -------
    Merge
        `theirs` with the changes of `mine`, comments of `theirs` kept; or the items that both change, that one
        changes and the other removes, or that would stand on a line which is gone.

    Notes
    -----
    Three-way by table, row and key; the points of a line are merged point by point.
    """
    before, own, now = read_plain(base), read_plain(mine), read_plain(theirs)
    try:
        plain = before, on_base(before, own), on_base(before, now)
    except InputError as error:  # a station that is no length
        return Merge(None, (str(error),))
    ours, others = changes_between(plain[0], plain[1]), changes_between(plain[0], plain[2])
    by_place = {change.place: change for change in others if change.row is not None or change.key != WHOLE}
    gone: Rowset = {
        (change.table, change.row) for change in others if change.new_row is None and change.key == WHOLE
    }
    touched: Rowset = {(change.table, change.row) for change in others if change.row is not None}
    wanted: list[Change] = []
    clashes: list[str] = []
    for change in ours:
        settled = _settled(change, by_place.get(change.place), gone, touched)
        if isinstance(settled, str):
            clashes.append(settled)
        elif settled is not None:
            wanted.append(settled)
    clashes += _twice_named(ours, others)
    if clashes:
        return Merge(None, tuple(dict.fromkeys(clashes)))
    try:
        document = open_document(theirs)
        onto_merged(document, before, now, _apply(document, wanted, before, now))
        return _checked(_removed(document, wanted, before, now))
    except InputError as error:
        return Merge(None, (str(error),))


def _settled(
    change: Change,
    other: Change | None,
    gone: Rowset,
    touched: Rowset,
) -> Change | str | None:
    """Give the change to make, None where it is made already, or the name of what clashes."""
    name = f"{change.key.replace('_', ' ')} of {change.item}" if change.key != WHOLE else change.item
    row = (change.table, change.row)
    if change.row is None and change.key == WHOLE and change.new_row is not None:
        return change
    if other is not None:
        if other.after == change.after:
            return None
        if change.key == "points" and change.after and other.after and change.before:
            merged = merge_points(change.before, change.after, other.after)
            if merged is not None:
                return Change(
                    change.table, change.row, change.new_row, change.item, change.key, change.before, merged
                )
        return name
    if change.row is not None and change.key == WHOLE and row in touched:
        return name
    if row in gone and change.row is not None:
        return name
    return change


def _twice_named(ours: Sequence[Change], others: Sequence[Change]) -> list[str]:
    """Rows that both added under one name."""

    def names(changes: Sequence[Change]) -> set[tuple[str, str]]:
        return {
            (change.table, str(change.after["name"]))
            for change in changes
            if change.row is None and isinstance(change.after, dict) and change.after.get("name")
        }

    return [f'{table} "{name}"' for table, name in sorted(names(ours) & names(others))]


def _apply(
    document: Document, wanted: Sequence[Change], base: Mapping[str, Any], theirs: Mapping[str, Any]
) -> list[tuple[Any, str]]:
    """Make the changes, removals apart; gives the stations that were set: row and key."""
    rows = _rows_now(wanted, base, theirs)
    stations: list[tuple[Any, str]] = []
    for change in wanted:
        keys = STATIONS.get(change.table, ())
        if change.row is None and change.new_row is not None:
            added = add_row(document, change.table, change.after)
            stations += [(rows_of(document, change.table)[added], key) for key in keys]
        elif change.row is None:
            set_key(document, (change.table, change.key), change.after)
        elif change.key != WHOLE:
            number = rows[change.table][change.row]
            if number is None:
                raise InputError(f"{change.item} is no longer there")
            set_key(document, (change.table, number, change.key), change.after)
            stations += [(rows_of(document, change.table)[number], key) for key in keys if key == change.key]
    return stations


def _removed(
    document: Document, wanted: Sequence[Change], base: Mapping[str, Any], theirs: Mapping[str, Any]
) -> Document:
    """Take out the rows that were removed."""
    rows = _rows_now(wanted, base, theirs)
    gone: list[tuple[str, int]] = []
    for change in wanted:
        if change.row is None or change.key != WHOLE:
            continue
        number = rows[change.table][change.row]
        if number is None:
            raise InputError(f"{change.item} is no longer there")
        gone.append((change.table, number))
    for table, number in sorted(gone, reverse=True):
        remove_row(document, table, number)
    return document


def _rows_now(
    wanted: Sequence[Change], base: Mapping[str, Any], theirs: Mapping[str, Any]
) -> dict[str, dict[int | None, int | None]]:
    """Where each row of the base stands now, by table."""
    tables = {change.table for change in wanted if change.row is not None}
    return {table: dict(pair_rows(base.get(table, []), theirs.get(table, []))) for table in tables}


def _checked(document: Document) -> Merge:
    text = document_text(document)
    parse_job(text)
    lines = {row.get("name") for row in rows_of(document, "line")}
    homeless = [
        f"{table.replace('_', ' ')} {number + 1}"
        for table in STATIONS
        for number, row in enumerate(rows_of(document, table))
        if row.get("line") not in lines
    ]
    return Merge(None, tuple(homeless)) if homeless else Merge(text)


def merge_points(base: Sequence[Any], mine: Sequence[Any], theirs: Sequence[Any]) -> list[Any] | None:
    """Merge two lists of points made from a third, None where they change the same ones."""
    ours, others = _blocks(base, mine), _blocks(base, theirs)
    for start, end, _ in ours:
        for low, high, _ in others:
            if (start < high and low < end) or start == low or (start == end and low < start < high):
                return None
            if low == high and start < low < end:
                return None
    merged = list(base)
    for start, end, points in sorted([*ours, *others], key=lambda block: (block[0], block[1]), reverse=True):
        merged[start:end] = points
    return merged


def _blocks(base: Sequence[Any], after: Sequence[Any]) -> list[tuple[int, int, list[Any]]]:
    """Stretches of the base that were replaced, and by what."""
    first, second = [tuple(point) for point in base], [tuple(point) for point in after]
    codes = SequenceMatcher(None, first, second, autojunk=False).get_opcodes()
    return [(i, j, list(after[k:m])) for tag, i, j, k, m in codes if tag != "equal"]
