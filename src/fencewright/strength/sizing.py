"""The shallowest holes and footings that pass: closed form for the soil beside a post, steps for the rest."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.mechanics.embedment import free_depth_m, free_utilisation
from fencewright.strength.braces import BraceFrame, FootingCapacity, footing_capacity
from fencewright.strength.footings import hold_down_n, hole_shape
from fencewright.strength.ledger import quotient
from fencewright.strength.load_cases import cases_of, soil_factors
from fencewright.strength.post_loads import Surroundings, forces_of
from fencewright.strength.reactions import reactions_of
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


@dataclass(frozen=True, slots=True, eq=False)
class Needs:
    """Worst demands over all cases: `depth_m` beside each post (posts,) [m]; `uplift_n` (posts,); `thrust_n` (braces,)."""

    depth_m: Floats
    uplift_n: Floats
    thrust_n: Floats


def needs_of(
    task: StrengthTask, around: Surroundings, footing: Footing, members: Members, frame: BraceFrame
) -> Needs:
    """Worst demands on soil over all cases."""
    count = len(task.layout.posts)
    depth, uplift, thrust = np.full(count, _NO_DEPTH_M), np.zeros(count), np.zeros(len(task.layout.braces))
    known = footing.lateral_pa_m > 0
    for case in cases_of(task.settings, task.layout.runs, task.layout.openings):
        loads = forces_of(task, around, case, soil_factors(case))
        reactions = reactions_of(task, members, frame, loads)
        _deepen(depth, footing, known * reactions.kick_n, known * reactions.turn_n_m)
        uplift = np.maximum(uplift, reactions.uplift_n)
        thrust = np.maximum(thrust, reactions.thrust_n)
    return Needs(np.where(known, depth, np.inf), uplift, thrust)


def _deepen(depth_m: Floats, footing: Footing, force_n: Floats, moment_n_m: Floats) -> None:
    """Raise the depths, in place, of the posts that this case uses more than fully at the depth so far."""
    used = free_utilisation(force_n, moment_n_m, depth_m, footing.width_m, footing.lateral_pa_m)
    rows = np.flatnonzero(used > 1)
    more = free_depth_m(force_n[rows], moment_n_m[rows], footing.width_m[rows], footing.lateral_pa_m[rows])
    depth_m[rows] = np.maximum(depth_m[rows], more)


def least_step_m(used: Callable[[Floats], Floats], count: int, step_m: float, deepest_m: float) -> Floats:
    """Least of the depths at a fixed step at which something passes.

    Parameters
    ----------
    used : callable
        Utilisation (count,) of depths (count,) [m].
    count : int
        Number of holes.
    step_m, deepest_m : float
        Steps from one step down to the deepest. [m]

    Returns
    -------
    float array (count,)
        Infinite where none passes. [m]
    """
    least = np.full(count, np.inf)
    for number in range(1, int(deepest_m / step_m + _TOLERANCE) + 1):
        depth = np.full(count, number * step_m)
        passes = np.isinf(least) & (used(depth) <= 1 + _TOLERANCE)
        least[passes] = number * step_m
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
        pulled[lifted] = least_step_m(
            lambda depth: quotient(demand, hold_down_n(task, shape, depth, model)),
            len(lifted),
            strength.depth_step_m,
            strength.deepest_m,
        )
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

    held: dict[float, FootingCapacity] = {}  # every search goes through the same depths, one for all braces

    def capacity(depth_m: Floats) -> FootingCapacity:
        step_m = float(depth_m[0]) if len(depth_m) else 0.0
        if step_m not in held:
            held[step_m] = footing_capacity(task, footing, depth_m)
        return held[step_m]

    def pushed(depth_m: Floats) -> Floats:
        return quotient(thrust, capacity(depth_m).push_n(down))

    def tipped(depth_m: Floats) -> Floats:
        holds = capacity(depth_m)
        return quotient(thrust * holds.lever_m, holds.tipping_n_m(down))

    def pressed(depth_m: Floats) -> Floats:
        holds = capacity(depth_m)
        return quotient(np.where(down > 0, down + holds.weight_n, 0.0), holds.down_n)

    steps = (len(braces), strength.depth_step_m, strength.deepest_m)
    asked = {"footing sideways": pushed, "footing tipping": tipped, "footing bearing": pressed}
    least_of = np.stack([least_step_m(used, *steps) for used in asked.values()])
    every = least_step_m(lambda depth: np.max([used(depth) for used in asked.values()], axis=0), *steps)
    needed = np.where(thrust > 0, every, 0.0)
    why = np.array(list(asked), object)[least_of.argmax(axis=0)]
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
