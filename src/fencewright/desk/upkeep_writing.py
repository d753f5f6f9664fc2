"""The upkeep of a finished fence as a calendar."""

import datetime
import hashlib
from collections.abc import Iterator
from typing import Any

from fencewright.exchange.ics import CalendarEvent, write_ics
from fencewright.papers.hand_over import upkeep_rows
from fencewright.pipeline.record import Design


def upkeep_ics(design: Design, record: dict[str, Any], programme: dict[str, Any]) -> bytes | None:
    """Give the upkeep calendar of a fence.

    Parameters
    ----------
    design : Design
        Whose job names the fence and its place.
    record : dict
        Of design.json.
    programme : dict
        Of programme.json, with the days on which the fence is looked at.

    Returns
    -------
    bytes or None
        A day each for the first re-pull, spring and autumn, the seasons each year; None where no day is known. The
        same job gives the same bytes.
    """
    events = list(_events(design, record, programme))
    return write_ics(f"{design.job.asked.job.name}: upkeep", events) if events else None


def _events(design: Design, record: dict[str, Any], programme: dict[str, Any]) -> Iterator[CalendarEvent]:
    head = design.job.asked.job
    key = hashlib.sha256(head.name.encode("utf-8", "replace")).hexdigest()[:12]
    visits = {one["id"]: one for one in programme["upkeep"] if one["date"]}
    for row in upkeep_rows(record, programme):
        visit = visits.get(row["id"])
        if visit is None:
            continue
        day = datetime.date.fromisoformat(visit["date"])
        uid = f"upkeep-{row['id']}.{key}@fencewright"
        title = f"{row['title']}: {head.name}"
        yield CalendarEvent(
            uid,
            title,
            row["what"],
            day,
            day + datetime.timedelta(days=1),
            head.place,
            "upkeep",
            visit["yearly"],
        )
