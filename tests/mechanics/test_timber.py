"""Round timber: limits of its column factor, factors of its values, bending with compression."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.mechanics import timber


@given(st.floats(1e-3, 1e4), st.floats(0.5, 0.99))
def test_stability_is_below_both_the_stocky_and_the_slender_limit(ratio: float, c: float) -> None:
    factor = float(timber.column_stability(ratio, 1.0, c))
    assert 0 < factor <= min(1.0, ratio) * (1 + 1e-12)


@given(st.floats(0.01, 20.0))
def test_stability_is_the_printed_formula(ratio: float) -> None:
    half = (1 + ratio) / 1.7
    printed = half - (half**2 - ratio / 0.85) ** 0.5
    assert timber.column_stability(ratio, 1.0) == pytest.approx(printed, rel=1e-10)


def test_stability_at_its_ends() -> None:
    assert timber.column_stability(np.inf, 1.0) == pytest.approx(1.0)
    assert timber.column_stability(1e-9, 1.0) == pytest.approx(1e-9)
    assert timber.column_buckling_pa(4e9, 0.0) == np.inf


def test_a_longer_column_carries_less_and_past_fifty_nothing() -> None:
    lengths = np.array([0.0, 1.0, 2.0, 4.0, 4.43, 4.44])
    carried = timber.round_column_pa(0.1, lengths, 7e6, 4e9)
    assert np.all(np.diff(carried) < 0)
    assert carried[0] == pytest.approx(7e6)
    assert carried[-1] == 0.0
    assert carried[-2] > 0.0
    assert timber.round_slenderness(0.1, 4.43) == pytest.approx(49.99, abs=0.01)


def test_factors_multiply() -> None:
    assert timber.adjusted_pa(10e6, timber.DURATION["wind"], 0.9, 0.5) == pytest.approx(7.2e6)


def test_size_counts_only_above_thirteen_and_a_half_inches() -> None:
    factor = timber.size_factor([0.15, 0.3429, 0.45])
    assert factor[:2] == pytest.approx([1.0, 1.0])
    assert factor[2] == pytest.approx((0.3048 / (0.886227 * 0.45)) ** (1 / 9), rel=1e-6)


def test_stress_and_capacity_agree() -> None:
    assert timber.bending_stress_pa(-timber.bending_capacity_n_m(0.15, 8e6), 0.15) == pytest.approx(8e6)
    assert timber.shear_stress_pa(timber.shear_capacity_n(0.15, 1e6), 0.15) == pytest.approx(1e6)


def test_bending_with_compression_meets_each_alone_and_ends_at_buckling() -> None:
    assert timber.bending_with_compression(0.5, 0.0, 0.2) == pytest.approx(0.25)
    assert timber.bending_with_compression(0.0, 0.8, 0.0) == pytest.approx(0.8)
    assert timber.bending_with_compression(0.3, 0.4, 0.5) == pytest.approx(0.89)
    assert timber.bending_with_compression(0.3, 0.4, [1.0, 1.2]) == pytest.approx([np.inf, np.inf])
