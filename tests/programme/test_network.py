"""Floats across working and calendar time, against plans slipped one by one and run through hour by hour."""

import random

import numpy as np
import pytest

from fencewright.job.programme_settings import CalendarRules
from fencewright.programme.calendar import WorkCalendar, build_calendar
from fencewright.programme.network import Network, earliest, latest, slack


def cured(calendar: WorkCalendar, hours: float) -> np.ndarray:
    """First slot after a wait of so many hours, by the slot before which it begins."""
    free = calendar.first_slot_from(calendar.done_h + hours)
    return np.concatenate([free, np.arange(len(calendar) + 1, len(calendar) + 200)])


def walked(
    calendar: WorkCalendar, network: Network, hours: dict[int, float], slipped: int, by: int
) -> list[float]:
    """Hours at which activities end, one begun `by` working half-hours late: stepped through half-hour by half-hour."""
    ends: list[float] = []
    for row, many in enumerate(network.before):
        ready = max((ends[one] for one in many), default=0.0)
        late = by if row == slipped else 0
        if row in hours:
            begin = ready
            for _ in range(late):  # a wait slips by working half-hours of what is before it
                begin = next(e for e in calendar.end_h.tolist() if e > begin + 1e-9)
            ends.append(begin + hours[row])
            continue
        todo, end = network.duration[row], ready
        for begin, stop in zip(calendar.begin_h.tolist(), calendar.end_h.tolist(), strict=True):
            if begin < ready - 1e-9 or not todo:
                continue
            if late:
                late -= 1
                continue
            todo, end = todo - 1, stop
        ends.append(end)
    return ends


def fence(calendar: WorkCalendar, seed: int) -> tuple[Network, dict[int, float]]:
    rng = random.Random(seed)
    duration, before, hours = [], [], {}
    for row in range(9):
        earlier = tuple(sorted(rng.sample(range(row), min(row, rng.randint(1, 2)))))
        is_wait = bool(earlier) and rng.random() < 0.35 and not any(one in hours for one in earlier)
        if is_wait:
            hours[row] = float(rng.choice([10, 30, 70, 100]))
        duration.append(0 if is_wait else rng.randint(1, 20))
        before.append(earlier)
    release = {row: cured(calendar, length) for row, length in hours.items()}
    need = np.zeros((9, 1), dtype=np.int64)
    return Network(tuple(duration), tuple(before), need, (1,), release), hours


@pytest.mark.parametrize("seed", range(15))
def test_slipped_by_its_float_the_end_holds_and_by_a_slot_more_it_does_not(
    week: CalendarRules, seed: int
) -> None:
    calendar = build_calendar(week, {}, 400, 60)
    network, hours = fence(calendar, seed)
    start, end = earliest(network)
    finish = max(end)
    total, _ = slack(network, start, finish)
    last = max(walked(calendar, network, hours, -1, 0))
    until = float(calendar.begin_h[finish]) if finish < len(calendar) else np.inf
    for row in range(len(network)):
        spare = total[row] - start[row]
        assert max(walked(calendar, network, hours, row, spare)) < until - 1e-9 + 0.5
        beyond = max(walked(calendar, network, hours, row, spare + 1))
        assert beyond > last
        assert calendar.first_slot_from(np.array([beyond]))[0] > finish


@pytest.mark.parametrize("seed", range(15))
def test_free_float_moves_nothing_else(week: CalendarRules, seed: int) -> None:
    calendar = build_calendar(week, {}, 400, 60)
    network, _ = fence(calendar, seed)
    start, end = earliest(network)
    total, free = slack(network, start, max(end))
    for row in range(len(network)):
        assert start[row] <= free[row] <= total[row]
        moved = list(start)
        moved[row] = free[row]
        assert all(moved[one] >= network.ends(row, free[row]) for one in network.following[row])


def test_a_weekend_takes_up_a_slip(week: CalendarRules) -> None:
    """Painted by Friday noon, dry a day later, brackets on Monday: painting may slip by the whole afternoon."""
    calendar = build_calendar(week, {}, 200, 30)
    friday_noon = 4 * 16 + 8
    network = Network(
        (friday_noon, 0, 4),
        ((), (0,), (1,)),
        np.zeros((3, 1), dtype=np.int64),
        (1,),
        {1: cured(calendar, 24.0)},
    )
    start, end = earliest(network)
    total, _ = slack(network, start, end[2])
    assert start[2] == 5 * 16
    assert [total[row] - start[row] for row in range(3)] == [8, 8, 0]
    assert float(calendar.in_days(np.array([total[0]]))[0] - calendar.in_days(np.array([start[0]]))[0]) == 0.5


def test_without_waits_it_is_plain_arithmetic() -> None:
    network = Network((3, 2, 4), ((), (), (0, 1)), np.zeros((3, 1), dtype=np.int64), (1,))
    assert earliest(network) == ([0, 0, 3], [3, 2, 7])
    assert latest(network, 7) == ([0, 1, 3], [3, 3, 7])


def test_an_activity_before_one_that_it_follows_is_refused() -> None:
    with pytest.raises(ValueError, match="before one that it follows"):
        Network((1, 1), ((1,), ()), np.zeros((2, 1), dtype=np.int64), (1,))


def test_a_wait_may_not_follow_a_wait() -> None:
    table = np.arange(10)
    with pytest.raises(ValueError, match="may not follow a wait"):
        Network((1, 0, 0), ((), (0,), (1,)), np.zeros((3, 1), dtype=np.int64), (1,), {1: table, 2: table})
