"""A priced design to its files."""

from collections.abc import Callable
from typing import Any

from fencewright.exchange.design_json import design_record
from fencewright.exchange.price_csv import price_csv
from fencewright.exchange.price_json import price_json
from fencewright.exchange.price_workbook import price_workbook
from fencewright.pipeline.record import Design
from fencewright.tables.price import Price


def price_outputs(
    made: Design, priced: Price, progress: Callable[[str], object] | None = None
) -> dict[str, bytes]:
    """Give every output of a price by its file name.

    Parameters
    ----------
    made : Design
        What is priced.
    priced : Price
        Its price.
    progress : callable, optional
        Called with the name of each file before it is made.

    Returns
    -------
    dict of str to bytes
        `price.json`, `price.csv`, `estimate.xlsx`, `risk.svg`. The same job gives the same bytes.
    """
    told = progress or (lambda _: None)
    told("price.json")
    record, content = price_record(made, priced)
    makers: tuple[tuple[str, Callable[[], bytes]], ...] = (
        ("price.csv", lambda: price_csv(record)),
        ("estimate.xlsx", lambda: price_workbook(record)),
        ("risk.svg", lambda: _risk_svg(made, priced)),
    )
    files = {"price.json": content}
    for name, make in makers:
        told(name)
        files[name] = make()
    return files


def _risk_svg(made: Design, priced: Price) -> bytes:
    from fencewright.sheets.risk_sheet import draw_risk
    from fencewright.sheets.svg import write_svg

    return write_svg(draw_risk(made, priced)).encode("utf-8", "replace")


def price_record(made: Design, priced: Price) -> tuple[dict[str, Any], bytes]:
    """Record and bytes of price.json."""
    record = design_record(made)
    about = {
        "job": record["job"],
        "design_digest": record["digest"],
        "may_be_built": record["may_be_built"],
    }
    return price_json(priced, about)
