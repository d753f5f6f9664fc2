"""The network of activities: earliest and latest dates and floats, work in working time and waits in calendar time.

All dates are slots of working time. A wait has no length of its own in it: `release` says, for each slot before which it
may begin, the first slot that is free once it is over. It never falls, so dates go through it both ways.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Network:
    """Activities, each after those that it follows.

    `duration` (activities,) slots of working time, 0 for a wait; `before` rows that must be done first, all above their
    own row; `need` (activities, resources) of each resource while it is worked; `capacity` (resources,); `release`
    (slots + 1,) of each wait, by row.
    """

    duration: tuple[int, ...]
    before: tuple[tuple[int, ...], ...]
    need: Ints
    capacity: tuple[int, ...]
    release: Mapping[int, Ints] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if any(row <= one for row, many in enumerate(self.before) for one in many):
            raise ValueError("an activity stands before one that it follows")
        if any(one in self.release for row in self.release for one in self.before[row]):
            raise ValueError("a wait may not follow a wait: its hours would be lost")

    def __len__(self) -> int:
        """Number of activities."""
        return len(self.duration)

    @cached_property
    def following(self) -> tuple[tuple[int, ...], ...]:
        """Rows that follow each one."""
        rows: list[list[int]] = [[] for _ in self.duration]
        for row, many in enumerate(self.before):
            for one in many:
                rows[one].append(row)
        return tuple(map(tuple, rows))

    @cached_property
    def needs(self) -> tuple[tuple[tuple[int, int], ...], ...]:
        """Resources of each activity with how much of each."""
        return tuple(
            tuple((kind, int(count)) for kind, count in enumerate(row) if count) for row in self.need.tolist()
        )

    @cached_property
    def common_kind(self) -> int:
        """A resource that every activity but the waits needs, -1 where there is none."""
        worked = [row for row in range(len(self)) if row not in self.release]
        kinds = np.flatnonzero((self.need[worked] > 0).all(axis=0)) if worked else np.zeros(0, np.int64)
        return int(kinds[0]) if len(kinds) else -1

    def ends(self, row: int, start: int) -> int:
        """First slot after an activity that starts at a slot."""
        table = self.release.get(row)
        return start + self.duration[row] if table is None else int(table[start])

    def starts_by(self, row: int, end: int) -> int:
        """Latest slot at which an activity may start to be over by a slot; -1 where there is none."""
        table = self.release.get(row)
        if table is None:
            return end - self.duration[row]
        return int(np.searchsorted(table, end, side="right")) - 1

    def with_links(self, links: Sequence[Sequence[int]]) -> "Network":
        """Give the same network with more rows that must be done first."""
        both = tuple(tuple(sorted({*old, *new})) for old, new in zip(self.before, links, strict=True))
        return replace(self, before=both)


def earliest(network: Network) -> tuple[list[int], list[int]]:
    """Earliest start and end of each activity, people and plant unlimited. [slots]

    Notes
    -----
    One pass forward: an activity starts when all before it are over. O(links).
    """
    start, end = [0] * len(network), [0] * len(network)
    for row, many in enumerate(network.before):
        start[row] = max((end[one] for one in many), default=0)
        end[row] = network.ends(row, start[row])
    return start, end


def latest(network: Network, finish: int) -> tuple[list[int], list[int]]:
    """Latest start and end of each activity that keep a finish. [slots]

    Notes
    -----
    One pass backward: an activity is over when the first of those after it must start. O(links log slots).
    """
    start, end = [finish] * len(network), [finish] * len(network)
    for row in range(len(network) - 1, -1, -1):
        end[row] = min((start[one] for one in network.following[row]), default=finish)
        start[row] = network.starts_by(row, end[row])
    return start, end


def slack(network: Network, start: Sequence[int], finish: int) -> tuple[list[int], list[int]]:
    """Latest starts of a plan: by which the finish holds, and by which every other start holds. [slots]

    Parameters
    ----------
    network : Network
        With the links that share people and plant out.
    start : sequence of int (activities,)
        Of the plan.
    finish : int
        Its end.

    Returns
    -------
    list of int, list of int
        The total float of an activity is from its start to the first, its free float to the second.
    """
    total, _ = latest(network, finish)
    free = []
    for row in range(len(network)):
        end = min((start[one] for one in network.following[row]), default=finish)
        free.append(network.starts_by(row, end))
    return total, free
