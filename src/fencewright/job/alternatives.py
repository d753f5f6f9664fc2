"""Alternatives of a job: its tables with those of an alternative laid over them, and whether that can be read."""

from collections.abc import Mapping
from typing import Any

from fencewright.findings import InputError
from fencewright.job.reading import check_job


def laid_over(whole: Mapping[str, Any], change: Mapping[str, Any]) -> dict[str, Any]:
    """Give the tables with the changed keys in place; a list takes the place of the earlier one.

    Parameters
    ----------
    whole, change : mapping
        Plain values of a job, and what differs.
    """
    merged = dict(whole)
    for key, value in change.items():
        own = merged.get(key)
        merged[key] = laid_over(own, value) if isinstance(own, dict) and isinstance(value, dict) else value
    return merged


def check_alternatives(data: Mapping[str, Any]) -> None:
    """Read the job as each of its alternatives would have it.

    Parameters
    ----------
    data : mapping
        Plain values of a job that can itself be read.

    Raises
    ------
    InputError
        One of them cannot be read: the sentence that pricing it would give, and the field in the alternative.
    """
    whole = {key: value for key, value in data.items() if key != "alternative"}
    for number, row in enumerate(data.get("alternative", [])):
        change = {key: value for key, value in row.items() if key != "name"}
        try:
            check_job(laid_over(whole, change))
        except InputError as error:
            raise InputError(
                f"{error.item}: {error.what}",
                item=f'alternative {number + 1} "{row.get("name", "")}"',
                field=("alternative", number, *error.field),
            ) from error
