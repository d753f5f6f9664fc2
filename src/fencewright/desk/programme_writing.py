"""The programme's files: tables, bars, calendar, record."""

import datetime
import hashlib
from collections.abc import Iterator

from fencewright.exchange.ics import CalendarEvent, write_ics
from fencewright.exchange.programme_csv import programme_csv, sheet_quantity
from fencewright.exchange.programme_json import programme_json
from fencewright.pipeline.record import Design
from fencewright.quantity.show import counted
from fencewright.tables.programme import Activities, Programme


def programme_outputs(design: Design, programme: Programme) -> dict[str, bytes]:
    """Give the programme's files by name.

    Parameters
    ----------
    design : Design
        What is built.
    programme : Programme
        Its programme.

    Returns
    -------
    dict of str to bytes
        `programme.json`, `programme.csv`, `programme-days.csv`, `deliveries.csv`, `programme.svg`, and, where the job
        states a first day, `programme.ics`. The same design and programme give the same bytes.
    """
    from fencewright.sheets.programme_bars import draw_programme
    from fencewright.sheets.svg import write_svg

    record, content = programme_json(design, programme)
    files = {"programme.json": content, **programme_csv(record)}
    files["programme.svg"] = write_svg(draw_programme(design, programme)).encode("utf-8", "replace")
    if programme.start_date is not None:
        may_start = bool(record["may_start"])
        files["programme.ics"] = write_ics(design.job.asked.job.name, _events(design, programme, may_start))
    return files


def _events(design: Design, programme: Programme, may_start: bool) -> Iterator[CalendarEvent]:
    """One event an activity and a day of deliveries: timed within a day, whole days where it goes over several."""
    head = design.job.asked.job
    job_key = hashlib.sha256(head.name.encode("utf-8", "replace")).hexdigest()[:12]
    lead = "" if may_start else "NOT TO START: "
    table = programme.activities
    for row in range(len(table)):
        start, finish = _moments(programme, row)
        uid = f"{table.id[row]}.{job_key}@fencewright"
        text = "\n".join(_about(table, row, may_start, head.sheets))
        yield CalendarEvent(
            uid, lead + table.name[row], text, start, finish, head.place, _category(table, row)
        )
    for day in sorted({one.day for one in programme.deliveries}):
        goods = [one for one in programme.deliveries if one.day == day]
        date = _date(programme, day)
        text = "\n".join(f"{counted(one.quantity, one.unit)} {one.item} {one.size}".rstrip() for one in goods)
        uid = f"deliveries-{goods[0].activity}-{goods[0].order_id}.{job_key}@fencewright"
        title = f"{lead}Goods on site by tonight: {counted(len(goods), 'line')}"
        yield CalendarEvent(uid, title, text, date, date + datetime.timedelta(days=1), head.place, "delivery")


def _date(programme: Programme, day: int) -> datetime.date:
    date = programme.date_of(day)
    if date is None:
        raise ValueError("without a first day there are no dates")
    return date


def _moments(programme: Programme, row: int) -> tuple[datetime.date, datetime.date]:
    table = programme.activities
    first, last = int(table.start_day[row]), int(table.finish_day[row])
    if last > first or table.finish_h[row] <= table.start_h[row]:
        return _date(programme, first), _date(programme, last + 1)
    midnight = datetime.datetime.combine(_date(programme, 0), datetime.time())
    start, finish = (
        midnight + datetime.timedelta(minutes=round(float(hour[row]) * 60))
        for hour in (table.start_h, table.finish_h)
    )
    return start, finish


def _about(table: Activities, row: int, may_start: bool, sheets: str) -> Iterator[str]:
    """Lines of an event: who, with what, where, how much, how far it may slip."""
    if not may_start:
        yield "A stop among the findings is not mended: see programme.json."
    if table.people[row]:
        yield "Crew: " + ", ".join(table.people[row])
    if table.plant[row]:
        yield "Plant: " + ", ".join(table.plant[row])
    if table.place[row]:
        yield "Where: " + table.place[row]
    if table.unit[row] and table.unit[row] != "job":
        much, unit = sheet_quantity({"quantity": table.quantity[row], "unit": table.unit[row]}, sheets)
        yield f"How much: {much:,.0f} {unit}"
    if table.is_critical[row]:
        yield "Critical: a day lost here is a day lost at the end."
    elif table.float_days[row] == table.float_days[row]:
        yield f"May slip by {table.float_days[row]:.1f} working days."


def _category(table: Activities, row: int) -> str:
    return "wait" if table.is_wait[row] else "work"
