"""The job's `[[size]]` rows on the posts and braces of a layout, and the holes before anything is sized."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import CAUTION, Finding, InputError, Place
from fencewright.job.record import Job
from fencewright.job.settings import PostSettings
from fencewright.job.size_schema import Size
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import Holes, Layout, Role, Setting
from fencewright.tables.sizes import StatedSizes, no_sizes
from fencewright.takeoff.holes import brace_footings, post_holes

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Ints = NDArray[np.int64]

_NEAR_M = 0.3  # a size given by hand is meant for the post this near; no two stand so close
_SAME_M = 1e-6


def stated_sizes(job: Job, layout: Layout) -> tuple[StatedSizes, list[Finding]]:
    """Find the post or footing of each `[[size]]`.

    Parameters
    ----------
    job : Job
        Its `[[size]]` rows.
    layout : Layout
        Of the whole fence, or of some of its posts: rows that are not there are left out.

    Returns
    -------
    StatedSizes, list of Finding
        `size-without-post` (`caution`) for a row near which nothing stands. Of two rows for one post the later holds.

    Raises
    ------
    InputError
        A depth or width of nothing, a hole no wider than its post, another diameter for a gate's post.

    Notes
    -----
    By line and station, so a size stays with its post when posts before it are added or taken out.
    O(posts + sizes log posts).
    """
    sizes = no_sizes(len(layout.posts), len(layout.braces))
    asked = job.asked.size
    findings: list[Finding] = []
    for part in ("post", "brace"):
        rows = [number for number, one in enumerate(asked) if one.part == part]
        for number, found, away in _matched(layout, asked, rows, part):
            if away > _NEAR_M:
                findings.append(_nothing_there(job, layout, number, found))
            elif part == "post":
                _state_post(job, layout, sizes, number, found)
            else:
                _state_brace(sizes, asked[number], number, found)
    return sizes, findings


def _matched(
    layout: Layout, asked: list[Size], rows: list[int], part: str
) -> Iterator[tuple[int, int, float]]:
    """Each row with the nearest post or footing of its line, -1 without one, and how far away that is. [m]"""
    for index, line in enumerate(layout.lines):
        mine = [number for number in rows if asked[number].line == line.name]
        if not mine:
            continue
        place, station = _places(layout, index, part)
        if not len(place):
            yield from ((number, -1, np.inf) for number in mine)
            continue
        if line.is_closed:
            place = np.concatenate([place[-1:], place, place[:1]])
            station = np.concatenate([station[-1:] - line.length_m, station, station[:1] + line.length_m])
        wanted = np.array([asked[number].at for number in mine])
        after = np.clip(np.searchsorted(station, wanted), 1, max(len(station) - 1, 1))
        before = after - 1
        after = np.minimum(after, len(station) - 1)
        nearer = np.where(wanted - station[before] <= station[after] - wanted, before, after)
        yield from zip(mine, place[nearer].tolist(), np.abs(station[nearer] - wanted).tolist(), strict=True)


def _places(layout: Layout, line: int, part: str) -> tuple[Ints, Floats]:
    """Posts, or footings, of a line and their stations, rising."""
    posts, visits, braces = layout.posts, layout.visits, layout.braces
    if part == "post":
        own, shared = np.flatnonzero(posts.line_index == line), visits.line_index == line
        place = np.concatenate([own, visits.post_index[shared]])
        station = np.concatenate([posts.station_m[own], visits.station_m[shared]])
    else:
        place = np.flatnonzero((braces.line_index == line) & ~braces.is_horizontal)
        station = braces.station_m[place]
    order = np.argsort(station, kind="stable")
    return place[order].astype(np.int64), station[order]


def _nothing_there(job: Job, layout: Layout, number: int, found: int) -> Finding:
    one, show = job.asked.size[number], UnitSystem(job.asked.job.sheets)
    what = "post stands" if one.part == "post" else "brace has its footing"
    message = (
        f"No {what} within {show.small(_NEAR_M)} of station {show.long(one.at)} of line {one.line}: what [[size]] "
        f"{number + 1} states is left out."
    )
    remedy = "Take the row out, or give the station of a post, or of a brace's foot, from posts.csv or stake-out.csv."
    if found >= 0:
        at = layout.posts.station_m[found] if one.part == "post" else layout.braces.station_m[found]
        name = f"{'P' if one.part == 'post' else 'B'}{found + 1}"
        remedy = (
            "Take the row out, or give the station of a post, or of a brace's foot, from posts.csv or stake-out.csv. "
            f"The nearest is {name}, at {show.long(float(at))}."
        )
    return Finding(CAUTION, "size-without-post", Place("line", one.line, one.line, one.at), message, remedy)


def _state_post(job: Job, layout: Layout, sizes: StatedSizes, number: int, row: int) -> None:
    one, posts, holes = job.asked.size[number], layout.posts, job.settings.holes
    item = f"size {number + 1}"
    _refuse_nothing(one, item)
    diameter = float(posts.diameter_m[row]) if one.diameter is None else one.diameter
    is_gate = posts.role[row] == int(Role.GATE)
    if is_gate and abs(diameter - float(posts.diameter_m[row])) > _SAME_M:
        raise InputError(
            "a gate's opening is measured between the faces of its posts, so they keep the diameter of [posts]: set "
            "end_diameter there",
            item=f"{item}, diameter",
        )
    if (holes.auger_m if one.hole is None else one.hole) <= diameter:
        raise InputError("the hole is no wider than the post that stands in it", item=f"{item}, hole")
    for column, value in (
        (sizes.diameter_m, one.diameter),
        (sizes.hole_m, one.hole),
        (sizes.bell_m, one.bell),
        (sizes.depth_m, one.depth),
    ):
        column[row] = np.nan if value is None else value
    sizes.set[row] = -1 if one.set is None else int(Setting[one.set.upper()])


def _state_brace(sizes: StatedSizes, one: Size, number: int, row: int) -> None:
    item = f"size {number + 1}"
    _refuse_nothing(one, item)
    wrong = [key for key in ("diameter", "bell", "set") if getattr(one, key) is not None]
    if wrong:
        raise InputError("the footing of a brace has a depth and a hole alone", item=f"{item}, {wrong[0]}")
    sizes.brace_hole_m[row] = np.nan if one.hole is None else one.hole
    sizes.brace_depth_m[row] = np.nan if one.depth is None else one.depth


def _refuse_nothing(one: Size, item: str) -> None:
    for key in ("diameter", "hole", "depth"):
        value = getattr(one, key)
        if value is not None and value <= 0:
            raise InputError("must be more than nothing", item=f"{item}, {key}")


def sized_layout(layout: Layout, sizes: StatedSizes, posts_settings: PostSettings) -> Layout:
    """Give the layout with the diameters that are stated.

    Parameters
    ----------
    layout : Layout
        As laid out with the diameters of `[posts]`.
    sizes : StatedSizes
        `diameter_m`.
    posts_settings : PostSettings
        Those diameters.

    Returns
    -------
    Layout
        A line post moves across the line by half the difference, so that its face stays on the string; a fixed post
        keeps its centre, and so does one already set off the string. The layout itself where no diameter differs.
    """
    posts, spans, braces = layout.posts, layout.spans, layout.braces
    other = np.isfinite(sizes.diameter_m) & (np.abs(sizes.diameter_m - posts.diameter_m) > _SAME_M)
    if not other.any():
        return layout
    diameter = np.where(other, sizes.diameter_m, posts.diameter_m)
    behind = np.isin(posts.role, (int(Role.LINE), int(Role.BRACE)))
    shift = np.where(behind, -posts.rail_face * (diameter - posts_settings.line_diameter_m) / 2, 0.0)
    at_string = np.abs(posts.offset_m + posts.rail_face * posts.diameter_m / 2) < _SAME_M
    shift = np.where(other & at_string, shift, 0.0)
    offset = np.where(at_string, -posts.rail_face * diameter / 2, posts.offset_m)
    x = posts.x_m - np.sin(posts.heading_rad) * shift
    y = posts.y_m + np.cos(posts.heading_rad) * shift
    a, b = spans.from_post, spans.to_post
    length = np.hypot(x[b] - x[a], y[b] - y[a])
    slope = np.hypot(length, posts.ground_m[b] - posts.ground_m[a])
    second = braces.second_post
    tied = second >= 0
    return replace(
        layout,
        posts=replace(posts, diameter_m=diameter, x_m=x, y_m=y, offset_m=offset),
        spans=replace(spans, length_m=length, slope_length_m=slope),
        braces=replace(
            braces, x_m=np.where(tied, x[second], braces.x_m), y_m=np.where(tied, y[second], braces.y_m)
        ),
    )


def holes_asked(
    job: Job, layout: Layout, sizes: StatedSizes, is_unstable: Flags, needs_concrete: Flags
) -> tuple[Holes, Holes]:
    """Holes of posts and braces as practice, frost or the job would have them, before anything is sized."""
    return (
        post_holes(layout.posts, job.settings, is_unstable, needs_concrete, sizes),
        brace_footings(layout.braces, job.settings, sizes),
    )
