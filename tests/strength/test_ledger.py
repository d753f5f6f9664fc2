"""The ledger keeps the worst case of each check, and of equally bad ones the earliest, in whatever order they come."""

import numpy as np
import pytest

from fencewright.strength.ledger import Ledger
from fencewright.tables.strength import Check

HAIR = 1e-12  # what a rounding makes of a case and its mirror image


def kept(*notes: tuple[int, float]) -> tuple[int, float]:
    """Case and demand that are kept of one post, each case noted by itself."""
    ledger = Ledger()
    for case, demand in notes:
        ledger.note(Check.BENDING, np.array([case]), np.array([[demand]]), np.array([10.0]))
    row = ledger.posts[Check.BENDING]
    return int(row.case[0]), float(row.demand[0])


@pytest.mark.parametrize("hair", [-HAIR, 0.0, HAIR])
def test_of_a_case_and_its_mirror_image_the_earlier_is_kept(hair: float) -> None:
    left, right = (3, 5.0), (4, 5.0 * (1.0 + hair))
    assert kept(left, right)[0] == kept(right, left)[0] == 3
    together = Ledger()
    demand = np.array([[left[1]], [right[1]]])
    together.note(Check.BENDING, np.array([3, 4]), demand, np.array([10.0]))
    assert together.posts[Check.BENDING].case.tolist() == [3]


@pytest.mark.parametrize("order", [(0, 1, 2), (2, 1, 0), (1, 0, 2)])
def test_the_worst_is_kept_whenever_it_comes(order: tuple[int, ...]) -> None:
    notes = [(1, 4.0), (2, 4.001), (3, 3.0)]
    assert kept(*(notes[place] for place in order)) == (2, 4.001)


def test_what_demands_nothing_keeps_no_case_of_its_own() -> None:
    assert kept((5, 0.0), (2, 0.0)) == (5, 0.0)
