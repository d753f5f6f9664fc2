"""A plan that keeps to the crew and the plant: activities started one after the other by rules, then improved."""

import random
from bisect import insort
from collections.abc import Sequence
from dataclasses import dataclass
from heapq import heappop, heappush

from fencewright.programme.bounds import lower_bound
from fencewright.programme.branching import search
from fencewright.programme.network import Network, earliest, latest

_SEED = 20_260_401
_TRIES_TIMES_ROWS = 10_000  # of the improvement: fewer tries for larger networks, so that its time stays
_SPREAD = 0.25  # of the network's length, by which priorities are shaken
_SEARCHED_ROWS, _SEARCHED_NODES = 60, 4_000


@dataclass(frozen=True, slots=True)
class Plan:
    """Starts in slots, their end, and the end that no plan can beat; `by` what proves that."""

    start: tuple[int, ...]
    finish: int
    bound: int
    by: str

    @property
    def is_proven(self) -> bool:
        """Whether no plan is shorter."""
        return self.finish <= self.bound


def level(network: Network, preferred: Sequence[Sequence[float]] = (), *, is_thorough: bool = True) -> Plan:
    """Find a short plan within the crew and the plant, and the end that no plan can beat.

    Parameters
    ----------
    network : Network
        No activity needs more than there is.
    preferred : sequence of sequence of float (activities,), optional
        Orders of urgency that are tried first, smallest first, and kept where nothing else is shorter.
    is_thorough : bool, optional
        Improve what the rules give, and search small networks.

    Returns
    -------
    Plan

    Notes
    -----
    Activities are started as soon as they can be, the most urgent first (parallel schedule generation), by rules and then
    by the best rule's order shaken with a fixed seed, a fixed number of times; a small network is then searched by
    branching. Stops at the bound. O(tries x activities x resources).
    """
    bound, by = lower_bound(network)
    start, finish, urgency = _by_rules(network, bound, preferred)
    if finish > bound and is_thorough:
        start, finish = _shaken(network, start, finish, urgency, bound)
    if finish > bound and is_thorough and len(network) <= _SEARCHED_ROWS:
        found = search(network, start, finish, bound, _SEARCHED_NODES)
        if found.bound > bound:
            bound, by = found.bound, "search"
        start, finish = found.start, found.finish
    return Plan(tuple(start), finish, bound, by)


Found = tuple[Sequence[int], int]


def _by_rules(
    network: Network, bound: int, preferred: Sequence[Sequence[float]]
) -> tuple[Sequence[int], int, list[float]]:
    """Best of the rules: those preferred, latest start, latest end, most work that follows, fewest hours first."""
    early, early_end = earliest(network)
    late, late_end = latest(network, max(early_end, default=0))
    follow = _following_work(network)
    rules = [
        *(list(one) for one in preferred),
        [float(one) for one in late],
        [float(one) for one in late_end],
        [-float(one) for one in follow],
        [float(b - a) for a, b in zip(early, late, strict=True)],
    ]
    best: tuple[Sequence[int], int, list[float]] | None = None
    for rule in rules:
        start, finish = started(network, rule)
        if best is None or finish < best[1]:
            best = (start, finish, rule)
        if finish <= bound:
            break
    if best is None:
        raise ValueError("there are no rules")
    return best


def _following_work(network: Network) -> list[int]:
    """Slots of work of each activity and of all that directly follow it."""
    return [
        network.duration[row] + sum(network.duration[one] for one in network.following[row])
        for row in range(len(network))
    ]


def _shaken(network: Network, start: Sequence[int], finish: int, urgency: list[float], bound: int) -> Found:
    """Shake the order of urgency, keep what is no worse."""
    rng = random.Random(_SEED)
    tries = max(8, min(400, _TRIES_TIMES_ROWS // max(len(network), 1)))
    spread = _SPREAD * max(finish, 1)
    kept = urgency
    for number in range(tries):
        width = spread * (1 - number / tries)
        tried = [one + rng.uniform(-width, width) for one in kept]
        begun, ends = started(network, tried)
        if ends <= finish:
            kept = tried
            if ends < finish:
                start, finish = begun, ends
        if finish <= bound:
            break
    return start, finish


def started(network: Network, urgency: Sequence[float]) -> Found:
    """Start every activity as soon as it and its people can, the smallest urgency first.

    Returns
    -------
    list of int, int
        Starts and their end. [slots]
    """
    waiting = [len(many) for many in network.before]
    start, ready_at = [0] * len(network), [0] * len(network)
    free = list(network.capacity)
    done: list[tuple[int, int]] = []  # slot at which an activity is over, and its row
    ready: list[tuple[float, int]] = []
    for row, count in enumerate(waiting):
        if not count:
            _make_ready(network, row, 0, ready, done, start, urgency[row])
    now = finish = 0
    while done or ready:
        ready = _begin(network, now, ready, free, done, start)
        if not done:
            raise ValueError("an activity needs more people or plant than there are")
        now = done[0][0]
        while done and done[0][0] <= now:
            _, row = heappop(done)
            finish = max(finish, now)
            for kind, count in network.needs[row]:
                free[kind] += count
            for one in network.following[row]:
                ready_at[one] = max(ready_at[one], now)
                waiting[one] -= 1
                if not waiting[one]:
                    _make_ready(network, one, ready_at[one], ready, done, start, urgency[one])
    return start, finish


def _make_ready(
    network: Network,
    row: int,
    at: int,
    ready: list[tuple[float, int]],
    done: list[tuple[int, int]],
    start: list[int],
    urgency: float,
) -> None:
    """Begin a wait at once; put work among what may begin."""
    if row in network.release:
        start[row] = at
        heappush(done, (network.ends(row, at), row))
    else:
        insort(ready, (urgency, row))


def _begin(
    network: Network,
    now: int,
    ready: list[tuple[float, int]],
    free: list[int],
    done: list[tuple[int, int]],
    start: list[int],
) -> list[tuple[float, int]]:
    """Begin all that may and for which there are people and plant, in order; the rest, in order."""
    left: list[tuple[float, int]] = []
    common = network.common_kind
    for place, one in enumerate(ready):
        if common >= 0 and not free[common]:
            return left + ready[place:]
        row = one[1]
        needs = network.needs[row]
        for kind, count in needs:
            if free[kind] < count:
                left.append(one)
                break
        else:
            for kind, count in needs:
                free[kind] -= count
            start[row] = now
            heappush(done, (now + network.duration[row], row))
    return left
