"""An open end that almost reaches another line is told; one that joins, is far, or stands at a gate is not."""

from collections.abc import Callable

import pytest

from fencewright.pipeline.record import Design

Laid = Callable[..., Design]
SQUARE = ([(0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)], "closed = true")
GATE = '[[gate]]\nline = "{}"\nat = "{} m"\nopening = "3 m"\n'


def said(made: Design) -> list[str]:
    return [one.message for one in made.findings if one.code == "end-near-line"]


@pytest.mark.parametrize(
    ("short_m", "count"), [(0.0, 0), (0.2, 0), (0.32, 1), (1.27, 1), (2.39, 1), (2.45, 0), (6.0, 0)]
)
def test_an_end_short_of_the_outer_fence(laid: Laid, short_m: float, count: int) -> None:
    made = laid({"outer": SQUARE, "b": [(30.0, 0.0), (30.0, 40.0 - short_m)]})
    assert len(said(made)) == count


def test_it_names_the_end_the_gap_and_where_to_join(laid: Laid) -> None:
    made = laid({"outer": SQUARE, "b": [(30.0, 0.0), (30.0, 38.73)]})
    (found,) = [one for one in made.findings if one.code == "end-near-line"]
    assert found.level == "caution"
    assert found.message.startswith('The last point of line "b" stands 1.27 m from line "outer"')
    assert 'onto "outer" at its station 130.000 m: within 305 mm' in found.remedy
    assert (found.where.kind, found.where.id) == ("line", "b")
    assert found.where.station_m == pytest.approx(38.73)


def test_two_ends_that_face_each_other_are_told_once(laid: Laid) -> None:
    assert len(said(laid({"a": [(0.0, 0.0), (30.0, 0.0)], "b": [(31.0, 0.0), (60.0, 0.0)]}))) == 1
    assert len(said(laid({"a": [(30.0, 0.0), (0.0, 0.0)], "b": [(60.0, 0.0), (31.0, 0.0)]}))) == 1


def test_the_order_of_the_lines_does_not_matter(laid: Laid) -> None:
    assert len(said(laid({"b": [(30.0, 0.0), (30.0, 38.73)], "outer": SQUARE}))) == 1


def test_an_end_at_a_gate_is_meant(laid: Laid) -> None:
    short = {"outer": SQUARE, "b": [(30.0, 0.0), (30.0, 38.73)]}
    assert not said(laid(short, GATE.format("outer", 128.5)))
    assert not said(laid(short, GATE.format("b", 38.73 - 3 - 0.1524)))


def test_an_end_that_a_third_line_holds_is_closed(laid: Laid) -> None:
    lines = {"outer": SQUARE, "b": [(30.0, 0.0), (30.0, 38.73)], "c": [(45.0, 0.0), (30.0, 38.73)]}
    assert not said(laid(lines))


def test_a_stub_beyond_a_crossing_of_lines_is_told_as_that(laid: Laid) -> None:
    made = laid({"outer": SQUARE, "b": [(30.0, 0.0), (30.0, 41.0)]})
    assert not said(made)
    assert "lines-cross" in [one.code for one in made.findings]
