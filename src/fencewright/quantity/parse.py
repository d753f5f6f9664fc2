"""Text with a unit to a number in SI: lengths, forces, masses, temperatures, angles and the rest."""

import math
import re
from fractions import Fraction
from functools import cache, lru_cache
from itertools import pairwise

from fencewright.quantity.shown import shown_value

INCH_M = 0.0254  # exact, international inch
FOOT_M = 0.3048  # exact, international foot
POUND_KG = 0.45359237  # exact, international avoirdupois pound
GRAVITY_M_S2 = 9.80665  # exact, standard gravity
POUND_FORCE_N = POUND_KG * GRAVITY_M_S2

UNITS: dict[str, dict[str, float]] = {
    "length": {
        "m": 1.0,
        "metre": 1.0,
        "metres": 1.0,
        "meter": 1.0,
        "meters": 1.0,
        "mm": 0.001,
        "cm": 0.01,
        "km": 1000.0,
        "ft": FOOT_M,
        "foot": FOOT_M,
        "feet": FOOT_M,
        "'": FOOT_M,
        "′": FOOT_M,
        "in": INCH_M,
        "inch": INCH_M,
        "inches": INCH_M,
        '"': INCH_M,
        "″": INCH_M,
        "yd": 3 * FOOT_M,
        "mi": 5280 * FOOT_M,
        "mile": 5280 * FOOT_M,
        "miles": 5280 * FOOT_M,
        "rod": 16.5 * FOOT_M,
        "rods": 16.5 * FOOT_M,
    },
    "area": {"m2": 1.0, "mm2": 1e-6, "cm2": 1e-4, "ft2": FOOT_M**2, "in2": INCH_M**2, "sq in": INCH_M**2},
    "volume": {
        "m3": 1.0,
        "L": 0.001,
        "l": 0.001,
        "ft3": FOOT_M**3,
        "cu ft": FOOT_M**3,
        "yd3": 27 * FOOT_M**3,
        "cu yd": 27 * FOOT_M**3,
        "gal": 231 * INCH_M**3,
    },
    "mass": {"kg": 1.0, "g": 0.001, "t": 1000.0, "lb": POUND_KG, "lbs": POUND_KG, "oz": POUND_KG / 16},
    "force": {
        "N": 1.0,
        "kN": 1000.0,
        "lbf": POUND_FORCE_N,
        "lb": POUND_FORCE_N,
        "kip": 1000 * POUND_FORCE_N,
        "kgf": GRAVITY_M_S2,
    },
    "line mass": {
        "kg/m": 1.0,
        "g/m": 0.001,
        "lb/ft": POUND_KG / FOOT_M,
        "lb/1000 ft": POUND_KG / FOOT_M / 1000,
    },
    "stress": {
        "Pa": 1.0,
        "kPa": 1e3,
        "MPa": 1e6,
        "GPa": 1e9,
        "psi": POUND_FORCE_N / INCH_M**2,
        "ksi": 1e3 * POUND_FORCE_N / INCH_M**2,
        "psf": POUND_FORCE_N / FOOT_M**2,
    },
    "density": {"kg/m3": 1.0, "lb/ft3": POUND_KG / FOOT_M**3, "pcf": POUND_KG / FOOT_M**3},
    "expansion": {"1/K": 1.0, "1/C": 1.0, "/C": 1.0, "/K": 1.0, "/F": 1.8, "1/F": 1.8},
    "angle": {
        "rad": 1.0,
        "deg": math.pi / 180,
        "degree": math.pi / 180,
        "degrees": math.pi / 180,
        "°": math.pi / 180,
    },
    "ratio": {"%": 0.01, "": 1.0},
    "speed": {"m/s": 1.0, "km/h": 1 / 3.6, "mph": 5280 * FOOT_M / 3600},
    "irradiance": {"W/m2": 1.0, "kW/m2": 1000.0},
    "temperature difference": {"C": 1.0, "K": 1.0, "F": 1 / 1.8},
    "time": {
        "day": 86400.0,
        "days": 86400.0,
        "week": 604800.0,
        "weeks": 604800.0,
        "year": 31_557_600.0,
        "years": 31_557_600.0,
        "h": 3600.0,
        "hour": 3600.0,
        "hours": 3600.0,
        "min": 60.0,
        "s": 1.0,
    },
}
_EXAMPLES = {
    "length": '"12 ft", "5\' 6 1/2\\"", "3.6 m" or "47 in"',
    "area": '"31 mm2"', "volume": '"0.6 ft3" or "17 L"', "mass": '"80 lb" or "36 kg"',
    "force": '"250 lbf" or "1100 N"', "line mass": '"0.18 kg/m" or "0.12 lb/ft"', "stress": '"29000 ksi"',
    "density": '"150 lb/ft3"', "expansion": '"11.7e-6 /C"', "angle": '"15 deg"', "ratio": '"5 %" or 0.05',
    "speed": '"90 mph"', "temperature": '"-20 F" or "-29 C"', "irradiance": '"1000 W/m2"',
    "time": '"30 days" or "8 h"', "temperature difference": '"10 F" or "5 C"',
}  # fmt: skip
_NUMBER = r"[+-]?(?:\d+\s+\d+/\d+|\d+/\d+|(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?(?:[ -]\d+/\d+)?)"
_LARGEST = 1e12


class QuantityError(ValueError):
    """Text that is no quantity of the kind asked for; its message says what to write."""


def _number(text: str) -> float:
    """Read `6`, `6.5`, `1/2`, `6 1/2` or `6-1/2`; a sign is that of the whole."""
    written = text.strip()
    parts = re.split(r"\s+|(?<=\d)-(?=\d)", written.lstrip("+-"))
    size = float(sum(float(Fraction(part)) if "/" in part else float(part) for part in parts))
    return -size if written.startswith("-") else size


def _refuse(text: str, kind: str) -> QuantityError:
    if re.search(r"\d,\d", text):
        return QuantityError(
            f"{text!r} has a comma, where a decimal point is used: write it like {_EXAMPLES[kind]}"
        )
    return QuantityError(f"{text!r} is no {kind} with a unit: write it like {_EXAMPLES[kind]}")


def _temperature(text: str) -> float:
    match = re.fullmatch(rf"\s*({_NUMBER})\s*°?\s*([CFK])\s*", text)
    if not match:
        raise _refuse(text, "temperature")
    value = _number(match[1])
    return {"C": value, "F": (value - 32) / 1.8, "K": value - 273.15}[match[2]]


@cache
def _term(kind: str) -> re.Pattern[str]:
    """Pattern of a number with a unit of one kind, longer names first."""
    units = sorted(UNITS[kind], key=len, reverse=True)
    unit = "|".join(re.escape(name) for name in units if name)
    return re.compile(rf"\s*({_NUMBER})\s*({unit})(?![A-Za-z])")


def _split_terms(text: str, kind: str) -> list[tuple[float, str]]:
    terms = _term(kind).findall(text)
    rest = _term(kind).sub("", text).strip()
    if rest or not terms:
        raise _refuse(text, kind)
    return [(_number(number), name) for number, name in terms]


def parse_quantity(text: object, kind: str) -> float:
    r"""Read a quantity with its unit.

    Parameters
    ----------
    text : object
        Text such as `"12 ft"` or `"5' 6 1/2\""`; a bare number only where the kind is a ratio.
    kind : str
        A key of `UNITS`, or `temperature`.

    Returns
    -------
    float
        The value in SI (temperature in degrees Celsius, angle in radians).

    Raises
    ------
    QuantityError
        No unit, an unknown unit, a unit of another kind, not finite or absurdly large.
    """
    if kind == "ratio" and isinstance(text, int | float) and not isinstance(text, bool):
        value = float(text) if abs(text) <= _LARGEST else math.inf  # a whole number may be past any float
    elif not isinstance(text, str):
        raise QuantityError(
            f"{shown_value(text)} has no unit: write it in quotes with its unit, like {_EXAMPLES[kind]}"
        )
    elif len(text) > 60:
        raise QuantityError(
            f"a quantity of {len(text)} characters is too long: write it like {_EXAMPLES[kind]}"
        )
    else:
        value = _parse_text(text, kind)
    if not math.isfinite(value) or abs(value) > _LARGEST:
        shown = repr(text) if isinstance(text, str) else str(text)[:40]
        raise QuantityError(f"{shown} is not a number of this world: write it like {_EXAMPLES[kind]}")
    return value


@lru_cache(maxsize=65_536)  # a job is read again after each edit, and most of it is as it was
def _parse_text(text: str, kind: str) -> float:
    try:
        if kind == "temperature":
            return _temperature(text)
        if kind == "ratio" and re.fullmatch(rf"\s*{_NUMBER}\s*", text):
            return _number(text)
        terms = _split_terms(text, kind)
    except (ZeroDivisionError, OverflowError) as error:
        raise _refuse(text, kind) from error
    if len(terms) > 1 and (kind != "length" or any(value < 0 for value, _ in terms[1:])):
        raise _refuse(text, kind)
    sizes = [UNITS[kind][unit] for _, unit in terms]
    if any(after >= before for before, after in pairwise(sizes)):  # feet then inches, never inches then feet
        raise _refuse(text, kind)
    sign = -1.0 if text.strip().startswith("-") else 1.0
    first, *others = [value * size for (value, _), size in zip(terms, sizes, strict=True)]
    return first + sign * sum(others)
