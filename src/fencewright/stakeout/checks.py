"""Checks that a tape makes: each corner's triangle, 3-4-5 where it is right, and diagonals of four-sided lines."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.geometry.polyline import headings, stations, turnings
from fencewright.job.record import Job
from fencewright.job.stake_out_settings import StakeOutSettings
from fencewright.stakeout.chainage import Axis
from fencewright.tables.fence import FenceLine, Layout
from fencewright.tables.stake_out import CornerChecks, Diagonals

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_SAME_M = 0.005  # a post this near to a corner's station stands there


@dataclass(frozen=True, slots=True, eq=False)
class Corners:
    """Points where the lines turn, and their ends, line after line: (corners,) each.

    `line_index`; `station_m`; `x_m`, `y_m` [m]; `turning_rad`, 0 at an end; `into_rad`, `out_rad` headings of the legs
    before and after; `back_m`, `ahead_m` length of those legs, NaN where none.
    """

    line_index: Ints
    station_m: Floats
    x_m: Floats
    y_m: Floats
    turning_rad: Floats
    into_rad: Floats
    out_rad: Floats
    back_m: Floats
    ahead_m: Floats


def find_corners(lines: tuple[FenceLine, ...], straight_rad: float) -> Corners:
    """List the ends and the points that turn by `straight_rad` or more: O(points)."""
    parts = [_line_corners(index, line, straight_rad) for index, line in enumerate(lines)]
    return Corners(*(np.concatenate([part[k] for part in parts]) for k in range(9)))


def _line_corners(index: int, line: FenceLine, straight_rad: float) -> list[NDArray[np.generic]]:
    turning = turnings(line.xy_m, line.is_closed)
    heading = headings(line.xy_m, line.is_closed)
    count = len(line.xy_m)
    is_corner = np.abs(turning) >= straight_rad
    if not line.is_closed:
        is_corner[[0, -1]] = True
    rows = np.flatnonzero(is_corner)
    station = stations(line.xy_m, line.is_closed)[:count][rows]
    step = np.diff(station)
    if line.is_closed:
        around = np.append(step, line.length_m - step.sum())[: len(rows)]
        back, ahead = np.roll(around, 1), around
    else:
        back, ahead = np.concatenate([[np.nan], step]), np.concatenate([step, [np.nan]])
    into = heading[rows - 1]
    out = heading[np.minimum(rows, len(heading) - 1)]
    if not line.is_closed:
        into[0] = out[0]
    return [
        np.full(len(rows), index), station, line.xy_m[rows, 0], line.xy_m[rows, 1], turning[rows], into, out, back,
        ahead,
    ]  # fmt: skip


def posts_at(layout: Layout, axis: Axis, line_index: Ints, station_m: Floats) -> Ints:
    """Post at each place of a line, -1 where none; one that lines share is found on each of them."""
    posts, visits = layout.posts, layout.visits
    key = axis.key_m(
        np.concatenate([posts.line_index, visits.line_index]),
        np.concatenate([posts.station_m, visits.station_m]),
    )
    row = np.concatenate([np.arange(len(posts)), visits.post_index])
    order = np.argsort(key, kind="stable")
    key, row = key[order], row[order]
    wanted = axis.key_m(line_index, station_m)
    at = np.clip(np.searchsorted(key, wanted - _SAME_M), 0, len(key) - 1)
    return np.asarray(np.where(np.abs(key[at] - wanted) <= _SAME_M, row[at], -1), np.int64)


def tape_sd_m(length_m: Floats, settings: StakeOutSettings) -> Floats:
    """Standard deviation of one taped length: sqrt(fixed part^2 + (share of the length)^2). [m]"""
    return np.asarray(np.hypot(settings.tape_sd_m, settings.tape_share * length_m))


def check_corners(job: Job, layout: Layout, axis: Axis, corners: Corners) -> CornerChecks:
    """Lengths that prove the angle of each corner.

    Returns
    -------
    CornerChecks
        Of each point that turns by the corner angle or more. A right one is proven by 3-4-5, another by two equal
        sides; sides are whole feet or half metres where the legs are long enough.

    Notes
    -----
    With a, b along the legs and g between them, c^2 = a^2 + b^2 - 2 a b cos g. Errors of the three tapes turn the leg by

        dg = (c dc - (a - b cos g) da - (b - a cos g) db) / (a b sin g).

    References
    ----------
    .. [1] error-propagation; the 3-4-5 figure is derived there
    """
    settings = job.settings.stake_out
    rows = np.flatnonzero(np.abs(corners.turning_rad) >= job.settings.layout.corner_angle_rad)
    turning = corners.turning_rad[rows]
    angle = np.pi - np.abs(turning)
    back_leg, ahead_leg = corners.back_m[rows], corners.ahead_m[rows]
    is_right = np.abs(angle - np.pi / 2) <= settings.right_angle_rad
    fifth = np.minimum(settings.check_leg_m / 5, np.minimum(back_leg / 3, ahead_leg / 4))
    fifth = _whole(fifth, settings.sheet_unit_m)
    equal = np.minimum(settings.check_leg_m, np.minimum(back_leg, ahead_leg))
    equal = _whole(equal, settings.sheet_unit_m)
    a, b = np.where(is_right, 3 * fifth, equal), np.where(is_right, 4 * fifth, equal)
    cosine, sine = np.cos(angle), np.maximum(np.sin(angle), 1e-9)
    c = np.sqrt((a - b) ** 2 + 2 * a * b * (1 - cosine))
    parts = (
        c * tape_sd_m(c, settings),
        (a - b * cosine) * tape_sd_m(a, settings),
        (b - a * cosine) * tape_sd_m(b, settings),
    )
    sd = np.sqrt(sum(part**2 for part in parts)) / (a * b * sine)
    line, station = corners.line_index[rows], corners.station_m[rows]
    return CornerChecks(
        line, station, posts_at(layout, axis, line, station), angle, is_right, a, b, c, sd, sd * ahead_leg
    )


def _whole(length_m: Floats, unit_m: float) -> Floats:
    """Round down to whole units where at least one fits. [m]"""
    count = np.floor(length_m / unit_m + 1e-9)
    return np.asarray(np.where(count >= 1, count * unit_m, length_m), np.float64)


def find_diagonals(job: Job, layout: Layout, axis: Axis, corners: Corners) -> Diagonals:
    """Both diagonals of each closed line of four corners.

    Returns
    -------
    Diagonals
        Between the corners' centres: level, and as a tape lies from ground to ground.
    """
    closed = np.array([line.is_closed for line in layout.lines], bool)
    count = np.bincount(corners.line_index, minlength=len(layout.lines))
    first = np.concatenate([[0], np.cumsum(count)])[:-1]
    own = first[np.flatnonzero(closed & (count == 4))]
    a = np.column_stack([own, own + 1]).ravel()
    b = a + 2
    ground = np.asarray(job.site.ground.elevation_m(corners.x_m.copy(), corners.y_m.copy()), np.float64)
    length = np.hypot(corners.x_m[b] - corners.x_m[a], corners.y_m[b] - corners.y_m[a])
    line = corners.line_index[a]
    return Diagonals(
        line, corners.station_m[a], corners.station_m[b], posts_at(layout, axis, line, corners.station_m[a]),
        posts_at(layout, axis, line, corners.station_m[b]), length, np.hypot(length, ground[b] - ground[a]),
    )  # fmt: skip
