"""The command why: how each number of a design, its price and its programme came about, as text."""

import math
import textwrap
from itertools import groupby
from pathlib import Path

from fencewright.desk.pricing import priced_alone
from fencewright.desk.reading import read_job
from fencewright.desk.running import design
from fencewright.desk.scheduling import programme
from fencewright.desk.why import explain_any
from fencewright.findings.cautions import STRENGTH_CAUTIONS
from fencewright.pipeline.why import Explanation, Input, Reason, source_text
from fencewright.pipeline.why_record import Value
from fencewright.quantity.parse import INCH_M, POUND_FORCE_N, POUND_KG
from fencewright.quantity.show import UnitSystem, counted, few_figures, plural, show_feet_inches

_WIDE = 110
_SMALL_M, _POST_M = (
    2.0,
    6.0,
)  # below the first a length is printed as a post's, below the second in feet and inches
_PSF_PA, _PSI_PA = POUND_FORCE_N / (12 * INCH_M) ** 2, POUND_FORCE_N / INCH_M**2
_US_UNITS = {
    "N m": (POUND_FORCE_N * 12 * INCH_M, "lbf ft", 1),
    "N/m": (POUND_FORCE_N / (12 * INCH_M), "lbf/ft", 3),
    "Pa/m": (POUND_FORCE_N / (12 * INCH_M) ** 3, "psf/ft", 0),
    "m/N": (INCH_M / (1000 * POUND_FORCE_N), "in per 1,000 lbf", 3),
    "m/s": (12 * INCH_M * 5280 / 3600, "mph", 1),
    "m2": ((12 * INCH_M) ** 2, "ft²", 3),
    "m/h": (12 * INCH_M, "ft/h", 1),
    "m3/h": ((12 * INCH_M) ** 3, "ft³/h", 1),
    "K": (1 / 1.8, "F", 1),
}
_METRIC_UNITS = {
    "N m": (1000.0, "kN m", 3),
    "N/m": (1.0, "N/m", 2),
    "Pa/m": (1000.0, "kPa/m", 1),
    "m/N": (1e-6, "mm per kN", 3),
    "m/s": (1.0, "m/s", 2),
    "m2": (1.0, "m²", 4),
    "m/h": (1.0, "m/h", 1),
    "m3/h": (1.0, "m³/h", 2),
    "K": (1.0, "C", 1),
}

# units whose usual digits are too few for small amounts, by whether the sheets are US ones
_EXACT = {
    True: {"m3": ((12 * INCH_M) ** 3, "ft³"), "kg": (POUND_KG, "lb")},
    False: {"m3": (1.0, "m³"), "kg": (1.0, "kg")},
}
_FIGURES = 4


def why_job(path: Path, id: str) -> int:  # noqa: A002  # the tables and sheets call it `id` too
    """Print why one thing of a job is as it is; 0 as exit code."""
    made = design(read_job(path))
    folder = path.parent
    told = explain_any(made, id, folder, lambda: priced_alone(made, folder), lambda: programme(made))
    print(why_text(told, made.job.asked.job.sheets))
    return 0


def why_text(explanation: Explanation, sheets: str) -> str:
    """Write an explanation as text, in the units of the sheets."""
    show = UnitSystem(sheets)
    parts = [f"{explanation.id}: {explanation.where}"]
    parts += [_reason_text(reason, show) for reason in explanation.reasons]
    return "\n\n".join(parts) + "\n\n" + "\n".join(STRENGTH_CAUTIONS)


def _reason_text(reason: Reason, show: UnitSystem) -> str:
    lines = textwrap.wrap(
        f"{reason.name}: {value_text(reason.result, reason.unit, show)}", _WIDE, subsequent_indent="  "
    )
    lines += _wrapped("", reason.says)
    for number, one in enumerate(reason.inputs):
        lines += _input_text("with     " if number == 0 else "         ", one, show)
    lines += _wrapped("words    ", reason.words)
    lines += _wrapped("formula  ", reason.symbols)
    clause = f", {reason.clause}" if reason.clause else ""
    told = source_text(reason.source)
    key = f"[{reason.source}] " if reason.source not in ("", told) else ""
    lines += _wrapped("source   ", key + told + clause)
    if reason.next_smaller:
        lines += _wrapped("smaller  ", reason.next_smaller)
    return "\n".join(lines)


def _input_text(label: str, one: Input, show: UnitSystem) -> list[str]:
    head = f"{one.symbol} = {input_text(one.value, one.unit, show)}"
    return _wrapped(label, f"{head}: {one.name} ({one.origin})")


def _wrapped(head: str, text: str) -> list[str]:
    return textwrap.wrap(text, _WIDE, initial_indent=f"  {head}", subsequent_indent=" " * (2 + len(head)))


def input_text(value: Value, unit: str, show: UnitSystem) -> str:
    """Write what a formula takes in: as `value_text`, but with figures enough to reckon the formula again by hand."""
    exact = _EXACT[show.name == "us"].get(unit)
    if exact is None or not isinstance(value, float) or not math.isfinite(value):
        return value_text(value, unit, show)
    size, name = exact
    return f"{few_figures(value / size, _FIGURES)} {name}"


def value_text(value: Value, unit: str, show: UnitSystem) -> str:
    """Write a value with its unit; `–` where it is not known."""
    if isinstance(value, str):
        return value
    if isinstance(value, tuple):
        texts = [value_text(one, unit, show) for one in value]
        alike = [(text, len(list(group))) for text, group in groupby(texts)]
        return (
            ", ".join(
                f"{text} ({count} times)" if count > 3 else ", ".join([text] * count) for text, count in alike
            )
            or "–"
        )
    if not math.isfinite(value):
        return "–" if math.isnan(value) else "no limit"
    return _number_text(float(value), unit, show)


def _number_text(value: float, unit: str, show: UnitSystem) -> str:
    if unit == "m":
        return _length_text(value, show)
    if unit == "N":
        return show.force(value)
    if unit == "m3":
        return show.volume(value)
    if unit == "kg":
        return show.mass(value)
    if unit in ("rad", "rad/m"):
        return f"{math.degrees(value):,.4g} deg{unit[3:]}"
    if unit == "C":
        return f"{value * 1.8 + 32:.0f} F" if show.name == "us" else f"{value:.0f} C"
    if unit == "1/C":
        return f"{value / 1.8:.3g} 1/F" if show.name == "us" else f"{value:.3g} 1/C"
    if unit == "Pa":
        return _stress_text(value, show)
    if unit in _US_UNITS:
        size, name, digits = (_US_UNITS if show.name == "us" else _METRIC_UNITS)[unit]
        return f"{value / size:,.{digits}f} {name}"
    if unit == "%":
        return f"{few_figures(100 * value)} %"
    if len(unit) == 3 and unit.isupper():
        return f"{value:,.2f} {unit}"  # money
    if value.is_integer():
        return f"{value:,.0f}" if unit in ("", "1") else counted(value, unit)
    return f"{value:.4g}" + (f" {plural(unit)}" if unit not in ("", "1") else "")


def _length_text(length_m: float, show: UnitSystem) -> str:
    """Write short lengths as those of posts, long ones as those of fences, very short ones with more digits."""
    size = abs(length_m)
    if 0 < size < INCH_M / 4:
        return f"{length_m / INCH_M:.3g} in" if show.name == "us" else f"{length_m * 1000:.3g} mm"
    if size < _SMALL_M:
        return show.small(length_m)
    if size < _POST_M:
        return show_feet_inches(length_m) if show.name == "us" else show.small(length_m)
    return show.long(length_m)


def _stress_text(stress_pa: float, show: UnitSystem) -> str:
    """Write a stress: psf of soil below 100 psi, psi of timber and steel above; or kPa, MPa."""
    if show.name == "us":
        soft = abs(stress_pa) < 100 * _PSI_PA
        return f"{stress_pa / _PSF_PA:,.0f} psf" if soft else f"{stress_pa / _PSI_PA:,.0f} psi"
    return f"{stress_pa / 1e3:,.1f} kPa" if abs(stress_pa) < 1e6 else f"{stress_pa / 1e6:,.2f} MPa"
