"""CSV: points with headers, grouped into lines, or shapes as WKT."""

import csv
import io
import math
import re
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
from fencewright.findings.csv_faults import csv_fault
from fencewright.quantity.show import counted
from fencewright.quantity.written_commas import (
    READ_AS_DECIMAL,
    has_comma,
    has_decimal_commas,
    with_point,
)

_TRUE = {"true", "yes", "y", "1", "closed"}

Rows = list[list[str]]


def read_csv(path: Path) -> SiteFile:
    """Read a CSV site file.

    Parameters
    ----------
    path : Path
        The file, UTF-8; columns parted by commas, semicolons or tabs. Decimal commas are read where they can be
        nothing else (`has_decimal_commas`).
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
        points = _points(
            columns, numbers, [row for _, row in rows], file, between_semicolons=delimiter == ";"
        )
        _add_groups(collector, columns, numbers, [row for _, row in rows], points)
    return collector.finish(
        crs=WGS84 if columns.is_geographic else "",
        unit_m=columns.unit_m,
        elevation_unit_m=columns.height_unit_m,
    )


def is_line_by_default(path: Path) -> bool:
    """Tell whether the rows of a CSV site file make a line only because no column says what they are.

    Raises
    ------
    InputError
        As `read_csv`.
    """
    headers, _, _ = _table(decode(read_bytes(path), str(path), "CSV"), str(path))
    return not {"line", "kind", "closed", "wkt"}.intersection(find_columns(headers, str(path)).index)


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
        raise InputError(csv_fault(error), file=file, item=f"row {reader.line_num}") from error
    if len(rows) > MAX_POINTS:
        what = f"it has {len(rows):,} rows, above the {MAX_POINTS:,} that are read: trim it to the site"
        raise InputError(what, file=file)
    headers = rows[0][1]
    if len(rows) == 1:
        find_columns(headers, file)
        raise InputError("it has headers but no rows", file=file)
    for number, row in rows[1:]:
        if len(row) < len(headers) and any(cell.strip() for cell in headers[len(row) :]):
            what = f"it has {len(row)} of {len(headers)} cells: is the file cut short?"
            raise InputError(what, file=file, item=f"row {number}")
        if any(re.match(r"\s*[+-]?\d", cell) for cell in row[len(headers) :]):
            what = (
                f"it has {len(row)} cells under {counted(len(headers), 'header')}: write decimal points where numbers "
                "have decimal commas, or part the columns by semicolons"
            )
            raise InputError(what, file=file, item=f"row {number}")
    return headers, rows[1:], delimiter


def _points(
    columns: Columns, numbers: Sequence[int], rows: Rows, file: str, *, between_semicolons: bool
) -> NDArray[np.float64]:
    """Coordinates and heights (rows, 3); an empty height is NaN."""
    points = np.full((len(rows), 3), math.nan)
    wanted = (*columns.place, columns.height) if columns.height >= 0 else columns.place
    cells = (row[column] for column in wanted for row in rows)
    is_comma_decimal = has_decimal_commas(cells, between_semicolons=between_semicolons)
    for axis, column in enumerate(wanted):
        texts = [row[column] for row in rows]
        if is_comma_decimal:
            texts = [with_point(text) for text in texts]
        if axis == 2:
            texts = [text if text.strip() else "nan" for text in texts]
        try:
            points[:, axis] = np.fromiter(map(float, texts), dtype=np.float64, count=len(texts))
        except ValueError as error:
            row = next(number for number, text in enumerate(texts) if not _is_number(text))
            raise InputError(
                _no_number(texts[row], columns, axis), file=file, item=f"row {numbers[row]}"
            ) from error
    return points


def _no_number(text: str, columns: Columns, axis: int) -> str:
    if not text.strip():
        name = ("lon", "lat")[axis] if columns.is_geographic else ("x", "y")[axis]
        return f"its {name} is empty: write it, or take the row out"
    if has_comma(text):
        return f'"{shown(text)}" has a comma that may stand before decimals or between thousands: {READ_AS_DECIMAL}'
    return f'"{shown(text)}" is no number: write one like 12.5, its unit in the heading'


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
