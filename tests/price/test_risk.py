"""The simulated total against closed forms, and what must hold of it whatever the numbers."""

import time
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from fencewright.price.risk import find_swings, run_totals, simulate
from fencewright.price.three_point import three_point_mean, three_point_quantile, three_point_sd
from fencewright.tables.risk import CostTerms, Kind, Risk, Shape, Uncertainties

Build = Callable[..., Uncertainties]
RUNS = 100_000
CHANCES = np.array([0.1, 0.5, 0.8, 0.95])


def one_each(amounts: list[float]) -> CostTerms:
    return CostTerms(np.array(amounts), tuple((k,) for k in range(len(amounts))))


@pytest.mark.parametrize("shape", list(Shape))
def test_one_uncertainty_gives_its_own_quantiles(uncertainties: Build, shape: Shape) -> None:
    risk = simulate(uncertainties([(0.8, 1.0, 1.6)], shape=shape), one_each([1000.0]), 1000.0, RUNS, 4)
    own = 1000 * three_point_quantile(0.8, 1.0, 1.6, shape, CHANCES)
    found = np.array([risk.quantile(p) for p in CHANCES])
    error = np.interp(CHANCES, risk.probability, risk.error)
    assert np.all(np.abs(found - own) < 4 * error)
    assert np.all(error < 3)


def test_the_sum_of_many_is_normal(uncertainties: Build) -> None:
    rows = uncertainties([(0.7, 1.0, 1.8)] * 60)
    risk = simulate(rows, one_each([10.0] * 60), 600.0, RUNS, 4)
    mean, sd = 10 * three_point_mean(rows).sum(), 10 * np.sqrt((three_point_sd(rows) ** 2).sum())
    assert risk.mean == pytest.approx(mean, rel=2e-4)
    assert risk.sd == pytest.approx(sd, rel=0.01)
    expected = stats.norm.ppf(CHANCES, mean, sd)
    assert [risk.quantile(p) for p in CHANCES] == pytest.approx(expected, rel=0.002)


def test_a_wholly_shared_driver_makes_quantiles_add_up(uncertainties: Build) -> None:
    points = [(0.8, 1.0, 1.6), (0.5, 0.6, 2.0), (1.0, 1.1, 1.2)]
    risk = simulate(
        uncertainties(points, driver=0, loading=1.0), one_each([100.0, 50.0, 200.0]), 0.0, RUNS, 4
    )
    own = sum(
        amount * three_point_quantile(*three, Shape.PERT, CHANCES)
        for amount, three in zip((100.0, 50.0, 200.0), points, strict=True)
    )
    assert [risk.quantile(p) for p in CHANCES] == pytest.approx(own, rel=0.003)


def test_a_shared_driver_widens_what_independence_narrows(uncertainties: Build) -> None:
    points, terms = [(0.8, 1.0, 1.6)] * 8, one_each([100.0] * 8)
    alone = simulate(uncertainties(points), terms, 0.0, RUNS, 4)
    shared = simulate(uncertainties(points, driver=0, loading=0.7), terms, 0.0, RUNS, 4)
    assert shared.sd > 1.5 * alone.sd
    assert shared.mean == pytest.approx(alone.mean, rel=0.003)
    # by the correlation that a normal copula gives to beta variables, nearly loading squared
    assert shared.sd == pytest.approx(alone.sd * np.sqrt(1 + 7 * 0.49), rel=0.03)


def test_products_and_fixed_amounts_by_hand() -> None:
    terms = CostTerms(np.array([100.0, 10.0, 7.0, 3.0]), ((), (0,), (0, 1), (0, 1)))
    drawn = np.array([[1.0, 2.0], [3.0, 4.0]])
    assert run_totals(terms, drawn).tolist() == [100 + 10 + 30, 100 + 20 + 80]


def test_nothing_uncertain_gives_one_total(uncertainties: Build) -> None:
    risk = simulate(uncertainties([]), CostTerms(np.array([250.0]), ((),)), 250.0, 1000, 1)
    assert set(risk.total.tolist()) == {250.0}
    assert risk.sd == 0
    assert len(risk.swings) == 0


def test_the_same_seed_gives_the_same_bytes(uncertainties: Build) -> None:
    rows, terms = uncertainties([(0.8, 1.0, 1.6)] * 4, driver=0, loading=0.5), one_each([1.0, 2.0, 3.0, 4.0])
    one, two = (simulate(rows, terms, 10.0, 5000, 9) for _ in range(2))
    assert one.total.tobytes() == two.total.tobytes()
    assert one.swings.high_total.tobytes() == two.swings.high_total.tobytes()
    assert simulate(rows, terms, 10.0, 5000, 10).total.tobytes() != one.total.tobytes()


@given(st.floats(0, 500), st.floats(0, 2))
def test_more_cost_is_more_at_every_quantile(more: float, later: float) -> None:
    """A triangle's; of a PERT the mean only, since a further end also draws its middle apart."""

    def risk(amount: float, high: float, shape: Shape = Shape.TRIANGULAR) -> Risk:
        rows = Uncertainties(
            ("a", "b"), ("", ""), ("", ""), ("", ""), np.array([0.8, 0.9]), np.ones(2), np.array([1.5, high]),
            np.full(2, int(shape)), np.zeros(2, np.int64), np.ones(2, np.int64), np.zeros(2, np.int64), np.full(2, 0.5),
        )  # fmt: skip
        return simulate(rows, one_each([100.0, amount]), 0.0, 2000, 1)

    first = risk(100.0, 1.5)
    assert np.all(risk(100.0 + more, 1.5).total >= first.total - 1e-9)
    assert np.all(risk(100.0, 1.5 + later).total >= first.total - 1e-9)
    assert risk(100.0, 1.5 + later, Shape.PERT).mean >= risk(100.0, 1.5, Shape.PERT).mean - 1e-9
    assert np.all(np.diff(risk(100.0 + more, 1.5 + later).total) >= 0)


def test_what_a_total_covers(uncertainties: Build) -> None:
    risk = simulate(uncertainties([(0.8, 1.0, 1.6)]), one_each([1000.0]), 1000.0, RUNS, 4)
    assert risk.covered(risk.quantile(0.8)) == pytest.approx(0.8)
    assert (risk.covered(0.0), risk.covered(1e9)) == (0.0, 1.0)


def test_swings_rank_by_what_moves_the_total(uncertainties: Build) -> None:
    rows = uncertainties([(0.9, 1.0, 1.1), (0.5, 1.0, 2.0), (1.0, 1.0, 1.0)])
    risk = simulate(rows, one_each([1000.0, 300.0, 5000.0]), 0.0, RUNS, 4)
    assert risk.swings.row.tolist() == [1, 0, 2]
    assert risk.swings.low_total[2] == pytest.approx(risk.swings.high_total[2])
    low, high = three_point_quantile(0.5, 1.0, 2.0, Shape.PERT, [0.1, 0.9])
    assert (risk.swings.low_value[0], risk.swings.high_value[0]) == pytest.approx((low, high), abs=0.006)
    # held at its own value, what is left is the other one's distribution
    other = 1000 * float(three_point_quantile(0.9, 1.0, 1.1, Shape.PERT, 0.8))
    assert risk.swings.low_total[0] == pytest.approx(5000 + 300 * low + other, abs=3)
    assert risk.swings.high_total[0] == pytest.approx(5000 + 300 * high + other, abs=3)


def test_a_swing_is_the_p80_of_the_same_runs_with_one_held() -> None:
    random = np.random.default_rng(5)
    drawn = random.uniform(0.0, 2.0, (3, 1001))
    drawn[2] = np.where(drawn[2] < 1.5, 0.0, drawn[2])  # often nothing, like rock
    terms = CostTerms(np.array([10.0, 5.0, 7.0, 4.0]), ((), (0,), (0, 1), (1, 2)))
    swings = find_swings(terms, drawn, run_totals(terms, drawn))
    for place, row in enumerate(swings.row.tolist()):
        for value, found in ((swings.low_value, swings.low_total), (swings.high_value, swings.high_total)):
            held = drawn.copy()
            held[row] = value[place]
            again = np.sort(run_totals(terms, held))
            assert found[place] == pytest.approx(again[int(np.ceil(0.8 * 1001)) - 1])
    assert np.all(np.diff(np.abs(swings.high_total - swings.low_total)) <= 0)


def test_a_hundred_thousand_runs_take_less_than_half_a_second(uncertainties: Build) -> None:
    rows = uncertainties([(0.8, 1.0, 1.5)] * 12, kind=Kind.MEAN_OF_MANY, count=500, driver=0, loading=0.6)
    terms = one_each([100.0] * 12)
    simulate(rows, terms, 0.0, 1000, 1)
    taken = []
    for _ in range(3):
        start = time.process_time()
        simulate(rows, terms, 0.0, 100_000, 1)
        taken.append(time.process_time() - start)
    assert min(taken) < 0.5
