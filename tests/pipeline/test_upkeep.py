"""Days on which the finished fence is looked at."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.desk.scheduling import programme
from fencewright.pipeline.record import Design
from fencewright.pipeline.upkeep import plan_upkeep


def made_of(text: str, more: str) -> Design:
    return design(job_from_text(text.partition("[price]")[0] + more, Path()))


def test_without_a_day_only_the_re_pull_is_known(small_job_text: str) -> None:
    made = made_of(small_job_text, "")
    planned = programme(made)
    upkeep = plan_upkeep(made, planned)
    assert upkeep.hand_over is None
    days = {one.id: (one.date, one.after_days, one.is_yearly) for one in upkeep.visits}
    row = planned.activities.kind.index("re-pull")
    assert days == {
        "re-pull": (None, int(planned.activities.start_day[row]) - planned.finish_day, False),
        "spring": (None, None, True),
        "autumn": (None, None, True),
    }


def test_re_pull_is_never_before_the_tension_stages_days(small_job_text: str) -> None:
    made = made_of(small_job_text, '\n[programme]\nstart = "2026-04-06"\n')
    planned = programme(made)
    upkeep = plan_upkeep(made, planned)
    assert upkeep.hand_over == planned.date_of(planned.finish_day)
    pulls = [row for row, kind in enumerate(planned.activities.kind) if kind in ("pull", "corners")]
    last = planned.date_of(max(int(planned.activities.finish_day[row]) for row in pulls))
    re_pull = next(one.date for one in upkeep.visits if one.id == "re-pull")
    assert last is not None
    assert re_pull is not None
    assert (
        last + timedelta(days=made.tension.repull_days)
        <= re_pull
        <= last + timedelta(made.tension.repull_days + 7)
    )
    assert [one.date for one in upkeep.visits] == sorted(one.date for one in upkeep.visits if one.date)


@pytest.mark.parametrize(
    ("day", "spring", "autumn"),
    [
        ("2026-03-31", date(2026, 4, 1), date(2026, 10, 1)),
        ("2026-04-01", date(2027, 4, 1), date(2026, 10, 1)),
        ("2026-12-31", date(2027, 4, 1), date(2027, 10, 1)),
    ],
)
def test_seasons_follow_the_hand_over(small_job_text: str, day: str, spring: date, autumn: date) -> None:
    made = made_of(small_job_text, f'\n[paper]\nhand_over = "{day}"\n')
    found = {one.id: one.date for one in plan_upkeep(made, programme(made)).visits}
    assert (found["spring"], found["autumn"]) == (spring, autumn)


def test_a_fence_of_which_nothing_is_pulled_again_has_no_re_pull(small_job_text: str) -> None:
    made = made_of(small_job_text, "")
    planned = programme(made)
    kinds = tuple("check" if kind == "re-pull" else kind for kind in planned.activities.kind)
    without = replace(planned, activities=replace(planned.activities, kind=kinds))
    assert [one.id for one in plan_upkeep(made, without).visits] == ["spring", "autumn"]
