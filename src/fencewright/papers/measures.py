"""Numbers of the record as the papers tell them: dashes where unknown, units once in the head of a column."""

import math
from collections.abc import Mapping
from typing import Any

from fencewright.quantity.show import UnitSystem

Record = Mapping[str, Any]
UNKNOWN = "–"


def number(value: float | None) -> float:
    """Give a value of the record as a number, NaN where it is null."""
    return math.nan if value is None else float(value)


class Measures:
    """Writes values of the record in the units of the sheets, `–` where they are null.

    Names as in `UnitSystem`: `small` post-sized, `long` fence-sized lengths [m], `force` [N],
    `temperature` [C]. `bare_` leaves the unit out, for columns whose head says it.
    """

    def __init__(self, record: Record) -> None:
        self.units = UnitSystem(record["job"]["sheets"])
        self._small: dict[float | None, str] = {}

    def small(self, value: float | None) -> str:
        """Write `54 1/8 in` or `1375 mm`."""
        told = self._small.get(value)
        if told is None:  # a fence has few different sizes and thousands of posts
            told = self._small[value] = self.units.small(number(value))
        return told

    def bare_small(self, value: float | None) -> str:
        """Write `54 1/8` or `1375`."""
        return self.small(value).removesuffix(f" {self.units.small_unit}")

    def long(self, value: float | None) -> str:
        """Write `627.5 ft` or `191.26 m`."""
        return self.units.long(number(value))

    def bare_long(self, value: float | None) -> str:
        """Write `627.5` or `191.26`."""
        return self.long(value).removesuffix(f" {self.units.long_unit}")

    def force(self, value: float | None) -> str:
        """Write `250 lbf` or `1.11 kN`."""
        return self.units.force(number(value))

    def bare_force(self, value: float | None) -> str:
        """Write the force in the unit of tables."""
        return UNKNOWN if value is None else f"{value / self.units.force_factor:,.0f}"

    def temperature(self, value: float | None) -> str:
        """Write `68 F` or `20 C`."""
        return self.units.temperature(number(value))

    def post(self, value: float | None) -> str:
        """Write a stock length: `8 ft` or `2.44 m`."""
        return self.units.post(number(value))

    def mass(self, value: float | None) -> str:
        """Write `80 lb` or `36.3 kg`."""
        return UNKNOWN if value is None else self.units.mass(value)

    def degrees(self, value: float | None) -> str:
        """Write an angle: `7.5°`."""
        return UNKNOWN if value is None else f"{math.degrees(value):.1f}".removesuffix(".0") + "°"
