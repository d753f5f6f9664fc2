"""Five numbers of the small paddock worked by hand, in pounds, feet and inches, from the formulas of the books.

Nothing of the program is used but what it wrote into design.json. What the hand takes from there is said: lengths of
spans, and by how much a braced top gives (a bed of springs, checked elsewhere).

The paddock: 200 ft by 120 ft, three corners of 90 degrees and a gate at the fourth; four rails of three 12.5 gauge
wires; rails 14.5, 26.5, 38.5 and 50.5 in above grade; sand, half an inch of motion at grade taken as accepted.
"""

import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from fencewright import design, read_job
from fencewright.desk.writing import outputs

POUND_N, FOOT_M, INCH_M = 4.4482216, 0.3048, 0.0254
WIRES, WIRE_IN, STEEL_PSI = 3, 0.099, 29e6
STIFFNESS_LBF = WIRES * math.pi / 4 * WIRE_IN**2 * STEEL_PSI  # 669,700 lbf
WEIGHT_LBF_IN = 0.22 / 12
SET_LBF, REFERENCE_F, COLDEST_F, EXPANSION_F = 250.0, 68.0, -20.0, 6.5e-6
RAILS_IN = (14.5, 26.5, 38.5, 50.5)
CORNER = math.pi / 2


@pytest.fixture(scope="module")
def written() -> dict[str, Any]:
    job = Path(__file__).parents[2] / "examples" / "small-paddock" / "job.toml"
    made: dict[str, Any] = json.loads(outputs(design(read_job(job)))["design.json"])
    return made


def post(written: dict[str, Any], name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(one for one in written["posts"] if one["id"] == name)
    return found


def check(written: dict[str, Any], name: str, kind: str, brace: str = "") -> dict[str, Any]:
    rows = (one for one in written["checks"] if (one["post"], one["brace"]) == (name, brace))
    found: dict[str, Any] = next(one for one in rows if one["check"] == kind)
    return found


def solved(excess: Callable[[float], float], low: float, high: float) -> float:
    """Halve until the rising excess is nothing."""
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (middle, high) if excess(middle) < 0 else (low, middle)
    return low


def cold_lbf(written: dict[str, Any]) -> float:
    return float(written["tension"][0]["cold_n"]) / POUND_N


def test_cold_tension(written: dict[str, Any]) -> None:
    """The rail shrinks by a L dT = 6.5e-6 x 88 x 7,551 in = 4.32 in: stretch, flatter sag and both ends take it up.

    Every span gains the same D over the profile exp(-0.15 x turning) that the rail was worked to:
        D (L / EA + what both ends give) + sum of w^2 l^3 / 24 (1 / T^2 - 1 / (T + D)^2) = 4.32 in.
    """
    legs = {"P18": 0, "P28": 1, "P45": 2, "P1": 3}
    spans: list[tuple[float, float]] = []
    corners_passed = 0
    for span in written["spans"]:
        if span["run"] != "R1":
            continue
        to_tensioner = 3 - corners_passed
        spans.append((span["length_m"] / INCH_M, SET_LBF * math.exp(-0.15 * CORNER * to_tensioner)))
        corners_passed += span["to_post"] in legs
    length_in = written["pulls"][0]["length_m"] / INCH_M
    shrinks_in = EXPANSION_F * (REFERENCE_F - COLDEST_F) * length_in
    assert shrinks_in == pytest.approx(4.32, abs=0.01)
    # a braced upright turns about grade: its rails give, at their mean height, that part of what its top gives
    mean = sum(RAILS_IN) / len(RAILS_IN) / 54.0
    gives = [post(written, name)["movement_m"] / INCH_M * mean / cold_lbf(written) for name in ("P1", "P2")]
    flexible = length_in / STIFFNESS_LBF + sum(gives)

    def excess(gain: float) -> float:
        flatter: float = sum(
            WEIGHT_LBF_IN**2 * span**3 / 24 * (1 / t**2 - 1 / (t + gain) ** 2) for span, t in spans
        )
        return float(gain * flexible + flatter - shrinks_in)

    by_hand = SET_LBF + solved(excess, 0.0, 2000.0)
    assert by_hand == pytest.approx(568.0, abs=3.0)
    assert cold_lbf(written) == pytest.approx(by_hand, rel=0.005)


def test_belt_friction_past_three_corners(written: dict[str, Any]) -> None:
    """250 lbf x exp(-0.15 x 4.712) = 123.3 lbf once worked round; x exp(-0.25 x 4.712) = 77.0 lbf while drawn."""
    one = written["tension"][0]
    at = dict(
        zip(
            one["tension_at_posts_n"]["post"],
            zip(
                one["tension_at_posts_n"]["while_pulling"],
                one["tension_at_posts_n"]["after_working"],
                strict=True,
            ),
            strict=True,
        )
    )
    pulling, worked = (value / POUND_N for value in at["P2"])
    assert one["tensioner_post"] == "P1"
    assert worked == pytest.approx(250 * math.exp(-0.15 * 3 * CORNER), rel=1e-3)
    assert worked == pytest.approx(123.3, abs=0.1)
    assert pulling == pytest.approx(77.0, abs=0.1)


def test_embedment_of_end_and_corner(written: dict[str, Any]) -> None:
    """Eq. 18-1 backwards: depth needed over depth dug, hole 12 in wide and 48 in deep.

    The brace, 40 in up, takes M / 40 in of the rails' push; what it leaves kicks the foot at grade, at the corner on
    the bisector. S = 150 psf/ft, doubled: S1 = 300 x 4 / 3 = 400 psf. With no moment at grade eq. 18-1 is
    d = A = 2.34 P / (S1 b). End: P = 426 lbf, 2.49 ft of 4. Corner: P = 602 lbf, 3.52 ft of 4.
    """
    cold = cold_lbf(written)
    kick = 4 * cold - cold * sum(RAILS_IN) / 40
    assert kick == pytest.approx(426, abs=2)
    for name, force in (("P2", kick), ("P18", kick * math.sqrt(2))):
        needed_ft = 2.34 * force / (150 * 2 * 4 / 3 * 1.0)
        assert check(written, name, "embedment")["utilisation"] == pytest.approx(needed_ft / 4, rel=2e-3)
    # 11.5 ft of leaf at 0.12 kN/m (94.6 lbf) hang half their length and half the post beside P1's middle
    moment = 0.12e3 * 11.5 * FOOT_M / POUND_N * (11.5 / 2 + 0.25)
    used = (kick + 1.09 * moment / 4) * 2.34 / (400 * 4)
    assert check(written, "P1", "embedment")["utilisation"] == pytest.approx(used, rel=5e-3)


def test_force_along_a_brace(written: dict[str, Any]) -> None:
    """Moments about grade: H = T x 130 in / 40 in = 3.25 T; along 70 in out and 58 in down it is H x 90.9 / 70.

    568 lbf on the coldest day: H = 1,845 lbf, N = 2,396 lbf. The footing's concrete begins 18 in below grade.
    """
    thrust = cold_lbf(written) * sum(RAILS_IN) / 40
    along = thrust * math.hypot(70, 40 + 18) / 70
    assert along == pytest.approx(2396, abs=10)
    assert check(written, "P2", "brace compression", "B1")["demand"] / POUND_N == pytest.approx(
        along, rel=1e-3
    )


def test_deflection_under_ten_pounds(written: dict[str, Any]) -> None:
    """Beside the tensioner at 70 F, 10 lbf at the middle of 12.25 ft: 1.15 in with both posts gripping.

    Each half holds P / 2 = T' sin a; the rail is longer by 2 d^2 / l, on the one span that grips at its posts, or on
    the whole leg of 120 ft between two corners along which it slides.
    """
    row = next(
        one
        for one in written["site_checks"]
        if (one["pull"], one["place"]) == ("R1-1", "tensioner")
        and abs(one["rail_temperature_c"] - 21.11) < 0.01
    )
    span_in, tension = row["span_m"] / INCH_M, row["tension_n"] / POUND_N
    leg_in = 120.0 * 12

    def deflection_in(stretched_in: float) -> float:
        def excess(middle_in: float) -> float:
            longer = 2 * (math.hypot(span_in / 2, middle_in) - span_in / 2)
            drawn = tension + STIFFNESS_LBF * longer / stretched_in
            return float(2 * drawn * middle_in / math.hypot(span_in / 2, middle_in)) - 10.0

        return solved(excess, 0.0, 20.0)

    assert deflection_in(span_in) == pytest.approx(1.15, abs=0.01)
    assert row["deflection_pinned_m"] / INCH_M == pytest.approx(deflection_in(span_in), rel=0.01)
    assert row["deflection_sliding_m"] / INCH_M == pytest.approx(deflection_in(leg_in), rel=0.02)
