"""A fence in words to a job file: its length, corners and gates are those that were said."""

import math
import tomllib
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LinearRing, LineString

from fencewright.findings import InputError
from fencewright.job.reading import parse_job
from fencewright.job.rough_call import (
    RoughCall,
    check_call,
    gate_stations,
    outline,
    rough_job_text,
    shared_out,
)


def call(**changes: object) -> RoughCall:
    values: dict[str, object] = {
        "length_m": (400.0,), "corners": 4, "gates": 1, "gate_m": 3.6, "strands": 4, "rail": "polymer rail",
        "is_closed": True, "soil": "clay", "frost_m": 1.0,
    }  # fmt: skip
    return RoughCall(**{**values, **changes})  # type: ignore[arg-type]  # by name


def turns(points: list[tuple[float, float]], is_closed: bool) -> list[float]:
    """Turn at each vertex within the line. [deg]"""
    xy = np.array([*points, *points[:2]] if is_closed else points)
    headings = np.unwrap(np.arctan2(*np.diff(xy, axis=0).T[::-1]))
    return [float(one) for one in np.degrees(np.diff(headings))]


@given(st.floats(10, 5000), st.integers(3, 12))
def test_a_closed_line_has_its_length_and_corners(length_m: float, corners: int) -> None:
    points = outline(length_m, corners, True)
    ring = LinearRing(points)
    assert ring.length == pytest.approx(length_m)
    assert ring.is_simple
    found = turns(points, True)
    assert len(found) == corners
    assert min(found) >= 20  # a corner by practice
    assert sum(found) == pytest.approx(360)


@given(st.floats(10, 5000), st.integers(0, 12))
def test_an_open_line_has_its_length_and_corners_and_never_crosses_itself(
    length_m: float, corners: int
) -> None:
    points = outline(length_m, corners, False)
    line = LineString(points)
    assert line.length == pytest.approx(length_m)
    assert line.is_simple
    assert len(points) == corners + 2
    assert all(one >= 20 - 1e-6 for one in turns(points, False))


@given(st.integers(0, 40), st.lists(st.floats(1, 1000), min_size=1, max_size=6))
def test_what_is_shared_out_adds_up(count: int, lengths: list[float]) -> None:
    shares = shared_out(count, tuple(lengths))
    assert sum(shares) == count
    assert all(
        abs(share - count * one / sum(lengths)) < 1 + 1e-6 for share, one in zip(shares, lengths, strict=True)
    )


def test_gates_stand_on_the_longest_sides_and_apart() -> None:
    points = outline(300.0, 4, True)
    stations = gate_stations(points, True, 3, 4.0)
    assert stations == pytest.approx([50 - 2, 100 + 25 - 2, 150 + 50 - 2])
    assert gate_stations(points, True, 0, 4.0) == []


def test_gates_keep_clear_of_corners_and_of_one_another() -> None:
    points = outline(200.0, 3, True)
    stations = gate_stations(points, True, 6, 4.0)
    sides = np.cumsum([0.0, *(math.dist(a, b) for a, b in pairwise([*points, points[0]]))])
    spans = [(at, at + 4.0) for at in stations]
    assert all(not (low < corner < high) for low, high in spans for corner in sides)
    assert all(a[1] < b[0] for a, b in pairwise(spans))


def test_the_job_says_what_the_call_says() -> None:
    text = rough_job_text(
        call(length_m=(300.0, 100.0), gates=3, corners=7, terms=(("overhead", '12 %"'),), sheets="metric")
    )
    data = tomllib.loads(text)
    assert data["price"]["overhead"] == '12 %"'  # written as text, never as TOML
    job = parse_job(text.replace('12 %\\"', "12 %"))
    assert [len(line.points or ()) for line in job.line] == [5, 2] or [line.closed for line in job.line] == [
        True,
        True,
    ]
    assert [gate.line for gate in job.gate] == ["line 1", "line 1", "line 2"]
    assert (job.fence.rails, job.site.soil, job.site.frost_depth, job.job.sheets) == (
        4,
        "clay",
        1.0,
        "metric",
    )


def test_lines_that_have_nothing_to_do_with_one_another_stand_apart() -> None:
    job = parse_job(rough_job_text(call(length_m=(300.0, 300.0, 50.0), corners=9, gates=0)))
    shapes = [LineString(line.points or ()) for line in job.line]
    assert min(a.distance(b) for k, a in enumerate(shapes) for b in shapes[k + 1 :]) > 50


@pytest.mark.parametrize(
    ("changes", "item"),
    [
        ({"length_m": ()}, "--length"),
        ({"length_m": (0.0,)}, "--length"),
        ({"length_m": (math.inf,)}, "--length"),
        ({"length_m": (30_000.0,)}, "--length"),
        ({"length_m": (5.0,)}, "--length"),
        ({"corners": 13}, "--corners"),
        ({"corners": -1, "is_closed": False}, "--corners"),
        ({"corners": 2}, "--corners"),
        ({"gates": 51}, "--gates"),
        ({"gates": -1}, "--gates"),
        ({"gate_m": 0.2}, "--gate-width"),
        ({"strands": 0}, "--strands"),
        ({"strands": 13}, "--strands"),
    ],
)
def test_what_no_fence_can_be_is_one_sentence(changes: dict[str, object], item: str) -> None:
    with pytest.raises(InputError) as caught:
        check_call(call(**changes))
    assert caught.value.item == item


def test_too_many_gates_are_refused() -> None:
    with pytest.raises(InputError, match="do not fit"):
        rough_job_text(call(length_m=(40.0,), gates=12))
