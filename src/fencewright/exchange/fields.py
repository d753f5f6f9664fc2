"""Fields of a feature as text, and which of them is its name."""

import json
from collections.abc import Iterable, Mapping
from typing import Any

from fencewright.exchange.intake import printable

_NAME_FIELDS = ("name", "title", "label", "id")


def as_text(value: Any) -> str:
    """Give a field's value as text; nothing, NaN and blanks give empty text."""
    if value is None or value != value:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, bytes):
        return ""
    if isinstance(value, dict | list):
        return printable(json.dumps(value, ensure_ascii=False, sort_keys=True))
    return printable(str(value))


def as_attributes(fields: Mapping[Any, Any] | Iterable[tuple[Any, Any]]) -> dict[str, str]:
    """Fields as text, without those that are empty."""
    pairs = fields.items() if isinstance(fields, Mapping) else fields
    texts = ((printable(str(key)), as_text(value)) for key, value in pairs)
    return {key: text for key, text in texts if key and text}


def name_of(attributes: Mapping[str, str]) -> str:
    """Name of a feature among its fields, whatever their case; empty where it has none."""
    folded = {key.casefold(): value for key, value in attributes.items()}
    return next((folded[field] for field in _NAME_FIELDS if field in folded), "")
