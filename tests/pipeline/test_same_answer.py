"""The same fence whichever way it is drawn: run again, reversed, moved, turned, mirrored; and stage by stage."""

import math
import re
from collections.abc import Callable
from dataclasses import asdict
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.pipeline.record import Design
from fencewright.pipeline.stages import STAGES, run_stages, stages

Made = Callable[[str], Design]
FOOT = 0.3048
PAIR = re.compile(r'\["(-?[\d.]+) ft", "(-?[\d.]+) ft"\]')


def moved(text: str, change: Callable[[float, float], tuple[float, float]]) -> str:
    """The job with every inline point moved; station and sides stay as they are written."""

    def write(match: re.Match[str]) -> str:
        x, y = change(float(match[1]), float(match[2]))
        return f'["{x:.9f} ft", "{y:.9f} ft"]'

    return PAIR.sub(write, text)


def counted(made: Design) -> dict[str, object]:
    return {
        "roles": np.bincount(made.layout.posts.role, minlength=9).tolist(),
        "braces": len(made.layout.braces),
        "pulls": len(made.pulls),
        "rolls": [len(one.cut_list.roll_length_m) for one in made.cutting],
        "order": [(line.item, line.size, line.order) for line in made.order],
        "codes": sorted(one.code for one in made.findings),
    }


def lengths(made: Design) -> np.ndarray:
    spans = np.sort(made.layout.spans.length_m)
    return np.concatenate(
        [np.sort(made.pulls.length_m), spans, [made.holes.concrete_m3.sum(), made.brace_bags.sum()]]
    )


def assert_same(one: Design, other: Design) -> None:
    assert counted(one) == counted(other)
    np.testing.assert_allclose(lengths(one), lengths(other), atol=1e-6)


@given(
    turn_deg=st.floats(0.0, 360.0),
    x=st.floats(-5000.0, 5000.0),
    y=st.floats(-5000.0, 5000.0),
    mirror=st.booleans(),
)
@settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_moved_turned_and_mirrored(
    made: Made, small_job_text: str, turn_deg: float, x: float, y: float, mirror: bool
) -> None:
    c, s = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))

    def change(a: float, b: float) -> tuple[float, float]:
        b = -b if mirror else b
        return x + c * a - s * b, y + s * a + c * b

    assert_same(made(small_job_text), made(moved(small_job_text, change)))


def test_drawn_the_other_way_round(made: Made, small_job_text: str) -> None:
    """The gate lies on the same leg: its nearer post, its hinge and its swing are then named the other way."""
    ring = '["0 ft", "0 ft"], ["200 ft", "0 ft"], ["200 ft", "120 ft"], ["0 ft", "120 ft"]'
    back = '["0 ft", "0 ft"], ["0 ft", "120 ft"], ["200 ft", "120 ft"], ["200 ft", "0 ft"]'
    text = small_job_text.replace(ring, back)
    text = text.replace('at = "0 ft"', 'at = "627.5 ft"\nhinge = "far"\nswing = "right"')
    assert_same(made(small_job_text), made(text))


def test_an_open_line_drawn_from_its_other_end(made: Made) -> None:
    head = '[job]\nname = "x"\n[site]\nsoil = "sand"\nfrost_depth = "30 in"\n[[line]]\nname = "a"\npoints = [{}]\n{}'
    points = [(0, 0), (310, 0), (420, 155), (250, 400)]
    rows = [f'["{x} ft", "{y} ft"]' for x, y in points]
    total = sum(math.dist(a, b) for a, b in pairwise(points))
    tree = '[[obstacle]]\nkind = "tree"\npoints = [["100 ft", "2 ft"]]\n'
    tree += '[[gate]]\nline = "a"\nat = "{} ft"\nopening = "12 ft"\n{}'
    turned = 'hinge = "far"\nswing = "right"\n'
    one = made(head.format(", ".join(rows), tree.format(40, "")))
    other = made(head.format(", ".join(rows[::-1]), tree.format(total - 52.5, turned)))
    assert_same(one, other)


def test_a_design_run_again_with_what_it_chose_changes_nothing(made: Made) -> None:
    """Holes, depths, brace, posts and heights that were left out are stated as the first run chose them."""
    head = '[job]\nname = "x"\n[site]\nsoil = "gravel"\nfrost_depth = "47 in"\n[[line]]\nname = "a"\nclosed = true\n' \
        'points = [["0 ft", "0 ft"], ["200 ft", "0 ft"], ["230 ft", "120 ft"], ["0 ft", "120 ft"]]\n' \
        '[[gate]]\nline = "a"\nat = "40 ft"\nopening = "12 ft"\n'  # fmt: skip
    first = made(head)
    chosen = first.job.settings
    hole, brace, posts, layout = chosen.holes, chosen.brace, chosen.posts, chosen.layout
    stated = (
        head
        + f"""
[fence]
rails = {len(first.strands)}
spacing_limit = "{layout.spacing_limit_m!r} m"
top_height = "{chosen.top_height_m!r} m"
bottom_gap = "{chosen.bottom_gap_m!r} m"
top_reveal = "{chosen.top_reveal_m!r} m"
corner_angle = "{layout.corner_angle_rad!r} rad"
pull_length_limit = "{layout.pull_length_limit_m!r} m"
friction = {layout.friction_worked!r}
far_end_share = {layout.far_end_share!r}
tail = "{chosen.rolls.tail_m!r} m"
line_posts = "{hole.line_set}"
[posts]
line_diameter = "{posts.line_diameter_m!r} m"
end_diameter = "{posts.end_diameter_m!r} m"
line_lengths = {[f"{length!r} m" for length in posts.line_lengths_m]!r}
end_lengths = {[f"{length!r} m" for length in posts.end_lengths_m]!r}
trim = "{posts.trim_m!r} m"
[holes]
auger = "{hole.auger_m!r} m"
bell = "{hole.bell_m!r} m"
bell_height = "{hole.bell_height_m!r} m"
end_depth = "{hole.end_depth_m!r} m"
brace_depth = "{hole.brace_depth_m!r} m"
line_depth = "{hole.line_depth_m!r} m"
recess = "{hole.recess_m!r} m"
waste = {hole.waste!r}
[brace]
kind = "{brace.kind}"
reach = "{brace.reach_m!r} m"
contact = "{brace.contact_m!r} m"
lean = "{brace.lean_m!r} m"
diameter = "{brace.diameter_m!r} m"
lengths = {[f"{length!r} m" for length in brace.lengths_m]!r}
"""
    )
    again = made(stated)
    assert_same(first, again)
    for name in ("station_m", "x_m", "y_m", "diameter_m"):
        np.testing.assert_allclose(
            getattr(first.layout.posts, name), getattr(again.layout.posts, name), atol=1e-9
        )
    np.testing.assert_allclose(first.holes.depth_m, again.holes.depth_m, atol=1e-12)
    np.testing.assert_allclose(first.rail_marks_m, again.rail_marks_m, atol=1e-9)


def test_pins_at_the_stations_that_it_chose_change_nothing(made: Made, small_job_text: str) -> None:
    first = made(small_job_text)
    pins = "".join(
        f'[[pin]]\nline = "paddock"\nat = "{at!r} m"\nheight = "54 in"\n'
        for at in first.layout.posts.station_m.tolist()
    )
    again = made(small_job_text.replace("[fence]", pins + "[fence]"))
    assert len(again.layout.posts) == len(first.layout.posts)
    np.testing.assert_allclose(again.layout.posts.station_m, first.layout.posts.station_m, atol=1e-9)
    np.testing.assert_allclose(again.top_line.top_m, first.top_line.top_m, atol=1e-9)


def test_the_same_job_twice_is_the_same_to_the_last_bit(made: Made, small_job_text: str) -> None:
    one, other = made(small_job_text), made(small_job_text)
    for name in ("x_m", "y_m", "station_m"):
        np.testing.assert_array_equal(getattr(one.layout.posts, name), getattr(other.layout.posts, name))
    np.testing.assert_array_equal(one.top_line.top_m, other.top_line.top_m)
    assert [asdict(line) for line in one.order] == [asdict(line) for line in other.order]
    assert one.findings == other.findings


def test_stages_come_in_order_and_end_in_the_design(tmp_path: Path, small_job_text: str) -> None:
    job = job_from_text(small_job_text, tmp_path)
    seen = list(stages(job))
    assert tuple(stage.name for stage in seen) == STAGES
    whole = run_stages(job)
    assert [asdict(line) for line in seen[-1].tables["design"].order] == [
        asdict(line) for line in whole.order
    ]
    assert len(seen[0].tables["layout"].posts) == len(whole.layout.posts)
    told: list[str] = []
    assert design(job, told.append).findings == whole.findings
    assert tuple(told) == STAGES


def test_a_stage_may_be_the_last_that_is_asked_for(tmp_path: Path, small_job_text: str) -> None:
    first = next(stages(job_from_text(small_job_text, tmp_path)))
    assert first.name == "layout"


@pytest.mark.usefixtures("one_set_of_defaults")
@pytest.mark.parametrize("sheets", ["us", "metric"])
def test_the_units_of_the_sheets_change_no_number(made: Made, small_job_text: str, sheets: str) -> None:
    """But for the trade defaults that each system has for itself, which are left out here."""
    text = small_job_text.replace('sheets = "us"', f'sheets = "{sheets}"')
    np.testing.assert_allclose(lengths(made(text)), lengths(made(small_job_text)), rtol=0, atol=0)
