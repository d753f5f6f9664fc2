"""Designs written by hand for the sheets: a small closed paddock, and a long fence of many posts."""

import math
from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from fencewright.findings import CAUTION, STOP, Finding, Place
from fencewright.pipeline.record import Design
from fencewright.site.features import Site, SiteObstacle
from fencewright.site.ground import FlatGround
from fencewright.site.plane import Plane
from fencewright.tables.fence import (
    Braces,
    FenceLine,
    Holes,
    Layout,
    Openings,
    Posts,
    Profile,
    Pulls,
    Role,
    Runs,
    Setting,
    SpanKind,
    Spans,
    Strands,
    Visits,
)
from fencewright.tables.top_line import PostCuts, TopLine, TopLineCertificate, TopLineClashes

Builder = Callable[..., Design]
Holding = Callable[..., dict[str, Any]]


def _posts(xy: np.ndarray, roles: list[Role], stations: np.ndarray, ground: np.ndarray) -> Posts:
    count = len(xy)
    role = np.array(roles, dtype=np.int64)
    ahead = np.roll(xy, -1, axis=0) - xy
    nan = np.full(count, np.nan)
    return Posts(
        line_index=np.zeros(count, np.int64),
        station_m=stations,
        role=role,
        x_m=xy[:, 0],
        y_m=xy[:, 1],
        offset_m=np.zeros(count),
        ground_m=ground,
        ground_sd_m=np.full(count, 0.01),
        diameter_m=np.where(role == Role.LINE, 0.11, 0.15),
        turning_rad=np.where(role == Role.CORNER, math.pi / 2, 0.0),
        rail_face=np.full(count, -1, np.int64),
        is_fixed=(role != Role.LINE) & (role != Role.BRACE),
        is_built=np.zeros(count, np.bool_),
        built_depth_m=nan,
        pinned_height_m=nan,
        rock_depth_m=nan,
        heading_rad=np.arctan2(ahead[:, 1], ahead[:, 0]),
        why=("by hand",) * count,
    )


def _spans(
    posts: Posts, stations: np.ndarray, kinds: list[SpanKind], is_closed: bool, length_m: float
) -> Spans:
    count = len(kinds)
    a = np.arange(count)
    b = (a + 1) % len(posts) if is_closed else a + 1
    plan = np.hypot(posts.x_m[b] - posts.x_m[a], posts.y_m[b] - posts.y_m[a])
    ends = np.append(stations, length_m)[1 : count + 1]
    return Spans(
        line_index=np.zeros(count, np.int64),
        from_post=a,
        to_post=b,
        from_station_m=stations[:count],
        to_station_m=ends,
        kind=np.array(kinds, dtype=np.int64),
        run_index=np.where(np.array(kinds) == SpanKind.FENCE, 0, -1),
        length_m=plan,
        slope_length_m=np.hypot(plan, posts.ground_m[b] - posts.ground_m[a]),
    )


def _braces(posts: Posts, corners: list[int], is_closed: bool) -> Braces:
    rows: list[tuple[int, float, float, float]] = []
    for k in corners:
        for step in (-1, 1):
            other = (k + step) % len(posts) if is_closed else k + step
            if not 0 <= other < len(posts):
                continue
            along = np.array([posts.x_m[other] - posts.x_m[k], posts.y_m[other] - posts.y_m[k]])
            along = along / np.hypot(*along)
            foot = np.array([posts.x_m[k], posts.y_m[k]]) + 1.778 * along
            rows.append((k, foot[0], foot[1], float(posts.station_m[k]) + 1.778 * step))
    n = len(rows)
    table = np.array(rows, dtype=float).reshape(n, 4)
    return Braces(
        post_index=table[:, 0].astype(np.int64),
        line_index=np.zeros(n, np.int64),
        is_horizontal=np.zeros(n, np.bool_),
        x_m=table[:, 1],
        y_m=table[:, 2],
        ground_m=posts.ground_m[table[:, 0].astype(np.int64)],
        station_m=table[:, 3],
        reach_m=np.full(n, 1.778),
        contact_m=np.full(n, 1.016),
        length_m=np.full(n, 2.3),
        second_post=np.full(n, -1, np.int64),
    )


def _holes(concrete: np.ndarray, depth: np.ndarray) -> Holes:
    return Holes(
        diameter_m=np.full(len(concrete), 0.3048),
        bell_m=np.where(concrete, 0.4572, 0.3048),
        depth_m=depth,
        set=np.where(concrete, int(Setting.CONCRETE), int(Setting.TAMPED)).astype(np.int64),
        concrete_m3=np.where(concrete, 0.08, 0.0),
        spoil_m3=np.full(len(concrete), 0.1),
        governs=("by hand",) * len(concrete),
    )


def _job(name: str, sheets: str, obstacles: tuple[SiteObstacle, ...]) -> Any:
    head = SimpleNamespace(
        name=name, client="A. Client", builder="", place="Low Field", revision="2", sheets=sheets
    )
    top_line = SimpleNamespace(low_m=0.0762, high_m=0.1524, gap_low_m=0.1, gap_high_m=0.15)
    holes = SimpleNamespace(
        tamped_lift_out_n=883.0, uplift_factor=2.0, bell_height_m=0.15, recess_m=0.1, brace_top_m=0.4572
    )
    return SimpleNamespace(
        asked=SimpleNamespace(job=head, site=SimpleNamespace(north=0.0)),
        settings=SimpleNamespace(top_height_m=1.3716, top_line=top_line, holes=holes),
        site=Site(Plane(), FlatGround(), (), obstacles),
        findings=(),
    )


def _openings(gates: list[tuple[int, int]]) -> Openings:
    n = len(gates)
    ends = np.array(gates, dtype=np.int64).reshape(n, 2)
    return Openings(
        name=tuple(f"gate {k + 1}" for k in range(n)),
        line_index=np.zeros(n, np.int64),
        is_crossing=np.zeros(n, np.bool_),
        from_post=ends[:, 0],
        to_post=ends[:, 1],
        opening_m=np.full(n, 3.6576),
        leaf_m=np.full(n, 3.5052),
        hinge_post=ends[:, 0],
        swing=np.ones(n, np.int64),
        span_index=ends[:, 0],
    )


def _design(
    job: Any, layout: Layout, findings: tuple[Finding, ...], holding: Holding, *, is_cut: bool
) -> Design:
    posts, spans = layout.posts, layout.spans
    posts_of_run = np.append(spans.from_post, spans.to_post[-1:])[1 if len(layout.openings.name) else 0 :]
    n = len(posts)
    height = np.full(n, 1.3716)
    fixed = np.asarray(posts.is_fixed)
    uplift = np.where(np.arange(n) % 7 == 3, 600.0, 20.0)
    return Design(
        job=job,
        layout=layout,
        strands=Strands(
            ("polymer rail",) * 2,
            np.array([0.6, 1.3]),
            np.array([0.8, 0.1]),
            np.full(2, 0.13),
            np.full(2, 1e3),
        ),
        top_line=TopLine(
            top_m=posts.ground_m + height,
            height_m=height,
            uplift_n=uplift,
            needs_concrete=uplift > 441,
            lowest_gap_m=np.full(len(spans), 0.3),
            clashes=TopLineClashes(("gap low",), np.array([1]), np.array([0.5]), np.array([0.0254])),
            certificate=TopLineCertificate(0.0, 0.0, 0.0, 0.0, 1, True),
        ),
        top_sd_m=np.full(n, 0.01),
        gap_sd_m=np.full(len(spans), 0.01),
        length_sd_m=np.full(len(spans), 0.01),
        cuts=PostCuts(np.full(n, 2.4384), np.where(is_cut, 0.15875, np.nan) * np.ones(n), np.full(n, is_cut)),
        rail_marks_m=np.tile([0.6, 1.3], (n, 1)),
        is_control=fixed & (not is_cut),
        holes=_holes(fixed | (uplift > 441), np.where(fixed, 1.2192, 0.762)),
        brace_holes=_holes(np.ones(len(layout.braces), np.bool_), np.full(len(layout.braces), 1.2192)),
        bags=np.where(fixed, 4.2, 0.0),
        brace_bags=np.full(len(layout.braces), 3.1),
        pulls=_pulls(posts_of_run),
        cutting=(),
        order=(),
        findings=findings,
        **holding(layout, posts_of_run),
    )


def _pulls(post_index: np.ndarray) -> Pulls:
    """Two rails of one run."""
    one, row = np.ones(2), np.zeros(2, np.int64)
    first, last = row + int(post_index[0]), row + int(post_index[-1])
    return Pulls(row, np.arange(2), 100 * one, 0.6 * one, 4.7 * one, 4.8 * one, first, last)


def _profile(spans: Spans, posts: Posts) -> Profile:
    n = len(spans)
    middle = (posts.ground_m[spans.from_post] + posts.ground_m[spans.to_post]) / 2 + 0.02
    return Profile(np.arange(n + 1), np.full(n, 0.5), middle)


def _layout(
    xy: np.ndarray, roles: list[Role], ground: np.ndarray, *, is_closed: bool, gates: list[tuple[int, int]]
) -> Layout:
    steps = np.hypot(*np.diff(np.vstack([xy, xy[:1]]), axis=0).T)
    stations = np.concatenate([[0.0], np.cumsum(steps)])[: len(xy)]
    length = float(stations[-1] + steps[-1]) if is_closed else float(stations[-1])
    posts = _posts(xy, roles, stations, ground)
    count = len(xy) if is_closed else len(xy) - 1
    kinds = [SpanKind.FENCE] * count
    for gate in gates:
        kinds[gate[0]] = SpanKind.GATE
    corners = [k for k, role in enumerate(roles) if role == Role.CORNER]
    spans = _spans(posts, stations, kinds, is_closed, length)
    turning = [0, *corners] if is_closed else [0, *corners, len(xy) - 1]
    row = np.zeros(1, np.int64)
    vertex = xy[sorted(set(turning))]
    line_station = np.append(stations[sorted(set(turning))], length)[: len(vertex) + is_closed]
    return Layout(
        lines=(FenceLine("paddock", vertex, line_station, is_closed, -1, 1),),
        posts=posts,
        visits=Visits(
            np.zeros(0, np.int64),
            np.zeros(0, np.int64),
            np.zeros(0),
            np.zeros(0),
            np.zeros(0),
            np.zeros(0, np.int64),
        ),
        spans=spans,
        runs=Runs(
            row,
            row + len(gates),
            row + count,
            row + len(gates),
            row + (len(xy) - 1) * (not is_closed),
            np.zeros(1),
            row,
        ),
        braces=_braces(posts, corners, is_closed),
        profile=_profile(spans, posts),
        openings=_openings(gates),
    )


def _paddock_layout(rise_m: float) -> Layout:
    """40 m x 28 m, posts 4 m apart, a gate beside the first corner."""
    corners = np.array([[0.0, 0.0], [40.0, 0.0], [40.0, 28.0], [0.0, 28.0]])
    parts = []
    for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        steps = round(float(np.hypot(*(b - a))) / 4)
        parts += [a + (b - a) * k / steps for k in range(steps)]
    xy = np.array(parts)
    roles = [Role.CORNER if any(np.array_equal(p, c) for c in corners) else Role.LINE for p in xy]
    roles[0] = roles[1] = Role.GATE
    return _layout(xy, roles, rise_m * np.sin(xy[:, 0] / 9), is_closed=True, gates=[(0, 1)])


def _long_layout(count: int) -> Layout:
    """Lay out a winding open fence, posts 6 m apart, a corner each fifty posts."""
    turn = np.where((np.arange(count - 1) // 50) % 2 == 0, 0.5, -0.6)
    steps = 6.0 * np.column_stack([np.cos(turn), np.sin(turn)])
    xy = np.vstack([[0.0, 0.0], np.cumsum(steps, axis=0)])
    roles = [Role.CORNER if k and k % 50 == 0 else Role.LINE for k in range(count)]
    roles[0] = roles[-1] = Role.END
    return _layout(xy, roles, 20 * np.sin(xy[:, 0] / 300), is_closed=False, gates=[])


@pytest.fixture
def paddock(holding: Holding) -> Builder:
    """Builder of the small paddock: `name`, `sheets`, `is_stopped`, `is_cut`, `rise_m`."""

    def build(
        name: str = "Small paddock",
        sheets: str = "us",
        *,
        is_stopped: bool = False,
        is_cut: bool = True,
        rise_m: float = 0.4,
    ) -> Design:
        line = np.array([[18.0, -40.0], [18.0, 60.0]])
        tree = np.array([[30.0, 12.0]])
        obstacles = (
            SiteObstacle("", "buried water", "line", line, 0.6096, 0.0, "blue", True, False, False, False),
            SiteObstacle("old oak", "tree", "point", tree, 0.9144, 0.5, "none", False, False, False, False),
        )
        findings: tuple[Finding, ...] = (
            Finding(CAUTION, "assumed-soil", Place(), "No soil is stated: clay is assumed."),
        )
        if is_stopped:
            findings = (
                Finding(STOP, "too-short", Place("post", "P4"), "The post is 3 in too short."),
                *findings,
            )
        return _design(
            _job(name, sheets, obstacles), _paddock_layout(rise_m), findings, holding, is_cut=is_cut
        )

    return build


@pytest.fixture
def long_fence(holding: Holding) -> Builder:
    """Builder of a long open fence of `count` posts."""

    def build(count: int = 1000, sheets: str = "us") -> Design:
        return _design(_job("Long boundary", sheets, ()), _long_layout(count), (), holding, is_cut=False)

    return build
