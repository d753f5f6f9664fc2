"""All that the strength is computed from, and the columns that every check reads."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import Pipe, Soil
from fencewright.job.settings import Settings
from fencewright.mechanics.buckling import STEEL_SAFETY, steel_pipe_bending_n_m
from fencewright.mechanics.embedment import lateral_value_pa_m
from fencewright.mechanics.sections import (
    pipe_area_m2,
    pipe_inertia_m4,
    pipe_plastic_modulus_m3,
    round_inertia_m4,
)
from fencewright.mechanics.timber import bending_capacity_n_m, shear_capacity_n
from fencewright.quantity.parse import GRAVITY_M_S2
from fencewright.tables.fence import Holes, Layout, Setting, Strands

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

# shear yield of steel is 0.6 of its yield stress, on half the area of a pipe, from memory, source: aisc-360
STEEL_SHEAR = 0.6 * 0.5
# 7850 kg/m3, source: steel-wire
STEEL_N_M3 = 76982.0


@dataclass(frozen=True, slots=True, eq=False)
class StrengthTask:
    """What the stage is asked.

    Attributes
    ----------
    layout, strands : Layout, Strands
        Posts, spans, runs, braces, openings; the rails.
    height_m : float array (posts,)
        Top above ground. [m]
    span_vector_m : float array (spans, 3)
        Rail from post to post in space. [m]
    holes, brace_holes : Holes
        As practice, frost or the job would have them.
    settings : Settings
        Every number of the job.
    soils : tuple of Soil (posts,)
        Soil under each post.
    tension_n : mapping of str to float array (runs, strands)
        Tension of one rail: `cold`, `set`, `hot`. [N]
    sheets : str
        `us` or `metric`, for what is said.
    """

    layout: Layout
    strands: Strands
    height_m: Floats
    span_vector_m: Floats
    holes: Holes
    brace_holes: Holes
    settings: Settings
    soils: tuple[Soil, ...]
    tension_n: Mapping[str, Floats]
    sheets: str = "us"

    def with_depths(self, depth_m: Floats, brace_depth_m: Floats) -> "StrengthTask":
        """Give the same task with other depths of its holes."""
        return replace(
            self,
            holes=replace(self.holes, depth_m=depth_m),
            brace_holes=replace(self.brace_holes, depth_m=brace_depth_m),
        )


@dataclass(frozen=True, slots=True, eq=False)
class Footing:
    """Soil and hole of each post, (posts,), but for its depth.

    `lateral_pa_m` doubled where half an inch is accepted [Pa/m]; `bearing_pa` 0 where nothing is presumed [Pa];
    `friction`, `cohesion_pa` at a base, NaN where not given; `is_clay`; `width_m` that bears sideways, `bell_m`
    at the bottom, `shaft_m` of the hole [m]; `is_concrete`, `is_driven`.
    """

    lateral_pa_m: Floats
    bearing_pa: Floats
    friction: Floats
    cohesion_pa: Floats
    is_clay: Flags
    width_m: Floats
    bell_m: Floats
    shaft_m: Floats
    is_concrete: Flags
    is_driven: Flags

    def of(self, rows: Ints | None) -> "Footing":
        """Give that of some posts, None for all of them."""
        if rows is None:
            return self
        return Footing(*(getattr(self, name)[rows] for name in self.__slots__))


@dataclass(frozen=True, slots=True, eq=False)
class Members:
    """Section of each post, (posts,): allowable at ten years' load for timber, at allowable strength for steel.

    `bending_n_m` [N m]; `shear_n` [N]; `stiffness_n_m2` E I [N m2]; `weight_n_m` [N/m]; `is_steel`.
    """

    bending_n_m: Floats
    shear_n: Floats
    stiffness_n_m2: Floats
    weight_n_m: Floats
    is_steel: Flags


def footings_of(task: StrengthTask) -> Footing:
    """Soil and hole of each post.

    Notes
    -----
    A tamped post bears over the width of its hole: backfill tamped in layers (1807.3.3) is at least as firm as
    the ground. A driven post bears over its own.
    """
    holes, settings = task.holes, task.settings
    count = len(task.layout.posts)
    kinds, rows = list(task.soils[:1]), np.zeros(count, np.int64)
    if kinds and task.soils.count(kinds[0]) < count:
        _, first, rows = np.unique(
            np.fromiter(map(id, task.soils), np.int64, count), return_index=True, return_inverse=True
        )
        kinds = [task.soils[row] for row in first.tolist()]
    table = np.array(
        [
            (s.lateral_pa_per_m, s.bearing_pa, s.friction, s.cohesion_pa, float(s.soil_class == 5))
            for s in kinds
        ]
        or np.zeros((1, 5))
    )[rows]
    half = settings.strength.ground.is_half_inch
    lateral = lateral_value_pa_m(np.nan_to_num(table[:, 0]), is_motion_accepted=half)
    driven = holes.set == int(Setting.DRIVEN)
    return Footing(
        lateral,
        np.nan_to_num(table[:, 1]),
        table[:, 2],
        table[:, 3],
        table[:, 4] > 0,
        np.where(driven, task.layout.posts.diameter_m, holes.diameter_m),
        holes.bell_m,
        holes.diameter_m,
        holes.set == int(Setting.CONCRETE),
        driven,
    )


def members_of(task: StrengthTask) -> Members:
    """Section of each post: round timber, or the pipe that the job names."""
    posts, strength = task.layout.posts, task.settings.strength
    timber = strength.timber
    wet = timber.wet_factor if strength.is_wet else 1.0
    diameter = posts.diameter_m
    area = np.pi / 4 * diameter**2
    members = Members(
        bending_capacity_n_m(diameter, timber.bending_pa * wet),
        shear_capacity_n(diameter, timber.shear_pa * wet),
        round_inertia_m4(diameter) * timber.modulus_pa,
        area * timber.density_kg_m3 * GRAVITY_M_S2,
        np.zeros(len(posts), bool),
    )
    for pipe, mine in ((strength.end_pipe, posts.is_fixed), (strength.line_pipe, ~posts.is_fixed)):
        members = _piped(members, pipe, mine) if pipe else members
    return members


def _piped(members: Members, pipe: Pipe, mine: Flags) -> Members:
    area = float(pipe_area_m2(pipe.outer_m, pipe.wall_m))
    bending = float(steel_pipe_bending_n_m(pipe.yield_pa, pipe_plastic_modulus_m3(pipe.outer_m, pipe.wall_m)))
    stiffness = float(pipe_inertia_m4(pipe.outer_m, pipe.wall_m)) * pipe.modulus_pa
    return Members(
        np.where(mine, bending, members.bending_n_m),
        np.where(mine, STEEL_SHEAR * pipe.yield_pa * area / STEEL_SAFETY, members.shear_n),
        np.where(mine, stiffness, members.stiffness_n_m2),
        np.where(mine, area * STEEL_N_M3, members.weight_n_m),
        members.is_steel | mine,
    )
