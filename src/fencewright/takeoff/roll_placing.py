"""Place a group of pulls on its rolls: the order and direction in which each splice is allowed.

The arithmetic of a group says that its rail fits; where splices are forbidden or fragments too short,
only some orders do. A beam search over orders and directions keeps those that waste least.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fencewright.takeoff.roll_chain import Rolls, Step, empty_chain, extend
from fencewright.takeoff.roll_instance import Instance

BEAM_WIDTH = 12


def place_group(
    instance: Instance,
    kinds: Sequence[int],
    remainders: Sequence[int],
    new_rolls: int,
    beam: int = BEAM_WIDTH,
) -> tuple[Rolls, Step] | None:
    """Place pulls on exactly the rolls named, or on fewer.

    Parameters
    ----------
    instance : Instance
        The problem.
    kinds : int sequence (pulls of the group,)
        Kind of each pull.
    remainders : int sequence
        Remainders to use, rows of `instance.remainders`.
    new_rolls : int
        New rolls to use.
    beam : int
        Partial orders kept at each step.

    Returns
    -------
    placed : (Rolls, Step) or None
        The rolls in order and the finished chain; None if no order was found.
    """
    for rolls in _roll_orders(instance, remainders, new_rolls):
        chain = _search(instance, rolls, kinds, beam)
        if chain is not None:
            return rolls, chain
    return None


def _roll_orders(instance: Instance, remainders: Sequence[int], new_rolls: int) -> Iterator[Rolls]:
    """Orders of the rolls worth trying: remainders first, then last."""
    owned, rows = tuple(instance.remainders[row] for row in remainders), tuple(remainders)
    new, none = (instance.roll,) * new_rolls, (-1,) * new_rolls
    yield Rolls(owned + new, rows + none, 0)
    if owned and new:
        yield Rolls(new + owned, none + rows, 0)
    if len(owned) > 1:
        yield Rolls(owned[::-1] + new, rows[::-1] + none, 0)


def _search(instance: Instance, rolls: Rolls, kinds: Sequence[int], beam: int) -> Step | None:
    """Best chain found that takes every pull; least room lost first, ties by kind."""
    left: dict[int, int] = {}
    for kind in kinds:
        left[kind] = left.get(kind, 0) + 1
    ends = [0]
    for place in range(len(rolls.listed)):
        ends.append(ends[-1] + rolls.listed[place])
    states: list[tuple[int, Step, dict[int, int]]] = [(0, empty_chain(rolls), left)]
    for taken in range(len(kinds)):
        grown = _grow_all(instance, rolls, states, ends, are_ends_equal=taken == 0)
        if not grown:
            return None
        states = grown[:beam]
    return states[0][1]


def _grow_all(
    instance: Instance,
    rolls: Rolls,
    states: list[tuple[int, Step, dict[int, int]]],
    ends: list[int],
    are_ends_equal: bool,
) -> list[tuple[int, Step, dict[int, int]]]:
    """Every state with one more pull, least lost first; states alike but for their order kept once."""
    best: dict[tuple[tuple[int, int], ...], list[tuple[int, Step, dict[int, int]]]] = {}
    for _, chain, left in states:
        for kind in left:
            rest = {k: n - (k == kind) for k, n in left.items() if n - (k == kind)}
            placed = sum(instance.length[k] * n for k, n in rest.items())
            for is_reversed in (False, True):
                longer = extend(instance, rolls, chain, kind, is_reversed, may_restart=True)
                if longer is None:
                    continue
                used = ends[longer.rolls] - longer.room
                lost = used + placed - instance.loss * longer.splices
                best.setdefault(tuple(sorted(rest.items())), []).append((lost, longer, rest))
                if instance.length[kind] <= chain.room:
                    break
    grown = []
    for alike in best.values():
        alike.sort(key=lambda state: state[0])
        grown.extend(alike[: 2 if are_ends_equal else 1])
    grown.sort(key=lambda state: state[0])
    return grown
