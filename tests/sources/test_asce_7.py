"""Wind by ASCE 7-05 to 7-16 (key asce-7; table 29.4-2 read, figure 29.3-1 from memory) and key wind-sheets.

0.613 (SI) stands for 0.00256 psf/mph2; the two differ by 5 parts in 10000, which is the tolerance of the sheets.
"""

import numpy as np
import pytest

from fencewright.mechanics import wind

MPH_M_S, PSF_PA, FT_M, LB_N = 0.44704, 47.88025898033584, 0.3048, 4.4482216152605


@pytest.mark.parametrize(
    ("exposure", "printed", "formula"), [("B", 0.57, 0.575), ("C", 0.85, 0.849), ("D", 1.03, 1.030)]
)
def test_kz_at_fifteen_feet(exposure: str, printed: float, formula: float) -> None:
    """Printed and by the formula; our source notes 1.031 for D, but the formula gives 1.0302."""
    found = float(wind.height_factor(15 * FT_M, wind.EXPOSURES[exposure]))
    assert found == pytest.approx(formula, abs=5e-4)
    assert found == pytest.approx(printed, abs=6e-3)


def test_sheet_155_mph() -> None:
    """Read (scribd 391952847): 155 mph, D, 20 ft: Kz 1.083, 56.62 psf; G 0.85, Cf 1.80, 7.48 ft2: 648 lb, ASD 389."""
    factor = wind.height_factor(20 * FT_M, wind.EXPOSURES["D"])
    assert factor == pytest.approx(1.083, abs=5e-4)
    pressure = wind.velocity_pressure_pa(155 * MPH_M_S, factor)
    assert float(pressure) / PSF_PA == pytest.approx(56.62, rel=6e-4)
    force = wind.line_load_n_m(pressure, 1.80, 7.48 * FT_M**2) / LB_N
    assert force == pytest.approx(648, abs=0.8)
    assert force * wind.ALLOWABLE_FACTOR == pytest.approx(389, abs=0.6)


@pytest.mark.parametrize(("speed_mph", "factor", "pressure_psf"), [(90, 1.01, 17.80), (120, 0.85, 26.62)])
def test_other_sheets(speed_mph: float, factor: float, pressure_psf: float) -> None:
    """Read: a sign sheet after 7-05, and 120 mph at Kz 0.85; Kd 0.85."""
    pressure = wind.velocity_pressure_pa(speed_mph * MPH_M_S, factor)
    assert float(pressure) / PSF_PA == pytest.approx(pressure_psf, rel=8e-4)


def test_wire_in_open_country() -> None:
    """Derived: 40 m/s, C (Kz 0.85): 708.628 Pa; 2.5 mm wire, G 0.85, Cf 1.2: 1.80700 N/m."""
    pressure = wind.velocity_pressure_pa(40.0, 0.85)
    assert pressure == pytest.approx(708.628, abs=5e-4)
    small = wind.open_coefficient(0.02, 0.0025, pressure, is_round=True)
    assert wind.line_load_n_m(pressure, small, 0.0025) == pytest.approx(1.80700, abs=5e-6)


@pytest.mark.parametrize(
    ("solidity", "flat", "small", "large"),
    [(0.05, 2.0, 1.2, 0.8), (0.2, 1.8, 1.3, 0.9), (0.5, 1.6, 1.5, 1.1)],
)
def test_open_signs_and_lattice(solidity: float, flat: float, small: float, large: float) -> None:
    """Table 29.4-2 (read): D sqrt(q) <= 5.3 in SI is small."""
    found = [
        float(wind.open_coefficient(solidity, 0.1, 1.0, is_round=False)),
        float(wind.open_coefficient(solidity, 0.1, 1.0, is_round=True)),
        float(wind.open_coefficient(solidity, 0.1, 1e4, is_round=True)),
    ]
    assert found == [flat, small, large]


def test_small_round_limit_in_both_units() -> None:
    """2.5 in ft and psf is 5.3 in m and Pa (read)."""
    limit = 2.5 * FT_M * PSF_PA**0.5
    assert limit == pytest.approx(wind.SMALL_ROUND, abs=0.05)


def test_solid_wall() -> None:
    """Figure 29.3-1, s/h = 1, cases A and B (from memory); resultant 0.05 h above the middle (read)."""
    ratios = np.array([0.05, 0.1, 0.2, 0.5, 1, 2, 4, 5, 10, 45])
    found = wind.wall_coefficient(ratios, 1.0)
    np.testing.assert_allclose(found, [1.80, 1.70, 1.65, 1.55, 1.45, 1.40, 1.35, 1.35, 1.30, 1.30])
    above_middle = wind.WALL_RESULTANT - 0.5
    assert above_middle == pytest.approx(0.05)


def test_least_pressure() -> None:
    """16 psf, times 0.6 (read the 16)."""
    assert pytest.approx(16 * PSF_PA, rel=1e-4) == wind.LEAST_PRESSURE_PA
