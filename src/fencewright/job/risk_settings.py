"""What a price's risk is reckoned with: the job's where stated, else the trade default."""

from dataclasses import dataclass

from fencewright.findings import InputError
from fencewright.job.filling import Filling


@dataclass(frozen=True, slots=True)
class RiskSettings:
    """Shares of what they move [-].

    `is_triangular` else PERT; `price_fall`, `price_rise` of a price; `rock_least`, `rock_share`, `rock_most` parts of
    the holes; `weather`, `weather_most` parts of the working days, `weather_paid` of a lost day's cost; `concrete_less`,
    `concrete_more` of the concrete ordered; `market`, `ground`, `crew` correlation of each with its shared score.
    """

    runs: int
    seed: int
    is_triangular: bool
    price_fall: float
    price_rise: float
    rock_least: float
    rock_share: float
    rock_most: float
    weather: float
    weather_most: float
    weather_paid: float
    concrete_less: float
    concrete_more: float
    market: float
    ground: float
    crew: float


def fill_risk(filling: Filling) -> RiskSettings:
    """Resolve `[risk]` of a job; expected rock and weather come from `[price]` and `[programme]`.

    Raises
    ------
    InputError
        Least, most likely and most out of order.
    """
    asked, take = filling.asked.risk, filling.take
    rock, weather = filling.asked.price.rock_share, filling.asked.programme.weather
    settings = RiskSettings(
        runs=int(take(asked.runs, "risk.runs")),
        seed=int(take(asked.seed, "risk.seed")),
        is_triangular=take(asked.shape, "risk.shape") == "triangular",
        price_fall=take(asked.price_fall, "risk.price_fall"),
        price_rise=take(asked.price_rise, "risk.price_rise"),
        rock_least=_least(asked.rock_least, rock, float(take(None, "risk.rock_least"))),
        rock_share=rock or 0.0,
        rock_most=_most(asked.rock_most, rock, float(take(None, "risk.rock_most"))),
        weather=take(weather, "programme.weather"),
        weather_most=_most(asked.weather_most, weather, float(take(None, "risk.weather_most"))),
        weather_paid=take(asked.weather_paid, "risk.weather_paid"),
        concrete_less=take(asked.concrete_less, "risk.concrete_less"),
        concrete_more=take(asked.concrete_more, "risk.concrete_more"),
        market=take(asked.market, "risk.market"),
        ground=take(asked.ground, "risk.ground"),
        crew=take(asked.crew, "risk.crew"),
    )
    _refuse(settings)
    return settings


def _least(stated: float | None, likely: float | None, usual: float) -> float:
    """Least that is stated; a default never lies above the most likely."""
    return float(stated) if stated is not None else min(usual, likely or 0.0)


def _most(stated: float | None, likely: float | None, usual: float) -> float:
    """Most that is stated; a default never lies below the most likely."""
    return float(stated) if stated is not None else max(usual, likely or 0.0)


def _refuse(settings: RiskSettings) -> None:
    if not settings.rock_least <= settings.rock_share <= settings.rock_most:
        raise InputError(
            f"the expected part of {settings.rock_share:.0%} ([price] rock_share) does not lie between rock_least and "
            "rock_most: put the three in order",
            item="risk",
        )
    if settings.weather > settings.weather_most:
        raise InputError(
            f"is less than the {settings.weather:.0%} expected in [programme] weather: write more",
            item="risk, weather_most",
        )
