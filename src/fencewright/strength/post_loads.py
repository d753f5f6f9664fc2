"""What each post gets in one load case: the vector sum of its rails, wind, an animal, a gate's leaf, debris."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import LoadCase
from fencewright.strength.load_cases import Factors, cases_of, ice_load_n_m, wind_loads
from fencewright.strength.reach import Reach
from fencewright.strength.task import StrengthTask
from fencewright.tables.fence import Role

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

WATER_KG_M3 = 1000.0


@dataclass(frozen=True, slots=True, eq=False)
class Rails:
    """Where rails meet posts: two rows a span that carries rail, (meetings,).

    `post`, `run`; `unit` (meetings, 3) from the post along the rail; `half_m` of the span; `normal` (meetings, 2)
    left of the line; `is_ending`, `is_starting`: the run ends or begins at this post.
    """

    post: Ints
    run: Ints
    unit: Floats
    half_m: Floats
    normal: Floats
    is_ending: Flags
    is_starting: Flags


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


@dataclass(frozen=True, slots=True, eq=False)
class Load:
    """One load of every post before factors.

    `force_n` (2, posts) east and north [N]; `moment_n_m` (2, posts) about grade [N m]; `up_n` (posts,) [N].
    """

    force_n: Floats
    moment_n_m: Floats
    up_n: Floats


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
    rails = rails_at_posts(task)
    return Surroundings(
        rails,
        _pulls(task, rails, dict.fromkeys((case.pull, case.side) for case in cases)),
        _winds(task, rails, [way for way in dict.fromkeys(case.wind for case in cases) if way != "none"]),
        {
            kind: _extra(task, rails, kind)
            for kind in dict.fromkeys(case.extra for case in cases)
            if kind != "none"
        },
        {
            key: _applies(task, rails, *key)
            for key in dict.fromkeys((case.side, case.extra) for case in cases)
        },
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


def rails_at_posts(task: StrengthTask) -> Rails:
    """Rows of `Rails`: first every span at its `from_post`, then every span at its `to_post`."""
    spans, runs = task.layout.spans, task.layout.runs
    rows = np.flatnonzero(spans.run_index >= 0)
    vector = task.span_vector_m[rows]
    length = np.maximum(np.linalg.norm(vector, axis=1), 1e-9)
    unit = np.asfortranarray(vector / length[:, None])  # each axis one stretch of memory
    plan = np.maximum(np.hypot(vector[:, 0], vector[:, 1]), 1e-9)
    left = np.column_stack([-vector[:, 1] / plan, vector[:, 0] / plan])
    run = spans.run_index[rows]
    none = np.zeros(len(rows), bool)
    return Rails(
        np.concatenate([spans.from_post[rows], spans.to_post[rows]]),
        np.concatenate([run, run]),
        np.concatenate([unit, -unit]),
        np.concatenate([plan, plan]) / 2,
        np.concatenate([left, left]),
        np.concatenate([none, rows == runs.to_span[run] - 1]),
        np.concatenate([rows == runs.from_span[run], none]),
    )


def _summed(rows: Ints, values: Floats, count: int) -> Floats:
    return np.bincount(rows, values, count).astype(np.float64, copy=False)


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
            force[:, row] += factor.wind * of(wind.force_n)
            moment[:, row] += factor.wind * of(wind.moment_n_m)
        if case.extra != "none":
            extra = around.extras[case.extra]
            force[:, row] += factor.extra * of(extra.force_n)
            moment[:, row] += factor.extra * of(extra.moment_n_m)
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
        force = [_summed(post, total * unit[:, axis], count) for axis in range(3)]
        moment = [_summed(post, arm * unit[:, axis], count) for axis in range(2)]
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


def _winds(task: StrengthTask, rails: Rails, ways: Sequence[str]) -> dict[str, Load]:
    """Wind at strength level on the half spans beside each post and on the post itself, by direction.

    Notes
    -----
    Across: every span's wind is square to it, so a corner gets both legs' at once. Along: on the posts alone. Wind from
    the other side is the same the other way.
    """
    loads = task.settings.strength.loads
    found: dict[str, Load] = {}
    if "left" in ways or "right" in ways:
        across = _wind_across(task, rails, loads.wind_m_s, 0.0)
        found |= {"left": across, "right": _turned(across)}
    if "ahead" in ways or "back" in ways:
        along = _wind_along(task, loads.wind_m_s)
        found |= {"ahead": along, "back": _turned(along)}
    if "ice" in ways:
        found["ice"] = _wind_across(task, rails, loads.ice_wind_m_s, loads.ice_m)
    return found


def _turned(load: Load) -> Load:
    return Load(-load.force_n, -load.moment_n_m, load.up_n)


def _wind_along(task: StrengthTask, gust_m_s: float) -> Load:
    """Wind along the fence, on its posts alone."""
    posts, height = task.layout.posts, task.height_m
    wind = wind_loads(task.settings, task.strands.face_m, posts.diameter_m, gust_m_s, 0.0)
    way = np.stack([np.cos(posts.heading_rad), np.sin(posts.heading_rad)])
    force = wind.post_n_m * height * way
    return Load(force, force * height / 2, np.zeros(len(posts)))


def _wind_across(task: StrengthTask, rails: Rails, gust_m_s: float, ice_m: float) -> Load:
    """Wind square to the fence from its right, on posts and rails, with ice round both."""
    posts, height, count = task.layout.posts, task.height_m, len(task.layout.posts)
    wind = wind_loads(task.settings, task.strands.face_m, posts.diameter_m, gust_m_s, ice_m)
    force = wind.post_n_m * height * _left(task)
    moment = force * height / 2
    whole = float(wind.strand_n_m.sum())
    load = whole * rails.half_m
    drop = float(wind.strand_n_m @ task.strands.drop_m) / max(whole, 1e-12)
    arm = load * (height[rails.post] - drop)
    for axis in range(2):
        force[axis] += _summed(rails.post, load * rails.normal[:, axis], count)
        moment[axis] += _summed(rails.post, arm * rails.normal[:, axis], count)
    return Load(force, moment, np.zeros(count))


def _left(task: StrengthTask) -> Floats:
    """Direction left of the fence at each post: (2, posts)."""
    heading = task.layout.posts.heading_rad
    return np.stack([-np.sin(heading), np.cos(heading)])


def _extra(task: StrengthTask, rails: Rails, kind: str) -> Load:
    """Ice on the rails, an animal, a leaf or debris."""
    count = len(task.layout.posts)
    if kind == "ice":
        return _ice(task, rails)
    if kind.startswith("animal"):
        loads = task.settings.strength.loads
        sign = 1.0 if kind.endswith("left") else -1.0
        push = sign * loads.animal_n * _left(task)
        return Load(push, push * loads.animal_height_m, np.zeros(count))
    if kind == "flood":
        return _flood(task)
    return _leaf(task, kind)


def _ice(task: StrengthTask, rails: Rails) -> Load:
    """Weight of the ice on the half spans beside each post."""
    settings, count = task.settings, len(task.layout.posts)
    thickness = np.array([row.rail.wire_diameter_m for row in settings.strands])
    ice = float(ice_load_n_m(task.strands.face_m, thickness, settings.strength.loads.ice_m).sum())
    none = np.zeros((2, count))
    return Load(none, none, -(ice * _summed(rails.post, rails.half_m, count)))


def _leaf(task: StrengthTask, kind: str) -> Load:
    """Moment of a gate's leaf about its hinge post: towards its latch post, or square to the fence."""
    posts, openings = task.layout.posts, task.layout.openings
    rows = np.flatnonzero(~openings.is_crossing)
    hinge = openings.hinge_post[rows]
    other = np.where(openings.from_post[rows] == hinge, openings.to_post[rows], openings.from_post[rows])
    towards = np.column_stack([posts.x_m[other] - posts.x_m[hinge], posts.y_m[other] - posts.y_m[hinge]])
    towards /= np.maximum(np.hypot(towards[:, 0], towards[:, 1]), 1e-9)[:, None]
    side = np.where(openings.swing[rows] < 0, -1.0, 1.0)[:, None] * _left(task).T[hinge]
    leaf = openings.leaf_m[rows]
    weight = task.settings.strength.loads.leaf_n_m * leaf
    reach = (leaf / 2 + posts.diameter_m[hinge] / 2) * weight
    turn = reach[:, None] * (towards if kind == "gate shut" else side)
    count = len(posts)
    moment = np.stack([_summed(hinge, turn[:, axis], count) for axis in range(2)])
    return Load(np.zeros((2, count)), moment, -_summed(hinge, weight, count))


def _flood(task: StrengthTask) -> Load:
    """Half the drag of the debris on a hung gap at each of its two posts, at half the water's depth."""
    openings, loads = task.layout.openings, task.settings.strength.loads
    rows = np.flatnonzero(openings.is_crossing)
    pressure = 0.5 * WATER_KG_M3 * loads.flood_drag * loads.flood_m_s**2
    drag = pressure * loads.flood_blocked * openings.opening_m[rows] * loads.flood_depth_m
    ends = np.concatenate([openings.from_post[rows], openings.to_post[rows]])
    count = len(task.layout.posts)
    force = _summed(ends, np.tile(drag / 2, 2), count) * _left(task)
    return Load(force, force * loads.flood_depth_m / 2, np.zeros(count))
