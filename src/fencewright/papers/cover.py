"""The cover of a field pack: site, people, locating ticket, hospital, what is in it, cautions; then its findings."""

from typing import Any

from fencewright.findings.cautions import DESIGN_CAUTIONS
from fencewright.job.paper_schema import Paper as Asked
from fencewright.papers.blocks import Block, Contents, Drawing, Facts, Heading, Section, Words
from fencewright.papers.measures import Measures, Record
from fencewright.pipeline.record import Design
from fencewright.sheets.frame import NOT_TO_BE_BUILT

_LOGO_MM = (70.0, 20.0)


def logo_drawing(design: Design) -> list[Drawing]:
    """Give the builder's logo as a block, where the job names one."""
    if not design.job.logo:
        return []
    builder = design.job.asked.job.builder or "the builder"
    return [Drawing(design.job.logo, f"Logo of {builder}", *_LOGO_MM, "left")]


def people_rows(design: Design) -> list[tuple[str, str]]:
    """Who builds it and for whom, each with what is known of them."""
    head, asked = design.job.asked.job, design.job.asked.paper
    builder = [head.builder, asked.builder_address, asked.builder_phone]
    return [
        ("Client", head.client),
        ("Place", head.place),
        ("Builder", ", ".join(part for part in builder if part)),
        *([("Licence", asked.builder_licence)] if asked.builder_licence else []),
        *([("Access", asked.site_access)] if asked.site_access else []),
    ]


def ticket_rows(asked: Asked, programme: Record | None) -> list[tuple[str, str]]:
    """Locating ticket as the job states it, else a line to fill in, with the planned day where there is one."""
    reckoned = (programme or {}).get("ticket") or {}
    return [
        ("Locating ticket", asked.ticket),
        (f"Dig from{_planned(reckoned.get('dig_from'), asked.ticket_from)}", asked.ticket_from),
        (f"Runs out{_planned(reckoned.get('expires'), asked.ticket_to)}", asked.ticket_to),
    ]


def _planned(day: str | None, stated: str) -> str:
    """Say which date the programme reckons with; nothing where it has no dates, or the job states the real one."""
    return f", planned {day}" if day and not stated and not day.startswith("day ") else ""


def cover(design: Design, record: Record, programme: Record | None) -> Section:
    """Give the cover; what nobody stated is a line to fill in by hand."""
    asked = design.job.asked.paper
    contacts = [(f"Contact {k}", text) for k, text in enumerate(asked.contacts, start=1)]
    blocks: list[Block] = [
        *logo_drawing(design),
        Words(record["job"]["name"], "title"),
        *([] if record["may_be_built"] else [Words(f"{NOT_TO_BE_BUILT}: mend the stops first.", "caution")]),
        Facts([*people_rows(design), *(contacts or [("Contact", "")])]),
        Heading("Before the first hole"),
        Facts([
            *ticket_rows(asked, programme),
            ("Private services answered by", ""),
            ("Nearest hospital", asked.hospital),
            ("Emergency call from here reaches", ""),
        ], 60.0),
        Words(" ".join(DESIGN_CAUTIONS), "caution"),
        Heading("What is built"),
        Facts(_totals(record)),
        Heading("In this pack"),
        Contents(),
    ]  # fmt: skip
    return Section("Field pack", blocks)


def _totals(record: Record) -> list[tuple[str, str]]:
    told, summary = Measures(record), record["summary"]
    posts = ", ".join(f"{count} {role}" for role, count in summary["posts"].items() if count)
    return [
        ("Fence", f"{told.long(summary['fence_length_m'])} on plan, gates included"),
        ("Posts", f"{sum(summary['posts'].values())}: {posts}"),
        ("Braces", str(summary["braces"])),
        ("Pulls", f"{summary['pulls']}, {told.long(summary['rail_length_m'])} of rail"),
        ("Units", "feet and inches" if record["job"]["sheets"] == "us" else "metres and millimetres"),
    ]


def findings_section(record: Record) -> Section | None:
    """Everything that the design has to say, stops first; None where it has nothing."""
    said = record["findings"]
    if not said:
        return None
    rows = [(_head(one), " ".join([one["message"], one["remedy"]]).strip()) for one in said]
    return Section("What to look at", [Facts(rows, 42.0, is_strong=False)])


def _head(finding: dict[str, Any]) -> str:
    where = finding["where"]
    return f"{finding['level'].capitalize()} {where['id']}".strip()
