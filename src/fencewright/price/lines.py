"""Lines of an estimate: a thing, a kind of work, a machine, each priced from the price book or shown as missing."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from fencewright.price.book_search import Found, PriceIndex
from fencewright.price.money import cents, decimal_of, split, whole_packs
from fencewright.quantity.show import few_figures, unit_of
from fencewright.tables.price import MissingPrice, PriceLine, PriceRow
from fencewright.tables.price_task import PriceItem, Work


@dataclass(frozen=True, slots=True)
class Cost:
    """How much is paid: `quantity` in `unit`; `packs` of `pack` units at the price of `row`, None where missing."""

    quantity: Decimal
    unit: str
    row: PriceRow | None
    pack: Decimal
    packs: Decimal


@dataclass(frozen=True, slots=True)
class Why:
    """How a quantity came about, what moves it with others, the least and the most that it may become."""

    words: str = ""
    driver: str = ""
    spread: tuple[Decimal, Decimal] | None = None


def unpriced(quantity: Decimal, unit: str) -> Cost:
    """A quantity without a price."""
    return Cost(quantity, unit, None, Decimal(1), quantity)


@dataclass
class Ledger:
    """Lines as they are written down, with what has no price; `weights` (paddocks,) where a line names none."""

    index: PriceIndex
    digits: int
    weights: tuple[float, ...]
    lines: list[PriceLine] = field(default_factory=list)
    missing: list[MissingPrice] = field(default_factory=list)
    misfits: list[str] = field(default_factory=list)

    def price_item(self, item: PriceItem) -> None:
        """Add a thing: whole packs of it, at the price of a pack."""
        own = PriceRow(item.item, item.unit, item.price, item.kind) if item.price is not None else None
        found = Found(own, 1.0) if own else self.index.find(searched_names(item), item.size, (item.unit,))
        if isinstance(found, str):
            name = item.sold_as or f"{item.item} {item.size}".strip()
            near = self.index.near(name, item.sold_as or item.item)
            self._miss(MissingPrice(item.id, name, decimal_of(item.order), item.unit, found or near), found)
            self._add(item, unpriced(decimal_of(item.order), item.unit))
            return
        quantity, pack = item.order / found.factor, float(found.row.pack)
        is_whole = item.is_whole and not own
        packs = whole_packs(quantity, pack) if is_whole else decimal_of(quantity / pack)
        unit = found.row.unit or item.unit
        self._add(item, Cost(decimal_of(quantity), unit, found.row, found.row.pack, packs))

    def price_work(self, work: Work, hours_a_day: Decimal) -> None:
        """Add the hours of a work at the price of its trade; a price for a day buys a working day's hours."""
        hours = decimal_of(labour_hours(work))
        found = self.index.find((work.trade,), "", ("h", "day"))
        words = f"{few_figures(work.quantity)} {unit_of(work.quantity, work.unit)}, {work.rate_words} ({work.source})"
        line = PriceItem(
            work.id, work.item, work.trade, "h", float(hours), 1.0, work.activity, work.weights, "labour"
        )
        spread = (
            decimal_of(work.quantity / work.quick_per_hour * work.hands),
            decimal_of(work.quantity / work.slow_per_hour * work.hands),
        )
        why = Why(words, work.driver, spread)
        if isinstance(found, str):
            near = self.index.near(work.trade)
            self._miss(MissingPrice(work.id, work.trade, hours, "h", found or near), found)
            self._add(line, unpriced(hours, "h"), why)
            return
        pack = hours_a_day * found.row.pack if found.row.unit.casefold().startswith("day") else found.row.pack
        packs = (hours / pack).quantize(Decimal("0.0001")) if pack != 1 else hours
        self._add(line, Cost(hours, "h", found.row, pack, packs), why)

    def price_plant(self, plant: str, works: Sequence[Work], hours_a_day: Decimal) -> None:
        """Add a machine: by the hour or the day, whichever the book has (the cheaper of both), and its delivery."""
        hours = sum(work.quantity / work.per_hour for work in works)
        days = whole_packs(hours, float(hours_a_day))
        ways = {
            "h": self.index.find((plant,), "", ("h",)),
            "day": self.index.find((plant,), "", ("day",)),
        }
        amounts = {"h": decimal_of(hours), "day": days}
        priced = {
            unit: amounts[unit] / found.row.pack * found.row.price
            for unit, found in ways.items()
            if isinstance(found, Found)
        }
        unit = min(priced, key=lambda one: priced[one]) if priced else "h"
        line = PriceItem(
            f"plant-{slug(plant)}-{unit}",
            plant,
            "",
            unit,
            float(amounts[unit]),
            1.0,
            works[0].activity,
            paddock_hours(works, self.weights),
            "plant",
        )
        words = f"{hours:,.1f} machine hours in {works[0].activity}"
        found = ways[unit]
        why = Why(words, works[0].driver)
        if isinstance(found, str):
            near = self.index.near(plant)
            self._miss(MissingPrice(line.id, plant, amounts[unit], unit, found or near), found)
            self._add(line, unpriced(amounts[unit], unit), why)
            return
        packs = (amounts[unit] / found.row.pack).quantize(Decimal("0.0001"))
        packs = packs if found.row.pack != 1 else amounts[unit]
        self._add(line, Cost(amounts[unit], unit, found.row, found.row.pack, packs), why)
        self._deliver(plant, line)

    def _deliver(self, plant: str, line: PriceItem) -> None:
        """Add the delivery of a machine where the book prices one: there and back once."""
        found = self.index.find((plant,), "", ("delivery",))
        if isinstance(found, Found):
            once = PriceItem(
                f"plant-{slug(plant)}-delivery",
                f"{plant}, delivery",
                "",
                "delivery",
                1.0,
                1.0,
                line.activity,
                line.weights,
                "plant",
            )
            self._add(
                once,
                Cost(Decimal(1), "delivery", found.row, Decimal(1), Decimal(1)),
                Why("brought and fetched once"),
            )

    def _miss(self, row: MissingPrice, misfit: str) -> None:
        self.missing.append(row)
        if misfit:
            self.misfits.append(f"{row.item} is {misfit}")

    def _add(self, item: PriceItem, cost: Cost, why: Why | None = None) -> None:
        why, row = why or Why(), cost.row
        amount = None if row is None else cents(cost.packs * row.price, self.digits)
        weights = item.weights or self.weights
        parts = split(amount or Decimal(0), weights, self.digits)
        self.lines.append(
            PriceLine(
                id=item.id,
                item=item.item,
                size=item.size,
                kind=item.kind,
                activity=item.activity,
                quantity=cost.quantity,
                unit=cost.unit,
                pack=cost.pack,
                packs=cost.packs,
                pack_price=None if row is None else row.price,
                amount=amount,
                low_price=None if row is None else row.low,
                high_price=None if row is None else row.high,
                source=source_words(row),
                basis=why.words or item.basis,
                driver=why.driver,
                low_quantity=None if why.spread is None else why.spread[0],
                high_quantity=None if why.spread is None else why.spread[1],
                by_paddock=parts,
            )
        )


def searched_names(item: PriceItem) -> tuple[str, ...]:
    """Names by which a thing is looked for in a price book, its own id first."""
    return (item.id, f"{item.item} {item.size}".strip(), item.sold_as or item.item)


def source_words(row: PriceRow | None) -> str:
    """Where a price is from, in words; empty where there is none."""
    if row is None:
        return ""
    return ", ".join(part for part in (row.where or "the job", row.supplier, row.date) if part)


def labour_hours(work: Work) -> float:
    """Hours of a work, of all hands. [h]"""
    return work.quantity / work.per_hour * work.hands


def paddock_hours(works: Sequence[Work], weights: tuple[float, ...]) -> tuple[float, ...]:
    """Labour hours of works by paddock. (paddocks,) [h]"""
    totals = [0.0] * len(weights)
    for work in works:
        own = work.weights or weights
        whole = sum(own) or 1.0
        for k, weight in enumerate(own):
            totals[k] += labour_hours(work) * weight / whole
    return tuple(totals)


def slug(name: str) -> str:
    """A name as part of an id."""
    return "-".join("".join(c if c.isalnum() else " " for c in name).split())
