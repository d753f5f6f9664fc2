"""A design to its papers: PDF for the field."""

from collections.abc import Callable

from fencewright.exchange.design_json import design_record
from fencewright.exchange.programme_json import programme_json
from fencewright.findings import InputError, InternalFault
from fencewright.papers.field_pack import field_pack
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
        The price of the design; the field pack does not show it.
    programme : Programme, optional
        Its programme: days of the locating ticket.
    progress : callable, optional
        Called with the name of each paper before it is made.

    Returns
    -------
    dict of str to bytes
        `field-pack.pdf`. The same design gives the same bytes.

    Raises
    ------
    InputError
        A logo that the typesetting engine cannot draw.
    """
    told = progress or (lambda _: None)
    _check_logo(design)
    record = design_record(design)
    planned = programme_json(design, programme)[0] if programme else None
    told("field-pack.pdf")
    return {"field-pack.pdf": typeset(field_pack(design, record, planned))}


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
