"""SI numbers to text for people, in US customary or metric units."""

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from fencewright.quantity.parse import FOOT_M, INCH_M, POUND_FORCE_N, POUND_KG, UNITS

# symbols that have the look of a name; the currencies are in capitals, and no unit of a count is
_SYMBOLS = {
    "gal",
    "lbf",
    "lbs",
    "kgf",
    "kip",
    "psi",
    "psf",
    "ksi",
    "pcf",
    "kPa",
    "MPa",
    "GPa",
    "mph",
    "rad",
    "deg",
    "min",
}
_WITHOUT_PLURAL = {"each", "dozen", "gross"}


def _fraction_text(inches: float, denominator: int) -> str:
    whole = Fraction(round(abs(inches) * denominator), denominator)
    number, rest = divmod(whole, 1)
    sign = "-" if inches < 0 and whole else ""
    parts = [str(number)] if number or not rest else []
    return sign + " ".join(parts + ([f"{rest.numerator}/{rest.denominator}"] if rest else []))


def show_inches(length_m: float, denominator: int = 8) -> str:
    """Write a length in inches and a fraction: `54 1/8 in`."""
    return f"{_fraction_text(length_m / INCH_M, denominator)} in"


def show_feet_inches(length_m: float, denominator: int = 8) -> str:
    """Write a length in feet and inches: `7' 6 1/2"`."""
    total = round(abs(length_m) / INCH_M * denominator) / denominator
    feet, inches = divmod(total, 12)
    sign = "-" if length_m < 0 and total else ""
    if not feet:
        return f'{sign}{_fraction_text(inches, denominator)}"'
    return f"{sign}{int(feet)}' {_fraction_text(inches, denominator)}\""


def show_length(length_m: float, system: str = "us") -> str:
    """Write a long length: `627.5 ft` or `191.26 m`."""
    if system == "us":
        return f"{length_m / FOOT_M:z,.1f} ft"
    return f"{length_m:z,.2f} m"


def show_force(force_n: float, system: str = "us") -> str:
    """Write a force: `250 lbf` or `1.11 kN`."""
    if system == "us":
        return f"{force_n / POUND_FORCE_N:z,.0f} lbf"
    return f"{force_n / 1000:z,.2f} kN" if abs(force_n) >= 1000 else f"{force_n:z,.0f} N"


def counted(count: float, unit: str) -> str:
    """Write a count of a thing by its English name: `1 roll`, `7 rolls`, `5 L`."""
    told = f"{count:,.2f}".rstrip("0").rstrip(".")
    return f"{told} {unit_of(count, unit)}"


def unit_of(count: float, unit: str) -> str:
    """Give a unit as it stands behind a count: `roll` behind 1, `rolls` behind any other."""
    return unit if math.isclose(count, 1.0) else plural(unit)


def plural(unit: str) -> str:
    """Give the plural of an English name: `rolls`, `boxes`, `deliveries`; what has none stays: `m3`, `each`, `days`."""
    if not is_name(unit) or unit in _WITHOUT_PLURAL or re.search("[^s]s$", unit):
        return unit
    if unit == "foot":
        return "feet"
    if re.search("(s|x|z|ch|sh)$", unit):
        return f"{unit}es"
    return f"{unit[:-1]}ies" if re.search("[^aeiou]y$", unit) else f"{unit}s"


def is_name(unit: str) -> bool:
    """Whether a unit is an English name (`roll`, `bag`), which has a plural, and no symbol (`m3`, `L`, `ft`, `h`)."""
    is_word = unit.isascii() and unit.isalpha() and len(unit) > 2
    return is_word and not unit.isupper() and unit not in _SYMBOLS


def few_figures(value: float, figures: int = 3) -> str:
    """Write a number with so many figures and no exponent, whole ones in full: `1,969`, `9.83`, `0.21`."""
    if not value or not math.isfinite(value):
        return "0" if not value else "–"
    places = max(figures - 1 - math.floor(math.log10(abs(value))), 0)
    text = f"{value:,.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


@dataclass(frozen=True, slots=True)
class UnitSystem:
    """The units in which sheets are printed: `us` or `metric`."""

    name: str = "us"

    def small(self, length_m: float) -> str:
        """Write a post-sized length: `54 1/8 in` or `1375 mm`; `–` where unknown."""
        if not math.isfinite(length_m):
            return "–"
        return show_inches(length_m) if self.name == "us" else f"{length_m * 1000:z,.0f} mm"

    def post(self, length_m: float) -> str:
        """Write a post's stock length: `8 ft` or `2.44 m`."""
        if not math.isfinite(length_m):
            return "–"
        return f"{length_m / FOOT_M:g} ft" if self.name == "us" else f"{length_m:.2f} m"

    def long(self, length_m: float) -> str:
        """Write a fence-sized length: `627.5 ft` or `191.26 m`; `–` where unknown."""
        return show_length(length_m, self.name) if math.isfinite(length_m) else "–"

    def far(self, length_m: float) -> str:
        """Write a length of many fences: `1,243 mi` or `2,000 km`."""
        mile_m = UNITS["length"]["mi"]
        return f"{length_m / mile_m:,.0f} mi" if self.name == "us" else f"{length_m / 1000:,.0f} km"

    def station(self, station_m: float) -> str:
        """Write a station as a job file takes it, to a few millimetres: `229.66 ft` or `70.000 m`."""
        return f"{station_m / FOOT_M:.2f} ft" if self.name == "us" else f"{station_m:.3f} m"

    def force(self, force_n: float) -> str:
        """Write a force; `–` where unknown."""
        return show_force(force_n, self.name) if math.isfinite(force_n) else "–"

    def temperature(self, temperature_c: float) -> str:
        """Write a temperature: `68 F` or `20 C`."""
        if not math.isfinite(temperature_c):
            return "–"
        return f"{temperature_c * 1.8 + 32:z.0f} F" if self.name == "us" else f"{temperature_c:z.0f} C"

    def speed(self, speed_m_s: float) -> str:
        """Write the speed of a wind: `58 mph` or `26 m/s`."""
        return f"{speed_m_s / UNITS['speed']['mph']:.0f} mph" if self.name == "us" else f"{speed_m_s:.0f} m/s"

    def volume(self, volume_m3: float) -> str:
        """Write a volume of concrete: `1.96 ft3` or `0.056 m3`."""
        if self.name == "us":
            return f"{volume_m3 / FOOT_M**3:z,.2f} ft³"
        return f"{volume_m3:z,.3f} m³"

    def mass(self, mass_kg: float) -> str:
        """Write a mass: `80 lb` or `36.3 kg`."""
        return f"{mass_kg / POUND_KG:z,.0f} lb" if self.name == "us" else f"{mass_kg:z,.1f} kg"

    @property
    def long_unit(self) -> str:
        """Unit of fence-sized lengths."""
        return "ft" if self.name == "us" else "m"

    @property
    def long_factor(self) -> float:
        """Metres in one long unit."""
        return FOOT_M if self.name == "us" else 1.0

    @property
    def small_unit(self) -> str:
        """Unit of post-sized lengths in tables."""
        return "in" if self.name == "us" else "mm"

    @property
    def small_factor(self) -> float:
        """Metres in one small unit."""
        return INCH_M if self.name == "us" else 0.001

    @property
    def force_unit(self) -> str:
        """Unit of forces in tables and on axes."""
        return "lbf" if self.name == "us" else "N"

    @property
    def force_factor(self) -> float:
        """Newtons in one unit of force."""
        return POUND_FORCE_N if self.name == "us" else 1.0

    @property
    def temperature_unit(self) -> str:
        """Unit of temperatures."""
        return "F" if self.name == "us" else "C"

    def degrees(self, temperature_c: float) -> float:
        """Temperature in that unit."""
        return temperature_c * 1.8 + 32 if self.name == "us" else temperature_c
