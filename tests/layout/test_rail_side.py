"""The rail presses on every post that it turns round, or the design stops and says which edit mends it."""

import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fencewright.findings import Finding
from fencewright.pipeline.record import Design
from fencewright.takeoff.pieces import rail_points

Laid = Callable[..., Design]
ZIGZAG = [(0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (80.0, 30.0), (80.0, 60.0)]  # left, right, left


def leaving(made: Design) -> list[Finding]:
    return [one for one in made.findings if one.code.startswith("rail-leaves")]


def tables(edits: tuple[Any, ...]) -> str:
    """Edits that append a table, as text of the job file."""
    text = ""
    for edit in edits:
        assert edit["path"] == ["strain"]
        text += "[[strain]]\n" + "".join(f'{key} = "{value}"\n' for key, value in edit["append"].items())
    return text


def presses(made: Design) -> bool:
    """Whether the rail pushes toward its post at every turning post of every run, from the rail's own points."""
    layout, points = made.layout, rail_points(made.layout.posts)
    xy = np.column_stack([layout.posts.x_m, layout.posts.y_m])
    for run in range(len(layout.runs)):
        for span in range(int(layout.runs.from_span[run]) + 1, int(layout.runs.to_span[run])):
            before, here, after = (
                layout.spans.from_post[span - 1], layout.spans.from_post[span], layout.spans.to_post[span],
            )  # fmt: skip
            if abs(layout.posts.turning_rad[here]) < 1e-6:
                continue
            into, out = points[here] - points[before], points[after] - points[here]
            pull = out / np.hypot(*out) - into / np.hypot(*into)
            if pull @ (xy[here] - points[here]) <= 0:
                return False
    return True


def test_a_paddock_is_pressed_from_outside(laid: Laid) -> None:
    square = [(0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)]
    for points in (square, square[::-1]):
        made = laid({"a": (points, "closed = true")})
        assert not leaving(made)
        assert presses(made)


def test_a_line_that_turns_both_ways_is_stopped_and_its_edit_mends_it(laid: Laid) -> None:
    made = laid({"a": ZIGZAG})
    found = leaving(made)
    assert [(one.level, one.code) for one in found] == [("stop", "rail-leaves-corner")]
    assert "turns right at 70.000 m by 90.0 deg" in found[0].message
    assert found[0].where.station_m == pytest.approx(70.0)
    assert 'at = "70.000 m"' in found[0].remedy
    assert not presses(made)
    mended = laid({"a": ZIGZAG}, tables(found[0].edits))
    assert not leaving(mended)
    assert presses(mended)
    assert len(mended.layout.runs) == 2
    assert not mended.layout.runs.rail_side.any() or set(mended.layout.runs.rail_side) <= {-1, 0, 1}


def test_an_s_of_equal_turns_keeps_the_side_of_its_line_posts(laid: Laid) -> None:
    bend = [(0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (80.0, 30.0)]
    stations = [
        leaving(laid({"a": (bend, f'rail_side = "{side}"')}))[0].where.station_m for side in ("left", "right")
    ]
    assert stations == pytest.approx([40.0, 70.0])


def test_a_bend_is_only_a_caution(laid: Laid) -> None:
    turn = math.radians(15)
    bend = (40 + 30 * math.cos(turn), 30 * math.sin(turn))
    made = laid({"a": [(0.0, 0.0), (40.0, 0.0), bend, (bend[0] + 30, bend[1]), (bend[0] + 30, bend[1] + 40)]})
    found = leaving(made)
    assert [(one.level, one.code) for one in found] == [("caution", "rail-leaves-bend")]
    assert "turns right at 70.000 m by 15.0 deg" in found[0].message
    assert not leaving(
        laid(
            {"a": [(0.0, 0.0), (40.0, 0.0), bend, (bend[0] + 30, bend[1]), (bend[0] + 30, bend[1] + 40)]},
            tables(found[0].edits),
        )
    )


def test_an_inside_corner_of_a_closed_line(laid: Laid) -> None:
    notch = [(0.0, 0.0), (60.0, 0.0), (60.0, 60.0), (40.0, 60.0), (40.0, 30.0), (0.0, 30.0)]
    made = laid({"a": (notch, "closed = true")})
    found = leaving(made)
    assert [one.where.station_m for one in found] == pytest.approx([60 + 60 + 20 + 30])
    assert not leaving(laid({"a": (notch, "closed = true")}, tables(found[0].edits)))


TURNS = st.lists(st.sampled_from([-100, -60, -30, -10, 10, 30, 60, 100]), min_size=1, max_size=5)


@given(turns=TURNS)
@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_line_is_mended_by_its_edits(laid: Laid, tmp_path: Path, turns: list[int]) -> None:
    """A line of ever longer legs never crosses itself; after a few rounds of its own edits every post is pressed."""
    points, heading = [(0.0, 0.0), (30.0, 0.0)], 0.0
    for number, turn in enumerate(turns):
        heading += math.radians(turn)
        heading = max(min(heading, 1.6), -1.6)
        points.append(
            (points[-1][0] + 30 * math.cos(heading), points[-1][1] + (30 + number) * math.sin(heading))
        )
    edits = ""
    for _ in range(len(turns) + 1):
        made = laid({"a": points}, edits)
        if not leaving(made):
            break
        edits += tables(leaving(made)[0].edits)
    assert not leaving(made)
    assert presses(made)
