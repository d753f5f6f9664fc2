"""Holes of posts: what holds them down by each model, what they carry down and sideways, and how deep they must be."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.mechanics.bearing import bearing_capacity_n
from fencewright.mechanics.broms import clay_capacity_n, sand_capacity_n
from fencewright.mechanics.embedment import FREE_FACTOR, FREE_LEVER, free_pressure_pa
from fencewright.mechanics.solids import belled_hole_m3, cylinder_m3
from fencewright.mechanics.uplift import (
    bell_ledge_soil_n,
    cone_soil_n,
    shaft_resistance_pa,
    shaft_skin_n,
    weight_n,
)
from fencewright.strength.task import Footing, Members, StrengthTask
from fencewright.tables.strength import Check

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

# a pure couple is a pull far up: so small a pull, so high
_LEAST_N, _HIGHEST_M = 1e-300, 1e3
_LEAST_DEPTH_M = (
    1e-3  # of a post without depth, so that what is told of it stays finite; nothing holds it either way
)

UPLIFT_MODELS = {
    "shaft": Check.UPLIFT_SHAFT,
    "cylinder": Check.UPLIFT_CYLINDER,
    "cone": Check.UPLIFT_CONE,
    "ledge": Check.UPLIFT_LEDGE,
}


@dataclass(frozen=True, slots=True, eq=False)
class HoleShape:
    """Holes whose uplift is asked, (holes,): rows of posts, and what does not change with depth."""

    post: Ints
    height_m: Floats
    diameter_m: Floats
    shaft_m: Floats
    bell_m: Floats
    skin_pa: Floats
    post_n_m: Floats
    is_concrete: NDArray[np.bool_]
    lift_out_n: Floats

    def of(self, rows: Ints) -> "HoleShape":
        """Give some of the holes."""
        return HoleShape(*(getattr(self, name)[rows] for name in self.__slots__))


def hole_shape(task: StrengthTask, footing: Footing, members: Members, rows: Ints) -> HoleShape:
    """Columns of some posts' holes."""
    holes = task.settings.holes
    lift = np.where(footing.is_driven[rows], holes.driven_lift_out_n, holes.tamped_lift_out_n)
    return HoleShape(
        rows,
        task.height_m[rows],
        task.layout.posts.diameter_m[rows],
        footing.shaft_m[rows],
        footing.bell_m[rows],
        shaft_resistance_pa(footing.bearing_pa[rows]),
        members.weight_n_m[rows],
        footing.is_concrete[rows],
        lift,
    )


def hold_down_n(task: StrengthTask, shape: HoleShape, depth_m: Floats, model: str) -> Floats:
    """Uplift that holes of some depth hold by one model.

    Parameters
    ----------
    task : StrengthTask
        Bell height, recess, factor.
    shape : HoleShape
        The holes.
    depth_m : float array (holes,)
        Their depths. [m]
    model : str
        `shaft` weight and skin along the shaft; `cylinder` weight, the soil over the bell, and skin along a
        cylinder as wide as the bell; `cone` weight and a cone of soil; `ledge` weight and the soil over the bell.

    Returns
    -------
    float array (holes,)
        Skin and cone over the factor, weight whole; a post without concrete holds what is reported of pulling
        one out, over the factor, whatever its depth. [N]

    References
    ----------
    ibc-1810 (1810.3.3.1.4 and .5); slip-cylinder; cone-sheet; bowles-bell; btcv-590.
    """
    return holds_down_n(task, shape, depth_m, (model,))[model]


def holds_down_n(
    task: StrengthTask, shape: HoleShape, depth_m: Floats, models: Iterable[str]
) -> dict[str, Floats]:
    """Uplift that holes of some depth hold by each of some models: each as `hold_down_n` gives it. [N]"""
    own = shape.post_n_m * (depth_m + shape.height_m)
    held = shape.lift_out_n / task.settings.holes.uplift_factor + own
    rows = np.flatnonzero(shape.is_concrete)
    if not len(rows):
        return dict.fromkeys(models, held)
    concreted, depth = shape.of(rows), np.broadcast_to(depth_m, held.shape)[..., rows]
    weight, found = _concreted_n(task, concreted, depth) + own[..., rows], {}
    for model in models:
        found[model] = held.copy()
        found[model][..., rows] = weight + _soil_n(task, concreted, depth, model)
    return found


def _concreted_n(task: StrengthTask, shape: HoleShape, depth_m: Floats) -> Floats:
    """Weight of the concrete round posts. [N]"""
    holes = task.settings.holes
    filled = belled_hole_m3(shape.shaft_m, shape.bell_m, holes.bell_height_m, depth_m, holes.recess_m)
    post = cylinder_m3(shape.diameter_m, np.maximum(depth_m - holes.recess_m, 0.0))
    return weight_n(np.maximum(filled - post, 0.0))


def _soil_n(task: StrengthTask, shape: HoleShape, depth_m: Floats, model: str) -> Floats:
    """What the soil adds to the weight of a concreted post by one model; arguments as `hold_down_n`. [N]"""
    holes, ground = task.settings.holes, task.settings.strength.ground
    factor = holes.uplift_factor
    if model == "cone":
        cone = cone_soil_n(shape.bell_m, shape.shaft_m, depth_m, ground.cone_spread_rad, ground.soil_n_m3)
        return cone / factor
    below = np.maximum(depth_m - holes.recess_m, 0.0)
    if model == "shaft":
        return shaft_skin_n(shape.shaft_m, below, shape.skin_pa) / factor
    cover = np.maximum(depth_m - holes.bell_height_m, 0.0)
    ledge = bell_ledge_soil_n(shape.shaft_m, shape.bell_m, cover, ground.soil_n_m3)
    if model == "ledge":
        return ledge
    wide = shape.bell_m > shape.shaft_m + 1e-9
    return shaft_skin_n(shape.bell_m, np.where(wide, cover, below), shape.skin_pa) / factor + ledge


def embedment_terms(
    force_n: Floats, moment_n_m: Floats, depth_m: Floats, width_m: Floats, lateral_pa_m: Floats
) -> tuple[Floats, Floats]:
    """Demand and capacity of a post free at grade, as forces at grade.

    Returns
    -------
    demand_n, capacity_n : float arrays (posts,)
        P + 1.09 M / d against S1 b d / 2.34: their quotient is `embedment.free_utilisation`. [N]

    References
    ----------
    ibc-1807 (1807.3.2.1, eq. 18-1).
    """
    demand = force_n + FREE_LEVER * moment_n_m / np.maximum(depth_m, _LEAST_DEPTH_M)
    return demand, free_pressure_pa(depth_m, lateral_pa_m) * width_m * depth_m / FREE_FACTOR


def broms_capacity_n(
    task: StrengthTask, footing: Footing, force_n: Floats, moment_n_m: Floats, depth_m: Floats
) -> Floats:
    """Second opinion: pull at its own height that Broms' short post may take, over the factor. [N]"""
    ground = task.settings.strength.ground
    depth_m = np.maximum(depth_m, _LEAST_DEPTH_M)
    height = np.minimum(moment_n_m / np.maximum(force_n, _LEAST_N), _HIGHEST_M)
    holds = sand_capacity_n(depth_m, height, footing.width_m, ground.soil_n_m3, ground.friction_angle_rad)
    if footing.is_clay.any():
        clay = clay_capacity_n(depth_m, height, footing.width_m, ground.clay_strength_pa)
        holds = np.where(footing.is_clay, clay, holds)
    known = footing.lateral_pa_m > 0
    if not known.all():
        holds = np.where(known, holds, 0.0)
    return np.asarray(holds / ground.broms_factor)


def bearing_of_post_n(task: StrengthTask, footing: Footing) -> Floats:
    """Load down that each post's hole carries.

    Returns
    -------
    float array (posts,)
        Concrete: the better of its base and the skin of its shaft, which the code does not add. A post without: its
        foot, and along it the friction that is reported of pulling one out, over the factor. [N]

    References
    ----------
    ibc-1806 (table 1806.2); ibc-1810 (1810.3.3.1.4); btcv-590.
    """
    holes, diameter = task.settings.holes, task.layout.posts.diameter_m
    base = bearing_capacity_n(
        np.pi / 4 * np.where(footing.is_concrete, footing.bell_m, diameter) ** 2, footing.bearing_pa
    )
    length = np.maximum(task.holes.depth_m - holes.recess_m, 0.0)
    skin = shaft_skin_n(footing.shaft_m, length, shaft_resistance_pa(footing.bearing_pa))
    along = (
        np.where(footing.is_driven, holes.driven_lift_out_n, holes.tamped_lift_out_n) / holes.uplift_factor
    )
    return np.where(footing.is_concrete, np.maximum(base, skin), base + along)
