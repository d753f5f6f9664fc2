"""What the layout refuses or has to say is told in the units of the job's sheets."""

import re
from collections.abc import Callable

import pytest

from fencewright.findings import InputError
from fencewright.pipeline.record import Design

Laid = Callable[..., Design]
SIDE = [(0.0, 0.0), (60.0, 0.0)]
CORNER = [(0.0, 0.0), (60.0, 0.0), (60.0, 40.0)]
ZIGZAG = [(0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (80.0, 30.0), (80.0, 60.0)]
GATE = '[[gate]]\nline = "a"\nat = "{}"\nopening = "{}"\n'
FEET, METRES = re.compile(r"\d (ft|in|mi)\b(?! one job)"), re.compile(r"\d (m|mm|km)\b")


def told_in(sheets: str, text: str) -> bool:
    """Whether a sentence gives lengths, and only in the units of those sheets."""
    own, other = (FEET, METRES) if sheets == "us" else (METRES, FEET)
    return bool(own.search(text)) and not other.search(text)


@pytest.mark.parametrize("sheets", ["us", "metric"])
@pytest.mark.parametrize(
    ("points", "more", "what"),
    [
        (SIDE, '[[strain]]\nline = "a"\nat = "61 m"\n', "lies beyond the end"),
        (SIDE, '[[built]]\nline = "a"\nat = "20 m"\noffset = "9 m"\n', "beside the line"),
        (SIDE, "".join(f'[[pin]]\nline = "a"\nat = "{at} m"\nheight = "1.4 m"\n' for at in (12, 12.03)),
         "mean the same post"),
        (SIDE, GATE.format("58 m", "4 m"), "beyond the end of line"),
        (SIDE, GATE.format("20 m", "4 m") + GATE.format("22 m", "4 m"), "it overlaps"),
        (CORNER, GATE.format("58 m", "4 m"), "a post must stand at station"),
        ([(0.0, 0.0), (60.0, 40.0), (60.0, 0.0), (0.0, 40.0)], "", "crosses or touches itself"),
        ([(0.0, 0.0), (3e7, 0.0)], "", "of fence would take"),
    ],
)  # fmt: skip
def test_a_refusal(laid: Laid, sheets: str, points: list[tuple[float, float]], more: str, what: str) -> None:
    with pytest.raises(InputError, match=what) as caught:
        laid({"a": points}, more, sheets=sheets)
    assert told_in(sheets, str(caught.value)), str(caught.value)


@pytest.mark.parametrize("sheets", ["us", "metric"])
@pytest.mark.parametrize(
    ("fence", "what"),
    [
        ('spacing_limit = "0.2 m"', "cannot be dug"),
        ('pull_length_limit = "1 m"', "has no room between its end posts"),
        ('top_height = "0.5 m"\nbottom_gap = "0.3 m"', "they need"),
    ],
)
def test_a_number_that_cannot_be(laid: Laid, sheets: str, fence: str, what: str) -> None:
    with pytest.raises(InputError, match=what) as caught:
        laid({"a": SIDE}, "", fence, sheets=sheets)
    assert told_in(sheets, str(caught.value)), str(caught.value)


@pytest.mark.parametrize("sheets", ["us", "metric"])
@pytest.mark.parametrize(
    ("lines", "more", "code"),
    [
        ({"a": SIDE, "b": [(30.0, -20.0), (30.0, 20.0)]}, "", "lines-cross"),
        ({"a": SIDE, "b": [(0.0, 0.0), (30.0, 0.0)]}, "", "lines-overlap"),
        ({"a": (SIDE, 'drawn = "rail face"')}, "", "line-offset"),
        ({"a": (CORNER, 'drawn = "boundary"\ninside = "left"')}, "", "line-offset"),
        ({"a": ([(0.0, 0.0), (30.0, 0.004), (60.0, 0.0)], 'straighten = "10 mm"')}, "", "points-left-out"),
        ({"a": [(0.0, 0.0), (30.0, 0.0), (30.2, 0.2), (60.0, 40.0)]}, "", "bends-merged"),
    ],
)
def test_a_finding(laid: Laid, sheets: str, lines: dict[str, object], more: str, code: str) -> None:
    made = laid(lines, more, sheets=sheets)
    (said,) = [one.message for one in made.findings if one.code == code]
    assert told_in(sheets, said), said


def test_one_turning_point_is_spoken_of_as_one(laid: Laid) -> None:
    made = laid({"a": [(0.0, 0.0), (30.0, 0.0), (30.2, 0.2), (60.0, 40.0)]})
    (said,) = [one.message for one in made.findings if one.code == "bends-merged"]
    assert said.startswith("1 turning point stands nearer")
    assert said.endswith("and shares its post.")


@pytest.mark.parametrize(("sheets", "at"), [("us", "229.66 ft"), ("metric", "70.000 m")])
def test_the_edit_that_ends_the_rail_is_written_as_the_job_is(laid: Laid, sheets: str, at: str) -> None:
    (found,) = [
        one for one in laid({"a": ZIGZAG}, sheets=sheets).findings if one.code == "rail-leaves-corner"
    ]
    assert f'at = "{at}"' in found.remedy
    assert f"at {at} by" in found.message
    assert (found.where.kind, found.where.id) == ("line", "a")
    assert found.edits == ({"path": ["strain"], "append": {"line": "a", "at": at}},)


@pytest.mark.parametrize(("sheets", "longest"), [("us", "656.2 ft"), ("metric", "200.00 m")])
def test_why_a_long_run_is_divided(laid: Laid, sheets: str, longest: str) -> None:
    made = laid({"a": [(0.0, 0.0), (390.0, 0.0)]}, "", 'pull_length_limit = "200 m"', sheets=sheets)
    why = [text for text in made.layout.posts.why if "longer than one pull" in text]
    assert why
    assert all(longest in text and told_in(sheets, text) for text in why)


@pytest.mark.parametrize(("sheets", "roll"), [("us", "rolls of 49.2 ft"), ("metric", "rolls of 15.00 m")])
def test_a_pull_that_no_roll_makes(laid: Laid, sheets: str, roll: str) -> None:
    """No piece may be shorter than 14.9 m, and none is longer than a roll of 15 m: 40 m is no sum of such."""
    rolls = '[rolls]\nlength = "15 m"\nleast_fragment = "14.9 m"\n'
    made = laid({"a": [(0.0, 0.0), (40.0, 0.0)]}, rolls, sheets=sheets)
    said = [one.message for one in made.findings if one.code == "pull-cannot-be-cut"]
    assert said
    assert all(roll in one and told_in(sheets, one) for one in said), said
