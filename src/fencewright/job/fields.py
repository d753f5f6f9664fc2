"""Field types of the job file: text with a unit outside, SI inside."""

import datetime
from decimal import Decimal
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, WithJsonSchema

from fencewright.quantity.decimals import parse_decimal
from fencewright.quantity.parse import QuantityError, parse_quantity
from fencewright.quantity.shown import shown_value


def _no_flag(value: object) -> object:
    """Refuse true and false, which Python holds to be 1 and 0."""
    if isinstance(value, bool):
        raise ValueError(f"{shown_value(value)} is no number: write a number")
    return value


NUMBER = BeforeValidator(_no_flag)
"""Stands after the limits of a plain number, so that true and false are refused before they are read."""


def _quantity(kind: str, *examples: str, low: float | None = None, high: float | None = None) -> Any:
    """Build a field type that reads a quantity of one kind within limits given in SI."""

    def read(value: object) -> float:
        number = parse_quantity(value, kind)
        if low is not None and number < low:
            raise ValueError(f"{shown_value(value)} is too small for this item: write a larger {kind}")
        if high is not None and number > high:
            raise ValueError(f"{shown_value(value)} is too large for this item: check its unit")
        return number

    return Annotated[
        float,
        BeforeValidator(read),
        WithJsonSchema({"type": "string", "examples": list(examples)}),
    ]


def _ratio(most: float, *examples: str, is_share: bool = True) -> Any:
    """Build a field type that reads a ratio; of a share, a bare number above 1 is taken for a slip of the percent sign."""
    like = " or ".join(examples)

    def read(value: object) -> float:
        try:
            ratio = parse_quantity(value, "ratio")
        except QuantityError as error:
            if "," in str(value):
                raise
            raise ValueError(
                f"{shown_value(value)} is no {'share' if is_share else 'factor'}: write it like {like}"
            ) from error
        if ratio < 0:
            raise ValueError(f"{shown_value(value)} is too small for this item: write 0 or more, like {like}")
        written = str(value).strip()
        if is_share and ratio > 1 and "%" not in written:
            # what comes on top may be more than the whole: then the number can be meant as it stands
            as_it_stands = f"{100 * ratio:.6g} % if that is meant, else " if ratio <= most else ""
            raise ValueError(
                f"{written} is {100 * ratio:,.6g} %: write {as_it_stands}{written} % or {ratio / 100:.6g}"
            )
        if ratio > most:
            limit = f"{most:.0%}".replace("%", " %") if is_share else f"{most:g}"
            raise ValueError(f"{written} is too much for this item: write at most {limit}")
        return ratio

    return Annotated[
        float,
        BeforeValidator(read),
        WithJsonSchema({"type": ["string", "number"], "examples": list(examples)}),
    ]


def _exact(kind: str, *examples: str) -> Any:
    """Build a field type that reads a plain number, 0 or more, exactly as it is written."""

    def read(value: object) -> Decimal:
        return parse_decimal(value, kind)

    return Annotated[
        Decimal,
        BeforeValidator(read),
        WithJsonSchema({"type": ["string", "number"], "examples": list(examples)}),
    ]


Coordinate = _quantity("length", "200 ft", "61 m", low=-1e8, high=1e8)
Length = _quantity("length", "12 ft", "3.6 m", low=0.0, high=1e7)
Travel = _quantity("length", "24 mi", "40 km", low=0.0, high=1e7)
SmallLength = _quantity("length", "47 in", "5' 6 1/2\"", "1.2 m", low=0.0, high=100.0)
Allowance = _quantity("length", "3 in", "75 mm", low=0.0, high=100.0)
SignedLength = _quantity("length", "-2 in", "0.1 m", low=-1e4, high=1e4)
Force = _quantity("force", "250 lbf", "1.1 kN", low=0.0, high=1e7)
Angle = _quantity("angle", "20 deg", low=-7.0, high=7.0)
Mass = _quantity("mass", "2000 lb", "900 kg", low=0.0, high=1e6)
Temperature = _quantity("temperature", "-20 F", "-29 C", low=-90.0, high=90.0)
TemperatureStep = _quantity("temperature difference", "10 F", "5 C", low=0.1, high=100.0)
Irradiance = _quantity("irradiance", "1000 W/m2", low=0.0, high=1500.0)
Speed = _quantity("speed", "2 mph", "1 m/s", low=0.0, high=120.0)
Time = _quantity("time", "30 days", low=0.0, high=1e10)
Share = _ratio(1.0, "5 %", "0.05")
Addition = _ratio(2.0, "10 %", "0.1")
Factor = _ratio(2.0, "0.15", is_share=False)
Money = _exact("money", "12.50", "1250")
Count = _exact("count", "3", "2.5")
Latitude = Annotated[float, Field(ge=-90.0, le=90.0, allow_inf_nan=False), NUMBER]
Longitude = Annotated[float, Field(ge=-180.0, le=180.0, allow_inf_nan=False), NUMBER]


def _read_date(value: object) -> datetime.date:
    """Read a date: TOML's own, or text."""
    if isinstance(value, datetime.datetime):
        raise ValueError(f"{value} is a time: write the date alone, like 2026-04-06")
    if isinstance(value, datetime.date):
        return value
    try:
        return datetime.date.fromisoformat(value if isinstance(value, str) else "")
    except ValueError:
        raise ValueError(
            f"{shown_value(value)} is no date: write it as year-month-day, like 2026-04-06"
        ) from None


Date: Any = Annotated[
    datetime.date, BeforeValidator(_read_date), WithJsonSchema({"type": "string", "examples": ["2026-04-06"]})
]


class Section(BaseModel):
    """A table of the job file: unknown keys are refused."""

    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True, str_max_length=2000)
