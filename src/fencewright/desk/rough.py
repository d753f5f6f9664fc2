"""A price from a telephone call: one fence that fits it, others that fit it too, and the range that they give."""

from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from pathlib import Path
from typing import Any

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.catalogue.rows import Catalogue
from fencewright.desk.reading import job_from_text
from fencewright.desk.rough_asked import RoughAsked, Unknown, left_open
from fencewright.desk.running import design
from fencewright.job.rough_call import RoughCall, check_call, rough_job_text
from fencewright.pipeline.key_figures import key_figures
from fencewright.pipeline.pricing import price_design
from fencewright.pipeline.record import Design
from fencewright.pipeline.risk_parts import Uncertain
from fencewright.pipeline.risking import with_risk
from fencewright.site.wavy_ground import WavyGround
from fencewright.tables.price import KeyFigures, Price, PriceBook

_NAME = "the telephone call"
_WAVES = {
    "rolling": ("rough.rolling_height", "rough.rolling_length"),
    "hilly": ("rough.hilly_height", "rough.hilly_length"),
}


@dataclass(frozen=True, slots=True, eq=False)
class RoughPrice:
    """What a call comes to.

    `call` the fence that is taken as most likely; `price` of it, its `risk` widened by what the call leaves open;
    `figures` of it, and `least`, `most` of each over all fences that fit; `unpriced` what the call leaves open and the
    price book cannot price: name, and the things that it lacks.
    """

    call: RoughCall
    price: Price
    figures: KeyFigures
    least: KeyFigures
    most: KeyFigures
    unpriced: tuple[tuple[str, tuple[str, ...]], ...]


def rough_price(asked: RoughAsked, book: PriceBook | None = None) -> RoughPrice:
    """Price a fence from what a customer says.

    Parameters
    ----------
    asked : RoughAsked
        Lengths, corners, gates, strands, and what else was said.
    book : PriceBook, optional
        Prices; without one there are quantities and hours, and no money.

    Returns
    -------
    RoughPrice

    Raises
    ------
    InputError
        What no fence can be; one sentence.

    Notes
    -----
    Nothing is a rule of thumb: the fence is drawn, with straight sides, and goes through the whole design and the
    whole estimate; so does one fence at each end of everything that the call leaves open. What such a fence costs more
    or less is then one more uncertainty of the simulation, independent of the rest; one that needs a thing of which
    the price book has no price is left out, and named. One design for each fence.
    """
    catalogue = shipped_catalogue().on_sheets(asked.sheets)
    call = asked.call(catalogue)
    check_call(call)
    made, price = _priced(call, catalogue, book)
    figures = [key_figures(made, price)]
    more: list[Uncertain] = []
    unpriced = []
    for unknown in left_open(asked, call, catalogue):
        ratios = [1.0]
        lacking: set[str] = set()
        for other in unknown.calls:
            variant, own = _priced(other, catalogue, book)
            figures.append(key_figures(variant, own))
            lacks = {one.item for one in own.missing} - {one.item for one in price.missing}
            lacking |= lacks
            ratios += [] if lacks else [_ratio(own, price)]
        more.append(_uncertain(unknown, ratios))
        if lacking:
            unpriced.append((unknown.words, tuple(sorted(lacking))))
    priced = with_risk(made, price, book, more)
    return RoughPrice(call, priced, figures[0], _each(figures, min), _each(figures, max), tuple(unpriced))


def _uncertain(unknown: Unknown, ratios: list[float]) -> Uncertain:
    return Uncertain(unknown.name, unknown.words, unknown.remedy, min(ratios), 1.0, max(ratios), -1, 0.0)


def _priced(call: RoughCall, catalogue: Catalogue, book: PriceBook | None) -> tuple[Design, Price]:
    """Design and price a fence that fits a call."""
    job = job_from_text(rough_job_text(call), Path(), _NAME)
    if call.ground in _WAVES:
        height, length = (float(str(catalogue.practice[name].value)) for name in _WAVES[call.ground])
        ground = WavyGround(height, length, f"{call.ground} ground, invented for a rough price")
        job = replace(job, site=replace(job.site, ground=ground))
    made = design(job)
    return made, price_design(made, book)


def _ratio(price: Price, other: Price) -> float:
    """Direct costs of one as a part of the other's."""
    own, base = price.step("direct"), other.step("direct")
    return float(own.amount / base.amount) if own and base and base.amount else 1.0


def _each(figures: list[KeyFigures], choose: Callable[..., Any]) -> KeyFigures:
    """Least or most of every figure."""
    return KeyFigures(
        **{one.name: choose(getattr(row, one.name) for row in figures) for one in fields(KeyFigures)}
    )
