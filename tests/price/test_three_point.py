"""Three-point distributions against closed forms and against scipy's own."""

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from fencewright.price.three_point import three_point_mean, three_point_quantile, three_point_sd
from fencewright.tables.risk import Shape, Uncertainties

CHANCES = np.array([0.0, 0.01, 0.1, 0.25, 0.5, 0.8, 0.95, 0.99, 1.0])
POINTS = [(2.0, 3.0, 10.0), (0.8, 1.0, 1.1), (-1.0, -1.0, 4.0), (5.0, 9.0, 9.0)]


@pytest.mark.parametrize("points", POINTS)
def test_pert_is_scipys_beta(points: tuple[float, float, float]) -> None:
    low, mode, high = points
    part = (mode - low) / (high - low)
    own = stats.beta(1 + 4 * part, 5 - 4 * part, loc=low, scale=high - low)
    assert three_point_quantile(*points, Shape.PERT, CHANCES) == pytest.approx(own.ppf(CHANCES), abs=1e-12)


@pytest.mark.parametrize("points", POINTS)
def test_triangular_is_scipys(points: tuple[float, float, float]) -> None:
    low, mode, high = points
    own = stats.triang((mode - low) / (high - low), loc=low, scale=high - low)
    assert three_point_quantile(*points, Shape.TRIANGULAR, CHANCES) == pytest.approx(
        own.ppf(CHANCES), abs=1e-12
    )


def test_triangular_by_hand() -> None:
    # area up to the mode of 0, 1, 4 is 1/4; half of the area: 4 - sqrt(0.5 * 12) = 1.5505
    assert three_point_quantile(0.0, 1.0, 4.0, Shape.TRIANGULAR, [0.25, 0.5]) == pytest.approx(
        [1.0, 4 - np.sqrt(6)]
    )


@pytest.mark.parametrize("shape", list(Shape))
@pytest.mark.parametrize("points", POINTS)
def test_mean_and_sd_are_those_of_the_quantiles(
    uncertainties: Callable[..., Uncertainties], points: tuple[float, float, float], shape: Shape
) -> None:
    rows = uncertainties([points], shape=shape)

    def moment(power: int) -> float:
        area, _ = integrate.quad(
            lambda p: float(three_point_quantile(*points, shape, p)) ** power, 0, 1, epsabs=1e-9, limit=200
        )
        return float(area)

    assert three_point_mean(rows)[0] == pytest.approx(moment(1), rel=1e-6)
    assert three_point_sd(rows)[0] == pytest.approx(np.sqrt(moment(2) - moment(1) ** 2), rel=1e-4)


def test_pert_mean_is_the_classic_sixth(uncertainties: Callable[..., Uncertainties]) -> None:
    assert three_point_mean(uncertainties([(2.0, 3.0, 10.0)]))[0] == pytest.approx((2 + 4 * 3 + 10) / 6)


@given(st.floats(-5, 5), st.floats(0, 5), st.floats(0, 5), st.sampled_from(list(Shape)))
def test_quantiles_rise_and_stay_within(low: float, up: float, more: float, shape: Shape) -> None:
    high = low + up + more
    found = three_point_quantile(low, low + up, high, shape, np.linspace(0, 1, 41))
    assert np.all(np.diff(found) >= -1e-12)
    assert found[0] == pytest.approx(low)
    assert found[-1] == pytest.approx(high)


def test_three_points_that_are_one_never_move() -> None:
    assert three_point_quantile(3.0, 3.0, 3.0, Shape.PERT, CHANCES).tolist() == [3.0] * len(CHANCES)
