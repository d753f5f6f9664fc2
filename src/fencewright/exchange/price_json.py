"""price.json: the price of a design as one record; money as plain numbers in the currency that it names."""

from dataclasses import fields
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from fencewright import __version__
from fencewright.exchange.design_json import PROGRAM, finding_record, record_digest, write_design_json
from fencewright.pipeline.risk_words import range_words
from fencewright.pipeline.risking import contingency_to
from fencewright.tables.price import Price, PricedAlternative, PriceLine, Subtotal
from fencewright.tables.risk import Risk

FORMAT = "fencewright price 1"
ROUNDING = (
    "amount = packs x pack_price, rounded half up to whole minor units; every step is rounded so before the next is "
    "reckoned from it; subtotals and payments are split by largest remainders, so that they add up exactly"
)
_MOST_DRIVERS = 5


def price_json(priced: Price, about: dict[str, Any]) -> tuple[dict[str, Any], bytes]:
    """Give the record of price.json and the bytes of the file.

    Parameters
    ----------
    priced : Price
        The price.
    about : dict
        `job` (name, client, builder, place, revision, sheets), `design_digest`, `may_be_built`.

    Returns
    -------
    record : dict
        `format`, `program`, `version`, `digest` (SHA-256 of the file less that line), then the price: `lines`, `steps`,
        `subtotals`, `total`, `missing`, and the rest by the names of `Price`. What is not known is None.
    content : bytes
        ASCII; a line for each key and for each row of a table.
    """
    record = {
        "format": FORMAT,
        "program": PROGRAM,
        "version": __version__,
        "digest": "",
        "job": about["job"],
        "design_digest": about["design_digest"],
        "may_be_built": about["may_be_built"],
        "currency": priced.currency or None,
        "minor_digits": priced.digits,
        "rounding_rule": ROUNDING,
        "day": priced.day or None,
        "valid_days": priced.valid_days,
        "valid_until": _valid_until(priced),
        "book": priced.book or None,
        "fence_length_m": round(priced.length_m, 4),
        "total": number(priced.total),
        "is_whole": priced.total is not None and not priced.missing,
        "per_foot": number(priced.per_foot),
        "per_metre": number(priced.per_metre),
        "customer_total": number(priced.customer_total),
        "p50": quantile(priced, 0.5),
        "p80": quantile(priced, 0.8),
        "p95": quantile(priced, 0.95),
        "labour_hours": number(priced.labour_hours),
        "crew_days": priced.crew_days,
        "missing": [_plain(one) for one in priced.missing],
        "lines": [_line(line, priced) for line in priced.lines],
        "steps": [_plain(step) for step in priced.steps],
        "subtotals": {
            "activity": [_subtotal(one) for one in priced.by_activity],
            "paddock": [_subtotal(one) for one in priced.by_paddock],
        },
        "neighbours": [_plain(one) for one in priced.neighbours],
        "payments": [_plain(one) for one in priced.payments],
        "concrete": None if priced.concrete is None else _plain(priced.concrete),
        "ownership": None if priced.ownership is None else _plain(priced.ownership),
        "figures": None if priced.figures is None else _plain(priced.figures),
        "alternatives": [_alternative(one) for one in priced.alternatives],
        "risk": None if priced.risk is None else _risk(priced, priced.risk),
        "findings": [finding_record(finding) for finding in priced.findings],
    }
    record["digest"] = record_digest(record)
    return record, write_design_json(record)


def _valid_until(priced: Price) -> str | None:
    """Last day on which the price stands, None where the job states no day or no calendar reaches so far."""
    if not priced.day:
        return None
    try:
        return (date.fromisoformat(priced.day) + timedelta(days=priced.valid_days)).isoformat()
    except OverflowError:
        return None


def number(value: Decimal | float | None) -> float | int | None:
    """Money or a measure as a plain number; whole ones without decimals."""
    if value is None:
        return None
    shown = float(value)
    return int(shown) if shown.is_integer() else shown


def quantile(priced: Price, probability: float) -> float | int | None:
    """Total that so many of the simulated runs keep, to whole minor units; None where none was simulated."""
    return None if priced.risk is None else number(round(priced.risk.quantile(probability), priced.digits))


def _plain(row: Any) -> dict[str, Any]:
    """A record as it is: decimals and floats as numbers."""
    cells = {}
    for one in fields(row):
        value = getattr(row, one.name)
        is_float = isinstance(value, float) and not isinstance(value, bool)
        cells[one.name] = (
            number(value) if isinstance(value, Decimal) else round(value, 4) + 0.0 if is_float else value
        )
    return cells


def _line(line: PriceLine, priced: Price) -> dict[str, Any]:
    names = [one.name for one in priced.by_paddock]
    return {
        "item": line.id,
        "name": line.item,
        "size": line.size,
        "kind": line.kind,
        "activity": line.activity,
        "quantity": number(line.quantity),
        "unit": line.unit,
        "unit_price": number(line.unit_price),
        "amount": number(line.amount),
        "pack": number(line.pack),
        "packs": number(line.packs),
        "pack_price": number(line.pack_price),
        "low_price": number(line.low_price),
        "high_price": number(line.high_price),
        "low_quantity": number(line.low_quantity),
        "high_quantity": number(line.high_quantity),
        "source": line.source,
        "basis": line.basis,
        "driver": line.driver,
        "paddocks": {name: number(part) for name, part in zip(names, line.by_paddock, strict=False)},
    }


def _subtotal(one: Subtotal) -> dict[str, Any]:
    return {"name": one.name, "direct": number(one.direct), "total": number(one.total)}


def _alternative(one: PricedAlternative) -> dict[str, Any]:
    return {**_plain(one), "figures": _plain(one.figures)}


def _risk(priced: Price, risk: Risk) -> dict[str, Any]:
    """Runs, seed, spread, and the uncertainties that move the total most: P80 with each at its best and worst tenth."""
    swings, rows, digits = risk.swings, risk.uncertainties, priced.digits
    return {
        "runs": risk.runs,
        "seed": risk.seed,
        "estimate": round(risk.base, digits),
        "mean": round(risk.mean, digits),
        "sd": round(risk.sd, digits),
        "p10": round(risk.quantile(0.1), digits),
        "p90": round(risk.quantile(0.9), digits),
        "kept": round(risk.covered(float(priced.total or 0)), 4),
        "contingency_to_p80": round(contingency_to(priced, 0.8), 4),
        "drivers": [
            {
                "name": rows.name[row],
                "words": rows.words[row],
                "range": range_words(rows, row, float(swings.low_value[k]), float(swings.high_value[k])),
                "low_total": round(float(swings.low_total[k]), digits),
                "high_total": round(float(swings.high_total[k]), digits),
                "remedy": rows.remedy[row],
            }
            for k, row in enumerate(swings.row.tolist()[:_MOST_DRIVERS])
        ],
    }
