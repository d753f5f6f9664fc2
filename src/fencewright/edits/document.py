"""A job's text as a document that can be changed and keeps its comments: rows, keys, lengths."""

import math
import tomllib
from collections.abc import Mapping, MutableSequence
from difflib import get_close_matches
from typing import Any, Literal

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array, Trivia

from fencewright.edits.kept_documents import KEPT
from fencewright.edits.requests import Amount, Item, Place
from fencewright.findings import InputError, InternalFault
from fencewright.findings.toml_faults import toml_refusal
from fencewright.quantity.parse import FOOT_M, INCH_M, parse_quantity

Document = tomlkit.TOMLDocument
Rows = MutableSequence[Any]
Path = tuple[str | int, ...]

_LONGEST_NAME = 60
_DEEPEST = 20  # lists and tables within each other: a job file needs four
_LARGEST_WHOLE = 2**63 - 1  # as TOML has it
_UNITS = {
    ("us", "place"): (FOOT_M, "ft", 4),
    ("us", "station"): (FOOT_M, "ft", 3),
    ("us", "small"): (INCH_M, "in", 2),
    ("metric", "place"): (1.0, "m", 4),
    ("metric", "station"): (1.0, "m", 3),
    ("metric", "small"): (0.001, "mm", 0),
}
"""Unit and decimals: a point of the plane keeps what its neighbours share; all else as fine as it can be set out."""


def open_document(text: str) -> Document:
    """Give a job's text as a document.

    Raises
    ------
    InputError
        It is no TOML.
    """
    kept = KEPT.get(text)
    if kept is not None:
        return kept
    try:
        document = tomlkit.parse(text)
    except (TOMLKitError, RecursionError) as error:
        raise toml_refusal(text) from error
    KEPT.keep(text, document)
    return document


def make_ready(text: str) -> None:
    """Have the document of a text ready for whoever opens it next; errors as `open_document`."""
    if not KEPT.make_ready(text):
        open_document(text)
        KEPT.make_ready(text)


def document_text(document: Document) -> str:
    """Give the document's text, read once more to be sure that it says what the document says.

    Raises
    ------
    InputError
        A value or name cannot stand in a job file.
    InternalFault
        The two differ: the edit is refused rather than the job spoiled.
    """
    return text_and_values(document)[0]


def text_and_values(document: Document) -> tuple[str, dict[str, Any]]:
    """Give the document's text and the plain values read from it; errors as `document_text`."""
    text = tomlkit.dumps(document)
    try:
        read = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise InputError(f"this cannot stand in a job file: {error}") from error
    if read != document.unwrap():
        raise InternalFault("the edit would have changed something else in the job: it was not made")
    return text, read


def rows_of(document: Any, table: str) -> Rows:
    """Rows of a table of the document or of a row, none where it is not there; a list written inline serves too."""
    rows = document.get(table)
    return rows if isinstance(rows, (AoT, Array)) else []


def find_row(document: Any, table: str, item: Item) -> int:
    """Number of a row of a table of the document or of a row, by its number or its name.

    Raises
    ------
    InputError
        There is no such row, and the sentence names the nearest; or the name is empty.
    """
    rows = rows_of(document, table)
    if isinstance(item, int):
        if not 0 <= item < len(rows):
            raise InputError(f"there is no {_word(table)} {item + 1}: {_count(rows)}", field=(table,))
        return item
    if not item.strip():  # also the name that every row without one has
        raise InputError(f"say which {_word(table)}: give its name, or its number from 0", field=(table,))
    names = [str(row.get("name", "")) for row in rows]
    if item in names:
        return names.index(item)
    unnamed = {f"{_word(table)} {number + 1}": number for number, name in enumerate(names) if not name}
    if item in unnamed:
        return unnamed[item]
    near = get_close_matches(item, names, n=1, cutoff=0.3)
    hint = f'did you mean "{near[0]}"?' if near else _count(rows)
    called = item if len(item) <= _LONGEST_NAME else f"{item[:_LONGEST_NAME]}..."
    raise InputError(f'there is no {_word(table)} "{called}"; {hint}', field=(table,))


def _count(rows: Rows) -> str:
    return {0: "there is none", 1: "there is 1"}.get(len(rows), f"there are {len(rows)}")


def row_name(document: Any, table: str, number: int) -> str:
    """How a row is called in a label: `gate "main"`, or `gate 2` where it has no name."""
    name = rows_of(document, table)[number].get("name")
    return f'{_word(table)} "{name}"' if name else f"{_word(table)} {number + 1}"


def _word(table: str) -> str:
    return table.replace("_", " ")


def add_row(document: Document, table: str, values: Mapping[str, Any], holder: Any = None) -> int:
    """Append a row to a table of the document, or of one of its rows (`holder`); gives its number.

    Raises
    ------
    InputError
        A value cannot stand in a job file.
    """
    _check_value(values, (table,))
    holder = document if holder is None else holder
    row = tomlkit.table()
    for key, value in values.items():
        row.add(key, _toml_value(value))
    row.add(tomlkit.nl())
    rows = rows_of(holder, table)
    if isinstance(rows, Array):
        rows.append(_inline_row(values))
        return len(rows) - 1
    if not isinstance(rows, AoT):
        _end_with_blank(document)
        rows = tomlkit.aot()
        holder[table] = rows
    elif len(rows):
        _blank_after(rows[-1])
    rows.append(row)
    return len(rows) - 1


def _blank_after(table: Any) -> None:
    """Let a table end with an empty line, so that the next one stands apart."""
    if not tomlkit.dumps(table).endswith("\n\n"):
        table.add(tomlkit.nl())


def _end_with_blank(document: Document) -> None:
    text = tomlkit.dumps(document)
    if text.strip() and not text.endswith("\n"):
        _last_table(document).add(tomlkit.nl())
    if text.strip() and not text.endswith("\n\n"):
        _last_table(document).add(tomlkit.nl())


def _last_table(document: Document) -> Any:
    last = list(document.values())[-1] if len(document) else document
    if isinstance(last, AoT):
        return last[-1]
    return last if hasattr(last, "add") and not isinstance(last, Array) else document


def remove_row(document: Any, table: str, number: int) -> None:
    """Take a row of the document or of a row out, its own comments with it; the table goes with its last row."""
    rows = rows_of(document, table)
    if len(rows) == 1:
        del document[table]
    else:
        del rows[number]


def set_key(document: Document, path: Path, value: Any) -> None:
    """Set a key under a table or row, or take it out where the value is None; tables are made as needed.

    Raises
    ------
    InputError
        The value cannot stand in a job file, or there is no such row.
    """
    _check_value(value, path)
    key = path[-1]
    if isinstance(key, int):
        _set_in_list(document, path, value)
        return
    holder = _holder(document, path, make=value is not None)
    if holder is None:
        return
    if value is None:
        if key in holder:
            del holder[key]
        if not len(holder) and len(path) in (2, 4):
            _drop_empty(_holder(document, path[:-1], make=False), str(path[-2]))
    elif key in holder:
        holder[key] = _toml_value(value)
    else:
        _add_key(holder, key, value)


def _drop_empty(holder: Any, table: str) -> None:
    if not tomlkit.dumps(holder[table]).strip():
        del holder[table]


def _add_key(holder: Any, key: str, value: Any) -> None:
    """Add a key after the last one, before the comments and empty lines that end its table."""
    body = getattr(getattr(holder, "value", holder), "body", None)
    names = [one for one, _ in body if one is not None] if body else []
    if names and hasattr(holder, "_insert_after"):
        holder._insert_after(names[-1], key, _toml_value(value))
        if key not in holder or holder[key] != value:  # an inline table of another kind
            holder[key] = _toml_value(value)
        return
    holder[key] = _toml_value(value)


def _holder(document: Document, path: Path, *, make: bool) -> Any:
    """Give what holds the last step of a path; None where it is not there and not to be made."""
    holder: Any = document
    steps = list(path[:-1])
    while steps:
        table = str(steps.pop(0))
        if steps:  # a table whose rows are counted, or named
            item = steps.pop(0)
            holder = rows_of(holder, table)[find_row(holder, table, item)]
            continue
        if table not in holder:
            if not make:
                return None
            _end_with_blank(document)
            holder[table] = tomlkit.table()
        holder = holder[table]
        if not hasattr(holder, "keys"):
            raise InputError(f"`{table}` is a list: name one of its rows", field=path[:-1])
    return holder


def _set_in_list(document: Document, path: Path, value: Any) -> None:
    node: Any = document
    for step in path[:-1]:
        try:
            node = node[step]
        except (KeyError, IndexError, TypeError) as error:
            raise InputError(f"there is no `{step}` here", field=path) from error
    number = path[-1]
    if not isinstance(node, Array) or not isinstance(number, int) or not 0 <= number < len(node):
        raise InputError("there is no such row in this list", field=path)
    if value is None:
        del node[number]
    else:
        node[number] = _toml_value(value)


def _check_value(value: Any, path: Path, depth: int = 0) -> None:
    """Refuse numbers that no job can mean (JSON's NaN and Infinity, wholes past 64 bits) and endless nesting."""
    if depth > _DEEPEST:
        raise InputError(
            "the value has lists or tables too deep within each other: write it as the job file has it",
            field=path,
        )
    if isinstance(value, float) and not math.isfinite(value):
        raise InputError(f"{value} is no number that a job can hold: write a finite one", field=path)
    if isinstance(value, int) and abs(value) > _LARGEST_WHOLE:
        raise InputError("the number has too many digits for a job file: check it", field=path)
    inner = (
        value.values() if isinstance(value, Mapping) else value if isinstance(value, (list, tuple)) else ()
    )
    for one in inner:
        _check_value(one, path, depth + 1)


def _toml_value(value: Any) -> Any:
    """Give a plain value as an item of the document."""
    try:
        if isinstance(value, (list, tuple)):
            return plain_array(value)
        return tomlkit.item(value)
    except (TOMLKitError, ValueError, TypeError) as error:
        raise InputError("this value cannot stand in a job file") from error


def plain_array(values: Any) -> Array:
    """Give a list as an array on one line."""
    array = Array([], Trivia())
    for value in values:
        array.append(_inline_row(value) if isinstance(value, Mapping) else _toml_value(value))
    return array


def plain(value: Any) -> Any:
    """Give an item of the document as a plain value."""
    return value.unwrap() if hasattr(value, "unwrap") else value


def _inline_row(values: Mapping[str, Any]) -> Any:
    row = tomlkit.inline_table()
    row.update({key: _toml_value(value) for key, value in values.items()})
    return row


def length_text(
    document: Document, amount: Amount, kind: Literal["place", "station", "small"] = "place"
) -> str:
    """Write a length as the job has it: as it was typed, or metres in the sheets' unit.

    Parameters
    ----------
    document : Document
        Says in which units its sheets are.
    amount : str or float
        Text with a unit is kept as typed; a number is in metres. [m]
    kind : str
        `place`: of a point, to 0.1 mm or 0.0001 ft. `station`: along a line, or an elevation, to 1 mm or 0.001 ft.
        `small`: in whole millimetres, or inches to 0.01.

    Raises
    ------
    InputError
        The text is no length.
    """
    if isinstance(amount, str):
        metres(amount)
        return amount.strip()
    if not abs(amount) <= 1e8:
        raise InputError(f"{str(amount)[:40]} is no length: give a number of metres, or text with a unit")
    unit_m, name, digits = _UNITS[(str(document.get("job", {}).get("sheets", "us")), kind)]
    number = f"{amount / unit_m:.{digits}f}"
    number = number.rstrip("0").rstrip(".") if digits else number
    return f"{'0' if number in ('-0', '') else number} {name}"


def rounding_m(document: Document) -> float:
    """Half of the last digit of a place that `length_text` writes: the most by which its text may be off. [m]"""
    unit_m, _, digits = _UNITS[(str(document.get("job", {}).get("sheets", "us")), "place")]
    return unit_m * 10.0**-digits / 2


def metres(amount: Amount) -> float:
    """Length in metres of a text with a unit, or of a number of metres.

    Raises
    ------
    InputError
        The text is no length.
    """
    try:
        return parse_quantity(amount, "length") if isinstance(amount, str) else float(amount)
    except ValueError as error:
        raise InputError(str(error)) from error


def place_texts(document: Document, place: Place) -> list[str]:
    """Write a point of the plane as the job has it."""
    return [length_text(document, place[0]), length_text(document, place[1])]
