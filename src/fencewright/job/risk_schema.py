"""The job file's table `[risk]`: how far the uncertain parts of a price may move, and how it is simulated."""

from typing import Annotated, Literal

from pydantic import Field

from fencewright.job.fields import Addition, Section, Share


class Risk(Section):
    """`[risk]`: how far the uncertain parts of a price may move, and how it is simulated."""

    runs: Annotated[int, Field(ge=1000, le=1_000_000, strict=True)] | None = Field(
        None, description="Runs of the simulation, 1,000 to 1,000,000."
    )
    seed: Annotated[int, Field(ge=0, le=2**32 - 1, strict=True)] | None = Field(
        None, description="The same seed gives the same numbers."
    )
    shape: Literal["pert", "triangular"] | None = Field(
        None, description="How chance is spread over least, most likely and most."
    )
    price_fall: Share | None = Field(
        None, description="How far a price may fall, where the price book states no `low`."
    )
    price_rise: Addition | None = Field(
        None, description="How far a price may rise, where the price book states no `high`."
    )
    rock_least: Share | None = Field(None, description="Least part of the holes that meets rock.")
    rock_most: Share | None = Field(None, description="Largest part of the holes that meets rock.")
    weather_most: Share | None = Field(None, description="Largest part of the working days lost to weather.")
    weather_paid: Share | None = Field(
        None, description="Part of a lost day's labour and plant that is paid."
    )
    concrete_less: Share | None = Field(
        None, description="How much less concrete the holes may take than ordered for."
    )
    concrete_more: Addition | None = Field(None, description="How much more, in ragged holes.")
    market: Share | None = Field(None, description="How closely prices move together, 0 to 100 %.")
    ground: Share | None = Field(
        None, description="How closely hole times, rock and concrete move together, 0 to 100 %."
    )
    crew: Share | None = Field(
        None, description="How closely the other kinds of work move together, 0 to 100 %."
    )
