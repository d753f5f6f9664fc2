"""The job file's table `[programme]`: when work may begin, on which days, who does it and with what."""

from typing import Annotated, Literal

from pydantic import AfterValidator, Field, ValidationInfo, field_validator

from fencewright.job.fields import Date, Latitude, Section, Share, Temperature, Time
from fencewright.job.holiday_places import known_subdivision, refuse_unknown_country

_HOUR_S, _MONTHS = 3600.0, 12
DAY_NAMES = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


Day = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
Count = Annotated[int, Field(ge=0, le=100, strict=True)]


def _working_day(hours_s: float) -> float:
    if not 0.5 * _HOUR_S <= hours_s <= 24 * _HOUR_S:
        raise ValueError("a working day has between half an hour and 24 hours: write it like 8 h")
    return hours_s


def _twelve(month_c: list[float]) -> list[float]:
    if len(month_c) not in (0, _MONTHS):
        raise ValueError(
            f"holds {len(month_c)} of the twelve months: write twelve temperatures, January first, or none"
        )
    return month_c


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
    hours: Annotated[Time, AfterValidator(_working_day)] | None = Field(
        None, description="Working hours in a day; daylight may leave fewer."
    )
    begins: Time | None = Field(None, description="From midnight to the beginning of work.")
    country: str | None = Field(None, description="Country whose public holidays are kept, as two letters.")
    subdivision: str | None = Field(
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
    month_temperatures: Annotated[list[Temperature], AfterValidator(_twelve)] = Field(
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

    @field_validator("country")
    @classmethod
    def _with_known_holidays(cls, country: str | None) -> str | None:
        if country:
            refuse_unknown_country(country)
        return country

    @field_validator("subdivision")
    @classmethod
    def _of_its_country(cls, subdivision: str | None, info: ValidationInfo) -> str | None:
        country = info.data.get("country", "")  # not there: it is refused itself
        if subdivision and country is None:
            raise ValueError("a subdivision needs its country: state it too")
        if subdivision and country:
            known_subdivision(country, subdivision)
        return subdivision
