"""The shallowest holes and footings that pass: closed form for the soil beside a post, steps for the rest."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.mechanics.embedment import free_depth_m, free_utilisation
from fencewright.strength.acting import Acting, acting
from fencewright.strength.brace_footings import footing_capacity
from fencewright.strength.fence import Fence
from fencewright.strength.footings import hold_down_n, hole_shape
from fencewright.strength.ledger import quotient
from fencewright.strength.load_cases import soil_factors
from fencewright.strength.task import Footing, StrengthTask
from fencewright.tables.fence import Role
from fencewright.tables.sizes import STATED_HERE
from fencewright.tables.strength import Sizes

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

# what already decided a hole and may not be enlarged
FIXED = ("stated", STATED_HERE, "rock", "already set")
_TOLERANCE = 1e-9
_NO_DEPTH_M = 1e-3  # from which depths grow: at none at all a force at grade has no moment
_AT_ONCE = 4096  # holes times depths that are tried together


@dataclass(frozen=True, slots=True, eq=False)
class Needs:
    """Worst demands over all cases: `depth_m` beside each post (posts,) [m]; `uplift_n` (posts,); `thrust_n` (braces,)."""

    depth_m: Floats
    uplift_n: Floats
    thrust_n: Floats


class GrowingNeeds:
    """Needs of the cases seen so far."""

    def __init__(self, footing: Footing, braces: int) -> None:
        posts = len(footing.lateral_pa_m)
        self.footing, self.known = footing, footing.lateral_pa_m > 0
        self.depth_m, self.uplift_n = np.full(posts, _NO_DEPTH_M), np.zeros(posts)
        self.thrust_n = np.zeros(braces)

    def take(self, some: Acting) -> None:
        """Add some cases, along the first axis."""
        reactions, rows = some.reactions, some.reach.rows
        at = slice(None) if rows is None else rows
        force, moment = reactions.kick_n, reactions.turn_n_m
        if not self.known.all():
            force, moment = force * self.known[at], moment * self.known[at]
        self.depth_m[at] = self._deepened_m(force, moment, at)
        self.uplift_n[at] = np.maximum(self.uplift_n[at], reactions.uplift_n.max(axis=0))
        self.thrust_n = np.maximum(self.thrust_n, reactions.thrust_n.max(axis=0))

    def _deepened_m(self, force_n: Floats, moment_n_m: Floats, at: Ints | slice) -> Floats:
        """Deepen for the case that uses each post most at the depth so far, then for those that still do not pass."""
        width, lateral, depth = self.footing.width_m[at], self.footing.lateral_pa_m[at], self.depth_m[at]
        for is_last in (False, True):
            used = free_utilisation(force_n, moment_n_m, depth, width, lateral)
            if is_last or len(used) == 1:
                case, post = np.nonzero(used > 1)
            else:
                worst = used.argmax(axis=0)
                post = np.flatnonzero(used[worst, np.arange(len(worst))] > 1)
                case = worst[post]
            more = free_depth_m(force_n[case, post], moment_n_m[case, post], width[post], lateral[post])
            depth = depth.copy()
            np.maximum.at(depth, post, more)
            if len(used) == 1:
                break
        return depth

    def all(self) -> Needs:
        """Give them; infinite depth where the soil has no values."""
        return Needs(np.where(self.known, self.depth_m, np.inf), self.uplift_n, self.thrust_n)


def needs_of(fence: Fence) -> Needs:
    """Worst demands on soil over all cases."""
    needs = GrowingNeeds(fence.footing, len(fence.task.layout.braces))
    for some in acting(fence, fence.cases, soil_factors):
        needs.take(some)
    return needs.all()


def least_steps_m(
    used: Callable[[Floats, Ints], Floats], ways: int, count: int, step_m: float, deepest_m: float
) -> Floats:
    """Least of the depths at a fixed step at which something passes, in each of some ways.

    Parameters
    ----------
    used : callable
        Utilisation (ways, depths, rows) of depths (depths, 1) [m], of the holes of some rows (rows,).
    ways, count : int
        Number of ways, of holes.
    step_m, deepest_m : float
        Steps from one step down to the deepest. [m]

    Returns
    -------
    float array (ways, count)
        Infinite where none passes. [m]

    Notes
    -----
    Some depths at a time, from above; what has passed in every way is not asked again.
    """
    least = np.full((ways, count), np.inf)
    start, last, rows = 1, int(deepest_m / step_m + _TOLERANCE), np.arange(count)
    while start <= last and len(rows):
        stop = min(start + max(1, _AT_ONCE // len(rows)), last + 1)
        depth = step_m * np.arange(start, stop, dtype=np.float64)
        passes = used(depth[:, None], rows) <= 1 + _TOLERANCE
        first = np.where(passes.any(axis=1), depth[passes.argmax(axis=1)], np.inf)
        least[:, rows] = np.minimum(least[:, rows], first)
        rows = rows[np.isinf(least[:, rows]).any(axis=0)]
        start = stop
    return least


@dataclass(frozen=True, slots=True, eq=False)
class LeastDepths:
    """Depth that is asked of each hole, (holes,).

    `needed_m` by the loads, infinite where no depth passes [m]; `else_m` dug where none does, which carries the most
    that can be had [m]; `least_m` by the loads and by frost [m]; `why` row of `reasons`, which of the loads asks for most.
    """

    needed_m: Floats
    else_m: Floats
    least_m: Floats
    why: Ints
    reasons: tuple[str, ...]


def least_of_posts(fence: Fence, needs: Needs) -> LeastDepths:
    """Depth that the loads ask of each post's hole.

    Notes
    -----
    Beside the post: eq. 18-1 with its pressure growing with depth, solved in closed form. Uplift: steps. Concrete
    reaches frost as well.
    """
    task, strength, holes = fence.task, fence.task.settings.strength, fence.task.holes
    lifted = np.flatnonzero(needs.uplift_n > 0)
    pulled = np.zeros(len(holes.depth_m))
    if len(lifted):
        shape = hole_shape(task, fence.footing, fence.members, lifted)
        demand, model = needs.uplift_n[lifted], strength.ground.uplift_model

        def used(depth_m: Floats, rows: Ints) -> Floats:
            some = shape if len(rows) == len(lifted) else shape.of(rows)
            return quotient(demand[rows], hold_down_n(task, some, depth_m, model))[None]

        (pulled[lifted],) = least_steps_m(used, 1, len(lifted), strength.depth_step_m, strength.deepest_m)
    needed = np.maximum(needs.depth_m, pulled)
    needed = np.where(needed > strength.deepest_m + _TOLERANCE, np.inf, needed)
    frost = np.where(fence.footing.is_concrete, task.settings.frost_m, 0.0)
    least = np.maximum(needed, np.minimum(frost, holes.depth_m))
    held = task.layout.posts.is_fixed & (fence.footing.lateral_pa_m > 0)
    return LeastDepths(
        needed,
        np.where(held, strength.deepest_m, 0.0),
        least,
        (pulled >= needs.depth_m).astype(np.int64),
        ("embedment", "uplift"),
    )


def size_posts(task: StrengthTask, least: LeastDepths) -> Sizes:
    """Depth of each post's hole: only enlarged, never what the job states, rock stopped or stands already.

    Notes
    -----
    Where not even the deepest hole passes the greatest pull, a fixed post's is dug as deep as can be, for the rails are
    then drawn to what it carries; a line post's stays, and a finding says so.
    """
    holes, step = task.holes, task.settings.strength.depth_step_m
    return _within_stock(task, _enlarged(holes.depth_m, holes.governs, least, step))


def spare_m(task: StrengthTask) -> Floats:
    """Stock to spare on posts that are set long because their ground is known badly: (posts,). [m]"""
    top_sd = np.hypot(task.layout.posts.ground_sd_m, task.settings.top_line.mark_sd_m)
    return np.where(top_sd > task.settings.top_line.cut_limit_m, task.settings.posts.long_spare_m, 0.0)


def _within_stock(task: StrengthTask, sizes: Sizes) -> Sizes:
    """Line posts go no deeper than their longest stock reaches: what they lack then is a stop that names a longer one."""
    posts, settings = task.layout.posts, task.settings
    most = max(settings.posts.line_lengths_m) - task.height_m - settings.posts.trim_m - spare_m(task)
    mine = (posts.role == int(Role.LINE)) | (posts.role == int(Role.BRACE))
    step = settings.strength.depth_step_m
    deepest = np.maximum(task.holes.depth_m, np.floor(most / step + 1e-6) * step)
    short = mine & (sizes.depth_m > deepest + _TOLERANCE)
    if not short.any():
        return sizes
    governs = list(sizes.governs)
    for row in np.flatnonzero(short).tolist():
        governs[row] = "stock length"
    return Sizes(np.where(short, deepest, sizes.depth_m), sizes.least_depth_m, tuple(governs))


def least_of_braces(fence: Fence, needs: Needs) -> LeastDepths:
    """Depth that the loads ask of each brace's footing; horizontal braces have none."""
    task, strength = fence.task, fence.task.settings.strength
    holes, braces = task.brace_holes, task.layout.braces
    diagonal = ~braces.is_horizontal
    known = fence.soil.lateral_pa_m > 0
    thrust = np.where(diagonal & known, needs.thrust_n, 0.0)
    down = thrust * fence.frame.slope
    reasons = ("footing sideways", "footing tipping", "footing bearing")

    def used(depth_m: Floats, rows: Ints) -> Floats:
        holds = footing_capacity(task, fence.soil.of(rows), depth_m)
        pushing, pressing = thrust[rows], down[rows]
        pushed = quotient(pushing, holds.push_n(pressing))
        tipped = quotient(pushing * holds.lever_m, holds.tipping_n_m(pressing))
        pressed = quotient(np.where(pressing > 0, pressing + holds.weight_n, 0.0), holds.down_n)
        return np.stack([pushed, tipped, pressed, np.maximum(np.maximum(pushed, tipped), pressed)])

    *least_of, every = least_steps_m(
        used, len(reasons) + 1, len(braces), strength.depth_step_m, strength.deepest_m
    )
    needed = np.where(thrust > 0, every, 0.0)
    least = np.maximum(needed, np.where(diagonal, np.minimum(task.settings.frost_m, holes.depth_m), 0.0))
    deepest = np.where(diagonal & known, strength.deepest_m, 0.0)
    return LeastDepths(needed, deepest, least, np.argmax(least_of, axis=0), reasons)


def size_braces(task: StrengthTask, least: LeastDepths) -> Sizes:
    """Depth of each brace's footing; as `size_posts`."""
    holes = task.brace_holes
    return _enlarged(holes.depth_m, holes.governs, least, task.settings.strength.depth_step_m)


def _enlarged(base_m: Floats, governs: tuple[str, ...], least: LeastDepths, step_m: float) -> Sizes:
    """Deepen to a whole step what may be deepened and would pass so: a deeper start never gives a shallower hole."""
    free = _may_be_enlarged(governs)
    passes = np.isfinite(least.needed_m)
    wanted = np.where(passes, least.needed_m, np.floor(least.else_m / step_m + 1e-6) * step_m)
    short = free & (wanted > base_m + _TOLERANCE)
    depth = np.where(short, whole_steps_m(np.where(short, wanted, 0.0), step_m), base_m)
    reasons = list(governs)
    for row in np.flatnonzero(short).tolist():
        reasons[row] = least.reasons[least.why[row]]
    return Sizes(depth, least.least_m, tuple(reasons))


def whole_steps_m(depth_m: Floats, step_m: float) -> Floats:
    """Depths to which holes are dug: the next whole step down. [m]"""
    return np.asarray(np.ceil(depth_m / step_m - 1e-6) * step_m)


def _may_be_enlarged(governs: tuple[str, ...]) -> Flags:
    """Holes whose depth nothing fixes: (holes,)."""
    if not set(governs).intersection(FIXED):
        return np.ones(len(governs), bool)
    return np.array([one not in FIXED for one in governs])


def next_diameter_m(diameter_m: float, used: float, power: float, stock_m: tuple[float, ...]) -> float | None:
    """Give the thinnest stock that would carry what uses a post of some diameter this much; None where none does."""
    wanted = diameter_m * used ** (1.0 / power)
    return next((one for one in stock_m if one >= wanted - 1e-9), None)
