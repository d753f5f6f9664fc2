"""Least bend radius of a rail, at turning posts and on the spool."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from fencewright.findings import Finding
from fencewright.pipeline.bending import bending_findings
from fencewright.pipeline.record import Design

Made = Callable[[str], Design]
INCH = 0.0254
HEAD = '[job]\nname = "x"\n[site]\nsoil = "sand"\nfrost_depth = "30 in"\n'
# a bend of 14 degrees, then a corner of 90
LINE = '[[line]]\nname = "a"\npoints = [["0 ft", "0 ft"], ["120 ft", "0 ft"], ["240 ft", "30 ft"], ["210 ft", "150 ft"]]\n'


def said(fence: Design, radius_in: float) -> list[Finding]:
    settings = fence.job.settings
    strands = tuple(
        replace(one, rail=replace(one.rail, least_bend_radius_m=radius_in * INCH)) for one in settings.strands
    )
    return bending_findings(
        replace(fence, job=replace(fence.job, settings=replace(settings, strands=strands)))
    )


@pytest.fixture
def fence(made: Made) -> Design:
    """Posts of 6 in with brackets of 1 in: the rail turns at a radius of 4 in."""
    return made(HEAD + LINE)


def test_a_rail_that_may_be_bent_so_is_not_mentioned(fence: Design) -> None:
    assert not bending_findings(fence)
    assert not [one for one in said(fence, 3.99) if one.code == "rail-bent-at-post"]
    assert not said(fence, 0.5)


def test_a_corner_is_a_stop_and_a_bend_a_caution(fence: Design) -> None:
    found = [one for one in said(fence, 4.5) if one.code == "rail-bent-at-post"]
    assert [one.level for one in found] == ["stop", "caution"]
    corner, bend = (one.where.station_m or 0.0 for one in found)
    assert corner > bend
    assert "radius of 4 in" in found[0].message
    assert "1/2 in more" in found[0].message


def test_the_edit_of_a_thicker_post_mends_it(made: Made, fence: Design) -> None:
    stop = said(fence, 4.5)[0]
    assert stop.edits[0] == {"path": ["posts", "end_diameter"], "value": "7 in"}
    thicker = made(HEAD + LINE + '[posts]\nend_diameter = "7 in"\n')
    assert not [one for one in said(thicker, 4.5) if one.code == "rail-bent-at-post"]


def test_where_no_post_is_thick_enough_a_bracket_is_named(made: Made, fence: Design) -> None:
    stop = said(fence, 12.0)[0]
    assert stop.edits[0] == {"path": ["tension", "corner_bracket"], "value": "9 in"}
    assert "two bends" in stop.remedy
    wide = made(HEAD + LINE + '[tension]\ncorner_bracket = "9 in"\n')
    assert not [one for one in said(wide, 12.0) if one.code == "rail-bent-at-post"]


def test_the_spool_is_looked_at_as_well(fence: Design) -> None:
    """A bare spool of 1 in winds to half an inch."""
    (caution,) = [one for one in said(fence, 0.75) if one.code == "rail-bent-on-spool"]
    assert caution.level == "caution"
    assert '[tension] spool_core = "1.5 in"' in caution.remedy
