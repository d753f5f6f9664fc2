"""A job moved, turned or mirrored is staked by the same lengths; ties of any job meet at its holes."""

import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fencewright.desk.reading import job_from_text
from fencewright.layout.stage import lay_out
from fencewright.stakeout.stage import stake_out
from fencewright.tables.stake_out import StakeOut

RING = [(0.0, 0.0), (61.3, 2.0), (70.1, 38.5), (22.0, 55.2), (-8.0, 31.0)]
MARKS = [(18.0, -21.0), (49.0, -17.5)]
HEAD = '[job]\nname = "x"\n[site]\nsoil = "sand"\nfrost_depth = "30 in"\n'
LENGTHS = (
    "station_m", "slope_station_m", "from_previous_m", "slope_from_previous_m", "tie_m", "slope_tie_m",
    "tie_angle_rad", "position_sd_m", "major_sd_m", "minor_sd_m",
)  # fmt: skip


def text_of(spots: np.ndarray) -> str:
    rows = [f'["{x:.9f} m", "{y:.9f} m"]' for x, y in spots.tolist()]
    ring, marks = rows[: len(RING)], rows[len(RING) :]
    text = HEAD + f'[[line]]\nname = "a"\nclosed = true\npoints = [{", ".join(ring)}]\n'
    return text + "".join(f'[[reference]]\nname = "r{k}"\nat = {at}\n' for k, at in enumerate(marks))


def staked(spots: np.ndarray) -> StakeOut:
    job = job_from_text(text_of(spots), Path())
    return stake_out(job, lay_out(job)[0])[0]


@pytest.fixture(scope="module")
def plain() -> StakeOut:
    return staked(np.array([*RING, *MARKS]))


@given(
    turn=st.floats(0, 2 * math.pi), x=st.floats(-4000, 4000), y=st.floats(-4000, 4000), mirror=st.booleans()
)
@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_moved_turned_and_mirrored(plain: StakeOut, turn: float, x: float, y: float, mirror: bool) -> None:
    cos, sin = math.cos(turn), math.sin(turn)
    flip = -1.0 if mirror else 1.0
    spots = np.array([*RING, *MARKS]) * [1.0, flip] @ np.array([[cos, sin], [-sin, cos]]) + [x, y]
    made = staked(spots)
    for name in LENGTHS:
        np.testing.assert_allclose(
            getattr(made.stakes, name), getattr(plain.stakes, name), atol=2e-6, err_msg=name
        )
    for name in ("left_of_line_m", "left_of_string_m"):
        np.testing.assert_allclose(flip * getattr(made.stakes, name), getattr(plain.stakes, name), atol=2e-6)
    np.testing.assert_array_equal(flip * made.stakes.tie_side, plain.stakes.tie_side)
    for name in ("corner_rad", "back_m", "ahead_m", "closing_m", "corner_sd_rad"):
        np.testing.assert_allclose(
            getattr(made.corner_checks, name), getattr(plain.corner_checks, name), atol=1e-6
        )
    np.testing.assert_allclose(made.pegs.beyond_m, plain.pegs.beyond_m)


@given(spots=st.lists(st.tuples(st.floats(-90, 90), st.floats(-90, -10)), min_size=2, max_size=2))
@settings(max_examples=25)
def test_ties_of_a_whole_job_meet_at_its_holes(spots: list[tuple[float, float]]) -> None:
    """By the law of cosines from the base between the two points, on the side that is told."""
    if math.dist(*spots) < 1:
        return
    made = staked(np.array([*RING, *spots]))
    stakes = made.stakes
    one, other = np.array(spots)
    base = other - one
    length = float(np.hypot(*base))
    first, second = stakes.tie_m.T
    along = (first**2 - second**2 + length**2) / (2 * length)
    off = stakes.tie_side * np.sqrt(np.maximum(first**2 - along**2, 0.0))
    east = base / length
    met = one + along[:, None] * east + off[:, None] * np.array([-east[1], east[0]])
    cuts = np.minimum(stakes.tie_angle_rad, math.pi - stakes.tie_angle_rad) > 0.02
    np.testing.assert_allclose(met[cuts], np.column_stack([stakes.x_m, stakes.y_m])[cuts], atol=1e-6)
