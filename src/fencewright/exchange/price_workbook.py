"""estimate.xlsx: the price as a workbook of live formulas; a price changed in it changes the total; same bytes always."""

import datetime
import io
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from fencewright.exchange.price_csv import STEP_WORDS

if TYPE_CHECKING:
    from xlsxwriter.format import Format
    from xlsxwriter.workbook import Workbook
    from xlsxwriter.worksheet import Worksheet

Record = dict[str, Any]

_CREATED = datetime.datetime(2000, 1, 1)  # fixed, for equal bytes; the format knows no zone
_OPTIONS = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_urls": False,
    "strings_to_numbers": False,
}
_MOST_TEXT = 32_767  # characters in a cell
_PAPER = {"us": 1, "metric": 9}  # Letter, A4: the format's own numbers
_HEAD_ROW, _FIRST = 2, 3  # rows from 0: heads, first row of a table
_MISSING = "missing"
_OWN = "the job"  # source of a price that the job states itself
_HAIR = "1E-9"  # far below the last decimal that packs times a price can have
_KIND_SUMS = ("material", "labour", "plant", "travel", "other")
_TOTAL, _PRICES, _LINES = "Total", "Prices", "Lines"
_PRICE_COLUMN, _AMOUNT_COLUMN, _NUMBER_COLUMN, _STEP_COLUMN = "D", "K", "M", "C"


@dataclass(frozen=True, slots=True)
class _Entry:
    """One price of the list: what it buys, its pack and price, where it is from."""

    name: str
    unit: str
    pack: float
    price: float | None
    source: str


@dataclass
class _Book:
    """The workbook while it is written: entries of the price list, and the entry of each line."""

    workbook: "Workbook"
    record: Record
    formats: "_Formats"
    entries: list[_Entry] = field(default_factory=list)
    entry_of: list[int] = field(default_factory=list)

    def sheet(self, name: str, widths: tuple[int, ...], said: str) -> "Worksheet":
        """Add a sheet with its title, a line of words below it, and its print settings."""
        record, formats = self.record, self.formats
        sheet: Worksheet = self.workbook.add_worksheet(name)
        for column, width in enumerate(widths):
            sheet.set_column(column, column, width)
        may = record["may_be_built"]
        title = f"{record['job']['name']}: {name.lower()}" + ("" if may else " – NOT TO BE BUILT")
        sheet.write_string(0, 0, title[:_MOST_TEXT], formats.title if may else formats.stop)
        sheet.write_string(1, 0, said, formats.quiet)
        sheet.set_paper(_PAPER[record["job"]["sheets"]])
        sheet.set_landscape()
        sheet.fit_to_pages(1, 0)
        sheet.set_margins(left=0.4, right=0.4, top=0.5, bottom=0.6)
        mark = f"{record['program']} {record['version']}, price {record['digest'][:12]}"
        sheet.set_footer(f"&L{mark}&RPage &P of &N")
        return sheet


class _Formats:
    """Cell formats; money with the decimals of its currency."""

    def __init__(self, workbook: "Workbook", digits: int) -> None:
        money = "#,##0" + ("." + "0" * digits if digits else "")
        self.title = workbook.add_format({"bold": True, "font_size": 14})
        self.stop = workbook.add_format({"bold": True, "font_size": 14, "font_color": "#B00020"})
        self.quiet = workbook.add_format({"italic": True})
        self.head = workbook.add_format(
            {"bold": True, "bottom": 1, "bg_color": "#E8ECE8", "text_wrap": True, "valign": "top"}
        )
        self.text = workbook.add_format({"num_format": "@", "valign": "top"})
        self.strong = workbook.add_format({"bold": True})
        self.money = workbook.add_format({"num_format": money, "align": "right"})
        self.total = workbook.add_format({"num_format": money, "bold": True, "top": 1, "bottom": 6})
        self.amount = workbook.add_format({"num_format": "#,##0.####"})
        self.price = workbook.add_format(
            {"num_format": money, "bg_color": "#FFF7D6", "border": 1, "border_color": "#B8A75A"}
        )
        self.rate = workbook.add_format(
            {"num_format": "0.####%", "bg_color": "#FFF7D6", "border": 1, "border_color": "#B8A75A"}
        )


def price_workbook(record: Record) -> bytes:
    """Give estimate.xlsx from the record of price.json.

    Parameters
    ----------
    record : dict
        As `price_json` gives it.

    Returns
    -------
    bytes
        A workbook with the sheets Total (steps, what is left out, activities), Lines and Prices. Each thing has one
        price in Prices; everything else follows from it by formulas, rounded as the program rounds, so that the total
        is the program's until a price or a rate is changed. A missing price is an empty cell, and its lines say so.
        Text is never a formula, and no text of the job stands within one.
    """
    import xlsxwriter

    stream = io.BytesIO()
    workbook = xlsxwriter.Workbook(stream, _OPTIONS)
    workbook.set_properties(
        {
            "title": record["job"]["name"][:250],
            "author": record["program"],
            "created": _CREATED,
            "comments": record["digest"],
        }
    )
    workbook.set_calc_mode("auto")
    book = _Book(workbook, record, _Formats(workbook, record["minor_digits"]))
    _list_prices(book)
    _write_total(book)
    _write_lines(book)
    _write_prices(book)
    workbook.close()
    return stream.getvalue()


def _list_prices(book: _Book) -> None:
    """Find the entry of each line; lines that are paid by the same row of a price book share it."""
    places: dict[tuple[Any, ...], int] = {}
    for line in book.record["lines"]:
        name = line["size"] if line["kind"] == "labour" else f"{line['name']} {line['size']}".strip()
        entry = _Entry(name, line["unit"], line["pack"], line["pack_price"], line["source"])
        is_of_book = bool(entry.source) and not entry.source.startswith(_OWN)
        key = (entry.source, entry.unit, entry.pack) if is_of_book else (entry,)
        if key not in places:
            places[key] = len(places)
            book.entries.append(entry)
        book.entry_of.append(places[key])


def _heads(sheet: "Worksheet", heads: tuple[str, ...], head: "Format") -> None:
    for column, name in enumerate(heads):
        sheet.write_string(_HEAD_ROW, column, name, head)
    sheet.freeze_panes(_FIRST, 0)
    sheet.repeat_rows(0, _HEAD_ROW)


def _write_prices(book: _Book) -> None:
    currency = book.record["currency"] or ""
    said = (
        f"Change a price here, in {currency or 'the currency of the job'}: every line and the total follow."
    )
    sheet = book.sheet(_PRICES, (34, 10, 10, 14, 60), said)
    _heads(sheet, ("what", "unit", "pack", "price of a pack", "from"), book.formats.head)
    for row, entry in enumerate(book.entries, start=_FIRST):
        sheet.write_string(row, 0, entry.name[:_MOST_TEXT], book.formats.text)
        sheet.write_string(row, 1, entry.unit[:_MOST_TEXT], book.formats.text)
        sheet.write_number(row, 2, entry.pack, book.formats.amount)
        if entry.price is None:
            sheet.write_blank(row, 3, None, book.formats.price)
            sheet.write_string(
                row, 4, "MISSING: no price is known; the total leaves it out", book.formats.strong
            )
        else:
            sheet.write_number(row, 3, entry.price, book.formats.price)
            sheet.write_string(row, 4, entry.source[:_MOST_TEXT], book.formats.text)


_LINE_HEADS = (
    ("item", 26), ("name", 28), ("size", 20), ("kind", 10), ("activity", 14), ("quantity", 10), ("unit", 8),
    ("pack", 8), ("packs", 10), ("price of a pack", 12), ("amount", 13), ("why", 60), ("activity no.", 8),
)  # fmt: skip


def _write_lines(book: _Book) -> None:
    formats = book.formats
    widths = tuple(width for _, width in _LINE_HEADS)
    sheet = book.sheet(_LINES, widths, "amount = packs x price of a pack, rounded to the smallest coin")
    _heads(sheet, tuple(name for name, _ in _LINE_HEADS), formats.head)
    digits = book.record["minor_digits"]
    activities = {
        one["name"]: number for number, one in enumerate(book.record["subtotals"]["activity"], start=1)
    }
    for row, (line, place) in enumerate(zip(book.record["lines"], book.entry_of, strict=True), start=_FIRST):
        for column, key in (
            (0, "item"),
            (1, "name"),
            (2, "size"),
            (3, "kind"),
            (4, "activity"),
            (6, "unit"),
            (11, "basis"),
        ):
            sheet.write_string(row, column, str(line[key])[:_MOST_TEXT], formats.text)
        for column, key in ((5, "quantity"), (7, "pack"), (8, "packs")):
            sheet.write_number(row, column, line[key], formats.amount)
        sheet.write_number(row, 12, activities.get(line["activity"], 0), formats.amount)
        price = f"{_PRICES}!${_PRICE_COLUMN}${place + _FIRST + 1}"
        shown = _MISSING if line["pack_price"] is None else line["pack_price"]
        sheet.write_formula(row, 9, f'=IF(ISNUMBER({price}),{price},"{_MISSING}")', formats.money, shown)
        amount = _rounded(f"I{row + 1}*J{row + 1}", digits)
        shown = _MISSING if line["amount"] is None else line["amount"]
        sheet.write_formula(row, 10, f'=IF(ISNUMBER(J{row + 1}),{amount},"{_MISSING}")', formats.money, shown)
    if book.record["lines"]:
        sheet.autofilter(_HEAD_ROW, 0, _HEAD_ROW + len(book.record["lines"]), len(_LINE_HEADS) - 1)


def _column(book: _Book, letter: str) -> str:
    """A column of the lines, whole."""
    last = _FIRST + max(len(book.record["lines"]), 1)
    return f"{_LINES}!${letter}${_FIRST + 1}:${letter}${last}"


def _write_total(book: _Book) -> None:
    """Steps from the lines to the total, with the rates; what is left out; activities."""
    record, formats = book.record, book.formats
    money = f"All amounts in {record['currency']}" if record["currency"] else "No price is known"
    said = f"{money}; what stands in a yellow cell, here and in {_PRICES}, may be changed"
    sheet = book.sheet(_TOTAL, (34, 12, 16, 4, 40), said)
    _heads(sheet, ("step", "rate", "amount"), formats.head)
    row_of = {step["name"]: row for row, step in enumerate(record["steps"], start=_FIRST)}
    for step in record["steps"]:
        row = row_of[step["name"]]
        is_total = step["name"] == "total"
        sheet.write_string(
            row, 0, STEP_WORDS.get(step["name"], step["name"]), formats.strong if is_total else formats.text
        )
        if step["rule"] in ("rate", "margin"):
            sheet.write_number(row, 1, step["rate"], formats.rate)
        elif step["rule"] == "round":
            sheet.write_number(row, 1, step["rate"], formats.price)
        cell = formats.total if is_total else formats.money
        sheet.write_formula(row, 2, "=" + _step_formula(book, step["name"], row_of), cell, step["amount"])
    row = _FIRST + len(record["steps"]) + 1
    row = _write_missing(book, sheet, row)
    row = _write_lengths(book, sheet, row, row_of)
    row = _write_risk(book, sheet, row)
    _write_activities(book, sheet, row)


def _step_formula(book: _Book, name: str, row_of: dict[str, int]) -> str:
    """Formula of a step, rounded as the program rounds it."""
    digits = book.record["minor_digits"]
    cell = {step: f"{_STEP_COLUMN}{row + 1}" for step, row in row_of.items()}
    rate = {step: f"B{row + 1}" for step, row in row_of.items()}
    steps = {step["name"]: step for step in book.record["steps"]}
    if name in _KIND_SUMS:
        return _rounded(f'SUMIF({_column(book, "D")},"{name}",{_column(book, _AMOUNT_COLUMN)})', digits)
    before = f"({cell['direct']}+{cell['contingency']}+{cell['overhead']})"
    exact = f"({before}+{cell['margin']})"
    profit = (
        f"{rate['margin']}/(1-{rate['margin']})" if steps["margin"]["rule"] == "margin" else rate["margin"]
    )
    whole = rate["rounding"]
    taxed = "net" if steps["tax"]["base"] == steps["net"]["amount"] else "material"
    formulas = {
        "direct": f"SUM({cell['material']}:{cell['other']})",
        "contingency": f"{cell['direct']}*{rate['contingency']}",
        "overhead": f"({cell['direct']}+{cell['contingency']})*{rate['overhead']}",
        "margin": f"{before}*{profit}",
        "rounding": f"IF({whole}>0,{_rounded(f'{exact}/{whole}', 0)}*{whole}-{exact},0)",
        "net": f"{exact}+{cell['rounding']}",
        "tax": f"{cell[taxed]}*{rate['tax']}",
        "total": f"{cell['net']}+{cell['tax']}",
    }
    return _rounded(formulas[name], digits)


def _rounded(formula: str, digits: int) -> str:
    """Round half up as the program does: a hair is added, since half a coin is often a hair less in binary numbers."""
    return f"ROUND({formula}+{_HAIR},{digits})"


def _write_missing(book: _Book, sheet: "Worksheet", row: int) -> int:
    """How many lines have no price, live, and which they were; the row below."""
    count = sum(line["amount"] is None for line in book.record["lines"])
    sheet.write_string(row, 0, "lines without a price, left out of the total", book.formats.strong)
    sheet.write_formula(
        row, 2, f'=COUNTIF({_column(book, _AMOUNT_COLUMN)},"{_MISSING}")', book.formats.amount, count
    )
    for missing in book.record["missing"]:
        row += 1
        sheet.write_string(row, 0, f"missing: {missing['item']}"[:_MOST_TEXT], book.formats.text)
        sheet.write_number(row, 2, missing["quantity"], book.formats.amount)
        sheet.write_string(row, 4, f"{missing['unit']}; {missing['why']}"[:_MOST_TEXT], book.formats.text)
    return row + 2


def _write_lengths(book: _Book, sheet: "Worksheet", row: int, row_of: dict[str, int]) -> int:
    """Cost per foot and per metre, live; the row below."""
    record, digits = book.record, book.record["minor_digits"]
    if not row_of or not record["fence_length_m"]:
        return row
    total = f"{_STEP_COLUMN}{row_of['total'] + 1}"
    sheet.write_string(row, 0, "length of the fence, m", book.formats.text)
    sheet.write_number(row, 2, record["fence_length_m"], book.formats.amount)
    for more, (words, factor, key) in enumerate(
        (("per metre", "", "per_metre"), ("per foot", "*0.3048", "per_foot")), 1
    ):
        sheet.write_string(row + more, 0, words, book.formats.text)
        formula = "=" + _rounded(f"{total}/C{row + 1}{factor}", digits)
        sheet.write_formula(row + more, 2, formula, book.formats.money, record[key])
    return row + 4


def _write_risk(book: _Book, sheet: "Worksheet", row: int) -> int:
    """Simulated totals as they are: no formula of a workbook follows them."""
    if book.record["p50"] is None:
        return row
    for key, words in (("p50", "P50"), ("p80", "P80"), ("p95", "P95")):
        sheet.write_string(row, 0, f"{words}, simulated", book.formats.text)
        sheet.write_number(row, 2, book.record[key], book.formats.money)
        row += 1
    sheet.write_string(
        row - 3, 4, "by the program, with the prices as they were: these do not follow", book.formats.quiet
    )
    return row + 1


def _write_activities(book: _Book, sheet: "Worksheet", row: int) -> None:
    """Direct costs of each activity, live; summed by its number, since a name may hold what a search takes for a sign."""
    activities = book.record["subtotals"]["activity"]
    if activities:
        sheet.write_string(row, 0, "direct costs by activity", book.formats.strong)
    for number, one in enumerate(activities, start=1):
        row += 1
        sheet.write_string(row, 0, one["name"][:_MOST_TEXT], book.formats.text)
        sheet.write_number(row, 1, number, book.formats.amount)
        sums = f"SUMIF({_column(book, _NUMBER_COLUMN)},B{row + 1},{_column(book, _AMOUNT_COLUMN)})"
        formula = "=" + _rounded(sums, book.record["minor_digits"])
        sheet.write_formula(row, 2, formula, book.formats.money, one["direct"])
