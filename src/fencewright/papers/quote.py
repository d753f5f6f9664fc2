"""The quote: what a customer is offered, for how much, until when; nothing of what it costs the builder."""

from typing import Any

from fencewright.findings.cautions import DESIGN_CAUTIONS
from fencewright.papers.blocks import Block, Facts, Heading, Paper, Points, Section, Words
from fencewright.papers.cover import logo_drawing
from fencewright.papers.customer_words import excluded_words, included_words
from fencewright.papers.frame import paper_of, paper_size
from fencewright.papers.measures import Measures, Record
from fencewright.papers.quote_price import (
    incomplete_words,
    of_currency,
    price_blocks,
    tax_amount,
    terms_blocks,
)
from fencewright.papers.scope import scope_rows
from fencewright.papers.site_plan import site_plan
from fencewright.pipeline.record import Design
from fencewright.quantity.show import counted
from fencewright.sheets.frame import NOT_TO_BE_BUILT

_PLAN_MM = 205.0
_SPOIL = {
    "spread": "The soil of the holes is spread along the fence.",
    "haul": "The soil of the holes is carted away.",
    "leave": "The soil of the holes is left beside them.",
}


def quote(design: Design, record: Record, priced: Record, programme: dict[str, Any] | None = None) -> Paper:
    """Give the quote of a design.

    Parameters
    ----------
    design : Design
        Of which the plan is drawn; its job tells whose the quote is.
    record : mapping
        Of design.json.
    priced : mapping
        Of price.json.
    programme : dict, optional
        Of programme.json: the few dates that a customer asks for.

    Returns
    -------
    Paper
        Head with the price, the scope and cautions, plan, price with options, then payment, dates, what is included and
        what is not, and acceptance. Direct costs, hours, overhead, margin and risk stand in none of it.
    """
    sections = [
        _front(design, record, priced),
        _plan(design),
        Section("Price", price_blocks(record, priced)),
        Section("Terms", [*terms_blocks(priced, programme), *_terms(design, priced)]),
    ]
    return paper_of("Quote", design, record, sections)


def _front(design: Design, record: Record, priced: Record) -> Section:
    head, asked = design.job.asked.job, design.job.asked.paper
    builder = [head.builder, asked.builder_address, asked.builder_phone]
    facts = [
        ("Quote number", asked.quote),
        ("Revision", head.revision),
        ("Date", priced["day"] or ""),
        ("Stands until", _validity(priced)),
        ("For", head.client),
        ("Place", head.place),
        ("From", ", ".join(part for part in builder if part)),
        *([("Licence", asked.builder_licence)] if asked.builder_licence else []),
    ]
    blocks: list[Block] = [
        *logo_drawing(design),
        *([Words(head.builder, "strong")] if head.builder else []),
        Words(record["job"]["name"], "title"),
        *([] if record["may_be_built"] else [Words(_NO_OFFER, "caution")]),
        *incomplete_words(priced),
        Facts(facts),
        Heading("Price"),
        Facts([_total_row(priced)]),
        Heading("What is built"),
        Facts(scope_rows(record)),
        Heading("What is done with the ground"),
        Points(_ground_words(design, Measures(record))),
        Heading("Cautions"),
        Words(" ".join(DESIGN_CAUTIONS), "caution"),
    ]
    return Section("Quote", blocks)


_NO_OFFER = (
    f"{NOT_TO_BE_BUILT} as it is drawn: this is not an offer until the builder has settled what is open."
)


def _validity(priced: Record) -> str:
    days = f"{counted(priced['valid_days'], 'day')} from its date"
    return f"{priced['valid_until']}, {days}" if priced["valid_until"] else days


def _total_row(priced: Record) -> tuple[str, str]:
    if priced["total"] is None:
        return "Total", "not priced yet"
    name = "Total" if priced["is_whole"] else "Priced so far"
    tax = "tax included" if tax_amount(priced) else "no tax in it"
    return name, f"{of_currency(priced['total'], priced)}, {tax}"


def _ground_words(design: Design, told: Measures) -> list[str]:
    asked = design.job.asked
    before = asked.preparation
    rows = [
        (before.old_fence, "of old fence is taken down."),
        (before.clearing, "of the line is cleared of brush."),
        (before.containment, "of temporary fence keeps the stock meanwhile."),
        (before.access, "of track or mats is laid for the machines."),
    ]
    said = [f"{told.long(length)} {words}" for length, words in rows if length]
    return [*said, _SPOIL[asked.price.spoil], "The ground is not levelled: the fence follows it."]


def _plan(design: Design) -> Section:
    drawing = site_plan(design, paper_size(design), _PLAN_MM, has_names=False)
    said = "Where the fence stands, and what is known to lie in its way. Say so if something is not where you see it."
    return Section("Plan", [Words(said), drawing])


def _terms(design: Design, priced: Record) -> list[Block]:
    asked = design.job.asked
    extras = [one.name for one in asked.extra]
    included = [
        *included_words(priced),
        *(f"{name[:1].upper()}{name[1:]}" for name in extras),
        *asked.paper.included,
    ]
    rock = next((line for line in priced["lines"] if line["item"] == "rock-hole"), None)
    if rock is not None and rock["amount"] is not None:
        included.append(
            f"Rock in about {rock['quantity']:,.0f} of the holes; what more is met is agreed upon first"
        )
    return [
        Heading("Included"),
        Points(included or ["Nothing is priced yet."]),
        Heading("Not included"),
        Points([*excluded_words(priced), *asked.paper.excluded]),
        Heading("Acceptance"),
        Facts([(name, "") for name in ("Accepted by", *(["Option chosen"] if asked.alternative else []), "Day", "Builder")]),
        Words(_made_of(priced), "small"),
    ]  # fmt: skip


def _made_of(priced: Record) -> str:
    job = priced["job"]
    return (
        f"Made from job {job['name']}, revision {job['revision']}, design {priced['design_digest'][:12]},"
        f" price {priced['digest'][:12]}, {priced['program']} {priced['version']}."
    )
