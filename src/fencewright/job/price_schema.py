"""The job file's tables of the price: `[price]`, `[preparation]`, payments, neighbours, extras, rates, alternatives."""

from typing import Annotated, Literal

from pydantic import AfterValidator, ConfigDict, Field

from fencewright.catalogue.currencies import digits_of
from fencewright.findings import InputError
from fencewright.job.fields import (
    NUMBER,
    Addition,
    Count,
    Date,
    Length,
    Money,
    Section,
    Share,
    Speed,
    Time,
    Travel,
)


def _currency(code: str) -> str:
    try:
        digits_of(code, "")
    except InputError as error:
        raise ValueError(error.what) from error
    return code


def _below_one(value: float) -> float:
    if value >= 1:
        raise ValueError(
            f"a margin of {value:.0%} of the price leaves nothing for the work: write less than 100 %, or a [price] markup"
        )
    return value


Currency = Annotated[str, AfterValidator(_currency)]


class Price(Section):
    """`[price]`: the price book, and the builder's terms."""

    book: str = Field("", description="Price book beside the job: TOML, CSV or XLSX.")
    currency: Currency | None = Field(None, description="ISO 4217 code; left out: the price book's.")
    day: Date | None = Field(None, description="Day for which the price is reckoned.")
    age_limit: Time | None = Field(None, description="Prices older than this are named.")
    overhead: Addition | None = Field(
        None, description="Office, insurance, tools: on direct costs with their contingency."
    )
    contingency: Addition | None = Field(
        None, description="Allowance for what is not foreseen, on direct costs."
    )
    margin: Annotated[Addition, AfterValidator(_below_one)] | None = Field(
        None, description="Profit as a share of the price before tax."
    )
    markup: Addition | None = Field(None, description="Profit as a share of the cost, in place of a margin.")
    tax: Share | None = Field(None, description="Sales tax or value added tax.")
    tax_on: Literal["all", "materials"] = Field(
        "all", description="What is taxed: the whole price, or what the materials cost."
    )
    rounding: Money | None = Field(
        None, description="The price before tax is rounded to a whole multiple of this."
    )
    validity: Time | None = Field(None, description="How long the quote stands.")
    distance: Travel | None = Field(None, description="From the yard to the site, one way.")
    vehicles: Annotated[int, Field(ge=1, le=50), NUMBER] | None = Field(
        None, description="Vehicles that drive there each day."
    )
    travel_speed: Speed | None = Field(None, description="On the way to the site.")
    concrete: Literal["bags", "ready-mix", "cheaper"] = Field("bags", description="How concrete is bought.")
    ready_mix_distance: Travel | None = Field(
        None, description="From the ready-mix plant to the site, one way, where its haul is charged."
    )
    rock_share: Share | None = Field(
        None,
        description="Part of the holes that is expected to meet rock, beside the `[[rock]]` that is known.",
    )
    spoil: Literal["spread", "haul", "leave"] = Field(
        "spread", description="What is done with the soil of the holes."
    )
    life: Time | None = Field(None, description="Life over which the yearly cost is reckoned.")
    maintenance: Share | None = Field(None, description="Upkeep a year, as a share of the price.")
    interest: Share | None = Field(None, description="Interest a year, on half the price.")


class Preparation(Section):
    """`[preparation]`: what is done before the first hole."""

    old_fence: Length = Field(0.0, description="Old fence to take down and dispose of.")
    clearing: Length = Field(0.0, description="Length of line to be cleared of brush.")
    containment: Length = Field(0.0, description="Temporary fence that keeps the stock meanwhile.")
    access: Length = Field(0.0, description="Track or mats to be laid for the machines.")


class PaymentStage(Section):
    """`[[payment]]`: a stage of payment; the shares make up the whole."""

    stage: str = Field(min_length=1, max_length=100, description="When it is due, such as `on acceptance`.")
    share: Share = Field(description="Part of the price.")


class Neighbour(Section):
    """`[[neighbour]]`: somebody who pays a part of a common boundary."""

    name: str = Field(min_length=1, max_length=100)
    line: str
    share: Share = Field(description="Part of its cost that the neighbour pays.")
    start: Length | None = Field(None, alias="from", description="Station where the common part begins.")
    end: Length | None = Field(None, alias="to", description="Station where it ends.")


class Extra(Section):
    """`[[extra]]`: anything else that is priced: a permit, a survey, hay for the stock."""

    name: str = Field(min_length=1, max_length=100)
    quantity: Count = Field(1.0, description="How many.")
    unit: str = Field("piece", max_length=20, description="Of what.")
    price: Money | None = Field(None, description="Of one; left out: the price book's for that name.")
    activity: str = Field("preparation", max_length=60, description="Activity under which it is counted.")
    line: str = Field("", description="Line to which it belongs; left out: shared by length.")


class Rate(Section):
    """`[[rate]]`: the builder's own production rate in place of the shipped one."""

    work: str = Field(description="Name of the work, as docs/methods/price.md lists them.")
    per_hour: Count = Field(description="How much of it a gang does in an hour.")
    hands: Count | None = Field(None, description="Hands of the gang; left out: as shipped.")
    trade: str = Field("", max_length=60, description="Who does it; left out: as shipped.")


class Alternative(Section):
    """`[[alternative]]`: another way of building the fence, priced beside this one.

    Every other key is a table of the job with what differs: `[alternative.fence]` with `rails = 3`. A list of tables
    (`[[alternative.strand]]`) takes the place of the job's own.
    """

    model_config = ConfigDict(extra="allow", frozen=True, str_strip_whitespace=True)

    name: str = Field(min_length=1, max_length=100, description="What the alternative is called.")
