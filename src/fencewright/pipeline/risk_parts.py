"""Which lines of a price move with what: hours with the ground and the crew, prices with the market, weather, rock."""

from dataclasses import dataclass, field
from decimal import Decimal

import numpy as np

from fencewright.job.risk_settings import RiskSettings
from fencewright.tables.price import PriceLine
from fencewright.tables.risk import Kind, Shape, Uncertainties

MARKET, GROUND, CREW = range(3)  # drivers
_SMALL = 0.03  # of the things bought: prices of less are taken together
_SMALL_NAME = "small things"
_MACHINES, _WAGES = "machines", "wages"

# Name, words and remedy of what moves the hours of several works together, by its `driver`.
_WORK = {
    "hole time": ("Time for each hole", "Dig two or three trial holes with the machine that will be used."),
    "setting": (
        "Setting posts and pouring concrete",
        "Time your own crew at ten posts, and state it as [[rate]].",
    ),
    "rail work": ("Work at the rails", "Time your own crew at one run, and state it as [[rate]]."),
    "site": ("Preparing the site", "Walk the line, and agree with the owner who clears what."),
    "": ("Other work", "Time your own crew, and state it as [[rate]]."),
}


@dataclass(frozen=True, slots=True)
class Uncertain:
    """One row of `Uncertainties` as it is gathered."""

    name: str
    words: str
    remedy: str
    low: float
    mode: float
    high: float
    driver: int
    loading: float
    unit: str = ""
    kind: Kind = Kind.SINGLE
    count: int = 1


@dataclass(frozen=True, slots=True)
class RockCost:
    """Direct cost if every one of `holes` met rock; `low`, `high` of its rate, as parts of it."""

    holes: int
    cost: float
    low: float = 1.0
    high: float = 1.0


NO_ROCK = RockCost(0, 0.0)


@dataclass
class Gathered:
    """Rows and terms as they are found; a row without any spread is left out and moves nothing."""

    rows: list[Uncertain] = field(default_factory=list)
    amounts: list[float] = field(default_factory=list)
    factors: list[tuple[int, ...]] = field(default_factory=list)

    def add(self, row: Uncertain) -> tuple[int, ...]:
        """Add an uncertainty; where it stands, as the factors of a term."""
        if not row.high > row.low:
            return ()
        self.rows.append(row)
        return (len(self.rows) - 1,)

    def cost(self, amount: float, *factors: tuple[int, ...]) -> None:
        """Add a cost and what moves it."""
        self.amounts.append(amount)
        self.factors.append(tuple(sorted(row for some in factors for row in some)))

    def uncertainties(self, shape: Shape) -> Uncertainties:
        """As a table."""
        rows = self.rows
        return Uncertainties(
            tuple(row.name for row in rows),
            tuple(row.words for row in rows),
            tuple(row.unit for row in rows),
            tuple(row.remedy for row in rows),
            np.array([row.low for row in rows], np.float64),
            np.array([row.mode for row in rows], np.float64),
            np.array([row.high for row in rows], np.float64),
            np.full(len(rows), int(shape), np.int64),
            np.array([int(row.kind) for row in rows], np.int64),
            np.array([row.count for row in rows], np.int64),
            np.array([row.driver for row in rows], np.int64),
            np.array([row.loading for row in rows], np.float64),
        )


def is_concrete(line: PriceLine) -> bool:
    """Whether a line is concrete itself, or its mixing and pouring."""
    return line.activity == "concrete"


def _mean(rows: list[tuple[float, float]]) -> float:
    """Mean of values by their weights."""
    return sum(weight * value for weight, value in rows) / sum(weight for weight, _ in rows)


def work_factors(
    gathered: Gathered, lines: list[PriceLine], settings: RiskSettings, holes: int
) -> dict[str, tuple[int, ...]]:
    """A factor on the hours of each kind of work that moves together."""
    factors: dict[str, tuple[int, ...]] = {}
    spread = [line for line in lines if line.low_quantity is not None and line.high_quantity is not None]
    for driver in dict.fromkeys(line.driver for line in spread):
        own = [line for line in spread if line.driver == driver and line.quantity]
        if not own:
            continue
        low, high = _spread(own)
        words, remedy = _WORK.get(driver, (f"Work: {driver}", _WORK[""][1]))
        in_ground = driver == "hole time"
        factors[driver] = gathered.add(
            Uncertain(
                driver or "other work",
                words,
                remedy,
                low,
                1.0,
                high,
                GROUND if in_ground else CREW,
                settings.ground if in_ground else settings.crew,
                kind=Kind.MEAN_OF_MANY if in_ground else Kind.SINGLE,
                count=holes if in_ground else 1,
            )
        )
    return factors


def _spread(lines: list[PriceLine]) -> tuple[float, float]:
    """Least and most hours of lines, as parts of what is estimated, by what they cost."""
    cost = [float(line.amount or 0) for line in lines]
    low = [float((line.low_quantity or line.quantity) / line.quantity) for line in lines]
    high = [float((line.high_quantity or line.quantity) / line.quantity) for line in lines]
    return _mean(list(zip(cost, low, strict=True))), _mean(list(zip(cost, high, strict=True)))


def moved_hours(
    line: PriceLine, lines: list[PriceLine], works: dict[str, tuple[int, ...]]
) -> list[tuple[float, tuple[int, ...]]]:
    """Parts of a line's amount and the work that moves each: travel goes with all hours, by their cost."""
    amount = float(line.amount or 0)
    if line.kind == "travel":
        labour = [one for one in lines if one.kind == "labour"]
        whole = sum(float(one.amount or 0) for one in labour)
        if whole:
            return [(amount * float(one.amount or 0) / whole, works.get(one.driver, ())) for one in labour]
    moves = line.kind == "labour" or (line.kind == "plant" and line.unit != "delivery")
    return [(amount, works.get(line.driver, ()) if moves else ())]


def price_name(line: PriceLine) -> str:
    """What a line's price moves with: its own thing, machines and vehicles, or wages."""
    if line.kind == "labour" or (line.kind == "travel" and line.unit == "h"):
        return _WAGES
    return _MACHINES if line.kind in ("plant", "travel") else line.item


def price_factors(
    gathered: Gathered, lines: list[PriceLine], settings: RiskSettings
) -> dict[str, tuple[int, ...]]:
    """A factor on the price of each thing, on that of all small ones together, of machines, and of wages."""
    groups: dict[str, list[PriceLine]] = {}
    for line in lines:
        groups.setdefault(price_name(line), []).append(line)
    bought = sum(float(line.amount or 0) for line in lines if line.kind == "material")
    small = [
        name
        for name, own in groups.items()
        if own[0].kind == "material" and sum(float(line.amount or 0) for line in own) < _SMALL * bought
    ]
    joined = [line for name in small for line in groups.pop(name)]
    if joined:
        groups[_SMALL_NAME] = joined
    factors = {name: gathered.add(_price_row(name, own, settings)) for name, own in groups.items()}
    return {**factors, **dict.fromkeys(small, factors.get(_SMALL_NAME, ()))}


def _price_row(name: str, lines: list[PriceLine], settings: RiskSettings) -> Uncertain:
    """How far a price may move: as the price book states it, else as `[risk]` does for what is bought or hired."""
    is_bought = lines[0].kind == "material" or name == _MACHINES
    fall, rise = (settings.price_fall, settings.price_rise) if is_bought else (0.0, 0.0)
    low = _mean([(float(line.amount or 0), _ratio(line.low_price, line, 1 - fall)) for line in lines])
    high = _mean([(float(line.amount or 0), _ratio(line.high_price, line, 1 + rise)) for line in lines])
    remedy = (
        "State in the price book the least and the most that you will pay."
        if name == _WAGES
        else "Ask for a price that is held, or state its low and high in the price book."
    )
    words = "Wages" if name == _WAGES else f"Price of {name}"
    return Uncertain(
        f"price of {name}", words, remedy, min(low, 1.0), 1.0, max(high, 1.0), MARKET, settings.market
    )


def _ratio(stated: Decimal | None, line: PriceLine, usual: float) -> float:
    """A price that the book states as a part of the one that is reckoned with."""
    return usual if stated is None or not line.pack_price else float(stated / line.pack_price)


def add_weather(
    gathered: Gathered, lines: list[PriceLine], settings: RiskSettings, scale: float, whole: tuple[int, ...]
) -> None:
    """Days lost to weather: part of their labour and plant is paid."""
    daily = sum(float(line.amount or 0) for line in lines if line.kind in ("labour", "plant"))
    row = Uncertain(
        "weather", "Days lost to weather", "Build in the dry season, or agree that lost days are paid.",
        0.0, settings.weather, settings.weather_most, -1, 0.0, unit="of the working days",
    )  # fmt: skip
    factor = gathered.add(row)
    usual = 1.0 if factor else settings.weather
    gathered.cost(scale * daily * settings.weather_paid * usual, factor, whole)


def add_rock(
    gathered: Gathered, settings: RiskSettings, rock: RockCost, scale: float, whole: tuple[int, ...]
) -> None:
    """Rock in a part of the holes, in place of the part that the estimate holds."""
    if rock.cost <= 0 or not rock.holes:
        return
    row = Uncertain(
        "rock", "Holes that meet rock", "Dig trial holes along the line, and state [price] rock_share.",
        settings.rock_least, settings.rock_share, settings.rock_most, GROUND, settings.ground,
        unit="of the holes", kind=Kind.PART_OF_MANY, count=rock.holes,
    )  # fmt: skip
    factor = gathered.add(row)
    if factor:
        remedy = "Agree on a rate for a hole in rock before the work begins."
        rate = Uncertain(
            "rate for rock",
            "Rate for a hole in rock",
            remedy,
            min(rock.low, 1.0),
            1.0,
            max(rock.high, 1.0),
            -1,
            0.0,
        )
        gathered.cost(scale * rock.cost, factor, gathered.add(rate), whole)
        gathered.cost(-scale * rock.cost * settings.rock_share, whole)
