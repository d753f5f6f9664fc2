"""The job file's table `[[measured]]`: what was found on the finished fence."""

import datetime
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, ValidationInfo, WithJsonSchema, field_validator

from fencewright.job.fields import Force, Length, Section, Temperature
from fencewright.quantity.parse import QuantityError, parse_quantity
from fencewright.quantity.shown import shown_value

LENGTHS = ("top", "plumb", "depth", "post_offset", "gap", "spacing", "string")
PULLS = ("deflection", "beats", "tension")
_KINDS = {**dict.fromkeys(LENGTHS, "length"), "deflection": "length", "tension": "force", "beats": "ratio"}
_MOST = {"length": 1000.0, "force": 1e6, "ratio": 1e5}


def _read_date(value: object) -> datetime.date:
    """Read a day: a TOML date or text of year, month and day."""
    if isinstance(value, datetime.date) and not isinstance(value, datetime.datetime):
        return value
    try:
        return datetime.date.fromisoformat(str(value))
    except ValueError as error:
        raise ValueError(f"{shown_value(value)} is no day: write it like 2026-05-31") from error


Day = Annotated[
    datetime.date, BeforeValidator(_read_date), WithJsonSchema({"type": "string", "format": "date"})
]


class Measured(Section):
    """`[[measured]]`: something measured on the finished fence, to be set beside the design's own value."""

    line: str | None = Field(None, description="Line of the post, with `at`.")
    at: Length | None = Field(None, description="Station of the post.")
    post: str | None = Field(
        None, max_length=20, description="Name of the post on the sheets (`P17`) instead, with `revision`."
    )
    revision: str | None = Field(None, description="Revision of the sheets from which `post` was read.")
    pull: str | None = Field(
        None,
        max_length=30,
        description="Pull (`R1-2`), for what is measured on a rail; `post` may name its span.",
    )
    what: Literal[
        "top", "plumb", "depth", "post_offset", "gap", "spacing", "string", "deflection", "beats", "tension"
    ] = Field(description="What was measured (docs/methods/stake-out.md says from where to where).")
    value: float = Field(
        description="What was found, with its unit; beats as a plain number in a minute.",
        json_schema_extra={"type": ["string", "number"]},
    )
    push: Force | None = Field(None, description="Push at mid-span that gave a `deflection`.")
    temperature: Temperature | None = Field(None, description="Of the rail, for what is measured on one.")
    by: str = Field("", max_length=100, description="Who measured.")
    when: Day | None = Field(None, description="Day on which it was measured, `2026-05-31`.")

    @field_validator("value", mode="before")
    @classmethod
    def _in_its_unit(cls, value: Any, info: ValidationInfo) -> float:
        what = info.data.get("what")
        if what is None:  # the fault is that of `what`
            return 0.0
        kind = _KINDS[what]
        try:
            number = parse_quantity(value, kind)
        except QuantityError as error:
            if what != "beats":
                raise
            raise ValueError(
                f"{shown_value(value)} is no count of beats: write how many there are in a minute, like 180"
            ) from error
        if not abs(number) <= _MOST[kind]:
            raise ValueError(f"{shown_value(value)} is too large for {what}: check its unit")
        return number

    @property
    def kind(self) -> str:
        """Kind of quantity in which it is compared: `length` or `force`."""
        return "length" if self.what in LENGTHS else "force"
