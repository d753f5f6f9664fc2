"""Stakes of posts and brace feet: where each hole's centre is, and how far off the line and from its neighbour."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.geometry.polyline import headings, nearest_station, stations, with_closing
from fencewright.job.record import Job
from fencewright.stakeout.chainage import Axis
from fencewright.tables.fence import FenceLine, Layout

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Marks:
    """Stakes before they have chainage and ties; columns as of `Stakes`, and `reference_left_m` of the line
    through the fixed posts' centres. [m]
    """  # noqa: D205

    post_index: Ints
    brace_index: Ints
    line_index: Ints
    station_m: Floats
    x_m: Floats
    y_m: Floats
    ground_m: Floats
    ground_sd_m: Floats
    reference_left_m: Floats
    left_of_line_m: Floats
    left_of_string_m: Floats
    from_previous_m: Floats
    slope_from_previous_m: Floats

    def __len__(self) -> int:
        """Number of stakes."""
        return len(self.station_m)


def mark_stakes(job: Job, layout: Layout, axis: Axis) -> Marks:
    """Gather the stakes: all posts, then the feet of diagonal braces.

    Parameters
    ----------
    job : Job
        The lines as drawn.
    layout : Layout
        Posts, spans, braces.
    axis : Axis
        The lines through the fixed posts' centres.

    Returns
    -------
    Marks
        Offsets are square to the line; at a turn along the bisector of both legs. O(posts + points).
    """
    posts, braces = layout.posts, layout.braces
    feet = np.flatnonzero(~braces.is_horizontal)
    post = np.concatenate([np.arange(len(posts)), braces.post_index[feet]])
    line = np.concatenate([posts.line_index, braces.line_index[feet]])
    station = np.concatenate([posts.station_m, braces.station_m[feet]])
    x = np.concatenate([posts.x_m, braces.x_m[feet]])
    y = np.concatenate([posts.y_m, braces.y_m[feet]])
    key = axis.key_m(line, station)
    heading = np.concatenate([posts.heading_rad, axis.heading(key[len(posts) :])])
    base = axis.places(key)
    left = -np.sin(heading) * (x - base[:, 0]) + np.cos(heading) * (y - base[:, 1])
    string = np.concatenate(
        [posts.offset_m, left[len(posts) :] - _string_left(left, layout, braces.post_index[feet])]
    )
    from_line = np.array([_reference_left_m(job, row) for row in zip_lines(job, layout.lines)])
    level, slope = _from_previous(layout, feet)
    ground_sd = np.concatenate([posts.ground_sd_m, posts.ground_sd_m[braces.post_index[feet]]])
    return Marks(
        post, np.concatenate([np.full(len(posts), -1), feet]), line, station, x, y,
        np.concatenate([posts.ground_m, braces.ground_m[feet]]), ground_sd, left, left + from_line[line], string,
        level, slope,
    )  # fmt: skip


def _string_left(left: Floats, layout: Layout, post: Ints) -> Floats:
    """How far left of the line through the posts' centres the string runs, at posts. [m]"""
    return np.asarray(left[post] - layout.posts.offset_m[post])


def zip_lines(job: Job, lines: tuple[FenceLine, ...]) -> list[tuple[int, FenceLine]]:
    """Row in the job of each line as it is built, with the line itself."""
    row_of = {drawn.name: row for row, drawn in enumerate(job.site.lines)}
    return [(row_of[line.name], line) for line in lines]


def _reference_left_m(job: Job, row: tuple[int, FenceLine]) -> float:
    """How far the line through the fixed posts' centres runs left of the line as drawn. [m]"""
    index, line = row
    if job.asked.line[index].drawn == "post centres":
        return 0.0
    drawn = job.site.lines[index]
    ring = with_closing(drawn.xy_m, drawn.is_closed)
    own = with_closing(line.xy_m, line.is_closed)
    longest = int(np.argmax(np.hypot(*np.diff(own, axis=0).T)))
    middle = (own[longest] + own[longest + 1]) / 2
    at = stations(drawn.xy_m, drawn.is_closed)
    _, away = nearest_station(ring, at, middle)
    heading = float(headings(line.xy_m, line.is_closed)[longest])
    left = np.array([-np.sin(heading), np.cos(heading)]) * away
    # the drawn line lies to one side: the side from which stepping back lands on it
    _, over = nearest_station(ring, at, middle - left)
    _, other = nearest_station(ring, at, middle + left)
    return away if over <= other else -away


def _from_previous(layout: Layout, feet: Ints) -> tuple[Floats, Floats]:
    """Level and on the slope: from the post before along a post's own line; a foot's from its post. [m], [m]"""
    posts, spans, braces = layout.posts, layout.spans, layout.braces
    level, slope = np.full(len(posts), np.nan), np.full(len(posts), np.nan)
    own = np.flatnonzero(spans.line_index == posts.line_index[spans.to_post])
    level[spans.to_post[own]] = spans.length_m[own]
    slope[spans.to_post[own]] = spans.slope_length_m[own]
    post = braces.post_index[feet]
    reach = np.hypot(braces.x_m[feet] - posts.x_m[post], braces.y_m[feet] - posts.y_m[post])
    rise = braces.ground_m[feet] - posts.ground_m[post]
    return np.concatenate([level, reach]), np.concatenate([slope, np.hypot(reach, rise)])
