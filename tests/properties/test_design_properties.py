"""Any job gives a design that keeps its own limits, or one sentence: lines, gates, features and wishes at random."""

import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn, composite

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.findings import InputError
from fencewright.pipeline.record import Design, post_id
from fencewright.tables.fence import Role, SpanKind

KINDS = ("buried gas", "tree", "pond", "stream", "building", "septic field", "boundary")
HEAD = (
    '[job]\nname = "f"\n[site]\ncrs = "local"\nfrost_depth = "30 in"\nsoil = "clay"\nground = "spots.csv"\n'
)


def _points(places: list[tuple[float, float]]) -> str:
    return "[" + ", ".join(f'["{x:.3f} m", "{y:.3f} m"]' for x, y in places) + "]"


def _table(table: str, **values: Any) -> str:
    rows = [
        f"{key} = {value}" if key in {"points", "closed", "unstable"} else f'{key} = "{value}"'
        for key, value in values.items()
    ]
    return f"[[{table}]]\n" + "\n".join(rows) + "\n"


@composite
def jobs(draw: DrawFn) -> str:
    """Text of a job: a line round the origin, perhaps one that leaves it, openings, features, wishes."""
    count = draw(st.integers(3, 7))
    turns = [2 * math.pi * (k + draw(st.floats(0.1, 0.9))) / count for k in range(count)]
    ring = [(draw(st.floats(15, 80)) * math.cos(a), draw(st.floats(15, 80)) * math.sin(a)) for a in turns]
    text = HEAD + _table("line", name="a", closed=str(draw(st.booleans())).lower(), points=_points(ring))
    text += draw(
        st.sampled_from(["", 'drawn = "rail face"\n', 'rail_side = "left"\n', 'rail_side = "right"\n'])
    )
    if draw(st.booleans()):
        share = draw(st.sampled_from([0.0, 0.3]))
        start = tuple((1 - share) * p + share * q for p, q in zip(ring[0], ring[1], strict=True))
        text += _table(
            "line", name="b", points=_points([(start[0], start[1]), (1.8 * start[0] + 3, 1.8 * start[1])])
        )
    station = st.floats(0, 150).map(lambda at: f"{at:.2f} m")
    for _ in range(draw(st.integers(0, 2))):
        text += _table("gate", line="a", at=draw(station), opening=draw(st.sampled_from(["4 ft", "12 ft"])))
    for _ in range(draw(st.integers(0, 3))):
        middle = draw(st.tuples(st.floats(-70, 70), st.floats(-70, 70)))
        feature = [
            (middle[0] + draw(st.floats(-20, 20)), middle[1] + draw(st.floats(-20, 20)))
            for _ in range(draw(st.integers(1, 4)))
        ]
        text += _table("obstacle", kind=draw(st.sampled_from(KINDS)), radius="0.2 m", points=_points(feature))
    for wish, more in (
        ("strain", {}),
        ("pin", {"height": "55 in"}),
        ("built", {"offset": "1 in"}),
        ("rock", {"depth": "1 ft"}),
    ):
        if draw(st.integers(0, 3)) == 0:
            text += _table(wish, line="a", at=draw(station), **more)
    if draw(st.integers(0, 3)) == 0:
        text += _table("soil_zone", line="a", **{"from": "10 m", "to": "60 m"}, soil="peat", unstable="true")
    text += f'[fence]\nrails = {draw(st.sampled_from([1, 4]))}\nspacing_limit = "{draw(st.sampled_from([8, 12, 20]))} ft"\n'
    text += draw(st.sampled_from(["", 'line_posts = "driven"\n', 'line_posts = "concrete"\n']))
    return text + f'[brace]\nkind = "{draw(st.sampled_from(["diagonal", "horizontal", "none"]))}"\n'


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a folder with spot heights of hilly ground."""
    place = tmp_path_factory.mktemp("hills")
    rows = [
        f"{x},{y},{100 + 3 * math.sin(x / 15) * math.cos(y / 20) + 0.1 * x:.3f}"
        for x in range(-160, 161, 10)
        for y in range(-160, 161, 10)
    ]
    (place / "spots.csv").write_text("x_m,y_m,z_m\n" + "\n".join(rows) + "\n")
    return place


def assert_clear(made: Design, codes: set[str]) -> None:
    posts, braces = made.layout.posts, made.layout.braces
    for one in made.job.site.obstacles:
        is_area = one.geometry == "polygon"
        shape = (
            shapely.Point(one.xy_m[0])
            if len(one.xy_m) == 1
            else (shapely.Polygon if is_area else shapely.LineString)(one.xy_m)
        )
        reach = one.radius_m + one.clearance_m - 1e-3
        room = shapely.distance(shape, shapely.points(posts.x_m, posts.y_m)) - made.holes.bell_m / 2
        inside = (room < reach) & ~posts.is_built
        assert not inside.any() or "post-in-clearance" in codes
        told = {post.where.id for post in made.findings if post.code == "post-in-clearance"}
        given_place = [
            posts.why[row]
            for row in np.flatnonzero(inside & (posts.role == int(Role.LINE)))
            if post_id(int(row)) not in told
        ]
        assert all("pinned" in why or "rock" in why for why in given_place)
        feet = shapely.distance(shape, shapely.points(braces.x_m, braces.y_m)) - made.brace_holes.bell_m / 2
        assert not (feet[~braces.is_horizontal] < reach).any() or "brace-in-clearance" in codes


@given(text=jobs())
@settings(max_examples=30, suppress_health_check=[HealthCheck.too_slow])
def test_any_job_keeps_its_limits_or_says_why_not(folder: Path, text: str) -> None:
    try:
        made = design(job_from_text(text, folder))
    except InputError as refused:
        text = str(refused)
        made = None
    if made is None:
        assert text.startswith("job.toml: ")
        return
    codes = {one.code for one in made.findings}
    spans, lines = made.layout.spans, made.layout.lines
    along = np.mod(
        spans.to_station_m - spans.from_station_m, [lines[row].length_m for row in spans.line_index]
    )
    is_fence = spans.kind == int(SpanKind.FENCE)
    limit = made.job.settings.layout.spacing_limit_m
    assert (along[is_fence] <= limit + 1e-6).all() or "span-over-clearance" in codes
    assert_clear(made, codes)
    np.testing.assert_array_equal(spans.run_index >= 0, is_fence)
    assert np.isfinite(made.holes.concrete_m3).all()
    assert (made.holes.concrete_m3 >= 0).all()
    assert all(line.order + 1e-9 >= line.net + line.waste for line in made.order)
    assert len({line.id for line in made.order}) == len(made.order)
    xy = np.column_stack([made.layout.posts.x_m, made.layout.posts.y_m]).round(3)
    assert len(np.unique(xy, axis=0)) == len(xy)
