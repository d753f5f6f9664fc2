"""Groups grown one pull at a time, each splice placed as it comes: near-linear, for any number of pulls.

A chain starts with the longest residue and looks for the one or two pulls that finish its roll with
next to nothing left. Where none do, the longest that fits goes on; where none fits, one is spliced.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fencewright.takeoff.roll_chain import Rolls, Step, empty_chain, extend, new_rolls
from fencewright.takeoff.roll_instance import Instance

Chain = tuple[Rolls, Step]  # its rolls, its last step


@dataclass(frozen=True)
class GreedyRule:
    """When a chain is finished, and how hard a better finish is looked for. [um]"""

    aim: int  # left over on a finished chain, at most
    close: int  # left over that isn't worth another splice
    samples: int  # first pulls of a pair looked at


class _Pool:
    """Pulls not cut yet, sorted by residue."""

    def __init__(self, instance: Instance, kinds: Sequence[int]) -> None:
        self.count = [0] * len(instance.length)
        for kind in kinds:
            self.count[kind] += 1
        present = sorted((instance.residue[k], k) for k in range(len(self.count)) if self.count[k])
        self.residue = [residue for residue, _ in present]
        self.kind = [kind for _, kind in present]

    def take(self, kind: int, residue: int) -> None:
        """Take one pull of a kind out."""
        self.count[kind] -= 1
        if self.count[kind] == 0:
            row = bisect_left(self.residue, residue)
            while self.kind[row] != kind:
                row += 1
            del self.residue[row], self.kind[row]


def break_even(instance: Instance) -> int:
    """Rail left on a finished chain that costs as much as the splice that would use it. [um]"""
    each = instance.roll + instance.price
    return instance.loss + instance.price * instance.further // each


def greedy_chains(
    instance: Instance, kinds: Sequence[int], remainders: Sequence[int], rule: GreedyRule
) -> list[Chain]:
    """Cut all the pulls named, remainders first, then new rolls.

    Parameters
    ----------
    instance : Instance
        The problem.
    kinds : int sequence (pulls,)
        Kind of each pull to cut.
    remainders : int sequence
        Remainders that may be used, in the order to try them.
    rule : GreedyRule
        When to finish a chain.

    Returns
    -------
    chains : list of Chain
        Every pull in one chain.

    Raises
    ------
    RuntimeError
        A pull cannot be laid from a new roll, which is to be seen to before.
    """
    pool = _Pool(instance, kinds)
    chains: list[Chain] = []
    for row in remainders:
        rolls = Rolls((instance.remainders[row],), (row,), instance.roll)
        chain = _grow(instance, rolls, pool, empty_chain(rolls), rule)
        if chain.kind >= 0:
            chains.append((rolls, chain))
    rolls = new_rolls(instance)
    while pool.kind:
        start = _lay(instance, rolls, empty_chain(rolls), [pool.kind[-1]], None)
        if start is None:
            raise RuntimeError("a pull that lies on new rolls was not laid: a fault of the program")
        pool.take(start.kind, instance.residue[start.kind])
        chains.append((rolls, _grow(instance, rolls, pool, start, rule)))
    return chains


def _grow(instance: Instance, rolls: Rolls, pool: _Pool, chain: Step, rule: GreedyRule) -> Step:
    """Add pulls until the last roll is used up to the rule, or nothing may follow."""
    while pool.kind and chain.room > rule.aim:
        fits = pool.residue[0] <= chain.room
        finish = _finish(instance, rolls, pool, chain, rule, range(1) if fits else range(1, 3))
        if finish is None and not fits and chain.room <= rule.close:
            break
        longer = finish or (_fit(instance, rolls, pool, chain) if fits else None)
        if longer is None and chain.room > rule.close:
            longer = _lay(instance, rolls, chain, [pool.kind[-1]], None)
        if longer is None:
            break
        step: Step | None = longer
        while step is not None and step is not chain:
            pool.take(step.kind, instance.residue[step.kind])
            step = step.before
        chain = longer
    return chain


def _lay(
    instance: Instance, rolls: Rolls, chain: Step, kinds: Sequence[int], most_rolls: int | None
) -> Step | None:
    """Chain with the pulls laid in this order, each in the direction that leaves more room."""
    for kind in kinds:
        ahead = extend(instance, rolls, chain, kind, False)
        if ahead is None or ahead.splices > chain.splices:
            back = extend(instance, rolls, chain, kind, True)
            if ahead is None or (back is not None and (back.rolls, -back.room) < (ahead.rolls, -ahead.room)):
                ahead = back
        if ahead is None:
            return None
        chain = ahead
    return chain if most_rolls is None or chain.rolls <= most_rolls else None


def _fit(instance: Instance, rolls: Rolls, pool: _Pool, chain: Step) -> Step | None:
    """Longest residue that goes on without another roll; the next shorter ones if its splices don't fall well."""
    row = bisect_right(pool.residue, chain.room) - 1
    for kind in pool.kind[max(0, row - 5) : row + 1][::-1]:
        longer = _lay(instance, rolls, chain, [kind], chain.rolls + instance.full_rolls[kind])
        if longer is not None:
            return longer
    return None


def _finish(
    instance: Instance, rolls: Rolls, pool: _Pool, chain: Step, rule: GreedyRule, extras: range
) -> Step | None:
    """One or two pulls that leave at most `rule.aim`, with as few extra rolls as can be."""
    for extra in extras:
        target = chain.room + extra * instance.further
        for kinds in _candidates(instance, pool, target, rule):
            most = chain.rolls + extra + sum(instance.full_rolls[kind] for kind in kinds)
            for order in (kinds, kinds[::-1])[: len(kinds)]:
                longer = _lay(instance, rolls, chain, order, most)
                if longer is not None and longer.room <= rule.aim:
                    return longer
    return None


def _candidates(instance: Instance, pool: _Pool, target: int, rule: GreedyRule) -> Iterator[list[int]]:
    """Single pulls, then pairs, whose residues come within `rule.aim` below the target."""
    residue, kind = pool.residue, pool.kind
    top = bisect_right(residue, target) - 1
    for row in range(top, max(-1, top - 4), -1):
        if residue[row] < target - rule.aim:
            break
        yield [kind[row]]
    pairs = []
    stride = max(1, (top + 1) // rule.samples)
    for first in range(top, -1, -stride):
        rest = target - residue[first]
        second = min(bisect_right(residue, rest) - 1, len(residue) - 1)
        if second == first and pool.count[kind[first]] < 2:
            second -= 1
        if second >= 0 and rest - residue[second] <= rule.aim:
            pairs.append((rest - residue[second], first, second))
    for _, first, second in sorted(pairs)[:3]:
        yield [kind[first], kind[second]]
