"""Rails as pieces: their path, length along the slope, turning in plan and in space, where no splice may fall."""

import math
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.pipeline.record import Design
from fencewright.tables.fence import Role
from fencewright.takeoff.pieces import length_sd_m, pull_table, rail_points, roll_pieces, span_vectors

FOOT = 0.3048
END_M = 0.1524  # trade default, 6 in
HEAD = (
    '[job]\nname="x"\n[site]\nfrost_depth="30 in"\nsoil="sand"\nground_sd="10 mm"\n{ground}\n'
    '[[line]]\nname="a"\npoints=[{points}]\n{more}'
)


@pytest.fixture
def fenced(tmp_path: Path) -> Callable[..., Design]:
    """Design one line through points in metres, on a plane that rises by `grade` in x."""

    def build(points: list[tuple[float, float]], grade: float = 0.0, more: str = "") -> Design:
        rows = [f"{x},{y},{grade * x:.6f}" for x in range(-20, 141, 10) for y in range(-20, 61, 10)]
        (tmp_path / "spots.csv").write_text("x_m,y_m,z_m\n" + "\n".join(rows) + "\n")
        text = ", ".join(f'["{x} m", "{y} m"]' for x, y in points)
        ground = 'ground = "spots.csv"' if grade else ""
        return design(job_from_text(HEAD.format(points=text, more=more, ground=ground), tmp_path))

    return build


@pytest.mark.parametrize(
    ("grade", "factor"), [(0.05, 1.00125), (0.10, 1.00499), (0.20, 1.01980), (0.30, 1.04403)]
)
def test_slope_factors(fenced: Callable[..., Design], grade: float, factor: float) -> None:
    """Own arithmetic of sources-fence.md B (DERIVED): sqrt(1 + g^2), printed to five digits."""
    made = fenced([(0, 0), (100, 0)], grade)
    np.testing.assert_allclose(made.pulls.length_m / 100.0, factor, atol=6e-6)
    assert made.pulls.turning_3d_rad.max() < 1e-3


def test_thirty_metres_on_a_ten_percent_slope(fenced: Callable[..., Design]) -> None:
    """Own arithmetic of sources-structure.md section 10 (derived): 30 m along a 10 % slope is 29.85112 m level."""
    made = fenced([(0, 0), (29.85112, 0)], 0.1)
    np.testing.assert_allclose(made.pulls.length_m, 30.0, atol=2e-5)


def test_the_rail_runs_outside_its_corner(fenced: Callable[..., Design]) -> None:
    made = fenced([(0, 0), (40, 0), (40, 30)])
    points = rail_points(made.layout.posts)
    corner = int(np.argmax(np.abs(made.layout.posts.turning_rad)))
    np.testing.assert_allclose(points[corner], [40 + END_M / 2, -END_M / 2], atol=1e-9)
    np.testing.assert_allclose(made.pulls.length_m, 40 + 30 + END_M, atol=1e-6)


def test_turning_in_plan_and_in_space(fenced: Callable[..., Design]) -> None:
    """In space the turns at every post count, by the dot product of one span's direction with the next one's."""
    made = fenced([(0, 0), (40, 0), (20, 30)], 0.3)
    expected = 180 - math.degrees(math.atan2(30, 20))
    np.testing.assert_allclose(np.degrees(made.pulls.turning_rad), expected, atol=1e-9)
    points = np.column_stack([rail_points(made.layout.posts), made.top_line.top_m])
    way = points[made.layout.spans.to_post] - points[made.layout.spans.from_post]
    way /= np.linalg.norm(way, axis=1)[:, None]
    turns = [math.acos(min(1.0, float(a @ b))) for a, b in pairwise(way)]
    np.testing.assert_allclose(made.pulls.turning_3d_rad, sum(turns), atol=1e-6)
    level = fenced([(0, 0), (40, 0), (20, 30)])
    np.testing.assert_allclose(
        np.degrees(level.pulls.turning_3d_rad), expected, atol=2.5
    )  # and round 19 mm steps


def test_one_row_a_strand_and_run_with_tails(fenced: Callable[..., Design]) -> None:
    made = fenced([(0, 0), (60, 0)], more='[[gate]]\nline="a"\nat="20 m"\nopening="12 ft"\n')
    pulls = made.pulls
    assert pulls.run_index.tolist() == [0, 0, 0, 0, 1, 1, 1, 1]
    assert pulls.strand.tolist() == [0, 1, 2, 3] * 2
    np.testing.assert_allclose(pulls.rail_m - pulls.length_m, 4 * FOOT)
    again = pull_table(made.layout, made.strands, made.top_line.top_m, 0.0)
    np.testing.assert_allclose(again.rail_m, pulls.length_m)


def test_a_lengths_deviation_is_that_of_its_two_ends(fenced: Callable[..., Design]) -> None:
    """On an even slope the inner posts' errors fall out only to first order in slope; against plain sampling."""
    made = fenced([(0, 0), (100, 0)], 0.2)
    sd = length_sd_m(made.layout, made.pulls, made.top_line.top_m, made.top_sd_m)
    vector = span_vectors(made.layout, made.top_line.top_m)
    slope = vector[:, 2] / np.linalg.norm(vector, axis=1)
    expected = math.sqrt(sum(float(s**2) * 2 * float(made.top_sd_m[0]) ** 2 for s in slope))
    assert sd[0] == pytest.approx(expected, rel=0.05)
    assert (length_sd_m(made.layout, made.pulls, made.top_line.top_m, 0 * made.top_sd_m) == 0).all()


def test_no_splice_at_a_post_nor_near_an_end_or_corner(fenced: Callable[..., Design]) -> None:
    made = fenced([(0, 0), (40, 0), (40, 30)])
    pieces = roll_pieces(made.layout, made.pulls, np.array([0]), made.top_line.top_m, made.job.settings.rolls)
    low, high = pieces.forbidden_from_m, pieces.forbidden_to_m
    middle, half = (low + high) / 2, (high - low) / 2
    tail, rolls = 2 * FOOT, made.job.settings.rolls
    assert len(middle) == len(made.layout.posts)
    assert middle[0] == pytest.approx(tail)
    assert middle[-1] == pytest.approx(float(made.pulls.rail_m[0]) - tail)
    fixed = made.layout.posts.is_fixed
    np.testing.assert_allclose(half[fixed], rolls.splice_from_fixed_m)
    np.testing.assert_allclose(half[~fixed], rolls.splice_clearance_m)


PADDOCK = (
    '[[line]]\nname="p"\npoints=[["0 m","0 m"],["60 m","0 m"],["60 m","40 m"],["0 m","40 m"]]\nclosed=true\n'
)
ACROSS = '[[line]]\nname="t"\npoints=[["30 m","0 m"],["30 m","40 m"]]\n'


@pytest.mark.parametrize("lines", [PADDOCK + ACROSS, ACROSS + PADDOCK], ids=["paddock first", "across first"])
def test_at_a_post_that_lines_share_each_rail_keeps_its_own_face(tmp_path: Path, lines: str) -> None:
    """Both rails were led through the face of the first line: false kinks beside it, by which line was drawn first."""
    head = '[job]\nname="x"\n[site]\nfrost_depth="30 in"\nsoil="sand"\n'
    made = design(job_from_text(head + lines, tmp_path))
    names = [line.name for line in made.layout.lines]
    runs = made.layout.runs
    of = [names[index] for index in runs.line_index[made.pulls.run_index]]
    length = {name: made.pulls.length_m[of.index(name)] for name in names}
    turned = {name: math.degrees(made.pulls.turning_3d_rad[of.index(name)]) for name in names}
    assert length["t"] == pytest.approx(40.0, abs=1e-6)
    assert turned["t"] == pytest.approx(0.0, abs=1e-6)
    assert turned["p"] == pytest.approx(270.0, abs=1e-6)
    used = made.strength.utilisation[made.layout.posts.role == int(Role.LINE)]
    np.testing.assert_allclose(used, used[0], rtol=1e-6)  # none bears a kink that is not there
