"""`[tension]`: what is stated counts, what is left out is common practice, and what cannot be is refused."""

from collections.abc import Callable

import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.findings import Finding, InputError
from fencewright.job.defaults import fill_defaults
from fencewright.job.reading import parse_job
from fencewright.job.settings import Settings

Filled = Callable[..., tuple[Settings, dict[str, Finding]]]
WEATHER = "[site]\ncoldest='-20 F'\nhottest='100 F'\nfrost_depth='36 in'\nsoil='sand'\n"


def test_common_practice_fills_what_is_left_out(filled: Filled) -> None:
    tension = filled(WEATHER)[0].tension
    assert (tension.coldest_c, tension.hottest_c) == pytest.approx((-28.8889, 37.7778), abs=1e-3)
    assert tension.reference_c == pytest.approx(20.0)
    assert tension.spring_m_n == 0.0
    assert tension.chart_c[0] == pytest.approx(-12.222, abs=1e-3)
    assert (tension.chart_c[1] - tension.chart_c[0]) * 1.8 == pytest.approx(10.0)
    assert tension.friction_pulling >= filled(WEATHER)[0].layout.friction_worked


def test_metric_sheets_are_read_in_whole_numbers_of_their_own_units() -> None:
    """A chart by 5 C, a push of whole newtons, marks whole metres apart; what is stated still counts."""
    line = "[[line]]\nname='a'\npoints=[['0 m', '0 m'], ['50 m', '0 m']]\n"
    metric = "[job]\nname='x'\nsheets='metric'\n" + line + WEATHER
    tension = fill_defaults(parse_job(metric), shipped_catalogue())[0].tension
    assert all(one % 5 == pytest.approx(0) for one in tension.chart_c)
    assert all(one % 10 == pytest.approx(0) for one in tension.checks.temperatures_c)
    assert (tension.checks.push_n, tension.marked_m) == (50.0, 10.0)
    stated = "[tension]\npush='40 N'\nmarked_length='30 ft'\n"
    tension = fill_defaults(parse_job(metric + stated), shipped_catalogue())[0].tension
    assert (tension.checks.push_n, tension.marked_m) == pytest.approx((40.0, 9.144))


def test_a_refusal_is_in_the_units_of_the_sheets(filled: Filled) -> None:
    with pytest.raises(InputError, match=r"coldest \(-20 F\) and the hottest \(100 F\)"):
        filled(WEATHER + "[tension]\nreference_temperature='120 F'\n")


def test_what_is_stated_counts(filled: Filled) -> None:
    tension = filled(
        WEATHER
        + "[tension]\nsag_limit='1 in'\nallowed_share='30 %'\nreference_temperature='10 C'\nsun='800 W/m2'\n"
        "wind='2 mph'\nspool_holds='4 ft'\nhand_slack='1 %'\nchart_from='0 C'\nchart_to='40 C'\nchart_step='5 C'\n"
        "push='50 N'\ncheck_temperatures=['20 C', '0 C', '20 C']\nspring_keeper=true\nspring_travel='50 mm'\n"
        "spring_force='1 kN'\nsettlement='3 mm'\nsettling_time='4 weeks'\nmarked_length='10 m'\n"
    )[0].tension
    assert (tension.sag_limit_m, tension.assumed.allowed_share, tension.reference_c) == (0.0254, 0.3, 10.0)
    assert (tension.sun_w_m2, tension.spool.holds_m, tension.hand_slack) == pytest.approx((800, 1.2192, 0.01))
    assert tension.chart_c == pytest.approx(tuple(range(0, 41, 5)))
    assert tension.checks.temperatures_c == (0.0, 20.0)
    assert tension.spring_m_n == pytest.approx(5e-5)
    assert (tension.settling_s, tension.marked_m) == (28 * 86400.0, 10.0)


def test_a_reference_outside_the_weather_moves_unless_it_is_stated(filled: Filled) -> None:
    hot = "[site]\ncoldest='25 C'\nhottest='40 C'\n"
    assert filled(hot)[0].tension.reference_c == 25.0
    with pytest.raises(InputError, match="must lie between the coldest"):
        filled(hot + "[tension]\nreference_temperature='0 C'\n")


def test_friction_while_pulling_is_never_below_that_once_worked(filled: Filled) -> None:
    assert filled("[fence]\nfriction=0.4\n")[0].tension.friction_pulling == 0.4
    with pytest.raises(InputError, match="does not slide more easily"):
        filled("[tension]\nfriction_pulling=0.1\n")


@pytest.mark.parametrize(
    ("key", "value", "says"),
    [
        ("sag_limit", "'0 in'", "without sag"),
        ("allowed_share", "1.5", "1.5 is 150 %"),
        ("friction_pulling", "-0.1", "too small"),
        ("spool_core", "'0 in'", "more than nothing"),
        ("spool_full", "'0.5 in'", "wider than the bare spool"),
        ("spool_holds", "'0 ft'", "more than nothing"),
        ("hand_slack", "'30 %'", "below 20 %"),
        ("chart_to", "'-40 F'", "below chart_from"),
        ("chart_step", "'0.1 C'", "use a wider step"),
        ("push", "'0 N'", "more than nothing"),
        ("check_temperatures", "[]", "at least one"),
        ("spring_force", "'0 N'", "more than nothing"),
        ("settling_time", "'0 days'", "more than nothing"),
        ("sun", "'800'", "irradiance with a unit"),
        ("settling_time", "'30 ft'", "time with a unit"),
    ],
)
def test_what_no_fence_can_be(filled: Filled, key: str, value: str, says: str) -> None:
    with pytest.raises(InputError, match=says):
        filled(f"[tension]\n{key} = {value}\n")
