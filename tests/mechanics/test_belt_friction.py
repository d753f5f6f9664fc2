"""Belt friction: shares of the tension past a turning, and the turning that leaves a share."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.mechanics.belt_friction import tension_share, turning_for_share


@pytest.mark.parametrize(
    ("turn_deg", "shares"),
    [
        (30, (0.949, 0.901, 0.855)),
        (60, (0.901, 0.811, 0.730)),
        (90, (0.855, 0.730, 0.624)),
        (180, (0.730, 0.533, 0.390)),
    ],
)
def test_shares_by_turn_and_friction(turn_deg: float, shares: tuple[float, float, float]) -> None:
    """Own arithmetic of sources-fence.md B (DERIVED), friction 0.1, 0.2, 0.3; printed to three digits."""
    found = [float(tension_share(math.radians(turn_deg), friction)) for friction in (0.1, 0.2, 0.3)]
    assert found == pytest.approx(shares, abs=5e-4)


@given(st.floats(0.0, 20.0), st.floats(0.0, 20.0), st.floats(0.0, 1.0))
def test_turnings_one_after_the_other(first: float, second: float, friction: float) -> None:
    both = float(tension_share(first + second, friction))
    assert both == pytest.approx(
        float(tension_share(first, friction) * tension_share(second, friction)), rel=1e-12
    )
    assert 0 <= both <= 1


@given(st.floats(0.01, 0.99), st.floats(0.01, 1.0))
def test_the_turning_that_leaves_a_share(share: float, friction: float) -> None:
    assert float(tension_share(turning_for_share(share, friction), friction)) == pytest.approx(
        share, rel=1e-12
    )


def test_more_friction_never_leaves_more() -> None:
    turning = np.linspace(0, 6, 50)
    assert (np.diff([tension_share(turning, friction) for friction in (0.0, 0.1, 0.3)], axis=0) <= 0).all()


def test_without_friction_any_turning_will_do() -> None:
    assert turning_for_share(0.4, 0.0) == math.inf
    assert float(tension_share(100.0, 0.0)) == 1.0
