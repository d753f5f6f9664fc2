"""The hand-over: what was built, measured and checked, how tight each pull was drawn, and how the fence is kept."""

from typing import Any

from fencewright.findings.cautions import NOT_A_SEAL, TIGHT_RAIL
from fencewright.papers.blocks import Block, Column, Facts, Heading, Paper, Points, Section, Table, Words
from fencewright.papers.cover import logo_drawing
from fencewright.papers.customer_words import call_words, upkeep_words
from fencewright.papers.frame import paper_of, paper_size
from fencewright.papers.measured_sheet import measured_blocks
from fencewright.papers.measures import Measures, Record
from fencewright.papers.scope import scope_rows
from fencewright.papers.site_plan import site_plan
from fencewright.papers.tension_kept import tension_blocks
from fencewright.pipeline.record import Design
from fencewright.quantity.show import counted
from fencewright.sheets.frame import NOT_TO_BE_BUILT

_PLAN_MM = 205.0
_NO_DAY = "–"


def hand_over(design: Design, record: Record, programme: dict[str, Any] | None = None) -> Paper:
    """Give the hand-over of a fence.

    Parameters
    ----------
    design : Design
        Of which the plan is drawn; its job tells whose the fence is.
    record : mapping
        Of design.json.
    programme : dict, optional
        Of programme.json: the day of the hand-over, and the days on which the fence is looked at.

    Returns
    -------
    Paper
        What was built, plan, what was measured, tension and how to check it, upkeep and when to call.
    """
    planned = programme or {}
    sections = [
        _front(design, record, planned),
        Section("Plan", [Words("As designed; posts have their names on it.", "text"),
                         site_plan(design, paper_size(design), _PLAN_MM, has_names=True)]),
        Section("Measured and checked", measured_blocks(record)),
        Section("Tension of the rails", tension_blocks(record)),
        _upkeep(design, record, planned),
    ]  # fmt: skip
    return paper_of("Hand-over", design, record, sections)


def _front(design: Design, record: Record, programme: Record) -> Section:
    head, asked = design.job.asked.job, design.job.asked.paper
    builder = [head.builder, asked.builder_address, asked.builder_phone]
    blocks: list[Block] = [
        *logo_drawing(design),
        *([Words(head.builder, "strong")] if head.builder else []),
        Words(record["job"]["name"], "title"),
        *([] if record["may_be_built"] else [Words(f"{NOT_TO_BE_BUILT} as it is drawn.", "caution")]),
        Facts([
            ("Day of the hand-over", programme.get("hand_over") or ""),
            ("Owner", head.client),
            ("Place", head.place),
            ("Built by", ", ".join(part for part in builder if part)),
            *([("Licence", asked.builder_licence)] if asked.builder_licence else []),
            ("Revision", head.revision),
        ]),
        Heading("What was built"),
        Facts([*scope_rows(record), *_pulled(record)]),
        Heading("Cautions"),
        Words(f"{TIGHT_RAIL} {NOT_A_SEAL}", "caution"),
        Words("Before you dig near the fence, have buried services located and marked. A change of the fence (a gate, a rail"
              " more, a fixture on a post) changes what its posts carry: ask first."),
        Heading("Handed over"),
        Facts([("By", ""), ("To", ""), ("Day", "")]),
    ]  # fmt: skip
    return Section("Hand-over", blocks)


def _pulled(record: Record) -> list[tuple[str, str]]:
    told, summary = Measures(record), record["summary"]
    if not summary["pulls"]:
        return []
    rail = told.long(summary["rail_length_m"])
    return [("Pulls", f"{summary['pulls']}, {rail} of rail, {counted(summary['splices'], 'splice')}")]


def _upkeep(design: Design, record: Record, programme: Record) -> Section:
    phone = design.job.asked.paper.builder_phone
    columns = [
        Column("When", 32, is_strong=True),
        Column("First", 50),
        Column("Done, day", 52, is_blank=True),
        Column("By", 52, is_blank=True),
    ]
    visits = upkeep_rows(record, programme)
    rows = [[row["when"], row["day"], "", ""] for row in visits]
    blocks: list[Block] = [
        Heading("Calendar"),
        Facts([(row["when"], row["what"]) for row in visits], 38.0, is_strong=False),
        Table(columns, rows, 9.0, has_room=False),
        *_undated(programme),
        Heading("When to call"),
        Words(f"Call {phone}:" if phone else "Call the builder:"),
        Points(call_words()),
        Words(TIGHT_RAIL, "caution"),
    ]
    return Section("Upkeep", blocks)


def _undated(programme: Record) -> list[Block]:
    """Say that days count from the hand-over where no date of it is known."""
    if programme.get("hand_over"):
        return []
    return [Words("No day of the hand-over is stated, so no dates are told.", "small")]


def upkeep_rows(record: Record, programme: Record) -> list[dict[str, str]]:
    """Give the upkeep calendar.

    Parameters
    ----------
    record : mapping
        Of design.json.
    programme : mapping
        Of programme.json, or empty.

    Returns
    -------
    list of dict
        `id`, `when`, `title`, `what`, and `day`: a date, days after the hand-over, or a dash.
    """
    visits = {one["id"]: one for one in programme.get("upkeep", ())}
    return [{**row, "day": _day(row["id"], visits.get(row["id"]), record)} for row in upkeep_words(record)
            if row["id"] != "re-pull" or record["tension"]]  # fmt: skip


def _day(name: str, visit: dict[str, Any] | None, record: Record) -> str:
    if visit and visit["date"]:
        return str(visit["date"])
    if visit and visit["after_days"] is not None:
        return f"{counted(visit['after_days'], 'day')} after the hand-over"
    if name == "re-pull":
        return f"{counted(round(record['tension'][0]['repull_days']), 'day')} after the pull"
    return _NO_DAY
