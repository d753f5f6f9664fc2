"""Depths of the finished holes: too deep to dig, and how far rock stopped them."""

from collections.abc import Callable

import numpy as np
import pytest

from fencewright.findings import STOP, Finding
from fencewright.pipeline.record import Design
from fencewright.tables.fence import Role

Made = Callable[[str], Design]
INCH = 0.0254
LINE = '[[line]]\nname = "a"\npoints = [["0 ft", "0 ft"], ["300 ft", "0 ft"], ["420 ft", "155 ft"]]\n'
LONG = '[posts]\nline_lengths = ["9 ft", "10 ft"]\nend_lengths = ["12 ft", "13 ft"]\n'


def head(frost: str) -> str:
    return f'[job]\nname = "x"\n[site]\nsoil = "sand"\nfrost_depth = "{frost}"\n'


def said(made: Design, code: str) -> list[Finding]:
    return [one for one in made.findings if one.code == code]


def test_frost_that_asks_for_more_than_can_be_dug_is_a_stop(made: Made) -> None:
    """Frost at 80 in makes end holes of 81 in; 72 in is as deep as the auger digs by default."""
    fence = made(head("80 in") + LINE + LONG)
    posts, braces = said(fence, "hole-too-deep")
    assert (posts.level, braces.level) == (STOP, STOP)
    assert "P1 and 2 more goes 81 in down" in posts.message
    assert "72 in" in posts.message
    assert "B1 and" in braces.message
    assert "[strength] deepest" in posts.remedy
    assert not said(made(head("80 in") + LINE + LONG + '[strength]\ndeepest = "81 in"\n'), "hole-too-deep")


@pytest.mark.parametrize("frost", ["30 in", "71 in"])
def test_holes_that_can_be_dug_are_no_stop(made: Made, frost: str) -> None:
    assert not said(made(head(frost) + LINE + LONG), "hole-too-deep")


def test_a_post_already_set_is_as_deep_as_it_is(made: Made) -> None:
    built = '[[built]]\nline = "a"\nat = "0 ft"\ndepth = "81 in"\n'
    assert not said(made(head("30 in") + LINE + LONG + built), "hole-too-deep")


def test_rock_is_counted_from_the_depth_that_the_loads_ask_for(made: Made) -> None:
    """Line posts beside it are dug deeper than practice has it; so would this one be."""
    rock = '[[rock]]\nline = "a"\nat = "96 ft"\ndepth = "20 in"\n'
    fence = made(head("30 in").replace("sand", "clay") + LINE + LONG + rock)
    (row,) = np.flatnonzero(np.isfinite(fence.layout.posts.rock_depth_m)).tolist()
    least = float(fence.strength.sizes.least_depth_m[row])
    assert Role(int(fence.layout.posts.role[row])) is Role.LINE
    assert least > 30 * INCH  # deeper than practice: else this test shows nothing
    (finding,) = said(fence, "hole-meets-rock")
    told = float(finding.message.split(" above its depth of ")[1].removesuffix(" in."))
    assert told * INCH >= least - 1e-6
    assert f"{told - 20:.0f} in above" in finding.message
