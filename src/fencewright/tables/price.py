"""What pricing gives: the price book as read, and the price with its lines, steps and subtotals.

Money is exact: every amount is a `Decimal` in whole minor units of the currency (cents), so that the lines that are
shown add up to the total that is shown. A price that nobody stated is None, never 0.
"""

from dataclasses import dataclass, field
from decimal import Decimal

from fencewright.findings import Finding
from fencewright.tables.risk import Risk

KINDS = ("material", "labour", "plant", "travel", "other")


@dataclass(frozen=True, slots=True)
class PriceRow:
    """One row of a price book.

    `item` id or name of what is bought, a trade, or a machine; `size` where the name alone does not tell; `kind` one
    of `KINDS`; `unit` of the thing (`piece`, `bag`, `h`, `day`, `delivery`, `m`, ...); `pack` units that the price
    buys; `price` of one pack; `low`, `high` the least and the most that it may become, None where nobody said;
    `date` ISO day of the price, empty where not stated; `supplier` free text; `where` the row in its file.
    """

    item: str
    unit: str
    price: Decimal
    kind: str = "material"
    size: str = ""
    pack: Decimal = Decimal(1)
    low: Decimal | None = None
    high: Decimal | None = None
    date: str = ""
    supplier: str = ""
    where: str = ""


@dataclass(frozen=True, slots=True)
class PriceBook:
    """A price book as read: its `name`, its rows, the `currency` that it states (empty where it does not).

    `rates` the builder's own production rates: work, how much of it a gang does in an hour, where it stands; `note`
    what the book says of itself.
    """

    name: str
    rows: tuple[PriceRow, ...]
    currency: str = ""
    rates: tuple[tuple[str, Decimal, str], ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class NeededPrice:
    """One price that a job is paid by, whatever lines it pays: one that is known, or one that nobody states yet.

    `item`, `size`, `kind`, `unit`, `pack`, `low`, `high`, `date`, `supplier` as of a `PriceRow`; `price` None where
    nobody states it; `quantity` in `unit` of all its lines; `used_for` what the lines are called; `where` the row that
    states it, `the job` for a price of an `[[extra]]`, empty where it is missing; `why` what the book has instead.
    """

    item: str
    size: str
    kind: str
    unit: str
    pack: Decimal
    price: Decimal | None
    quantity: Decimal
    used_for: tuple[str, ...]
    low: Decimal | None = None
    high: Decimal | None = None
    date: str = ""
    supplier: str = ""
    where: str = ""
    why: str = ""


@dataclass(frozen=True, slots=True)
class PriceChange:
    """A row of a price book as it is to be: found by `item`, `size`, `kind` and `unit`, else added.

    `price` None takes the row out; `pack`, `low`, `high`, `date`, `supplier` None leave what stands there, and an
    empty `date` or `supplier` takes it away.
    """

    item: str
    unit: str
    price: Decimal | None
    kind: str = "material"
    size: str = ""
    pack: Decimal | None = None
    low: Decimal | None = None
    high: Decimal | None = None
    date: str | None = None
    supplier: str | None = None


@dataclass(frozen=True, slots=True)
class PriceLine:
    """One line of an estimate.

    Attributes
    ----------
    id : str
        That of the order's line for a material, else one of its own (`work-auger-holes`, `plant-auger-day`).
    item, size, kind, activity : str
        What it is; `kind` one of `KINDS`.
    quantity : Decimal
        In `unit`, to a hundredth (labour and plant: hours, days or deliveries).
    unit : str
        Of the quantity.
    pack, packs : Decimal
        Units that `pack_price` buys, and how often it is paid.
    pack_price : Decimal or None
        Price of one pack; None where the price is missing.
    amount : Decimal or None
        `packs * pack_price`, rounded half up to whole minor units; None where the price is missing.
    low_price, high_price : Decimal or None
        What the pack price may become, as the price book states it.
    source : str
        Where the price is from: file, supplier and day.
    basis : str
        How the quantity came about, with the source of its rate.
    driver : str
        Name of what moves this line and others together, empty where it stands alone.
    low_quantity, high_quantity : Decimal or None
        Least and most that the quantity may become, where its rate says so.
    by_paddock : tuple of Decimal
        The amount split among the lines of the fence, adding up to it; zeros where the price is missing.
    """

    id: str
    item: str
    size: str
    kind: str
    activity: str
    quantity: Decimal
    unit: str
    pack: Decimal
    packs: Decimal
    pack_price: Decimal | None
    amount: Decimal | None
    low_price: Decimal | None = None
    high_price: Decimal | None = None
    source: str = ""
    basis: str = ""
    driver: str = ""
    low_quantity: Decimal | None = None
    high_quantity: Decimal | None = None
    by_paddock: tuple[Decimal, ...] = ()

    @property
    def unit_price(self) -> Decimal | None:
        """Price of one unit, to a millionth; None where it is missing."""
        if self.pack_price is None:
            return None
        return (self.pack_price / self.pack).quantize(Decimal("0.000001"))


@dataclass(frozen=True, slots=True)
class PriceStep:
    """One step from the lines to the total, in order.

    `name`: `material`, `labour`, `plant`, `travel`, `other` (sums of the lines of a kind), `direct` (their sum),
    `contingency`, `overhead`, `margin`, `rounding`, `net` (before tax), `tax`, `total`. `rule` tells how `amount`
    follows from `base` and `rate`: `sum` (the base itself), `rate` (base x rate), `margin` (base x rate / (1 - rate)),
    `round` (to the nearest whole `rate`, half up, less the base). Every amount is rounded half up to minor units.
    """

    name: str
    rule: str
    base: Decimal
    rate: Decimal
    amount: Decimal


@dataclass(frozen=True, slots=True)
class Subtotal:
    """What falls on an activity or a paddock: `direct` of the lines, `total` its part of the whole price."""

    name: str
    direct: Decimal
    total: Decimal


@dataclass(frozen=True, slots=True)
class MissingPrice:
    """A line whose price nobody stated: `id` of the line, how much of it, and what to add to the price book."""

    id: str
    item: str
    quantity: Decimal
    unit: str
    why: str


@dataclass(frozen=True, slots=True)
class Ownership:
    """Yearly cost of owning the fence, in the currency of the price (a ratio where it says so).

    `life_years` [yr]; `depreciation` = initial / life; `interest` = `interest_rate` x initial / 2; `maintenance` =
    `maintenance_rate` x initial; `total` their sum; `per_foot`, `per_metre` of it.
    """

    initial: Decimal
    life_years: Decimal
    interest_rate: Decimal
    maintenance_rate: Decimal
    depreciation: Decimal
    interest: Decimal
    maintenance: Decimal
    total: Decimal
    per_foot: Decimal
    per_metre: Decimal


@dataclass(frozen=True, slots=True)
class NeighbourShare:
    """What a neighbour pays of the common boundary: `share` of the part `length_m` of line `paddock`."""

    name: str
    paddock: str
    length_m: float
    share: Decimal
    amount: Decimal


@dataclass(frozen=True, slots=True)
class Payment:
    """One stage of payment; the amounts of all stages add up to what the customer pays."""

    stage: str
    share: Decimal
    amount: Decimal


@dataclass(frozen=True, slots=True)
class ConcreteChoice:
    """Bags against ready-mix: what each way costs with its work, None where a price is missing, and which is taken."""

    taken: str
    bags: Decimal | None
    ready_mix: Decimal | None
    volume_m3: float
    why: str


@dataclass(frozen=True, slots=True)
class KeyFigures:
    """What a design comes to: counts, rail and concrete [m], [m3], hours [h], and whether it may be built."""

    posts: int
    braces: int
    pulls: int
    rolls: int
    rail_m: float
    concrete_m3: float
    labour_hours: Decimal
    crew_days: int
    may_be_built: bool


@dataclass(frozen=True, slots=True)
class PricedAlternative:
    """Another way of building the fence, priced beside the job's own.

    `change` what differs in the job, in words; `total` None where nothing is priced; `difference` from the job's own
    total; `missing` how many lines have no price; `figures` of its design.
    """

    name: str
    change: str
    total: Decimal | None
    difference: Decimal | None
    per_foot: Decimal | None
    per_metre: Decimal | None
    missing: int
    figures: KeyFigures


@dataclass(frozen=True, slots=True)
class Price:
    """The price of a design.

    Attributes
    ----------
    currency : str
        ISO 4217 code.
    digits : int
        Decimal places of its minor unit.
    day : str
        ISO day for which the price is reckoned; empty where the job states none.
    book : str
        Name of the price book; empty where there is none.
    lines : tuple of PriceLine
        Everything that is priced, materials in the order's order, then labour, plant, travel, other.
    steps : tuple of PriceStep
        From the lines to the total.
    by_activity, by_paddock : tuple of Subtotal
        Each adds up to the direct sum and to the total.
    total : Decimal or None
        What the work costs the customer, tax included; None where nothing at all is priced. It leaves out what
        `missing` lists.
    missing : tuple of MissingPrice
        Lines without a price.
    length_m : float
        Plan length of the fence, gates included, of which the cost per foot and per metre is reckoned. [m]
    per_foot, per_metre : Decimal or None
        Of the total.
    labour_hours : Decimal
        Of all trades. [h]
    crew_days : int
        Whole days of the crew on the site. [d]
    concrete : ConcreteChoice or None
        None where the fence takes no concrete.
    neighbours : tuple of NeighbourShare
        What others pay.
    customer_total : Decimal or None
        The total less what the neighbours pay.
    payments : tuple of Payment
        When the customer pays which part.
    valid_days : int
        How long the price stands. [d]
    ownership : Ownership or None
        Yearly cost over the stated life.
    findings : tuple of Finding
        What pricing has to say, stops first.
    risk : Risk or None
        Filled by the simulation.
    figures : KeyFigures or None
        Of the job's own design, to lay beside the alternatives'.
    alternatives : tuple of PricedAlternative
        In the order of the job.
    """

    currency: str
    digits: int
    day: str
    book: str
    lines: tuple[PriceLine, ...]
    steps: tuple[PriceStep, ...]
    by_activity: tuple[Subtotal, ...]
    by_paddock: tuple[Subtotal, ...]
    total: Decimal | None
    missing: tuple[MissingPrice, ...]
    length_m: float
    per_foot: Decimal | None
    per_metre: Decimal | None
    labour_hours: Decimal
    crew_days: int
    concrete: ConcreteChoice | None = None
    neighbours: tuple[NeighbourShare, ...] = ()
    customer_total: Decimal | None = None
    payments: tuple[Payment, ...] = ()
    valid_days: int = 0
    ownership: Ownership | None = None
    findings: tuple[Finding, ...] = field(default=())
    risk: Risk | None = None
    figures: KeyFigures | None = None
    alternatives: tuple[PricedAlternative, ...] = ()

    def step(self, name: str) -> PriceStep | None:
        """Find a step by its name; None where there is none."""
        return next((one for one in self.steps if one.name == name), None)
