"""A plan as tables of dates: activities, days, deliveries, the locating ticket, the bound."""

import math
from collections.abc import Iterable

import numpy as np

from fencewright.job.programme_settings import ProgrammeSettings
from fencewright.programme.activities import NOTICE, PLANT, RE_PULL
from fencewright.programme.calendar import SLOT_H, WorkCalendar
from fencewright.programme.laying import Laid
from fencewright.programme.levelling import Plan
from fencewright.tables.programme import Activities, Bound, Days, Delivery, OrderNeed, Ticket


def activities_of(
    laid: Laid, calendar: WorkCalendar, settings: ProgrammeSettings, repull_days: float, repull_h: float
) -> Activities:
    """Give a plan's activities their hours, people and floats, and add the first re-pull after them.

    Parameters
    ----------
    laid : Laid
        The plan.
    calendar : WorkCalendar
        Hours of its slots.
    settings : ProgrammeSettings
        Names of the people.
    repull_days, repull_h : float
        From the last pull to the first re-pull, and its labour; none where nothing is pulled. [days], [h]

    Returns
    -------
    Activities
        In order of starting; the re-pull last, with no float.
    """
    steps, slots = laid.steps, np.array(laid.network.duration)
    start = np.array(laid.start)
    begin, end = np.zeros(len(steps)), np.zeros(len(steps))
    for row, step in enumerate(steps):
        if step.is_wait:
            begin[row] = max((end[one] for one in step.before), default=float(calendar.begin_h[0]))
            end[row] = max(float(laid.wait_h[row][start[row]]), begin[row])
        else:
            begin[row] = calendar.begin_h[start[row]]
            end[row] = calendar.end_h[start[row] + slots[row] - 1]
    days = calendar.in_days(start)
    people = settings.crew.people
    made = Activities(
        tuple(one.id for one in steps),
        tuple(one.name for one in steps),
        tuple(one.kind for one in steps),
        tuple(one.place for one in steps),
        np.array([one.quantity for one in steps]),
        tuple(one.unit for one in steps),
        np.array([one.is_wait for one in steps]),
        begin,
        end,
        SLOT_H * slots,
        np.round(calendar.in_days(np.array(laid.total)) - days, 6),
        np.round(calendar.in_days(np.array(laid.free)) - days, 6),
        np.array(laid.total) <= start,
        tuple(one.before for one in steps),
        laid.links,
        np.array([one.people for one in steps]),
        tuple(tuple(people[unit] for unit in units[0]) for units in laid.shared.units),
        tuple(_machines(units, settings) for units in laid.shared.units),
    )
    return _with_re_pull(made, calendar, settings, repull_days, repull_h)


def _machines(units: tuple[tuple[int, ...], ...], settings: ProgrammeSettings) -> tuple[str, ...]:
    """Machines by name, numbered where there are several of a kind."""
    crew = settings.crew
    many = (crew.augers, crew.mixers, crew.drivers)
    return tuple(
        f"{name} {unit + 1}" if count > 1 else name
        for name, count, taken in zip(PLANT, many, units[1:], strict=True)
        for unit in taken
    )


def _with_re_pull(
    made: Activities, calendar: WorkCalendar, settings: ProgrammeSettings, repull_days: float, repull_h: float
) -> Activities:
    pulls = tuple(row for row, kind in enumerate(made.kind) if kind in ("pull", "corners"))
    if not pulls or repull_h <= 0:
        return made
    last_h = max(float(made.finish_h[row]) for row in pulls)
    after_h = max(last_h + 24.0 * repull_days, float(made.finish_h.max()))
    first = int(calendar.first_slot_from(np.array([after_h]))[0])
    count = min(2, len(settings.crew.people))
    slots = max(1, math.ceil(repull_h / count / (1 - settings.calendar.weather) / SLOT_H - 1e-6))
    last = min(first + slots, len(calendar)) - 1
    return Activities(
        (*made.id, RE_PULL),
        (*made.name, "First re-pull"),
        (*made.kind, RE_PULL),
        (*made.place, ""),
        np.append(made.quantity, float(sum(made.quantity[row] for row in pulls if made.kind[row] == "pull"))),
        (*made.unit, "pull"),
        np.append(made.is_wait, False),
        np.append(made.start_h, calendar.begin_h[min(first, len(calendar) - 1)]),
        np.append(made.finish_h, calendar.end_h[last]),
        np.append(made.work_h, SLOT_H * slots),
        np.append(made.float_days, np.nan),
        np.append(made.free_float_days, np.nan),
        np.append(made.is_critical, False),
        (*made.after, tuple(row for row in pulls if made.kind[row] == "pull")),
        (*made.after_crew, ()),
        np.append(made.crew, count),
        (*made.people, settings.crew.people[:count]),
        (*made.plant, ()),
    )


def days_of(activities: Activities, calendar: WorkCalendar, finish_day: int) -> Days:
    """Say for each calendar day up to the hand-over what is worked on, by whom and with what."""
    count = finish_day + 1
    active: list[list[int]] = [[] for _ in range(count)]
    for row in np.flatnonzero(~activities.is_wait).tolist():
        first = int(np.searchsorted(calendar.begin_h, activities.start_h[row] - 1e-9))
        last = int(np.searchsorted(calendar.end_h, activities.finish_h[row] - 1e-9))
        for day in np.unique(calendar.slot_day[first : last + 1]).tolist():
            if day < count:
                active[day].append(row)
    hours = calendar.day_hours[:count]
    return Days(
        hours > 0,
        hours,
        calendar.said[:count],
        tuple(map(tuple, active)),
        tuple(_together(activities.people[row] for row in rows) for rows in active),
        tuple(_together(activities.plant[row] for row in rows) for rows in active),
    )


def _together(names: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    return tuple(sorted({one for many in names for one in many}))


def deliveries_of(
    activities: Activities, calendar: WorkCalendar, settings: ProgrammeSettings, needs: Iterable[OrderNeed]
) -> tuple[Delivery, ...]:
    """Give each line of the order the day by whose end it must be on site, earliest first.

    The first activity of its kind decides, else the first after the notice; `lead` working days before its day.
    """
    first: dict[str, int] = {}
    for row, kind in enumerate(activities.kind):
        if kind not in first or activities.start_h[row] < activities.start_h[first[kind]]:
            first[kind] = row
    fallback = first.get("stake", 0)
    working = np.flatnonzero(calendar.day_hours > 0)
    made = []
    for need in needs:
        row = first.get(need.kind, fallback)
        place = int(np.searchsorted(working, activities.start_day[row])) - settings.lead
        day = int(working[place]) if place >= 0 else place
        made.append(
            Delivery(need.order_id, need.item, need.size, need.quantity, need.unit, day, activities.id[row])
        )
    return tuple(sorted(made, key=lambda one: one.day))


def ticket_of(activities: Activities, calendar: WorkCalendar, settings: ProgrammeSettings) -> Ticket:
    """Give the days of the locating ticket: asked for, valid, run out, and by when it must be renewed."""
    notice = activities.kind.index(NOTICE)
    call = math.floor(float(activities.start_h[notice]) / 24 - 1e-9)
    dug = [
        row
        for row, kind in enumerate(activities.kind)
        if kind in ("dig-ends", "dig-line", "remove-old", "set-line")
    ]
    last = max((int(activities.finish_day[row]) for row in dug), default=call)
    expires = call + settings.ticket_days
    renew = None
    if last > expires:
        counted = np.flatnonzero(calendar.is_locator_day[: max(expires, 0) + 1])
        renew = int(counted[max(len(counted) - 1 - settings.notice, 0)]) if len(counted) else call
        renew = max(renew, call)
    return Ticket(call, int(activities.finish_h[notice] // 24), expires, last, renew)


def bound_of(calendar: WorkCalendar, levelled: Plan, unlimited: int) -> Bound:
    """Give the plan's bound as dates."""
    bound = min(levelled.bound, levelled.finish)
    gap = calendar.in_days(np.array([levelled.finish])) - calendar.in_days(np.array([bound]))
    return Bound(
        float(calendar.end_h[bound - 1]),
        int(calendar.slot_day[bound - 1]),
        round(float(gap[0]), 6),
        levelled.is_proven,
        levelled.by,
        int(calendar.slot_day[unlimited - 1]),
    )
