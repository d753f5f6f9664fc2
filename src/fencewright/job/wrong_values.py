"""What is wrong with a value that cannot be read, in the house's words: what it is, and what to write."""

from collections.abc import Mapping
from typing import Any

from fencewright.quantity.shown import shown_value

_WHOLE = "{} is no whole number: write one, like 2"
_NUMBER = "{} is no number: write a number"
_FLAG = "{} is neither true nor false: write one of the two, without quotes"
_LIST = '{} is no list: write one in square brackets, like ["a", "b"]'
_TABLE = "{} is no table: write its keys below its heading, one a line"
_SAID: Mapping[str, str] = {
    "string_unicode": "{} holds half a character: write it again",
    "string_type": "{} is no text: write it in quotes",
    "int_type": _WHOLE,
    "int_parsing": _WHOLE,
    "int_from_float": _WHOLE,
    "int_parsing_size": "{} is too large: write a smaller number",
    "float_type": _NUMBER,
    "float_parsing": _NUMBER,
    "finite_number": _NUMBER,
    "bool_type": _FLAG,
    "bool_parsing": _FLAG,
    "list_type": _LIST,
    "tuple_type": _LIST,
    "dict_type": _TABLE,
    "model_type": _TABLE,
    "model_attributes_type": _TABLE,
}
"""The sentence for a value, by pydantic's name of the error."""
_LIMITS: Mapping[str, tuple[str, str]] = {
    "greater_than": ("gt", "{} is too small: write more than {}"),
    "greater_than_equal": ("ge", "{} is too small: write {} or more"),
    "less_than": ("lt", "{} is too large: write less than {}"),
    "less_than_equal": ("le", "{} is too large: write {} or less"),
}
"""Where the limit stands, and the sentence for a value and it."""


def wrong_value(error: Mapping[str, Any]) -> str:
    """Give the sentence of one error of a pydantic check.

    Parameters
    ----------
    error : mapping
        As `ValidationError.errors` gives it: `type`, `msg`, `input` and, where it has limits, `ctx`.

    Returns
    -------
    str
        The house's own sentence; for a kind of error that has none, pydantic's.
    """
    kind, value = str(error["type"]), error.get("input")
    if kind == "missing":
        return "this key is missing: add it"
    if kind == "literal_error":
        return f"{shown_value(value)} is not one of {error['ctx']['expected']}"
    if kind in _SAID:
        return _SAID[kind].format(shown_value(value))
    if kind in _LIMITS:
        name, said = _LIMITS[kind]
        limit = error["ctx"][name]
        return said.format(shown_value(value), f"{limit:,.12g}" if isinstance(limit, float) else f"{limit:,}")
    if kind == "string_too_short":
        return "this is empty: write a text" if not value else _counted(error, "characters")
    if kind == "string_too_long":
        return _counted(error, "characters")
    if kind in ("too_short", "too_long"):
        return _counted(error, "values")
    said = str(error["msg"])
    own = said.removeprefix("Value error, ")  # what a check of ours says stands behind it
    return own if own != said else said[:1].lower() + said[1:]


def _counted(error: Mapping[str, Any], of: str) -> str:
    limits, count = error["ctx"], len(error["input"])
    if "max_length" in limits:
        return f"{count:,} {of} are too many: write at most {limits['max_length']:,}"
    least = f"{limits['min_length']:,}"
    if not count:
        return f"this is empty: write at least {least} {of}"
    return f"{count:,} {of} are too few: write at least {least}"
