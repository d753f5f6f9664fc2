"""Frost depth (keys ufc-3-130, aldrich-1953, fhwa-06-121): equations read; the silt's inputs from memory.

Homogeneous silt: 100 pcf, 15 % water, k 0.76 Btu/(h ft F), nF 2500 F days, 160 days, mean 37.2 F.
"""

import pytest

from fencewright.mechanics import frost

FT_M, PCF_KG_M3, F_C = 0.3048, 16.01846337396014, 5 / 9
BTU_FT3_J_M3, BTU_W_M_K = 1055.05585262 / 0.3048**3, 1.730734666
INDEX_C_DAYS = 2500 * F_C
DENSITY = 100 * PCF_KG_M3


@pytest.fixture
def latent() -> float:
    return float(frost.latent_heat_j_m3(DENSITY, 0.15))


@pytest.fixture
def silt(latent: float) -> tuple[float, float, float]:
    """Stefan's depth in feet, alpha, mu."""
    depth = float(frost.stefan_depth_m(INDEX_C_DAYS, 0.76 * BTU_W_M_K, latent)) / FT_M
    alpha, surface = frost.thermal_ratio((37.2 - 32) * F_C, INDEX_C_DAYS, 160.0)
    fusion = frost.fusion_number(surface, frost.heat_capacity_j_m3_k(DENSITY, 0.15), latent)
    return depth, float(alpha), float(fusion)


def test_latent_heat_and_capacity(latent: float) -> None:
    """L = 144 x 100 x 0.15 = 2160 Btu/ft3, C = 28.25 Btu/(ft3 F)."""
    assert latent / BTU_FT3_J_M3 == pytest.approx(2160, rel=1e-5)
    capacity = float(frost.heat_capacity_j_m3_k(DENSITY, 0.15)) / (BTU_FT3_J_M3 / F_C)
    assert capacity == pytest.approx(28.25, rel=1e-4)


def test_silt_by_stefan(silt: tuple[float, float, float]) -> None:
    assert silt[0] == pytest.approx(6.49786, rel=1e-5)
    assert silt[1] == pytest.approx(0.3328, abs=5e-5)
    assert silt[2] == pytest.approx(0.2044, abs=5e-5)


def test_silt_by_the_exact_root(silt: tuple[float, float, float]) -> None:
    """0.895589 and 5.81942 ft (derived; an enthalpy run gave 0.89553)."""
    factor = float(frost.berggren_exact(silt[1], silt[2]))
    assert factor == pytest.approx(0.895589, abs=2e-6)
    assert factor * silt[0] == pytest.approx(5.81942, rel=2e-5)


def test_silt_by_the_short_formula(silt: tuple[float, float, float]) -> None:
    """0.924427 and 6.0068 ft (aldrich-1953, read); the manual prints 6.0 ft (from memory)."""
    factor = float(frost.berggren_simple(silt[1], silt[2]))
    assert factor == pytest.approx(0.924427, abs=2e-6)
    assert factor * silt[0] == pytest.approx(6.0068, abs=2e-4)
    assert factor * silt[0] == pytest.approx(6.0, abs=0.05)


def test_the_short_formula_is_the_deeper_one_in_temperate_ground(silt: tuple[float, float, float]) -> None:
    assert frost.berggren_simple(*silt[1:]) > frost.berggren_exact(*silt[1:])


def test_density_of_the_frost_page() -> None:
    """130 pcf dry at 5 % is 136.5 pcf wet (read): the water is a share of the *dry* weight."""
    water = float(frost.latent_heat_j_m3(130 * PCF_KG_M3, 0.05)) / frost.LATENT_J_KG / PCF_KG_M3
    assert 130 + water == pytest.approx(136.5)


def test_surface_factors() -> None:
    """TM 5-852-4 table 4-1 (read)."""
    table = {"snow": 1.0, "concrete": 0.75, "asphalt": 0.7, "bare soil": 0.7}
    table |= {"shaded": 0.9, "turf": 0.5, "trees": 0.3}
    assert dict(frost.SURFACE_FACTORS) == table


def test_field_slope() -> None:
    """Key fhwa-06-121 (read): depth m about 0.0014 x index in C days; the silt's own lies within a quarter of it."""
    index = 1000.0
    depth = frost.stefan_depth_m(index, 0.76 * BTU_W_M_K, frost.latent_heat_j_m3(DENSITY, 0.15))
    alpha, surface = frost.thermal_ratio(5.0, index, 120.0)
    capacity = frost.heat_capacity_j_m3_k(DENSITY, 0.15)
    fusion = frost.fusion_number(surface, capacity, frost.latent_heat_j_m3(DENSITY, 0.15))
    assert float(depth * frost.berggren_exact(alpha, fusion)) == pytest.approx(0.0014 * index, rel=0.25)
