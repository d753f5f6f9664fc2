"""Records of why a number is what it is: the command line prints them, and the page shows the same."""

import math
from dataclasses import dataclass
from typing import Any

from fencewright.sources import all_sources

Value = float | str | tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Input:
    """One number that went into another: `value` in SI, `unit` as text, `origin` says where it is from."""

    symbol: str
    name: str
    value: Value
    unit: str
    origin: str


@dataclass(frozen=True, slots=True)
class Reason:
    """Why one number is what it is.

    Attributes
    ----------
    name : str
        What it is, in the trade's words.
    says : str
        What decided it here, one sentence.
    inputs : tuple of Input
        What it was computed from.
    words, symbols : str
        The formula, twice.
    result : float, str or tuple of float
        In SI.
    unit : str
        `m`, `m2`, `m3`, `N`, `N m`, `Pa`, `rad`, `C`, `kg`, `Hz`, `h`, `1` for a ratio or count, `%` for a share (1 is
        the whole), the unit of an order's or price's line (`piece`, `ft`), a currency (`USD`), empty for words.
    source : str
        Key of the register, or the row of the price book; empty for what the job states and plain geometry.
    clause : str
        Clause, equation or page of it where one is known.
    next_smaller : str
        What would have to change for the next smaller size; empty where there is none.
    """

    name: str
    says: str
    inputs: tuple[Input, ...]
    words: str
    symbols: str
    result: Value
    unit: str
    source: str = ""
    next_smaller: str = ""
    clause: str = ""


@dataclass(frozen=True, slots=True)
class Explanation:
    """Everything about one thing: `id`, `kind`, `where`, `reasons`.

    `kind` is `post`, `brace`, `pull`, `gate`, `crossing`, `rail mark`, `roll`, `order line`, `sum`, `price line`,
    `price step`, `alternative` or `activity`.
    """

    id: str
    kind: str
    where: str
    reasons: tuple[Reason, ...]


def source_text(key: str) -> str:
    """Write a register key with its title and place; what needs none says so, unknown keys stay as they are."""
    if not key:
        return "none: the job's own numbers, and geometry"
    if key not in all_sources():
        return key
    source = all_sources()[key]
    return ", ".join(part for part in (source.text, source.where) if part)


def explanation_record(explanation: Explanation) -> dict[str, Any]:
    """Give an explanation as plain lists and dicts in SI; what is not known is None."""
    return {
        "id": explanation.id,
        "kind": explanation.kind,
        "where": explanation.where,
        "reasons": [_reason_record(reason) for reason in explanation.reasons],
    }


def _reason_record(reason: Reason) -> dict[str, Any]:
    return {
        "name": reason.name,
        "says": reason.says,
        "inputs": [
            {
                "symbol": one.symbol,
                "name": one.name,
                "value": _plain(one.value),
                "unit": one.unit,
                "origin": one.origin,
            }
            for one in reason.inputs
        ],
        "words": reason.words,
        "symbols": reason.symbols,
        "result": _plain(reason.result),
        "unit": reason.unit,
        "source": reason.source,
        "source_text": source_text(reason.source),
        "clause": reason.clause,
        "next_smaller": reason.next_smaller,
    }


def _plain(value: Value) -> float | str | list[float | None] | None:
    if isinstance(value, str):
        return value
    if isinstance(value, tuple):
        return [float(one) if math.isfinite(one) else None for one in value]
    return float(value) if math.isfinite(value) else None
