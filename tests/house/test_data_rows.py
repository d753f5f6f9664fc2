"""Rows of shipped data: each names a source that the register holds, and loads."""

import ast
import re
import tomllib
from collections.abc import Iterator
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.job.defaults import fill_defaults
from fencewright.job.reading import parse_job
from fencewright.site.ground_precision import GroundPrecision
from fencewright.sources import all_sources, cite

ROOT = Path(__file__).parents[2]
DATA = ROOT / "src" / "fencewright" / "data"
READINGS = {"read", "common practice, no source", "from memory"}


def rows_of(data: Any, path: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """Tables that hold values, by place; tables of tables are gone into."""
    if isinstance(data, list):
        for number, value in enumerate(data, 1):
            yield from rows_of(value, f"{path}[{number}]")
    elif isinstance(data, dict):
        inner = [(key, value) for key, value in data.items() if isinstance(value, dict) or _is_rows(value)]
        if len(inner) < len(data):
            yield path, data
        for key, value in inner:
            yield from rows_of(value, f"{path}.{key}")


def _is_rows(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and isinstance(value[0], dict)


def shipped_rows() -> list[tuple[str, dict[str, Any]]]:
    files = [DATA / "practice.toml", *sorted((DATA / "catalogue").glob("*.toml"))]
    return [row for file in files for row in rows_of(tomllib.loads(file.read_text("utf-8")), file.name)]


def sourced_rows() -> list[tuple[str, dict[str, Any]]]:
    """All rows but those of hardware, which say how many of a thing belong to an assembly."""
    return [(place, row) for place, row in shipped_rows() if not place.startswith("hardware.toml")]


def test_there_are_rows_to_look_at() -> None:
    assert len(shipped_rows()) > 100


def test_every_row_names_its_source_and_how_it_is_known() -> None:
    bare = [
        place
        for place, row in sourced_rows()
        if row.get("source") not in all_sources() or row.get("read") not in READINGS
    ]
    assert not bare


def test_common_practice_says_so_and_a_publication_never_does() -> None:
    wrong = [
        place
        for place, row in sourced_rows()
        if row["read"] == ("read" if row["source"] == "practice" else "common practice, no source")
    ]
    assert not wrong


def test_every_trade_default_says_why() -> None:
    assert not [name for name, row in shipped_catalogue().practice.items() if len(row.why) < 5]


def test_every_hardware_row_says_why() -> None:
    assert not [row.item for row in shipped_catalogue().hardware if not row.why]


def test_every_key_of_the_register_is_used() -> None:
    rows = {row["source"] for _, row in sourced_rows()}
    files = [path for path in DATA.rglob("*.toml") if path.name != "sources.toml"]
    files += [path for folder in ("src", "tests") for path in (ROOT / folder).rglob("*.py")]
    texts = [path.read_text("utf-8") for path in files]
    unused = [key for key in all_sources() if key not in rows and not any(key in text for text in texts)]
    assert not unused


def cited_keys() -> set[str]:
    """Keys with a number in them (`ibc-1810`) that stand under References in a docstring of the program."""
    found: set[str] = set()
    for path in (ROOT / "src").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef):
                text = (ast.get_docstring(node) or "").partition("References\n")[2]
                found |= set(re.findall(r"\b[a-z]+(?:-[a-z]+)*-[0-9][0-9a-z-]*", text))
    return found


def test_every_key_that_a_docstring_cites_is_in_the_register() -> None:
    assert cited_keys()
    assert not cited_keys() - set(all_sources())


class Recorded(dict[str, Any]):
    """Trade defaults that remember which of them were asked for."""

    def __init__(self, rows: Any) -> None:
        super().__init__(rows)
        self.asked: set[str] = set()

    def __getitem__(self, name: str) -> Any:
        self.asked.add(name)
        return super().__getitem__(name)


def defaults_asked_for(sheets: str) -> set[str]:
    """Names of the trade defaults that a job on such sheets is filled with."""
    catalogue = shipped_catalogue()
    rows = Recorded(catalogue.practice)
    text = f'[job]\nname = "x"\nsheets = "{sheets}"\n[[line]]\nname = "a"\npoints = [["0 m", "0 m"], ["60 m", "0 m"]]\n'
    fill_defaults(parse_job(text), replace(catalogue, practice=rows))
    return rows.asked


def test_each_system_of_units_has_its_own_whole_numbers() -> None:
    shipped = shipped_catalogue()
    own = {name for name in shipped.practice if name.endswith("_metric")}
    metric = shipped.on_sheets("metric").practice
    assert len(own) > 25
    assert shipped.on_sheets("us") is shipped
    for name in own:
        plain = name.removesuffix("_metric")
        assert metric[plain] is shipped.practice[name]
        assert metric[plain].written != shipped.practice[plain].written
    by_telephone = {name for name in shipped.practice if name.startswith("rough.")}
    asked = defaults_asked_for("us") | by_telephone | {"brace.horizontal_reach"}  # the last where it is level
    assert {name.removesuffix("_metric") for name in own} <= asked


def test_every_trade_default_is_used_by_the_program() -> None:
    code = "\n".join(path.read_text("utf-8") for path in (ROOT / "src").rglob("*.py"))
    ground = {"ground." + one.name.removesuffix("_m").removesuffix("_rad") for one in fields(GroundPrecision)}
    elsewhere = ground | defaults_asked_for("us")
    names = {name.removesuffix("_metric") for name in shipped_catalogue().practice}
    unused = [name for name in names if name not in elsewhere and f'"{name}"' not in code]
    assert not unused


def test_every_source_says_where_and_when() -> None:
    lacking = [
        key
        for key, one in all_sources().items()
        if key != "practice" and not (one.title and one.where and one.seen)
    ]
    assert not lacking


def test_an_unknown_key_is_refused_by_name() -> None:
    with pytest.raises(KeyError, match="no-such-book"):
        cite("no-such-book")


@pytest.mark.parametrize("file", sorted(path.stem for path in (DATA / "catalogue").glob("*.toml")))
def test_catalogue_rows_load(file: str) -> None:
    table = {
        "rails": "rails",
        "bags": "bags",
        "hardware": "hardware",
        "soils": "soils",
        "obstacles": "obstacles",
        "stock": "kept",
        "timber": "timbers",
        "load_cases": "load_cases",
        "work": "works",
    }
    data = tomllib.loads((DATA / "catalogue" / f"{file}.toml").read_text("utf-8"))
    rows = next(iter(data.values()))
    assert len(getattr(shipped_catalogue(), table[file])) == len(rows) > 0
