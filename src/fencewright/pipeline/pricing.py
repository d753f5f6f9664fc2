"""From a design to its price: the quantities that pricing asks for, and the estimate."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import CAUTION, Finding, Place
from fencewright.job.filling import Filling
from fencewright.job.price_settings import PriceSettings, fill_price
from fencewright.job.record import Job
from fencewright.pipeline.price_counts import concrete_by_line
from fencewright.pipeline.price_items import order_items
from fencewright.pipeline.price_works import Counted, counted_works, design_works, rock_holes, work_of
from fencewright.pipeline.record import Design
from fencewright.price.estimate import estimate, own_rates
from fencewright.quantity.parse import UNITS
from fencewright.quantity.show import UnitSystem
from fencewright.tables.price import Price, PriceBook
from fencewright.tables.price_task import ConcreteWay, PriceItem, PriceTask

Floats = NDArray[np.float64]


def price_settings(job: Job) -> tuple[PriceSettings, tuple[Finding, ...]]:
    """Terms of a job's price, and what was assumed. Raises `InputError` for terms that cannot be."""
    filling = Filling(job.asked, job.catalogue)
    settings = fill_price(filling)
    return settings, tuple(filling.findings)


def price_design(design: Design, book: PriceBook | None = None) -> Price:
    """Price a design.

    Parameters
    ----------
    design : Design
        One with a `stop` finding is priced too, and the price says so.
    book : PriceBook, optional
        Prices; without one there are quantities and hours alone.

    Returns
    -------
    Price

    Raises
    ------
    InputError
        Terms that cannot be, no currency, a rate for a work that there is none of.

    Notes
    -----
    Findings: `price-of-no-build` (`caution`), and those of `fill_price` and `estimate`.
    """
    settings, findings = price_settings(design.job)
    settings = own_rates(settings, book)
    if not design.may_be_built:
        stop = Finding(
            CAUTION,
            "price-of-no-build",
            Place("job"),
            "The design is not to be built as it is: its price changes with what mends it.",
            "Mend the stops of the design first.",
        )
        findings = (stop, *findings)
    return estimate(price_task(design, settings), settings, book, findings)


def price_task(design: Design, settings: PriceSettings) -> PriceTask:
    """Quantities of a design that are priced: the order, the work, rock, preparation, spoil, extras."""
    items, bags = order_items(design)
    counted = counted_works(design, settings)
    works = design_works(counted)
    lines = design.layout.lines
    by_bags, by_mix, volume = _concrete(counted, bags)
    if not bags:
        by_bags = by_mix = None
    return PriceTask(
        items=(*items, *_other_items(counted)),
        works=works,
        paddocks=tuple(line.name for line in lines),
        length_m=tuple(line.length_m for line in lines),
        bags=by_bags,
        ready_mix=by_mix,
        concrete_m3=volume,
        common=_common(counted),
        rates_are_own=all(work.source != "common practice, no source" for work in works),
    )


def _concrete(
    counted: Counted, bags: tuple[PriceItem, ...]
) -> tuple[ConcreteWay | None, ConcreteWay | None, float]:
    """Both ways of concreting, and the net volume. [m3]"""
    design, settings = counted.design, counted.settings
    show = UnitSystem(design.job.asked.job.sheets)
    bag, waste = design.job.settings.holes.bag, design.job.settings.holes.waste
    by_line = concrete_by_line(design)
    volume = float(by_line.sum())
    weights = tuple(float(one) for one in by_line)
    mixing = settings.works["mix and pour bags"]
    per_bag = [rate / bag.yield_m3 for rate in (mixing.per_hour, mixing.slow, mixing.quick)]
    row = replace(mixing, unit="bag", per_hour=per_bag[0], slow=per_bag[1], quick=per_bag[2])
    count = sum(item.order for item in bags)
    share = by_line / volume if volume > 0 else by_line
    by_bags = ConcreteWay(bags, (work_of(row, share * count, show),))
    wanted = volume * (1 + waste)
    loads = float(np.ceil(wanted / settings.truck_m3 - 1e-9))
    words = f"{show.volume(volume)} net, {waste:.0%} waste"

    def item(name: str, unit: str, order: float, basis: str, *, whole: bool) -> PriceItem:
        ident = name.replace(" ", "-")
        return PriceItem(
            ident, name, "", unit, order, 1.0, "concrete", weights, "material", None, whole, basis
        )

    loads_words = "1 load" if loads == 1 else f"{loads:.0f} loads"
    things = [
        item(
            "ready-mix concrete",
            "yd3" if show.name == "us" else "m3",
            wanted / _unit_m3(show),
            words,
            whole=True,
        ),
        item("ready-mix delivery", "delivery", loads, loads_words, whole=True),
    ]
    if settings.ready_mix_m:
        unit = "mi" if show.name == "us" else "km"
        far = 2 * settings.ready_mix_m * loads / UNITS["length"][unit]
        things.append(item("ready-mix haul", unit, far, f"{loads_words}, there and back", whole=False))
    pour = work_of(settings.works["pour ready-mix"], share * wanted, show)
    waiting = pour.quantity / pour.per_hour - loads * settings.truck_free_h
    if waiting > 0:
        stood = f"the truck stands longer than {settings.truck_free_h:g} h a load"
        things.append(item("ready-mix waiting", "h", waiting, stood, whole=False))
    return by_bags, ConcreteWay(tuple(things), (pour,)), volume


def _unit_m3(show: UnitSystem) -> float:
    """Cubic metres in the unit by which ready-mix is sold."""
    return UNITS["volume"]["yd3"] if show.name == "us" else 1.0


def _other_items(counted: Counted) -> list[PriceItem]:
    """What is paid beside the order: rock, disposal, hire, and the job's own extras."""
    design, settings = counted.design, counted.settings
    is_us = design.job.asked.job.sheets == "us"
    unit = "ft" if is_us else "m"
    before, length = settings.preparation, UNITS["length"][unit]
    volume_unit = "yd3" if is_us else "m3"
    volume = counted.by_per["spoil hauled"] / UNITS["volume"][volume_unit]
    rock = rock_holes(counted)
    share = f", {settings.rock_share:.0%} of the holes expected to meet it" if settings.rock_share else ""

    def item(
        name: str, quantity: float, unit: str, activity: str, basis: str, weights: Floats | None
    ) -> PriceItem:
        parts = () if weights is None else tuple(float(one) for one in weights)
        ident = name.replace(" ", "-")
        return PriceItem(ident, name, "", unit, quantity, 1.0, activity, parts, "other", None, False, basis)

    rows = [
        item("rock hole", float(rock.sum()), "hole", "holes", f"met or known{share}", rock),
        item("old fence disposal", before.old_fence / length, unit, "preparation", "as the job states", None),
        item("temporary fence", before.containment / length, unit, "preparation", "as the job states", None),
        item("access mats", before.access / length, unit, "preparation", "as the job states", None),
        item(
            "spoil disposal", float(volume.sum()), volume_unit, "clean-up", "loose soil of the holes", volume
        ),
    ]
    names = [line.name for line in design.layout.lines]
    for extra in settings.extras:
        weights = tuple(float(name == extra.line) for name in names) if extra.line else ()
        ident = "extra-" + "-".join("".join(c if c.isalnum() else " " for c in extra.name).split())
        rows.append(
            PriceItem(
                ident,
                extra.name,
                "",
                extra.unit,
                float(extra.quantity),
                1.0,
                extra.activity,
                weights,
                "other",
                extra.price,
                False,
                "as the job states",
            )
        )
    return [row for row in rows if row.order > 0]


def _common(counted: Counted) -> tuple[tuple[str, str, float, float], ...]:
    """Common boundaries: neighbour, line, length of the part [m], share."""
    found = {line.name: line.length_m for line in counted.design.layout.lines}
    rows = []
    for one in counted.settings.neighbours:
        length = found[one.line]
        start, end = one.start or 0.0, length if one.end is None else min(one.end, length)
        rows.append((one.name, one.line, max(end - start, 0.0), one.share))
    return tuple(rows)
