"""A polyline as an array of points: station, heading, turning, places along it, offset, straightening."""

import numpy as np
import shapely
from numpy.typing import NDArray

from fencewright.geometry.shapes import leg_shapes, line_shape, search_tree

Floats = NDArray[np.float64]


def with_closing(xy_m: Floats, is_closed: bool) -> Floats:
    """Repeat the first point at the end of a closed polyline: (points, 2) to (points + 1, 2)."""
    return np.vstack([xy_m, xy_m[:1]]) if is_closed else xy_m


def stations(xy_m: Floats, is_closed: bool = False) -> Floats:
    """Distance along a polyline at each point, and back at the first where it is closed.

    Parameters
    ----------
    xy_m : float array (points, 2)
        At least two points. [m]
    is_closed : bool
        Whether the last point joins the first.

    Returns
    -------
    float array (points,) or (points + 1,) where closed
        From 0, rising. [m]
    """
    steps = np.diff(with_closing(xy_m, is_closed), axis=0)
    return np.concatenate([[0.0], np.cumsum(np.hypot(steps[:, 0], steps[:, 1]))])


def headings(xy_m: Floats, is_closed: bool = False) -> Floats:
    """Direction of each leg, anticlockwise from +x: (legs,). [rad]"""
    steps = np.diff(with_closing(xy_m, is_closed), axis=0)
    return np.arctan2(steps[:, 1], steps[:, 0])


def wrapped(angle_rad: Floats) -> Floats:
    """Bring angles into (-pi, pi]. [rad]"""
    return np.pi - np.mod(np.pi - angle_rad, 2 * np.pi)


def turnings(xy_m: Floats, is_closed: bool = False) -> Floats:
    """Change of direction at each point, left positive; 0 at the ends of an open polyline.

    Returns
    -------
    float array (points,)
        In (-pi, pi]. [rad]
    """
    heading = headings(xy_m, is_closed)
    if is_closed:
        return wrapped(heading - np.roll(heading, 1))
    return np.concatenate([[0.0], wrapped(np.diff(heading)), [0.0]])


def turning_in_space_rad(before_m: Floats, after_m: Floats) -> Floats:
    """Angle between each direction and the next, in space.

    Parameters
    ----------
    before_m, after_m : float array (bends, 3)
        Two vectors at each bend. [m]

    Returns
    -------
    float array (bends,)
        0 to pi. [rad]
    """
    east, north, up = before_m.T
    to_east, to_north, to_up = after_m.T
    across = (north * to_up - up * to_north, up * to_east - east * to_up, east * to_north - north * to_east)
    sine = np.sqrt(across[0] ** 2 + across[1] ** 2 + across[2] ** 2)
    return np.asarray(np.arctan2(sine, east * to_east + north * to_north + up * to_up))


def places(xy_m: Floats, station_m: Floats, at_m: Floats) -> Floats:
    """Points at stations along a polyline.

    Parameters
    ----------
    xy_m : float array (points, 2)
        With the first point repeated where closed. [m]
    station_m : float array (points,)
        From `stations`. [m]
    at_m : float array (places,)
        Held to the polyline's own range. [m]

    Returns
    -------
    float array (places, 2)
        [m]
    """
    return np.column_stack([np.interp(at_m, station_m, xy_m[:, 0]), np.interp(at_m, station_m, xy_m[:, 1])])


def leg_at(station_m: Floats, at_m: Floats, *, before: bool = False) -> NDArray[np.int64]:
    """Leg on which each station falls; at a point the leg after it, or `before` it."""
    row = (
        np.searchsorted(station_m, at_m, side="left")
        if before
        else np.searchsorted(station_m, at_m, side="right")
    )
    return np.asarray(np.clip(row - 1, 0, len(station_m) - 2), np.int64)


def nearest_station(xy_m: Floats, station_m: Floats, point_m: Floats) -> tuple[float, float]:
    """Station nearest a point, and its distance: O(points). [m], [m]"""
    start, step = xy_m[:-1], np.diff(xy_m, axis=0)
    length2 = np.maximum((step**2).sum(axis=1), 1e-300)
    share = np.clip(((point_m - start) * step).sum(axis=1) / length2, 0.0, 1.0)
    away = np.hypot(*(start + share[:, None] * step - point_m).T)
    leg = int(np.argmin(away))
    return float(station_m[leg] + share[leg] * (station_m[leg + 1] - station_m[leg])), float(away[leg])


def offset_points(xy_m: Floats, is_closed: bool, left_m: float) -> Floats:
    """Move a polyline sideways, point by point, mitred: (points, 2), left positive. [m]

    Notes
    -----
    A point that turns by t moves along the bisector by left / cos(t/2); sharper turns than 150 degrees are
    held there, so that a hairpin does not run away.
    """
    heading = headings(xy_m, is_closed)
    half = turnings(xy_m, is_closed) / 2
    into = np.roll(heading, 1) if is_closed else np.concatenate([heading[:1], heading])
    middle = into + half
    reach = left_m / np.maximum(np.cos(half), np.cos(np.deg2rad(75.0)))
    return xy_m + np.column_stack([-np.sin(middle), np.cos(middle)]) * reach[:, None]


def straightened(xy_m: Floats, is_closed: bool, tolerance_m: float) -> Floats:
    """Leave out points nearer than a tolerance to the line without them (Douglas and Peucker 1973)."""
    if tolerance_m <= 0 or len(xy_m) < 3:
        return xy_m
    if is_closed:
        far = int(np.argmax(np.hypot(*(xy_m - xy_m[0]).T)))
        first = straightened(xy_m[: far + 1], False, tolerance_m)
        second = straightened(np.vstack([xy_m[far:], xy_m[:1]]), False, tolerance_m)
        return np.vstack([first[:-1], second[:-1]])
    line = line_shape(xy_m).simplify(tolerance_m, preserve_topology=False)
    return np.asarray(shapely.get_coordinates(line), np.float64)


def signed_area(xy_m: Floats) -> float:
    """Area inside a closed polyline, anticlockwise positive. [m2]"""
    moved = xy_m - xy_m[0]
    ahead = np.roll(moved, -1, axis=0)
    return float(np.sum(moved[:, 0] * ahead[:, 1] - ahead[:, 0] * moved[:, 1]) / 2)


def self_crossing(xy_m: Floats, is_closed: bool) -> Floats | None:
    """A place where a polyline crosses or touches itself, or None. [m]

    Notes
    -----
    Whether it is simple is asked of GEOS in O(n log n); only then is the place sought, leg against leg through a
    search tree.
    """
    if line_shape(with_closing(xy_m, is_closed)).is_simple:
        return None
    ends = with_closing(xy_m, is_closed)
    legs = leg_shapes(ends[:-1], ends[1:])
    first, second = search_tree(legs).query(list(legs), predicate="intersects")
    count = len(legs)
    apart = second - first
    keep = (apart > 1) & ~(is_closed & (apart == count - 1))
    if not keep.any():
        keep = apart == 1
    for one, other in zip(first[keep], second[keep], strict=True):
        shared = shapely.intersection(legs[one], legs[other])
        points = shapely.get_coordinates(shared)
        if len(points) and (other - one > 1 or len(points) > 1):
            return np.asarray(points[0], np.float64)
    return np.asarray(ends[0], np.float64)
