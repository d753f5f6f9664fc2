"""The chart of a programme: a row an activity, a column a day, what is critical told by its fill."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fencewright.sheets.letters import shorten
from fencewright.sheets.picture import Item, Text, box_of, line_of
from fencewright.tables.programme import Programme

ROW_M, TALL_ROW_M, HEAD_M = 0.0046, 0.0064, 0.0095
TEXT_M = 0.0020
_BAR_M, _WAIT_M = 0.0026, 0.0014  # heights
_LEAST_M = 0.0005  # of a bar, so that half an hour shows
_MONDAY, _SUNDAY = 0, 6
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@dataclass(frozen=True, slots=True, eq=False)
class Chart:
    """Where a chart lies: `left_m` to `right_m` of its days, `first_day` to `last_day`, both within it.

    `row_m` the height of a row [m].
    """

    programme: Programme
    left_m: float
    right_m: float
    first_day: int
    last_day: int
    row_m: float = ROW_M

    @property
    def day_m(self) -> float:
        """Width of a day. [m]"""
        return (self.right_m - self.left_m) / (self.last_day - self.first_day + 1)

    def x(self, hour: float) -> float:
        """Paper x of an hour, by the working hours of its day, kept within the chart. [m]"""
        day = int(hour // 24)
        return min(
            max(self.left_m + (day - self.first_day + self._part(day, hour)) * self.day_m, self.left_m),
            self.right_m,
        )

    def _part(self, day: int, hour: float) -> float:
        """Part of a day that is over at an hour: of its working hours, else of all."""
        within = hour - 24 * day
        begins, hours = self._worked(day)
        if hours <= 0:
            return within / 24
        return min(max((within - begins) / hours, 0.0), 1.0)

    def _worked(self, day: int) -> tuple[float, float]:
        days, table = self.programme.days, self.programme.activities
        if not 0 <= day < len(days) or days.hours[day] <= 0:
            return 0.0, 0.0
        worked = ~table.is_wait
        begins = float((table.start_h[worked] % 24).min()) if worked.any() else 0.0
        return begins, float(days.hours[day])


def day_name(programme: Programme, day: int) -> str:
    """A day on a sheet: `6 Apr`, or `day 1` without a first day."""
    date = programme.date_of(day)
    return f"day {day + 1}" if date is None else f"{date.day} {_MONTHS[date.month - 1]}"


def is_week_start(programme: Programme, day: int) -> bool:
    """Whether a day is a Monday; without a first day, day 1 is one."""
    date: datetime.date | None = programme.date_of(day)
    return day % 7 == 0 if date is None else date.weekday() == _MONDAY


def draw_days(chart: Chart, top_m: float, low_m: float) -> list[Item]:
    """Shade the days that are not worked, rule the weeks, name their first days. [m]"""
    programme, days = chart.programme, chart.programme.days
    items: list[Item] = []
    high = top_m - HEAD_M
    for day in range(chart.first_day, chart.last_day + 1):
        x = chart.left_m + (day - chart.first_day) * chart.day_m
        if day < len(days) and not days.is_working[day]:
            items.append(box_of(x, low_m, x + chart.day_m, high, "ground-fill"))
            if days.said[day] not in ("weekend", "no working day") and chart.day_m > 0.0012:
                items.append(
                    Text(x + chart.day_m / 2, high + 0.0012, "H", "text-strong", TEXT_M * 0.9, "middle")
                )
    every, number = max(1, int(np.ceil(0.0105 / (7 * chart.day_m)))), 0
    for day in range(chart.first_day, chart.last_day + 1):
        if not is_week_start(programme, day) and day != chart.first_day:
            continue
        x = chart.left_m + (day - chart.first_day) * chart.day_m
        items.append(line_of(((x, low_m), (x, high)), "guide"))
        near = day == chart.first_day and any(
            is_week_start(programme, later)
            for later in range(day + 1, day + 1 + int(np.ceil(0.0105 / chart.day_m)))
        )
        if number % every == 0 and not near:
            items.append(Text(x + 0.0004, high + 0.0042, day_name(programme, day), "text", TEXT_M))
        number += not near
    items.append(line_of(((chart.left_m, high), (chart.right_m, high)), "axis"))
    return [*items, line_of(((chart.left_m, low_m), (chart.right_m, low_m)), "rule")]


def draw_bar(chart: Chart, row: int, middle_m: float) -> list[Item]:
    """Draw an activity: full where it is critical, open where not; a wait hatched; how far it may slip as a line. [m]"""
    table = chart.programme.activities
    left, right = chart.x(float(table.start_h[row])), chart.x(float(table.finish_h[row]))
    right = max(right, left + _LEAST_M)
    is_critical, is_wait = bool(table.is_critical[row]), bool(table.is_wait[row])
    items: list[Item] = []
    slip = _slipped_x(chart, row)
    if slip > right + 0.0004:
        items += [
            line_of(((right, middle_m), (slip, middle_m)), "leader"),
            line_of(((slip, middle_m - 0.0007), (slip, middle_m + 0.0007)), "leader"),
        ]
    half = (_WAIT_M if is_wait else _BAR_M) / 2
    style = "concrete" if is_wait else "mark-solid" if is_critical else "mark"
    items.append(box_of(left, middle_m - half, right, middle_m + half, style))
    if is_wait and is_critical:
        items.append(line_of(((left, middle_m - half), (right, middle_m - half)), "brace"))
    return items


def _slipped_x(chart: Chart, row: int) -> float:
    """Where an activity's end lies if it slips by its float. [m]"""
    table, days = chart.programme.activities, chart.programme.days
    spare = float(table.float_days[row])
    if not np.isfinite(spare) or spare <= 0:
        return 0.0
    finish = min(int(table.finish_day[row]), len(days) - 1)
    working = np.flatnonzero(days.is_working)
    before = int(np.searchsorted(working, finish))
    at_end = (chart.x(float(table.finish_h[row])) - chart.left_m) / chart.day_m - (finish - chart.first_day)
    place = before + (min(max(at_end, 0.0), 1.0) if days.is_working[finish] else 0.0) + spare
    whole = min(int(place), len(working) - 1)
    x = chart.left_m + (int(working[whole]) - chart.first_day + min(place - whole, 1.0)) * chart.day_m
    return min(x, chart.right_m)


def who_text(programme: Programme, row: int) -> str:
    """People and plant of an activity in a few letters: `2, auger`."""
    table = programme.activities
    if table.is_wait[row]:
        return "wait"
    kinds = sorted({name.split(" ")[0] for name in table.plant[row]})
    return ", ".join([str(int(table.crew[row])), *kinds])


def draw_rows(chart: Chart, rows: Sequence[int], top_m: float, name_m: float, who_m: float) -> list[Item]:
    """Draw activities one below the other: name at `name_m`, people and plant ending at `who_m`, bar. [m]"""
    table = chart.programme.activities
    items: list[Item] = []
    room = (who_m - name_m - 0.013) / TEXT_M
    for number, row in enumerate(rows):
        middle = top_m - HEAD_M - (number + 0.5) * chart.row_m
        style = "text-strong" if table.is_critical[row] else "text-quiet" if table.is_wait[row] else "text"
        items.append(Text(name_m, middle, shorten(table.name[row], room), style, TEXT_M))
        items.append(Text(who_m, middle, who_text(chart.programme, row), "text-quiet", TEXT_M, "end"))
        items += draw_bar(chart, row, middle)
        if number % 5 == 4 and number + 1 < len(rows):
            y = middle - chart.row_m / 2
            items.append(line_of(((name_m, y), (chart.right_m, y)), "grid"))
    return items
