"""How the quantity of a line of the price came about: from the order, from work and its rate, machines, the road."""

from collections.abc import Sequence
from dataclasses import dataclass

from fencewright.job.price_settings import PriceSettings
from fencewright.pipeline.record import Design
from fencewright.pipeline.why_origin import asked, computed, practice
from fencewright.pipeline.why_record import Input, Reason
from fencewright.price.book_search import Found, PriceIndex
from fencewright.price.lines import searched_names, slug
from fencewright.price.travel import crew_days, travel_items
from fencewright.quantity.parse import UNITS
from fencewright.quantity.show import few_figures, unit_of
from fencewright.tables.price import Price, PriceLine
from fencewright.tables.price_task import ConcreteWay, PriceItem, PriceTask, Work


@dataclass(frozen=True, slots=True, eq=False)
class Asked:
    """What a price was reckoned from: the design, its terms, its quantities, the price book, and the price itself."""

    design: Design
    settings: PriceSettings
    task: PriceTask
    index: PriceIndex
    price: Price

    @property
    def works(self) -> tuple[tuple[Work, ...], tuple[Work, ...]]:
        """Works of concreting in the way that is taken, and all others."""
        return (() if self._way is None else self._way.works), self.task.works

    @property
    def items(self) -> tuple[PriceItem, ...]:
        """Everything that is paid by the piece."""
        concrete, other = self.works
        both = (*other, *concrete)
        days = crew_days(both, self.settings)
        travel = travel_items(both, self.settings, days) if both else ()
        return (*self.task.items, *(() if self._way is None else self._way.items), *travel)

    @property
    def _way(self) -> ConcreteWay | None:
        choice = self.price.concrete
        is_mixed = choice is not None and choice.taken == "ready-mix"
        return self.task.ready_mix if is_mixed else self.task.bags


def quantity_reason(told: Asked, line: PriceLine) -> list[Reason]:
    """Say how much of a line there is, and how often its price is paid."""
    work = next((one for group in told.works for one in group if one.id == line.id), None)
    if work is not None:
        return [_labour(told, line, work), _parts_of_packs(line, float(line.quantity))]
    item = next((one for one in told.items if one.id == line.id), None)
    if item is not None:
        return [_thing(told, line, item), *_packs(told, line, item)]
    return [_machine(told, line), _parts_of_packs(line, float(line.quantity))]


def _labour(told: Asked, line: PriceLine, work: Work) -> Reason:
    row = told.settings.works[work.item]
    origin = work.source
    inputs = (
        computed(
            "n", f"{unit_of(work.quantity, work.unit)}, counted in the design", work.quantity, work.unit
        ),
        computed("r", f"done in an hour by the gang; {row.why}", work.per_hour, f"{work.unit}/h", origin),
        computed("h", f"hands of the gang, {work.trade}", work.hands, "1", origin),
        computed("r_slow", "the least in an hour", work.slow_per_hour, f"{work.unit}/h", origin),
        computed("r_quick", "the most in an hour", work.quick_per_hour, f"{work.unit}/h", origin),
    )
    return Reason(
        "quantity",
        work.rate_words,
        inputs,
        "what is counted, over what the gang does in an hour, times its hands; to a hundredth of an hour",
        "q = n h / r",
        float(line.quantity),
        line.unit,
        row.source,
        "a quicker rate of your own: [[rate]] in the job, or a rate in the price book",
    )


def _thing(told: Asked, line: PriceLine, item: PriceItem) -> Reason:
    if item.id == "travel-vehicle" or item.id == "travel-hours":
        return _road(told, line)
    is_order = any(one.id == item.id for one in told.design.order)
    origin = f"the order: Why of {item.id}" if is_order else item.basis or "the design"
    inputs = [computed("o", "ordered" if is_order else "quantity", item.order, item.unit, origin)]
    factor = _factor(told, item)
    if factor != 1.0:
        inputs.append(computed("f", f"{item.unit} in one {line.unit}", factor, "1", "by definition"))
    return Reason(
        "quantity",
        item.basis or "as the order has it",
        tuple(inputs),
        ("what is ordered" if is_order else "as counted")
        + (", in the unit of the price book" if factor != 1.0 else ""),
        "q = o / f" if factor != 1.0 else "q = o",
        float(line.quantity),
        line.unit,
        "",
        "see the line of the order" if is_order else "",
    )


def _factor(told: Asked, item: PriceItem) -> float:
    """How many of the item's units one of the price's units is."""
    if item.price is not None:
        return 1.0
    found = told.index.find(searched_names(item), item.size, (item.unit,))
    return found.factor if isinstance(found, Found) else 1.0


def _packs(told: Asked, line: PriceLine, item: PriceItem) -> list[Reason]:
    quantity = item.order / _factor(told, item)
    if not item.is_whole or item.price is not None or line.pack_price is None:
        return [_parts_of_packs(line, quantity)]
    inputs = (
        computed("q", "quantity", quantity, line.unit),
        computed("p", "units that one price buys", float(line.pack), line.unit, line.source),
    )
    return [
        Reason(
            "packs",
            "only whole packs are paid",
            inputs,
            "the quantity over a pack, rounded up",
            "k = ceil(q / p)",
            float(line.packs),
            "1",
            line.source,
        )
    ]


def _parts_of_packs(line: PriceLine, quantity: float) -> Reason:
    inputs = (
        computed("q", "quantity", quantity, line.unit),
        computed("p", "units that one price buys", float(line.pack), line.unit, line.source or "no price"),
    )
    return Reason(
        "packs",
        "how often the price is paid; parts of it count",
        inputs,
        "the quantity over what one price buys",
        "k = q / p",
        float(line.packs),
        "1",
        line.source,
    )


def _machine(told: Asked, line: PriceLine) -> Reason:
    if line.id.endswith("-delivery"):
        one = computed("n", "brought and fetched", 1.0, "1", "once for the job")
        return Reason("quantity", line.basis, (one,), "once", "q = n", 1.0, line.unit)
    works = _works_of(told, line)
    hours = tuple(work.quantity / work.per_hour for work in works)
    inputs: list[Input] = [
        computed(
            "t",
            f"machine hours of: {'; '.join(work.item for work in works)}",
            hours,
            "h",
            "work over its rate",
        )
    ]
    if line.unit == "day":
        day = told.settings.hours_a_day
        inputs.append(
            asked(
                told.design.job,
                "programme.hours",
                "programme.hours",
                ("H", "hours of a day"),
                float(day),
                "h",
            )
        )
    is_day = line.unit == "day"
    return Reason(
        "quantity",
        "the cheaper of hours and days, where the price book has both",
        tuple(inputs),
        "the hours of its works" + (", in whole days" if is_day else "; to a hundredth of an hour"),
        "q = ceil(sum(t) / H)" if is_day else "q = sum(t)",
        float(line.quantity),
        line.unit,
        "",
        "a quicker rate of the work that it does",
    )


def _works_of(told: Asked, line: PriceLine) -> Sequence[Work]:
    """Works that a machine's line stands for: those of concreting, or all others."""
    for group in told.works:
        own = [work for work in group if work.plant and slug(work.plant) == slug(line.item)]
        if own and own[0].activity == line.activity:
            return own
    return ()


def _road(told: Asked, line: PriceLine) -> Reason:
    settings, job = told.settings, told.design.job
    travel = settings.travel
    concrete, other = told.works
    days = crew_days((*other, *concrete), settings)
    inputs = [
        computed(
            "d", "one way from the yard", travel.distance_m or 0.0, "m", "stated in the job, [price] distance"
        ),
        computed(
            "n", "days on the site", float(days), "1", "hours of all works over those of the crew's day"
        ),
        practice(
            job,
            "price.repull_visits",
            ("v", "more journeys, for the re-pull"),
            float(travel.more_visits),
            "1",
        ),
    ]
    if line.id == "travel-vehicle":
        size = UNITS["length"].get(line.unit, 1.0)
        inputs += [
            computed("c", "vehicles", float(travel.vehicles), "1", "[price] vehicles, or one"),
            computed("u", f"one {line.unit}", size, "m", "by definition"),
        ]
        words, symbols = "there and back, each journey, each vehicle", "q = 2 d (n + v) c / u"
    else:
        inputs += [
            asked(
                job,
                "price.travel_speed",
                "price.travel_speed",
                ("s", "speed on the road"),
                travel.speed_m_s,
                "m/s",
            ),
            computed("c", "crew", float(settings.crew), "1", "[programme] crew, names, or practice"),
            computed("u", "seconds in an hour", 3600.0, "1", "by definition"),
        ]
        words, symbols = "there and back, each journey, the whole crew", "q = 2 d (n + v) c / (s u)"
    return Reason(
        "quantity",
        "1 journey"
        if days + travel.more_visits == 1
        else f"{few_figures(float(days + travel.more_visits))} journeys",
        tuple(inputs),
        words,
        symbols,
        float(line.quantity),
        line.unit,
        "",
        "fewer days on the site, or a shorter way",
    )
