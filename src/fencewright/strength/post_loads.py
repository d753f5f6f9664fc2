"""What each post gets in one load case: the vector sum of its rails, wind, an animal, a gate's leaf, debris."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import LoadCase
from fencewright.strength.load_cases import Factors, cases_of, ice_load_n_m, wind_loads
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
class Surroundings:
    """What does not change from case to case.

    `rails` at posts; `pulls` force (posts, 3) and moment (posts, 2) of each tension and side, `winds` of each
    direction, (force, moment) (posts, 2), before factors; `ice_n` (posts,) weight of the ice on the rails.
    """

    rails: Rails
    pulls: Mapping[tuple[str, str], tuple[Floats, Floats]]
    winds: Mapping[str, tuple[Floats, Floats]]
    ice_n: Floats


def surroundings_of(task: StrengthTask) -> Surroundings:
    """Gather what every case needs, once: the cases only differ by factors."""
    loads, settings, layout = task.settings.strength.loads, task.settings, task.layout
    cases = cases_of(settings, layout.runs, layout.openings)
    rails = rails_at_posts(task)
    thickness = np.array([row.rail.wire_diameter_m for row in settings.strands])
    ice = float(ice_load_n_m(task.strands.face_m, thickness, loads.ice_m).sum())
    return Surroundings(
        rails,
        {key: _pull(task, rails, *key) for key in dict.fromkeys((case.pull, case.side) for case in cases)},
        {way: _wind(task, rails, way) for way in dict.fromkeys(case.wind for case in cases) if way != "none"},
        ice * _summed(rails.post, rails.half_m, len(layout.posts)),
    )


def pulled_again(
    task: StrengthTask, around: Surroundings, case: LoadCase, share: Floats
) -> tuple[StrengthTask, Surroundings]:
    """Give the same fence with each run drawn to a share (runs,) of its pull, for one case alone."""
    tension = {**task.tension_n, case.pull: task.tension_n[case.pull] * share[:, None]}
    task = replace(task, tension_n=tension)
    key = (case.pull, case.side)
    return task, replace(around, pulls={**around.pulls, key: _pull(task, around.rails, *key)})


def rails_at_posts(task: StrengthTask) -> Rails:
    """Rows of `Rails`: first every span at its `from_post`, then every span at its `to_post`."""
    spans, runs = task.layout.spans, task.layout.runs
    rows = np.flatnonzero(spans.run_index >= 0)
    vector = task.span_vector_m[rows]
    length = np.maximum(np.linalg.norm(vector, axis=1), 1e-9)
    unit = vector / length[:, None]
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
    pulled, turned = around.pulls[case.pull, case.side]
    force, moment = factors.pull * pulled[:, :2], factors.pull * turned
    up = factors.pull * pulled[:, 2]
    if case.wind != "none":
        add, turn = around.winds[case.wind]
        force, moment = force + factors.wind * add, moment + factors.wind * turn
    if case.extra == "ice":
        up = up - factors.extra * around.ice_n
    elif case.extra != "none":
        add, turn, down = _extra(task, case)
        force, moment = force + factors.extra * add, moment + factors.extra * turn
        up = up - factors.extra * down
    return PostForces(force, moment, up, _applies(task, around.rails, case))


def _pull(task: StrengthTask, rails: Rails, pull: str, side: str) -> tuple[Floats, Floats]:
    """Vector sum of the rails' tension, and its moments about grade."""
    tension = task.tension_n[pull]
    total = tension.sum(axis=1)[rails.run]
    lever = tension @ task.strands.drop_m
    arm = total * task.height_m[rails.post] - lever[rails.run]
    if side != "all":
        mine = rails.is_ending if side == "ending" else rails.is_starting
        total, arm = np.where(mine, total, 0.0), np.where(mine, arm, 0.0)
    count = len(task.layout.posts)
    force = [_summed(rails.post, total * rails.unit[:, axis], count) for axis in range(3)]
    moment = [_summed(rails.post, arm * rails.unit[:, axis], count) for axis in range(2)]
    return np.column_stack(force), np.column_stack(moment)


def _applies(task: StrengthTask, rails: Rails, case: LoadCase) -> Flags:
    """Posts that have the case at all."""
    count, openings, posts = len(task.layout.posts), task.layout.openings, task.layout.posts
    if case.side != "all":
        ends = np.bincount(rails.post, rails.is_ending, count) > 0
        starts = np.bincount(rails.post, rails.is_starting, count) > 0
        return ends & starts
    if case.extra.startswith("gate"):
        return np.isin(np.arange(count), openings.hinge_post[~openings.is_crossing])
    if case.extra == "flood":
        mine = openings.is_crossing
        return np.isin(np.arange(count), np.concatenate([openings.from_post[mine], openings.to_post[mine]]))
    if case.extra.startswith("animal"):
        return np.isin(posts.role, (int(Role.LINE), int(Role.BEND), int(Role.TEE)))
    return np.ones(count, bool)


def _wind(task: StrengthTask, rails: Rails, direction: str) -> tuple[Floats, Floats]:
    """Wind at strength level on the half spans beside each post and on the post itself.

    Notes
    -----
    Across: every span's wind is square to it, so a corner gets both legs' at once. Along: on the posts alone.
    """
    posts, height, loads = task.layout.posts, task.height_m, task.settings.strength.loads
    gust, ice = (loads.ice_wind_m_s, loads.ice_m) if direction == "ice" else (loads.wind_m_s, 0.0)
    wind = wind_loads(task.settings, task.strands.face_m, posts.diameter_m, gust, ice)
    count = len(posts)
    way = np.column_stack([np.cos(posts.heading_rad), np.sin(posts.heading_rad)])
    own = wind.post_n_m * height
    if direction in ("ahead", "back"):
        force = (1.0 if direction == "ahead" else -1.0) * own[:, None] * way
        return force, force * height[:, None] / 2
    sign = -1.0 if direction == "right" else 1.0
    force = sign * own[:, None] * np.column_stack([-way[:, 1], way[:, 0]])
    moment = force * height[:, None] / 2
    load = sign * float(wind.strand_n_m.sum()) * rails.half_m
    drop = float(wind.strand_n_m @ task.strands.drop_m) / max(float(wind.strand_n_m.sum()), 1e-12)
    arm = load * (height[rails.post] - drop)
    for axis in range(2):
        force[:, axis] += _summed(rails.post, load * rails.normal[:, axis], count)
        moment[:, axis] += _summed(rails.post, arm * rails.normal[:, axis], count)
    return force, moment


def _extra(task: StrengthTask, case: LoadCase) -> tuple[Floats, Floats, Floats]:
    """Give force, moment and weight of an animal, a leaf or debris, before factors."""
    posts = task.layout.posts
    count = len(posts)
    left = np.column_stack([-np.sin(posts.heading_rad), np.cos(posts.heading_rad)])
    if case.extra.startswith("animal"):
        loads = task.settings.strength.loads
        sign = 1.0 if case.extra.endswith("left") else -1.0
        push = sign * loads.animal_n * left
        return push, push * loads.animal_height_m, np.zeros(count)
    if case.extra == "flood":
        return _flood(task, left)
    return _leaf(task, case, left)


def _leaf(task: StrengthTask, case: LoadCase, left: Floats) -> tuple[Floats, Floats, Floats]:
    """Moment of a gate's leaf about its hinge post: towards its latch post, or square to the fence."""
    posts, openings = task.layout.posts, task.layout.openings
    rows = np.flatnonzero(~openings.is_crossing)
    hinge = openings.hinge_post[rows]
    other = np.where(openings.from_post[rows] == hinge, openings.to_post[rows], openings.from_post[rows])
    towards = np.column_stack([posts.x_m[other] - posts.x_m[hinge], posts.y_m[other] - posts.y_m[hinge]])
    towards /= np.maximum(np.hypot(towards[:, 0], towards[:, 1]), 1e-9)[:, None]
    side = np.where(openings.swing[rows] < 0, -1.0, 1.0)[:, None] * left[hinge]
    leaf = openings.leaf_m[rows]
    weight = task.settings.strength.loads.leaf_n_m * leaf
    reach = (leaf / 2 + posts.diameter_m[hinge] / 2) * weight
    turn = reach[:, None] * (towards if case.extra == "gate shut" else side)
    count = len(posts)
    moment = np.column_stack([_summed(hinge, turn[:, axis], count) for axis in range(2)])
    return np.zeros((count, 2)), moment, _summed(hinge, weight, count)


def _flood(task: StrengthTask, left: Floats) -> tuple[Floats, Floats, Floats]:
    """Half the drag of the debris on a hung gap at each of its two posts, at half the water's depth."""
    openings, loads = task.layout.openings, task.settings.strength.loads
    rows = np.flatnonzero(openings.is_crossing)
    pressure = 0.5 * WATER_KG_M3 * loads.flood_drag * loads.flood_m_s**2
    drag = pressure * loads.flood_blocked * openings.opening_m[rows] * loads.flood_depth_m
    ends = np.concatenate([openings.from_post[rows], openings.to_post[rows]])
    size = _summed(ends, np.tile(drag / 2, 2), len(left))
    force = size[:, None] * left
    return force, force * loads.flood_depth_m / 2, np.zeros(len(left))
