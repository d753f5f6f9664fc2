"""Who does what: the people and machines of a plan by name, and the links that this makes between activities."""

from collections.abc import Sequence
from dataclasses import dataclass

from fencewright.programme.network import Network


@dataclass(frozen=True, slots=True)
class Shared:
    """Units of each resource that work on each activity, (activities, resources), and the links between them.

    `units[row][kind]` numbers from 0; `links[row]` rows whose people or plant it takes over.
    """

    units: tuple[tuple[tuple[int, ...], ...], ...]
    links: tuple[tuple[int, ...], ...]


def share_out(network: Network, start: Sequence[int]) -> Shared:
    """Give each activity its people and machines.

    Parameters
    ----------
    network : Network
        The activities.
    start : sequence of int (activities,)
        A plan that keeps to the capacity. [slots]

    Returns
    -------
    Shared

    Notes
    -----
    In order of starting, each takes first those who come from an activity that it follows, then those who were free
    last, so that few links are made. A plan that starts each activity when all before it and all linked to it are over
    keeps to the capacity. O(activities x people).
    """
    last: list[list[tuple[int, int]]] = [[(0, -1)] * count for count in network.capacity]
    units: list[list[tuple[int, ...]]] = [[() for _ in network.capacity] for _ in start]
    links: list[set[int]] = [set() for _ in start]
    for row in sorted(range(len(network)), key=lambda one: (start[one], one)):
        for kind, count in network.needs[row]:
            chosen = _choose(last[kind], set(network.before[row]), start[row], count)
            units[row][kind] = chosen
            for unit in chosen:
                if last[kind][unit][1] >= 0:
                    links[row].add(last[kind][unit][1])
                last[kind][unit] = (start[row] + network.duration[row], row)
    return Shared(
        tuple(map(tuple, units)),
        tuple(tuple(sorted(many - set(network.before[row]))) for row, many in enumerate(links)),
    )


def _choose(last: list[tuple[int, int]], before: set[int], start: int, count: int) -> tuple[int, ...]:
    """Units that are free by a start: from an activity before it, else the last to be free, else by number."""
    free = [unit for unit, (until, _) in enumerate(last) if until <= start]
    free.sort(key=lambda unit: (last[unit][1] not in before, -last[unit][0], unit))
    if len(free) < count:
        raise ValueError("a plan needs more people or plant than there are")
    return tuple(sorted(free[:count]))
