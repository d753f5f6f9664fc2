"""Running chainage: stations of all lines on one axis, and the length along the ground up to each."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.geometry.polyline import with_closing
from fencewright.tables.fence import FenceLine, Layout, Spans

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_APART_M = 1.0  # lines stand this far apart on the common axis, so that none reads its neighbour's numbers


@dataclass(frozen=True, slots=True, eq=False)
class Axis:
    """All lines one after the other: an axis on which a station of any line is one number.

    `start_m` (lines,) where each line begins on it [m]; `length_m` (lines,); `is_closed` (lines,); `at_m`, `x_m`,
    `y_m` (points,) of the lines' points, a closed line's first once more at its end [m]; `heading_rad` (points,) of
    the leg after each [rad].
    """

    start_m: Floats
    length_m: Floats
    is_closed: NDArray[np.bool_]
    at_m: Floats
    x_m: Floats
    y_m: Floats
    heading_rad: Floats

    def key_m(self, line_index: Ints, station_m: Floats) -> Floats:
        """Place of stations on the axis. [m]"""
        return np.asarray(self.start_m[line_index] + station_m)

    def places(self, key_m: Floats) -> Floats:
        """Points of the lines there: (places, 2). [m]"""
        return np.column_stack([np.interp(key_m, self.at_m, self.x_m), np.interp(key_m, self.at_m, self.y_m)])

    def heading(self, key_m: Floats) -> Floats:
        """Direction of the leg there, of the one after at a point. [rad]"""
        row = np.searchsorted(self.at_m, key_m, side="right") - 1
        return np.asarray(self.heading_rad[np.clip(row, 0, len(self.at_m) - 1)])


def lay_axis(lines: tuple[FenceLine, ...]) -> Axis:
    """Put all lines on one axis: O(points)."""
    length = np.array([line.length_m for line in lines])
    start = np.concatenate([[0.0], np.cumsum(length + _APART_M)])[:-1]
    rings = [with_closing(line.xy_m, line.is_closed) for line in lines]
    at = np.concatenate([line.station_m + begin for line, begin in zip(lines, start.tolist(), strict=True)])
    points = np.concatenate(rings)
    step = np.diff(points, axis=0, append=points[-1:])
    heading = np.arctan2(step[:, 1], step[:, 0])
    last = np.cumsum([len(ring) for ring in rings]) - 1
    heading[last] = heading[last - 1]
    closed = np.array([line.is_closed for line in lines], bool)
    return Axis(start, length, closed, at, points[:, 0], points[:, 1], heading)


@dataclass(frozen=True, slots=True, eq=False)
class Chainage:
    """Length along the ground from each line's station 0: `at_m`, `slope_m` (samples,) on the axis. [m]"""

    axis: Axis
    at_m: Floats
    slope_m: Floats

    def slope_at(self, line_index: Ints, station_m: Floats) -> Floats:
        """Chainage of a tape laid on the ground, at stations. [m]"""
        return np.asarray(np.interp(self.axis.key_m(line_index, station_m), self.at_m, self.slope_m))


def lay_chainage(axis: Axis, layout: Layout) -> Chainage:
    """Measure along the ground of every line.

    Parameters
    ----------
    axis : Axis
        The lines.
    layout : Layout
        Spans, ground at posts and between them.

    Returns
    -------
    Chainage
        A tape laid on the ground along the line, past the line posts that stand beside it; the ground runs straight
        between its samples, and from the last sample of a closed line to its first.

    Notes
    -----
    L = sum of sqrt(ds^2 + dz^2). Samples of a line come nearly in order, which the stable sort takes in linear time.
    """
    at, ground = _samples(axis, layout)
    order = np.argsort(at, kind="stable")
    at, ground = at[order], ground[order]
    seam_at, seam_ground = _seams(axis, at, ground)
    at, ground = np.concatenate([at, seam_at]), np.concatenate([ground, seam_ground])
    order = np.argsort(at, kind="stable")
    at, ground = at[order], ground[order]
    line = np.searchsorted(axis.start_m, at + 1e-9, side="right") - 1
    step = np.where(np.diff(line) == 0, np.hypot(np.diff(at), np.diff(ground)), 0.0)
    slope = np.concatenate([[0.0], np.cumsum(step)])
    first = np.searchsorted(line, np.arange(len(axis.start_m)), side="left")
    return Chainage(axis, at, slope - slope[np.clip(first, 0, len(slope) - 1)][line])


def _along(axis: Axis, spans: Spans) -> Floats:
    """Length of each span along its line; one that wraps goes past the line's end. [m]"""
    along = spans.to_station_m - spans.from_station_m
    return np.where(along > 0, along, along + axis.length_m[spans.line_index])


def _samples(axis: Axis, layout: Layout) -> tuple[Floats, Floats]:
    """Places on the axis and ground there: fixed posts, and the samples between posts."""
    spans, posts, profile = layout.spans, layout.posts, layout.profile
    span = np.repeat(np.arange(len(spans)), np.diff(profile.start))
    length = axis.length_m[spans.line_index]
    between = spans.from_station_m[span] + profile.fraction * _along(axis, spans)[span]
    between = np.where(axis.is_closed[spans.line_index[span]], np.mod(between, length[span]), between)
    # a line post stands beside the line, on other ground: the tape passes it by
    near, far = np.flatnonzero(posts.is_fixed[spans.from_post]), np.flatnonzero(posts.is_fixed[spans.to_post])
    line = np.concatenate([spans.line_index[near], spans.line_index[far], spans.line_index[span]])
    station = np.concatenate([spans.from_station_m[near], spans.to_station_m[far], between])
    ground = [posts.ground_m[spans.from_post[near]], posts.ground_m[spans.to_post[far]], profile.ground_m]
    return axis.key_m(line, station), np.concatenate(ground)


def _seams(axis: Axis, at: Floats, ground: Floats) -> tuple[Floats, Floats]:
    """Station 0 and the full length of each closed line, with the ground there, where no sample may stand."""
    first = np.searchsorted(at, axis.start_m - 1e-9, side="left")
    last = np.searchsorted(at, axis.start_m + axis.length_m + 1e-9, side="right") - 1
    ring = np.flatnonzero(axis.is_closed & (last >= first))
    first, last = first[ring], last[ring]
    before = axis.start_m[ring] + axis.length_m[ring] - at[last]
    after = at[first] - axis.start_m[ring]
    gap = before + after
    share = np.divide(before, gap, out=np.zeros_like(gap), where=gap > 0)
    seam = ground[last] + share * (ground[first] - ground[last])
    start = axis.start_m[ring]
    return np.concatenate([start, start + axis.length_m[ring]]), np.concatenate([seam, seam])
