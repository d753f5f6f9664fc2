"""A measurement on site against the tension that belongs in that span, past each corner."""

from pathlib import Path

import pytest

from fencewright import design
from fencewright.desk.reading import job_from_text
from fencewright.findings import InputError
from fencewright.mechanics.belt_friction import tension_share
from fencewright.pipeline.measuring import Measurement, judge
from fencewright.pipeline.record import Design
from fencewright.tension.measured import Beats

QUARTER_TURN_RAD = 1.5707963267948966


@pytest.fixture(scope="module")
def small(small_job_text: str) -> Design:
    return design(job_from_text(small_job_text, Path()))


@pytest.mark.parametrize(("post", "corners"), [("P45", 0), ("P28", 1), ("P18", 2), ("P2", 3)])
def test_the_span_past_each_corner_has_its_own_share(small: Design, post: str, corners: int) -> None:
    """The rail is drawn from P1; belt friction, source capstan-27, takes its share at each corner between."""
    reading = Measurement("R1-2", post, small.tension.reference_c, Beats(400.0))
    wanted = judge(small, reading).verdict.wanted.tension_n
    share = float(tension_share(corners * QUARTER_TURN_RAD, small.job.settings.layout.friction_worked))
    assert wanted == pytest.approx(share * float(small.tension.set_tension_n[1]), rel=0.02)


@pytest.mark.parametrize(
    ("pull", "post", "warm_c"), [("R9-9", "", 20.0), ("R1-1", "P99", 20.0), ("R1-1", "", 99.0)]
)
def test_what_the_design_does_not_hold_is_refused(small: Design, pull: str, post: str, warm_c: float) -> None:
    with pytest.raises(InputError):
        judge(small, Measurement(pull, post, warm_c, Beats(400.0)))


def test_a_temperature_off_the_chart_is_told_in_the_units_of_the_sheets(small: Design) -> None:
    with pytest.raises(InputError, match="at 210 F is off the chart, which runs from 10 F to 130 F"):
        judge(small, Measurement("R1-1", "", 98.9, Beats(400.0)))
