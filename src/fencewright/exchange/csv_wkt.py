"""A row of a CSV file whose shape is written as WKT."""

import numpy as np

from fencewright.exchange.collect import FeatureCollector
from fencewright.exchange.csv_columns import Columns
from fencewright.exchange.fields import as_attributes
from fencewright.exchange.geometry_table import add_geometry
from fencewright.exchange.intake import shown
from fencewright.findings import InputError


def add_wkt_row(collector: FeatureCollector, columns: Columns, cells: list[str], item: str) -> None:
    """Add the shape of a row, in a plane that the file does not name.

    Raises
    ------
    InputError
        The text is no WKT.
    """
    import shapely

    index = columns.index
    text = cells[index["wkt"]].strip()
    attributes = as_attributes((header, cells[column]) for header, column in columns.others.items())
    layer = cells[index["layer"]] if "layer" in index else ""
    if not text:
        collector.leave_out("row without geometry")
        return
    try:
        with np.errstate(all="ignore"):  # what is not finite is told with its place, later
            geometry = shapely.from_wkt(text.partition(";")[2] if text.upper().startswith("SRID=") else text)
    except shapely.errors.GEOSException as error:
        raise InputError(f'"{shown(text)}" is no WKT shape', file=collector.file, item=item) from error
    if "line" in index and cells[index["line"]].strip():
        attributes.setdefault("name", cells[index["line"]].strip())
    elif "name" in index and cells[index["name"]].strip():
        attributes.setdefault("name", cells[index["name"]].strip())
    add_geometry(collector, geometry, attributes, item, layer)
