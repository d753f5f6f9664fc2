"""What holds a fence at the depths that its holes have, whatever acts."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.strength.brace_footings import FootingCapacity, footing_capacity
from fencewright.strength.braces import brace_capacities_n
from fencewright.strength.fence import Fence
from fencewright.strength.footings import UPLIFT_MODELS, bearing_of_post_n, holds_down_n, hole_shape
from fencewright.strength.yielding import brace_flexibility_m_n

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Holds:
    """What posts, their holes and braces hold.

    Of the posts, (posts,): `models_n` against uplift by each model, `down_n` by the job's; `bearing_n` under load;
    `weight_n` of the post itself [N]. Of the braces, (braces,): `footings`; `strut_n` along each by the duration and
    time effect of a case [N]; `flexible_m_n` how they give [m/N].
    """

    models_n: Mapping[str, Floats]
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
    models = holds_down_n(
        task, hole_shape(task, footing, members, np.arange(len(depth))), depth, UPLIFT_MODELS
    )
    return Holds(
        models,
        models[task.settings.strength.ground.uplift_model],
        bearing_of_post_n(task, footing),
        members.weight_n_m * (task.height_m + depth),
        footing_capacity(task, fence.soil, task.brace_holes.depth_m),
        brace_capacities_n(task, fence.frame, fence.cases),
        brace_flexibility_m_n(task, footing, members, fence.frame),
    )
