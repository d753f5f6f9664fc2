"""Sized first, drawn then, checked last: nothing that the first pass found is lost, and the tables agree."""

import re
from collections.abc import Callable

import numpy as np
import pytest

from fencewright.pipeline.pulling import tension_task
from fencewright.pipeline.record import Design, post_id
from fencewright.pipeline.why import explain
from fencewright.takeoff.pieces import span_vectors
from fencewright.tension.stage import pull_tensions

Made = Callable[[str], Design]
CLAY = (
    '[job]\nname = "x"\n[site]\nsoil = "clay"\nfrost_depth = "30 in"\n'
    '[[line]]\nname = "a"\npoints = [["0 ft", "0 ft"], ["300 ft", "0 ft"], ["420 ft", "155 ft"]]\n'
    '[[gate]]\nline = "a"\nat = "40 ft"\nopening = "12 ft"\n'
)
KNOWN = {
    "practice", "frost", "stated", "rock", "already set", "embedment", "uplift", "footing sideways", "footing tipping",
    "footing bearing", "stock length", "stated post by post",
}  # fmt: skip


@pytest.fixture
def clay(made: Made) -> Design:
    return made(CLAY)


def test_why_a_hole_was_enlarged_is_told(clay: Design) -> None:
    notes = [one for one in clay.findings if one.code == "footing-enlarged"]
    grown = {one for one in clay.holes.governs if one in ("embedment", "uplift")}
    assert grown
    for reason in grown:
        assert any(f"dug deeper for {reason}" in one.message for one in notes)
    assert any("brace footing" in one.message for one in notes)
    agreeing = r"(1 (hole is|brace footing is)|([2-9]|\d\d+) (holes are|brace footings are)) dug deeper"
    assert all(re.match(agreeing, one.message) for one in notes), [one.message for one in notes]


def test_every_size_says_what_governs_it(clay: Design) -> None:
    assert set(clay.holes.governs) <= KNOWN
    assert set(clay.brace_holes.governs) <= KNOWN
    assert clay.strength.sizes.governs == clay.holes.governs
    np.testing.assert_array_equal(clay.strength.sizes.depth_m, clay.holes.depth_m)
    np.testing.assert_array_equal(clay.strength.brace_sizes.depth_m, clay.brace_holes.depth_m)


@pytest.mark.parametrize(
    "more", ["", '[brace]\nkind = "none"\n', '[holes]\nend_depth = "40 in"\nbrace_depth = "40 in"\n']
)
def test_the_ends_that_are_kept_are_those_that_the_tension_was_drawn_between(made: Made, more: str) -> None:
    fence = made(CLAY + more)
    vector = span_vectors(fence.layout, fence.top_line.top_m)
    task = tension_task(fence.layout, vector, fence.strength.ends)
    again, _, _ = pull_tensions(task, fence.job.settings)
    np.testing.assert_array_equal(again.set_tension_n, fence.tension.set_tension_n)
    np.testing.assert_array_equal(again.window_high_n, fence.tension.window_high_n)
    np.testing.assert_array_equal(again.governs_high, fence.tension.governs_high)


FOALS = """[job]
name = "x"
[stock]
kept = ["foals"]
[site]
soil = "clay"
frost_depth = "48 in"
[[line]]
name = "a"
closed = true
points = [["0 ft", "0 ft"], ["330 ft", "0 ft"], ["330 ft", "264 ft"], ["180 ft", "300 ft"], ["0 ft", "264 ft"]]
[[gate]]
line = "a"
at = "0 ft"
opening = "14 ft"
"""


def test_a_corner_that_no_depth_holds_at_the_greatest_pull_is_dug_as_deep_as_can_be(made: Made) -> None:
    """Its rails are drawn to what it carries: at 49 in they got 41 lbf of the data sheet's 250, at 72 in all of them."""
    fence = made(FOALS)
    corner = next(
        row for row in np.flatnonzero(fence.layout.posts.is_fixed) if fence.layout.posts.station_m[row] > 100
    )
    assert fence.holes.depth_m[corner] == pytest.approx(72 * 0.0254)
    assert fence.holes.governs[corner] == "embedment"
    depth = next(one for one in explain(fence, post_id(int(corner))).reasons if one.name == "hole depth")
    assert {one.symbol: one.value for one in depth.inputs}["d_l"] == "none that can be dug"
    assert fence.may_be_built
    assert fence.tension.set_tension_n == pytest.approx(250 * 4.4482216152605)
    shallow = made(FOALS + '[[size]]\nline = "a"\nat = "330 ft"\ndepth = "49 in"\n')
    assert shallow.tension.set_tension_n.min() < 0.2 * 250 * 4.4482216152605
    assert "tension-low" in {one.code for one in shallow.findings}


def test_a_line_post_that_no_depth_holds_stays(made: Made) -> None:
    """Wind, not the rails' pull, is too much for it: no depth mends that, and a stop says so."""
    fence = made(CLAY + '[strength]\nwind_speed = "200 mph"\n[posts]\nline_lengths = ["20 ft"]\n')
    lost = ~fence.layout.posts.is_fixed & (fence.strength.utilisation > 1)
    assert lost.any()
    assert set(np.array(fence.holes.governs)[lost]) == {"practice"}


def test_what_no_depth_made_strong_enough_is_a_stop_that_names_the_depth(made: Made) -> None:
    """An end without a brace: at the greatest tension no hole holds it, at the one chosen a deeper hole would."""
    fence = made(CLAY + '[brace]\nkind = "none"\n[strength]\ndeepest = "44 in"\n')
    assert not fence.may_be_built
    assert all(one.remedy for one in fence.findings if one.level == "stop")
