"""Capstan: exercise 27 of a mechanics site (read), and a quarter turn (derived, sources-structure 6).

100 kg held over a wrap of 1.5 pi, friction 0.2, g 9.81: 382.26 N. Quarter turn, friction 0.3: x 1.601978.

Register key: capstan.
"""

import math

import numpy as np
import pytest

from fencewright.mechanics.belt_friction import FIRST_END, far_end_share, tension_in_pieces_n, tension_share


def test_exercise_27() -> None:
    held = tension_in_pieces_n(100 * 9.81, [1.5 * math.pi], np.array([0, 1]), 0.2, FIRST_END)
    assert held[-1] == pytest.approx(382.26, abs=0.005)


def test_a_quarter_turn() -> None:
    assert 1 / float(tension_share(math.pi / 2, 0.3)) == pytest.approx(1.601978, abs=5e-7)
    assert 1 / far_end_share([math.pi / 4] * 2, np.array([0, 2]), 0.3)[0] == pytest.approx(1.601978, abs=5e-7)
