"""Rail data sheets good and bad: what they state counts, and what is bad gives one sentence."""

import pytest

from fencewright.catalogue.loading import shipped_catalogue, with_data_sheets
from fencewright.catalogue.rows import Rail
from fencewright.findings import InputError

GOOD = {
    "face_height": '"125 mm"', "wire_diameter": '"2.5 mm"', "line_mass": '"0.33 kg/m"', "roll_length": '"200 m"',
    "set_tension": '"1.1 kN"', "cold_tension": '"2.8 kN"', "breaking_load": '"16 kN"', "wires": "3",
}  # fmt: skip


def read(**changes: str | None) -> Rail:
    row = {**GOOD, **changes}
    text = '[rail."test rail"]\n' + "".join(f"{key} = {value}\n" for key, value in row.items() if value)
    return with_data_sheets(shipped_catalogue(), [("sheet.toml", text)]).rails["test rail"]


def test_a_short_sheet_leaves_the_rest_open() -> None:
    rail = read()
    assert (rail.stiffness_n, rail.creep, rail.absorptivity, rail.tensioner_holds_m) == (
        None,
        None,
        None,
        None,
    )


def test_a_whole_sheet_in_si() -> None:
    rail = read(
        stiffness='"2.5 kN"', elastic_modulus='"29000 ksi"', expansion='"6.5e-6 /F"', polymer_stiffness='"0 N"',
        polymer_expansion='"120e-6 /C"', creep="0.00001", absorptivity="0.3", emissivity='"90 %"',
        least_bend_radius='"3 in"', allowed_share='"25 %"', tensioner_holds='"2 ft"',
    )  # fmt: skip
    assert rail.stiffness_n == 2500.0
    assert rail.elastic_modulus_pa == pytest.approx(199.948e9, rel=1e-5)
    assert rail.expansion_per_c == pytest.approx(11.7e-6)
    assert rail.polymer_stiffness_n == 0.0
    assert rail.polymer_expansion_per_c == pytest.approx(120e-6)
    assert (rail.creep, rail.absorptivity, rail.emissivity, rail.allowed_share) == (1e-5, 0.3, 0.9, 0.25)
    assert rail.least_bend_radius_m == pytest.approx(0.0762)
    assert rail.tensioner_holds_m == pytest.approx(0.6096)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"breaking_load": None}, "`breaking_load` is missing: add it from the data sheet"),
        ({"breaking_load": '"16"'}, "breaking_load: '16' is no force"),
        ({"breaking_load": '"16 kg"'}, "no force"),
        ({"expansion": '"-1e-6 /C"'}, "expansion: must be more than nothing"),
        ({"stiffness": '"0 N"'}, "stiffness: must be more than nothing"),
        ({"stiffness": '"3 GPa"'}, "no force"),
        ({"absorptivity": "1.2"}, "absorptivity: is a share: at most 1"),
        ({"allowed_share": '"120 %"'}, "is a share"),
        ({"creep": "-0.1"}, "creep: must be more than nothing"),
    ],
)
def test_bad_sheets_say_what_to_enter(changes: dict[str, str | None], says: str) -> None:
    with pytest.raises(InputError) as caught:
        read(**changes)
    assert str(caught.value).startswith('sheet.toml: rail "test rail"')
    assert says in str(caught.value)
    assert "\n" not in str(caught.value)
