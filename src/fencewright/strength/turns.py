"""What the posts at which a run turns carry: its corners and bends, its ends left out."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from fencewright.strength.task import StrengthTask
from fencewright.tables.fence import Layout
from fencewright.tables.strength import EndAssemblies

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

# a part of demand and capacity does not grow with the pull (weights), so the pull is put right in rounds
_ROUNDS = 4
_OVER = 1.0 + 1e-6


def with_turns(
    task: StrengthTask, ends: EndAssemblies, used_at: Callable[[Floats], tuple[Floats, Ints]]
) -> EndAssemblies:
    """Add to the ends of each run what the weakest post at which it turns carries.

    Parameters
    ----------
    task : StrengthTask
        Runs, and the cold tension.
    ends : EndAssemblies
        Of the runs.
    used_at : callable
        Largest counted utilisation of each post and its braces [-], and its check, (posts,) both, under the cold
        pull alone, each run drawn to a share (runs,) of it.

    Returns
    -------
    EndAssemblies
        `turn_capacity_n`: the cold pull over the utilisation. Weights and what friction adds do not grow with the
        pull, so this is a little low for a post that holds; where one does not hold the pull is lowered and the posts
        looked at again, until none is used more than fully.
    """
    post, run = turning_posts(task.layout)
    runs = len(task.layout.runs)
    pull = task.tension_n["cold"].sum(axis=1)
    used, check = used_at(np.ones(runs))
    worst, weakest = _worst(post, run, used, runs)
    kind = np.where(weakest >= 0, check[weakest], ends.turn_check)
    share = np.divide(1.0, worst, out=np.full(runs, np.inf), where=worst > 0)
    for _ in range(_ROUNDS):
        low = share < 1.0
        if not low.any():
            break
        used, _ = used_at(np.where(low, share, 1.0))
        worst, again = _worst(post, run, used, runs)
        if not (low & (worst > _OVER)).any():
            break
        share = np.where(low, share / np.maximum(worst, 1.0), share)
        weakest = np.where(low & (worst > _OVER), again, weakest)
    return replace(ends, turn_capacity_n=pull * share, turn_post=weakest, turn_check=kind)


def turning_posts(layout: Layout) -> tuple[Ints, Ints]:
    """Posts at which a run turns, its ends left out, and the run of each: (turns,) both."""
    spans, runs, posts = layout.spans, layout.runs, layout.posts
    inner = np.flatnonzero(spans.run_index >= 0)
    post, run = spans.to_post[inner], spans.run_index[inner]
    turns = (post != runs.to_post[run]) & (np.abs(posts.turning_rad[post]) > 0)
    return post[turns], run[turns]


def _worst(post: Ints, run: Ints, used: Floats, runs: int) -> tuple[Floats, Ints]:
    """Largest utilisation among the turning posts of each run, and that post, -1 without one: (runs,) both."""
    order = np.lexsort((used[post], run))
    last = order[np.append(np.diff(run[order]) > 0, len(order) > 0)] if len(order) else order
    worst, weakest = np.zeros(runs), np.full(runs, -1)
    worst[run[last]], weakest[run[last]] = used[post[last]], post[last]
    return worst, weakest
