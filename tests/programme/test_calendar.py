"""Working half-hours: weekends, holidays, days off, daylight, the locating service's days."""

import datetime
from dataclasses import replace

import numpy as np
import pytest

from fencewright.findings import InputError
from fencewright.job.programme_settings import CalendarRules
from fencewright.programme.calendar import build_calendar, notice_ends_h

GOOD_FRIDAY = {datetime.date(2026, 4, 10): "Good Friday"}


def test_a_week_of_five_days(week: CalendarRules) -> None:
    calendar = build_calendar(week, {}, 100, 10)
    assert calendar.day_hours[:8].tolist() == [8, 8, 8, 8, 8, 0, 0, 8]
    assert calendar.said[5:7] == ("weekend", "weekend")
    assert calendar.begin_h[0] == 8.0
    assert calendar.end_h[15] == 16.0
    assert calendar.begin_h[16] == 24 + 8.0


def test_a_holiday_and_a_day_off_are_not_worked(week: CalendarRules) -> None:
    rules = replace(week, days_off=(datetime.date(2026, 4, 7),))
    calendar = build_calendar(rules, GOOD_FRIDAY, 100, 10)
    assert calendar.day_hours[:5].tolist() == [8, 0, 8, 8, 0]
    assert calendar.said[1] == "day off"
    assert calendar.said[4] == "Good Friday"


def test_the_locating_service_keeps_holidays_but_not_the_crew_s_days_off(week: CalendarRules) -> None:
    rules = replace(week, work_days=(0, 1, 2, 3, 4, 5), days_off=(datetime.date(2026, 4, 7),))
    counts = build_calendar(rules, GOOD_FRIDAY, 100, 10).is_locator_day[:7].tolist()
    assert counts == [True, True, True, True, False, False, False]


@pytest.mark.parametrize(
    ("slot", "notice", "day"),
    [(2, 3, 4), (2, 0, 1), (2, 1, 2), (16 * 3, 3, 8), (16 * 4 + 1, 2, 9)],
)
def test_notice_leaves_out_the_day_of_the_call_and_weekends(
    week: CalendarRules, slot: int, notice: int, day: int
) -> None:
    """Called on Monday with 3 days' notice: dig on Friday. On Wednesday evening: on Tuesday, day 8."""
    calendar = build_calendar(week, {}, 300, 30)
    assert notice_ends_h(calendar, notice)[slot] / 24 == day


def test_daylight_shortens_winter_days(week: CalendarRules) -> None:
    winter = replace(week, start=datetime.date(2026, 12, 21), latitude_deg=45.0)
    calendar = build_calendar(winter, {}, 50, 10)
    assert calendar.day_hours[0] == 7.5  # 8.75 h of day at 45 degrees, less one, in whole half-hours
    summer = build_calendar(replace(winter, start=datetime.date(2026, 6, 22)), {}, 50, 10)
    assert summer.day_hours[0] == 8.0


def test_in_the_polar_night_nobody_works(week: CalendarRules) -> None:
    calendar = build_calendar(replace(week, start=datetime.date(2026, 12, 21), latitude_deg=75.0), {}, 50, 10)
    assert calendar.said[0] == "no daylight"
    assert calendar.day_hours[:20].sum() == 0


def test_parts_of_a_day_count_by_its_own_hours(week: CalendarRules) -> None:
    calendar = build_calendar(week, {}, 100, 10)
    assert calendar.in_days(np.array([0, 8, 16, 20])).tolist() == [0.0, 0.5, 1.0, 1.25]


@pytest.mark.parametrize(
    "change",
    [
        {"work_days": ()},
        {"latitude_deg": 90.0, "start": datetime.date(2026, 12, 1), "daylight_spare_h": 25.0},
    ],
)
def test_no_working_day_at_all_is_refused(week: CalendarRules, change: dict[str, object]) -> None:
    with pytest.raises(InputError, match="no day on which anybody may work"):
        build_calendar(replace(week, **change), {}, 10, 10)  # type: ignore[arg-type]
