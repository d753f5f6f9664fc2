"""The job file's table `[programme]`: when work may begin, on which days, who does it and with what."""

from typing import Annotated, Literal

from pydantic import Field

from fencewright.job.fields import Date, Latitude, Section, Share, Temperature, Time

DAY_NAMES = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


Day = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
Count = Annotated[int, Field(ge=0, le=100, strict=True)]


class Programme(Section):
    """`[programme]`: when work may begin, on which days, who does it and with what."""

    start: Date | None = Field(
        None, description="First day, on which the route may be white-lined; left out: days are numbered."
    )
    crew: Annotated[int, Field(ge=1, le=100, strict=True)] | None = Field(
        None, description="People on the job."
    )
    names: list[Annotated[str, Field(min_length=1, max_length=60)]] = Field(
        default_factory=list, max_length=100, description="Their names, as the programme calls them."
    )
    augers: Count | None = Field(None, description="Machines that dig; with none, holes are dug by hand.")
    mixers: Count | None = Field(None, description="Concrete mixers; with none, it is mixed by hand.")
    drivers: Count | None = Field(None, description="Post drivers, where posts are driven.")
    work_days: list[Day] | None = Field(None, description="Days of the week on which the crew works.")
    hours: Time | None = Field(None, description="Working hours in a day; daylight may leave fewer.")
    begins: Time | None = Field(None, description="From midnight to the beginning of work.")
    country: Annotated[str, Field(min_length=2, max_length=3)] | None = Field(
        None, description="Country whose public holidays are kept, as two letters."
    )
    subdivision: Annotated[str, Field(min_length=1, max_length=40)] | None = Field(
        None, description="State or province whose holidays are kept too, by its code."
    )
    days_off: list[Date] = Field(
        default_factory=list, max_length=2000, description="More days on which nobody works."
    )
    weather: Share | None = Field(None, description="Share of working time lost to weather.")
    latitude: Latitude | None = Field(
        None, description="Of the site, for the hours of daylight, in degrees; left out: the plane's place."
    )
    notice: Annotated[int, Field(ge=0, le=60, strict=True)] | None = Field(
        None, description="Working days between the call to the locating service and the first hole."
    )
    ticket_life: Time | None = Field(
        None, description="Days from that call until its ticket expires; ask the service."
    )
    private_services: Literal["none", "marked"] | None = Field(
        None,
        description="Lines of the owner's own (well, barn, septic), which public locators rarely mark: `none` "
        "where somebody who knows says so, `marked` once they are; left out: nobody may dig.",
    )
    month_temperatures: list[Temperature] = Field(
        default_factory=list, description="Mean air temperature of each month, January first: twelve."
    )
    day_temperatures: list[Temperature] = Field(
        default_factory=list,
        max_length=2000,
        description="Mean air temperature of each day from the first; after the last, the months'.",
    )
    concrete_share: Share | None = Field(
        None, description="Share of its 28-day strength that concrete has before a rail is pulled."
    )
    paint: bool = Field(True, description="Whether post tops are painted after their cut is treated.")
    delivery_lead: Annotated[int, Field(ge=0, le=60, strict=True)] | None = Field(
        None, description="Working days by which goods are on site before they are needed."
    )
