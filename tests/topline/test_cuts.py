"""Stock, cuts, marks and control posts."""

from __future__ import annotations

import numpy as np
import pytest

from fencewright.topline.controls import control_posts
from fencewright.topline.cuts import CutPractice, post_cuts, rail_marks

FOOT = 0.3048
PRACTICE = CutPractice(trim_m=2 / 12 * FOOT, spare_m=0.5, sd_limit_m=0.02)
STOCK = np.array([9.0, 7.0, 8.0]) * FOOT


def test_seven_foot_post_cannot_fill_a_thirty_inch_hole_at_string_height() -> None:
    """Common practice, no source: 54 in string and 2 in to trim over a 28 in hole fill 7 ft just so."""
    height, hole = np.full(2, 54 / 12 * FOOT), np.array([28.0, 30.0]) / 12 * FOOT
    cuts = post_cuts(height, hole, np.zeros(2), STOCK, PRACTICE)
    np.testing.assert_allclose(cuts.stock_length_m / FOOT, [7.0, 8.0])
    np.testing.assert_allclose(cuts.cut_m / FOOT * 12, [2.0, 12.0])
    assert cuts.is_cut.all()


def test_no_stock_is_long_enough() -> None:
    cuts = post_cuts(np.array([1.5]), np.array([1.3]), np.zeros(1), STOCK, PRACTICE)
    assert np.isnan(cuts.stock_length_m[0])
    assert np.isnan(cuts.cut_m[0])
    assert np.isnan(post_cuts(np.ones(1), np.ones(1), np.zeros(1), np.zeros(0), PRACTICE).stock_length_m[0])


@pytest.mark.parametrize(("sd_m", "is_cut"), [(0.02, True), (0.021, False), (np.nan, False)])
def test_coarse_ground_sets_the_post_long(sd_m: float, is_cut: bool) -> None:
    cuts = post_cuts(np.array([1.2]), np.array([0.8]), np.array([sd_m]), STOCK, PRACTICE)
    assert bool(cuts.is_cut[0]) is is_cut
    assert np.isnan(cuts.cut_m[0]) != is_cut
    assert cuts.stock_length_m[0] == pytest.approx((7 if is_cut else 9) * FOOT)


def test_marks_stand_lowest_first() -> None:
    marks = rail_marks(np.array([1.4, 1.5]), np.array([0.05, 0.65, 0.35]))
    np.testing.assert_allclose(marks, [[0.75, 1.05, 1.35], [0.85, 1.15, 1.45]])


def test_string_over_a_straight_line_needs_its_ends_and_fixed_posts_alone() -> None:
    station = 3.0 * np.linspace(0.0, 39.0, 40)
    fixed = np.isin(np.arange(40), [13])
    assert control_posts(station, 0.1 * station, fixed, 0.01).tolist() == [0, 13, 39]


def test_string_breaks_at_the_crest() -> None:
    station = 3.0 * np.linspace(0.0, 10.0, 11)
    top = -0.1 * np.abs(station - 15.0)
    assert control_posts(station, top, np.zeros(11, bool), 0.01).tolist() == [0, 5, 10]


@pytest.mark.parametrize("seed", range(4))
def test_string_meets_every_top_within_the_tolerance(seed: int) -> None:
    random = np.random.default_rng(seed)
    station = random.uniform(2, 4, 300).cumsum()
    top = random.standard_normal(300).cumsum().cumsum() * 1e-3
    controls = control_posts(station, top, random.random(300) < 0.02, 0.02)
    string = np.interp(station, station[controls], top[controls])
    assert np.max(np.abs(string - top)) <= 0.02 + 1e-12
    assert controls.size < 150


def test_no_post_and_one_post_have_no_string_between() -> None:
    none = np.zeros(0)
    assert control_posts(none, none, none.astype(bool), 0.01).size == 0
    assert control_posts(np.zeros(1), np.ones(1), np.zeros(1, bool), 0.01).tolist() == [0]
