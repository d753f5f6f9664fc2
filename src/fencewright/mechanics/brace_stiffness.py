"""Movement of end assemblies under load, and the forces that depend on stiffness.

A flexibility is the level movement of the upright at the brace, in metres, for a level thrust of one newton.
Flexibilities in one chain add up: brace, upright, tie, footing, soil.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fencewright.mechanics.brace_statics import DiagonalForces, diagonal_from_thrust
from fencewright.mechanics.resultant import resultant_at_grade
from fencewright.mechanics.rigid_post import movement_at_height_m

Floats = NDArray[np.float64]


def cantilever_movement_m(
    pulls_n: ArrayLike, heights_m: ArrayLike, at_m: ArrayLike, bending_stiffness_n_m2: ArrayLike
) -> Floats:
    """Movement of a clamped upright at one height under pulls at others.

    Parameters
    ----------
    pulls_n, heights_m : array (..., pulls)
        Level pulls and their heights above the clamp. [N], [m]
    at_m : array (...)
        Height at which the movement is wanted. [m]
    bending_stiffness_n_m2 : array (...)
        E I. [N m2]

    Returns
    -------
    float array (...)
        Sum of P low^2 (3 high - low) / (6 E I), low and high being the two heights in order. [m]
    """
    heights, at = np.asarray(heights_m, np.float64), np.asarray(at_m, np.float64)[..., None]
    low, high = np.minimum(heights, at), np.maximum(heights, at)
    bent = (np.asarray(pulls_n, np.float64) * low**2 * (3.0 * high - low)).sum(axis=-1)
    return np.asarray(bent / (6.0 * np.asarray(bending_stiffness_n_m2, np.float64)))


def diagonal_flexibility_m_n(
    contact_m: ArrayLike,
    reach_m: ArrayLike,
    post_axial_n: ArrayLike,
    brace_axial_n: ArrayLike,
    footing_level_n_m: ArrayLike = np.inf,
    footing_down_n_m: ArrayLike = np.inf,
) -> Floats:
    """Flexibility of a diagonal brace: its shortening, the upright's stretch, its footing's movement.

    Parameters
    ----------
    contact_m, reach_m : array
        Height of the contact, distance of the foot, above 0. [m]
    post_axial_n, brace_axial_n : array
        E A of upright and brace; infinite for none of it. [N]
    footing_level_n_m, footing_down_n_m : array
        Stiffness of the brace's footing sideways and downwards; infinite for an unyielding one. [N/m]

    Returns
    -------
    float array
        L^3 / (a^2 EA) + hb^3 / (a^2 EA_post) + 1/k_level + (hb/a)^2 / k_down. [m/N]
    """
    contact, reach = np.asarray(contact_m, np.float64), np.asarray(reach_m, np.float64)
    slope = contact / reach
    brace = np.hypot(contact, reach) ** 3 / reach**2 / np.asarray(brace_axial_n, np.float64)
    post = slope**2 * contact / np.asarray(post_axial_n, np.float64)
    foot = 1.0 / np.asarray(footing_level_n_m, np.float64)
    return np.asarray(brace + post + foot + slope**2 / np.asarray(footing_down_n_m, np.float64))


def tie_flexibility_m_n(
    rail_height_m: ArrayLike, bay_m: ArrayLike, tie_axial_n: ArrayLike, post_axial_n: ArrayLike = np.inf
) -> Floats:
    """Flexibility of a diagonal tie: its stretch, and the shortening of the post at whose head it ends. [m/N]

    Notes
    -----
    L^3 / (s^2 EA) + hr^3 / (s^2 EA_post).
    """
    height, bay = np.asarray(rail_height_m, np.float64), np.asarray(bay_m, np.float64)
    tie = np.hypot(height, bay) ** 3 / np.asarray(tie_axial_n, np.float64)
    return np.asarray((tie + height**3 / np.asarray(post_axial_n, np.float64)) / bay**2)


def rail_flexibility_m_n(bay_m: ArrayLike, rail_axial_n: ArrayLike) -> Floats:
    """Flexibility of a horizontal brace: s / EA. [m/N]"""
    return np.asarray(np.asarray(bay_m, np.float64) / np.asarray(rail_axial_n, np.float64))


def first_bay_share(tie_m_n: ArrayLike, rail_m_n: ArrayLike) -> Floats:
    """Part of the force that the first of two like bays' ties takes.

    Parameters
    ----------
    tie_m_n, rail_m_n : array
        `tie_flexibility_m_n` and `rail_flexibility_m_n` of either bay. [m/N]

    Returns
    -------
    float array
        (tie + rail) / (2 tie + rail): a half with a stiff rail, and always more than a half. [-]
    """
    tie, rail = np.asarray(tie_m_n, np.float64), np.asarray(rail_m_n, np.float64)
    return np.asarray((tie + rail) / (2.0 * tie + rail))


def near_diagonal_share(
    contact_m: ArrayLike,
    near_m: ArrayLike,
    far_m: ArrayLike,
    brace_axial_n: ArrayLike,
    post_axial_n: ArrayLike = np.inf,
) -> Floats:
    """Part of the level thrust that the nearer of two diagonals takes, both from one contact, one behind the other.

    Parameters
    ----------
    contact_m : array
        Height of the contact above the feet, above 0. [m]
    near_m, far_m : array
        Distances of the two feet, above 0. [m]
    brace_axial_n : array
        E A of either brace. [N]
    post_axial_n : array
        E A of the upright, which both lift; infinite for an unyielding one. [N]

    Returns
    -------
    float array
        [-]

    Notes
    -----
    The contact moves u along and w up; each brace, of stiffness k = EA / L, is shortened by u c - w s with its cosine
    c and sine s, and the upright, k0 = EA / h, is stretched by w = u sum(k c s) / (k0 + sum(k s^2)).
    Unyielding, the share is c^3 / near over the sum of both: about a half.

    References
    ----------
    statics (derived).
    """
    height = np.asarray(contact_m, np.float64)
    reach = np.stack(np.broadcast_arrays(near_m, far_m)).astype(np.float64)
    long = np.hypot(reach, height)
    cosine, sine = reach / long, height / long
    stiff = np.asarray(brace_axial_n, np.float64) / long
    rise = (stiff * cosine * sine).sum(axis=0)
    lift = rise / (np.asarray(post_axial_n, np.float64) / height + (stiff * sine**2).sum(axis=0))
    level = stiff * (cosine - lift * sine) * cosine
    return np.asarray(level[0] / level.sum(axis=0))


@dataclass(frozen=True, slots=True)
class ClampedForces:
    """Forces of a braced upright whose foot is clamped: those of the brace, and the moment at the clamp. [N m]"""

    brace: DiagonalForces
    foot_moment_n_m: Floats


@dataclass(frozen=True, slots=True)
class SoilFoot:
    """Stiff foot of a post in soil: its depth [m], and nh of the soil [N/m3]; see `rigid_post`."""

    depth_m: ArrayLike
    subgrade_n_m3: ArrayLike


def clamped_brace(
    pulls_n: ArrayLike,
    heights_m: ArrayLike,
    contact_m: ArrayLike,
    reach_m: ArrayLike,
    bending_stiffness_n_m2: ArrayLike,
    brace_m_n: ArrayLike,
) -> ClampedForces:
    """Forces of a diagonal brace on an upright clamped at its foot: one unknown, by the force method.

    Parameters
    ----------
    pulls_n, heights_m : array (..., pulls)
        Level pulls and heights above the clamp. [N], [m]
    contact_m, reach_m : array (...)
        Height of the brace's contact, distance of its foot, above 0. [m]
    bending_stiffness_n_m2 : array (...)
        E I of the upright. [N m2]
    brace_m_n : array (...)
        `diagonal_flexibility_m_n`, with what the soil adds. [m/N]

    Returns
    -------
    ClampedForces
        Thrust = free movement at the contact / (hb^3 / 3EI + the brace's flexibility).

    References
    ----------
    statics (derived; sources-structure section 3).
    """
    contact = np.asarray(contact_m, np.float64)
    free = cantilever_movement_m(pulls_n, heights_m, contact, bending_stiffness_n_m2)
    own = contact**3 / (3.0 * np.asarray(bending_stiffness_n_m2, np.float64))
    thrust = free / (own + np.asarray(brace_m_n, np.float64))
    pull, moment = resultant_at_grade(pulls_n, heights_m)
    return ClampedForces(
        diagonal_from_thrust(thrust, pull, contact, reach_m), np.asarray(moment - thrust * contact)
    )


def soil_braced(
    pulls_n: ArrayLike,
    heights_m: ArrayLike,
    contact_m: ArrayLike,
    reach_m: ArrayLike,
    bending_stiffness_n_m2: ArrayLike,
    brace_m_n: ArrayLike,
    soil: SoilFoot,
) -> ClampedForces:
    """Forces of a diagonal brace on an upright whose stiff foot stands in yielding soil.

    Parameters
    ----------
    pulls_n, heights_m, contact_m, reach_m, bending_stiffness_n_m2, brace_m_n
        As for `clamped_brace`, heights above grade.
    soil : SoilFoot
        Depth of the foot, and the growth of the soil's stiffness.

    Returns
    -------
    ClampedForces
        Foot moment and level reaction at grade: what the soil carries, for `rigid_post` and `embedment`.

    Notes
    -----
    As `clamped_brace`, with the soil's movement at the contact added to the free movement and to the
    flexibility. Very stiff soil is a clamp; very soft soil turns about 2/3 to 3/4 of the depth.
    """
    contact = np.asarray(contact_m, np.float64)
    pull, moment = resultant_at_grade(pulls_n, heights_m)
    free = cantilever_movement_m(pulls_n, heights_m, contact, bending_stiffness_n_m2)
    free = free + movement_at_height_m(pull, moment, soil.depth_m, soil.subgrade_n_m3, contact)
    own = contact**3 / (3.0 * np.asarray(bending_stiffness_n_m2, np.float64))
    own = own + movement_at_height_m(1.0, contact, soil.depth_m, soil.subgrade_n_m3, contact)
    thrust = free / (own + np.asarray(brace_m_n, np.float64))
    brace = diagonal_from_thrust(thrust, pull, contact, reach_m)
    return ClampedForces(brace, np.asarray(moment - thrust * contact))


def lean_rad(movement_m: ArrayLike, contact_m: ArrayLike, pivot_depth_m: ArrayLike = 0.0) -> Floats:
    """Lean of a stiff upright that has moved at the brace and turned about its pivot, small angles. [rad]

    Notes
    -----
    Movement at any height is the lean times its height above the pivot. Set leaning away by as much, the
    post is plumb under load.
    """
    arm = np.asarray(contact_m, np.float64) + np.asarray(pivot_depth_m, np.float64)
    return np.asarray(np.asarray(movement_m, np.float64) / arm)


def corner_movement_m(
    force_n: ArrayLike,
    first_rad: ArrayLike,
    second_rad: ArrayLike,
    first_m_n: ArrayLike,
    second_m_n: ArrayLike,
) -> Floats:
    """Movement of a corner post at the height of its two braces, as east and north.

    Parameters
    ----------
    force_n : array (..., 2)
        Level force to be held at that height, east and north. [N]
    first_rad, second_rad : array (...)
        Directions from the post to the two feet, not on one straight line. [rad]
    first_m_n, second_m_n : array (...)
        Flexibilities of the two braces along their own lines. [m/N]

    Returns
    -------
    float array (..., 2)
        [m]

    Notes
    -----
    (u1 u1' / f1 + u2 u2' / f2) d = F, solved in closed form. Like braces under a force on the bisector
    move it by f F / (2 cos^2 a), a being half the angle between the two lines.
    """
    force = np.asarray(force_n, np.float64)
    one, two = np.asarray(first_rad, np.float64), np.asarray(second_rad, np.float64)
    soft, other = 1.0 / np.asarray(first_m_n, np.float64), 1.0 / np.asarray(second_m_n, np.float64)
    east = soft * np.cos(one) ** 2 + other * np.cos(two) ** 2
    north = soft * np.sin(one) ** 2 + other * np.sin(two) ** 2
    mixed = soft * np.cos(one) * np.sin(one) + other * np.cos(two) * np.sin(two)
    scale = soft * other * np.sin(two - one) ** 2
    x = (north * force[..., 0] - mixed * force[..., 1]) / scale
    y = (east * force[..., 1] - mixed * force[..., 0]) / scale
    return np.stack(np.broadcast_arrays(x, y), axis=-1)
