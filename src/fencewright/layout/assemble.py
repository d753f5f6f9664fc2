"""Plans of the lines and their line posts to the tables of the layout."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.geometry.polyline import wrapped
from fencewright.job.record import Job
from fencewright.layout.bays import Bays, LinePosts
from fencewright.layout.gates import Opening
from fencewright.layout.junctions import Meeting
from fencewright.layout.line_plan import LinePlan, line_post_shift_m
from fencewright.layout.marks import Mark, rank
from fencewright.layout.table_parts import brace_table, opening_table, profile_table, run_table
from fencewright.layout.track import Track
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import Layout, Posts, Role, SpanKind, Spans, Visits

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class LineRows:
    """Posts and spans of one line in its own rows: marks first, then line posts.

    `station_m` unwrapped in drawing order [m]; `role`; `shift_m` left of the reference line [m]; `side` of the
    rail; `order` rows along the line, the first repeated at the end where it is closed; `span_kind`, `span_run`.
    """

    station_m: Floats
    role: Ints
    shift_m: Floats
    side: Ints
    face: Ints
    order: Ints
    order_m: Floats
    span_kind: Ints
    span_run: Ints
    stretch_of_span: Ints


def _line_rows(
    job: Job, plan: LinePlan, stations_m: Floats, own_stretch: Ints, openings: list[Opening]
) -> LineRows:
    marks, stretches, line = plan.marks, plan.stretches, plan.track.line
    run_of = np.full(len(stretches), -1)
    row_of = {id(stretch): row for row, stretch in enumerate(stretches)}
    for number, run in enumerate(plan.runs):
        for stretch in run:
            run_of[row_of[id(stretch)]] = number
    sides = np.array(plan.outer_side + [line.rail_side or 1])
    stretch_side = sides[run_of]
    mark_m, mark_side = np.zeros(len(marks)), np.full(len(marks), line.rail_side or 1)
    for row in range(len(stretches) - 1, -1, -1):
        stretch = stretches[row]
        mark_m[stretch.from_mark] = stretch.from_m
        if run_of[row] >= 0:
            mark_side[[stretch.from_mark, stretch.to_mark]] = stretch_side[row]
    if not line.is_closed:
        mark_m[stretches[-1].to_mark] = stretches[-1].to_m
    shift_of = {side: line_post_shift_m(job, line, side) for side in (1, -1)}
    post_side = stretch_side[own_stretch]
    brace_shift = np.array(
        [_mark_shift(mark, shift_of[int(side)]) for mark, side in zip(marks, mark_side, strict=True)]
    )
    post_shift = np.where(post_side > 0, shift_of[1], shift_of[-1])
    station = np.concatenate([mark_m, stations_m])
    role = np.concatenate([[int(mark.role) for mark in marks], np.full(len(stations_m), int(Role.LINE))])
    side = np.concatenate([mark_side, post_side])
    stands_behind = (role == int(Role.LINE)) | (role == int(Role.BRACE))
    face = np.where(stands_behind & (line.rail_side != 0), line.rail_side, side)
    order = np.argsort(station, kind="stable")
    order_m = station[order]
    if line.is_closed:
        order = np.append(order, order[0])
        order_m = np.append(order_m, order_m[0] + line.length_m)
    starts = np.array([stretch.from_m for stretch in stretches])
    of_span = np.clip(np.searchsorted(starts, order_m[:-1] + 1e-9, side="right") - 1, 0, None)
    kinds = np.array([_kind(stretch.opening, openings) for stretch in stretches])
    return LineRows(
        station, role.astype(np.int64), np.concatenate([brace_shift, post_shift]), side.astype(np.int64),
        face.astype(np.int64), order, order_m, kinds[of_span], run_of[of_span], of_span,
    )  # fmt: skip


def _mark_shift(mark: Mark, line_shift_m: float) -> float:
    if mark.is_built and not np.isnan(mark.built_offset_m):
        return mark.built_offset_m
    return line_shift_m if mark.role in (Role.LINE, Role.BRACE) else 0.0


def _kind(opening: int, openings: list[Opening]) -> int:
    if opening < 0:
        return int(SpanKind.FENCE)
    return int(SpanKind.CROSSING if openings[opening].is_crossing else SpanKind.GATE)


def assemble(
    job: Job,
    plans: list[LinePlan],
    bays: Bays,
    line_posts: LinePosts,
    openings: list[Opening],
    meetings: tuple[Meeting, ...],
) -> Layout:
    """Build every table of the layout.

    Parameters
    ----------
    job : Job
        What is asked.
    plans : list of LinePlan
        One a line.
    bays, line_posts
        Line posts by bay, in the order of the plans' fence stretches.
    openings : list of Opening
        Gates and crossings.
    meetings : tuple of Meeting
        Shared posts.

    Returns
    -------
    Layout
        Posts sorted by line and station.
    """
    rows, offset, local = [], [0], []
    for index, plan in enumerate(plans):
        mine = np.flatnonzero(bays.line == index)
        fence = np.array([k for k, stretch in enumerate(plan.stretches) if stretch.opening < 0])
        own = (
            (line_posts.bay >= mine[0]) & (line_posts.bay <= mine[-1])
            if len(mine)
            else np.zeros(len(line_posts.bay), bool)
        )
        picked = np.flatnonzero(own)
        stretch = fence[line_posts.bay[picked] - mine[0]] if len(picked) else np.zeros(0, np.int64)
        rows.append(_line_rows(job, plan, line_posts.station_m[picked], stretch, openings))
        local.append(picked)
        offset.append(offset[-1] + len(rows[-1].station_m))
    owner = _owners(plans, meetings, offset)
    posts, place = _posts(job, plans, rows, local, line_posts, offset, owner)
    visits = _visits(plans, rows, offset, owner, place)
    spans, first_span = _spans(plans, rows, offset, place, posts, openings)
    runs = run_table(plans, rows, spans, first_span)
    lines = tuple(plan.track.line for plan in plans)
    braces = brace_table(job, plans, offset, place, posts)
    profile = profile_table(plans, rows, first_span)
    return Layout(
        lines,
        posts,
        visits,
        spans,
        runs,
        braces,
        profile,
        opening_table(openings, plans, offset, place, spans),
    )


def _owners(plans: list[LinePlan], meetings: tuple[Meeting, ...], offset: list[int]) -> Ints:
    """For each row the row of the post that it is: its own, or the first line's at a meeting."""
    owner = np.arange(offset[-1])
    for number, meeting in enumerate(meetings):
        found = []
        for index in meeting.line_index:
            found += [
                offset[index] + k for k, mark in enumerate(plans[index].marks) if mark.meeting == number
            ]
        owner[found] = min(found, default=0)
    return owner


def _merged_role(roles: list[Role]) -> Role:
    """Role of a post that lines share, whichever is first: that in a line which passes it, end only where all end."""
    passing = [role for role in roles if role is not Role.END]
    return min(passing, key=rank, default=Role.END)


def _posts(
    job: Job,
    plans: list[LinePlan],
    rows: list[LineRows],
    local: list[Ints],
    line_posts: LinePosts,
    offset: list[int],
    owner: Ints,
) -> tuple[Posts, Ints]:
    """Build the posts' table; `place` gives the final row of each line row."""
    settings = job.settings
    total = offset[-1]
    line_index = np.repeat(np.arange(len(plans)), np.diff(offset))
    station, x, y, heading = (np.zeros(total) for _ in range(4))
    turning, pinned, built_depth, built_ground, rock, pinned_top = (
        np.zeros(total),
        *(np.full(total, np.nan) for _ in range(5)),
    )
    is_built = np.zeros(total, bool)
    track_ground = np.zeros(total)
    why = np.full(total, "", object)
    for index, (plan, row) in enumerate(zip(plans, rows, strict=True)):
        here = slice(offset[index], offset[index + 1])
        track = plan.track
        station[here] = track.wrap(row.station_m)
        middle = _middle_heading(track, row.station_m)
        base = track.at(row.station_m)
        x[here] = base[:, 0] - np.sin(middle) * row.shift_m
        y[here] = base[:, 1] + np.cos(middle) * row.shift_m
        heading[here] = wrapped(middle)
        track_ground[here] = track.elevation(row.station_m)
        count = len(plan.marks)
        first = offset[index]
        turning[first : first + count] = [mark.turning_rad for mark in plan.marks]
        pinned[first : first + count] = [mark.pinned_height_m for mark in plan.marks]
        pinned_top[first : first + count] = [mark.pinned_top_m for mark in plan.marks]
        built_depth[first : first + count] = [mark.built_depth_m for mark in plan.marks]
        built_ground[first : first + count] = [mark.built_ground_m for mark in plan.marks]
        rock[first : first + count] = [mark.rock_depth_m for mark in plan.marks]
        is_built[first : first + count] = [mark.is_built for mark in plan.marks]
        why[first : first + count] = [mark.why for mark in plan.marks]
        why[first + count : offset[index + 1]] = _line_why(job, line_posts, local[index])
    role = np.concatenate([row.role for row in rows])
    role = _share(owner, role, why, plans, offset)
    keep = np.flatnonzero(owner == np.arange(total))
    final = keep[np.lexsort((station[keep], line_index[keep]))]
    place = np.empty(total, np.int64)
    place[final] = np.arange(len(final))
    place = place[owner]
    is_line = (role == int(Role.LINE)) | (role == int(Role.BRACE))
    diameter = np.where(is_line, settings.posts.line_diameter_m, settings.posts.end_diameter_m)
    face = np.concatenate([row.face for row in rows])
    shift, side = (np.concatenate([getattr(row, name) for row in rows]) for name in ("shift_m", "side"))
    string = (
        side * settings.posts.end_diameter_m / 2
    )  # of the fixed posts' outer faces, left of their centres
    from_string = np.where(is_built, shift - string, -face * diameter / 2)
    ground = np.asarray(job.site.ground.elevation_m(x.copy(), y.copy()), np.float64)
    ground = np.where(np.isfinite(ground), ground, track_ground)
    ground = np.where(np.isfinite(built_ground), built_ground, ground)
    sd = np.asarray(job.site.ground.sd_m(x.copy(), y.copy()), np.float64)
    sd = np.where(np.isfinite(sd), sd, np.nanmax(sd) if np.isfinite(sd).any() else 0.0)
    pinned = np.where(np.isfinite(pinned_top), pinned_top - ground, pinned)
    table = Posts(
        line_index[final], station[final], role[final], x[final], y[final], from_string[final],
        ground[final], sd[final], diameter[final], turning[final], face[final], ~is_line[final], is_built[final],
        built_depth[final], pinned[final], rock[final], heading[final], tuple(why[final].tolist()),
    )  # fmt: skip
    return table, place


def _share(
    owner: Ints, role: Ints, why: NDArray[np.object_], plans: list[LinePlan], offset: list[int]
) -> Ints:
    """Give the first line's row at each meeting the role and reasons of all."""
    merged = role.copy()
    shared = np.flatnonzero(owner != np.arange(len(owner)))
    for first in np.unique(owner[shared]).tolist():
        rows = np.flatnonzero(owner == first)
        merged[first] = int(_merged_role([Role(int(role[row])) for row in rows]))
        why[first] = "; ".join(dict.fromkeys(str(why[row]) for row in rows if why[row]))
    return merged


def _line_why(job: Job, line_posts: LinePosts, picked: Ints) -> NDArray[np.object_]:
    show = UnitSystem(job.asked.job.sheets)
    text = np.full(
        len(picked), f"even spacing, at most {show.long(job.settings.layout.spacing_limit_m)}", object
    )
    for row in np.flatnonzero(np.isfinite(line_posts.extreme_m[picked])).tolist():
        by = float(line_posts.extreme_m[picked[row]])
        what = "crest: ground above" if by > 0 else "dip: ground below"
        text[row] = f"{what} its neighbours' line by {show.small(abs(by))}"
    return text


def _visits(
    plans: list[LinePlan], rows: list[LineRows], offset: list[int], owner: Ints, place: Ints
) -> Visits:
    other = np.flatnonzero(owner != np.arange(len(owner)))
    line_index = np.searchsorted(np.array(offset), other, side="right") - 1
    own = other - np.array(offset)[line_index]
    station, heading, turning = np.zeros((3, len(other)))
    face = np.zeros(len(other), np.int64)
    for index in np.unique(line_index).tolist():
        here = np.flatnonzero(line_index == index)
        plan, at_m = plans[index], rows[index].station_m[own[here]]
        station[here] = plan.track.wrap(at_m)
        heading[here] = _middle_heading(plan.track, at_m)
        # what lines share is a mark
        turning[here] = [plan.marks[row].turning_rad for row in own[here].tolist()]
        face[here] = rows[index].face[own[here]]
    return Visits(place[other], line_index.astype(np.int64), station, heading, turning, face)


def _middle_heading(track: Track, station_m: Floats) -> Floats:
    """Heading of a line at stations, the mean of both legs at a turn. [rad]"""
    into, out = track.heading(station_m, before=True), track.heading(station_m)
    return np.asarray(into + wrapped(out - into) / 2)


def _spans(
    plans: list[LinePlan],
    rows: list[LineRows],
    offset: list[int],
    place: Ints,
    posts: Posts,
    openings: list[Opening],
) -> tuple[Spans, list[int]]:
    first = [0]
    parts: dict[str, list[NDArray[np.generic]]] = {
        name: [] for name in ("line", "a", "b", "sa", "sb", "kind", "run")
    }
    run_base = 0
    for index, (plan, row) in enumerate(zip(plans, rows, strict=True)):
        along = place[offset[index] + row.order]
        parts["line"].append(np.full(len(along) - 1, index))
        parts["a"].append(along[:-1])
        parts["b"].append(along[1:])
        wrapped_m = plan.track.wrap(row.order_m)
        parts["sa"].append(wrapped_m[:-1])
        parts["sb"].append(wrapped_m[1:])
        parts["kind"].append(row.span_kind)
        parts["run"].append(np.where(row.span_run >= 0, row.span_run + run_base, -1))
        run_base += len(plan.runs)
        first.append(first[-1] + len(along) - 1)
    joined = {name: np.concatenate(part) for name, part in parts.items()}
    a, b = joined["a"], joined["b"]
    length = np.hypot(posts.x_m[b] - posts.x_m[a], posts.y_m[b] - posts.y_m[a])
    slope = np.hypot(length, posts.ground_m[b] - posts.ground_m[a])
    spans = Spans(
        joined["line"], a, b, joined["sa"], joined["sb"], joined["kind"], joined["run"], length, slope
    )
    return spans, first
