"""order.xlsx: order, cut list, posts, braces, pulls, tension, checks, findings; ready to print; same bytes always."""

import datetime
import io
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from fencewright.exchange.sheet_columns import Heading, SheetTable
from fencewright.exchange.sheet_strength import checks_table, site_checks_table, tension_table
from fencewright.exchange.sheet_tables import (
    braces_table,
    findings_table,
    order_table,
    posts_table,
    pulls_table,
    rolls_table,
)
from fencewright.findings.cautions import STRENGTH_CAUTIONS

if TYPE_CHECKING:
    from xlsxwriter.format import Format
    from xlsxwriter.workbook import Workbook
    from xlsxwriter.worksheet import Worksheet

_CREATED = datetime.datetime(2000, 1, 1)  # fixed, for equal bytes; the format knows no zone
_MOST_ROWS = 1_000_000  # the format ends at 1,048,576
_MOST_TEXT = 32_767  # characters in a cell
_HEAD_ROW = 2
_PAPER = {"us": 1, "metric": 9}  # Letter, A4: the format's own numbers
_OPTIONS = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_urls": False,
    "strings_to_numbers": False,
}

_TABLES = (
    order_table,
    rolls_table,
    posts_table,
    braces_table,
    pulls_table,
    tension_table,
    site_checks_table,
    checks_table,
    findings_table,
)


def order_xlsx(record: dict[str, Any]) -> bytes:
    """Give order.xlsx from the record of design.json.

    Parameters
    ----------
    record : dict
        As `design_record` gives it.

    Returns
    -------
    bytes
        A workbook with the sheets Order, Rolls, Posts, Braces, Pulls, Tension, Site checks, Checks, Findings, in
        the units of the job's sheets; each repeats the job's name, that it must not be built where so, and the
        cautions, with what holds for the whole job. Text is never a formula.

    Notes
    -----
    A table of more than 1,000,000 rows goes on in a further sheet of its name.
    """
    import xlsxwriter

    stream = io.BytesIO()
    workbook = xlsxwriter.Workbook(stream, _OPTIONS)
    workbook.set_properties(
        {
            "title": record["job"]["name"],
            "author": record["program"],
            "created": _CREATED,
            "comments": record["digest"],
        }
    )
    formats = _Formats(workbook, record["job"]["sheets"])
    for make in _TABLES:
        for part in _parts(make(record)):
            _write_sheet(workbook.add_worksheet(part.title), part, record, formats)
    workbook.close()
    return stream.getvalue()


class _Formats:
    """Cell formats of one workbook."""

    def __init__(self, workbook: "Workbook", system: str) -> None:
        self.title = workbook.add_format({"bold": True, "font_size": 14})
        self.stop = workbook.add_format({"bold": True, "font_size": 14, "font_color": "#B00020"})
        self.caution = workbook.add_format({"italic": True})
        self.head = workbook.add_format(
            {"bold": True, "bottom": 1, "bg_color": "#E8ECE8", "text_wrap": True, "valign": "top"}
        )
        self.text = workbook.add_format({"valign": "top", "num_format": "@"})
        self.long_text = workbook.add_format({"valign": "top", "num_format": "@", "text_wrap": True})
        number = {
            "small": "# ?/8" if system == "us" else "0",
            "long": "0.00" if system == "us" else "0.000",
            "volume": "0.00" if system == "us" else "0.000",
            "force": "#,##0",
            "bags": "0.00",
            "amount": "#,##0.##",
            "angle": "0.0",
            "whole": "0",
            "percent": "0",
            "frequency": "0.00",
            "mm": "0.0",
            "plain": "#,##0.00",
        }
        self._numbers = {
            kind: workbook.add_format({"valign": "top", "num_format": shown})
            for kind, shown in number.items()
        }

    def of(self, heading: Heading) -> "Format":
        """Format of a column's cells."""
        if heading.kind == "text":
            return self.long_text if heading.width >= 50 else self.text
        return self._numbers[heading.kind]


def _parts(table: SheetTable) -> Iterator[SheetTable]:
    yield SheetTable(table.title, table.headings, table.rows[:_MOST_ROWS])
    for number, start in enumerate(range(_MOST_ROWS, len(table.rows), _MOST_ROWS), start=2):
        yield SheetTable(f"{table.title} {number}", table.headings, table.rows[start : start + _MOST_ROWS])


def _write_sheet(sheet: "Worksheet", table: SheetTable, record: dict[str, Any], formats: _Formats) -> None:
    may_build = record["may_be_built"]
    title = f"{record['job']['name']}: {table.title}" + ("" if may_build else " – NOT TO BE BUILT")
    sheet.write_string(0, 0, title[:_MOST_TEXT], formats.title if may_build else formats.stop)
    said = " ".join([*STRENGTH_CAUTIONS, *assumptions(record)])
    sheet.write_string(1, 0, said[:_MOST_TEXT], formats.caution)
    for column, heading in enumerate(table.headings):
        cell = formats.of(heading)
        sheet.set_column(column, column, min(heading.width, 80))
        sheet.write_string(_HEAD_ROW, column, heading.name, formats.head)
        for row, cells in enumerate(table.rows, start=_HEAD_ROW + 1):
            value = cells[column]
            if isinstance(value, str):
                sheet.write_string(row, column, value[:_MOST_TEXT], cell)
            elif value is not None:
                sheet.write_number(row, column, value, cell)
    _set_print(sheet, table, record)


def assumptions(record: dict[str, Any]) -> list[str]:
    """Cautions that hold for the whole job (assumed soil, frost, temperatures), which every sheet repeats."""
    return [finding["message"] for finding in record["findings"] if finding["code"].startswith("assumed-")]


def _set_print(sheet: "Worksheet", table: SheetTable, record: dict[str, Any]) -> None:
    """Freeze and repeat the head; one page wide, landscape, numbered, with the digest of the design."""
    last = max(_HEAD_ROW + len(table.rows), _HEAD_ROW + 1)
    sheet.freeze_panes(_HEAD_ROW + 1, 1)
    sheet.autofilter(_HEAD_ROW, 0, last, len(table.headings) - 1)
    sheet.repeat_rows(0, _HEAD_ROW)
    sheet.set_paper(_PAPER[record["job"]["sheets"]])
    sheet.set_landscape()
    sheet.fit_to_pages(1, 0)
    sheet.set_margins(left=0.4, right=0.4, top=0.5, bottom=0.6)
    mark = f"{record['program']} {record['version']}, design {record['digest'][:12]}"
    sheet.set_footer(f"&L{mark}&RPage &P of &N")
