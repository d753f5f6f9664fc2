"""price.json and price.csv of the small job."""

import csv
import io
import json
import re
import shutil
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from fencewright.desk.price_writing import price_outputs
from fencewright.desk.pricing import price_job

ROOT = Path(__file__).parents[2]
NAMED = {
    "lines",
    "subtotals",
    "total",
    "currency",
    "missing",
    "p50",
    "p80",
    "p95",
    "findings",
    "steps",
    "ownership",
}


def outputs(folder: Path, example: str = "small-paddock", more: str = "") -> dict[str, bytes]:
    shutil.copytree(ROOT / "examples" / example, folder, dirs_exist_ok=True)
    path = folder / "job.toml"
    path.write_text(path.read_text("utf-8") + more, "utf-8")
    return price_outputs(*price_job(path))


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    return outputs(tmp_path_factory.mktemp("price"))


def exact(content: bytes) -> dict[str, Any]:
    record: dict[str, Any] = json.loads(content, parse_float=Decimal, parse_int=Decimal)
    return record


def test_it_holds_what_it_must(files: dict[str, bytes]) -> None:
    record = json.loads(files["price.json"])
    assert set(record) >= NAMED
    assert set(record["lines"][0]) >= {"item", "quantity", "unit", "unit_price", "amount", "source"}
    assert record["currency"] == "USD"
    assert record["missing"] == []
    assert record["p50"] <= record["p80"] <= record["p95"]


def test_packs_times_their_price_are_the_amount_and_the_lines_the_total(files: dict[str, bytes]) -> None:
    """Reckoned again from the file alone, in exact decimals."""
    record = exact(files["price.json"])
    cent = Decimal("0.01")
    for line in record["lines"]:
        assert (line["packs"] * line["pack_price"]).quantize(cent) == line["amount"]
        assert abs(line["quantity"] * line["unit_price"] - line["amount"]) <= max(cent, line["pack_price"])
        assert sum(line["paddocks"].values()) == line["amount"]
    steps = {step["name"]: step for step in record["steps"]}
    direct = sum(line["amount"] for line in record["lines"])
    assert direct == steps["direct"]["amount"]
    added = ("direct", "contingency", "overhead", "margin", "rounding", "tax")
    assert sum(steps[name]["amount"] for name in added) == record["total"]
    for rows in record["subtotals"].values():
        assert sum(row["total"] for row in rows) == record["total"]


def test_an_items_id_is_that_of_the_order(files: dict[str, bytes]) -> None:
    ids = [line["item"] for line in json.loads(files["price.json"])["lines"]]
    assert "line-bracket" in ids
    assert "post-6-in-x-9-ft" in ids
    assert len(set(ids)) == len(ids)


def test_the_table_has_the_same_lines_and_total(files: dict[str, bytes]) -> None:
    record = json.loads(files["price.json"])
    rows = list(csv.DictReader(io.StringIO(files["price.csv"].decode())))
    assert [row["item"] for row in rows] == [
        *(line["item"] for line in record["lines"]),
        *(step["name"] for step in record["steps"]),
    ]
    assert float(rows[-1]["amount"]) == record["total"]


def test_a_missing_price_is_null_and_an_empty_cell_that_says_so(tmp_path: Path) -> None:
    files = outputs(tmp_path)
    book = tmp_path / "prices.toml"
    text = book.read_text("utf-8")
    start = text.index('    { item = "tensioner"')
    book.write_text(text[:start] + text[text.index("\n", start) + 1 :], "utf-8")
    made = price_outputs(*price_job(tmp_path / "job.toml"))
    record = json.loads(made["price.json"])
    line = next(line for line in record["lines"] if line["item"] == "tensioner")
    assert (line["amount"], line["unit_price"]) == (None, None)
    assert [one["id"] for one in record["missing"]] == ["tensioner"]
    assert not record["is_whole"]
    row = next(
        row for row in csv.DictReader(io.StringIO(made["price.csv"].decode())) if row["item"] == "tensioner"
    )
    assert (row["amount"], row["source"]) == ("", "MISSING")
    whole = json.loads(files["price.json"])
    assert whole["total"] > record["total"]


def test_without_a_price_book_there_is_no_total(tmp_path: Path) -> None:
    outputs(tmp_path)
    job = tmp_path / "job.toml"
    job.write_text(job.read_text("utf-8").replace('book = "prices.toml"', ""), "utf-8")
    record = json.loads(price_outputs(*price_job(job))["price.json"])
    assert record["total"] is None
    assert record["lines"][0]["quantity"] > 0
    assert record["steps"] == []


def test_what_came_from_the_price_book_starts_no_formula(tmp_path: Path) -> None:
    outputs(tmp_path)
    book = tmp_path / "prices.toml"
    book.write_text(book.read_text("utf-8").replace("invented yard", "=cmd()"), "utf-8")
    job = tmp_path / "job.toml"
    job.write_text(job.read_text("utf-8") + '[[extra]]\nname = "=1+1"\nprice = 3\n', "utf-8")
    rows = list(csv.reader(io.StringIO(price_outputs(*price_job(job))["price.csv"].decode())))
    assert any("1+1" in cell for row in rows for cell in row)
    assert not [cell for row in rows[1:] for cell in row if cell[:1] in "=+@" and cell]


def test_every_key_is_in_the_page(files: dict[str, bytes]) -> None:
    page = (ROOT / "docs" / "methods" / "price.md").read_text("utf-8")
    part = page[page.index("## price.json") : page.index("## Production rates")]
    named = set(re.findall(r"`(\w+)`", part))
    record = json.loads(files["price.json"])
    assert set(record) | set(record["lines"][0]) <= named
