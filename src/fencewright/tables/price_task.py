"""What is priced: things to buy, work to do, and the two ways of concreting, measured by line of the fence."""

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class PriceItem:
    """One thing to buy, as the order has it.

    `id` of the order's line; `order` whole packs, in `unit`; `pack` units in a pack; `activity` that uses it;
    `weights` (paddocks,) what part of it goes to each line, not scaled, empty: by length; `price` of one unit that the
    job itself states, None where the price book is to say; `is_whole` only whole packs of it are paid; `basis` how
    the quantity came about; `sold_as` its name in a price book, where that is another.
    """

    id: str
    item: str
    size: str
    unit: str
    order: float
    pack: float
    activity: str
    weights: tuple[float, ...] = ()
    kind: str = "material"
    price: Decimal | None = None
    is_whole: bool = True
    basis: str = ""
    sold_as: str = ""


@dataclass(frozen=True, slots=True)
class Work:
    """One kind of work, measured.

    `quantity` in `unit` (holes, posts, m of rail, ...); `per_hour` of them that a gang of `hands` does, so labour
    hours are quantity / per_hour x hands and hours of the machine `plant` (empty where none) quantity / per_hour;
    `slow_per_hour`, `quick_per_hour` the least and the most; `trade` who does it; `source` of the rate; `driver` name
    of what moves the hours of several works together (`hole time`, `rock`, empty where nothing does); `weights`
    (paddocks,) what part of it falls on each line, not scaled; `rate_words` how the rate is told.
    """

    id: str
    item: str
    activity: str
    quantity: float
    unit: str
    per_hour: float
    slow_per_hour: float
    quick_per_hour: float
    trade: str
    plant: str = ""
    hands: float = 1.0
    rate_words: str = ""
    source: str = ""
    driver: str = ""
    weights: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class ConcreteWay:
    """One way of getting concrete into the holes: what is bought, and its work."""

    items: tuple[PriceItem, ...]
    works: tuple[Work, ...]


@dataclass(frozen=True, slots=True)
class PriceTask:
    """The quantities that are priced.

    `items` of the order and other things paid by the piece, bagged concrete apart; `works`; `paddocks` names of the
    fence's lines and `length_m` (paddocks,) their plan lengths [m]; `bags` and `ready_mix` the two ways of concreting,
    None where the fence takes none; `concrete_m3` net volume [m3]; `common` a row for each neighbour: name, line,
    length of the common part [m], share; `rates_are_own` whether every production rate is the builder's.
    """

    items: tuple[PriceItem, ...]
    works: tuple[Work, ...]
    paddocks: tuple[str, ...]
    length_m: tuple[float, ...]
    bags: ConcreteWay | None = None
    ready_mix: ConcreteWay | None = None
    concrete_m3: float = 0.0
    common: tuple[tuple[str, str, float, float], ...] = ()
    rates_are_own: bool = False
