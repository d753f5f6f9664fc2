"""The job file's table `[paper]`: what the papers say that the design does not know."""

import datetime
from typing import Annotated, Literal

from pydantic import Field, field_validator

from fencewright.job.fields import NUMBER, Date, Section


class Paper(Section):
    """`[paper]`: what stands on the papers beside the design: builder, contacts, ticket, hospital, scales."""

    size: Literal["letter", "a4"] | None = Field(
        None, description="Paper; left out: `letter` with US sheets, `a4` with metric ones."
    )
    builder_address: str = Field("", max_length=300, description="Address of the builder.")
    builder_phone: str = Field("", max_length=100, description="Telephone of the builder.")
    builder_licence: str = Field(
        "", max_length=200, description="Licence or registration of the builder, as text."
    )
    quote: str = Field("", max_length=60, description="Number of the quote, as text.")
    included: list[str] = Field(
        default_factory=list,
        max_length=30,
        description="What the quote includes besides, in the builder's words.",
    )
    excluded: list[str] = Field(
        default_factory=list,
        max_length=30,
        description="What the quote leaves out besides, in the builder's words.",
    )
    hand_over: Date | None = Field(
        None, description="Day of the hand-over; left out: the programme's last day, where it has dates."
    )
    logo: str | None = Field(
        None,
        description="Picture of the builder, a PNG, JPEG or SVG file of at most 5 MB beside the job file.",
    )
    contacts: list[str] = Field(
        default_factory=list,
        max_length=12,
        description="People of the site, one a line: who, for what, telephone.",
    )
    site_access: str = Field(
        "", max_length=500, description="How to reach the site, where to park, who opens."
    )
    ticket: str = Field("", max_length=100, description="Number of the locating ticket.")
    ticket_from: str = Field("", max_length=40, description="Day from which the ground may be opened.")
    ticket_to: str = Field("", max_length=40, description="Day on which the ticket runs out.")
    hospital: str = Field(
        "",
        max_length=300,
        description="Nearest hospital and its telephone; left out: a line to fill in by hand.",
    )
    plan_scale: Annotated[float, Field(ge=10, le=100_000), NUMBER] | None = Field(
        None,
        description="Scale of the plan sheets, as metres on the ground for one on paper: 240 is 1 in = 20 ft.",
    )

    @field_validator("hand_over")
    @classmethod
    def _in_a_calendar(cls, value: datetime.date | None) -> datetime.date | None:
        if value is not None and not 1970 <= value.year <= 2200:
            raise ValueError("write a year between 1970 and 2200")
        return value
