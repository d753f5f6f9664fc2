"""What the programme has to say: findings, and the sentences on which its dates rest."""

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import CAUTION, NOTE, STOP, Finding, Place
from fencewright.job.programme_settings import ProgrammeSettings
from fencewright.quantity.show import UnitSystem, counted
from fencewright.tables.programme import Programme

Floats = NDArray[np.float64]


def stage_findings(made: Programme, settings: ProgrammeSettings, temperature_c: Floats) -> list[Finding]:
    """Say what stops the works or needs a look.

    Parameters
    ----------
    made : Programme
        Dates, ticket, bound.
    settings : ProgrammeSettings
        Answer about private services.
    temperature_c : float array (days,)
        Mean air, NaN where not known. [C]

    Returns
    -------
    list of Finding
        `private-services` (stop), `ticket-expires`, `cold-concrete` (cautions), `programme-gap` (note).
    """
    said = []
    if not settings.private_services:
        said.append(
            Finding(
                STOP,
                "private-services",
                Place("job"),
                "Nobody has said whether lines of the owner's own (well, barn, septic) lie here; public locators "
                "rarely mark them, so nobody may dig.",
                'Ask the owner, have them marked, and set [programme] private_services = "marked", or "none" where '
                "there are none.",
                ({"path": ["programme", "private_services"], "value": "marked"},),
            )
        )
    said += _ticket(made)
    said += _cold(made, settings, temperature_c)
    if not made.bound.is_proven:
        said.append(
            Finding(
                NOTE,
                "programme-gap",
                Place("job"),
                f"The programme may not be the shortest: none ends before {made.day_text(made.bound.finish_day)}, and this "
                f"one takes {made.bound.gap_days:.1f} working days more.",
            )
        )
    return said


def _ticket(made: Programme) -> list[Finding]:
    ticket = made.ticket
    if ticket.renew_day is None:
        return []
    return [
        Finding(
            CAUTION,
            "ticket-expires",
            Place("job"),
            f"The locating ticket asked for on {made.day_text(ticket.call_day)} runs out on "
            f"{made.day_text(ticket.expires_day)}, and digging goes on until {made.day_text(ticket.dug_day)}.",
            f"Have it renewed by {made.day_text(ticket.renew_day)}, or put more people or augers on the job.",
        )
    ]


def _cold(made: Programme, settings: ProgrammeSettings, temperature_c: Floats) -> list[Finding]:
    """Name the coldest day on which concrete is poured or gains its first strength."""
    rows = [row for row, kind in enumerate(made.activities.kind) if kind in ("set-ends", "cure", "cure-line")]
    days = sorted(
        {
            day
            for row in rows
            for day in (int(made.activities.start_day[row]), int(made.activities.finish_day[row]))
        }
    )
    known = [day for day in days if day < len(temperature_c) and np.isfinite(temperature_c[day])]
    cold = [day for day in known if temperature_c[day] < settings.cure.cold_c]
    if not cold:
        return []
    show = UnitSystem(settings.sheets)
    worst = min(cold, key=lambda day: float(temperature_c[day]))
    return [
        Finding(
            CAUTION,
            "cold-concrete",
            Place("job"),
            f"Concrete cures on days as cold as {show.temperature(float(temperature_c[worst]))} "
            f"({made.day_text(worst)}); below {show.temperature(settings.cure.cold_c)} it must be covered and kept warm.",
            "Cover it, use warm water and a cold-weather mix, or begin later.",
        )
    ]


def basis_of(made: Programme, settings: ProgrammeSettings) -> tuple[str, ...]:
    """Sentences that say what the dates rest on."""
    crew, calendar = settings.crew, settings.calendar
    plant = [
        counted(count, name) for count, name in ((crew.augers, "auger"), (crew.mixers, "mixer")) if count
    ]
    people = len(crew.people)
    rests = [
        f"{people} {'people' if people > 1 else 'person'}{', ' if plant else ''}{', '.join(plant)}; "
        f"{calendar.hours:g} hours a day, {calendar.weather:.0%} of them lost to weather.",
        f"No rail is pulled before the concrete has {made.cure.share:.0%} of its 28-day strength ({made.cure.why}): "
        f"{made.cure.how}; the longest wait is {made.cure.longest_days:.1f} days.",
    ]
    bound = made.bound
    rests.append(
        f"No programme of these works with this crew and plant is shorter ({bound.by})."
        if bound.is_proven
        else f"Shorter by at most {bound.gap_days:.1f} working days is not ruled out."
    )
    if bound.unlimited_day < made.finish_day:
        rests.append(
            f"With any number of people and machines it would end on {made.day_text(bound.unlimited_day)}."
        )
    rests.append("Production rates are common practice, or the builder's own ([[rate]] in the job).")
    return tuple(rests)
