"""Why an activity of the programme takes as long as it does, and begins and ends when it does."""

import numpy as np

from fencewright.findings import InputError
from fencewright.job.programme_settings import ProgrammeSettings
from fencewright.pipeline.record import Design
from fencewright.pipeline.scheduling import programme_settings
from fencewright.pipeline.why_origin import asked, computed, practice
from fencewright.pipeline.why_record import Explanation, Input, Reason
from fencewright.pipeline.why_work import has_work, work_reasons
from fencewright.pipeline.why_work_waits import wait_reasons
from fencewright.pipeline.work_efforts import fence_work
from fencewright.programme.activities import RE_PULL
from fencewright.programme.calendar import SLOT_H
from fencewright.tables.programme import Effort, Programme

_DAY_H = 24.0


def explain_activity(design: Design, programme: Programme, name: str) -> Explanation:
    """Say how an activity of the programme came to its work, crew, start, end and float.

    Parameters
    ----------
    design : Design
        What is built.
    programme : Programme
        Its programme.
    name : str
        Id of an activity, as `set-ends-1`; case does not matter.

    Returns
    -------
    Explanation
        Days and hours of the clock as text; hours of work as numbers.

    Raises
    ------
    InputError
        No activity has that name.
    """
    table = programme.activities
    ids = [one.casefold() for one in table.id]
    wanted = name.strip().casefold()
    if wanted not in ids:
        raise InputError(
            f'there is no activity "{name}" in the programme: there are {", ".join(table.id[:8])}'
            + (", ..." if len(ids) > 8 else "")
        )
    row = ids.index(wanted)
    settings, _ = programme_settings(design.job)
    efforts = {(one.kind, one.stretch): one for one in fence_work(design, settings).efforts}
    kind = table.kind[row]
    stretch = -1 if table.id[row] == kind else int(table.id[row][len(kind) + 1 :]) - 1
    is_worked = not bool(table.is_wait[row])
    effort = efforts.get((kind, stretch)) if is_worked else None
    reasons: list[Reason] = []
    if effort is not None and has_work(kind):
        reasons += work_reasons(design, settings, effort, table.place[row])
        reasons += [_crew(design, programme, row, effort), _hours(design, settings, programme, row, effort)]
    if not is_worked:
        reasons += wait_reasons(design, settings, programme, row)
    reasons += [
        _start(design, programme, row),
        _finish(design, settings, programme, row),
        _float(programme, row),
    ]
    return Explanation(f"programme:{table.id[row]}", "activity", table.name[row], tuple(reasons))


def when(programme: Programme, hour: float, day: int) -> str:
    """An hour of the plan as its day and clock: `2026-04-06 07:30`."""
    minutes = round((hour - _DAY_H * day) * 60)
    return f"{programme.day_text(day)} {minutes // 60:02d}:{minutes % 60:02d}"


def _start_text(programme: Programme, row: int) -> str:
    table = programme.activities
    return when(programme, float(table.start_h[row]), int(table.start_day[row]))


def _finish_text(programme: Programme, row: int) -> str:
    table = programme.activities
    return when(programme, float(table.finish_h[row]), int(table.finish_day[row]))


def _crew(design: Design, programme: Programme, row: int, effort: Effort) -> Reason:
    job, table = design.job, programme.activities
    people = int(table.crew[row])
    hands = max(1, min(round(effort.hands), people))
    names = ", ".join((*table.people[row], *table.plant[row]))
    most = practice(
        job, "programme.people_most", ("n_max", "most people on one thing"), _people_most(design), "1"
    )
    inputs = (
        computed(
            "g",
            "gangs at once",
            float(people // hands),
            "1",
            "as many as people and machines allow, or fewer where that ends sooner",
        ),
        computed("h", "hands of a gang", float(hands), "1", "the work's rate, at most the crew"),
        most,
    )
    return Reason(
        "crew",
        names,
        inputs,
        "gangs at once, times their hands",
        "n = g h",
        float(people),
        "1",
        next_smaller="[programme] crew, names, augers, mixers, drivers",
    )


def _people_most(design: Design) -> float:
    return float(programme_settings(design.job)[0].shares.people_most)


def _hours(
    design: Design, settings: ProgrammeSettings, programme: Programme, row: int, effort: Effort
) -> Reason:
    job = design.job
    lost = settings.calendar.weather
    inputs = (
        computed("H", "labour hours", effort.labour_h, "h"),
        computed("n", "people at work", float(programme.activities.crew[row]), "1"),
        asked(
            job,
            "programme.weather",
            "programme.weather",
            ("w", "share of working time lost to weather"),
            lost,
            "%",
        ),
        computed("s", "work is laid out in steps of", SLOT_H, "h", "how the programme reckons"),
    )
    return Reason(
        "work",
        "working hours, at least one step",
        inputs,
        "labour hours over the people, longer by what weather takes, rounded up to whole steps",
        "t = max(s, ceil(H / (n (1 - w)) / s) s)",
        float(programme.activities.work_h[row]),
        "h",
        next_smaller="more people or machines, or quicker rates",
    )


def _start(design: Design, programme: Programme, row: int) -> Reason:
    table = programme.activities
    inputs: list[Input] = []
    ways = (
        (table.after[row], "must be done first"),
        (table.after_crew[row], "frees its people or machines"),
    )
    for rows, why in ways:
        for one in rows:
            origin = f"programme:{table.id[one]}; {why}"
            told = _finish_text(programme, one)
            inputs.append(computed(f"f_{len(inputs) + 1}", table.name[one], told, "", origin))
    if table.kind[row] == RE_PULL:
        days = design.tension.repull_days
        inputs.append(
            computed("d", "days from the last pull to the first re-pull", days, "day", "tension stage")
        )
    if not inputs:
        says, words, symbols = (
            "nothing goes before it",
            "the first working hour of the first day",
            "s = start of the works",
        )
    else:
        last = max((*table.after[row], *table.after_crew[row]), key=lambda one: float(table.finish_h[one]))
        says = f"after {table.name[last]}, {_finish_text(programme, last)}"
        is_wait = bool(table.is_wait[row])
        words = (
            "when the last of them ends"
            if is_wait
            else "the first working half-hour after the last of them ends"
        )
        if table.kind[row] == RE_PULL:
            words = "the stated days after the last pull, and after the hand-over, on a working day"
        symbols = f"s >= max({', '.join(one.symbol for one in inputs if one.symbol != 'd')})"
    return Reason(
        "start",
        says,
        tuple(inputs),
        words,
        symbols,
        _start_text(programme, row),
        "",
        next_smaller="what it waits for, ended sooner" if inputs else "[programme] start",
    )


def _finish(design: Design, settings: ProgrammeSettings, programme: Programme, row: int) -> Reason:
    table, job = programme.activities, design.job
    start = computed("s", "start", _start_text(programme, row), "")
    if table.is_wait[row]:
        long_h = float(table.finish_h[row] - table.start_h[row])
        inputs: tuple[Input, ...] = (start, computed("t", "wait, over all hours", long_h, "h"))
        words, says = "start and the wait, nights and days off in it", "nobody works"
    else:
        inputs = (
            start,
            computed("t", "work", float(table.work_h[row]), "h"),
            asked(
                job,
                "programme.hours",
                "programme.hours",
                ("H", "hours of a day, fewer by daylight"),
                settings.calendar.hours,
                "h",
            ),
        )
        off = [day for day in _days(programme, row) if day < len(programme.days) and programme.days.said[day]]
        named = sorted({programme.days.said[day] for day in off})
        some = "1 day off" if len(off) == 1 else f"{len(off)} days off"
        says = f"over {some}: {', '.join(named)}" if off else "no day off in between"
        words = "start and the work, over working hours alone"
    return Reason("finish", says, inputs, words, "f = s + t", _finish_text(programme, row), "")


def _days(programme: Programme, row: int) -> range:
    table = programme.activities
    return range(int(table.start_day[row]), int(table.finish_day[row]) + 1)


def _float(programme: Programme, row: int) -> Reason:
    table = programme.activities
    slip, free = float(table.float_days[row]), float(table.free_float_days[row])
    critical = bool(table.is_critical[row])
    says = (
        "on the longest path: a day later here is a day later at the hand-over" if critical else "it may slip"
    )
    if np.isnan(slip):
        says = "after the hand-over: it holds nothing up"
    return Reason(
        "float",
        says,
        (computed("f", "by which it may slip before any other activity does, in working days", free, "day"),),
        "latest start at which the hand-over keeps its day, less the start, in working days",
        "",
        slip,
        "day",
    )
