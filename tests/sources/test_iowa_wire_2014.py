"""Wire Tension, 28 February 2014, vineyard trellis note (PRESS; publisher not confirmed; exact statics).

Supports 40 in apart, pulled 0.5 in at the centre: T = 20 F; 10 lb gives 200 lb. It holds where the wire
slides, so that its tension does not rise (sources-fence A3). Section F (DERIVED) reads it the other way.

Register key: iowa-wire-2014.
"""

import numpy as np
import pytest

from fencewright.mechanics.pushed_span import deflection_m, linear_deflection_m, tension_from_push_n

INCH_M, FOOT_M, LBF_N = 0.0254, 0.3048, 4.4482216152605
EA_N, ENDLESS_M = 223_233 * LBF_N, 1e7


def test_ten_pounds_are_two_hundred() -> None:
    """Full geometry 9.997 lb for 200 (derived), that is 0.03 % off the printed rule."""
    found = tension_from_push_n(10 * LBF_N, 0.5 * INCH_M, 40 * INCH_M, ENDLESS_M, EA_N) / LBF_N
    assert float(found) == pytest.approx(200.0, rel=4e-4)
    exact = tension_from_push_n(9.997 * LBF_N, 0.5 * INCH_M, 40 * INCH_M, ENDLESS_M, EA_N) / LBF_N
    assert float(exact) == pytest.approx(200.0, abs=0.01)  # 9.997 is printed to 0.0005


def test_the_rule_of_twenty() -> None:
    assert float(linear_deflection_m(1.0, 40.0, 20.0)) == pytest.approx(0.5)


def test_deflection_at_250_pounds_under_ten() -> None:
    """F: 0.400 in at 40 in, 0.96 in at 8 ft, 2.4 in at 20 ft."""
    span = np.array([40 * INCH_M, 8 * FOOT_M, 20 * FOOT_M])
    printed = np.array([0.400, 0.96, 2.4])
    linear = linear_deflection_m(10 * LBF_N, span, 250 * LBF_N) / INCH_M
    np.testing.assert_allclose(linear, printed, rtol=1e-12)
    sliding = deflection_m(10 * LBF_N, span, ENDLESS_M, 250 * LBF_N, EA_N) / INCH_M
    np.testing.assert_allclose(sliding, printed, rtol=5e-4)


def test_the_rule_reads_too_much_where_the_wire_is_held() -> None:
    """A3's caution: a wire held at both supports stiffens as it is pulled, so the scale reads more."""
    held = tension_from_push_n(10 * LBF_N, 0.5 * INCH_M, 40 * INCH_M, 40 * INCH_M, EA_N) / LBF_N
    assert float(held) < 150.0
