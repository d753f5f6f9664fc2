"""The small job of issue 3, with and without its water line: counts by hand and from common practice (no source)."""

import math
from collections import Counter
from collections.abc import Callable

import numpy as np
import pytest
import shapely

from fencewright.pipeline.record import Design
from fencewright.tables.fence import Role, Setting

Made = Callable[[str], Design]
INCH, FOOT = 0.0254, 0.3048
SHALLOW = {'frost_depth = "47 in"': 'frost_depth = "17 in"', '_depth = "48 in"': '_depth = "36 in"'}


def changed(text: str, changes: dict[str, str]) -> str:
    for old, new in changes.items():
        assert old in text
        text = text.replace(old, new)
    return text


def roles(design: Design) -> dict[str, int]:
    return dict(Counter(Role(int(role)).label for role in design.layout.posts.role))


def ordered(design: Design) -> dict[tuple[str, str], float]:
    return {(line.item, line.size): line.order for line in design.order}


def bags_by_assembly(design: Design) -> dict[str, list[float]]:
    """Bags of a post and its braces together, by the post's role."""
    sums: dict[str, list[float]] = {}
    for row in np.flatnonzero(design.layout.posts.is_fixed).tolist():
        own = design.bags[row] + design.brace_bags[design.layout.braces.post_index == row].sum()
        sums.setdefault(Role(int(design.layout.posts.role[row])).label, []).append(float(own))
    return sums


@pytest.fixture
def dry(made: Made, dry_job_text: str) -> Design:
    return made(dry_job_text)


def test_posts_braces_and_pulls(dry: Design) -> None:
    assert roles(dry) == {"gate": 2, "corner": 3, "line": 49}
    assert len(dry.layout.braces) == 8
    assert len(dry.layout.runs) == 1
    assert len(dry.pulls) == 4
    assert math.degrees(dry.pulls.turning_rad[0]) == pytest.approx(270)


def test_legs_by_hand(dry: Design) -> None:
    """Legs of 187.5, 120, 200 and 120 ft at 12 ft: 16 + 10 + 17 + 10 bays, a post fewer than bays on each."""
    legs = [187.5, 120.0, 200.0, 120.0]
    assert sum(math.ceil(leg / 12) - 1 for leg in legs) == 49
    assert math.ceil(sum(legs) / 12) == 53  # the rule of thumb buys four more


def test_rolls_and_hardware(dry: Design) -> None:
    order = ordered(dry)
    assert order[("polymer rail", "roll of 660 ft")] == 4
    assert order[("tensioner", "")] == 4
    assert order[("end anchor", "")] == 4
    assert order[("gate leaf", "11.5 ft")] == 1
    assert order[("hinge and latch set", "")] == 1
    assert order[("corner bracket", "")] == 3 * 4
    assert order[("line bracket", "")] == math.ceil(49 * 4 * 1.03 / 25) * 25
    assert sum(one.cut_list.splices for one in dry.cutting) == 0


def test_rail_length_by_hand(dry: Design) -> None:
    """627.5 ft through the centres; half a diameter further out both ways at three corners, one way at the gate's."""
    expected = 627.5 * FOOT + 7 * 3 * INCH
    np.testing.assert_allclose(dry.pulls.length_m, expected, atol=0.02)
    np.testing.assert_allclose(dry.pulls.rail_m, dry.pulls.length_m + 4 * FOOT)


def test_posts_to_buy(dry: Design) -> None:
    """Line posts of 4 to 5 in by 8 ft, end and corner posts of 6 in by 9 ft; every brace from stock."""
    order = ordered(dry)
    assert order[("round post", "4.5 in x 8 ft")] == 49
    assert order[("round post", "6 in x 9 ft")] == 5
    assert sum(count for (item, _), count in order.items() if item == "brace") == 8
    np.testing.assert_allclose(dry.top_line.height_m, 54 * INCH)
    assert (dry.cuts.cut_m >= 2 * INCH - 1e-9).all()
    assert dry.cuts.is_cut.all()


def test_how_each_post_is_set(dry: Design) -> None:
    line = dry.layout.posts.role == int(Role.LINE)
    assert (dry.holes.set[line] == int(Setting.TAMPED)).all()
    assert (dry.holes.set[~line] == int(Setting.CONCRETE)).all()
    np.testing.assert_allclose(dry.holes.depth_m, np.where(line, 30 * INCH, 48 * INCH))
    np.testing.assert_allclose(dry.holes.bell_m, np.where(line, 12 * INCH, 18 * INCH))


def test_bags_in_deep_frost(dry: Design) -> None:
    """With a 12 in auger and 47 in of frost: 7 to 8 bags of 80 lb at an end, 11 to 12 at a corner, rounded up."""
    bags = bags_by_assembly(dry)
    assert {math.ceil(one) for one in bags["gate"]} <= {7, 8}
    assert {math.ceil(one) for one in bags["corner"]} <= {11, 12}


def test_bags_in_shallow_frost(made: Made, dry_job_text: str) -> None:
    """With 17 in of frost and 36 in holes: 4 to 5 at an end, 6 to 7 at a corner, within one bag."""
    bags = bags_by_assembly(made(changed(dry_job_text, SHALLOW)))
    assert all(4 - 1 <= one <= 5 + 1 for one in bags["gate"])
    assert all(6 - 1 <= one <= 7 + 1 for one in bags["corner"])


def test_bags_by_hand(dry: Design) -> None:
    """A 12 in shaft on a 6 in high bell of 18 in, 48 in deep, filled to 4 in below grade, less a 6 in post."""
    cubic_feet = (
        math.pi / 12 * 0.5 * (1.5**2 + 1 + 1.5) + math.pi / 4 * (44 - 6) / 12 - math.pi / 4 * 0.25 * 44 / 12
    )
    assert dry.bags[0] == pytest.approx(cubic_feet / 0.60)
    brace = math.pi / 4 * (48 - 18) / 12
    np.testing.assert_allclose(dry.brace_bags, brace / 0.60)
    total = 5 * cubic_feet + 8 * brace
    line = next(one for one in dry.order if one.item == "bagged concrete")
    assert line.net == pytest.approx(total / 0.60)
    assert line.waste == pytest.approx(0.05 * line.net)
    assert line.order == math.ceil(line.net + line.waste)


def test_a_7_ft_post_cannot_fill_a_36_in_hole(made: Made, dry_job_text: str) -> None:
    """At least 56 in above ground before the cut: 36 + 56 in are 92, a 7 ft post has 84."""
    text = changed(dry_job_text, {'line_depth = "30 in"': 'line_depth = "36 in"'})
    design = made(text + '\n[posts]\nline_lengths = ["7 ft"]\n')
    stop = next(one for one in design.findings if one.code == "no-stock-length")
    assert stop.level == "stop"
    assert "48 more like it: 92 in needed" in stop.message
    assert "the longest stock of 7 ft is 8 in short" in stop.message
    assert "dig 28 in at most" in stop.remedy
    assert not design.may_be_built
    shallow = made(text.replace("36 in", "28 in") + '\n[posts]\nline_lengths = ["7 ft"]\n')
    assert "no-stock-length" not in [one.code for one in shallow.findings]


def test_the_gate(dry: Design) -> None:
    openings = dry.layout.openings
    assert openings.leaf_m.tolist() == [pytest.approx(11.5 * FOOT)]
    assert openings.opening_m.tolist() == [pytest.approx(12 * FOOT)]


def test_with_its_water_line(made: Made, small_job_text: str) -> None:
    """The pipe crosses both long legs at 95 ft: 2 ft clear of every hole; on neither leg does it cost a post."""
    design = made(small_job_text)
    assert roles(design) == {"gate": 2, "corner": 3, "line": 49}
    assert len(design.layout.braces) == 8
    pipe = shapely.LineString([(95 * FOOT, -20 * FOOT), (95 * FOOT, 150 * FOOT)])
    posts = design.layout.posts
    room = shapely.distance(pipe, shapely.points(posts.x_m, posts.y_m)) - design.holes.bell_m / 2
    assert room.min() >= 2 * FOOT - 1e-6
    spans = design.layout.spans
    along = np.mod(spans.to_station_m - spans.from_station_m, design.layout.lines[0].length_m)
    assert along[spans.kind == 0].max() <= 12 * FOOT + 1e-9
    assert ordered(design)[("polymer rail", "roll of 660 ft")] == 4
    assert design.may_be_built


def test_only_what_the_job_leaves_out_is_assumed(dry: Design) -> None:
    levels = Counter(one.level for one in dry.findings)
    assert levels["stop"] == 0
    cautions = [one.code for one in dry.findings if one.level == "caution"]
    assert "assumed-temperatures" in cautions
    assert all(code.startswith("assumed-") for code in cautions)
    assert not {"assumed-soil", "assumed-frost"} & set(cautions)


def test_soil_and_frost_are_assumed_aloud(made: Made, dry_job_text: str) -> None:
    text = changed(dry_job_text, {'frost_depth = "47 in"': "", 'soil = "sand"': ""})
    codes = [one.code for one in made(text).findings if one.level == "caution"]
    assert {"assumed-soil", "assumed-frost", "assumed-temperatures"} <= set(codes)
    assert "frost-heave" in codes  # the clay that is assumed heaves
