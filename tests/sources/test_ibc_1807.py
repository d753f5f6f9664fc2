"""Embedment by IBC 1807.3.2 (key ibc-1807; equations read).

Worked values: house-post-notes (hand-worked, IBC 2018; read), eng-tips-posts (two forum threads; read,
secondary), constrained-sheets (two calculation sheets; read, secondary), and our own of sources-fence.md
section C (derived). Tolerance: the last printed digit, or the reason.
"""

import numpy as np
import pytest

from fencewright.mechanics import embedment
from fencewright.mechanics.resultant import resultant_at_grade

LB_N, FT_M, PSF_PA = 4.4482216152605, 0.3048, 47.88025898033584
PSF_PER_FT = PSF_PA / FT_M


def free_depth_ft(pull_lb: float, height_ft: float, width_ft: float, value_psf_ft: float) -> float:
    pull_n = pull_lb * LB_N
    moment_n_m = pull_n * height_ft * FT_M
    depth = embedment.free_depth_m(pull_n, moment_n_m, width_ft * FT_M, value_psf_ft * PSF_PER_FT)
    return float(depth) / FT_M


def test_one_psf_per_foot_is_0_157_kpa_per_metre() -> None:
    at_three_metres = embedment.free_pressure_pa(3.0, PSF_PER_FT)
    assert float(at_three_metres) / 1000 == pytest.approx(0.157, abs=0.0005)


@pytest.mark.parametrize(
    ("pull_lb", "height_ft", "width_ft", "doubled", "depth_ft", "last_digit"),
    [
        (680, 7.79, 1, False, 8.08, 0.005),
        (680, 7.79, 1, True, 6.15, 0.005),
        (200, 4.54, 1, False, 4.45, 0.005),
        (200, 4.54, 1, True, 3.39, 0.005),
        (496.1, 7.489, 1, False, 7.07, 0.005),
        (496.1, 7.489, 1, True, 5.40, 0.005),
        (67.82, 1.883, 1, False, 2.422, 0.0005),
        (82.74, 1.932, 14 / 12, False, 2.478, 0.0005),
    ],
)
def test_house_notes_free_posts_at_150_psf_per_foot(
    pull_lb: float, height_ft: float, width_ft: float, doubled: bool, depth_ft: float, last_digit: float
) -> None:
    """Key house-post-notes, read."""
    value = float(embedment.lateral_value_pa_m(150.0, is_motion_accepted=doubled))
    assert free_depth_ft(pull_lb, height_ft, width_ft, value) == pytest.approx(depth_ft, abs=last_digit)


def test_plain_iteration_swings_about_the_root() -> None:
    """Trap: feeding d back into eq. 18-1 gives 8.000, 8.133, 8.043, 8.104 ... (read)."""
    depth, found = 8.0, []
    for _ in range(4):
        found.append(depth)
        pressure = embedment.free_pressure_pa(depth * FT_M, 150 * PSF_PER_FT)
        pull = 680 * LB_N
        depth = float(embedment.depth_at_pressure_m(pull, pull * 7.79 * FT_M, FT_M, pressure)) / FT_M
    assert found == pytest.approx([8.000, 8.133, 8.043, 8.104], abs=0.0025)  # rounded by hand at each step
    root = free_depth_ft(680, 7.79, 1, 150)
    assert found[0] < root < found[1]
    assert found[2] < root < found[3]


def test_forum_trial_value_of_a() -> None:
    """Key eng-tips-posts, thread 276653 (read): 3000 lb, trial 6 ft, 1 ft wide, 150 x 1.33: A = 17.6 ft.

    A is the whole of eq. 18-1 for a pull at the ground: d = A.
    """
    pressure = embedment.free_pressure_pa(6 * FT_M, 150 * 1.33 * PSF_PER_FT)
    a = embedment.depth_at_pressure_m(3000 * LB_N, 0.0, FT_M, pressure)
    assert float(a) / FT_M == pytest.approx(17.6, abs=0.05)


def test_forum_sign_post() -> None:
    """Thread 266547 (read): 480 lb at 5 ft, 1.5 ft wide, 100 psf/ft: almost 6.5 ft; root 6.440, doubled 4.877."""
    assert free_depth_ft(480, 5, 1.5, 100) == pytest.approx(6.440, abs=0.0005)
    assert free_depth_ft(480, 5, 1.5, 200) == pytest.approx(4.877, abs=0.0005)


@pytest.mark.parametrize(
    ("width_ft", "value_psf_ft", "depth_ft"),
    [(0.5, 100, 5.10), (0.5, 150, 4.33), (0.5, 300, 3.30), (0.333, 150, 5.10), (1.0, 150, 3.30)],
)
def test_fence_notes_100_lb_at_4_ft(width_ft: float, value_psf_ft: float, depth_ft: float) -> None:
    """sources-fence.md section C (derived there)."""
    assert free_depth_ft(100, 4, width_ft, value_psf_ft) == pytest.approx(depth_ft, abs=0.006)


def test_fence_notes_constrained() -> None:
    """The same load held at grade: 2.83 ft (derived)."""
    depth = embedment.constrained_depth_m(400 * LB_N * FT_M, 0.5 * FT_M, 150 * PSF_PER_FT)
    assert float(depth) / FT_M == pytest.approx(2.83, abs=0.005)


def test_closed_inverse() -> None:
    """A = d^2 / (d + 1.09 h), P = A S1 b / 2.34 (derived): the notes' first row run backwards."""
    pull = embedment.free_capacity_n(8.08 * FT_M, 7.79 * FT_M, FT_M, 150 * PSF_PER_FT)
    assert float(pull) / LB_N == pytest.approx(680, abs=0.5)


def test_sheet_constrained_metric() -> None:
    """Key constrained-sheets, IBC 2018 (read): 30000 lb at 3 ft, 4.5 ft, 350 psf/ft doubled: 1.509 m, 165.9 kPa."""
    value = embedment.lateral_value_pa_m(350 * PSF_PER_FT, is_motion_accepted=True)
    depth = embedment.constrained_depth_m(30000 * LB_N * 3 * FT_M, 4.5 * FT_M, value)
    assert depth == pytest.approx(1.509, abs=0.0005)
    assert float(depth) / FT_M == pytest.approx(4.951, abs=0.001)  # 1.509 m turned into feet
    assert float(1.509 * value) / 1000 == pytest.approx(165.9, abs=0.05)  # at the depth as printed


def test_sheet_constrained_square_footing_at_the_limit_of_depth() -> None:
    """IBC 2021 (read): 33700 lb at 39.4 ft, 126 in square (diagonal 178.19), 150 x 1.33, cap 12 ft: 12.60 ft."""
    width = embedment.square_width_m(126 * FT_M / 12)
    assert float(width) / FT_M * 12 == pytest.approx(178.19, abs=0.005)
    value = 150 * 1.33 * PSF_PER_FT
    assert float(value * 12 * FT_M) / PSF_PA == pytest.approx(2394)
    depth = embedment.constrained_depth_m(33700 * LB_N * 39.4 * FT_M, width, value)
    assert float(depth) / FT_M == pytest.approx(12.60, abs=0.005)


def test_house_notes_constrained() -> None:
    """Mg 680 x 7.79, 1 ft, 150 psf/ft: 5.314 ft; doubled 4.22 ft (read)."""
    moment = 680 * 7.79 * LB_N * FT_M
    depths = embedment.constrained_depth_m(moment, FT_M, np.array([150, 300]) * PSF_PER_FT) / FT_M
    assert depths[0] == pytest.approx(5.314, abs=0.0015)  # the note's hand rounding
    assert depths[1] == pytest.approx(4.22, abs=0.005)


def test_the_two_readings_of_the_twelve_foot_limit_agree_at_fence_depths() -> None:
    """Either d <= 12 ft, or d/3 <= 12 ft (a help page on the 2006 commentary; read)."""
    loads = resultant_at_grade(np.full((2, 4), 1500.0), [0.35, 0.70, 1.05, 1.40])
    one = embedment.free_depth_m(*loads, 0.3048, 150 * PSF_PER_FT)
    other = embedment.free_depth_m(*loads, 0.3048, 150 * PSF_PER_FT, 36 * FT_M)
    np.testing.assert_array_equal(one, other)
    assert np.all(one < 12 * FT_M)
