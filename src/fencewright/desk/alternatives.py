"""Alternatives that a job names: the same job with other tables, designed and priced beside it."""

import json
import tomllib
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from fencewright.desk.reading import job_beside
from fencewright.desk.running import design
from fencewright.findings import InputError
from fencewright.job.alternatives import laid_over
from fencewright.job.record import Job
from fencewright.pipeline.key_figures import key_figures
from fencewright.pipeline.pricing import price_design
from fencewright.pipeline.why_price import Priced
from fencewright.tables.price import Price, PriceBook, PricedAlternative

_NOT_CHANGED = ("alternative", "job")


def price_alternatives(
    job: Job, folder: Path, own: Price, book: PriceBook | None, progress: Callable[[str], None] | None = None
) -> tuple[PricedAlternative, ...]:
    """Design and price each alternative of a job.

    Parameters
    ----------
    job : Job
        With its `[[alternative]]` tables.
    folder : Path
        Where its files lie.
    own : Price
        The job's own price.
    book : PriceBook or None
        Prices.
    progress : callable, optional
        Called with each one's name as it is done.

    Returns
    -------
    tuple of PricedAlternative
        In the job's order; each is what the job would be with its tables changed by hand.

    Raises
    ------
    InputError
        Two of one name, a table that the job file has not, or one from which no design is possible.
    """
    rows: list[PricedAlternative] = []
    for index, name in enumerate(one.name for one in job.asked.alternative):
        if any(row.name == name for row in rows):
            item = f'alternative {index + 1} "{name}"'
            raise InputError("another alternative has this name: give it one of its own", item=item)
        alternative, words = designed_alternative(job, index, folder, book)
        made, priced = alternative.design, alternative.price
        known = priced.total is not None and own.total is not None
        rows.append(
            PricedAlternative(
                name=name,
                change=words,
                total=priced.total,
                difference=priced.total - own.total if known else None,  # type: ignore[operator]  # both are known
                per_foot=priced.per_foot,
                per_metre=priced.per_metre,
                missing=len(priced.missing),
                figures=key_figures(made, priced),
            )
        )
        if progress:
            progress(f"alternative {name}")
    return tuple(rows)


def designed_alternative(job: Job, index: int, folder: Path, book: PriceBook | None) -> tuple[Priced, str]:
    """Design and price one alternative of a job; gives it with what it changes in words.

    Raises
    ------
    InputError
        It has a table that the job file has not, or no design is possible from it.
    """
    changed, words = alternative_data(job, index)
    asked = job.asked.alternative[index]
    try:
        made = design(job_beside(job, changed, asked.model_extra or {}, folder))
        return Priced(made, price_design(made, book), book), words
    except InputError as error:
        what = f"{error.item}: {error.what}" if error.item else error.what
        raise InputError(what, item=f'alternative {index + 1} "{asked.name}"', file=error.file) from error


def alternative_data(job: Job, index: int) -> tuple[dict[str, Any], str]:
    """The job's tables with those of one alternative laid over them, and in words what differs.

    Raises
    ------
    InputError
        It changes the job's head, or alternatives themselves.
    """
    data = tomllib.loads(job.text)
    change = {key: value for key, value in data["alternative"][index].items() if key != "name"}
    wrong = next((key for key in _NOT_CHANGED if key in change), None)
    item = f'alternative {index + 1} "{job.asked.alternative[index].name}"'
    if wrong:
        raise InputError(f"`{wrong}` cannot differ in an alternative", item=item)
    if not change:
        raise InputError("changes nothing: add a table such as [alternative.fence]", item=item)
    whole = {key: value for key, value in data.items() if key != "alternative"}
    return laid_over(whole, change), "; ".join(_words(change))


def _words(change: Mapping[str, Any]) -> list[str]:
    """What differs, as `fence rails 3`."""
    words = []
    for table, keys in change.items():
        if isinstance(keys, dict):
            words += [f"{table} {key} {_value(value)}" for key, value in keys.items()]
        else:
            words.append(f"{table}: {len(keys) if isinstance(keys, list) else _value(keys)} of its own")
    return words


def _value(value: Any) -> str:
    return value if isinstance(value, str) else json.dumps(value, default=str)
