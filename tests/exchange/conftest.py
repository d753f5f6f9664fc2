"""A design written by hand for the writers: every kind of row, shared posts, unknown values, hostile names."""

from collections.abc import Callable
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest

from fencewright.findings import CAUTION, STOP, Finding, Place
from fencewright.job.stake_out_settings import MeasuredSettings
from fencewright.pipeline.record import Design, RailCutting
from fencewright.site.features import SiteObstacle
from fencewright.site.plane import Plane
from fencewright.tables.fence import (
    Braces,
    FenceLine,
    Holes,
    Layout,
    Openings,
    OrderLine,
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

NAN = float("nan")


def ints(*values: int) -> Any:
    return np.array(values, dtype=np.int64)


def floats(*values: float) -> Any:
    return np.array(values, dtype=np.float64)


def made_posts() -> Posts:
    """Gate, gate, horizontal brace's upright, line, corner, line, end; the gate posts serve the lane too."""
    role = ints(Role.GATE, Role.GATE, Role.BRACE, Role.LINE, Role.CORNER, Role.LINE, Role.END)
    n = len(role)
    return Posts(
        line_index=np.zeros(n, np.int64),
        station_m=floats(0, 3.80995, 6.2, 9, 12, 15, 18),
        role=role,
        x_m=floats(0, 3.80995, 6.2, 9, 12, 12, 12),
        y_m=floats(0, 0, 0, 0, 0, 3, 6),
        offset_m=floats(0, 0, 0, -0.05, -0.0000001, 0.05, 0),
        ground_m=floats(100, 100.1, 100.2, NAN, 100.3, 100.2, 100),
        ground_sd_m=np.full(n, 0.01),
        diameter_m=np.where(role == Role.LINE, 0.1143, 0.1524),
        turning_rad=floats(0, 0, 0, 0, np.pi / 2, 0, 0),
        rail_face=np.full(n, -1, np.int64),
        is_fixed=role != Role.LINE,
        is_built=np.zeros(n, np.bool_),
        built_depth_m=np.full(n, NAN),
        pinned_height_m=np.full(n, NAN),
        rock_depth_m=np.full(n, NAN),
        heading_rad=np.zeros(n),
        why=("gate", "gate", "second upright", "", "turns 90 degrees", "", "=HYPERLINK(1)"),
    )


def made_layout(name: str) -> Layout:
    """A fence of six spans: gate, four of rail, a crossing at the end."""
    kinds = ints(SpanKind.GATE, *[SpanKind.FENCE] * 4, SpanKind.CROSSING)
    posts, k = made_posts(), np.arange(6)
    plan = np.hypot(np.diff(posts.x_m), np.diff(posts.y_m))
    run = ints(-1, 0, 0, 0, 0, -1)
    line = FenceLine(name, np.array([[0.0, 0], [12, 0], [12, 6]]), floats(0, 12, 18), False, -1, 0)
    lane = FenceLine("lane", np.array([[0.0, 0], [3.80995, 0]]), floats(0, 3.80995), False, 0, 1)
    return Layout(
        lines=(line, lane),
        posts=posts,
        visits=Visits(ints(0, 1), ints(1, 1), floats(0, 3.80995), floats(0, 0), floats(0, 0), ints(1, 1)),
        spans=Spans(k * 0, k, k + 1, posts.station_m[:-1], posts.station_m[1:], kinds, run, plan, plan),
        runs=Runs(ints(0), ints(1), ints(5), ints(1), ints(5), floats(np.pi / 2), ints(-1)),
        braces=Braces(
            ints(1, 6), ints(0, 0), np.array([True, False]), floats(6.2, 12), floats(0, 4.2), floats(100.2, 100.1),
            floats(6.2, 16.2), floats(2.4, 1.8), floats(1.0, 1.016), floats(2.3, 2.07), ints(2, -1),
        ),
        profile=Profile(np.zeros(7, np.int64), floats(), floats()),
        openings=Openings(
            ("", "ford"), ints(0, 0), np.array([False, True]), ints(0, 5), ints(1, 6), floats(3.6576, 3),
            floats(3.5052, NAN), ints(1, -1), ints(1, 0), ints(0, 5),
        ),
    )  # fmt: skip


def made_holes(count: int, concrete: Any) -> Holes:
    settings = np.where(concrete, int(Setting.CONCRETE), int(Setting.TAMPED)).astype(np.int64)
    wide = np.where(concrete, 0.4572, 0.3048)
    volume = np.where(concrete, 0.0725, 0.0)
    return Holes(
        np.full(count, 0.3048), wide, np.full(count, 1.2192), settings, volume, volume * 2, ("frost",) * count
    )


def made_cutting() -> RailCutting:
    """Two pulls from a new roll and a remainder of the yard: the second is spliced."""
    cut = SimpleNamespace(
        roll_index=ints(0, 0, 1), pull_index=ints(0, 1, 1), from_m=floats(0, 0, 6), to_m=floats(13.4, 6, 13.4),
        rail_m=floats(13.4, 6, 8), at_m=floats(0, 13.4, 0), roll_length_m=floats(20, 8.5), used_m=floats(19.4, 8),
        offcut_m=floats(0.6, 0.5), is_remainder=np.array([False, True]), remainder_index=ints(-1, 0), splices=1,
        cost_m=23.0, bound_m=22.0, gap=1 / 23, gap_m=1.0, is_proven=False, longest_offcut_m=0.6,
        is_offcut_proven=False,
    )  # fmt: skip
    return RailCutting("polymer rail", ints(0, 1), cast(Any, cut))


def made_job(name: str, sheets: str) -> Any:
    head = SimpleNamespace(name=name, client="", builder="", place="", revision="1", sheets=sheets)
    ring = np.array([[0.0, 10], [0, 14], [5, 14], [5, 10]])
    obstacles = (
        SiteObstacle(
            "",
            "buried water",
            "line",
            np.array([[9.0, -5], [9, 9]]),
            0.6,
            0.0,
            "blue",
            True,
            False,
            False,
            False,
        ),
        SiteObstacle("=cmd|' /C calc'!A0", "tree", "point", np.array([[7.0, 2]]), 1.0, 0.4, "", *[False] * 4),
        SiteObstacle("pond", "pond", "polygon", ring, 3.0, 0.0, "", False, True, False, False),
    )
    where = SimpleNamespace(origin=None, north=0.0)
    tolerances = MeasuredSettings(0.006, 0.006, 0.012, 0.003, 0.025, 0.05, 0.003)
    plane = Plane()
    return SimpleNamespace(
        asked=SimpleNamespace(job=head, site=where),
        settings=SimpleNamespace(
            posts=SimpleNamespace(bevel_rad=0.13), brace=SimpleNamespace(lean_m=0.0254), measured=tolerances
        ),
        site=SimpleNamespace(plane=plane, obstacles=obstacles),
        text="[job]\n",
    )


def made_findings(*, stopped: bool) -> tuple[Finding, ...]:
    soil = Finding(
        CAUTION, "assumed-soil", Place(), "no soil is stated: clay is assumed", "state [site] soil"
    )
    stop = Finding(
        STOP,
        "post-too-short",
        Place("post", "P4", "paddock", 9.0),
        "the post is 3 in too short",
        "a longer post",
        ({"path": ["posts", "line_lengths"], "value": ["8 ft"]},),
    )
    return (stop, soil) if stopped else (soil,)


@pytest.fixture
def made_design(holding: Callable[..., dict[str, Any]]) -> Callable[..., Design]:
    """Builder of the design: `name`, `line`, `sheets`, `stopped`."""

    def build(
        name: str = "Small paddock", line: str = "paddock", sheets: str = "us", *, stopped: bool = False
    ) -> Design:
        layout = made_layout(line)
        n, posts = len(layout.posts), layout.posts
        height = np.full(n, 1.3716)
        fixed = np.asarray(posts.is_fixed)
        marks = np.tile(floats(0.6, 1.30004), (n, 1))
        marks[2] = NAN
        return Design(
            job=made_job(name, sheets),
            layout=layout,
            strands=Strands(("polymer rail",) * 2, floats(0.6, 1.3), floats(0.8, 0.1), floats(0.13, 0.13), floats(1e3, 1e3)),
            top_line=TopLine(
                posts.ground_m + height, height, floats(-12.34, 0, 0, 700.06, 5, -0.01, 0), np.zeros(n, np.bool_),
                floats(NAN, 0.3, 0.3, 0.3, 0.29, NAN), TopLineClashes(),
                TopLineCertificate(0.0123456789012, 0.01234567, 3.3e-12, 1e-9, 14, True),
            ),
            top_sd_m=np.full(n, 0.012),
            gap_sd_m=np.full(6, 0.014),
            length_sd_m=floats(0.02, 0.02),
            cuts=PostCuts(
                floats(2.7432, 2.7432, 2.4384, NAN, 2.7432, 2.4384, 2.7432),
                floats(0.1524, 0.1, 0.1, NAN, 0.15875, NAN, 0.2),
                np.array([True, True, True, False, True, False, True]),
            ),
            rail_marks_m=marks,
            is_control=~fixed,
            holes=made_holes(n, fixed),
            brace_holes=made_holes(2, np.array([False, True])),
            bags=np.where(fixed, 4.2679999, 0.0),
            brace_bags=floats(0, 3.1),
            pulls=Pulls(
                ints(0, 0), ints(0, 1), floats(12.19, 12.19), floats(0.605, 0.605), floats(np.pi / 2, np.pi / 2),
                floats(1.6, 1.6), ints(1, 1), ints(5, 5),
            ),
            cutting=(made_cutting(),),
            order=(
                OrderLine("line-post-8", "line post", "4 1/2 in x 8 ft", "piece", 2, 0, 2, 1, "line posts"),
                OrderLine("bag-80", "concrete", "80 lb", "bag", 21.34, 1.067, 23, 1, "=1+1"),
            ),
            findings=made_findings(stopped=stopped),
            **holding(layout, np.arange(1, 6)),
        )  # fmt: skip

    return build
