"""USDA NRCS Mississippi, code 382, January 2000 (nrcs-ms-382; sources-fence.md A4, READ at a document mirror).

4 strands: the first 12 in above ground, then steps of 12 in, 48 in in all. 5 strands: 10 in and steps of 10 in, 50 in.
Corner, gate and brace posts 8 to 9 ft long, at least 3.5 ft deep; line posts 6 to 7 ft, at least 1.5 ft deep.
"""

from collections.abc import Callable

import pytest

from fencewright.pipeline.record import Design

INCH = 0.0254


@pytest.mark.parametrize(("strands", "step"), [(4, 12), (5, 10)])
def test_strand_stack(straight: Callable[[float, str], Design], strands: int, step: float) -> None:
    """Only the lowest and the highest wire are stated; the others spread evenly between."""
    middle = "[[strand]]\nrail = 'smooth wire'\n" * (strands - 2)
    more = f"[[strand]]\nrail = 'smooth wire'\nheight = '{step} in'\n{middle}"
    more += f"[[strand]]\nrail = 'smooth wire'\nheight = '{strands * step} in'\n"
    made = straight(300, more)
    expected = [step * number for number in range(1, strands + 1)]
    assert [height / INCH for height in made.strands.height_m] == pytest.approx(expected)
    for marks in made.rail_marks_m:
        assert [mark / INCH for mark in marks] == pytest.approx(expected, abs=1e-6)


def test_end_posts(straight: Callable[[float, str], Design]) -> None:
    """3.5 ft deep and 48 in above: 8 ft posts fill the hole with 6 in to saw off; line posts 1.5 ft deep need 6 ft."""
    more = '[fence]\ntop_height = "48 in"\n[holes]\nend_depth = "42 in"\nline_depth = "18 in"\n'
    made = straight(300, more + '[posts]\nline_lengths = ["6 ft", "7 ft"]\nend_lengths = ["8 ft", "9 ft"]\n')
    sizes = {line.size for line in made.order if line.item == "round post"}
    assert sizes == {"6 in x 8 ft", "4.5 in x 6 ft"}
