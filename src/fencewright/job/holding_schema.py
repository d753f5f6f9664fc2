"""The job file's tables `[tension]` and `[strength]`: how tight the rails are drawn, and what holds them."""

from typing import Literal

from pydantic import Field

from fencewright.job.fields import (
    Factor,
    Force,
    Irradiance,
    Section,
    Share,
    SmallLength,
    Speed,
    Temperature,
    TemperatureStep,
    Time,
)


class Tension(Section):
    """`[tension]`: how tight the rails are drawn, and how that is proved on site."""

    sag_limit: SmallLength | None = Field(
        None, description="Most sag of a rail between two posts on the hottest day."
    )
    allowed_share: Share | None = Field(
        None, description="Of a rail's breaking load on the coldest day, where its data sheet does not say."
    )
    reference_temperature: Temperature | None = Field(
        None, description="Rail temperature for which the set tension is stated."
    )
    friction_pulling: Factor | None = Field(None, description="Rail on bracket while it is drawn.")
    sun: Irradiance | None = Field(None, description="Sun on the rail's face on the hottest day.")
    wind: Speed | None = Field(None, description="Wind on the hottest day.")
    corner_bracket: SmallLength | None = Field(
        None, description="By how much the rail stands off the face of a post that it turns round."
    )
    spool_core: SmallLength | None = Field(None, description="Diameter of the tensioner's bare spool.")
    spool_full: SmallLength | None = Field(None, description="Diameter over which a full spool may not grow.")
    spool_width: SmallLength | None = Field(None, description="Of the spool between its flanges.")
    spool_holds: SmallLength | None = Field(
        None, description="Rail that the spool takes in; left out: from its size and the wire's."
    )
    hand_slack: Share | None = Field(
        None, description="Slack left in a rail pulled by hand, as a part of its length."
    )
    grip_rail: SmallLength | None = Field(None, description="Rail used up each time it is gripped anew.")
    marked_length: SmallLength | None = Field(
        None, description="Length marked on the rail, whose stretch is watched while pulling."
    )
    chart_from: Temperature | None = Field(None, description="First rail temperature of the chart.")
    chart_to: Temperature | None = Field(None, description="Last one.")
    chart_step: TemperatureStep | None = Field(None, description="Step between them.")
    push: Force | None = Field(None, description="Push at mid-span of the site check.")
    check_temperatures: list[Temperature] | None = Field(
        None, description="Rail temperatures for which the site checks are printed."
    )
    spring_keeper: bool | None = Field(None, description="Each pull has a spring-loaded keeper.")
    spring_travel: SmallLength | None = Field(None, description="By how much the keeper's spring gives ...")
    spring_force: Force | None = Field(None, description="... under this pull of one rail.")
    settlement: SmallLength | None = Field(
        None, description="By how much each end gives for good in its first season."
    )
    settling_time: Time | None = Field(None, description="Time in which two thirds of that have happened.")


class Strength(Section):
    """`[strength]`: the loads that posts, holes and braces must carry, and what they are made of."""

    method: Literal["asd", "lrfd"] | None = Field(
        None, description="Allowable stress, or load and resistance factors for timber and steel."
    )
    wind_speed: Speed | None = Field(None, description="Gust at strength level, as the code maps it.")
    exposure: Literal["B", "C", "D"] | None = Field(
        None, description="Country upwind: towns and woods, open country, open water and flats."
    )
    animal_force: Force | None = Field(None, description="Push of a leaning animal that reaches one post.")
    animal_height: SmallLength | None = Field(None, description="Height at which it leans.")
    ice_thickness: SmallLength | None = Field(None, description="Ice round the rails; left out: none.")
    timber: str | None = Field(None, description="Catalogue row of the posts' and braces' timber.")
    end_pipe: str = Field("", description="Catalogue row of steel pipe for ends, gates and corners.")
    line_pipe: str = Field("", description="Catalogue row of steel pipe for line posts.")
    wet_service: bool | None = Field(None, description="Timber values are taken wet.")
    cold_duration: Factor | None = Field(None, description="Load duration factor of the cold pull.")
    half_inch: bool | None = Field(
        None, description="Half an inch of motion at grade does no harm: doubles the lateral soil values."
    )
    uplift_model: Literal["shaft", "cylinder", "cone", "ledge"] | None = Field(
        None, description="What holds a concreted post down; the other models are second opinions."
    )
    deepest: SmallLength | None = Field(None, description="Deepest hole that can be dug.")
