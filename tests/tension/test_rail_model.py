"""Rails from data sheets: what is stated counts, what is not is assumed aloud."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from fencewright.findings import NOTE, InputError
from fencewright.job.settings import Settings
from fencewright.tension import rail_model
from fencewright.tension.rail_model import hottest_rail_c, rail_models

Change = Callable[..., Settings]
LBF = 4.4482216152605


def test_three_wires_of_steel_by_the_register(settings: Settings) -> None:
    """Register steel-wire: EA of one 12.5 gauge wire 223,233 lbf (sources-fence B, derived)."""
    models, findings = rail_models(settings)
    assert models.stiffness_n[0] / LBF == pytest.approx(3 * 223_233, rel=1e-5)
    assert models.stiffness_n[0] * models.expansion_per_c[0] / 1.8 / LBF / 3 == pytest.approx(1.451, abs=5e-4)
    assert [one.code for one in findings] == ["rail-assumed"]
    assert findings[0].level == NOTE
    assert "steel-wire" in findings[0].message


def test_strands_of_one_product_are_counted(settings: Settings) -> None:
    models, _ = rail_models(settings)
    assert models.rail == ("polymer rail",)
    assert models.strands.tolist() == [4]


def test_a_whole_sheet_needs_no_assumption(settings: Settings, change: Change) -> None:
    stated = {
        "stiffness_n": 2.5e6, "expansion_per_c": 14e-6, "polymer_stiffness_n": 2e5, "creep": 1e-5,
        "polymer_expansion_per_c": 1e-4, "absorptivity": 0.3, "emissivity": 0.85, "allowed_share": 0.25,
    }  # fmt: skip
    models, findings = rail_models(change(settings, rail=stated))
    assert findings == ()
    assert models.stiffness_n[0] == 2.5e6
    assert models.expansion_per_c[0] == pytest.approx((2.3 * 14e-6 + 0.2 * 1e-4) / 2.5)
    assert models.share_allowed_n[0] == pytest.approx(0.25 * models.breaking_load_n[0])
    assert models.creep_per_decade[0] == 1e-5


def test_polymer_adds_to_wires_whose_modulus_is_stated(settings: Settings, change: Change) -> None:
    models, _ = rail_models(change(settings, rail={"elastic_modulus_pa": 190e9, "polymer_stiffness_n": 2e5}))
    bare, _ = rail_models(change(settings, rail={"elastic_modulus_pa": 190e9}))
    assert models.stiffness_n[0] - bare.stiffness_n[0] == pytest.approx(2e5)


def test_a_light_rail_stays_cooler_and_wind_cools(settings: Settings, change: Change) -> None:
    dark = rail_models(settings)[0].hottest_c[0]
    light = rail_models(change(settings, rail={"absorptivity": 0.3}))[0].hottest_c[0]
    windy = rail_models(change(settings, wind_m_s=3.0))[0].hottest_c[0]
    shade = rail_models(change(settings, sun_w_m2=0.0))[0].hottest_c[0]
    assert shade == pytest.approx(settings.tension.hottest_c)
    assert shade < light < dark
    assert windy < dark


def test_a_set_tension_above_breaking_is_refused(settings: Settings, change: Change) -> None:
    with pytest.raises(InputError, match="set_tension is not below breaking_load"):
        rail_models(change(settings, rail={"set_tension_n": 2e4}))


def test_a_stated_capacity_of_the_tensioner_counts(settings: Settings, change: Change) -> None:
    assert rail_models(change(settings, rail={"tensioner_holds_m": 0.4}))[0].spool_holds_m[0] == 0.4


def test_what_the_sun_makes_of_a_rail_is_kept_for_that_rail_and_climate_alone(settings: Settings) -> None:
    rail, tension = settings.strands[0].rail, settings.tension
    skins = [replace(rail, absorptivity=0.3), replace(rail, emissivity=0.4), replace(rail, face_height_m=0.2)]
    climates = [
        replace(tension, sun_w_m2=500.0),
        replace(tension, hottest_c=21.0),
        replace(tension, wind_m_s=3.0),
    ]
    cases = [
        (rail, tension),
        *((skin, tension) for skin in skins),
        *((rail, climate) for climate in climates),
    ]
    first = [hottest_rail_c(*case) for case in cases]
    assert len({round(one, 3) for one in first}) == len(cases)
    again = [hottest_rail_c(*case) for case in reversed(cases)]
    assert again == first[::-1]
    rail_model._in_the_sun_c.cache_clear()
    assert [hottest_rail_c(*case) for case in cases[::-1]] == again
