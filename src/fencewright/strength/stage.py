"""The strength stage: sizes first, then every check at the sizes chosen, and the ends for the tension."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import LoadCase
from fencewright.findings import Finding
from fencewright.strength.acting import Acting, acting
from fencewright.strength.braces import BraceFrame, brace_frame, footing_capacity
from fencewright.strength.checking import Checker, note_frost
from fencewright.strength.end_limits import EndHolds
from fencewright.strength.ends import (
    brace_flexibility_m_n,
    end_assemblies,
    movement_m,
    run_ends,
)
from fencewright.strength.footings import hold_down_n, hole_shape
from fencewright.strength.ledger import Ledger
from fencewright.strength.load_cases import cases_of, soil_factors
from fencewright.strength.post_loads import Surroundings, pulled_again, surroundings_of
from fencewright.strength.posts import Reactions
from fencewright.strength.sayings import strength_findings
from fencewright.strength.sizing import GrowingNeeds, Needs, needs_of, size_braces, size_posts
from fencewright.strength.task import Footing, Members, StrengthTask, footings_of, members_of
from fencewright.strength.turns import with_turns
from fencewright.tables.strength import Check, EndAssemblies, Sizes, Strength

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_EVERY_DAY = "every day"


@dataclass(frozen=True, slots=True, eq=False)
class _Fence:
    """The task with the columns that every part reads."""

    task: StrengthTask
    around: Surroundings
    footing: Footing
    members: Members
    frame: BraceFrame

    def at(self, sizes: Sizes, brace_sizes: Sizes) -> "_Fence":
        """Give the same fence at other depths."""
        task = self.task.with_depths(sizes.depth_m, brace_sizes.depth_m)
        return _Fence(task, self.around, self.footing, self.members, brace_frame(task))

    def cases(self) -> tuple[LoadCase, ...]:
        """Load cases that it has, the cold pull first."""
        return cases_of(self.task.settings, self.task.layout.runs, self.task.layout.openings)

    def acting(self, cases: tuple[LoadCase, ...]) -> Iterator[Acting]:
        """What acts on its soil, some cases at a time."""
        return acting(self.task, self.around, self.members, self.frame, cases, soil_factors)

    def checker(self) -> Checker:
        """Give a checker that has noted nothing."""
        return Checker(self.task, self.around, self.footing, self.members, self.frame)


def check_strength(
    task: StrengthTask, *, is_sizing: bool = True, ends: EndAssemblies | None = None
) -> tuple[Strength, tuple[Finding, ...]]:
    """Size the holes, check everything, and say what does not pass.

    Parameters
    ----------
    task : StrengthTask
        The fence, its tension by case, and its holes as practice, frost or the job would have them.
    is_sizing : bool
        Enlarge the holes first; else they are checked as they are, and only the least depths are sought.
    ends : EndAssemblies, optional
        What holds the ends of the runs where it is known already; else it is worked out.

    Returns
    -------
    Strength, tuple of Finding
        Findings: `over-capacity`, `soil-has-no-values` (`stop`), `footing-enlarged`, `post-leans`, `rock-ladder`
        (`note`).

    Notes
    -----
    Linear in posts. A task whose holes have the sizes chosen gives the same again.
    """
    fence = _fence_of(task)
    needs: GrowingNeeds | None = None
    if is_sizing:
        sizes, brace_sizes, fence = _sized(fence)
    else:
        needs = GrowingNeeds(fence.footing, len(task.layout.braces))
    checker, cases = fence.checker(), fence.cases()
    cold: list[Reactions] = []
    for some in fence.acting(cases):
        checker.check(some)
        cold = cold or [some.reactions.of(0)]
        if needs is not None:
            needs.take(some.reactions)
    if needs is not None:
        sizes, brace_sizes = _as_they_are(fence, needs.all())
    ledger = checker.finish()
    note_frost(fence.task, fence.footing, ledger, len(cases))
    flexible = brace_flexibility_m_n(fence.task, fence.footing, fence.members, fence.frame)
    moved = movement_m(fence.task, fence.footing, fence.frame, flexible, cold[0])
    _note_lean(fence, ledger, moved)
    strength = _strength(
        fence, ledger, cases, (sizes, brace_sizes), moved, ends or _ends(fence, cases[0], flexible)
    )
    return strength, tuple(strength_findings(task, fence.footing, strength))


def size_holes(task: StrengthTask) -> tuple[Sizes, Sizes, EndAssemblies]:
    """Enlarge the holes to what the loads ask for, and say what the ends of the runs then carry.

    Returns
    -------
    sizes, brace_sizes : Sizes
        Of posts and braces, as `check_strength` chooses them.
    ends : EndAssemblies
        What the two ends of each run carry and how stiff they are, at the sizes chosen.
    """
    sizes, brace_sizes, fence = _sized(_fence_of(task))
    flexible = brace_flexibility_m_n(fence.task, fence.footing, fence.members, fence.frame)
    return sizes, brace_sizes, _ends(fence, fence.cases()[0], flexible)


def _fence_of(task: StrengthTask) -> _Fence:
    return _Fence(task, surroundings_of(task), footings_of(task), members_of(task), brace_frame(task))


def _sized(fence: _Fence) -> tuple[Sizes, Sizes, _Fence]:
    """Enlarge the holes to what the loads ask for."""
    needs = needs_of(fence.task, fence.around, fence.footing, fence.members, fence.frame)
    sizes, _ = size_posts(fence.task, fence.footing, fence.members, needs)
    brace_sizes, _ = size_braces(fence.task, fence.footing, fence.frame, needs)
    return sizes, brace_sizes, fence.at(sizes, brace_sizes)


def _as_they_are(fence: _Fence, needs: Needs) -> tuple[Sizes, Sizes]:
    """Holes as they are, and the least depths that the loads ask for."""
    sizes, _ = size_posts(fence.task, fence.footing, fence.members, needs)
    brace_sizes, _ = size_braces(fence.task, fence.footing, fence.frame, needs)
    holes, brace_holes = fence.task.holes, fence.task.brace_holes
    return (
        Sizes(holes.depth_m, sizes.least_depth_m, holes.governs),
        Sizes(brace_holes.depth_m, brace_sizes.least_depth_m, brace_holes.governs),
    )


def _note_lean(fence: _Fence, ledger: Ledger, moved_m: Floats) -> None:
    """Movement of braced tops against the lean that they are set with."""
    braced = np.zeros(len(moved_m), bool)
    braced[fence.frame.braced] = True
    lean = np.full(len(moved_m), fence.task.settings.brace.lean_m)
    ledger.note(Check.LEAN, np.array([0]), np.where(braced, moved_m, 0.0)[None], lean)


def _ends(fence: _Fence, case: LoadCase, flexible_m_n: Floats) -> EndAssemblies:
    task = fence.task
    rows = np.arange(len(task.layout.posts))
    shape = hole_shape(task, fence.footing, fence.members, rows)
    model = task.settings.strength.ground.uplift_model
    holds = EndHolds(
        hold_down_n(task, shape, task.holes.depth_m, model),
        footing_capacity(task, fence.footing, task.brace_holes.depth_m),
        flexible_m_n,
    )
    ends = run_ends(task, fence.around.rails, fence.frame)
    made = end_assemblies(task, fence.footing, fence.members, fence.frame, holds, ends, case)
    checker = fence.checker()

    def used_at(share: Floats) -> tuple[Floats, Ints]:
        """Give the largest utilisation of each post and its braces, each run drawn to a share of its pull."""
        drawn, around = (task, fence.around)
        if not (share == 1.0).all():
            drawn, around = pulled_again(task, fence.around, case, share)
        own = checker.drawn_otherwise(drawn, around)
        for some in acting(drawn, around, fence.members, fence.frame, (case,), soil_factors):
            own.check(some)
        return own.ledger.worst(task.layout.braces.post_index, len(rows))

    return with_turns(task, made, used_at)


def _strength(
    fence: _Fence,
    ledger: Ledger,
    cases: tuple[LoadCase, ...],
    sizes: tuple[Sizes, Sizes],
    moved_m: Floats,
    ends: EndAssemblies,
) -> Strength:
    """Put the tables together: the largest counted utilisation of each post and of its braces."""
    posts, post = len(fence.task.layout.posts), fence.task.layout.braces.post_index
    worst, check = ledger.worst(post, posts)
    brace_worst = ledger.worst_of_braces(len(post))
    names = (*(case.name for case in cases), _EVERY_DAY)
    thrust = ledger.braces.get(Check.BRACE_COMPRESSION)
    fastener = np.zeros(len(post)) if thrust is None else thrust.demand
    return Strength(
        worst, check, moved_m, brace_worst, fastener,
        ledger.table(post, names), sizes[0], sizes[1], ends,
    )  # fmt: skip
