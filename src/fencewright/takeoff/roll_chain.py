"""Walk pulls along a chain of rolls: where each splice falls so that the least rail is left over.

In a chain each roll begins in the pull that the roll before could not finish. At the start of a pull
more room on the roll is never worse, so the furthest allowed splice is exact for a given order.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from itertools import pairwise
from typing import NamedTuple

from fencewright.takeoff.roll_instance import Instance


class Rolls(NamedTuple):
    """Rolls of a chain in order; past the listed ones new rolls follow if `more` is their length, not 0."""

    listed: tuple[int, ...]  # lengths
    rows: tuple[int, ...]  # remainder at each listed place, -1 for a new roll
    more: int

    def length(self, place: int) -> int:
        """Length of the roll at a place; 0 if there is none."""
        return self.listed[place] if place < len(self.listed) else self.more


def new_rolls(instance: Instance) -> Rolls:
    """Nothing but new rolls, as many as it takes."""
    return Rolls((), (), instance.roll)


class Walk(NamedTuple):
    """One pull laid along the rolls: splices counted from the end where it was entered."""

    splices: tuple[int, ...]
    rolls: int  # rolls begun so far
    room: int  # left on the last of them


class Step(NamedTuple):
    """A chain after one more pull; `before` leads back to its beginning."""

    room: int
    rolls: int
    splices: int
    kind: int
    is_reversed: bool
    first_roll: int
    walk: tuple[int, ...]
    before: Step | None


def empty_chain(rolls: Rolls) -> Step:
    """Return a chain with its first roll begun and no pull on it."""
    return Step(rolls.length(0), 1, 0, -1, False, 0, (), None)


def chain_steps(last: Step) -> list[Step]:
    """Steps of a chain from its beginning, the empty one left out."""
    steps: list[Step] = []
    step: Step | None = last
    while step is not None and step.kind >= 0:
        steps.append(step)
        step = step.before
    return steps[::-1]


def roll_rooms(instance: Instance, rolls: Rolls, last: Step) -> dict[int, int]:
    """Rail left on each roll of a chain that a pull takes something from, by its place. [um]"""
    rooms: dict[int, int] = {}
    for step in chain_steps(last):
        ends = [0, *step.walk, instance.length[step.kind]]
        for part, (low, high) in enumerate(pairwise(ends)):
            is_first = part == (len(step.walk) if step.is_reversed else 0)
            place = step.first_roll + part
            left = rooms.get(place, rolls.length(place))
            rooms[place] = left - (high - low) - (0 if is_first else instance.loss)
    return rooms


def extend(
    instance: Instance, rolls: Rolls, chain: Step, kind: int, is_reversed: bool, may_restart: bool = False
) -> Step | None:
    """Lay one more pull at the end of a chain.

    Parameters
    ----------
    instance : Instance
        The problem.
    rolls : Rolls
        Rolls of the chain.
    chain : Step
        The chain so far.
    kind : int
        Kind of the pull.
    is_reversed : bool
        Whether it is entered at its far end.
    may_restart : bool
        Whether the room on the last roll may be given up where the pull cannot be entered from it.

    Returns
    -------
    chain : Step or None
        The longer chain, none if the pull does not go on.
    """
    first = chain.rolls - 1
    walk = walk_pull(instance, rolls, kind, is_reversed, chain.room, chain.rolls)
    if walk is None and may_restart and rolls.length(chain.rolls) > 0:
        first = chain.rolls
        walk = walk_pull(instance, rolls, kind, is_reversed, rolls.length(first), first + 1)
    if walk is None:
        return None
    splices = chain.splices + len(walk.splices)
    return Step(walk.room, walk.rolls, splices, kind, is_reversed, first, walk.splices, chain)


def walk_pull(
    instance: Instance, rolls: Rolls, kind: int, is_reversed: bool, room: int, begun: int
) -> Walk | None:
    """Lay a pull from a roll with some room left, on to as few more rolls as can be.

    Parameters
    ----------
    instance, rolls, kind, is_reversed : Instance, Rolls, int, bool
        As for `extend`.
    room : int
        Rail left on the roll where the pull is entered. [um]
    begun : int
        Rolls of the chain begun so far.

    Returns
    -------
    walk : Walk or None
        None if no allowed splices lead from end to end.

    Notes
    -----
    The loss is taken from the fragment further along the pull: entered at its far end, the first fragment
    pays it and the last does not. The furthest allowed splice is taken each time; only where the next one
    would make too short a fragment are all reachable splices tried, `_walk_all`.
    """
    length, loss, least = instance.length[kind], instance.loss, instance.least
    if length <= room:
        return Walk((), begun, room - length)
    last_loss = 0 if is_reversed else loss
    position, reach = 0, room - (loss if is_reversed else 0)
    splices: list[int] = []
    place = begun
    while True:
        nearest = position + least
        splice = _furthest(instance, kind, is_reversed, reach)
        roll = rolls.length(place)
        if roll == 0:
            return None
        if splice < nearest:
            return _walk_all(instance, rolls, kind, is_reversed, room, begun) if splices else None
        splices.append(splice)
        place += 1
        if length - splice <= roll - last_loss:
            return Walk(tuple(splices), place, roll - last_loss - (length - splice))
        position, reach = splice, splice + roll - loss


def _furthest(instance: Instance, kind: int, is_reversed: bool, reach: int) -> int:
    """Furthest allowed splice within reach of the end where the pull is entered; -1 if none."""
    first, beyond = instance.window_start[kind], instance.window_start[kind + 1]
    if not is_reversed:
        row = bisect_right(instance.window_from, reach, first, beyond) - 1
        return min(instance.window_to[row], reach) if row >= first else -1
    length = instance.length[kind]
    nearest = length - reach
    row = bisect_left(instance.window_to, nearest, first, beyond)
    return length - max(instance.window_from[row], nearest) if row < beyond else -1


def _windows_from(instance: Instance, kind: int, is_reversed: bool) -> list[tuple[int, int]]:
    """Windows of a pull counted from the end where it is entered."""
    rows = range(instance.window_start[kind], instance.window_start[kind + 1])
    pairs = [(instance.window_from[row], instance.window_to[row]) for row in rows]
    length = instance.length[kind]
    return [(length - high, length - low) for low, high in reversed(pairs)] if is_reversed else pairs


def _within(windows: list[tuple[int, int]], spans: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Parts of the windows that lie in the spans; both in order, spans possibly overlapping."""
    merged: list[tuple[int, int]] = []
    for low, high in spans:
        if merged and low <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(high, merged[-1][1]))
        else:
            merged.append((low, high))
    parts = []
    for low, high in merged:
        for window_low, window_high in windows:
            if max(low, window_low) <= min(high, window_high):
                parts.append((max(low, window_low), min(high, window_high)))
    return parts


def _walk_all(
    instance: Instance, rolls: Rolls, kind: int, is_reversed: bool, room: int, begun: int
) -> Walk | None:
    """Walk with every reachable splice kept, up to a count that only odd windows pass. O(splices x windows^2)."""
    length, loss, least = instance.length[kind], instance.loss, instance.least
    windows = _windows_from(instance, kind, is_reversed)
    last_loss = 0 if is_reversed else loss
    reachable = [_within(windows, [(least, room - (loss if is_reversed else 0))])]
    place = begun
    most_splices = length // instance.further + len(windows) + 4
    while reachable[-1] and len(reachable) <= most_splices:
        roll = rolls.length(place)
        if roll == 0:
            return None
        place += 1
        furthest = reachable[-1][-1][1]
        if length - furthest <= roll - last_loss:
            splices = _trace_back(
                reachable, furthest, [rolls.length(p) - loss for p in range(begun, place)], least
            )
            return Walk(splices, place, roll - last_loss - (length - furthest))
        spans = [(low + least, high + roll - loss) for low, high in reachable[-1]]
        reachable.append(_within(windows, [span for span in spans if span[0] <= span[1]]))
    return None


def _trace_back(
    reachable: list[list[tuple[int, int]]], furthest: int, adds: list[int], least: int
) -> tuple[int, ...]:
    """Furthest splices, last first, each within reach of the one before."""
    splices = [furthest]
    for step in range(len(reachable) - 2, -1, -1):
        low, high = splices[-1] - adds[step], splices[-1] - least
        fits = [min(b, high) for a, b in reachable[step] if max(a, low) <= min(b, high)]
        splices.append(fits[-1])
    return tuple(reversed(splices))
