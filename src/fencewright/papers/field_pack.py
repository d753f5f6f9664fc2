"""The field pack: one document that answers every question asked at a hole."""

from typing import Any

from fencewright.papers.blocks import Paper, Section
from fencewright.papers.brace_sheet import brace_section
from fencewright.papers.check_sheets import check_section
from fencewright.papers.cover import cover, findings_section
from fencewright.papers.frame import paper_of, paper_size
from fencewright.papers.hole_sheet import hole_section
from fencewright.papers.load_sheet import load_section
from fencewright.papers.measures import Record
from fencewright.papers.plan_sheets import plan_sections
from fencewright.papers.post_sheet import post_section
from fencewright.papers.pull_sheet import pull_section
from fencewright.papers.roll_sheet import roll_section
from fencewright.papers.section_sheets import section_sections
from fencewright.papers.stake_sheets import stake_section
from fencewright.papers.template_sheet import template_section
from fencewright.pipeline.record import Design


def field_pack(design: Design, record: Record, programme: dict[str, Any] | None = None) -> Paper:
    """Give the field pack of a design.

    Parameters
    ----------
    design : Design
        Of which plan and section are drawn.
    record : mapping
        Of design.json; every number of the tables is one of it.
    programme : dict, optional
        The record of programme.json: days of the locating ticket.

    Returns
    -------
    Paper
        Cover, findings, plan, long section, stake-out, holes, braces, posts, template, rolls, pulls, checklists, load.

    Notes
    -----
    O(posts).
    """
    size = paper_size(design)
    sections: list[Section | None] = [
        cover(design, record, programme),
        findings_section(record),
        *plan_sections(design, size),
        *section_sections(design, size),
        stake_section(record),
        hole_section(record),
        brace_section(record),
        post_section(record),
        *template_section(record),
        roll_section(record) if record["rolls"] else None,
        pull_section(record),
        check_section(record),
        load_section(record),
    ]
    return paper_of("Field pack", design, record, [one for one in sections if one])
