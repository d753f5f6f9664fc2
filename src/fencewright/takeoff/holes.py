"""Holes: how wide, how deep, how the post is held in each, and why."""

import numpy as np
from numpy.typing import NDArray

from fencewright.job.settings import HoleSettings, Settings
from fencewright.mechanics.solids import belled_hole_m3, cylinder_m3
from fencewright.tables.fence import Braces, Holes, Posts, Role, Setting

Flags = NDArray[np.bool_]
Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_SETTINGS = {"tamped": Setting.TAMPED, "driven": Setting.DRIVEN, "concrete": Setting.CONCRETE}


def settings_of(posts: Posts, holes: HoleSettings, is_unstable: Flags, needs_concrete: Flags) -> Ints:
    """How each post is held: ends, corners, bends and second uprights in concrete, line posts as the job says.

    Parameters
    ----------
    posts : Posts
        All posts.
    holes : HoleSettings
        `line_set`.
    is_unstable, needs_concrete : bool array (posts,)
        Soil that does not hold a tamped post; uplift that it does not hold.

    Returns
    -------
    int array (posts,)
        `Setting`.
    """
    own = np.full(len(posts), int(_SETTINGS[holes.line_set]))
    held = posts.is_fixed | (posts.role == int(Role.BRACE)) | is_unstable | needs_concrete
    return np.where(held, int(Setting.CONCRETE), own)


def post_holes(posts: Posts, settings: Settings, is_unstable: Flags, needs_concrete: Flags) -> Holes:
    """Hole of each post.

    Parameters
    ----------
    posts : Posts
        All posts.
    settings : Settings
        Depths after frost, auger, bell, recess.
    is_unstable, needs_concrete : bool array (posts,)
        See `settings_of`.

    Returns
    -------
    Holes
        One row a post. A hole that met rock ends there; a post already set keeps its depth and takes no concrete.

    Notes
    -----
    A concreted footing reaches below frost; a tamped line post need not.
    """
    holes = settings.holes
    held = settings_of(posts, holes, is_unstable, needs_concrete)
    is_upright = posts.is_fixed | (posts.role == int(Role.BRACE))
    concreted = held == int(Setting.CONCRETE)
    depth = np.where(is_upright, holes.end_depth_m, holes.line_depth_m)
    governs = np.where(is_upright, holes.end_governs, holes.line_governs).astype(object)
    below = _below_frost_m(settings)
    deepened = concreted & ~is_upright & (depth < below - 1e-9)
    depth = np.where(deepened, below, depth)
    governs[deepened] = "frost"
    met_rock = np.isfinite(posts.rock_depth_m) & (posts.rock_depth_m < depth)
    depth = np.where(met_rock, posts.rock_depth_m, depth)
    governs[met_rock] = "rock"
    built = posts.is_built & np.isfinite(posts.built_depth_m)
    depth = np.where(built, posts.built_depth_m, depth)
    governs[posts.is_built] = "already set"
    return holes_at(posts, settings, held, depth, tuple(governs.tolist()))


def holes_at(
    posts: Posts, settings: Settings, held: Ints, depth_m: Floats, governs: tuple[str, ...]
) -> Holes:
    """Hole of each post at a given depth.

    Parameters
    ----------
    posts : Posts
        All posts.
    settings : Settings
        Auger, bell, recess.
    held : int array (posts,)
        `Setting`.
    depth_m : float array (posts,)
        Below grade. [m]
    governs : tuple of str (posts,)
        What decided it.

    Returns
    -------
    Holes
        Concrete is the belled hole up to the recess, less the post, which stands on the bottom.
    """
    holes = settings.holes
    concreted = held == int(Setting.CONCRETE)
    driven = held == int(Setting.DRIVEN)
    diameter = np.where(driven, posts.diameter_m, holes.auger_m)
    bell = diameter + np.where(concreted, holes.bell_m, 0.0)
    whole = belled_hole_m3(diameter, bell, holes.bell_height_m, depth_m, 0.0)
    filled = belled_hole_m3(diameter, bell, holes.bell_height_m, depth_m, holes.recess_m)
    post = cylinder_m3(posts.diameter_m, np.maximum(depth_m - holes.recess_m, 0.0))
    concrete = np.where(concreted & ~posts.is_built, np.maximum(filled - post, 0.0), 0.0)
    spoil = np.where(posts.is_built | driven, 0.0, whole)
    return Holes(diameter, bell, depth_m, held, concrete, spoil, governs)


def _below_frost_m(settings: Settings) -> float:
    """Least depth of a concreted footing; a depth that the job states for ends says how far below frost to go."""
    return min(settings.frost_m, settings.holes.end_depth_m)


def brace_footings(braces: Braces, settings: Settings) -> Holes:
    """Footing of each diagonal brace; a horizontal brace has none of its own.

    Returns
    -------
    Holes
        One row a brace: concrete from the bottom up to a level below grade, at least a stated height of it.
    """
    count = len(braces)
    depth = np.where(~braces.is_horizontal, settings.holes.brace_depth_m, 0.0)
    return footings_at(braces, settings, depth, (settings.holes.brace_governs,) * count)


def footings_at(braces: Braces, settings: Settings, depth_m: Floats, governs: tuple[str, ...]) -> Holes:
    """Footing of each diagonal brace at a given depth: see `brace_footings`."""
    holes = settings.holes
    diagonal = ~braces.is_horizontal
    height = np.minimum(np.maximum(depth_m - holes.brace_top_m, holes.brace_concrete_m), depth_m)
    concrete = np.where(diagonal, cylinder_m3(holes.auger_m, height), 0.0)
    width = np.where(diagonal, holes.auger_m, 0.0)
    spoil = np.where(diagonal, cylinder_m3(holes.auger_m, depth_m), 0.0)
    held = np.full(len(braces), int(Setting.CONCRETE))
    return Holes(width, width, depth_m, held, concrete, spoil, governs)
