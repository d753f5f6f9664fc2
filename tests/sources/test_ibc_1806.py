"""Presumptive values of IBC Table 1806.2 (keys ibc-1806, ibc-1806-3; read) against the shipped soils."""

import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.mechanics import bearing, embedment

FT_M, PSF_PA = 0.3048, 47.88025898033584
# class: vertical psf, lateral psf per foot, friction, cohesion psf
TABLE = {
    1: (12000, 1200, 0.70, 0),
    2: (4000, 400, 0.35, 0),
    3: (3000, 200, 0.35, 0),
    4: (2000, 150, 0.25, 0),
    5: (1500, 100, 0.0, 130),
}


def test_shipped_soils_carry_the_tables_values() -> None:
    soils = [soil for soil in shipped_catalogue().soils.values() if soil.soil_class in TABLE]
    assert {soil.soil_class for soil in soils} == set(TABLE)
    for soil in soils:
        vertical, lateral, *_ = TABLE[soil.soil_class]
        assert soil.bearing_pa == pytest.approx(vertical * PSF_PA, rel=1e-6)
        assert soil.lateral_pa_per_m == pytest.approx(lateral * PSF_PA / FT_M, rel=1e-6)


def test_a_square_foot_of_class_4_carries_2000_pounds() -> None:
    assert bearing.bearing_capacity_n(FT_M**2, 2000 * PSF_PA) == pytest.approx(2000 * 4.4482216, rel=1e-6)


def test_sliding_of_class_5_is_cohesion_but_at_most_half_the_dead_load() -> None:
    """130 psf x area, not more than half the dead load (read)."""
    area, cohesion = 10 * FT_M**2, TABLE[5][3] * PSF_PA
    heavy, light = 3000 * 4.4482216, 2000 * 4.4482216
    assert bearing.sliding_capacity_n(heavy, area, 0.0, cohesion) == pytest.approx(1300 * 4.4482216, rel=1e-6)
    assert bearing.sliding_capacity_n(light, area, 0.0, cohesion) == pytest.approx(1000 * 4.4482216, rel=1e-6)


def test_lateral_value_grows_to_fifteen_times() -> None:
    """1806.3.3 (from memory)."""
    value = bearing.lateral_bearing_pa(20 * FT_M, 150 * PSF_PA / FT_M)
    assert value == pytest.approx(15 * 150 * PSF_PA)


def test_doubling_for_half_an_inch_of_motion() -> None:
    """1806.3.4 (read as quoted)."""
    assert embedment.lateral_value_pa_m(150.0, is_motion_accepted=True) == 300.0
