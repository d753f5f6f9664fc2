"""Shipped rows, and a supplier's data sheet that adds to them and replaces them."""

import math

import pytest

from fencewright.catalogue.loading import practice_value, shipped_catalogue, with_data_sheets
from fencewright.catalogue.rows import Catalogue
from fencewright.findings import InputError
from fencewright.quantity.parse import POUND_FORCE_N

FOOT = 0.3048
RAIL = """
[rail."wide rail"]
face_height = "5.25 in"
wires = 3
wire_diameter = "2.5 mm"
line_mass = "0.33 kg/m"
roll_length = "200 m"
set_tension = "1.3 kN"
cold_tension = "2.2 kN"
breaking_load = "16 kN"
"""


@pytest.fixture
def shipped() -> Catalogue:
    return shipped_catalogue()


def test_a_data_sheet_adds_a_rail(shipped: Catalogue) -> None:
    rail = with_data_sheets(shipped, [("sheet.toml", RAIL)]).rails["wide rail"]
    assert rail.face_height_m == pytest.approx(0.13335)
    assert (rail.roll_length_m, rail.cold_tension_n, rail.kind, rail.is_wire) == (
        200.0,
        2200.0,
        "polymer rail",
        False,
    )
    assert "wide rail" not in shipped.rails


def test_a_later_row_of_the_same_name_replaces_the_earlier(shipped: Catalogue) -> None:
    sheet = '[bag."80 lb"]\nmass = "80 lb"\nyield = "0.55 ft3"\n'
    changed = with_data_sheets(shipped, [("a.toml", sheet)])
    assert changed.bags["80 lb"].yield_m3 == pytest.approx(0.55 * FOOT**3)
    assert shipped.bags["80 lb"].yield_m3 == pytest.approx(0.60 * FOOT**3)
    assert changed.rails == shipped.rails


def test_every_table_may_be_extended(shipped: Catalogue) -> None:
    sheet = """
[soil."our loam"]
bearing = "1500 psf"
lateral_per_depth = "100 psf"
heaves = true
[obstacle."cattle guard"]
clearance = "1 m"
[keep.llamas]
rails = 5
top_height = "50 in"
bottom_gap = "8 in"
why = "they jump"
source = "practice"
[[hardware]]
item = "warning flag"
for = "fence"
per = "gate"
count = 2
"""
    more = with_data_sheets(shipped, [("a.toml", sheet)])
    assert (more.soils["our loam"].soil_class, more.soils["our loam"].heaves) == (0, True)
    assert more.obstacles["cattle guard"].clearance_m == 1.0
    assert more.kept["llamas"].rails == 5
    assert more.hardware[-1].item == "warning flag"
    assert len(more.hardware) == len(shipped.hardware) + 1


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("[rail", "not valid TOML"),
        ("[rails]\n", "there is no table `rails`; known: bag, hardware"),
        ('[rail."x"]\nface_height = "5 in"\n', "`wire_diameter` is missing"),
        (RAIL.replace('"200 m"', "200"), "has no unit"),
        (RAIL.replace('"200 m"', '"200 kg"'), "no length with a unit"),
        (RAIL.replace('"200 m"', '"0 m"'), "more than nothing"),
        (RAIL.replace("wires = 3", 'wires = "three"'), "not as the shipped ones"),
        ("[[hardware]]\nitem = 'x'\n", "not as the shipped ones"),
        ("rail = 3\n", "not as the shipped ones"),
        ('[bag."x"]\nmass = "1 lb"\n', "`yield` is missing"),
        ("[keep.llamas]\nrails = 5\ntop_height = '50 in'\nbottom_gap = '8 in'\n", "not as the shipped ones"),
    ],
)
def test_a_wrong_sheet_is_one_sentence_with_its_file(shipped: Catalogue, text: str, sentence: str) -> None:
    with pytest.raises(InputError) as refused:
        with_data_sheets(shipped, [("sheet.toml", text)])
    assert refused.value.file == "sheet.toml"
    assert sentence in refused.value.what
    assert "\n" not in str(refused.value)


def test_presumptive_values_of_sand_and_peat(shipped: Catalogue) -> None:
    """ibc-1806: class 4 has 2,000 psf and 150 psf per foot of depth; peat has none."""
    sand, peat = shipped.soils["sand"], shipped.soils["peat"]
    psf = POUND_FORCE_N / FOOT**2
    assert sand.bearing_pa == pytest.approx(2000 * psf)
    assert sand.lateral_pa_per_m == pytest.approx(150 * psf / FOOT)
    assert math.isnan(peat.bearing_pa)


def test_every_item_of_hardware_comes_in_packs_of_one_or_more(shipped: Catalogue) -> None:
    assert all(row.pack >= 1 and row.count > 0 for row in shipped.hardware)


@pytest.mark.parametrize(
    ("value", "read"),
    [
        ("12 ft", 12 * FOOT),
        ("20 deg", math.radians(20)),
        ("883 N", 883.0),
        ("0.02 m2", 0.02),
        ("-20 F", -28.0 - 8 / 9),
        ("5 %", 0.05),
        (["7 ft", "8 ft"], (7 * FOOT, 8 * FOOT)),
        (0.15, 0.15),
        ("clay", "clay"),
    ],
)
def test_practice_values_of_any_kind(value: object, read: object) -> None:
    assert practice_value(value, "x") == pytest.approx(read) if not isinstance(read, str) else read == value


def test_a_practice_value_without_meaning_is_refused() -> None:
    with pytest.raises(InputError, match="no quantity"):
        practice_value("12 parsecs", "layout.x")
