"""Why any number is what it is, by one name: of the design, of its price, of its programme."""

from collections.abc import Callable

from fencewright.pipeline.record import Design
from fencewright.pipeline.why import explain
from fencewright.pipeline.why_price import Priced, explain_price
from fencewright.pipeline.why_programme import explain_activity
from fencewright.pipeline.why_record import Explanation
from fencewright.tables.programme import Programme

PRICE, PROGRAMME = "price:", "programme:"


def explain_any(
    made: Design, thing: str, price: Callable[[], Priced], programme: Callable[[], Programme]
) -> Explanation:
    """Say how each number of one thing came about, wherever it stands.

    Parameters
    ----------
    made : Design
        The whole design.
    thing : str
        A name as of `pipeline.why.explain`; `price:` and an id of a line or a step; `programme:` and an id of an
        activity.
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
    if wanted.casefold().startswith(PRICE):
        return explain_price(price(), wanted[len(PRICE) :])
    if wanted.casefold().startswith(PROGRAMME):
        return explain_activity(made, programme(), wanted[len(PROGRAMME) :])
    return explain(made, wanted)
