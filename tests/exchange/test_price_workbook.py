"""estimate.xlsx recalculated by an independent engine comes to the program's own price, and to it again once changed."""

import io
import json
import shutil
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from fencewright.desk.price_writing import price_record
from fencewright.desk.pricing import price_job
from fencewright.exchange.price_workbook import price_workbook

ROOT = Path(__file__).parents[2]
# the engine compares text by `is`, which Python warns of when it compiles it
pytestmark = pytest.mark.filterwarnings('ignore:"is( not)?" with:SyntaxWarning')

# Half coins that are a hair less in binary numbers, text that would be a formula, an activity that is a search sign.
_MORE = """
[[extra]]
name = "=2+3"
unit = "@day"
quantity = 0.25
price = "0.70"
activity = "*"
[[extra]]
name = "half a coin"
quantity = 1.15
price = "2.30"
activity = "=holes"
[[extra]]
name = "half a coin again"
quantity = 4.35
price = "1.10"
"""
_TERMS = '[price]\ncontingency = "7.5 %"\nrounding = "25"\n'


@dataclass(frozen=True)
class Recalculated:
    """A workbook in the engine: cells by sheet and name, as it was or with other inputs."""

    record: dict[str, Any]
    model: Any

    def cells(self, changes: dict[str, float] | None = None) -> dict[str, Any]:
        """Every cell's value once recalculated."""
        inputs = {f"'[estimate.xlsx]{name}": value for name, value in (changes or {}).items()}
        found = self.model.calculate(inputs=inputs)
        return {
            name.split("]", 1)[1]: value.value[0, 0]
            for name, value in found.items()
            if "]" in name and ":" not in name and hasattr(value, "value")
        }


def priced(folder: Path, more: str, book: tuple[str, str] = ("", "")) -> dict[str, Any]:
    """Record of price.json of the small paddock with other tables and another price book."""
    source = ROOT / "examples" / "small-paddock"
    job = (source / "job.toml").read_text("utf-8").replace("[price]\n", _TERMS, 1) + more
    (folder / "job.toml").write_text(job, "utf-8")
    text = (source / "prices.toml").read_text("utf-8")
    assert book[0] in text
    (folder / "prices.toml").write_text(text.replace(*book), "utf-8")
    made, price = price_job(folder / "job.toml")
    return price_record(made, price)[0]


def loaded(record: dict[str, Any], folder: Path) -> Recalculated:
    import formulas  # here, where its warnings are filtered

    path = folder / "estimate.xlsx"
    path.write_bytes(price_workbook(record))
    return Recalculated(record, formulas.ExcelModel().loads(str(path)).finish())


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Recalculated:
    folder = tmp_path_factory.mktemp("whole")
    return loaded(priced(folder, _MORE), folder)


@pytest.fixture(scope="module")
def lacking(tmp_path_factory: pytest.TempPathFactory) -> Recalculated:
    """One price is missing, of the labourers, and the tax is on materials alone."""
    folder = tmp_path_factory.mktemp("lacking")
    gone = ('{ item = "labourer", unit = "h", price = 27.00', '{ item = "nobody", unit = "h", price = 27.00')
    return loaded(priced(folder, "", gone), folder)


def totals(cells: dict[str, Any], record: dict[str, Any]) -> dict[str, float]:
    """Amounts of the steps in the workbook, in the order of the record."""
    return {step["name"]: cells[f"TOTAL'!C{row}"] for row, step in enumerate(record["steps"], start=4)}


def expected(record: dict[str, Any]) -> dict[str, Any]:
    return {step["name"]: pytest.approx(step["amount"], abs=1e-6) for step in record["steps"]}


def price_cell(record: dict[str, Any], name: str) -> str:
    """Cell of the price list that holds a thing's price, found in the workbook itself."""
    sheet = openpyxl.load_workbook(io.BytesIO(price_workbook(record)))["Prices"]
    rows = [row for row in range(4, sheet.max_row + 1) if sheet.cell(row, 1).value == name]
    assert len(rows) == 1
    return f"PRICES'!D{rows[0]}"


def test_every_step_is_the_programs_own_to_the_cent(whole: Recalculated) -> None:
    cells = whole.cells()
    assert totals(cells, whole.record) == expected(whole.record)
    assert totals(cells, whole.record)["total"] == pytest.approx(whole.record["total"], abs=1e-6)
    assert whole.record["steps"][-1]["name"] == "total"


def test_every_line_is_too_half_coins_among_them(whole: Recalculated) -> None:
    cells = whole.cells()
    found = [cells[f"LINES'!K{row}"] for row, _ in enumerate(whole.record["lines"], start=4)]
    assert found == [pytest.approx(line["amount"], abs=1e-6) for line in whole.record["lines"]]
    halves = {line["name"]: line["amount"] for line in whole.record["lines"] if "coin" in line["name"]}
    assert halves == {"half a coin": 2.65, "half a coin again": 4.79}


def test_activities_add_up_whatever_they_are_called(whole: Recalculated) -> None:
    cells = whole.cells()
    names = {one["name"]: one["direct"] for one in whole.record["subtotals"]["activity"]}
    rows = {value: name.replace("!A", "!C") for name, value in cells.items() if name.startswith("TOTAL'!A")}
    found = {name: cells[rows[name]] for name in names}
    assert found == {name: pytest.approx(value, abs=1e-6) for name, value in names.items()}
    assert {"*", "=holes"} <= set(names)


@pytest.mark.parametrize(
    ("name", "row", "value"),
    [
        (
            "round post 4.5 in x 8 ft",
            '{ item = "round post", size = "4.5 in x 8 ft", unit = "piece", price = {} }',
            "19.35",
        ),
        ("fence builder", '{ item = "fence builder", unit = "h", price = {}, low', "41.15"),
    ],
)
def test_a_price_changed_in_it_is_a_price_changed_in_the_book(
    whole: Recalculated, tmp_path: Path, name: str, row: str, value: str
) -> None:
    old = {"round post 4.5 in x 8 ft": "17.40", "fence builder": "38.00"}[name]
    again = priced(tmp_path, _MORE, (row.replace("{}", old), row.replace("{}", value)))
    cells = whole.cells({price_cell(whole.record, name): float(value)})
    assert totals(cells, whole.record) == expected(again)
    assert again["total"] != whole.record["total"]


def test_a_rate_changed_in_it_changes_the_total(whole: Recalculated, tmp_path: Path) -> None:
    steps = [step["name"] for step in whole.record["steps"]]
    cells = whole.cells({f"TOTAL'!B{4 + steps.index('overhead')}": 0.2})
    amounts = {step["name"]: Decimal(str(step["amount"])) for step in whole.record["steps"]}
    wanted = (amounts["direct"] + amounts["contingency"]) * Decimal("0.2")
    assert totals(cells, whole.record)["overhead"] == pytest.approx(float(wanted), abs=0.006)


def test_a_missing_price_is_shown_and_left_out(lacking: Recalculated) -> None:
    cells, record = lacking.cells(), lacking.record
    assert totals(cells, record) == expected(record)
    none = [row for row, line in enumerate(record["lines"], start=4) if line["amount"] is None]
    assert none
    assert {cells[f"LINES'!K{row}"] for row in none} == {"missing"}
    count = next(
        name for name, value in cells.items() if value == "lines without a price, left out of the total"
    )
    assert cells[count.replace("!A", "!C")] == len(none)


def test_a_missing_price_filled_in_is_a_price_in_the_book(lacking: Recalculated, tmp_path: Path) -> None:
    cell = price_cell(lacking.record, "labourer")
    again = priced(tmp_path, "")
    assert totals(lacking.cells({cell: 27.0}), lacking.record) == expected(again)
    assert again["missing"] == []


def test_what_a_reader_without_an_engine_sees_is_the_programs_own(whole: Recalculated) -> None:
    sheet = openpyxl.load_workbook(io.BytesIO(price_workbook(whole.record)), data_only=True)["Total"]
    shown = [sheet.cell(row, 3).value for row in range(4, 4 + len(whole.record["steps"]))]
    assert shown == [pytest.approx(step["amount"]) for step in whole.record["steps"]]
    assert sheet["A1"].value.startswith("Small paddock")


def test_text_of_the_job_never_becomes_a_formula_or_stands_in_one(whole: Recalculated) -> None:
    book = openpyxl.load_workbook(io.BytesIO(price_workbook(whole.record)))
    own = ("ROUND(", "IF(", "COUNTIF(")
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    assert cell.value.startswith(tuple(f"={one}" for one in own)), cell.value
                    assert "2+3" not in cell.value
    assert "=2+3" in [cell.value for cell in book["Lines"]["B"]]
    assert all(cell.data_type == "s" for cell in book["Lines"]["B"] if cell.value == "=2+3")


def test_it_has_the_same_bytes_each_time_and_prints(whole: Recalculated) -> None:
    content = price_workbook(whole.record)
    assert content == price_workbook(json.loads(json.dumps(whole.record)))
    book = openpyxl.load_workbook(io.BytesIO(content))
    assert book.sheetnames == ["Total", "Lines", "Prices"]
    assert {sheet.page_setup.orientation for sheet in book} == {"landscape"}
    assert book.properties.created.year == 2000


def test_without_a_price_book_it_lists_what_is_to_be_priced(tmp_path: Path, small_job_path: Path) -> None:
    shutil.copy(small_job_path.parent / "prices.toml", tmp_path)
    text = small_job_path.read_text("utf-8").replace('book = "prices.toml"', 'book = ""')
    (tmp_path / "job.toml").write_text(text, "utf-8")
    made, price = price_job(tmp_path / "job.toml")
    book = openpyxl.load_workbook(io.BytesIO(price_workbook(price_record(made, price)[0])), data_only=True)
    assert price.total is None
    assert {row[10] for row in book["Lines"].iter_rows(min_row=4, values_only=True)} == {"missing"}
    assert "MISSING" in str(book["Prices"]["E4"].value)
