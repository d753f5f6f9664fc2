"""Footings of the braces: what their soil carries sideways, down and against tipping, at any depth."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.mechanics.bearing import COHESION_DEAD_SHARE, bearing_capacity_n, face_capacity_n
from fencewright.mechanics.sections import round_area_m2
from fencewright.mechanics.solids import cylinder_m3
from fencewright.mechanics.tipping import clay_holding_n_m, sand_holding_n_m
from fencewright.mechanics.uplift import shaft_resistance_pa, shaft_skin_n, weight_n
from fencewright.strength.braces import footing_top_m
from fencewright.strength.task import Footing, StrengthTask

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class FootingCapacity:
    """What a brace's footing carries, (braces,): sideways `fixed_n` and `friction` of what presses on it; `down_n`.

    `stick_n` is clay's limit of sliding: cohesion over the base; the other is half of what presses on it. Both it and
    `friction` are 0 where the soil has none. Tipping: `lever_m` from the brace's end down to the toe [m],
    `turning_n_m` what the soil holds about the toe [N m], `half_m` from the centre to the toe [m]; both moments are
    over the factor.
    """

    fixed_n: Floats
    friction: Floats
    stick_n: Floats
    weight_n: Floats
    down_n: Floats
    lever_m: Floats
    turning_n_m: Floats
    half_m: Floats

    def push_n(self, down_n: Floats) -> Floats:
        """Level push that the footing may take while a force presses on it. [N]"""
        dead = np.maximum(down_n + self.weight_n, 0.0)
        rub = self.friction * dead
        stick = np.minimum(self.stick_n, COHESION_DEAD_SHARE * dead)
        return np.asarray(self.fixed_n + np.maximum(rub, stick))

    def tipping_n_m(self, down_n: Floats) -> Floats:
        """Moment about its toe that the footing may take while a force presses on its centre. [N m]"""
        return np.asarray(self.turning_n_m + np.maximum(down_n + self.weight_n, 0.0) * self.half_m)


@dataclass(frozen=True, slots=True, eq=False)
class FootingSoil:
    """What does not change with a brace footing's depth, (braces,).

    `width_m` [m]; `lateral_pa_m` beside it [Pa/m]; `base_n` that its base bears, `skin_pa` along its side;
    `friction`, `stick_n` of its base as in `FootingCapacity`; `is_clay`.
    """

    width_m: Floats
    lateral_pa_m: Floats
    base_n: Floats
    skin_pa: Floats
    friction: Floats
    stick_n: Floats
    is_clay: Flags

    def of(self, rows: Ints) -> "FootingSoil":
        """Give that of some braces."""
        return FootingSoil(*(getattr(self, name)[rows] for name in self.__slots__))


def footing_soil(task: StrengthTask, footing: Footing) -> FootingSoil:
    """Soil and width of the braces' footings: the auger's where none is given."""
    post, wide = task.layout.braces.post_index, task.brace_holes.diameter_m
    width = np.where(wide > 0, wide, task.settings.holes.auger_m)
    area, bearing = round_area_m2(width), footing.bearing_pa[post]
    return FootingSoil(
        width, footing.lateral_pa_m[post], bearing_capacity_n(area, bearing), shaft_resistance_pa(bearing),
        np.nan_to_num(footing.friction[post]), np.nan_to_num(footing.cohesion_pa[post] * area),
        footing.is_clay[post],
    )  # fmt: skip


def footing_capacity(task: StrengthTask, soil: FootingSoil, depth_m: Floats) -> FootingCapacity:
    """What the footings of the braces carry at some depth.

    Notes
    -----
    Sideways: lateral bearing over the concrete's true range of depth, and sliding of its base under its weight and
    what the brace presses on it, the footing moving without tipping. Tipping over its toe: the soil's passive
    pressure and what presses down, over the factor against overturning. Down: the better of bearing on its base and
    skin along its side, which the code does not add.

    References
    ----------
    ibc-1806, ibc-1806-3; ibc-1810 (1810.3.3.1.4); broms-1964a, broms-1964b; ibc-1807 (1807.2.3, by analogy).
    """
    width = soil.width_m
    top = footing_top_m(task, depth_m)
    height = depth_m - top
    ground = task.settings.strength.ground
    return FootingCapacity(
        face_capacity_n(top, depth_m, width, soil.lateral_pa_m),
        soil.friction,
        soil.stick_n,
        weight_n(cylinder_m3(width, height)),
        np.maximum(soil.base_n, shaft_skin_n(width, height, soil.skin_pa)),
        height,
        _turning_n_m(task, soil, top, depth_m) / ground.tipping_factor,
        width / 2.0 / ground.tipping_factor,
    )


def _turning_n_m(task: StrengthTask, soil: FootingSoil, top_m: Floats, depth_m: Floats) -> Floats:
    """Moment about the toe that the soil holds, by its kind; most fences stand in one kind. [N m]"""
    ground, clay = task.settings.strength.ground, soil.is_clay
    loose = sand_holding_n_m(top_m, depth_m, soil.width_m, ground.soil_n_m3, ground.friction_angle_rad)
    if not clay.any():
        return loose
    return np.where(clay, clay_holding_n_m(top_m, depth_m, soil.width_m, ground.clay_strength_pa), loose)
