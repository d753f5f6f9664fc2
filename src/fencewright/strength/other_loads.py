"""Loads beside the rails' pull, before factors: wind, ice, a leaning animal, a gate's leaf, debris in a flood."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from fencewright.strength.load_cases import ice_load_n_m, wind_loads
from fencewright.strength.meetings import Load, Rails, summed
from fencewright.strength.task import StrengthTask

Floats = NDArray[np.float64]

WATER_KG_M3 = 1000.0


def winds_of(task: StrengthTask, rails: Rails, ways: Sequence[str]) -> dict[str, Load]:
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
        force[axis] += summed(rails.post, load * rails.normal[:, axis], count)
        moment[axis] += summed(rails.post, arm * rails.normal[:, axis], count)
    return Load(force, moment, np.zeros(count))


def _left(task: StrengthTask) -> Floats:
    """Direction left of the fence at each post: (2, posts)."""
    heading = task.layout.posts.heading_rad
    return np.stack([-np.sin(heading), np.cos(heading)])


def extra_of(task: StrengthTask, rails: Rails, kind: str) -> Load:
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
    return Load(none, none, -(ice * summed(rails.post, rails.half_m, count)))


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
    moment = np.stack([summed(hinge, turn[:, axis], count) for axis in range(2)])
    return Load(np.zeros((2, count)), moment, -summed(hinge, weight, count))


def _flood(task: StrengthTask) -> Load:
    """Half the drag of the debris on a hung gap at each of its two posts, at half the water's depth."""
    openings, loads = task.layout.openings, task.settings.strength.loads
    rows = np.flatnonzero(openings.is_crossing)
    pressure = 0.5 * WATER_KG_M3 * loads.flood_drag * loads.flood_m_s**2
    drag = pressure * loads.flood_blocked * openings.opening_m[rows] * loads.flood_depth_m
    ends = np.concatenate([openings.from_post[rows], openings.to_post[rows]])
    count = len(task.layout.posts)
    force = summed(ends, np.tile(drag / 2, 2), count) * _left(task)
    return Load(force, force * loads.flood_depth_m / 2, np.zeros(count))
