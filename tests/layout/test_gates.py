"""Gates and crossings: their two posts, their leaf, the arc over rising ground, and where none may be."""

from collections.abc import Callable

import numpy as np
import pytest

from fencewright.findings import Finding, InputError
from fencewright.pipeline.record import Design
from fencewright.tables.fence import Role, SpanKind

Laid = Callable[..., Design]
SQUARE = [(0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)]
STRAIGHT = [(0.0, 0.0), (60.0, 0.0)]
CLOSED = "closed = true"
INCH, FOOT = 0.0254, 0.3048


def gate(at: str, opening: str = "12 ft", more: str = "", line: str = "a") -> str:
    return f'[[gate]]\nline = "{line}"\nat = "{at}"\nopening = "{opening}"\n{more}\n'


def crossing(at: str, width: str) -> str:
    return f'[[crossing]]\nline = "a"\nat = "{at}"\nwidth = "{width}"\n'


def found(made: Design, code: str) -> list[Finding]:
    return [one for one in made.findings if one.code == code]


def test_posts_stand_a_diameter_further_apart_than_the_opening(laid: Laid) -> None:
    openings = laid({"a": STRAIGHT}, gate("20 m")).layout.openings
    layout = laid({"a": STRAIGHT}, gate("20 m")).layout
    a, b = int(openings.from_post[0]), int(openings.to_post[0])
    assert layout.posts.x_m[b] - layout.posts.x_m[a] == pytest.approx(12 * FOOT + 6 * INCH)
    assert {int(layout.posts.role[k]) for k in (a, b)} == {int(Role.GATE)}
    assert int(layout.spans.kind[openings.span_index[0]]) == int(SpanKind.GATE)


def test_the_rail_ends_on_both_sides_of_a_gate(laid: Laid) -> None:
    layout = laid({"a": STRAIGHT}, gate("20 m")).layout
    assert layout.runs.to_post[0] == layout.openings.from_post[0]
    assert layout.runs.from_post[1] == layout.openings.to_post[0]
    assert layout.spans.run_index[layout.openings.span_index[0]] == -1
    assert len(layout.braces) == 4


@pytest.mark.parametrize(("opening", "leaf_ft"), [("12 ft", 11.5), ("16 ft", 15.5), ("10 in", 5 / 12)])
def test_a_leaf_leaves_room_for_hinge_and_latch(laid: Laid, opening: str, leaf_ft: float) -> None:
    """Common practice, no source: a 12 ft opening takes an 11.5 ft leaf; never less than half of it."""
    made = laid({"a": STRAIGHT}, gate("20 m", opening))
    assert made.layout.openings.leaf_m[0] == pytest.approx(leaf_ft * FOOT)


def test_a_stated_leaf_is_kept_and_checked(laid: Laid) -> None:
    assert laid({"a": STRAIGHT}, gate("20 m", "4 m", 'leaf = "3.9 m"')).layout.openings.leaf_m[0] == 3.9
    made = laid({"a": STRAIGHT}, gate("20 m", "4 m", 'leaf = "4.2 m"'))
    stop = found(made, "leaf-too-long")[0]
    assert (stop.level, stop.where.id) == ("stop", "gate 1")
    assert "4.20 m does not pass between posts 4.00 m apart" in stop.message


@pytest.mark.parametrize(("hinge", "index"), [("near", 0), ("far", 1)])
def test_the_hinge_post(laid: Laid, hinge: str, index: int) -> None:
    openings = laid({"a": STRAIGHT}, gate("20 m", more=f'hinge = "{hinge}"')).layout.openings
    assert openings.hinge_post[0] == (openings.from_post[0], openings.to_post[0])[index]


def rising(side: int) -> Callable[[float, float], float]:
    """Ground that rises 1 in 5 on one side of the line at y = 0: +1 left of it."""
    return lambda _, y: max(0.0, side * y) * 0.2


@pytest.mark.parametrize("hinge", ["near", "far"])
@pytest.mark.parametrize(("side", "name", "other"), [(1, "left", "right"), (-1, "right", "left")])
def test_a_leaf_that_meets_rising_ground(laid: Laid, hinge: str, side: int, name: str, other: str) -> None:
    """Sides are seen along the line, whichever post carries the hinge; the edit swings it the other way."""
    more = gate("20 m", "4 m", f'hinge = "{hinge}"\nswing = "{name}"')
    made = laid({"a": STRAIGHT}, more, height=rising(side))
    caution = found(made, "gate-swing")[0]
    leaf = 4.0 - 6 * INCH
    over = leaf * 0.2 - (made.job.settings.bottom_gap_m - 3 * INCH)  # the leaf's tip, a quarter turn open
    assert f"swinging {name} meets ground {over * 1000:.0f} mm too high" in caution.message
    assert caution.edits == ({"path": ["gate", 0, "swing"], "value": other},)
    mended = laid(
        {"a": STRAIGHT}, more.replace(f'swing = "{name}"', f'swing = "{other}"'), height=rising(side)
    )
    assert not found(mended, "gate-swing")


def test_a_leaf_that_swings_both_ways_is_checked_both_ways(laid: Laid) -> None:
    made = laid({"a": STRAIGHT}, gate("20 m", "4 m", 'swing = "both"'), height=lambda _, y: abs(y) * 0.2)
    assert ["left" in one.message for one in found(made, "gate-swing")] == [True, False]
    assert not any(one.edits for one in found(made, "gate-swing"))


def test_a_gate_on_falling_ground_swings_free(laid: Laid) -> None:
    made = laid({"a": STRAIGHT}, gate("20 m", "4 m", 'swing = "left"'), height=lambda _, y: -abs(y) * 0.2)
    assert not found(made, "gate-swing")


def test_a_crossing_spans_between_post_centres(laid: Laid) -> None:
    layout = laid({"a": STRAIGHT}, crossing("20 m", "8 m")).layout
    a, b = int(layout.openings.from_post[0]), int(layout.openings.to_post[0])
    assert (layout.posts.x_m[a], layout.posts.x_m[b]) == (20.0, 28.0)
    assert {int(layout.posts.role[k]) for k in (a, b)} == {int(Role.CROSSING)}
    assert np.isnan(layout.openings.leaf_m[0])


def test_a_gate_may_start_at_a_corner_and_end_at_one(laid: Laid) -> None:
    made = laid({"a": (SQUARE, CLOSED)}, gate("60 m"))
    assert len(made.layout.runs) == 1
    other = laid({"a": (SQUARE, CLOSED)}, gate(f"{60 - 12 * FOOT - 6 * INCH} m"))
    assert other.pulls.length_m.tolist() == pytest.approx(made.pulls.length_m.tolist())


def test_a_gate_may_pass_the_first_point_of_a_closed_line(laid: Laid) -> None:
    """Station 0 lies mid-leg: the gate's posts stand on both sides of it."""
    points = [(30.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0), (0.0, 0.0)]
    layout = laid({"a": (points, CLOSED)}, gate("198 m")).layout
    a, b = int(layout.openings.from_post[0]), int(layout.openings.to_post[0])
    assert layout.posts.x_m[a] == pytest.approx(28.0)
    assert layout.posts.x_m[b] == pytest.approx(28.0 + 12.5 * FOOT)
    assert layout.runs.to_post[-1] == a
    assert layout.runs.from_post[0] == b


def test_two_gates_may_share_a_post(laid: Laid) -> None:
    layout = laid({"a": STRAIGHT}, gate("20 m", "4 m") + gate(f"{24 + 6 * INCH} m", "4 m")).layout
    assert layout.openings.to_post[0] == layout.openings.from_post[1]
    assert (layout.posts.role == int(Role.GATE)).sum() == 3


@pytest.mark.parametrize(
    ("more", "item", "sentence"),
    [
        (gate("58 m"), "gate 1", "the line turns 90.0 deg left"),
        (gate("0 m", "70 m"), "gate 1", "at station 60.00 m"),
        (gate("198 m"), "gate 1", "at station 0.00 m"),
        (gate("10 m") + gate("12 m"), "gate 2", "overlaps gate 1 by 1.81 m"),
        (gate("10 m", "12 ft", 'name = "main"') + crossing("13 m", "5 m"), "crossing 1", "overlaps main by 0.81 m"),
        (gate("500 m"), "gate 1", "beyond the end of line"),
        (gate("10 m", "0 m"), "gate 1", "more than nothing"),
        (crossing("10 m", "0.1 m"), "crossing 1", "more than a post"),
        (gate("10 m", line="b"), "gate 1", 'there is no line "b"; lines: a'),
        (gate("10 m") + '[[pin]]\nline="a"\nat="12 m"\n', "gate 1", "pinned in the job"),
        (gate("10 m") + '[[strain]]\nline="a"\nat="12 m"\n', "gate 1", "the job ends the rail here"),
        (gate("10 m") + '[[built]]\nline="a"\nat="12 m"\n', "gate 1", "already set"),
        (gate("10 m") + '[[rock]]\nline="a"\nat="12 m"\ndepth="1 ft"\n', "gate 1", "the hole met rock"),
    ],
)  # fmt: skip
def test_where_no_opening_can_be(laid: Laid, more: str, item: str, sentence: str) -> None:
    with pytest.raises(InputError) as refused:
        laid({"a": (SQUARE, CLOSED)}, more)
    assert refused.value.item == item
    assert sentence in refused.value.what


def test_a_gate_beyond_the_end_of_an_open_line(laid: Laid) -> None:
    with pytest.raises(InputError, match=r"ends 1.81 m beyond the end of line"):
        laid({"a": STRAIGHT}, gate("58 m"))


def test_a_gate_longer_than_its_side_is_at_fault_and_not_the_crossing_in_it(laid: Laid) -> None:
    with pytest.raises(InputError, match=r"gate 1: it needs .* post must stand at station 60\.00 m"):
        laid({"a": (SQUARE, CLOSED)}, gate("20 m", "70 m") + crossing("40 m", "5 m"))


def test_a_gate_longer_than_its_closed_line(laid: Laid) -> None:
    ring = [(20 * np.cos(a), 20 * np.sin(a)) for a in np.arange(400) * 2 * np.pi / 400]
    with pytest.raises(InputError, match="is longer than line"):
        laid({"a": (ring, CLOSED)}, gate("5 m", "130 m"))


def test_a_tee_inside_a_gate_is_refused(laid: Laid) -> None:
    with pytest.raises(InputError, match='shared with line "b"'):
        laid({"a": STRAIGHT, "b": [(22.0, 0.0), (22.0, 30.0)]}, gate("20 m", "4 m"))
