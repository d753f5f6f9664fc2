"""The programme of whole designs: order of work, what it rests on, deliveries, ticket, findings."""

from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.desk.scheduling import programme
from fencewright.findings import InputError, has_stop
from fencewright.pipeline.pricing import price_design
from fencewright.pipeline.record import Design
from fencewright.tables.programme import Programme

BASE = '[programme]\nstart = "2026-04-06"\nprivate_services = "none"\nnotice = 3\n'
WARM = "month_temperatures = [" + ", ".join(['"73.4 F"'] * 12) + "]\n"
Plan = Callable[[str], Programme]


@pytest.fixture
def planned(small_job_text: str, tmp_path: Path) -> Plan:
    """Plan the small paddock with a `[programme]` table."""

    def run(table: str) -> Programme:
        return programme(design(job_from_text(small_job_text + table, tmp_path)))

    return run


def hours(made: Programme, kind: str) -> tuple[float, float]:
    rows = [row for row, one in enumerate(made.activities.kind) if one == kind]
    return float(made.activities.start_h[rows].min()), float(made.activities.finish_h[rows].max())


def codes(made: Programme) -> set[str]:
    return {finding.code for finding in made.findings}


ORDER = (
    ("white-line", "notice"), ("notice", "stake"), ("stake", "dig-ends"), ("dig-ends", "set-ends"), ("stand", "set-line"),
    ("dig-line", "set-line"), ("set-line", "string-cut"), ("string-cut", "treat"), ("treat", "paint"), ("dry", "brackets"),
    ("brackets", "pay-out"), ("pay-out", "anchor"), ("anchor", "pull"), ("cure", "pull"), ("pull", "corners"),
    ("pull", "gates"), ("corners", "check"), ("check", "clear-up"), ("gates", "clear-up"), ("clear-up", "re-pull"),
)  # fmt: skip


@pytest.mark.parametrize("crew", [1, 2, 4])
def test_the_order_of_work(planned: Plan, crew: int) -> None:
    made = planned(BASE + f"crew = {crew}\n")
    wrong = [pair for pair in ORDER if hours(made, pair[0])[1] > hours(made, pair[1])[0] + 1e-9]
    assert not wrong


def test_nobody_is_in_two_places_and_no_machine_either(planned: Plan) -> None:
    table = planned(BASE + "crew = 4\n").activities
    for names in (table.people, table.plant):
        for one in {name for many in names for name in many}:
            rows = [row for row, many in enumerate(names) if one in many]
            spans = sorted((table.start_h[row], table.finish_h[row]) for row in rows)
            assert all(before[1] <= after[0] + 1e-9 for before, after in pairwise(spans))


def test_a_rail_is_not_pulled_before_the_concrete_is_strong_enough(planned: Plan) -> None:
    cold = planned(BASE + "month_temperatures = [" + ", ".join(['"41 F"'] * 12) + "]\n")
    warm = planned(BASE + WARM)
    for made, days in ((warm, 6.9136), (cold, 6.9136 * 33 / 15)):  # 23 C and 5 C above -10 C
        poured, cured = hours(made, "cure")
        assert (cured - poured) / 24 == pytest.approx(days, rel=1e-4)
        assert hours(made, "pull")[0] >= cured
    assert cold.finish_h > warm.finish_h


def test_more_strength_asked_takes_longer(planned: Plan) -> None:
    assert planned(BASE + 'concrete_share = "80 %"\n').cure.longest_days > planned(BASE).cure.longest_days


def test_what_the_posts_ask_is_stated_and_small(planned: Plan) -> None:
    assert "posts' pressure asks for" in planned(BASE).cure.why


def test_holes_are_dug_within_the_ticket_or_it_is_said(planned: Plan) -> None:
    assert "ticket-expires" not in codes(planned(BASE + 'ticket_life = "21 days"\n'))
    short = planned(BASE + 'ticket_life = "5 days"\n')
    assert "ticket-expires" in codes(short)
    assert short.ticket.renew_day is not None
    assert short.ticket.renew_day <= short.ticket.expires_day < short.ticket.dug_day


def test_private_services_stop_the_programme_and_not_the_design(small_job_text: str, tmp_path: Path) -> None:
    made = design(job_from_text(small_job_text + '[programme]\nstart = "2026-04-06"\n', tmp_path))
    assert made.may_be_built
    planned = programme(made)
    assert has_stop(planned.findings)
    assert "private-services" in codes(planned)
    assert len(planned.activities)


@pytest.mark.parametrize("answer", ["none", "marked"])
def test_somebody_answered(planned: Plan, answer: str) -> None:
    assert not has_stop(planned(BASE.replace('"none"', f'"{answer}"')).findings)


def test_goods_come_before_they_are_needed(planned: Plan) -> None:
    made = planned(BASE)
    table = made.activities
    for one in made.deliveries:
        assert one.day < table.start_day[table.id.index(one.activity)]
        assert one.day < 0 or made.days.is_working[one.day]
    kinds = {one.item: one.activity.rstrip("-0123456789") for one in made.deliveries}
    assert kinds["bagged concrete"] == "set-ends"
    assert kinds["polymer rail"] == "pay-out"
    assert kinds["gate leaf"] == "gates"
    sizes = {one.size: one.activity for one in made.deliveries if one.item == "round post"}
    assert sizes == {"6 in x 9 ft": "set-ends-1", "4.5 in x 8 ft": "set-line-1"}


def test_every_line_of_the_order_has_its_day(planned: Plan, made_small: Design) -> None:
    assert {one.order_id for one in planned(BASE).deliveries} == {line.id for line in made_small.order}


@pytest.fixture
def made_small(small_job_text: str, tmp_path: Path) -> Design:
    return design(job_from_text(small_job_text, tmp_path))


def test_without_a_first_day_days_are_numbered(planned: Plan) -> None:
    made = planned('[programme]\nprivate_services = "none"\n')
    assert made.day_text(0) == "day 1"
    assert made.date_of(3) is None
    assert "no-start" in codes(made)


def test_holidays_are_kept(planned: Plan) -> None:
    made = planned(BASE.replace("2026-04-06", "2026-06-29") + 'country = "US"\nsubdivision = "OH"\n')
    assert "Independence Day" in made.days.said[4]  # Friday 3 July 2026, the day on which the fourth is kept
    assert not made.days.active[4]


def test_more_people_never_take_longer(planned: Plan) -> None:
    ends = [planned(BASE + f"crew = {crew}\n").finish_h for crew in (1, 2, 3, 4, 6)]
    assert ends == sorted(ends, reverse=True)


def test_no_auger_is_slower_and_takes_none(planned: Plan) -> None:
    by_hand = planned(BASE + "augers = 0\n")
    assert by_hand.finish_h > planned(BASE).finish_h
    assert not any("auger" in many for many in by_hand.activities.plant)


def test_own_rates_take_the_place_of_the_shipped_ones(planned: Plan) -> None:
    slow = planned(BASE + '[[rate]]\nwork = "set and tamp posts"\nper_hour = 1.0\n')
    assert slow.finish_h > planned(BASE).finish_h


def test_a_small_paddock_is_a_fortnight_and_a_half_for_two(planned: Plan) -> None:
    """Common practice, no source: 54 posts with four concreted corners and a gate are some 8 to 14 days of two people."""
    days = planned(BASE + "crew = 2\n").days
    assert 8 <= sum(bool(rows) for rows in days.active) <= 14


def test_critical_activities_have_no_float_and_the_hand_over_is_one(planned: Plan) -> None:
    table = planned(BASE + WARM).activities
    known = np.isfinite(table.float_days)
    assert (table.is_critical[known] == (table.float_days[known] <= 0)).all()
    assert (table.float_days[known] >= 0).all()
    assert (table.free_float_days[known] <= table.float_days[known] + 1e-9).all()
    assert table.is_critical[table.kind.index("clear-up")]
    assert table.kind[-1] == "re-pull"
    assert not known[-1]


def test_a_gap_is_stated_or_there_is_none(planned: Plan) -> None:
    for crew in (1, 2, 3, 4):
        made = planned(BASE + f"crew = {crew}\n")
        assert made.bound.is_proven == ("programme-gap" not in codes(made))
        assert made.bound.finish_h <= made.finish_h


def test_concrete_in_the_frost(planned: Plan) -> None:
    winter = BASE.replace("2026-04-06", "2026-12-07")
    assert "cold-concrete" in codes(
        planned(winter + "month_temperatures = [" + ", ".join(['"28 F"'] * 12) + "]\n")
    )
    with pytest.raises(InputError, match="may never reach 70%"):
        planned(winter + "month_temperatures = [" + ", ".join(['"-20 C"'] * 12) + "]\n")


def test_the_same_job_gives_the_same_programme(planned: Plan) -> None:
    one, two = planned(BASE + "crew = 3\n"), planned(BASE + "crew = 3\n")
    assert one.activities.id == two.activities.id
    assert one.activities.start_h.tolist() == two.activities.start_h.tolist()
    assert one.activities.people == two.activities.people


def test_a_first_day_on_a_weekend_waits_for_monday(planned: Plan) -> None:
    made = planned(BASE.replace("2026-04-06", "2026-04-04"))
    assert made.activities.start_h[0] == 2 * 24 + 8
    assert made.day_text(int(made.activities.start_day[0])) == "2026-04-06"


def test_daylight_is_that_of_the_plane_s_place(small_job_text: str, tmp_path: Path) -> None:
    """At 60 degrees north the shortest day has some 5.5 hours; an hour of them is the way there and back."""
    text = small_job_text.replace('crs = "local"', 'crs = "local"\norigin = [60.0, 10.0]')
    made = programme(design(job_from_text(text + BASE.replace("2026-04-06", "2026-12-21"), tmp_path)))
    assert 4.0 <= made.days.hours[0] <= 5.0
    assert "no-daylight" not in codes(made)


def test_a_longer_notice_moves_everything(planned: Plan) -> None:
    short, long = planned(BASE), planned(BASE.replace("notice = 3", "notice = 8"))
    assert long.ticket.dig_day - short.ticket.dig_day == 7  # five working days
    assert long.finish_h > short.finish_h


def test_weather_takes_its_share(planned: Plan) -> None:
    wet, dry = planned(BASE + 'weather = "40 %"\n'), planned(BASE + 'weather = "0 %"\n')
    assert wet.activities.work_h.sum() == pytest.approx(dry.activities.work_h.sum() / 0.6, rel=0.08)


@pytest.mark.parametrize(
    ("start", "is_said"), [("2019-04-26", True), ("2027-03-01", False), ("2027-04-26", False)]
)
def test_works_that_begin_before_the_day_of_their_price(
    small_job_text: str, tmp_path: Path, start: str, is_said: bool
) -> None:
    """A price is made before the works begin: one of the two dates is wrong; price and programme say so alike."""
    text = small_job_text.replace('day = "2026-03-02"', 'day = "2027-03-01"')
    assert text != small_job_text
    dates = f'[programme]\nstart = "{start}"\n'
    made = design(job_from_text(text + dates, tmp_path))
    said = [
        next((one for one in found if one.code == "price-after-start"), None)
        for found in (price_design(made).findings, programme(made).findings)
    ]
    assert said[0] == said[1]
    assert (said[0] is not None) == is_said
    if said[0] is not None:
        assert said[0].message == "The works begin on 2019-04-26, before the day of their price, 2027-03-01."
        assert said[0].remedy.startswith("Check [programme] start and [price] day")
