"""Volumes of holes, against trimesh and against each other."""

import math

import numpy as np
import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st

from fencewright.mechanics.solids import belled_hole_m3, cylinder_m3, frustum_m3

SECTIONS = 64
# A regular polygon of n corners has this share of its circle's area; a solid of revolution drawn with it likewise.
POLYGON_SHARE = SECTIONS / (2 * math.pi) * math.sin(2 * math.pi / SECTIONS)
SIZE = st.floats(0.05, 2.0)


def revolved_m3(profile: list[tuple[float, float]]) -> float:
    """Volume of a profile (radius, height) turned about its axis, by trimesh, made round."""
    return float(trimesh.creation.revolve(np.array(profile), sections=SECTIONS).volume) / POLYGON_SHARE


@given(SIZE, SIZE)
def test_a_cylinder(diameter: float, height: float) -> None:
    profile = [(0.0, 0.0), (diameter / 2, 0.0), (diameter / 2, height), (0.0, height)]
    assert float(cylinder_m3(diameter, height)) == pytest.approx(revolved_m3(profile), rel=1e-9)


@given(SIZE, SIZE, SIZE)
def test_a_frustum(lower: float, upper: float, height: float) -> None:
    profile = [(0.0, 0.0), (lower / 2, 0.0), (upper / 2, height), (0.0, height)]
    assert float(frustum_m3(lower, upper, height)) == pytest.approx(revolved_m3(profile), rel=1e-9)


@given(
    st.floats(0.1, 0.5), st.floats(0.0, 0.3), st.floats(0.05, 0.6), st.floats(0.3, 2.0), st.floats(0.0, 0.9)
)
def test_a_belled_hole_filled_up_to_a_level(
    shaft: float, wider: float, bell_height: float, depth: float, share: float
) -> None:
    top = share * depth
    fill = depth - top
    cone = min(bell_height, fill)
    upper = shaft + wider * (1 - cone / bell_height)
    profile = [(0.0, 0.0), ((shaft + wider) / 2, 0.0), (upper / 2, cone)]
    profile += [(shaft / 2, fill)] if fill > cone + 1e-12 else []
    profile += [(0.0, fill if fill > cone + 1e-12 else cone)]
    volume = float(belled_hole_m3(shaft, shaft + wider, bell_height, depth, top))
    assert volume == pytest.approx(revolved_m3(profile), rel=1e-9)


def test_limits_of_a_bell() -> None:
    straight = float(cylinder_m3(0.3, 1.0))
    assert float(belled_hole_m3(0.3, 0.3, 0.15, 1.0, 0.0)) == pytest.approx(straight)
    assert float(belled_hole_m3(0.3, 0.45, 0.0, 1.0, 0.0)) == pytest.approx(straight)
    assert float(belled_hole_m3(0.3, 0.45, 0.15, 1.0, 1.0)) == 0.0
    assert float(belled_hole_m3(0.3, 0.45, 0.15, 0.5, 0.9)) == 0.0


def test_shapes_broadcast() -> None:
    volumes = belled_hole_m3(0.3, np.array([0.3, 0.45]), 0.15, np.array([[1.0], [1.2]]), 0.1)
    assert volumes.shape == (2, 2)
    assert (np.diff(volumes, axis=0) > 0).all()
    assert (np.diff(volumes, axis=1) > 0).all()


@given(st.floats(0.1, 0.5), st.floats(0.0, 0.3), st.floats(0.05, 0.6), st.floats(0.2, 2.0))
def test_two_fills_make_the_whole(shaft: float, wider: float, bell_height: float, depth: float) -> None:
    """Filling to half depth and then on is filling at once; more depth is never less concrete."""
    whole = float(belled_hole_m3(shaft, shaft + wider, bell_height, depth, 0.0))
    half = float(belled_hole_m3(shaft, shaft + wider, bell_height, depth, depth / 2))
    assert half <= whole + 1e-12
    if depth / 2 >= bell_height:
        assert whole - half == pytest.approx(float(cylinder_m3(shaft, depth / 2)), rel=1e-9)
