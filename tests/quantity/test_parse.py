"""Text with a unit to SI: every way of writing that a job may use, and what is refused with one sentence."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.quantity import QuantityError, parse_quantity
from fencewright.quantity.parse import UNITS

# Exact by definition: the international inch, foot and pound, standard gravity.
INCH, FOOT, POUND, GRAVITY = 0.0254, 0.3048, 0.45359237, 9.80665


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("12 ft", 12 * FOOT),
        ("12ft", 12 * FOOT),
        ("  12 feet  ", 12 * FOOT),
        ("5' 6 1/2\"", 66.5 * INCH),
        ("5′ 6″", 66 * INCH),
        ("5 ft 6 in", 66 * INCH),
        ("5ft6in", 66 * INCH),
        ("-5' 6\"", -66 * INCH),
        ("-0' 6\"", -6 * INCH),
        ("47 in", 47 * INCH),
        ("6-1/2 in", 6.5 * INCH),
        ("1/2 inch", 0.5 * INCH),
        ("-6 1/2 in", -6.5 * INCH),
        ("-6-1/2 in", -6.5 * INCH),
        ("-5' 6 1/2\"", -66.5 * INCH),
        (".5 m", 0.5),
        ("3.6 m", 3.6),
        ("+3.6 metres", 3.6),
        ("1e3 mm", 1.0),
        ("36 cm", 0.36),
        ("2 km", 2000.0),
        ("1 mi", 1609.344),
        ("2 yd", 6 * FOOT),
        ("2 rods", 33 * FOOT),  # 2 rods are 33 ft: Iowa lawful fence, sources-fence.md E
    ],
)
def test_lengths(text: str, metres: float) -> None:
    assert parse_quantity(text, "length") == pytest.approx(metres, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("250 lbf", "force", 250 * POUND * GRAVITY),
        ("250 lb", "force", 250 * POUND * GRAVITY),
        ("90 kgf", "force", 90 * GRAVITY),
        ("80 lb", "mass", 80 * POUND),
        ("16 oz", "mass", POUND),
        ("0.60 ft3", "volume", 0.6 * FOOT**3),
        ("17 L", "volume", 0.017),
        ("2000 psf", "stress", 2000 * POUND * GRAVITY / FOOT**2),
        ("29000 ksi", "stress", 29e6 * POUND * GRAVITY / INCH**2),
        ("150 pcf", "density", 150 * POUND / FOOT**3),
        ("26.2 lb/1000 ft", "line mass", 26.2 * POUND / FOOT / 1000),
        ("15 deg", "angle", math.radians(15)),
        ("90 mph", "speed", 90 * 5280 * FOOT / 3600),
        ("5 %", "ratio", 0.05),
        ("1/2", "ratio", 0.5),
        (0.05, "ratio", 0.05),
        (3, "ratio", 3.0),
        ("6.5e-6 /F", "expansion", 11.7e-6),
        ("-20 F", "temperature", -28.0 - 8 / 9),
        ("-20 °F", "temperature", -28.0 - 8 / 9),
        ("0 C", "temperature", 0.0),
        ("273.15 K", "temperature", 0.0),
    ],
)
def test_other_kinds(text: object, kind: str, value: float) -> None:
    assert parse_quantity(text, kind) == pytest.approx(value, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize(
    "text",
    [
        "", " ", "12", "ft", "12 kg", "12 Ft", "12 ft ft", "12 ft of rail", "- 3 ft", "5'6", "5 6 ft", "1,000 ft",
        "1_000 ft", "0x10 ft", "12.5.5 ft", "2.5e m", "1/0 in", "12 ft -3 in", "3 in 6 ft", "12 ft 12 m", "12 ft 3 ft",
        "nan m", "inf ft", "1e400 ft", "9e99 km", "12 ft\x00", "12 ft; rm -rf /", "=1+1 ft", "<b>12 ft</b>",
        "\u202e12 ft", "1" * 70 + " ft", "12 ft" + " " * 100,
    ],
)  # fmt: skip
def test_what_is_no_length_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(QuantityError, match="write it like") as refused:
        parse_quantity(text, "length")
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize("value", [12, 12.5, True, None, ["12 ft"], {"ft": 12}, float("nan")])
def test_a_length_without_a_unit_is_refused(value: object) -> None:
    with pytest.raises(QuantityError, match="has no unit"):
        parse_quantity(value, "length")


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf"), 1e13, 10**400])
def test_a_ratio_is_a_number_of_this_world(value: float) -> None:
    with pytest.raises(QuantityError, match="not a number of this world"):
        parse_quantity(value, "ratio")


@pytest.mark.parametrize("text", ["20", "20 deg", "F", "20 R", "twenty F"])
def test_what_is_no_temperature(text: str) -> None:
    with pytest.raises(QuantityError, match="no temperature"):
        parse_quantity(text, "temperature")


@given(
    kind=st.sampled_from(sorted(UNITS)),
    value=st.floats(1e-6, 900.0),
    data=st.data(),
)
def test_every_unit_reads_its_own_number(kind: str, value: float, data: st.DataObject) -> None:
    unit = data.draw(st.sampled_from(sorted(UNITS[kind])))
    assert parse_quantity(f"{value!r} {unit}", kind) == pytest.approx(value * UNITS[kind][unit], rel=1e-12)


@given(text=st.text(max_size=70), kind=st.sampled_from([*sorted(UNITS), "temperature"]))
def test_any_text_gives_a_finite_number_or_one_sentence(text: str, kind: str) -> None:
    value, said = 0.0, "write it like"
    try:
        value = parse_quantity(text, kind)
    except QuantityError as refused:
        said = str(refused)
    assert math.isfinite(value)
    assert "write it like" in said


@given(
    feet=st.integers(0, 10_000),
    inches=st.integers(0, 11),
    eighths=st.integers(0, 7),
    negative=st.booleans(),
)
def test_feet_inches_and_a_fraction(feet: int, inches: int, eighths: int, negative: bool) -> None:
    text = f"{'-' if negative else ''}{feet}' {inches} {eighths}/8\""
    expected = (feet * 12 + inches + eighths / 8) * INCH * (-1 if negative else 1)
    assert parse_quantity(text, "length") == pytest.approx(expected, rel=1e-12, abs=1e-15)


@pytest.mark.parametrize("text", ["12,5 ft", "1,250 ft", "0,3 m"])
def test_a_comma_is_named_where_a_point_is_used(text: str) -> None:
    with pytest.raises(QuantityError, match="has a comma, where a decimal point is used"):
        parse_quantity(text, "length")
