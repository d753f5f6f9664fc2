"""Forces in end assemblies that statics alone decides: pinned feet, straight members, level pulls.

Pulls come as one force and one moment at grade (`resultant.resultant_at_grade`). The forces of a clamped
foot and the movement of an assembly are in `brace_stiffness`.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class DiagonalForces:
    """Forces of an upright held by a diagonal brace on the side it is pulled to.

    Attributes
    ----------
    thrust_n : float array
        Level force between brace and upright, against the pull when positive; negative: the brace is loose. [N]
    axial_n : float array
        Compression along the brace. [N]
    uplift_n : float array
        By which the brace lifts the upright, and presses its own footing down. [N]
    pivot_n : float array
        Level reaction at the pivot against the pull; negative: the foot kicks away from the pull. [N]
    """

    thrust_n: Floats
    axial_n: Floats
    uplift_n: Floats
    pivot_n: Floats

    @property
    def footing_push_n(self) -> Floats:
        """Level force of the brace on its footing, the way of the pull. [N]"""
        return self.thrust_n

    @property
    def footing_down_n(self) -> Floats:
        """Downward force of the brace on its footing. [N]"""
        return self.uplift_n


def diagonal_brace(
    pull_n: ArrayLike,
    moment_n_m: ArrayLike,
    contact_m: ArrayLike,
    reach_m: ArrayLike,
    pivot_depth_m: ArrayLike = 0.0,
) -> DiagonalForces:
    """Forces of a diagonal compression brace, its footing on the pull side at grade.

    Parameters
    ----------
    pull_n, moment_n_m : array
        Sum of the pulls and of their moments at grade. [N], [N m]
    contact_m : array
        Height at which the brace meets the upright, above 0. [m]
    reach_m : array
        Level distance from the upright to the brace's foot, above 0. [m]
    pivot_depth_m : array
        Depth of the point about which the upright turns; 0 for one at grade. [m]

    Returns
    -------
    DiagonalForces
        Shapes broadcast.

    Notes
    -----
    T = sum P (h + z0) / (hb + z0), axial T L / a, uplift T hb / a. With z0 = 0 the uplift is sum(P h) / a,
    wherever the brace meets the post. Soil that resists the turning is left out, on the safe side.

    References
    ----------
    statics (derived; sources-structure section 3).
    """
    contact, reach = np.asarray(contact_m, np.float64), np.asarray(reach_m, np.float64)
    pull, below = np.asarray(pull_n, np.float64), np.asarray(pivot_depth_m, np.float64)
    thrust = (np.asarray(moment_n_m, np.float64) + pull * below) / (contact + below)
    return diagonal_from_thrust(thrust, pull, contact, reach)


def diagonal_from_thrust(
    thrust_n: ArrayLike, pull_n: ArrayLike, contact_m: ArrayLike, reach_m: ArrayLike
) -> DiagonalForces:
    """Forces of a diagonal brace whose level thrust is known already, from statics or from stiffness."""
    thrust, contact = np.asarray(thrust_n, np.float64), np.asarray(contact_m, np.float64)
    reach = np.asarray(reach_m, np.float64)
    axial = thrust * np.hypot(reach, contact) / reach
    pivot = np.asarray(pull_n, np.float64) - thrust
    return DiagonalForces(thrust, np.asarray(axial), np.asarray(thrust * contact / reach), np.asarray(pivot))


@dataclass(frozen=True, slots=True)
class TiedForces:
    """Forces of a horizontal brace between two posts with a diagonal tie to the end post's foot.

    Attributes
    ----------
    rail_n : float array
        Compression in the horizontal brace. [N]
    tie_n : float array
        Tension in the diagonal wire. [N]
    uplift_n : float array
        On the foot of the end post, and the downward push on the next post. [N]
    foot_n : float array
        Level force that the soil at the end post's foot takes against the pull. [N]
    """

    rail_n: Floats
    tie_n: Floats
    uplift_n: Floats
    foot_n: Floats


def tied_brace(
    pull_n: ArrayLike,
    moment_n_m: ArrayLike,
    rail_height_m: ArrayLike,
    bay_m: ArrayLike,
    tie_share: ArrayLike = 1.0,
) -> TiedForces:
    """Forces of a horizontal brace with a diagonal tie, both feet pinned at grade.

    Parameters
    ----------
    pull_n, moment_n_m : array
        Sum of the pulls on the end post and of their moments at grade. [N], [N m]
    rail_height_m : array
        Of the horizontal brace and of the tie's upper end, above 0. [m]
    bay_m : array
        Between the two posts, above 0. [m]
    tie_share : array
        Part of the horizontal brace's force that this bay's tie takes; below 1 where a second bay helps. [-]

    Returns
    -------
    TiedForces
        With the share of 1 the end post's foot takes the whole pull, however long the bay.

    Notes
    -----
    C = sum(P h) / hr; tie C sqrt(s^2 + hr^2) / s; uplift C hr / s, of the share. A longer bay lowers uplift
    and tie. Soil that resists the turning of the posts is left out, on the safe side.

    References
    ----------
    statics (derived; sources-structure section 3, sources-fence section D).
    """
    height, bay = np.asarray(rail_height_m, np.float64), np.asarray(bay_m, np.float64)
    rail = np.asarray(moment_n_m, np.float64) / height
    held = rail * np.asarray(tie_share, np.float64)
    tie = held * np.hypot(height, bay) / bay
    foot = np.asarray(pull_n, np.float64) - rail + held
    return TiedForces(rail, np.asarray(tie), np.asarray(held * height / bay), np.asarray(foot))


def tied_two_bays(
    pull_n: ArrayLike,
    moment_n_m: ArrayLike,
    rail_height_m: ArrayLike,
    bay_m: ArrayLike,
    first_share: ArrayLike,
) -> tuple[TiedForces, TiedForces]:
    """Forces of two like bays in a row, each with its horizontal brace and diagonal tie.

    Parameters
    ----------
    pull_n, moment_n_m, rail_height_m, bay_m
        As for `tied_brace`.
    first_share : array
        Part that the first bay's tie takes, 0 to 1; `brace_stiffness.first_bay_share`. [-]

    Returns
    -------
    first, second : TiedForces
        The second bay's foot is the middle post's. The middle post is pushed down by the first uplift
        and lifted by the second.
    """
    height = np.asarray(rail_height_m, np.float64)
    first = tied_brace(pull_n, moment_n_m, height, bay_m, first_share)
    passed = first.rail_n * (1.0 - np.asarray(first_share, np.float64))
    return first, tied_brace(passed, passed * height, height, bay_m)


def corner_thrusts_n(
    force_n: ArrayLike, first_rad: ArrayLike, second_rad: ArrayLike
) -> tuple[Floats, Floats]:
    """Level thrusts of two braces, one in each fence line, that together hold a level force on a corner post.

    Parameters
    ----------
    force_n : array (..., 2)
        East and north part of the force to be held at the height of the braces: (M + P z0) / (hb + z0). [N]
    first_rad, second_rad : array (...)
        Directions from the post along the two lines, where the brace feet lie, counter-clockwise from
        east. They must not be opposite or the same: those are one brace each, see Raises. [rad]

    Returns
    -------
    first_n, second_n : float arrays (...)
        Negative: that brace, which can only push, is loose, and soil must hold that part. [N]

    Raises
    ------
    ValueError
        Both directions lie on one straight line.

    Notes
    -----
    force = first u1 + second u2. Where both lines pull alike the force lies on the bisector, each brace takes
    its own line's share, and the upright is lifted by both: twice the uplift of an end.
    """
    force = np.asarray(force_n, np.float64)
    one, two = np.asarray(first_rad, np.float64), np.asarray(second_rad, np.float64)
    crossing = np.sin(two - one)
    if np.any(np.abs(crossing) < 1e-9):
        raise ValueError("two braces on one straight line cannot share a force: treat each by itself")
    first = (force[..., 0] * np.sin(two) - force[..., 1] * np.cos(two)) / crossing
    second = (force[..., 1] * np.cos(one) - force[..., 0] * np.sin(one)) / crossing
    return np.asarray(first), np.asarray(second)
