"""Several pulls put together at grade."""

import numpy as np
import pytest

from fencewright.mechanics.resultant import equivalent_height_m, resultant_at_grade


def test_pulls_of_each_post_add_along_the_last_axis() -> None:
    pull, moment = resultant_at_grade([[100.0, 200.0], [0.0, 50.0]], [0.5, 1.0])
    np.testing.assert_allclose(pull, [300.0, 50.0])
    np.testing.assert_allclose(moment, [250.0, 50.0])
    np.testing.assert_allclose(equivalent_height_m(pull, moment), [250 / 300, 1.0])


def test_a_couple_has_no_height_and_no_pull_none_either() -> None:
    pull, moment = resultant_at_grade([100.0, -100.0], [1.0, 0.0])
    assert pull == 0.0
    assert moment == 100.0
    assert equivalent_height_m(pull, moment) == np.inf
    assert equivalent_height_m(0.0, 0.0) == 0.0
    assert resultant_at_grade(np.empty((3, 0)), np.empty((3, 0)))[0] == pytest.approx([0.0, 0.0, 0.0])
