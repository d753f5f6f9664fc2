"""Holes: how wide, how deep, how the post is held in each, and why."""

import numpy as np
from numpy.typing import NDArray

from fencewright.job.settings import HoleSettings, Settings
from fencewright.mechanics.solids import belled_hole_m3, cylinder_m3
from fencewright.tables.fence import Braces, Holes, Posts, Role, Setting
from fencewright.tables.sizes import STATED_HERE, StatedSizes

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


def post_holes(
    posts: Posts,
    settings: Settings,
    is_unstable: Flags,
    needs_concrete: Flags,
    sizes: StatedSizes | None = None,
) -> Holes:
    """Hole of each post.

    Parameters
    ----------
    posts : Posts
        All posts.
    settings : Settings
        Depths after frost, auger, bell, recess.
    is_unstable, needs_concrete : bool array (posts,)
        See `settings_of`.
    sizes : StatedSizes, optional
        Depths, widths and ways to be held that the job states post by post.

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
    if sizes is not None:
        held = np.where(sizes.set >= 0, sizes.set, held)
    is_upright = posts.is_fixed | (posts.role == int(Role.BRACE))
    concreted = held == int(Setting.CONCRETE)
    depth = np.where(is_upright, holes.end_depth_m, holes.line_depth_m)
    governs = np.array([holes.line_governs, holes.end_governs], object)[is_upright.astype(np.int64)]
    below = _below_frost_m(settings)
    deepened = concreted & ~is_upright & (depth < below - 1e-9)
    depth = np.where(deepened, below, depth)
    governs[deepened] = "frost"
    if sizes is not None:
        stated = np.isfinite(sizes.depth_m)
        depth = np.where(stated, sizes.depth_m, depth)
        governs[stated] = STATED_HERE
    met_rock = np.isfinite(posts.rock_depth_m) & (posts.rock_depth_m <= depth + 1e-9)
    depth = np.where(met_rock, posts.rock_depth_m, depth)
    governs[met_rock] = "rock"
    built = posts.is_built & np.isfinite(posts.built_depth_m)
    depth = np.where(built, posts.built_depth_m, depth)
    governs[posts.is_built] = "already set"
    widths = _widths_m(posts, holes, held, sizes)
    return holes_at(posts, settings, held, depth, tuple(governs.tolist()), widths)


def _widths_m(
    posts: Posts, holes: HoleSettings, held: Ints, sizes: StatedSizes | None = None
) -> tuple[Floats, Floats]:
    """Width of each hole, and at its bottom: as stated for that post, else by the auger and its bell."""
    wide, bell = np.full(len(posts), holes.auger_m), np.full(len(posts), holes.bell_m)
    if sizes is not None:
        wide = np.where(np.isfinite(sizes.hole_m), sizes.hole_m, wide)
        bell = np.where(np.isfinite(sizes.bell_m), sizes.bell_m, bell)
    wide = np.where(held == int(Setting.DRIVEN), posts.diameter_m, wide)
    return wide, wide + np.where(held == int(Setting.CONCRETE), bell, 0.0)


def holes_at(
    posts: Posts,
    settings: Settings,
    held: Ints,
    depth_m: Floats,
    governs: tuple[str, ...],
    widths_m: tuple[Floats, Floats] | None = None,
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
    widths_m : pair of float arrays (posts,), optional
        Of the hole, and at its bottom; left out: by the auger and its bell. [m]

    Returns
    -------
    Holes
        Concrete is the belled hole up to the recess, less the post, which stands on the bottom.
    """
    holes = settings.holes
    concreted = held == int(Setting.CONCRETE)
    driven = held == int(Setting.DRIVEN)
    diameter, bell = _widths_m(posts, holes, held) if widths_m is None else widths_m
    whole = belled_hole_m3(diameter, bell, holes.bell_height_m, depth_m, 0.0)
    filled = belled_hole_m3(diameter, bell, holes.bell_height_m, depth_m, holes.recess_m)
    post = cylinder_m3(posts.diameter_m, np.maximum(depth_m - holes.recess_m, 0.0))
    concrete = np.where(concreted & ~posts.is_built, np.maximum(filled - post, 0.0), 0.0)
    spoil = np.where(posts.is_built | driven, 0.0, whole)
    return Holes(diameter, bell, depth_m, held, concrete, spoil, governs)


def _below_frost_m(settings: Settings) -> float:
    """Least depth of a concreted footing; a depth that the job states for ends says how far below frost to go."""
    return min(settings.frost_m + settings.holes.below_frost_m, settings.holes.end_depth_m)


def brace_footings(braces: Braces, settings: Settings, sizes: StatedSizes | None = None) -> Holes:
    """Footing of each diagonal brace; a horizontal brace has none of its own.

    Returns
    -------
    Holes
        One row a brace: concrete from the bottom up to a level below grade, at least a stated height of it.
    """
    count = len(braces)
    depth = np.where(~braces.is_horizontal, settings.holes.brace_depth_m, 0.0)
    governs, wide = np.full(count, settings.holes.brace_governs, object), None
    if sizes is not None:
        stated = np.isfinite(sizes.brace_depth_m)
        depth = np.where(stated, sizes.brace_depth_m, depth)
        governs[stated] = STATED_HERE
        wide = np.where(np.isfinite(sizes.brace_hole_m), sizes.brace_hole_m, settings.holes.auger_m)
    return footings_at(braces, settings, depth, tuple(governs.tolist()), wide)


def footings_at(
    braces: Braces,
    settings: Settings,
    depth_m: Floats,
    governs: tuple[str, ...],
    wide_m: Floats | None = None,
) -> Holes:
    """Footing of each diagonal brace at a given depth, the auger's width unless another is given: see `brace_footings`."""
    holes = settings.holes
    diagonal = ~braces.is_horizontal
    height = np.minimum(np.maximum(depth_m - holes.brace_top_m, holes.brace_concrete_m), depth_m)
    width = np.where(diagonal, holes.auger_m if wide_m is None else wide_m, 0.0)
    concrete = np.where(diagonal, cylinder_m3(width, height), 0.0)
    spoil = np.where(diagonal, cylinder_m3(width, depth_m), 0.0)
    held = np.full(len(braces), int(Setting.CONCRETE))
    return Holes(width, width, depth_m, held, concrete, spoil, governs)
