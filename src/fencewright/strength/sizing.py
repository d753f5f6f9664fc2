"""The shallowest holes and footings that pass: closed form for the soil beside a post, steps for the rest."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.mechanics.embedment import free_depth_m, free_utilisation
from fencewright.strength.acting import acting
from fencewright.strength.braces import BraceFrame, footing_capacity
from fencewright.strength.footings import hold_down_n, hole_shape
from fencewright.strength.ledger import quotient
from fencewright.strength.load_cases import cases_of, soil_factors
from fencewright.strength.post_loads import Surroundings
from fencewright.strength.posts import Reactions
from fencewright.strength.task import Footing, Members, StrengthTask
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
_AT_ONCE = 32_768  # holes times depths that are tried together


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

    def take(self, reactions: Reactions) -> None:
        """Add some cases, along the first axis."""
        self._deepen(self.known * reactions.kick_n, self.known * reactions.turn_n_m)
        self.uplift_n = np.maximum(self.uplift_n, reactions.uplift_n.max(axis=0))
        self.thrust_n = np.maximum(self.thrust_n, reactions.thrust_n.max(axis=0))

    def _deepen(self, force_n: Floats, moment_n_m: Floats) -> None:
        """Deepen for the case that uses each post most at the depth so far, then for those that still do not pass."""
        width, lateral = self.footing.width_m, self.footing.lateral_pa_m
        for is_last in (False, True):
            used = free_utilisation(force_n, moment_n_m, self.depth_m, width, lateral)
            if is_last or len(used) == 1:
                case, post = np.nonzero(used > 1)
            else:
                worst = used.argmax(axis=0)
                post = np.flatnonzero(used[worst, np.arange(len(worst))] > 1)
                case = worst[post]
            more = free_depth_m(force_n[case, post], moment_n_m[case, post], width[post], lateral[post])
            np.maximum.at(self.depth_m, post, more)
            if len(used) == 1:
                return

    def all(self) -> Needs:
        """Give them; infinite depth where the soil has no values."""
        return Needs(np.where(self.known, self.depth_m, np.inf), self.uplift_n, self.thrust_n)


def needs_of(
    task: StrengthTask, around: Surroundings, footing: Footing, members: Members, frame: BraceFrame
) -> Needs:
    """Worst demands on soil over all cases."""
    needs = GrowingNeeds(footing, len(task.layout.braces))
    cases = cases_of(task.settings, task.layout.runs, task.layout.openings)
    for some in acting(task, around, members, frame, cases, soil_factors):
        needs.take(some.reactions)
    return needs.all()


def least_steps_m(
    used: Callable[[Floats], Floats], ways: int, count: int, step_m: float, deepest_m: float
) -> Floats:
    """Least of the depths at a fixed step at which something passes, in each of some ways.

    Parameters
    ----------
    used : callable
        Utilisation (ways, depths, count) of depths (depths, 1) [m].
    ways, count : int
        Number of ways, of holes.
    step_m, deepest_m : float
        Steps from one step down to the deepest. [m]

    Returns
    -------
    float array (ways, count)
        Infinite where none passes. [m]
    """
    least = np.full((ways, count), np.inf)
    last = int(deepest_m / step_m + _TOLERANCE)
    block = max(1, _AT_ONCE // max(count, 1))
    for start in range(1, last + 1, block):
        depth = step_m * np.arange(start, min(start + block, last + 1), dtype=np.float64)
        passes = used(depth[:, None]) <= 1 + _TOLERANCE
        first = np.where(passes.any(axis=1), depth[passes.argmax(axis=1)], np.inf)
        least = np.where(np.isinf(least), first, least)
        if not np.isinf(least).any():
            break
    return least


def size_posts(task: StrengthTask, footing: Footing, members: Members, needs: Needs) -> tuple[Sizes, Floats]:
    """Depth of each post's hole.

    Returns
    -------
    sizes : Sizes
        Only enlarged, never what the job states, rock stopped or stands already.
    needed_m : float array (posts,)
        Depth that the loads ask for, infinite where none passes. [m]

    Notes
    -----
    Beside the post: eq. 18-1 with its pressure growing with depth, solved in closed form. Uplift: steps. Concrete
    reaches frost as well. Where not even the deepest hole passes, the hole stays and a finding says so.
    """
    strength, holes = task.settings.strength, task.holes
    lifted = np.flatnonzero(needs.uplift_n > 0)
    pulled = np.zeros(len(holes.depth_m))
    if len(lifted):
        shape = hole_shape(task, footing, members, lifted)
        model = strength.ground.uplift_model
        demand = needs.uplift_n[lifted]
        pulled[lifted] = least_steps_m(
            lambda depth: quotient(demand, hold_down_n(task, shape, depth, model))[None],
            1,
            len(lifted),
            strength.depth_step_m,
            strength.deepest_m,
        )[0]
    needed = np.maximum(needs.depth_m, pulled)
    needed = np.where(needed > strength.deepest_m + _TOLERANCE, np.inf, needed)
    frost = np.where(footing.is_concrete, task.settings.frost_m, 0.0)
    why = np.where(pulled >= needs.depth_m, "uplift", "embedment").astype(object)
    least = np.maximum(needed, np.minimum(frost, holes.depth_m))
    sizes = _enlarged(holes.depth_m, holes.governs, needed, least, why, strength.depth_step_m)
    return _within_stock(task, sizes), needed


def spare_m(task: StrengthTask) -> Floats:
    """Stock to spare on posts that are set long because their ground is known badly: (posts,). [m]"""
    top_sd = np.hypot(task.layout.posts.ground_sd_m, task.settings.top_line.mark_sd_m)
    return np.where(top_sd > task.settings.top_line.cut_limit_m, task.settings.posts.long_spare_m, 0.0)


def _within_stock(task: StrengthTask, sizes: Sizes) -> Sizes:
    """Line posts go no deeper than their longest stock reaches: what they lack then is a stop that names a longer one."""
    posts, settings = task.layout.posts, task.settings
    most = max(settings.posts.line_lengths_m) - task.height_m - settings.posts.trim_m - spare_m(task)
    mine = np.isin(posts.role, (int(Role.LINE), int(Role.BRACE)))
    base, step = task.holes.depth_m, settings.strength.depth_step_m
    steps = np.floor(np.maximum(most - base, 0.0) / step + 1e-6)
    short = mine & (sizes.depth_m > base + steps * step + _TOLERANCE)
    governs = np.where(short, "stock length", np.array(sizes.governs, object))
    depth = np.where(short, base + steps * step, sizes.depth_m)
    return Sizes(depth, sizes.least_depth_m, tuple(governs.tolist()))


def size_braces(
    task: StrengthTask, footing: Footing, frame: BraceFrame, needs: Needs
) -> tuple[Sizes, Floats]:
    """Depth of each brace's footing; horizontal braces have none. As `size_posts`."""
    strength, holes, braces = task.settings.strength, task.brace_holes, task.layout.braces
    diagonal = ~braces.is_horizontal
    known = footing.lateral_pa_m[braces.post_index] > 0
    thrust = np.where(diagonal & known, needs.thrust_n, 0.0)
    down = thrust * frame.slope

    asked = ("footing sideways", "footing tipping", "footing bearing")

    def used(depth_m: Floats) -> Floats:
        holds = footing_capacity(task, footing, depth_m)
        pushed = quotient(thrust, holds.push_n(down))
        tipped = quotient(thrust * holds.lever_m, holds.tipping_n_m(down))
        pressed = quotient(np.where(down > 0, down + holds.weight_n, 0.0), holds.down_n)
        return np.stack([pushed, tipped, pressed, np.maximum(np.maximum(pushed, tipped), pressed)])

    *least_of, every = least_steps_m(
        used, len(asked) + 1, len(braces), strength.depth_step_m, strength.deepest_m
    )
    needed = np.where(thrust > 0, every, 0.0)
    why = np.array(asked, object)[np.argmax(least_of, axis=0)]
    least = np.maximum(needed, np.where(diagonal, np.minimum(task.settings.frost_m, holes.depth_m), 0.0))
    return _enlarged(holes.depth_m, holes.governs, needed, least, why, strength.depth_step_m), needed


def _enlarged(
    base_m: Floats,
    governs: tuple[str, ...],
    needed_m: Floats,
    least_m: Floats,
    why: NDArray[np.object_],
    step_m: float,
) -> Sizes:
    """Deepen by whole steps what may be deepened and would pass so."""
    reasons = np.array(governs, object)
    free = ~np.isin(reasons.astype(str), FIXED) if len(reasons) else np.zeros(0, bool)
    short = free & np.isfinite(needed_m) & (needed_m > base_m + _TOLERANCE)
    steps = np.ceil((np.where(short, needed_m, base_m) - base_m) / step_m - 1e-6)
    depth = np.where(short, base_m + steps * step_m, base_m)
    reasons = np.where(short, why, reasons)
    return Sizes(depth, least_m, tuple(reasons.tolist()))


def next_diameter_m(diameter_m: float, used: float, power: float, stock_m: tuple[float, ...]) -> float | None:
    """Give the thinnest stock that would carry what uses a post of some diameter this much; None where none does."""
    wanted = diameter_m * used ** (1.0 / power)
    return next((one for one in stock_m if one >= wanted - 1e-9), None)
