"""A plan laid out: activities in order of starting, who works on each, and by how much each may slip."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from fencewright.programme.activities import Step
from fencewright.programme.crew import Shared, share_out
from fencewright.programme.levelling import Plan
from fencewright.programme.network import Network, earliest, slack

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Laid:
    """A plan laid out: steps in order of starting, the network with the links of the crew, starts, latest starts.

    `links` rows that only free people or plant; `shared` who works; `wait_h` end of each wait by slot [h].
    """

    steps: tuple[Step, ...]
    network: Network
    links: tuple[tuple[int, ...], ...]
    shared: Shared
    start: tuple[int, ...]
    finish: int
    total: tuple[int, ...]
    free: tuple[int, ...]
    wait_h: dict[int, Floats]


def lay(steps: Sequence[Step], network: Network, levelled: Plan, wait_h: Mapping[int, Floats]) -> Laid:
    """Put a plan in order of starting, give out people and plant, and reckon the floats that this leaves.

    Parameters
    ----------
    steps, network : sequence of Step, Network
        Rows alike.
    levelled : Plan
        Starts that keep to the crew.
    wait_h : mapping
        Hour at which each wait ends, by its row and the slot before which it begins. [h]

    Returns
    -------
    Laid
        Each activity starts when all that it follows and all whose people or plant it takes over are done.
    """
    order = sorted(range(len(steps)), key=lambda row: (levelled.start[row], row))
    place = {row: number for number, row in enumerate(order)}
    sorted_steps = tuple(
        replace(steps[row], before=tuple(sorted(place[one] for one in steps[row].before))) for row in order
    )
    own = Network(
        tuple(network.duration[row] for row in order),
        tuple(one.before for one in sorted_steps),
        network.need[order],
        network.capacity,
        {place[row]: table for row, table in network.release.items()},
    )
    shared = share_out(own, [levelled.start[row] for row in order])
    linked = own.with_links(shared.links)
    start, end = earliest(linked)
    finish = max(end, default=0)
    total, free = slack(linked, start, finish)
    waits = {place[row]: hours for row, hours in wait_h.items()}
    return Laid(
        sorted_steps, linked, shared.links, shared, tuple(start), finish, tuple(total), tuple(free), waits
    )
