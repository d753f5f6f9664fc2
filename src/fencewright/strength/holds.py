"""What holds a fence at the depths that its holes have, whatever acts."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.strength.brace_footings import FootingCapacity, footing_capacity
from fencewright.strength.braces import brace_capacities_n
from fencewright.strength.fence import Fence
from fencewright.strength.footings import HoleShape, bearing_of_post_n, hold_down_n, hole_shape
from fencewright.strength.yielding import brace_flexibility_m_n

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Holds:
    """What posts, their holes and braces hold.

    Of the posts, (posts,): `shape` of their holes, `down_n` against uplift, `bearing_n` under load, `weight_n` of the
    post itself [N]; of the braces, (braces,): `footings`; `strut_n` along each by the duration and time effect of
    a case [N]; `flexible_m_n` how they give [m/N].
    """

    shape: HoleShape
    down_n: Floats
    bearing_n: Floats
    weight_n: Floats
    footings: FootingCapacity
    strut_n: Mapping[tuple[float | None, float], Floats]
    flexible_m_n: Floats


def holds_of(fence: Fence) -> Holds:
    """Work out what holds a fence."""
    task, footing, members = fence.task, fence.footing, fence.members
    depth = task.holes.depth_m
    shape = hole_shape(task, footing, members, np.arange(len(depth)))
    return Holds(
        shape,
        hold_down_n(task, shape, depth, task.settings.strength.ground.uplift_model),
        bearing_of_post_n(task, footing),
        members.weight_n_m * (task.height_m + depth),
        footing_capacity(task, fence.soil, task.brace_holes.depth_m),
        brace_capacities_n(task, fence.frame, fence.cases),
        brace_flexibility_m_n(task, footing, members, fence.frame),
    )
