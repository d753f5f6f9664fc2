"""Plans within crew and plant: rules, bounds and search on networks whose answer is plain."""

import numpy as np
import pytest

from fencewright.programme.bounds import lower_bound
from fencewright.programme.branching import search
from fencewright.programme.crew import share_out
from fencewright.programme.levelling import level, started
from fencewright.programme.network import Network


def apart(durations: list[int], people: list[int], crew: int) -> Network:
    """Activities that follow nothing."""
    return Network(
        tuple(durations), tuple(() for _ in durations), np.array([[one] for one in people]), (crew,)
    )


def test_one_gang_does_one_thing_after_the_other() -> None:
    plan = level(apart([3, 4, 5], [2, 2, 2], 2))
    assert (plan.finish, plan.bound, plan.is_proven, plan.by) == (12, 12, True, "crew and plant")


def test_with_nobody_short_it_is_the_longest_path() -> None:
    network = Network((3, 2, 4), ((), (), (0, 1)), np.ones((3, 1), dtype=np.int64), (5,))
    plan = level(network)
    assert (plan.finish, plan.is_proven, plan.by) == (7, True, "critical path")


def test_the_order_that_the_crew_likes_is_kept_where_it_is_as_short() -> None:
    network = apart([2, 2, 2], [1, 1, 1], 1)
    assert level(network, [[2.0, 1.0, 0.0]]).start == (4, 2, 0)


def test_work_that_cannot_be_moved_out_of_a_stretch_counts_in_part() -> None:
    """Two of 6 for one person, each between a head and a tail of 5: 5 + 12 + 5."""
    network = Network((5, 6, 6, 5), ((), (0,), (0,), (1, 2)), np.array([[0], [1], [1], [0]]), (1,))
    assert lower_bound(network) == (22, "crew and plant")


def test_search_finds_what_greed_misses() -> None:
    """Two people: the single with the long tail must begin at once, not after the work for both."""
    network = Network(
        (1, 4, 4, 6),
        ((), (), (), (2,)),
        np.array([[2], [1], [1], [0]]),
        (2,),
    )
    bad, finish = started(network, [0.0, 1.0, 2.0, 3.0])
    assert finish == 11
    found = search(network, bad, finish, 10, 1000)
    assert (found.finish, found.bound) == (10, 10)


def test_a_search_cut_short_claims_nothing() -> None:
    network = apart([3, 3, 2, 2, 2], [1] * 5, 2)
    found = search(network, [0, 3, 6, 8, 10], 12, 5, 1)
    assert found.bound == 5


def test_more_people_than_there_are_is_refused() -> None:
    with pytest.raises(ValueError, match="more people"):
        level(apart([1], [3], 2))


def test_who_goes_on_from_their_own_work_first() -> None:
    """Of two people, the one whose work is followed goes on with what follows it."""
    network = Network((2, 2, 3), ((), (), (1,)), np.ones((3, 1), dtype=np.int64), (2,))
    shared = share_out(network, [0, 0, 2])
    assert [units[0] for units in shared.units] == [(0,), (1,), (1,)]
    assert shared.links == ((), (), ())


def test_who_takes_over_is_a_link() -> None:
    shared = share_out(apart([2, 3], [1, 1], 1), [0, 2])
    assert shared.links == ((), (0,))
