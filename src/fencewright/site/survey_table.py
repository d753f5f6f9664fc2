"""Survey sheets as text: columns that carry their unit in the heading, numbers and bearings in cells."""

import csv
import math
import re
from dataclasses import dataclass

from fencewright.findings import InputError
from fencewright.findings.csv_faults import csv_fault
from fencewright.quantity import QuantityError, parse_quantity
from fencewright.quantity.parse import FOOT_M
from fencewright.quantity.show import counted
from fencewright.quantity.written_commas import READ_AS_DECIMAL, has_comma, has_decimal_commas, with_point

# US survey foot 1200/3937 m, exact by definition; still in use in old plane coordinates.
SURVEY_FOOT_M = 1200.0 / 3937.0
UNIT_M = {
    "m": 1.0, "metre": 1.0, "metres": 1.0, "meter": 1.0, "meters": 1.0, "cm": 0.01, "mm": 0.001,
    "ft": FOOT_M, "foot": FOOT_M, "feet": FOOT_M, "in": FOOT_M / 12.0,
    "usft": SURVEY_FOOT_M, "us-ft": SURVEY_FOOT_M, "us_ft": SURVEY_FOOT_M,
}  # fmt: skip
_ANGLE = r"(\d+(?:\.\d+)?(?: \d+(?:\.\d+)?){0,2})"
_LONGEST_CELL = 200
_OF_NAMES = ("name", "point", "id", "number", "no", "station", "code", "from", "to", "note", "description")


@dataclass(frozen=True, slots=True)
class SurveyTable:
    """A sheet of text cells under named columns.

    Parameters
    ----------
    file : str
        Name of the file, for messages.
    columns : dict of str to int
        Column of each name, lower case, without its unit.
    unit_m : dict of str to float
        Metres in one unit of each column whose heading carries a unit of length.
    rows : list of (int, list of str)
        Line number in the file, and its cells.
    """

    file: str
    columns: dict[str, int]
    unit_m: dict[str, float]
    rows: list[tuple[int, list[str]]]

    def lacking(self, row: list[str], name: str) -> str:
        """Say that a row has no value in a column, and what to do."""
        if self.columns[name] < len(row):
            return f"{name} is empty: write it, or take the line out"
        return f"it ends before {name}: is the file cut short? export it again, or take the line out"

    def text(self, row: list[str], name: str) -> str:
        """Give a cell's text; empty where the column or the cell is missing."""
        column = self.columns.get(name, -1)
        return row[column].strip() if 0 <= column < len(row) else ""

    def length_m(
        self, row: list[str], name: str, line: int, unit_m: float | None = None, key: str = ""
    ) -> float:
        """Read a length or height. [m].

        Parameters
        ----------
        row : list of str
            The row.
        name : str
            Its column.
        line : int
            Line number, for messages.
        unit_m : float, optional
            Metres in one unit of a bare number, where the heading carries none.
        key : str
            Key of [site] that gives such a unit, for messages.

        Returns
        -------
        float
            NaN where the cell is empty.

        Raises
        ------
        InputError
            The cell is no length, has no unit, or is not finite.
        """
        text = self.text(row, name)
        if not text:
            return math.nan
        factor = self.unit_m.get(name, unit_m)
        try:
            value = float(text) * factor if factor is not None else parse_quantity(text, "length")
        except (ValueError, QuantityError):
            value = self._with_unit(text, name, line, "" if name in self.unit_m else key)
        if not math.isfinite(value) or abs(value) > 1e9:
            raise InputError(
                f'{name} "{_short(text)}" is no number of this world', file=self.file, item=f"line {line}"
            )
        return value

    def _with_unit(self, text: str, name: str, line: int, key: str) -> float:
        try:
            return parse_quantity(text, "length")
        except QuantityError as error:
            if has_comma(text):
                raise InputError(
                    f'{name} "{_short(text)}" has a comma that may stand before decimals or between thousands: '
                    f"{READ_AS_DECIMAL}",
                    file=self.file,
                    item=f"line {line}",
                ) from error
            stated = f', or state [site] {key} = "ft" or "m"' if key else ""
            raise InputError(
                f'{name} "{_short(text)}" is no length: write a number under a heading with its unit '
                f'("{name}_ft", "{name}_m"), or the unit in the cell ("12.5 ft"){stated}',
                file=self.file,
                item=f"line {line}",
            ) from error


def _short(text: str) -> str:
    return text if len(text) <= 30 else text[:27] + "..."


def parse_survey_table(text: str, file: str) -> SurveyTable:
    """Split a sheet of comma, semicolon or tab separated text.

    Parameters
    ----------
    text : str
        The sheet; its first line that is not empty and no `#` remark is the heading. Decimal commas are read
        where they can be nothing else (`has_decimal_commas`).
    file : str
        Name of the file, for messages.

    Returns
    -------
    SurveyTable
        Columns, their units, and the rows that are not empty.

    Raises
    ------
    InputError
        The sheet is empty or no text, a column is named twice, a cell is absurdly long, or a row has more
        numbers than the heading has names.
    """
    if "\0" in text:
        raise InputError("is not text: give a CSV sheet", file=file)
    lines = [
        (number, line)
        for number, line in enumerate(text.lstrip("\ufeff").splitlines(), 1)
        if line.strip(" \t,;") and not line.lstrip().startswith("#")
    ]
    if not lines:
        raise InputError("is empty: give a heading and a row for each measurement", file=file)
    separator = max(",;\t", key=lines[0][1].count)
    reader = csv.reader((line for _, line in lines), delimiter=separator, skipinitialspace=True)
    try:
        rows = [(lines[reader.line_num - 1][0], row) for row in reader]
    except csv.Error as error:
        raise InputError(
            f"cannot be split into cells ({csv_fault(error)}): give a plain CSV sheet", file=file
        ) from error
    columns, unit_m = _headings(rows[0][1], file)
    _refuse_more_cells(rows, file)
    named = {index for name, index in columns.items() if name in _OF_NAMES}
    cells = (cell for _, row in rows[1:] for index, cell in enumerate(row) if index not in named)
    if has_decimal_commas(cells, between_semicolons=separator == ";"):
        rows[1:] = [(line, [with_point(cell) for cell in row]) for line, row in rows[1:]]
    return SurveyTable(file, columns, unit_m, rows[1:])


def _refuse_more_cells(rows: list[tuple[int, list[str]]], file: str) -> None:
    """Refuse a row with more cells than headings: a comma in a number parts it as one between cells does."""
    most = len(rows[0][1])
    for line, row in rows[1:]:
        if any(re.match(r"\s*[+-]?\d", cell) for cell in row[most:]):
            raise InputError(
                f"has {len(row)} cells under {counted(most, 'heading')}: write decimal points where numbers have "
                "decimal commas, or part the cells by semicolons",
                file=file,
                item=f"line {line}",
            )


def _headings(cells: list[str], file: str) -> tuple[dict[str, int], dict[str, float]]:
    """Split headings such as `slope_length_ft`, `z [m]` or `z (ft)` into name and unit."""
    columns: dict[str, int] = {}
    unit_m: dict[str, float] = {}
    for index, cell in enumerate(cells):
        heading = cell.strip().lower()
        if len(heading) > _LONGEST_CELL:
            raise InputError("its first line is no heading: name the columns there", file=file)
        name, unit = heading, ""
        match = re.fullmatch(r"(.+?)[\s_]*(?:\[(.+)\]|\((.+)\)|_(us[-_]?ft|[a-z]+))", heading)
        if match and (match[2] or match[3] or match[4]) in UNIT_M:
            name, unit = match[1], match[2] or match[3] or match[4]
        name = re.sub(r"[\s-]+", "_", name.strip())
        if not name:
            continue
        if name in columns:
            raise InputError(f'column "{_short(name)}" stands twice in the heading: keep one', file=file)
        columns[name] = index
        if unit:
            unit_m[name] = UNIT_M[unit]
    return columns, unit_m


def parse_bearing(text: str) -> tuple[float, bool]:
    """Read a bearing: `N76E`, `N22-36-40W`, `S 60°39'24" W`, or degrees clockwise from north.

    Parameters
    ----------
    text : str
        The bearing as noted.

    Returns
    -------
    azimuth_rad : float
        Clockwise from north, 0 to 2 pi. [rad]
    is_fine : bool
        Whether minutes or finer are given.

    Raises
    ------
    ValueError
        It is no bearing.
    """
    match = re.fullmatch(rf"([NS]?) ?{_ANGLE} ?([EW]?)", _spaced(text))
    if not match or bool(match[1]) != bool(match[3]):
        raise ValueError(text)
    degrees, is_fine = _degrees(match[2], 90.0 if match[1] else 360.0)
    if match[1] == "S":
        degrees = 180.0 - degrees
    if match[3] == "W":
        degrees = -degrees
    return math.radians(degrees) % (2.0 * math.pi), is_fine


def parse_turn(text: str) -> tuple[float, bool]:
    """Read a turned (deflection) angle from the way one came: `42-30 R`, `15 L`, `-15`; right is positive.

    Parameters
    ----------
    text : str
        The angle as noted.

    Returns
    -------
    turn_rad : float
        Right positive, -pi to pi. [rad]
    is_fine : bool
        Whether minutes or finer are given.

    Raises
    ------
    ValueError
        It is no angle.
    """
    sign = -1.0 if text.lstrip().startswith("-") else 1.0
    match = re.fullmatch(rf"([RL]?) ?{_ANGLE} ?([RL]?)", _spaced(text.strip().lstrip("+-")))
    if not match or (match[1] and match[3]):
        raise ValueError(text)
    degrees, is_fine = _degrees(match[2], 180.0)
    return sign * (-1.0 if "L" in (match[1], match[3]) else 1.0) * math.radians(degrees), is_fine


def _spaced(text: str) -> str:
    """Put one space where an angle has degree signs, primes, dashes or colons."""
    return re.sub(r"[\s°′″'\":-]+", " ", re.sub(r"DEG|(?<=\d)D", " ", text.upper())).strip()


def _degrees(text: str, most: float) -> tuple[float, bool]:
    """Read degrees, minutes and seconds; tell whether anything finer than whole degrees is given."""
    parts = [float(part) for part in text.split()]
    if any(part >= 60.0 for part in parts[1:]):
        raise ValueError(text)
    degrees = sum(part / 60.0**power for power, part in enumerate(parts))
    if degrees > most:
        raise ValueError(text)
    return degrees, len(parts) > 1 or "." in text
