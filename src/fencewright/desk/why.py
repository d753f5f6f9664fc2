"""Why any number is what it is, by one name: of the design, of its price, of its programme."""

import re
from collections.abc import Callable
from pathlib import Path

from fencewright.desk.alternatives import designed_alternative
from fencewright.findings import InputError
from fencewright.pipeline.record import Design
from fencewright.pipeline.why import explain
from fencewright.pipeline.why_alternative import explain_alternative
from fencewright.pipeline.why_price import Priced, explain_price
from fencewright.pipeline.why_programme import explain_activity
from fencewright.pipeline.why_record import Explanation
from fencewright.tables.programme import Programme

PRICE, PROGRAMME = "price:", "programme:"
_ALTERNATIVE = re.compile(r"price:alternative-(\d{1,6})", re.IGNORECASE)


def explain_any(
    made: Design, thing: str, folder: Path, price: Callable[[], Priced], programme: Callable[[], Programme]
) -> Explanation:
    """Say how each number of one thing came about, wherever it stands.

    Parameters
    ----------
    made : Design
        The whole design.
    thing : str
        A name as of `pipeline.why.explain`; `price:` and an id of a line or a step, or `price:alternative-2`;
        `programme:` and an id of an activity.
    folder : Path
        Where the job's files lie.
    price, programme : callable
        Give the price and the programme; each is called only where it is asked about.

    Returns
    -------
    Explanation

    Raises
    ------
    InputError
        Nothing has that name, or there can be no price or programme.
    """
    wanted = thing.strip()
    if found := _ALTERNATIVE.fullmatch(wanted):
        return _explain_alternative(made, int(found[1]), folder, price())
    if wanted.casefold().startswith(PRICE):
        return explain_price(price(), wanted[len(PRICE) :])
    if wanted.casefold().startswith(PROGRAMME):
        return explain_activity(made, programme(), wanted[len(PROGRAMME) :])
    return explain(made, wanted)


def _explain_alternative(made: Design, number: int, folder: Path, own: Priced) -> Explanation:
    names = [one.name for one in made.job.asked.alternative]
    if not 1 <= number <= len(names):
        there = f"there are {len(names)}: {', '.join(names)}" if names else "the job has no [[alternative]]"
        raise InputError(f"there is no alternative {number}: {there}")
    other, change = designed_alternative(made.job, number - 1, folder, own.book)
    return explain_alternative(own, other, number, change)
