"""Arcs as chains of points."""

import math

import numpy as np
import pytest

from fencewright.exchange.arcs import (
    RAIL_CHORD_M,
    RAIL_SAGITTA_M,
    Chords,
    arc_points,
    circle_points,
    flatten_bulges,
)


def test_a_half_circle_by_bulge_passes_its_top() -> None:
    """Bulge 1 turns half a circle anticlockwise: from (0,0) to (2,0) it passes (1,-1). From the definition."""
    points = flatten_bulges(np.array([[0.0, 0.0], [2.0, 0.0]]), np.array([1.0, 0.0]), False, Chords(0.001))
    assert points[0].tolist() == [0, 0]
    assert points[-1].tolist() == [2, 0]
    np.testing.assert_allclose(np.hypot(points[:, 0] - 1, points[:, 1]), 1, rtol=1e-12)
    assert points[:, 1].min() == pytest.approx(-1, abs=0.001)
    assert points[:, 1].max() <= 1e-12


@pytest.mark.parametrize("bulge", [-2.0, -0.4, 0.1, 0.7, 3.0])
def test_chords_stay_within_the_sagitta(bulge: float) -> None:
    points = flatten_bulges(np.array([[1.0, 2.0], [11.0, 7.0]]), np.array([bulge, 0.0]), False, Chords(0.01))
    chord = math.hypot(10, 5)
    radius = chord * (1 + bulge**2) / (4 * abs(bulge))
    half = np.hypot(*np.diff(points, axis=0).T) / 2
    assert (radius - np.sqrt(radius**2 - half**2) <= 0.01 * (1 + 1e-9)).all()
    turn = np.sum(half * 2)
    assert turn == pytest.approx(radius * 4 * math.atan(abs(bulge)), rel=0.01)


def test_a_closed_chain_of_straight_and_curved_parts() -> None:
    square = np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 4.0], [0.0, 4.0]])
    straight = flatten_bulges(square, np.zeros(4), True, Chords(0.01))
    np.testing.assert_array_equal(straight, square)
    curved = flatten_bulges(square, np.array([0.0, 1.0, 0.0, 1.0]), True, Chords(0.01))
    assert curved[0].tolist() == curved[-1].tolist() == [0, 0]
    assert curved[:, 0].max() == pytest.approx(6, abs=0.01)
    assert curved[:, 0].min() == pytest.approx(-2, abs=0.01)
    assert (np.hypot(*np.diff(curved, axis=0).T) > 0).all()


@pytest.mark.parametrize("radius_ft", [8.0, 30.0, 100.0, 400.0])
def test_a_fence_on_a_curve_has_posts_of_the_usual_spacing(radius_ft: float) -> None:
    """A quarter circle; the rise of a chord over its arc is r - sqrt(r^2 - c^2/4), by Pythagoras."""
    unit_m = 0.3048
    points = arc_points(np.zeros(2), radius_ft, 0.0, math.pi / 2, Chords.of_rails(unit_m)) * unit_m
    chord_m = np.hypot(*np.diff(points, axis=0).T)
    radius_m = radius_ft * unit_m
    assert (radius_m - np.sqrt(radius_m**2 - chord_m**2 / 4) <= RAIL_SAGITTA_M * (1 + 1e-9)).all()
    assert (chord_m <= max(RAIL_CHORD_M, math.radians(1.0) * radius_m)).all()
    fewest = min(RAIL_CHORD_M, math.sqrt(8 * radius_m * RAIL_SAGITTA_M))
    assert len(chord_m) <= math.ceil(radius_m * math.pi / 2 / fewest) + 1


def test_huge_arcs_have_at_most_360_chords() -> None:
    assert len(circle_points(np.zeros(2), 1e9, 0.001)) == 360
    assert len(arc_points(np.zeros(2), 1e9, 0.0, math.pi, Chords(1e-6))) == 181


def test_a_tiny_circle_is_still_a_figure() -> None:
    assert len(circle_points(np.zeros(2), 0.001, 0.01)) >= 3
