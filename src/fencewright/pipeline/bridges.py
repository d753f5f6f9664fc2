"""From one stage's tables to what the next one asks for."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import Soil
from fencewright.job.record import Job
from fencewright.job.schema import SoilZone
from fencewright.job.settings import Settings
from fencewright.tables.fence import Holes, Layout, Role, Setting, SpanKind, Spans, Strands
from fencewright.tables.top_line import (
    GroundProfile,
    PostCuts,
    TopLine,
    TopLineFlows,
    TopLinePosts,
    TopLineSettings,
    TopLineSpans,
    TopLineTask,
)
from fencewright.takeoff.holes import settings_of
from fencewright.topline.controls import control_posts
from fencewright.topline.cuts import CutPractice, post_cuts, rail_marks
from fencewright.topline.stage import shape_top_line

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]


def rails_of(settings: Settings) -> Strands:
    """Give the strands as columns, lowest first."""
    rows = settings.strands
    height = np.array([row.height_m for row in rows])
    return Strands(
        tuple(row.rail.name for row in rows),
        height,
        settings.top_height_m - height,
        np.array([row.rail.face_height_m for row in rows]),
        np.array([row.rail.cold_tension_n for row in rows]),
    )


def _zones(job: Job, layout: Layout) -> Iterator[tuple[SoilZone, Flags]]:
    """Soil zones of the job, each with the posts that it holds, those that another line shares too. (posts,)"""
    posts, visits = layout.posts, layout.visits
    names = {line.name: index for index, line in enumerate(layout.lines)}
    for zone in job.asked.soil_zone:
        own, shared = (
            (table.line_index == names[zone.line])
            & (table.station_m >= zone.start)
            & (table.station_m <= zone.end)
            for table in (posts, visits)
        )
        own[visits.post_index[shared]] = True
        yield zone, own


def unstable_posts(job: Job, layout: Layout) -> Flags:
    """Posts in ground that the job calls unstable: everywhere, or in a soil zone, one of two at their border. (posts,)"""
    unstable = np.full(len(layout.posts), job.settings.unstable)
    zoned = np.zeros(len(layout.posts), bool)
    for zone, inside in _zones(job, layout):
        unstable = np.where(inside, zone.unstable | (zoned & unstable), unstable)
        zoned |= inside
    return unstable


def soils_of(job: Job, layout: Layout) -> tuple[Soil, ...]:
    """Soil under each post: the site's, or that of its soil zone; at a border of two the one that holds less. (posts,)"""
    soils = [job.settings.soil] * len(layout.posts)
    zoned = np.zeros(len(layout.posts), bool)
    for zone, inside in _zones(job, layout):
        soil = job.catalogue.soils[zone.soil]
        for row in np.flatnonzero(inside).tolist():
            soils[row] = min(soils[row], soil, key=_holds) if zoned[row] else soil
        zoned |= inside
    return tuple(soils)


def _holds(soil: Soil) -> tuple[float, float]:
    """How much a soil holds, sideways and from below; one that has no values holds nothing. [Pa/m], [Pa]"""
    return float(np.nan_to_num(soil.lateral_pa_per_m)), float(np.nan_to_num(soil.bearing_pa))


def flows_of(spans: Spans) -> TopLineFlows:
    """Pairs of neighbouring fence spans of a run's line, a closed line's first and last among them."""
    fence = spans.kind == int(SpanKind.FENCE)
    after = np.arange(1, len(spans))
    same = (spans.line_index[1:] == spans.line_index[:-1]) & (spans.to_post[:-1] == spans.from_post[1:])
    good = same & fence[1:] & fence[:-1]
    before, after = after[good] - 1, after[good]
    edge = np.flatnonzero(np.diff(spans.line_index)) + 1
    first = np.concatenate([[0], edge]) if len(spans) else np.zeros(0, np.int64)
    last = np.concatenate([edge, [len(spans)]]) - 1 if len(spans) else np.zeros(0, np.int64)
    wraps = (spans.to_post[last] == spans.from_post[first]) & fence[last] & fence[first] & (last > first)
    return TopLineFlows(np.concatenate([before, last[wraps]]), np.concatenate([after, first[wraps]]))


def shape(job: Job, layout: Layout, strands: Strands, is_unstable: Flags) -> TopLine:
    """Shape the top line over a layout."""
    posts, spans, settings = layout.posts, layout.spans, job.settings
    choice, holes = settings.top_line, settings.holes
    held = settings_of(posts, holes, is_unstable, np.zeros(len(posts), bool))
    lift = np.where(held == int(Setting.DRIVEN), holes.driven_lift_out_n, holes.tamped_lift_out_n)
    hold = np.where(held == int(Setting.CONCRETE), np.inf, lift / holes.uplift_factor)
    nominal = np.full(len(posts), settings.top_height_m)
    task = TopLineTask(
        TopLinePosts(
            posts.ground_m,
            nominal,
            nominal - choice.low_m,
            nominal + choice.high_m,
            posts.ground_m + posts.pinned_height_m,
            hold,
            np.full(len(posts), choice.nominal_weight),
        ),
        _span_task(layout, strands, settings),
        flows_of(spans),
        GroundProfile(layout.profile.start, layout.profile.fraction, layout.profile.ground_m),
    )
    price = choice.concrete_worth_m2 / float(holes.tamped_lift_out_n / holes.uplift_factor)
    return shape_top_line(task, TopLineSettings(settings.layout.spacing_limit_m, price))


def _span_task(layout: Layout, strands: Strands, settings: Settings) -> TopLineSpans:
    spans, choice = layout.spans, settings.top_line
    count = len(spans)
    fence = spans.kind == int(SpanKind.FENCE)
    drop = settings.top_height_m - settings.bottom_gap_m
    low, high = settings.bottom_gap_m - choice.gap_low_m, settings.bottom_gap_m + choice.gap_high_m
    return TopLineSpans(
        spans.from_post,
        spans.to_post,
        spans.length_m,
        fence,
        spans.kind == int(SpanKind.GATE),
        np.full(count, drop),
        np.where(fence, low, -np.inf),
        np.where(fence, high, np.inf),
        np.where(fence, float(strands.cold_pull_n.sum()), 0.0),
    )


def cut_posts(
    job: Job, layout: Layout, strands: Strands, top_line: TopLine, holes: Holes
) -> tuple[PostCuts, Floats, Flags, Floats, Floats]:
    """Stock length, cut, marks, control posts, and how well each top and gap is known."""
    posts, spans, settings = layout.posts, layout.spans, job.settings
    choice = settings.top_line
    top_sd = np.hypot(posts.ground_sd_m, choice.mark_sd_m)
    gap_sd = np.hypot(
        (posts.ground_sd_m[spans.from_post] + posts.ground_sd_m[spans.to_post]) / 2, choice.mark_sd_m
    )
    practice = CutPractice(settings.posts.trim_m, settings.posts.long_spare_m, choice.cut_limit_m)
    ends, lines = (
        post_cuts(top_line.height_m, holes.depth_m, top_sd, np.array(stock), practice)
        for stock in (settings.posts.end_lengths_m, settings.posts.line_lengths_m)
    )
    is_line = (posts.role == int(Role.LINE)) | (posts.role == int(Role.BRACE))
    bought = ~posts.is_built
    stock = np.where(bought, np.where(is_line, lines.stock_length_m, ends.stock_length_m), np.nan)
    cut = np.where(bought, np.where(is_line, lines.cut_m, ends.cut_m), np.nan)
    cuts = PostCuts(stock, cut, ends.is_cut & (bought | np.isfinite(posts.pinned_height_m)))
    marks = rail_marks(top_line.height_m, strands.drop_m)
    marks[~ends.is_cut] = np.nan
    control = _controls(layout, top_line, cuts, choice.string_tolerance_m)
    return cuts, marks, control, top_sd, gap_sd


def _controls(layout: Layout, top_line: TopLine, cuts: PostCuts, tolerance_m: float) -> Flags:
    """Posts to string between, on every line that has posts set long."""
    posts, spans = layout.posts, layout.spans
    control = np.zeros(len(posts), bool)
    if cuts.is_cut.all():
        return control
    edges = np.flatnonzero(np.diff(spans.line_index)) + 1
    for own in np.split(np.arange(len(spans)), edges):
        rows = np.append(spans.from_post[own], spans.to_post[own[-1]])
        if cuts.is_cut[rows].all():
            continue
        station = np.concatenate([[0.0], np.cumsum(spans.length_m[own])])
        picked = control_posts(station, top_line.top_m[rows], posts.is_fixed[rows], tolerance_m)
        control[rows[picked]] = True
    return control
