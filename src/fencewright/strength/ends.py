"""What each run's two ends carry and how far they yield."""

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import LoadCase
from fencewright.mechanics.rigid_post import stiffness_n_m
from fencewright.strength.braces import SAME_WAY, BraceFrame
from fencewright.strength.end_limits import RunEnds, end_limits
from fencewright.strength.fence import Fence
from fencewright.strength.holds import Holds
from fencewright.strength.meetings import Rails
from fencewright.strength.posts import size
from fencewright.strength.task import StrengthTask
from fencewright.strength.yielding import subgrade_n_m3
from fencewright.tables.strength import Check, EndAssemblies

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


def run_ends(task: StrengthTask, rails: Rails, frame: BraceFrame) -> RunEnds:
    """Ends of the runs: all beginnings, then all finishes.

    Notes
    -----
    The pull of all rails together acts at the mean of their heights, weighted by their cold pull.
    """
    runs, strands = task.layout.runs, task.strands
    starting, ending = np.flatnonzero(rails.is_starting), np.flatnonzero(rails.is_ending)
    first = starting[np.argsort(rails.run[starting], kind="stable")]
    last = ending[np.argsort(rails.run[ending], kind="stable")]
    post = np.concatenate([runs.from_post, runs.to_post])
    unit = rails.unit[np.concatenate([first, last]), :2]
    unit = unit / np.maximum(size(unit), 1e-9)[:, None]
    drop = float(strands.cold_pull_n @ strands.drop_m) / float(strands.cold_pull_n.sum())
    place = np.full(len(task.layout.posts), -1)
    place[frame.braced] = np.arange(len(frame.braced))
    brace = np.full(len(post), -1)
    if len(frame.braced):
        slots = np.where(place[post][:, None] >= 0, frame.slot[place[post]], -1)
        along = (frame.unit[np.where(slots >= 0, slots, 0)] * unit[:, None, :]).sum(axis=2)
        along = np.where(slots >= 0, along, -1.0)
        pick = along.argmax(axis=1)
        rows = np.arange(len(post))
        brace = np.where(along[rows, pick] > SAME_WAY, slots[rows, pick], -1)
    return RunEnds(post, unit, task.height_m[post] - drop, brace)


def end_assemblies(fence: Fence, holds: Holds, ends: RunEnds, case: LoadCase) -> EndAssemblies:
    """Pull that each end of each run carries, and how stiff it is.

    Parameters
    ----------
    fence : Fence
        The fence and its columns.
    holds : Holds
        Of posts, footings and braces.
    ends : RunEnds
        From `run_ends`.
    case : LoadCase
        The cold pull: its duration is the timber's.

    Returns
    -------
    EndAssemblies
        Of this run's rails alone: what another run does at the same post is in the checks.

    Notes
    -----
    Every demand grows with the pull P: thrust P h / hb, uplift of that times the slope, kick of the foot P - thrust,
    so each check gives its own greatest P in closed form, and the least of them is the end's.
    """
    limits = end_limits(fence, holds, ends, case)
    task, frame, count = fence.task, fence.frame, len(fence.task.layout.runs)
    kinds = np.array([int(check) for check in limits])
    values = np.stack(list(limits.values()))
    pick = values.argmin(axis=0)
    capacity = values[pick, np.arange(values.shape[1])]
    braced = ends.brace >= 0
    brace = np.where(braced, ends.brace, 0)
    nh = subgrade_n_m3(task, fence.footing)[ends.post]
    with np.errstate(divide="ignore", invalid="ignore"):
        free = stiffness_n_m(
            ends.height_m, task.holes.depth_m[ends.post], nh, fence.members.stiffness_n_m2[ends.post]
        )
        if len(holds.flexible_m_n):
            soft = holds.flexible_m_n[brace] * frame.share[brace]
            tied = (frame.contact_m[brace] / ends.height_m) ** 2 / soft
            free = np.where(braced, tied, free)
    shape = (2, count)
    return EndAssemblies(
        np.ascontiguousarray(np.maximum(capacity, 0.0).reshape(shape).T),
        np.ascontiguousarray(np.nan_to_num(free).reshape(shape).T),
        np.ascontiguousarray(kinds[pick].reshape(shape).T),
        np.full(count, np.inf),
        np.full(count, -1),
        np.full(count, int(Check.EMBEDMENT)),
    )
