"""CSV: points with headers, grouped into lines, or shapes as WKT."""

import csv
import io
import math
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.collect import MAX_POINTS, FeatureCollector
from fencewright.exchange.crs_text import WGS84
from fencewright.exchange.csv_columns import Columns, find_columns
from fencewright.exchange.csv_wkt import add_wkt_row
from fencewright.exchange.fields import as_attributes
from fencewright.exchange.intake import decode, read_bytes, shown
from fencewright.exchange.records import LINE, POINT, SiteFile
from fencewright.findings import InputError

_TRUE = {"true", "yes", "y", "1", "closed"}

Rows = list[list[str]]


def read_csv(path: Path) -> SiteFile:
    """Read a CSV site file.

    Parameters
    ----------
    path : Path
        The file, UTF-8; columns parted by commas, semicolons (numbers may then have decimal commas) or tabs.
        Headers, in any case: `x,y`, `east,north` or `lon,lat`, and `z`, with units like `x_ft`, `y (m)`; or
        `wkt`. Others that mean something: `name` (or `station`), `line`, `kind`, `layer`, `closed`.

    Returns
    -------
    SiteFile
        Rows with the same `line` are a line, in their order; rows with `line` empty are points. Without that
        column all rows are points where there is a `kind`, else one line, named as the file. The first row
        of a line gives its attributes. Longitude and latitude are WGS 84; a plane's system is not known.

    Raises
    ------
    InputError
        One sentence, for whatever is wrong with the file.
    """
    file = str(path)
    headers, rows, delimiter = _table(decode(read_bytes(path), file, "CSV"), file)
    columns = find_columns(headers, file)
    collector = FeatureCollector(path, is_geographic=columns.is_geographic)
    if not columns.place:
        for number, row in rows:
            add_wkt_row(collector, columns, row, f"row {number}")
    else:
        numbers = [number for number, _ in rows]
        points = _points(columns, numbers, [row for _, row in rows], file, delimiter == ";")
        _add_groups(collector, columns, numbers, [row for _, row in rows], points)
    return collector.finish(
        crs=WGS84 if columns.is_geographic else "",
        unit_m=columns.unit_m,
        elevation_unit_m=columns.height_unit_m,
    )


def _table(text: str, file: str) -> tuple[list[str], list[tuple[int, list[str]]], str]:
    """Headers, rows that are not blank with their number in the file, and the delimiter."""
    head = text.lstrip().partition("\n")[0]
    delimiter = max(",;\t", key=head.count)
    reader = csv.reader(
        io.StringIO(text, newline=""), delimiter=delimiter, skipinitialspace=True, strict=True
    )
    rows: list[tuple[int, list[str]]] = []
    try:
        for row in reader:
            if any(cell.strip() for cell in row):
                rows.append((reader.line_num, row))
    except csv.Error as error:
        cut = "unexpected end" in str(error)
        what = "the file is cut short inside quotes" if cut else f"it is no CSV table ({shown(str(error))})"
        raise InputError(what, file=file, item=f"row {reader.line_num}") from error
    if len(rows) > MAX_POINTS:
        what = f"it has {len(rows):,} rows, above the {MAX_POINTS:,} that are read: trim it to the site"
        raise InputError(what, file=file)
    headers = rows[0][1]
    if len(rows) == 1:
        find_columns(headers, file)
        raise InputError("it has headers but no rows", file=file)
    for number, row in rows[1:]:
        if len(row) < len(headers) and any(cell.strip() for cell in headers[len(row) :]):
            what = f"it has {len(row)} columns where the headers have {len(headers)}: is the file cut short?"
            raise InputError(what, file=file, item=f"row {number}")
    return headers, rows[1:], delimiter


def _points(
    columns: Columns, numbers: Sequence[int], rows: Rows, file: str, has_decimal_comma: bool
) -> NDArray[np.float64]:
    """Coordinates and heights (rows, 3); an empty height is NaN."""
    points = np.full((len(rows), 3), math.nan)
    wanted = (*columns.place, columns.height) if columns.height >= 0 else columns.place
    for axis, column in enumerate(wanted):
        texts = [row[column] for row in rows]
        if has_decimal_comma:
            texts = [text.replace(",", ".") for text in texts]
        if axis == 2:
            texts = [text if text.strip() else "nan" for text in texts]
        try:
            points[:, axis] = np.fromiter(map(float, texts), dtype=np.float64, count=len(texts))
        except ValueError as error:
            row = next(number for number, text in enumerate(texts) if not _is_number(text))
            what = f'"{shown(texts[row])}" is no number' if texts[row].strip() else "a coordinate is missing"
            raise InputError(what, file=file, item=f"row {numbers[row]}") from error
    return points


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


def _add_groups(
    collector: FeatureCollector,
    columns: Columns,
    numbers: Sequence[int],
    rows: Rows,
    points: NDArray[np.float64],
) -> None:
    """Add the points and lines that the rows make."""
    line = columns.index.get("line", -1)
    if line < 0 and "kind" not in columns.index and len(rows) > 1:
        collector.add(collector.stem, LINE, points, item="its line", is_closed=_is_closed(columns, rows[0]))
        return
    groups: dict[str, list[int]] = {}
    for row, cells in enumerate(rows):
        name = cells[line].strip() if line >= 0 else ""
        if name:
            groups.setdefault(name, []).append(row)
        else:
            _add(collector, columns, cells, POINT, points[row : row + 1], f"row {numbers[row]}")
    for name, members in groups.items():
        item = f'line "{shown(name)}"'
        _add(collector, columns, rows[members[0]], LINE, points[members], item, name)


def _add(
    collector: FeatureCollector,
    columns: Columns,
    cells: list[str],
    geometry: str,
    points: NDArray[np.float64],
    item: str,
    name: str = "",
) -> None:
    index = columns.index
    attributes = as_attributes((header, cells[column]) for header, column in columns.others.items())
    name = name or (cells[index["name"]] if "name" in index else "")
    layer = cells[index["layer"]] if "layer" in index else ""
    closed = geometry == LINE and _is_closed(columns, cells)
    collector.add(name, geometry, points, item=item, layer=layer, attributes=attributes, is_closed=closed)


def _is_closed(columns: Columns, cells: list[str]) -> bool:
    column = columns.index.get("closed", -1)
    return column >= 0 and cells[column].strip().casefold() in _TRUE
