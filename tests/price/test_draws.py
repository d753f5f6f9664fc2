"""Draws against what is known of them: their own distribution, their correlation, many things drawn one by one."""

from collections.abc import Callable

import numpy as np
import pytest
from scipy import stats

from fencewright.price.draws import draw_uncertainties
from fencewright.price.three_point import three_point_quantile
from fencewright.tables.risk import Kind, Shape, Uncertainties

Build = Callable[..., Uncertainties]
RUNS = 200_000
CHANCES = np.array([0.05, 0.2, 0.5, 0.8, 0.95])
POINTS = (0.8, 1.0, 1.9)


@pytest.mark.parametrize("loading", [0.0, 0.7, 1.0])
@pytest.mark.parametrize("shape", list(Shape))
def test_each_keeps_its_own_distribution_whatever_drives_it(
    uncertainties: Build, shape: Shape, loading: float
) -> None:
    drawn = draw_uncertainties(uncertainties([POINTS], shape=shape, driver=0, loading=loading), RUNS, 3)[0]
    assert np.quantile(drawn, CHANCES) == pytest.approx(
        three_point_quantile(*POINTS, shape, CHANCES), abs=0.004
    )
    assert drawn.min() >= 0.8
    assert drawn.max() <= 1.9


def test_scores_correlate_by_the_product_of_their_loadings(uncertainties: Build) -> None:
    rows = uncertainties([POINTS, POINTS], driver=0, loading=0.6)
    drawn = draw_uncertainties(rows, RUNS, 1)
    # rank correlation of a normal copula: 6 / pi asin(rho / 2)
    expected = 6 / np.pi * np.arcsin(0.36 / 2)
    assert stats.spearmanr(drawn[0], drawn[1]).statistic == pytest.approx(expected, abs=0.01)


def test_without_a_driver_they_are_independent(uncertainties: Build) -> None:
    drawn = draw_uncertainties(uncertainties([POINTS, POINTS], loading=0.9), RUNS, 1)
    assert abs(stats.spearmanr(drawn[0], drawn[1]).statistic) < 0.01


def test_wholly_shared_ones_rise_together(uncertainties: Build) -> None:
    drawn = draw_uncertainties(uncertainties([POINTS, (2.0, 3.0, 5.0)], driver=0, loading=1.0), 5000, 1)
    assert stats.spearmanr(drawn[0], drawn[1]).statistic == pytest.approx(1.0, abs=1e-6)


@pytest.mark.parametrize("shape", list(Shape))
@pytest.mark.parametrize(("count", "loading"), [(500, 0.7), (40, 0.4), (12, 0.0)])
def test_mean_of_many_against_drawing_each_one(
    uncertainties: Build, shape: Shape, count: int, loading: float
) -> None:
    rows = uncertainties(
        [POINTS], shape=shape, kind=Kind.MEAN_OF_MANY, count=count, driver=0, loading=loading
    )
    drawn = draw_uncertainties(rows, RUNS, 5)[0]
    random = np.random.default_rng(8)
    runs = max(2_000, 400_000 // count)
    shared, own = random.standard_normal((runs, 1)), random.standard_normal((runs, count))
    score = loading * shared + np.sqrt(1 - loading**2) * own
    each = three_point_quantile(*POINTS, shape, stats.norm.cdf(score)).mean(axis=1)
    assert np.quantile(drawn, CHANCES) == pytest.approx(np.quantile(each, CHANCES), abs=0.02)
    assert drawn.std() == pytest.approx(each.std(), rel=0.05)


def test_many_alike_things_average_out_but_not_what_they_share(uncertainties: Build) -> None:
    def spread(count: int, loading: float) -> float:
        rows = uncertainties([POINTS], kind=Kind.MEAN_OF_MANY, count=count, driver=0, loading=loading)
        return float(draw_uncertainties(rows, 50_000, 1)[0].std())

    assert spread(400, 0.0) == pytest.approx(spread(100, 0.0) / 2, rel=0.03)
    assert spread(400, 0.7) > 5 * spread(400, 0.0)


def test_part_of_many_is_binomial_about_its_chance(uncertainties: Build) -> None:
    rows = uncertainties([(0.3, 0.3, 0.3)], kind=Kind.PART_OF_MANY, count=20)
    hit = draw_uncertainties(rows, RUNS, 2)[0] * 20
    assert hit == pytest.approx(np.round(hit))
    found = np.array([(np.round(hit) == k).mean() for k in range(21)])
    assert found == pytest.approx(stats.binom.pmf(np.arange(21), 20, 0.3), abs=0.004)


def test_the_same_seed_gives_the_same_draws_and_another_gives_others(uncertainties: Build) -> None:
    rows = uncertainties([POINTS] * 3, driver=0, loading=0.5)
    first = draw_uncertainties(rows, 1000, 11)
    assert first.tobytes() == draw_uncertainties(rows, 1000, 11).tobytes()
    assert first.tobytes() != draw_uncertainties(rows, 1000, 12).tobytes()


def test_one_more_uncertainty_leaves_the_others_alone(uncertainties: Build) -> None:
    two = draw_uncertainties(uncertainties([POINTS] * 2, driver=0, loading=0.5), 100, 1)
    three = draw_uncertainties(uncertainties([POINTS] * 3, driver=0, loading=0.5), 100, 1)
    assert np.array_equal(three[:2], two)


def test_no_uncertainty_no_draws(uncertainties: Build) -> None:
    assert draw_uncertainties(uncertainties([]), 10, 1).shape == (0, 10)
