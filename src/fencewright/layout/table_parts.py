"""Tables of runs, braces, openings and ground profile from the plans of the lines."""

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from fencewright.job.record import Job
from fencewright.layout.bays import spans_of_samples, track_samples
from fencewright.layout.braces import upright_of
from fencewright.layout.gates import Opening
from fencewright.layout.line_plan import LinePlan
from fencewright.layout.small_turns import turns_between
from fencewright.tables.fence import Braces, Openings, Posts, Profile, Runs, Spans

if TYPE_CHECKING:
    from fencewright.layout.assemble import LineRows

Ints = NDArray[np.int64]


def run_table(plans: list[LinePlan], rows: "list[LineRows]", spans: Spans, first_span: list[int]) -> Runs:
    """Build the runs' table; spans of a run follow one another."""
    count = sum(len(plan.runs) for plan in plans)
    owned = np.flatnonzero(spans.run_index >= 0)
    run = spans.run_index[owned]
    start = owned[np.searchsorted(run, np.arange(count), side="left")] if count else np.zeros(0, np.int64)
    end = (
        owned[np.searchsorted(run, np.arange(count), side="right") - 1] + 1
        if count
        else np.zeros(0, np.int64)
    )
    turning = [
        sum(abs(plan.marks[stretch.to_mark].turning_rad) for stretch in own[:-1])
        + float(turns_between(plan.small_turns, own[0].from_m, own[-1].to_m)[:, 1].sum())
        for plan in plans
        for own in plan.runs
    ]
    side = [
        value if any(abs(plan.marks[s.to_mark].turning_rad) > 0 for s in own[:-1]) else 0
        for plan in plans
        for own, value in zip(plan.runs, plan.outer_side, strict=True)
    ]
    return Runs(
        spans.line_index[start], start, end, spans.from_post[start], spans.to_post[end - 1],
        np.array(turning, np.float64), np.array(side, np.int64),
    )  # fmt: skip


def brace_table(job: Job, plans: list[LinePlan], offset: list[int], place: Ints, posts: Posts) -> Braces:
    """Build the braces' table."""
    settings = job.settings.brace
    horizontal = settings.kind == "horizontal"
    post, line, x, y, station, reach, second = [], [], [], [], [], [], []
    for index, plan in enumerate(plans):
        rows = {id(mark): row for row, mark in enumerate(plan.marks)}
        for number, brace in enumerate(plan.braces):
            post.append(int(place[offset[index] + brace.mark]))
            line.append(index)
            own = upright_of(plan.track, plan.marks, brace, number) if horizontal else None
            row = int(place[offset[index] + rows[id(own)]]) if own else -1
            second.append(row)
            x.append(posts.x_m[row] if row >= 0 else brace.foot_xy[0])
            y.append(posts.y_m[row] if row >= 0 else brace.foot_xy[1])
            reach.append(brace.reach_m)
        station.append(plan.track.wrap(np.array([brace.foot_m for brace in plan.braces])))
    xs, ys, reaches = np.array(x, np.float64), np.array(y, np.float64), np.array(reach, np.float64)
    at = np.array(post, np.int64)
    ground = np.asarray(job.site.ground.elevation_m(xs.copy(), ys.copy()), np.float64)
    post_ground = posts.ground_m[at]
    ground = np.where(np.isfinite(ground), ground, post_ground)
    rise = 0.0 if horizontal else settings.contact_m + post_ground - ground
    below = 0.0 if horizontal else job.settings.holes.brace_top_m
    length = np.hypot(reaches, rise + below)
    return Braces(
        at, np.array(line, np.int64), np.full(len(at), horizontal), xs, ys, ground,
        np.concatenate([*station, np.zeros(0)]), reaches, np.full(len(at), settings.contact_m), length,
        np.array(second, np.int64),
    )  # fmt: skip


def opening_table(
    openings: list[Opening], plans: list[LinePlan], offset: list[int], place: Ints, spans: Spans
) -> Openings:
    """Build the openings' table."""
    starts, ends = {}, {}
    for base, plan in zip(offset, plans, strict=False):
        for row, mark in enumerate(plan.marks):
            if mark.opening >= 0:
                starts[mark.opening] = place[base + row]
            if mark.closes >= 0:
                ends[mark.closes] = place[base + row]
    a, b = (np.array([one[number] for number in range(len(openings))], np.int64) for one in (starts, ends))
    near = np.array([one.hinge_near for one in openings], bool)
    gaps = np.flatnonzero(spans.kind > 0)
    ends_of = zip(spans.from_post[gaps].tolist(), spans.to_post[gaps].tolist(), strict=True)
    span_between = dict(zip(ends_of, gaps.tolist(), strict=True))
    span = [span_between[pair] for pair in zip(a.tolist(), b.tolist(), strict=True)]
    return Openings(
        tuple(one.name for one in openings),
        np.array([one.line_index for one in openings], np.int64),
        np.array([one.is_crossing for one in openings], bool),
        a, b,
        np.array([one.opening_m for one in openings], np.float64),
        np.array([one.leaf_m for one in openings], np.float64),
        np.where(near, a, b),
        np.array([one.swing for one in openings], np.int64),
        np.array(span, np.int64),
    )  # fmt: skip


def profile_table(plans: list[LinePlan], rows: "list[LineRows]", first_span: list[int]) -> Profile:
    """Build the ground between the posts; a level line's samples are left out, its chord says it all."""
    starts, fractions, grounds = [np.zeros(1, np.int64)], [], []
    total = 0
    for plan, row in zip(plans, rows, strict=True):
        knots = row.order_m
        if np.ptp(plan.track.ground_m) == 0:
            starts.append(np.full(len(knots) - 1, total))
            continue
        sample, ground = track_samples(plan.track, float(knots[0]), float(knots[-1]))
        span = spans_of_samples(knots, sample)
        inside = (span >= 0) & (span < len(knots) - 1)
        sample, ground, span = sample[inside], ground[inside], span[inside]
        fraction = (sample - knots[span]) / (knots[span + 1] - knots[span])
        inner = (fraction > 1e-9) & (fraction < 1 - 1e-9)
        fractions.append(fraction[inner])
        grounds.append(ground[inner])
        counts = np.bincount(span[inner], minlength=len(knots) - 1)
        starts.append(total + np.cumsum(counts))
        total += int(counts.sum())
    join = np.concatenate
    return Profile(
        join(starts), join(fractions) if fractions else np.zeros(0), join(grounds) if grounds else np.zeros(0)
    )
