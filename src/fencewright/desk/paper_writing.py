"""A design to its papers: PDF for the customer and for the field."""

from collections.abc import Callable
from typing import Any

from fencewright.desk.upkeep_writing import upkeep_ics
from fencewright.exchange.design_json import design_record
from fencewright.exchange.price_json import price_json
from fencewright.exchange.programme_json import programme_json
from fencewright.findings import InputError, InternalFault
from fencewright.papers.field_pack import field_pack
from fencewright.papers.hand_over import hand_over
from fencewright.papers.quote import quote
from fencewright.papers.typeset import prove_logo, typeset
from fencewright.pipeline.record import Design
from fencewright.tables.price import Price
from fencewright.tables.programme import Programme


def paper_outputs(
    design: Design,
    priced: Price | None = None,
    programme: Programme | None = None,
    progress: Callable[[str], object] | None = None,
) -> dict[str, bytes]:
    """Give every paper of a design by its file name.

    Parameters
    ----------
    design : Design
        With its findings; one with a `stop` is printed too, and every page says that it must not be built.
    priced : Price, optional
        The price of the design; the quote alone shows it, and none is made without it.
    programme : Programme, optional
        Its programme: days of the locating ticket, of the works and of the upkeep.
    progress : callable, optional
        Called with the name of each paper before it is made.

    Returns
    -------
    dict of str to bytes
        `quote.pdf` where it is priced, `field-pack.pdf`, `hand-over.pdf`, and `upkeep.ics` where days are known. The same
        design, price and programme give the same bytes.

    Raises
    ------
    InputError
        A logo that the typesetting engine cannot draw.
    """
    told = progress or (lambda _: None)
    _check_logo(design)
    record = design_record(design)
    planned = programme_json(design, programme)[0] if programme else None
    files: dict[str, bytes] = {}
    if priced is not None:
        told("quote.pdf")
        files["quote.pdf"] = typeset(quote(design, record, _price_record(record, priced), planned))
    told("field-pack.pdf")
    files["field-pack.pdf"] = typeset(field_pack(design, record, planned))
    told("hand-over.pdf")
    files["hand-over.pdf"] = typeset(hand_over(design, record, planned))
    calendar = upkeep_ics(design, record, planned) if planned else None
    if calendar is not None:
        files["upkeep.ics"] = calendar
    return files


def _price_record(record: dict[str, Any], priced: Price) -> dict[str, Any]:
    about = {"job": record["job"], "design_digest": record["digest"], "may_be_built": record["may_be_built"]}
    return price_json(priced, about)[0]


def _check_logo(design: Design) -> None:
    """Refuse a logo that passed as a picture and cannot be drawn."""
    if not design.job.logo:
        return
    try:
        prove_logo(design.job.logo)
    except InternalFault as error:
        name = design.job.asked.paper.logo or ""
        raise InputError(
            "the picture cannot be drawn: save it as a PNG", file=name, item="[paper] logo"
        ) from error
