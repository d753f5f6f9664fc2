"""The strength stage: sizes first, then every check at the sizes chosen, and the ends for the tension."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import Finding
from fencewright.strength.acting import acted, acting
from fencewright.strength.checking import Checker, note_frost
from fencewright.strength.ends import end_assemblies, run_ends
from fencewright.strength.fence import Fence, fence_of
from fencewright.strength.holds import Holds, holds_of
from fencewright.strength.ledger import Ledger
from fencewright.strength.load_cases import soil_factors
from fencewright.strength.post_loads import PostForces, pulled_again
from fencewright.strength.posts import Reactions
from fencewright.strength.reach import near
from fencewright.strength.sayings import strength_findings
from fencewright.strength.sizing import (
    GrowingNeeds,
    Needs,
    least_of_braces,
    least_of_posts,
    needs_of,
    size_braces,
    size_posts,
)
from fencewright.strength.task import StrengthTask
from fencewright.strength.turns import turning_posts, with_turns
from fencewright.strength.yielding import movement_m
from fencewright.tables.strength import Check, EndAssemblies, Sizes, Strength

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_EVERY_DAY = "every day"


@dataclass(frozen=True, slots=True, eq=False)
class Sized:
    """Holes as chosen, `sizes` of posts and `brace_sizes` of braces; `ends` that the runs then have.

    `fence` is the fence at those depths with its columns, `holds` what holds it.
    """

    sizes: Sizes
    brace_sizes: Sizes
    ends: EndAssemblies
    fence: Fence
    holds: Holds


def check_strength(
    task: StrengthTask, *, is_sizing: bool = True, sized: Sized | None = None
) -> tuple[Strength, tuple[Finding, ...]]:
    """Size the holes, check everything, and say what does not pass.

    Parameters
    ----------
    task : StrengthTask
        The fence, its tension by case, and its holes as practice, frost or the job would have them.
    is_sizing : bool
        Enlarge the holes first; else they are checked as they are, and only the least depths are sought.
    sized : Sized, optional
        What `size_holes` gave of the same fence, where the task has its depths: its columns and its ends are used
        again, and nothing is sized.

    Returns
    -------
    Strength, tuple of Finding
        Findings: `over-capacity`, `soil-has-no-values` (`stop`), `footing-enlarged`, `post-leans`, `rock-ladder`
        (`note`).

    Notes
    -----
    Linear in posts. A task whose holes have the sizes chosen gives the same again.
    """
    needs: GrowingNeeds | None = None
    if sized is not None:
        fence, holds, ends = sized.fence.drawn(task), sized.holds, sized.ends
    else:
        fence = fence_of(task)
        if is_sizing:
            sizes, brace_sizes, fence = _sized(fence)
        holds = holds_of(fence)
        ends = _ends(fence, holds)
    if sized is not None or not is_sizing:
        needs = GrowingNeeds(fence.footing, len(task.layout.braces))
    checker = Checker(fence, holds)
    cold: list[tuple[Reactions, PostForces]] = []
    for some in acting(fence, fence.cases, soil_factors):
        checker.check(some)
        if some.row[0] == 0:
            cold = [(some.reactions.of(0), some.braced_loads.of_case(0))]
        if needs is not None:
            needs.take(some)
    if needs is not None:
        sizes, brace_sizes = _as_they_are(fence, needs.all())
    ledger = checker.finish()
    note_frost(fence, ledger, len(fence.cases))
    moved = movement_m(fence.task, fence.footing, fence.frame, holds.flexible_m_n, *cold[0])
    _note_lean(fence, ledger, moved)
    strength = _strength(fence, ledger, (sizes, brace_sizes), moved, ends)
    return strength, tuple(strength_findings(task, fence.footing, strength))


def size_holes(task: StrengthTask) -> Sized:
    """Enlarge the holes to what the loads ask for, and say what the ends of the runs then carry.

    Returns
    -------
    Sized
        Sizes as `check_strength` chooses them, and what the two ends of each run carry and how stiff they are at those.
    """
    sizes, brace_sizes, fence = _sized(fence_of(task))
    holds = holds_of(fence)
    return Sized(sizes, brace_sizes, _ends(fence, holds), fence, holds)


def _sized(fence: Fence) -> tuple[Sizes, Sizes, Fence]:
    """Enlarge the holes to what the loads ask for."""
    needs = needs_of(fence)
    sizes = size_posts(fence.task, least_of_posts(fence, needs))
    brace_sizes = size_braces(fence.task, least_of_braces(fence, needs))
    return sizes, brace_sizes, fence.at(sizes, brace_sizes)


def _as_they_are(fence: Fence, needs: Needs) -> tuple[Sizes, Sizes]:
    """Holes as they are, and the least depths that the loads ask for."""
    holes, brace_holes = fence.task.holes, fence.task.brace_holes
    return (
        Sizes(holes.depth_m, least_of_posts(fence, needs).least_m, holes.governs),
        Sizes(brace_holes.depth_m, least_of_braces(fence, needs).least_m, brace_holes.governs),
    )


def _note_lean(fence: Fence, ledger: Ledger, moved_m: Floats) -> None:
    """Movement of braced tops against the lean that they are set with."""
    braced = np.zeros(len(moved_m), bool)
    braced[fence.frame.braced] = True
    lean = np.full(len(moved_m), fence.task.settings.brace.lean_m)
    ledger.note(Check.LEAN, np.array([0]), np.where(braced, moved_m, 0.0)[None], lean)


def _ends(fence: Fence, holds: Holds) -> EndAssemblies:
    """What the ends of the runs carry, and the posts at which they turn."""
    task, case = fence.task, fence.cases[0]
    made = end_assemblies(fence, holds, run_ends(task, fence.around.rails, fence.frame), case)
    turning = np.zeros(len(task.layout.posts), bool)
    turning[turning_posts(task.layout)[0]] = True
    reach = near(task.layout.braces, fence.frame, turning)

    def used_at(share: Floats) -> tuple[Floats, Ints]:
        """Give the largest utilisation of each turning post and its braces, each run drawn to a share of its pull."""
        drawn = fence
        if not (share == 1.0).all():
            again, around = pulled_again(task, fence.around, case, share)
            drawn = replace(fence, task=again, around=around)
        checker = Checker(drawn, holds, reach.rows)
        checker.check(acted(drawn, (case,), (soil_factors(case),), reach, np.zeros(1, np.int64)))
        worst, check = checker.ledger.worst(reach.post, reach.count)
        used, kind = np.zeros(len(turning)), np.zeros(len(turning), np.int64)
        used[reach.rows], kind[reach.rows] = worst, check
        return used, kind

    return with_turns(task, made, used_at)


def _strength(
    fence: Fence, ledger: Ledger, sizes: tuple[Sizes, Sizes], moved_m: Floats, ends: EndAssemblies
) -> Strength:
    """Put the tables together: the largest counted utilisation of each post and of its braces."""
    posts, post = len(fence.task.layout.posts), fence.task.layout.braces.post_index
    worst, check = ledger.worst(post, posts)
    brace_worst = ledger.worst_of_braces(len(post))
    names = (*(case.name for case in fence.cases), _EVERY_DAY)
    thrust = ledger.braces.get(Check.BRACE_COMPRESSION)
    fastener = np.zeros(len(post)) if thrust is None else thrust.demand
    return Strength(
        worst, check, moved_m, brace_worst, fastener,
        ledger.table(post, names), sizes[0], sizes[1], ends,
    )  # fmt: skip
