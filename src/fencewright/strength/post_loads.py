"""What each post gets in one load case: the vector sum of its rails, wind, an animal, a gate's leaf, debris."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import LoadCase
from fencewright.strength.load_cases import Factors, cases_of
from fencewright.strength.meetings import Load, Rails, rails_at_posts, summed
from fencewright.strength.other_loads import extras_of, left_of, winds_of
from fencewright.strength.reach import Reach
from fencewright.strength.task import StrengthTask
from fencewright.tables.fence import Role

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class PostForces:
    """Loads of each post in one case.

    `force_n` (posts, 2) east and north [N]; `moment_n_m` (posts, 2) about grade, as the force's direction times
    its height [N m]; `up_n` (posts,) lift of the rails less what presses down [N]; `applies` (posts,).
    """

    force_n: Floats
    moment_n_m: Floats
    up_n: Floats
    applies: Flags

    def of(self, rows: Ints) -> "PostForces":
        """Give those of some posts."""
        force, moment = self.force_n[..., rows, :], self.moment_n_m[..., rows, :]
        return PostForces(force, moment, self.up_n[..., rows], self.applies[..., rows])

    def of_case(self, case: int) -> "PostForces":
        """Give those of one of several cases."""
        return PostForces(self.force_n[case], self.moment_n_m[case], self.up_n[case], self.applies[case])


@dataclass(frozen=True, slots=True, eq=False)
class Surroundings:
    """What does not change from case to case.

    `rails` at posts; `pulls` of each tension and side, `winds` of each direction and `extras` of each kind, before
    factors; `applies` (posts,) of each side and extra: the posts that have such a case at all.
    """

    rails: Rails
    pulls: Mapping[tuple[str, str], Load]
    winds: Mapping[str, Load]
    extras: Mapping[str, Load]
    applies: Mapping[tuple[str, str], Flags]


def surroundings_of(task: StrengthTask, cases: Sequence[LoadCase] | None = None) -> Surroundings:
    """Gather what every case needs, once: the cases, the fence's own where not given, only differ by factors."""
    layout = task.layout
    if cases is None:
        cases = cases_of(task.settings, layout.runs, layout.openings)
    rails, left = rails_at_posts(task), left_of(task)
    winds, extras = dict.fromkeys(case.wind for case in cases), dict.fromkeys(case.extra for case in cases)
    applies = dict.fromkeys((case.side, case.extra) for case in cases)
    return Surroundings(
        rails,
        _pulls(task, rails, dict.fromkeys((case.pull, case.side) for case in cases)),
        winds_of(task, rails, [way for way in winds if way != "none"], left),
        extras_of(task, rails, [kind for kind in extras if kind != "none"], left),
        {key: _applies(task, rails, *key) for key in applies},
    )


def drawn_again(task: StrengthTask, around: Surroundings) -> Surroundings:
    """Give the same surroundings under the tension of a task of the same fence."""
    return replace(around, pulls=_pulls(task, around.rails, around.pulls))


def pulled_again(
    task: StrengthTask, around: Surroundings, case: LoadCase, share: Floats
) -> tuple[StrengthTask, Surroundings]:
    """Give the same fence with each run drawn to a share (runs,) of its pull, for one case alone."""
    tension = {**task.tension_n, case.pull: task.tension_n[case.pull] * share[:, None]}
    task = replace(task, tension_n=tension)
    again = _pulls(task, around.rails, [(case.pull, case.side)])
    return task, replace(around, pulls={**around.pulls, **again})


def forces_of(task: StrengthTask, around: Surroundings, case: LoadCase, factors: Factors) -> PostForces:
    """Loads of every post in one case.

    Parameters
    ----------
    task : StrengthTask
        Fence and tensions.
    around : Surroundings
        From `surroundings_of`.
    case : LoadCase
        What acts.
    factors : Factors
        Of the pull, the wind and the extra.

    Returns
    -------
    PostForces
        A rail's tension is taken whole on both sides of a post: friction is left out, on the safe side at ends.
    """
    one = _together(around, (case,), (factors,), len(task.layout.posts), lambda column: column)
    return PostForces(one.force_n[0], one.moment_n_m[0], one.up_n[0], one.applies[0])


def forces_together(
    around: Surroundings, cases: Sequence[LoadCase], factors: Sequence[Factors], reach: Reach
) -> PostForces:
    """Loads of some posts in several cases, the cases along the first axis; each as `forces_of` gives it."""
    return _together(around, cases, factors, reach.count, reach.of)


def _together(
    around: Surroundings,
    cases: Sequence[LoadCase],
    factors: Sequence[Factors],
    count: int,
    of: Callable[[NDArray[Any]], NDArray[Any]],
) -> PostForces:
    """Sum the loads of each case; east and north lie apart in memory, so that each is one stretch of it."""
    shape = (2, len(cases), count)
    force, moment = np.empty(shape), np.empty(shape)
    up, applies = np.empty(shape[1:]), np.empty(shape[1:], bool)
    for row, (case, factor) in enumerate(zip(cases, factors, strict=True)):
        applies[row] = of(around.applies[case.side, case.extra])
        pull = around.pulls[case.pull, case.side]
        np.multiply(of(pull.force_n), factor.pull, out=force[:, row])
        np.multiply(of(pull.moment_n_m), factor.pull, out=moment[:, row])
        np.multiply(of(pull.up_n), factor.pull, out=up[row])
        if case.wind != "none":
            wind = around.winds[case.wind]
            by = factor.wind * wind.sign
            force[:, row] += by * of(wind.force_n)
            moment[:, row] += by * of(wind.moment_n_m)
        if case.extra != "none":
            extra = around.extras[case.extra]
            by = factor.extra * extra.sign
            force[:, row] += by * of(extra.force_n)
            moment[:, row] += by * of(extra.moment_n_m)
            up[row] += factor.extra * of(extra.up_n)
    return PostForces(force.transpose(1, 2, 0), moment.transpose(1, 2, 0), up, applies)


def _pulls(task: StrengthTask, rails: Rails, keys: Iterable[tuple[str, str]]) -> dict[tuple[str, str], Load]:
    """Vector sums of the rails' tension, and their moments about grade, of each tension and side."""
    count, found, meetings = len(task.layout.posts), {}, {}
    for pull, side in keys:
        if side not in meetings:
            meetings[side] = _meetings(rails, side)
        rows = meetings[side]
        post, run, unit = rails.post[rows], rails.run[rows], rails.unit[rows]
        tension = task.tension_n[pull]
        total = tension.sum(axis=1)[run]
        arm = total * task.height_m[post] - (tension @ task.strands.drop_m)[run]
        force = [summed(post, total * unit[:, axis], count) for axis in range(3)]
        moment = [summed(post, arm * unit[:, axis], count) for axis in range(2)]
        found[pull, side] = Load(np.stack(force[:2]), np.stack(moment), force[2])
    return found


def _meetings(rails: Rails, side: str) -> Ints | slice:
    """Rows of `Rails` that a side has."""
    if side == "all":
        return slice(None)
    return np.flatnonzero(rails.is_ending if side == "ending" else rails.is_starting)


def _applies(task: StrengthTask, rails: Rails, side: str, extra: str) -> Flags:
    """Posts that have a case of some side and extra at all."""
    count, openings, role = len(task.layout.posts), task.layout.openings, task.layout.posts.role
    found = np.zeros(count, bool)
    if side != "all":
        ends = np.bincount(rails.post, rails.is_ending, count) > 0
        starts = np.bincount(rails.post, rails.is_starting, count) > 0
        return ends & starts
    if extra.startswith("gate"):
        found[openings.hinge_post[~openings.is_crossing]] = True
        return found
    if extra == "flood":
        mine = openings.is_crossing
        found[openings.from_post[mine]] = True
        found[openings.to_post[mine]] = True
        return found
    if extra.startswith("animal"):
        return np.asarray((role == int(Role.LINE)) | (role == int(Role.BEND)) | (role == int(Role.TEE)))
    return ~found
