"""The strength stage: sizes first, then every check at the sizes chosen, and the ends for the tension."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import LoadCase
from fencewright.findings import Finding
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
from fencewright.strength.post_loads import Surroundings, forces_of, pulled_again, surroundings_of
from fencewright.strength.reactions import reactions_of
from fencewright.strength.sayings import strength_findings
from fencewright.strength.sizing import needs_of, size_braces, size_posts
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


def check_strength(task: StrengthTask, *, is_sizing: bool = True) -> tuple[Strength, tuple[Finding, ...]]:
    """Size the holes, check everything, and say what does not pass.

    Parameters
    ----------
    task : StrengthTask
        The fence, its tension by case, and its holes as practice, frost or the job would have them.
    is_sizing : bool
        Enlarge the holes first; else they are checked as they are, and only the least depths are sought.

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
    sized, brace_sized, fence = _sized(fence, is_sizing=is_sizing)
    ledger, cases, first = _checked(fence)
    flexible = brace_flexibility_m_n(fence.task, fence.footing, fence.members, fence.frame)
    moved = _moved(fence, cases[0], flexible)
    _note_lean(fence, ledger, moved)
    strength = _strength(
        fence, ledger, cases, (sized, brace_sized), moved, _ends(fence, cases[0], flexible, first)
    )
    return strength, tuple(strength_findings(task, fence.footing, strength))


def end_capacity(task: StrengthTask) -> EndAssemblies:
    """What the two ends of each run carry and how stiff they are, at the sizes chosen: see `EndAssemblies`."""
    return check_strength(task)[0].ends


def _fence_of(task: StrengthTask) -> _Fence:
    return _Fence(task, surroundings_of(task), footings_of(task), members_of(task), brace_frame(task))


def _sized(fence: _Fence, *, is_sizing: bool) -> tuple[Sizes, Sizes, _Fence]:
    """Enlarge the holes to what the loads ask for; or keep them, and say the least depths."""
    needs = needs_of(fence.task, fence.around, fence.footing, fence.members, fence.frame)
    sizes, _ = size_posts(fence.task, fence.footing, fence.members, needs)
    brace_sizes, _ = size_braces(fence.task, fence.footing, fence.frame, needs)
    if not is_sizing:
        sizes, brace_sizes = (
            Sizes(holes.depth_m, found.least_depth_m, holes.governs)
            for holes, found in (
                (fence.task.holes, sizes),
                (fence.task.brace_holes, brace_sizes),
            )
        )
    return sizes, brace_sizes, fence.at(sizes, brace_sizes)


def _checked(fence: _Fence) -> tuple[Ledger, tuple[LoadCase, ...], tuple[Floats, Ints]]:
    """Rows of all cases, the cases, and the utilisation of each post and its braces in the first one, with its check."""
    checker = Checker(fence.task, fence.around, fence.footing, fence.members, fence.frame)
    cases = cases_of(fence.task.settings, fence.task.layout.runs, fence.task.layout.openings)
    post, count = fence.task.layout.braces.post_index, len(fence.task.layout.posts)
    checker.check_case(0, cases[0])
    first = checker.ledger.worst(post, count)
    for index, case in enumerate(cases[1:], 1):
        checker.check_case(index, case)
    ledger = checker.finish()
    note_frost(fence.task, fence.footing, ledger, len(cases))
    return ledger, cases, first


def _moved(fence: _Fence, case: LoadCase, flexible_m_n: Floats) -> Floats:
    """Movement of every top in the first case, the cold pull at its working level."""
    loads = forces_of(fence.task, fence.around, case, soil_factors(case))
    reactions = reactions_of(fence.task, fence.members, fence.frame, loads)
    return movement_m(fence.task, fence.footing, fence.frame, flexible_m_n, reactions)


def _note_lean(fence: _Fence, ledger: Ledger, moved_m: Floats) -> None:
    """Movement of braced tops against the lean that they are set with."""
    braced = np.zeros(len(moved_m), bool)
    braced[fence.frame.braced] = True
    lean = np.full(len(moved_m), fence.task.settings.brace.lean_m)
    ledger.note(Check.LEAN, 0, np.where(braced, moved_m, 0.0), lean)


def _ends(fence: _Fence, case: LoadCase, flexible_m_n: Floats, first: tuple[Floats, Ints]) -> EndAssemblies:
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

    def used_at(share: Floats) -> tuple[Floats, Ints]:
        return first if (share == 1.0).all() else _used_at(fence, case, share)

    return with_turns(task, made, used_at)


def _used_at(fence: _Fence, case: LoadCase, share: Floats) -> tuple[Floats, Ints]:
    """Largest utilisation of each post and its braces in one case, each run drawn to a share of its pull."""
    task, around = pulled_again(fence.task, fence.around, case, share)
    checker = Checker(task, around, fence.footing, fence.members, fence.frame)
    checker.check_case(0, case)
    return checker.ledger.worst(task.layout.braces.post_index, len(task.layout.posts))


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
