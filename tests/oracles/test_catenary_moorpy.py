"""The exact elastic catenary and its change of state against an independent mooring program.

MoorPy 1.3.0's `catenary` solves a line of given unstressed length between two points (no seabed: CB below).
A chain of unequal spans is put together from the same solver, span by span, by halving.
"""

import importlib
import itertools
import warnings
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq

from fencewright.mechanics.cable import catenary, catenary_tension_after_n, catenary_tension_n
from fencewright.mechanics.change_of_state import PullModel, pull_sums, tension_after_n

EXPANSION = 11.7e-6
CASES = list(itertools.product((3.0, 20.0, 80.0), (0.4, 3.2), (500.0, 2500.0), (-45.0, 50.0)))


@pytest.fixture(scope="module")
def mooring() -> Any:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return importlib.import_module("moorpy.Catenary").catenary


def level_n(mooring: Any, span: float, unstressed: float, stiffness: float, load: float) -> float:
    """Horizontal tension of a line that hangs free."""
    return float(mooring(span, 0, unstressed, stiffness, load, CB=-1000, Tol=1e-12)[2]) * -1.0


@pytest.mark.parametrize(("span", "load", "tension", "warmer"), CASES)
def test_change_of_state(mooring: Any, span: float, load: float, tension: float, warmer: float) -> None:
    stiffness = 993_248.0
    grown = 1 + EXPANSION * warmer
    unstressed = float(catenary(tension, span, load, stiffness).unstressed_m)
    theirs = level_n(mooring, span, unstressed * grown, stiffness, load / grown)
    ours = catenary_tension_after_n(tension, span, load, stiffness, EXPANSION, warmer)
    assert float(ours) == pytest.approx(theirs, rel=2e-7)


@pytest.mark.parametrize("slack", [1.0005, 1.02, 1.5])
def test_a_slack_line(mooring: Any, slack: float) -> None:
    theirs = level_n(mooring, 20.0, 20.0 * slack, 1e6, 3.0)
    assert float(catenary_tension_n(20.0 * slack, 20.0, 3.0, 1e6)) == pytest.approx(theirs, rel=2e-6)


def test_a_chain_of_unequal_spans_that_slides(mooring: Any) -> None:
    """Unstressed lengths of all the spans sum to what they were; the tension that does so is halved for.

    The textbook equation leaves out products of two strains, here 1e-3 x 1e-3 of a length that matters to
    1e-6: 5 parts in 10,000 of the tension.
    """
    spans, load, stiffness, warmer = (2.0, 3.5, 6.0, 3.0), 3.2, 2e6, -40.0
    total = sum(float(catenary(1200.0, span, load, stiffness).unstressed_m) for span in spans)
    total *= 1 + EXPANSION * warmer

    def left_over_m(tension: float) -> float:
        used = 0.0
        for span in spans:
            used += brentq(
                lambda length, span=span: level_n(mooring, span, length, stiffness, load) - tension,
                span * 0.997,
                span * 1.0005,
                xtol=1e-13,
            )
        return total - used

    theirs = brentq(left_over_m, 1000.0, 4000.0, xtol=1e-4)
    length, sag, _ = pull_sums(spans, load, np.array([0, 4]))
    model = PullModel(length, sag, np.array([stiffness]), np.array([EXPANSION]), np.zeros(1))
    assert float(tension_after_n(model, 1200.0, warmer)[0, 0]) == pytest.approx(theirs, rel=6e-4)
