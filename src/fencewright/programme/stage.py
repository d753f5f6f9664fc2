"""The programme stage: work and a crew to dates."""

import datetime
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import Finding, InputError, sorted_findings
from fencewright.job.programme_settings import ProgrammeSettings
from fencewright.programme.activities import (
    CURE,
    CURE_LINE,
    DRY,
    NOTICE,
    PHASES,
    STAND,
    Step,
    steps_of,
)
from fencewright.programme.calendar import WorkCalendar, build_calendar, notice_ends_h
from fencewright.programme.curing import cured_h, day_temperatures_c
from fencewright.programme.dates import activities_of, bound_of, days_of, deliveries_of, ticket_of
from fencewright.programme.laying import lay
from fencewright.programme.levelling import Plan, level
from fencewright.programme.network import Network, earliest
from fencewright.programme.sayings import basis_of, stage_findings
from fencewright.quantity.show import UnitSystem
from fencewright.tables.programme import Cure, FenceWork, OrderNeed, Programme

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_SMALL = 60  # activities; up to so many every size of gang is improved, beyond only the one that gave the shortest plan
_SPARE_DAYS = 540  # laid out beyond the work, for waits; no cure takes longer


@dataclass(frozen=True, slots=True, eq=False)
class PlanTask:
    """What the stage plans.

    `work` of the fence; `settings`; `holidays` by date; `repull_days` from the last pull to the first re-pull [days];
    `cure_share` of the 28-day strength asked before a pull, `cure_why` that share; `needs` of the order; `findings` of
    filling in `[programme]`.
    """

    work: FenceWork
    settings: ProgrammeSettings
    holidays: Mapping[datetime.date, str]
    repull_days: float
    cure_share: float
    cure_why: str
    needs: tuple[OrderNeed, ...]
    findings: tuple[Finding, ...]


def plan(task: PlanTask) -> Programme:
    """Plan the works of a fence.

    Parameters
    ----------
    task : PlanTask
        Work, crew, calendar.

    Returns
    -------
    Programme
        With findings: those of the task, and `private-services` (stop), `ticket-expires`, `cold-concrete` (cautions),
        `programme-gap` (note).

    Raises
    ------
    InputError
        No working day, or a wait that never ends, such as concrete that never gains its strength.

    Notes
    -----
    Work runs over working time, waits over all hours: a wait is a step from the slot before which it begins to the first
    slot after it, so that dates, floats and the bound are exact across both. Cost as of `level`.
    """
    settings = task.settings
    choices = _choices(task)
    spare = max(_SPARE_DAYS, math.ceil(task.repull_days) + _SPARE_DAYS // 2)
    slots = max(sum(one.slots for one in steps) for steps in choices)
    calendar = build_calendar(settings.calendar, task.holidays, slots, spare)
    temperature = day_temperatures_c(settings.cure, settings.calendar.start, len(calendar.said))
    best, unlimited = _best(choices, task, calendar, temperature)
    laid = lay(best.steps, best.network, best.plan, best.wait_h)
    if laid.finish >= len(calendar):
        raise _never(task, temperature)
    activities = activities_of(laid, calendar, settings, task.repull_days, _re_pull_hours(task))
    ticket = ticket_of(activities, calendar, settings)
    finish_h = float(calendar.end_h[laid.finish - 1])
    finish_day = int(calendar.slot_day[laid.finish - 1])
    cure = _cure(task, activities.kind, activities.finish_h - activities.start_h)
    bound = bound_of(calendar, replace(best.plan, finish=laid.finish), unlimited)
    made = Programme(
        settings.calendar.start,
        activities,
        days_of(activities, calendar, finish_day),
        deliveries_of(activities, calendar, settings, task.needs),
        ticket,
        cure,
        bound,
        finish_h,
        finish_day,
        (),
        (),
    )
    said = stage_findings(made, settings, temperature)
    return replace(made, basis=basis_of(made, settings), findings=sorted_findings([*task.findings, *said]))


@dataclass(frozen=True, slots=True, eq=False)
class _Choice:
    """One way of making gangs, and its plan."""

    steps: tuple[Step, ...]
    network: Network
    wait_h: dict[int, Floats]
    plan: Plan


def _choices(task: PlanTask) -> list[tuple[Step, ...]]:
    """Steps for each size of gang that may work on one thing, the largest first, without repeats."""
    shares = task.settings.shares
    most = min(len(task.settings.crew.people), shares.people_most)
    made = [
        steps_of(task.work, replace(task.settings, shares=replace(shares, people_most=people)))
        for people in range(most, 0, -1)
    ]
    return list(dict.fromkeys(made))


def _best(
    choices: Sequence[tuple[Step, ...]], task: PlanTask, calendar: WorkCalendar, temperature_c: Floats
) -> tuple[_Choice, int]:
    """Plan each way of making gangs, improve the shortest; its bound is the least of all. And the end without limits."""
    plans = []
    unlimited = len(calendar)
    for steps in choices:
        network, wait_h = _network(steps, task, calendar, temperature_c)
        ends = max(earliest(network)[1], default=0)
        unlimited = min(unlimited, ends)
        if ends < len(calendar):
            plans.append(_Choice(steps, network, wait_h, level(network, _orders(steps), is_thorough=False)))
    if not plans:
        raise _never(task, temperature_c)
    best = min(plans, key=lambda one: one.plan.finish)
    worth = [one for one in plans if one.plan.bound < best.plan.finish]
    for one in worth if len(best.steps) <= _SMALL else worth and [best]:
        plans.remove(one)
        plans.append(replace(one, plan=level(one.network, _orders(one.steps))))
    best = min(plans, key=lambda one: one.plan.finish)
    least = min(plans, key=lambda one: one.plan.bound).plan
    by = least.by if least.bound < best.plan.bound else best.plan.by
    return replace(best, plan=replace(best.plan, bound=min(least.bound, best.plan.bound), by=by)), unlimited


def _orders(steps: Sequence[Step]) -> list[list[float]]:
    """Orders in which a crew likes to work: ends, then line posts by stretch, then kind after kind; by stretch; by kind."""
    many = len(steps)
    own = []
    for row, step in enumerate(steps):
        phase = next((number for number, kinds in enumerate(PHASES) if step.kind in kinds), len(PHASES))
        place = step.stretch if phase < len(PHASES) else 0
        own.append(float((phase * many + place) * many + row))
    by_stretch = [float(step.stretch * many + row) for row, step in enumerate(steps)]
    return [own, by_stretch, [float(row) for row in range(many)]]


def _never(task: PlanTask, temperature_c: Floats) -> InputError:
    """Say why the plan does not come to an end."""
    what = f"the works do not end within {_SPARE_DAYS} days beyond their hours"
    if np.isfinite(temperature_c).any():
        what += f": at the temperatures stated the concrete may never reach {task.cure_share:.0%}"
    return InputError(what + "; look at start, work_days and temperatures", item="programme")


def _re_pull_hours(task: PlanTask) -> float:
    """Labour of the first re-pull. [h]"""
    return sum(one.labour_h for one in task.work.efforts if one.kind == "re-pull")


def _cure(task: PlanTask, kinds: Sequence[str], hours: Floats) -> Cure:
    longest = max(
        (one for kind, one in zip(kinds, hours.tolist(), strict=True) if kind in (CURE, CURE_LINE)),
        default=0.0,
    )
    rules, show = task.settings.cure, UnitSystem(task.settings.sheets)
    if rules.day_c or rules.month_c:
        how = f"maturity of the daily temperatures above {show.temperature(rules.datum_c)}"
    else:
        how = f"strength curve at {show.temperature(rules.reference_c)}, no temperatures being stated"
    return Cure(task.cure_share, task.cure_why, how, longest / 24.0)


def _network(
    steps: Sequence[Step], task: PlanTask, calendar: WorkCalendar, temperature_c: Floats
) -> tuple[Network, dict[int, Floats]]:
    """Network of the steps, and the hour at which each wait ends by the slot before which it begins."""
    crew = task.settings.crew
    capacity = (len(crew.people), crew.augers, crew.mixers, crew.drivers)
    need = np.array([(one.people, *one.machines) for one in steps], dtype=np.int64)
    ends: dict[str, Floats] = {}
    releases: dict[str, Ints] = {}
    wait_h, release = {}, {}
    pad = np.arange(len(calendar) + 1, len(calendar) + 2 + sum(one.slots for one in steps))
    for row, step in enumerate(steps):
        if not step.is_wait:
            continue
        if step.kind not in ends:
            ends[step.kind] = _wait_ends_h(step.kind, task, calendar, temperature_c)
            free = np.maximum(calendar.first_slot_from(ends[step.kind]), np.arange(len(calendar) + 1))
            releases[step.kind] = np.concatenate([free, pad])
        wait_h[row], release[row] = ends[step.kind], releases[step.kind]
    return (
        Network(
            tuple(one.slots for one in steps), tuple(one.before for one in steps), need, capacity, release
        ),
        wait_h,
    )


def _wait_ends_h(kind: str, task: PlanTask, calendar: WorkCalendar, temperature_c: Floats) -> Floats:
    """Hour at which a wait of a kind ends, by the slot before which it begins; (slots + 1,). [h]"""
    settings, done = task.settings, calendar.done_h
    if kind == NOTICE:
        return notice_ends_h(calendar, settings.notice)
    if kind in (CURE, CURE_LINE):
        return cured_h(settings.cure, task.cure_share, temperature_c, done)
    return done + {STAND: settings.shares.stand_h, DRY: settings.shares.dry_h}.get(kind, 0.0)
