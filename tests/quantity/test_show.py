"""SI to text for people, and back again within what the text can hold."""

import json
import math
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.quantity import (
    UnitSystem,
    parse_quantity,
    show_feet_inches,
    show_force,
    show_inches,
    show_length,
)
from fencewright.quantity.show import counted

FIXTURES = Path(__file__).parents[2] / "web" / "test" / "fixtures"
INCH, FOOT = 0.0254, 0.3048  # exact
LENGTHS = st.floats(-3000.0, 3000.0)


@pytest.mark.parametrize(
    ("length_m", "text"),
    [
        (54.125 * INCH, "54 1/8 in"),
        (54 * INCH, "54 in"),
        (0.5 * INCH, "1/2 in"),
        (0.0, "0 in"),
        (-0.03 * INCH, "0 in"),
        (-2.25 * INCH, "-2 1/4 in"),
        (11.97 * INCH, "12 in"),
    ],
)
def test_inches_and_eighths(length_m: float, text: str) -> None:
    assert show_inches(length_m) == text


def test_a_finer_fraction() -> None:
    assert show_inches(1.0625 * INCH, 16) == "1 1/16 in"


@pytest.mark.parametrize(
    ("length_m", "text"),
    [
        (90.5 * INCH, "7' 6 1/2\""),
        (6 * INCH, '6"'),
        (12 * INCH, "1' 0\""),
        (11.99 * INCH, "1' 0\""),
        (-66 * INCH, "-5' 6\""),
        (0.0, '0"'),
    ],
)
def test_feet_and_inches(length_m: float, text: str) -> None:
    assert show_feet_inches(length_m) == text


@given(LENGTHS)
def test_inches_come_back_within_a_sixteenth(length_m: float) -> None:
    assert abs(parse_quantity(show_inches(length_m), "length") - length_m) <= INCH / 16 + 1e-9


@given(LENGTHS)
def test_feet_and_inches_come_back_within_a_sixteenth(length_m: float) -> None:
    assert abs(parse_quantity(show_feet_inches(length_m), "length") - length_m) <= INCH / 16 + 1e-9


@given(st.floats(0.0, 900.0), st.sampled_from(["us", "metric"]))
def test_long_and_small_lengths_come_back(length_m: float, system: str) -> None:
    show = UnitSystem(system)
    half_digit = {"us": 0.05 * FOOT, "metric": 0.005}[system]
    assert abs(parse_quantity(show.long(length_m).replace(",", ""), "length") - length_m) <= half_digit + 1e-9
    half_small = {"us": INCH / 16, "metric": 0.0005}[system]
    small = parse_quantity(show.small(length_m).replace(",", ""), "length")
    assert abs(small - length_m) <= half_small + 1e-9


def test_both_systems_by_hand() -> None:
    us, metric = UnitSystem("us"), UnitSystem("metric")
    assert (us.long(191.26), metric.long(191.26)) == ("627.5 ft", "191.26 m")
    assert (us.long(2000.0), metric.long(2000.0)) == ("6,561.7 ft", "2,000.00 m")
    assert (us.small(1.375), metric.small(1.375)) == ("54 1/8 in", "1,375 mm")
    assert (us.post(8 * FOOT), metric.post(2.44)) == ("8 ft", "2.44 m")
    assert (us.force(1112.0), metric.force(1112.0), metric.force(900.0)) == ("250 lbf", "1.11 kN", "900 N")
    assert (us.volume(0.6 * FOOT**3), metric.volume(0.056)) == ("0.60 ft³", "0.056 m³")
    assert (us.mass(36.287), metric.mass(36.287)) == ("80 lb", "36.3 kg")


def test_functions_follow_the_system() -> None:
    assert (show_length(FOOT), show_length(1.0, "metric")) == ("1.0 ft", "1.00 m")
    assert (show_force(4.4482216), show_force(4.4482216, "metric")) == ("1 lbf", "4 N")


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("unknown", [math.nan, math.inf])
def test_what_is_unknown_is_a_dash(system: str, unknown: float) -> None:
    show = UnitSystem(system)
    assert {show.small(unknown), show.long(unknown), show.post(unknown), show.force(unknown)} == {"–"}


def test_factors_turn_metres_into_the_unit_named() -> None:
    for system in ("us", "metric"):
        show = UnitSystem(system)
        assert parse_quantity(f"1 {show.long_unit}", "length") == show.long_factor
        assert parse_quantity(f"1 {show.small_unit}", "length") == pytest.approx(show.small_factor, rel=1e-15)


def test_nothing_is_shown_as_minus_zero() -> None:
    for units in (UnitSystem("us"), UnitSystem("metric")):
        shown = [units.long(-1e-6), units.small(-1e-6), units.force(-1e-3), units.volume(-1e-9)]
        assert not [text for text in shown if text.startswith("-")]
    assert UnitSystem("metric").temperature(-0.4) == "0 C"


def test_a_wind_is_told_in_the_unit_of_the_sheets() -> None:
    assert (UnitSystem("us").speed(44.704), UnitSystem("metric").speed(44.704)) == ("100 mph", "45 m/s")


@pytest.mark.parametrize(
    ("count", "unit", "told"),
    [(1, "roll", "1 roll"), (7, "roll", "7 rolls"), (0.5, "bag", "0.5 bags"), (5, "L", "5 L"), (2.25, "m3", "2.25 m3"),
     (1400, "piece", "1,400 pieces"), (30, "ft", "30 ft"), (30, "days", "30 days"), (2, "day", "2 days"),
     (3, "box", "3 boxes"), (2, "delivery", "2 deliveries"), (4, "foot", "4 feet"), (5, "gal", "5 gal"),
     (3, "each", "3 each"), (2, "bay", "2 bays"), (12, "glass", "12 glasses"), (9, "USD", "9 USD"), (3, "Box", "3 Boxes"),
     (2, "pié", "2 pié")],
)  # fmt: skip
def test_a_name_has_a_plural_and_a_symbol_none(count: float, unit: str, told: str) -> None:
    assert counted(count, unit) == told


def test_the_page_is_held_to_the_plurals_of_today() -> None:
    """The page has the rule again (web/src/units/plural.ts); its test reads what is written here."""
    spec = spec_from_file_location("make_fixtures", FIXTURES / "make_fixtures.py")
    assert spec is not None
    assert spec.loader is not None
    module = module_from_spec(spec)
    spec.loader.exec_module(module)
    kept = json.loads((FIXTURES / "plural.json").read_text("utf-8"))
    assert kept == module.plurals(), "run .venv/bin/python web/test/fixtures/make_fixtures.py"


def test_a_station_is_written_as_a_job_file_takes_it() -> None:
    for system, text in (("us", "229.66 ft"), ("metric", "70.000 m")):
        assert UnitSystem(system).station(70.0) == text
        assert parse_quantity(text, "length") == pytest.approx(70.0, abs=2e-3)


def test_far_lengths_are_told_in_miles_or_kilometres() -> None:
    assert UnitSystem("us").far(1609344.0) == "1,000 mi"
    assert UnitSystem("metric").far(1609344.0) == "1,609 km"
