"""Small networks searched through: every order in which activities can be started, but for those that cannot win."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fencewright.programme.network import Network, latest


@dataclass(frozen=True, slots=True)
class Found:
    """Best starts, their end, and the end that is proven not to be beaten. [slots]"""

    start: Sequence[int]
    finish: int
    bound: int


class _Search:
    """Depth-first search over orders; each activity is started as early as people and plant allow."""

    def __init__(self, network: Network, start: Sequence[int], finish: int, bound: int, most: int) -> None:
        self.network = network
        self.best = list(start)
        self.finish = finish
        self.bound = bound
        self.left = most
        self.free = np.tile(np.array(network.capacity, dtype=np.int64)[:, None], (1, finish + 1))
        self.late, _ = latest(network, finish - 1)
        self.seen: set[tuple[frozenset[int], tuple[int, ...]]] = set()

    def run(self) -> None:
        """Search until done, at the bound, or out of nodes."""
        self._descend({}, {})

    def _fit(self, row: int, at: int) -> int:
        """Earliest slot from `at` at which there are people and plant for all of an activity."""
        length = self.network.duration[row]
        while at + length <= self.finish:
            blocked = -1
            for kind, count in self.network.needs[row]:
                short = np.flatnonzero(self.free[kind, at : at + length] < count)
                if len(short):
                    blocked = max(blocked, int(short[-1]))
            if blocked < 0:
                return at
            at += blocked + 1
        return self.finish

    def _take(self, row: int, at: int, sign: int) -> None:
        for kind, count in self.network.needs[row]:
            self.free[kind, at : at + self.network.duration[row]] -= sign * count

    def _choices(self, start: dict[int, int], end: dict[int, int]) -> list[tuple[int, int, int]] | None:
        """Activities that may be placed next: latest start, row, start; None where one comes too late."""
        found = []
        for row, many in enumerate(self.network.before):
            if row in start or not all(one in end for one in many):
                continue
            at = max((end[one] for one in many), default=0)
            if row not in self.network.release:
                at = self._fit(row, at)
            if at > self.late[row]:
                return None
            found.append((self.late[row], row, at))
        return sorted(found)

    def _descend(self, start: dict[int, int], end: dict[int, int]) -> None:
        if self.finish <= self.bound or self.left <= 0:
            return
        self.left -= 1
        choices = self._choices(start, end)
        if choices is None:
            return
        if not choices:
            self._keep(start, end)
            return
        waits = [one for one in choices if one[1] in self.network.release]
        for _, row, at in waits[:1] or choices:
            self._try(row, at, start, end)
            if self.finish <= self.bound or self.left <= 0:
                return
            if at > self.late[row]:
                return

    def _try(self, row: int, at: int, start: dict[int, int], end: dict[int, int]) -> None:
        """Place one activity, go on from there unless the same was seen, take it back."""
        start[row], end[row] = at, self.network.ends(row, at)
        state = (frozenset(start), tuple(start[one] for one in sorted(start)))
        if state not in self.seen:
            self.seen.add(state)
            self._take(row, at, 1)
            self._descend(start, end)
            self._take(row, at, -1)
        del start[row], end[row]

    def _keep(self, start: dict[int, int], end: dict[int, int]) -> None:
        """Keep a better plan, and ask for a better one still."""
        finish = max(end.values(), default=0)
        if finish < self.finish:
            self.finish = finish
            self.best = [start[row] for row in range(len(self.network))]
            self.late, _ = latest(self.network, finish - 1)


def search(network: Network, start: Sequence[int], finish: int, bound: int, most: int) -> Found:
    """Search all orders of starting activities for a shorter plan.

    Parameters
    ----------
    network : Network
        A small one.
    start, finish : sequence of int, int
        A plan, and its end. [slots]
    bound : int
        An end that no plan beats. [slots]
    most : int
        Partial plans that are looked at before the search gives up.

    Returns
    -------
    Found
        `bound` is `finish` where the search came to its end.

    Notes
    -----
    Some shortest plan starts each activity, in some order that keeps the network, as early as those before it in that
    order allow. The same partial plan is never gone into twice, and one in which an activity would come later than a
    better plan allows is dropped. Exponential in the number of activities.
    """
    hunt = _Search(network, start, finish, bound, most)
    hunt.run()
    return Found(hunt.best, hunt.finish, hunt.finish if hunt.left > 0 else bound)
