"""Pulls of wires and rails: uf-cir851, steel-wire, bc-307-220, nrcs-me-382a (sources-fence.md A12, B), and capstan-27.

250 lb a wire; 12.5 gauge of 0.099 in weighs 0.02620 lb/ft and breaks at 1,540 lbf in grade 200; all wires together 1,000 to
1,500 lb, up to 2,500 lb in the cold; strainers not more than 1,320 ft apart.
"""

import math

import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.catalogue.rows import Rail
from fencewright.mechanics.belt_friction import tension_share
from fencewright.quantity.parse import FOOT_M, GRAVITY_M_S2, POUND_FORCE_N, POUND_KG


@pytest.fixture
def wire() -> Rail:
    return shipped_catalogue().rails["smooth wire"]


def test_uf_cir851_and_steel_wire(wire: Rail) -> None:
    assert wire.set_tension_n / POUND_FORCE_N == pytest.approx(250)
    area_in2 = math.pi / 4 * (wire.wire_diameter_m / 0.0254) ** 2
    assert area_in2 == pytest.approx(0.0076977, abs=5e-7)
    assert wire.line_mass_kg_m * FOOT_M / POUND_KG == pytest.approx(area_in2 * 12 * 0.2836, abs=5e-5)
    assert wire.breaking_load_n / POUND_FORCE_N == pytest.approx(area_in2 * 200e3, abs=1)
    assert wire.breaking_load_n / POUND_FORCE_N == pytest.approx(1600, rel=0.05)  # printed there, about


def test_cold_pull_is_that_of_a_hundred_degrees_between_rigid_ends(wire: Rail) -> None:
    """1.451 lbf a degree F (DERIVED): 250 + 145."""
    assert wire.cold_tension_n / POUND_FORCE_N == pytest.approx(250 + 145.1, abs=0.5)


@pytest.mark.parametrize(("name", "count"), [("polymer rail", 4), ("smooth wire", 5), ("coated wire", 5)])
def test_bc_307_220(name: str, count: int) -> None:
    """Four polymer rails or five wires keep near the pull of all wires together that the factsheet names."""
    rail = shipped_catalogue().rails[name]
    assert 1000 <= round(count * rail.set_tension_n / POUND_FORCE_N) <= 1500
    assert count * rail.cold_tension_n / POUND_FORCE_N <= 2500 * 1.05  # "up to 2,500", a round number


def test_btcv_590() -> None:
    """Lift-out of a stake: 90 kgf dug and rammed, 900 kgf driven."""
    practice = shipped_catalogue().practice
    assert practice["holes.tamped_lift_out"].value == pytest.approx(90 * GRAVITY_M_S2, rel=1e-3)
    assert practice["holes.driven_lift_out"].value == pytest.approx(900 * GRAVITY_M_S2, rel=1e-3)


def test_nrcs_me_382a() -> None:
    assert shipped_catalogue().practice["layout.pull_length_limit"].value == pytest.approx(1320 * FOOT_M)


def test_capstan_27() -> None:
    """100 kg held over a wrap of 1.5 pi with friction 0.2: 382.26 N; printed with g = 9.81."""
    held = 100 * 9.81 * float(tension_share(1.5 * math.pi, 0.2))
    assert held == pytest.approx(382.26, abs=0.05)
    assert held == pytest.approx(382.26 * 9.81 / GRAVITY_M_S2, rel=1e-3)


def test_a_quarter_turn_with_friction_three_tenths() -> None:
    """sources-structure.md section 6: times 1.601978."""
    assert 1 / float(tension_share(math.pi / 2, 0.3)) == pytest.approx(1.601978, abs=5e-7)
