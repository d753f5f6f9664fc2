"""Braces grow to the thinnest stock that the greatest pull allows, and only where the job states none."""

from collections.abc import Callable

import pytest

from fencewright.pipeline.record import Design
from fencewright.pipeline.why import explain
from fencewright.quantity.parse import INCH_M
from fencewright.tables.strength import Check

Made = Callable[[str], Design]
# a level brace of 17 ft is too slender at a line post's 4 1/2 in: 204 in over an equal square of 4 in is more than 50
LONG = (
    '[job]\nname = "x"\n[site]\nsoil = "sandy gravel"\nfrost_depth = "30 in"\n'
    '[[line]]\nname = "a"\npoints = [["0 ft", "0 ft"], ["400 ft", "0 ft"]]\n[fence]\nrails = 3\n'
    '[brace]\nkind = "horizontal"\nreach = "17 ft"\nlengths = ["18 ft"]\n'
)
STOCK_IN = (3.5, 4, 4.5, 5, 5.5, 6, 7, 8, 10)


def is_short(fence: Design) -> bool:
    """Whether a brace buckles, or limits the pull of its end."""
    checks, ends = fence.strength.checks, fence.strength.ends
    buckles = checks.utilisation[checks.check == int(Check.BRACE_COMPRESSION)].max() > 1
    return bool(buckles or (ends.check == int(Check.BRACE_COMPRESSION)).any())


def test_the_thinnest_stock_that_passes_is_chosen(made: Made) -> None:
    fence = made(LONG)
    tried = {one: made(f'{LONG}diameter = "{one} in"\n') for one in STOCK_IN if one >= 4.5}
    least = next(one for one, stated in tried.items() if not is_short(stated))
    assert least > 4.5
    assert fence.job.settings.brace.diameter_m == pytest.approx(least * INCH_M)
    notes = [one for one in fence.findings if one.code == "brace-enlarged"]
    assert len(notes) == 1
    assert f"{least:g} in" in notes[0].message
    assert any(line.item == "brace" and line.size.startswith(f"{least:g} in") for line in fence.order)


def test_the_size_chosen_stated_changes_nothing(made: Made) -> None:
    fence = made(LONG)
    again = made(f'{LONG}diameter = "{fence.job.settings.brace.diameter_m / INCH_M:g} in"\n')
    assert fence.strength.brace_utilisation == pytest.approx(again.strength.brace_utilisation)
    assert fence.tension.set_tension_n == pytest.approx(again.tension.set_tension_n)
    assert not [one for one in again.findings if one.code == "brace-enlarged"]


def test_a_stated_brace_is_kept_and_what_it_costs_is_told(made: Made) -> None:
    fence = made(f'{LONG}diameter = "4.5 in"\n')
    assert fence.job.settings.brace.diameter_m == pytest.approx(4.5 * INCH_M)
    assert is_short(fence)
    assert not fence.may_be_built


def test_a_usual_brace_stays_a_line_posts_size(made: Made) -> None:
    fence = made(LONG.replace('reach = "17 ft"\n', ""))
    assert fence.job.settings.brace.diameter_m == pytest.approx(4.5 * INCH_M)


def test_why_says_that_it_was_chosen(made: Made) -> None:
    reasons = explain(made(LONG), "B1").reasons
    strut = next(one for one in reasons if one.name.startswith("brace compression"))
    diameter = next(one for one in strut.inputs if one.symbol == "D_b")
    assert "thinnest stock" in diameter.origin
