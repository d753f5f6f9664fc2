"""Worked examples of uplift: cone-sheet, murthy-17-10, bowles-bell, and the belled footing derived in our sources."""

import numpy as np
import pytest

from fencewright.mechanics import uplift
from fencewright.mechanics.solids import belled_hole_m3, cylinder_m3


def test_cone_sheet() -> None:
    """Key cone-sheet (read): D 0.75 m, depth 1.70 m, 30 degrees, soil 18, concrete 24 kN/m3; on 35 kN factor 2.41."""
    soil = uplift.cone_soil_n(0.75, 0.75, 1.70, np.radians(30), 18e3)
    concrete = uplift.weight_n(cylinder_m3(0.75, 1.70), 24e3)
    assert 1.70 * np.tan(np.radians(30)) == pytest.approx(0.98, abs=0.005)
    assert soil == pytest.approx(66.25e3, abs=5)
    assert concrete == pytest.approx(18.02e3, abs=5)
    assert soil + concrete == pytest.approx(84.28e3, abs=10)
    assert (soil + concrete) / 35e3 == pytest.approx(2.41, abs=0.005)


def test_murthy_17_10() -> None:
    """Key murthy-17-10 (read): L 25 m, d 1.5 m, cu 150 kPa; 9891 kN with pi 3.14 and alpha rounded to 0.56."""
    share = uplift.clay_adhesion_share(150e3)
    assert share == pytest.approx(0.56, abs=0.005)
    rounded = uplift.shaft_skin_n(1.5, 25.0, 0.56 * 150e3)
    assert rounded * 3.14 / np.pi == pytest.approx(9891e3, abs=500)
    assert uplift.shaft_skin_n(1.5, 25.0, share * 150e3) == pytest.approx(9891e3, rel=0.006)


def test_bowles_bell() -> None:
    """Key bowles-bell (read at second hand): a bell of about 2 D about twice the skin; another counts only its ledge."""
    skin = uplift.shaft_skin_n(0.3, 1.0, 16e3)
    assert uplift.bell_as_skin_n(skin, 0.3, 0.6) == pytest.approx(2 * skin)
    assert uplift.bell_as_skin_n(skin, 0.3, 0.45) == pytest.approx(skin)


def test_belled_footing() -> None:
    """Derived: shaft 0.305 x 1.0 m on a 0.3 m bell to 0.60 m, 23.6 kN/m3: 0.123015 m3, 2.903153 kN."""
    volume = belled_hole_m3(0.305, 0.60, 0.3, 1.3, 0.0)
    assert volume == pytest.approx(0.123015, abs=5e-7)
    assert uplift.weight_n(volume, 23.6e3) == pytest.approx(2903.153, abs=0.005)


def test_concrete_weighs_150_pounds_a_cubic_foot() -> None:
    """150 pcf = 23.6 kN/m3 (read in the sign sheets)."""
    cubic_foot_n = float(uplift.weight_n(0.3048**3))
    assert cubic_foot_n / 4.4482216152605 == pytest.approx(150, abs=0.002)
    assert float(uplift.weight_n(1.0)) == pytest.approx(23.6e3, abs=50)
