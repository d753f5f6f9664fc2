"""String-line pegs past corners and ends, clear of what lies in the way."""

import numpy as np
import shapely
from numpy.typing import NDArray

from fencewright.job.record import Job
from fencewright.site.clearances import kept_out_shape
from fencewright.stakeout.chainage import Axis
from fencewright.stakeout.checks import Corners, posts_at
from fencewright.tables.fence import Layout
from fencewright.tables.stake_out import Pegs

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

_STEP = 0.25  # a peg in the way is moved in steps of this share of its distance ...
_OUTWARD, _INWARD = 16, 3  # ... this many outward, then inward, at most


def set_pegs(job: Job, layout: Layout, axis: Axis, corners: Corners, left_of_reference_m: Floats) -> Pegs:
    """Set a peg beyond each end of each leg.

    Parameters
    ----------
    job : Job
        Obstacles and the pegs' distance.
    layout : Layout
        Posts, whose strings the pegs hold.
    axis : Axis
        The lines.
    corners : Corners
        Ends and turning points.
    left_of_reference_m : float array (posts,)
        Post centres left of the line through the fixed posts' centres. [m]

    Returns
    -------
    Pegs
        On the extension of the string at the rail's face, outward first where something is in the way. Overhead
        lines hold off no peg; a buried service does, as a driven peg can strike it. O(corners + posts).
    """
    has_back, has_ahead = np.isfinite(corners.ahead_m), np.isfinite(corners.back_m)
    row = np.concatenate([np.flatnonzero(has_ahead), np.flatnonzero(has_back)])
    ahead = np.arange(len(row)) < int(has_ahead.sum())
    order = np.lexsort((ahead, row))
    row, ahead = row[order], ahead[order]
    heading = np.where(ahead, corners.into_rad[row], corners.out_rad[row] + np.pi)
    string = _string_left(layout, axis, corners, row, ahead, left_of_reference_m)
    normal = heading + np.where(ahead, 0.5, -0.5) * np.pi
    x0 = corners.x_m[row] + np.cos(normal) * string
    y0 = corners.y_m[row] + np.sin(normal) * string
    usual = job.settings.stake_out.peg_beyond_m
    beyond, clear = _clear_distance(job, x0, y0, heading, usual)
    line, station = corners.line_index[row], corners.station_m[row]
    return Pegs(
        line, station, posts_at(layout, axis, line, station), ahead, x0 + np.cos(heading) * beyond,
        y0 + np.sin(heading) * beyond, beyond, string, beyond != usual, clear,
    )  # fmt: skip


def _string_left(
    layout: Layout, axis: Axis, corners: Corners, row: Ints, ahead: Flags, left_m: Floats
) -> Floats:
    """String left of the line at each peg's leg: that of the leg's nearest line post, else of the corner's. [m]"""
    posts = layout.posts
    string = left_m - posts.offset_m
    line, station = corners.line_index[row], corners.station_m[row]
    at_corner = posts_at(layout, axis, line, station)
    own = np.where(at_corner >= 0, string[np.maximum(at_corner, 0)], 0.0)
    stands = np.flatnonzero(~posts.is_fixed & ~posts.is_built)
    if not len(stands):
        return own
    key = axis.key_m(posts.line_index[stands], posts.station_m[stands])
    length, closed = axis.length_m[line], axis.is_closed[line]
    at = np.where(ahead & closed & (station <= 0), station + length, station)
    after = np.searchsorted(key, axis.key_m(line, at))
    near = np.clip(np.where(ahead, after - 1, after), 0, len(stands) - 1)
    post = stands[near]
    way = np.where(ahead, at - posts.station_m[post], posts.station_m[post] - at)
    reach = np.where(ahead, corners.back_m[row], corners.ahead_m[row])
    in_leg = (posts.line_index[post] == line) & (way > 0) & (way < reach)
    return np.asarray(np.where(in_leg, string[post], own))


def _clear_distance(job: Job, x0: Floats, y0: Floats, heading: Floats, usual: float) -> tuple[Floats, Flags]:
    """Distance of each peg past its corner, and whether it stands clear there. [m]"""
    beyond, clear = np.full(len(x0), usual), np.ones(len(x0), bool)
    barred = [kept_out_shape(one, 0.0) for one in job.site.obstacles if not one.is_overhead]
    if not barred or not len(x0):
        return beyond, clear
    area = shapely.union_all(barred)
    shapely.prepare(area)
    clear = ~shapely.intersects_xy(area, x0 + np.cos(heading) * usual, y0 + np.sin(heading) * usual)
    hit = np.flatnonzero(~clear)
    steps = np.concatenate([np.arange(1, _OUTWARD + 1), -np.arange(1, _INWARD + 1)])
    tried = usual * (1 + _STEP * steps)
    x = x0[hit, None] + np.cos(heading[hit, None]) * tried
    y = y0[hit, None] + np.sin(heading[hit, None]) * tried
    free = ~shapely.intersects_xy(area, x, y)
    found = free.any(axis=1)
    beyond[hit[found]] = tried[np.argmax(free[found], axis=1)]
    clear[hit[found]] = True
    return beyond, clear
