"""What was measured, the tension that it betrays, and the advice."""

import numpy as np
import pytest

from fencewright.findings import InputError
from fencewright.job.settings import Settings
from fencewright.job.tension_settings import SiteCheckSettings
from fencewright.mechanics.pushed_span import deflection_m
from fencewright.mechanics.vibration import frequency_hz
from fencewright.quantity.parse import GRAVITY_M_S2
from fencewright.quantity.show import UnitSystem
from fencewright.tension.measured import Beats, MeasuredSpan, Push, Verdict, Wanted, judge_measurement

METRIC = UnitSystem("metric")
SPAN = MeasuredSpan(span_m=3.6, run_m=60.0, stiffness_n=2.98e6, weight_n_m=3.2)
INCH, LBF = 0.0254, 4.4482216152605


@pytest.fixture
def known(settings: Settings) -> SiteCheckSettings:
    return settings.tension.checks


def wanted(tension_n: float) -> Wanted:
    return Wanted(tension_n, 0.9 * tension_n, 1.1 * tension_n)


def pushed(tension_n: float, run_m: float, known: SiteCheckSettings, want_n: float) -> Verdict:
    given = float(deflection_m(45.0, SPAN.span_m, run_m, tension_n, SPAN.stiffness_n, SPAN.weight_n_m))
    return judge_measurement(Push(45.0, given), SPAN, wanted(want_n), known, METRIC)


@pytest.mark.parametrize("tension_n", [300.0, 1100.0, 2500.0])
@pytest.mark.parametrize("run_m", [SPAN.span_m, SPAN.run_m])
def test_the_truth_lies_between_the_bounds(tension_n: float, run_m: float, known: SiteCheckSettings) -> None:
    verdict = pushed(tension_n, run_m, known, tension_n)
    assert verdict.low_n < tension_n < verdict.high_n
    assert verdict.advice == "leave"


def test_advice_follows_the_tension(known: SiteCheckSettings) -> None:
    assert pushed(400.0, SPAN.run_m, known, 1500.0).advice == "pull more"
    assert pushed(2800.0, SPAN.span_m, known, 1100.0).advice == "ease off"
    assert pushed(2800.0, SPAN.span_m, known, 1100.0).is_sure


@pytest.mark.parametrize(("factor", "advice"), [(0.6, "pull more"), (1.0, "leave"), (1.5, "ease off")])
def test_beats_give_one_tension(factor: float, advice: str, known: SiteCheckSettings) -> None:
    tension = 1100.0
    beat = 60.0 * float(frequency_hz(tension * factor, SPAN.span_m, SPAN.weight_n_m / GRAVITY_M_S2))
    verdict = judge_measurement(Beats(beat), SPAN, wanted(tension), known, METRIC)
    assert verdict.tension_n == pytest.approx(tension * factor)
    assert verdict.advice == advice
    spread = 2 * 2 * known.beats_sd * tension * factor
    assert verdict.high_n - verdict.tension_n == pytest.approx(spread, rel=1e-6)


def test_a_wire_over_two_supports(known: SiteCheckSettings) -> None:
    """Sources-fence A3 (press): 40 in apart, 1/2 in at the centre, 10 lb: 200 lb while the wire slides."""
    wire = MeasuredSpan(40 * INCH, 400.0, 993e3, 1e-9)
    verdict = judge_measurement(Push(10 * LBF, 0.5 * INCH), wire, wanted(200 * LBF), known, METRIC)
    two = judge_measurement(
        Push(10 * LBF, 0.5 * INCH), MeasuredSpan(40 * INCH, 1e6, 993e3, 1e-9), wanted(1.0), known, METRIC
    )
    assert 2 * two.tension_n - _pinned(two) == pytest.approx(200 * LBF, rel=2e-3)
    assert verdict.advice == "leave"


def _pinned(verdict: Verdict) -> float:
    """Pinned bound of that reading, from the mean of both and the closed form of a wire held at both supports."""
    half = np.hypot(20 * INCH, 0.5 * INCH)
    strain = half / (20 * INCH) - 1
    level = 10 * LBF * 40 * INCH / (4 * 0.5 * INCH) * half / (20 * INCH)
    return float((level / 993e3 - strain) / (1 + strain) * 993e3) if verdict else np.nan


def test_a_rail_whose_temperature_is_guessed_is_known_less(known: SiteCheckSettings) -> None:
    beat = Beats(400.0)
    sure = judge_measurement(beat, SPAN, Wanted(1000.0, 900.0, 1100.0), known, METRIC)
    unsure = judge_measurement(beat, SPAN, Wanted(1000.0, 900.0, 1100.0, -35.0), known, METRIC)
    assert unsure.high_n - unsure.low_n > sure.high_n - sure.low_n


@pytest.mark.parametrize(
    ("measured", "says"),
    [
        (Push(0.0, 0.03), "push must be more than nothing"),
        (Push(np.nan, 0.03), "push must be more than nothing"),
        (Push(45.0, -0.03), "deflection must be more than nothing"),
        (Push(45.0, 30.0), "check its unit"),
        (Push(0.001, 0.3), "no tension explains"),
        (Push(45.0, 1e-6), "more than the rail can bear"),
        (Beats(0.0), "beats must be more than nothing"),
        (Beats(5.0), "not in a second"),
        (Beats(9e4), "more than the rail can bear"),
    ],
)
def test_readings_that_cannot_be(measured: Push | Beats, says: str, known: SiteCheckSettings) -> None:
    with pytest.raises(InputError, match=says):
        judge_measurement(measured, SPAN, wanted(1100.0), known, METRIC)


@pytest.mark.parametrize(
    ("sheets", "told"),
    [
        ("us", [r"1181 1/8 in is more than a quarter of the span of 11\.8 ft", "11 3/4 in under 0 lbf"]),
        ("metric", [r"30,000 mm is more than a quarter of the span of 3\.60 m", "300 mm under 0 N"]),
    ],
)
def test_a_refusal_speaks_in_the_units_of_the_sheets(
    sheets: str, told: list[str], known: SiteCheckSettings
) -> None:
    readings = (Push(45.0, 30.0), Push(0.001, 0.3))
    for measured, says in zip(readings, told, strict=True):
        with pytest.raises(InputError, match=says):
            judge_measurement(measured, SPAN, wanted(1100.0), known, UnitSystem(sheets))
