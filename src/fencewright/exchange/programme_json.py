"""programme.json: the whole programme of works as one record, dates as ISO days, hours of the clock apart."""

import json
import math
from typing import Any

from fencewright import __version__
from fencewright.exchange.design_json import PROGRAM, design_record, finding_record
from fencewright.findings import has_stop
from fencewright.pipeline.record import Design
from fencewright.pipeline.upkeep import plan_upkeep
from fencewright.tables.programme import Programme
from fencewright.tables.upkeep import Upkeep

FORMAT = "fencewright programme 1"
_HEAD = ("name", "client", "builder", "place", "revision", "sheets")


def programme_json(design: Design, programme: Programme) -> tuple[dict[str, Any], bytes]:
    """Give the record of programme.json and the bytes of the file.

    Parameters
    ----------
    design : Design
        What is built.
    programme : Programme
        Its programme.

    Returns
    -------
    record : dict
        `format`, `program`, `version`, `design_digest`, `job`, `may_start` (no `stop` in design or programme),
        `start`, `finish`, `bound`, `ticket`, `cure`, `re_pull`, `hand_over`, `upkeep`, `basis`, then the tables
        `activities`, `days`, `deliveries` and `findings`. A day is an ISO date, or `day 1` where the job states
        no first day; floats in working days, None after the hand-over.
    content : bytes
        ASCII, a line for each key and for each row of a table.
    """
    record = _record(design, programme)
    lines = [f'"{key}": {_text(value)}' for key, value in record.items()]
    return record, ("{\n" + ",\n".join(lines) + "\n}\n").encode("ascii")


def _text(value: Any) -> str:
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return "[\n" + ",\n".join(" " + json.dumps(row, allow_nan=False) for row in value) + "\n]"
    return json.dumps(value, allow_nan=False)


def _record(design: Design, programme: Programme) -> dict[str, Any]:
    head = design.job.asked.job
    day, bound, ticket, cure = programme.day_text, programme.bound, programme.ticket, programme.cure
    return {
        "format": FORMAT,
        "program": PROGRAM,
        "version": __version__,
        "design_digest": design_record(design)["digest"],
        "job": {key: getattr(head, key) for key in _HEAD},
        "may_start": design.may_be_built and not has_stop(programme.findings),
        "start": day(0),
        "finish": day(programme.finish_day),
        "bound": {
            "finish": day(bound.finish_day),
            "gap_days": _number(bound.gap_days),
            "proven": bound.is_proven,
            "by": bound.by,
            "finish_without_limits": day(bound.unlimited_day),
        },
        "ticket": {
            "called": day(ticket.call_day),
            "dig_from": day(ticket.dig_day),
            "expires": day(ticket.expires_day),
            "dug_until": day(ticket.dug_day),
            "renew_by": None if ticket.renew_day is None else day(ticket.renew_day),
        },
        "cure": {
            "share": _number(cure.share),
            "why": cure.why,
            "how": cure.how,
            "longest_days": _number(cure.longest_days),
        },
        "re_pull": next(
            (day(int(programme.activities.start_day[row])) for row, kind in enumerate(programme.activities.kind)
             if kind == "re-pull"),
            None,
        ),
        **_upkeep(plan_upkeep(design, programme)),
        "basis": list(programme.basis),
        "activities": activity_rows(programme),
        "days": day_rows(programme),
        "deliveries": delivery_rows(programme),
        "findings": [finding_record(finding) for finding in programme.findings],
    }  # fmt: skip


def _upkeep(upkeep: Upkeep) -> dict[str, Any]:
    """Day of the hand-over as a date or None, and the looks at the fence after it."""
    return {
        "hand_over": upkeep.hand_over.isoformat() if upkeep.hand_over else None,
        "upkeep": [
            {
                "id": one.id,
                "date": one.date.isoformat() if one.date else None,
                "after_days": one.after_days,
                "yearly": one.is_yearly,
            }
            for one in upkeep.visits
        ],
    }


def _number(value: float) -> float | None:
    return round(value, 3) + 0.0 if math.isfinite(value) else None


def clock_text(hour: float) -> str:
    """Write an hour of a day, 0 to 24, as `08:30`; the end of a day is `24:00`."""
    minutes = round(hour * 60)
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def activity_rows(programme: Programme) -> list[dict[str, Any]]:
    """Rows of the activities, in order of starting; a wait has no crew."""
    table = programme.activities
    return [
        {
            "id": table.id[row],
            "name": table.name[row],
            "kind": table.kind[row],
            "place": table.place[row],
            "quantity": _number(float(table.quantity[row])),
            "unit": table.unit[row],
            "start": programme.day_text(int(table.start_day[row])),
            "start_time": clock_text(float(table.start_h[row]) - 24.0 * int(table.start_day[row])),
            "finish": programme.day_text(int(table.finish_day[row])),
            "finish_time": clock_text(float(table.finish_h[row]) - 24.0 * int(table.finish_day[row])),
            "work_hours": _number(float(table.work_h[row])),
            "float_days": _number(float(table.float_days[row])),
            "free_float_days": _number(float(table.free_float_days[row])),
            "critical": bool(table.is_critical[row]),
            "after": [table.id[one] for one in table.after[row]],
            "after_crew": [table.id[one] for one in table.after_crew[row]],
            "crew": int(table.crew[row]),
            "people": list(table.people[row]),
            "plant": list(table.plant[row]),
        }
        for row in range(len(table))
    ]


def day_rows(programme: Programme) -> list[dict[str, Any]]:
    """Rows of the days up to the hand-over: hours, who, which plant, what; or why nobody works."""
    days, names = programme.days, programme.activities.id
    return [
        {
            "day": programme.day_text(day),
            "hours": _number(float(days.hours[day])),
            "said": days.said[day],
            "people": list(days.people[day]),
            "plant": list(days.machines[day]),
            "activities": [names[row] for row in days.active[day]],
        }
        for day in range(len(days))
    ]


def delivery_rows(programme: Programme) -> list[dict[str, Any]]:
    """Rows of the deliveries: the order's `id`, and the day by whose end it must be on site."""
    return [
        {
            "item": one.order_id,
            "what": one.item,
            "size": one.size,
            "quantity": _number(one.quantity),
            "unit": one.unit,
            "on_site_by": programme.day_text(one.day),
            "for": one.activity,
        }
        for one in programme.deliveries
    ]
