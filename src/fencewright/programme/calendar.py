"""The working calendar: which half-hours of which days are worked, and how waits run over all of them."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import InputError
from fencewright.job.programme_settings import CalendarRules
from fencewright.mechanics.daylight import day_length_h

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

SLOT_H = 0.5  # work is laid out in half-hours
_WEEK = 7
_LOCATOR_DAYS = 5  # locating services count Monday to Friday
_LONGEST_DAYS = 20_000


@dataclass(frozen=True, slots=True, eq=False)
class WorkCalendar:
    """Half-hours of work, one after the other, and the hours at which they lie.

    `begin_h`, `end_h` (slots,) hours from midnight before day 0 [h]; `slot_day` (slots,) their days; `day_slot`
    (days + 1,) first slot of each day; `day_hours` (days,) worked [h]; `said` (days,) why a day is not worked, empty
    where it is; `is_locator_day` (days,) the locating service counts it.
    """

    begin_h: Floats
    end_h: Floats
    slot_day: Ints
    day_slot: Ints
    day_hours: Floats
    said: tuple[str, ...]
    is_locator_day: Flags

    def __len__(self) -> int:
        """Number of slots."""
        return len(self.begin_h)

    @property
    def done_h(self) -> Floats:
        """Hour at which the work before each slot is done, (slots + 1,); before the first, when it begins. [h]"""
        return np.concatenate([self.begin_h[:1], self.end_h])

    def first_slot_from(self, hour: Floats) -> Ints:
        """First slot that begins at or after each hour; the number of slots where none does."""
        return np.searchsorted(self.begin_h, np.asarray(hour) - 1e-9).astype(np.int64)

    def in_days(self, slot: Ints) -> Floats:
        """Working days before each slot, parts of a day by its own hours. [days]"""
        slots = np.minimum(np.asarray(slot, dtype=np.int64), len(self))
        worked = np.cumsum(np.diff(self.day_slot) > 0)
        day = self.slot_day[np.minimum(slots, len(self) - 1)]
        many = np.maximum(self.day_slot[day + 1] - self.day_slot[day], 1)
        before: Floats = worked[day] - 1 + (slots - self.day_slot[day]) / many
        return before


def build_calendar(
    rules: CalendarRules, holidays: Mapping[datetime.date, str], work_slots: int, spare_days: int
) -> WorkCalendar:
    """Lay out the half-hours of work.

    Parameters
    ----------
    rules : CalendarRules
        Days, hours, daylight.
    holidays : mapping
        Name of each public holiday; dates beyond the last one count as none.
    work_slots : int
        Half-hours of work that must find room.
    spare_days : int
        Calendar days laid out beyond them, for waits.

    Returns
    -------
    WorkCalendar
        Without a first day, day 0 is a Monday, and neither holidays nor daylight count.

    Raises
    ------
    InputError
        No half-hour is worked within the next years.

    Notes
    -----
    O(days).
    """
    days = spare_days + 2 * _WEEK
    while True:
        slots, said, counts = _day_slots(rules, holidays, days)
        worked = int(slots.sum())
        if worked > work_slots and int(slots[: max(days - spare_days, 1)].sum()) >= work_slots:
            break
        if days >= _LONGEST_DAYS:
            what = (
                "there is no day on which anybody may work: look at work_days, days_off, hours and latitude"
            )
            raise InputError(what, item="programme")
        days = min(2 * days, _LONGEST_DAYS)
    day_slot = np.concatenate([[0], np.cumsum(slots)])
    slot_day = np.repeat(np.arange(days), slots)
    begin = 24.0 * slot_day + rules.begins_h + SLOT_H * (np.arange(day_slot[-1]) - day_slot[slot_day])
    return WorkCalendar(
        begin, begin + SLOT_H, slot_day, day_slot, slots.astype(np.float64) * SLOT_H, tuple(said), counts
    )


def _day_slots(
    rules: CalendarRules, holidays: Mapping[datetime.date, str], days: int
) -> tuple[Ints, list[str], Flags]:
    """Half-hours of each day, why a day has none, and whether the locating service counts it."""
    first = 0 if rules.start is None else rules.start.weekday()
    weekday = (first + np.arange(days)) % _WEEK
    hours = np.full(days, rules.hours)
    said = [""] * days
    counts = weekday < _LOCATOR_DAYS
    if rules.start is not None:
        hours = np.minimum(hours, _daylight_h(rules, rules.start, days))
        for named in (dict.fromkeys(rules.days_off, "day off"), holidays):
            for date, name in named.items():
                day = (date - rules.start).days
                if 0 <= day < days:
                    said[day] = name
                    counts[day] &= name == "day off"
    for day in np.flatnonzero(~np.isin(weekday, rules.work_days)).tolist():
        said[day] = said[day] or ("weekend" if weekday[day] >= _LOCATOR_DAYS else "no working day")
    slots = np.where([not text for text in said], np.floor(hours / SLOT_H + 1e-9), 0).astype(np.int64)
    for day in np.flatnonzero((slots == 0) & [not text for text in said]).tolist():
        said[day] = "no daylight"
    return slots, said, counts


def _daylight_h(rules: CalendarRules, start: datetime.date, days: int) -> Floats:
    """Hours of each day that daylight leaves. [h]"""
    if rules.latitude_deg is None:
        return np.full(days, 24.0)
    day_of_year = (start.timetuple().tm_yday - 1 + np.arange(days, dtype=np.float64)) % 365 + 1
    return np.maximum(day_length_h(rules.latitude_deg, day_of_year) - rules.daylight_spare_h, 0.0)


def notice_ends_h(calendar: WorkCalendar, notice: int) -> Floats:
    """Hour from which one may dig, by the slot before which the call was made.

    Parameters
    ----------
    calendar : WorkCalendar
        Working days of the locating service count, Monday to Friday without holidays.
    notice : int
        Of them between the day of the call and the first hole, both left out.

    Returns
    -------
    float array (slots + 1,)
        Midnight after the last day of notice; infinite beyond the calendar. [h]
    """
    called = np.floor(calendar.done_h / 24 - 1e-9).astype(np.int64)
    counted = np.flatnonzero(calendar.is_locator_day)
    last = np.searchsorted(counted, called, side="right") + notice - 1
    beyond = last >= len(counted)
    day = counted[np.minimum(last, len(counted) - 1)]
    ends = np.where(beyond, np.inf, 24.0 * (day + 1))
    return np.maximum(ends, 24.0 * (called + 1)) if notice == 0 else ends
