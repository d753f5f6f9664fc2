"""Loads beside the rails' pull, before factors: wind, ice, a leaning animal, a gate's leaf, debris in a flood."""

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from fencewright.strength.load_cases import WindLoads, ice_load_n_m, wind_loads
from fencewright.strength.meetings import Load, Rails, summed
from fencewright.strength.task import StrengthTask
from fencewright.tables.fence import Layout

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

WATER_KG_M3 = 1000.0
END_M = 0.01  # a station this near to a line's end is its end


def winds_of(task: StrengthTask, rails: Rails, ways: Sequence[str], left: Floats) -> dict[str, Load]:
    """Wind at strength level on the half spans beside each post and on the post itself, by direction.

    Notes
    -----
    Across: every span's wind is square to it, so a corner gets both legs' at once. Along: on the posts alone. Wind from
    the other side is the same the other way.
    """
    loads, settings, faces = task.settings.strength.loads, task.settings, task.strands.face_m
    diameter = task.layout.posts.diameter_m
    found: dict[str, Load] = {}
    if set(ways) - {"ice"}:
        wind = wind_loads(settings, faces, diameter, loads.wind_m_s, 0.0)
        across, along = _wind_across(task, rails, left, wind), _wind_along(task, left, wind)
        found = {"left": across, "right": across.turned(), "ahead": along, "back": along.turned()}
    if "ice" in ways:
        wind = wind_loads(settings, faces, diameter, loads.ice_wind_m_s, loads.ice_m)
        found["ice"] = _wind_across(task, rails, left, wind)
    return found


def _wind_along(task: StrengthTask, left: Floats, wind: WindLoads) -> Load:
    """Wind along the fence, on its posts alone."""
    force = wind.post_n_m * task.height_m * np.stack([left[1], -left[0]])
    return Load(force, force * task.height_m / 2, np.zeros(left.shape[1]))


def _wind_across(task: StrengthTask, rails: Rails, left: Floats, wind: WindLoads) -> Load:
    """Wind square to the fence from its right, on posts and rails."""
    height, count = task.height_m, left.shape[1]
    force = wind.post_n_m * height * left
    moment = force * height / 2
    whole = float(wind.strand_n_m.sum())
    load = whole * rails.half_m
    drop = float(wind.strand_n_m @ task.strands.drop_m) / max(whole, 1e-12)
    arm = load * (height[rails.post] - drop)
    for axis in range(2):
        force[axis] += summed(rails.post, load * rails.normal[:, axis], count)
        moment[axis] += summed(rails.post, arm * rails.normal[:, axis], count)
    return Load(force, moment, np.zeros(count))


def left_of(task: StrengthTask) -> Floats:
    """Direction left of the fence at each post, of a line that passes it where one does: (2, posts)."""
    posts, visits = task.layout.posts, task.layout.visits
    heading = posts.heading_rad
    if len(visits.post_index):
        at = visits.post_index
        passes = _ends_here(task.layout, posts.line_index[at], posts.station_m[at])
        passes &= ~_ends_here(task.layout, visits.line_index, visits.station_m)
        heading = heading.copy()
        heading[at[passes][::-1]] = visits.heading_rad[passes][::-1]  # of several the first
    return np.stack([-np.sin(heading), np.cos(heading)])


def _ends_here(layout: Layout, line_index: Ints, station_m: Floats) -> Flags:
    """Whether a line has an end at a station: (places,)."""
    length = np.array([np.inf if line.is_closed else line.length_m for line in layout.lines])[line_index]
    return np.asarray(((station_m < END_M) | (station_m > length - END_M)) & np.isfinite(length))


def _left_of_openings(task: StrengthTask, rows: Ints) -> Floats:
    """Direction left of some openings, from their first post to their last: (2, openings)."""
    posts, first, last = (
        task.layout.posts,
        task.layout.openings.from_post[rows],
        task.layout.openings.to_post[rows],
    )
    left = np.stack([posts.y_m[first] - posts.y_m[last], posts.x_m[last] - posts.x_m[first]])
    return np.asarray(left / np.maximum(np.hypot(*left), 1e-9))


def extras_of(task: StrengthTask, rails: Rails, kinds: Iterable[str], left: Floats) -> dict[str, Load]:
    """Ice on the rails, an animal, a leaf or debris, by kind."""
    found: dict[str, Load] = {}
    for kind in kinds:
        if kind == "ice":
            found[kind] = _ice(task, rails)
        elif kind == "flood":
            found[kind] = _flood(task)
        elif kind.startswith("gate"):
            found[kind] = _leaf(task, kind)
        else:
            found |= _animals(task, left)
    return found


def _animals(task: StrengthTask, left: Floats) -> dict[str, Load]:
    """A leaning animal, on either side."""
    loads = task.settings.strength.loads
    push = loads.animal_n * left
    leaning = Load(push, push * loads.animal_height_m, np.zeros(left.shape[1]))
    return {"animal left": leaning, "animal right": leaning.turned()}


def _ice(task: StrengthTask, rails: Rails) -> Load:
    """Weight of the ice on the half spans beside each post."""
    settings, count = task.settings, len(task.layout.posts)
    thickness = np.array([row.rail.wire_diameter_m for row in settings.strands])
    ice = float(ice_load_n_m(task.strands.face_m, thickness, settings.strength.loads.ice_m).sum())
    none = np.zeros((2, count))
    return Load(none, none, -(ice * summed(rails.post, rails.half_m, count)))


def _leaf(task: StrengthTask, kind: str) -> Load:
    """Moment of a gate's leaf about its hinge post: towards its latch post, or square to the gate."""
    posts, openings = task.layout.posts, task.layout.openings
    rows = np.flatnonzero(~openings.is_crossing)
    hinge = openings.hinge_post[rows]
    other = np.where(openings.from_post[rows] == hinge, openings.to_post[rows], openings.from_post[rows])
    towards = np.column_stack([posts.x_m[other] - posts.x_m[hinge], posts.y_m[other] - posts.y_m[hinge]])
    towards /= np.maximum(np.hypot(towards[:, 0], towards[:, 1]), 1e-9)[:, None]
    side = np.where(openings.swing[rows] < 0, -1.0, 1.0)[:, None] * _left_of_openings(task, rows).T
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
    half = np.tile(drag / 2 * _left_of_openings(task, rows), 2)
    force = np.stack([summed(ends, axis, count) for axis in half])
    return Load(force, force * loads.flood_depth_m / 2, np.zeros(count))
