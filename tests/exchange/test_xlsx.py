"""order.xlsx opens, says what the record says, prints on paper, and has the same bytes each time."""

import io
import json
import subprocess
import sys
import zipfile
from collections.abc import Callable
from typing import Any

import openpyxl
import pytest

from fencewright.exchange.design_json import design_record
from fencewright.exchange.sheet_columns import SheetTable
from fencewright.exchange.xlsx import _parts, order_xlsx
from fencewright.findings.cautions import STRENGTH_CAUTIONS
from fencewright.pipeline.record import Design

Make = Callable[..., Design]
SHEETS = ["Order", "Rolls", "Posts", "Braces", "Pulls", "Tension", "Site checks", "Checks", "Findings"]


def opened(record: dict[str, Any]) -> Any:
    return openpyxl.load_workbook(io.BytesIO(order_xlsx(record)))


def rows_of(sheet: Any) -> list[dict[str, Any]]:
    heads = [cell.value for cell in sheet[3]]
    return [dict(zip(heads, row, strict=True)) for row in sheet.iter_rows(min_row=4, values_only=True)]


def test_every_sheet_is_there_with_its_rows(made_design: Make) -> None:
    book = opened(design_record(made_design(stopped=True)))
    assert book.sheetnames == SHEETS
    counts = {sheet.title: sheet.max_row - 3 for sheet in book}
    held = {"Tension": 2, "Site checks": 2, "Checks": 14}
    assert counts == {"Order": 2, "Rolls": 3, "Posts": 7, "Braces": 2, "Pulls": 2, **held, "Findings": 2}


def test_numbers_are_numbers_in_the_units_of_the_sheets(made_design: Make) -> None:
    post = rows_of(opened(design_record(made_design()))["Posts"])[4]
    assert (post["station_ft"], post["stock_length_ft"]) == (pytest.approx(12 / 0.3048, abs=1e-4), 9)
    assert post["cut_in"] == pytest.approx(6.25, abs=0.002)  # 0.05 mm, the record's rounding
    metric = rows_of(opened(design_record(made_design(sheets="metric")))["Posts"])[4]
    assert (metric["station_m"], metric["cut_mm"]) == (12, 158.8)  # 158.75 mm, to 0.1 mm in the record


def test_inches_are_shown_in_eighths_and_millimetres_whole(made_design: Make) -> None:
    us, metric = (opened(design_record(made_design(sheets=system)))["Posts"] for system in ("us", "metric"))
    assert us["M4"].number_format == "0.00"
    assert (us["N4"].number_format, metric["N4"].number_format) == ("# ?/8", "0")
    assert (us["N3"].value, metric["N3"].value) == ("hole_diameter_in", "hole_diameter_mm")


def test_unknown_cells_are_empty(made_design: Make) -> None:
    post = rows_of(opened(design_record(made_design()))["Posts"])[3]
    assert (post["ground_ft"], post["stock_length_ft"], post["cut_in"], post["set_long"]) == (
        None,
        None,
        None,
        "yes",
    )


def test_text_is_never_a_formula(made_design: Make) -> None:
    record = design_record(made_design(name="=1+1", line='=HYPERLINK("http://x")'))
    content = order_xlsx(record)
    book = openpyxl.load_workbook(io.BytesIO(content))
    assert book["Posts"]["B4"].value == '=HYPERLINK("http://x")'
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    assert not any(b"<f>" in part or b"<hyperlink" in part for part in parts.values())
    assert any(b"=HYPERLINK" in part for name, part in parts.items() if name == "xl/sharedStrings.xml")


def test_each_sheet_repeats_the_job_and_its_assumptions(made_design: Make) -> None:
    for sheet in opened(design_record(made_design())):
        assert sheet["A1"].value == f"Small paddock: {sheet.title}"
        assert sheet["A2"].value == " ".join([*STRENGTH_CAUTIONS, "no soil is stated: clay is assumed"])
    for sheet in opened(design_record(made_design(stopped=True))):
        assert sheet["A1"].value.endswith("NOT TO BE BUILT")


@pytest.mark.parametrize(("system", "paper"), [("us", "1"), ("metric", "9")])
def test_each_sheet_prints_on_the_paper_of_its_country(made_design: Make, system: str, paper: str) -> None:
    for sheet in opened(design_record(made_design(sheets=system))):
        setup = sheet.page_setup
        assert (str(setup.paperSize), setup.orientation) == (paper, "landscape")
        assert setup.fitToWidth in (None, "1", 1)  # the format's own default is one page
        assert str(setup.fitToHeight) == "0"
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.print_title_rows == "$1:$3"
        assert sheet.freeze_panes == "B4"


def test_a_name_with_control_letters_is_written(made_design: Make) -> None:
    record = design_record(made_design(name="A\x01B & <C> \U0001f40e"))
    assert "A\x01B & <C> \U0001f40e" in opened(record)["Order"]["A1"].value.replace("_x0001_", "\x01")


def test_very_long_text_is_cut_at_what_a_cell_holds(made_design: Make) -> None:
    assert len(opened(design_record(made_design(line="x" * 40_000)))["Posts"]["B4"].value) == 32_767


def test_a_table_longer_than_a_sheet_goes_on_in_another() -> None:
    table = SheetTable("Posts", (), [[]] * 2_000_001)
    parts = list(_parts(table))
    assert [(part.title, len(part.rows)) for part in parts] == [
        ("Posts", 1_000_000),
        ("Posts 2", 1_000_000),
        ("Posts 3", 1),
    ]


def test_an_empty_table_has_its_heads_alone(made_design: Make) -> None:
    record = {**design_record(made_design()), "order": [], "rolls": []}
    assert [cell.value for cell in opened(record)["Order"][3]][:3] == ["id", "item", "size"]


def test_same_record_same_bytes_in_two_processes(made_design: Make) -> None:
    record = design_record(made_design())
    code = (
        "import hashlib, json, sys; from fencewright.exchange.xlsx import order_xlsx;"
        "print(hashlib.sha256(order_xlsx(json.load(sys.stdin))).hexdigest())"
    )
    text = json.dumps(record)
    runs = [
        subprocess.run(
            [sys.executable, "-c", code], input=text, capture_output=True, text=True, check=True
        ).stdout
        for _ in range(2)
    ]
    assert runs[0] == runs[1]
