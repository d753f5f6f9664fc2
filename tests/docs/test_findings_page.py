"""Every finding that the code can say stands in docs/findings.md under a level that it can have, and the reverse."""

import ast
import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "fencewright"
LEVELS = {"STOP", "CAUTION", "NOTE"}
CODE = re.compile(r"[a-z]+(-[a-z]+)+")
HEADS = {"Stops": "STOP", "Cautions": "CAUTION", "Notes": "NOTE"}


def names_in(node: ast.AST) -> set[str]:
    return {one.id for one in ast.walk(node) if isinstance(one, ast.Name)}


def code_of(node: ast.AST) -> str:
    """A finding's code where the node is one, else nothing."""
    text = node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""
    return text if CODE.fullmatch(text) else ""


def is_note(node: ast.AST) -> bool:
    """Whether a reader notes something: `collector.note(code, message)`."""
    return isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "note"


def said_codes() -> Iterator[tuple[str, set[str]]]:
    """Codes beside a level, as neighbours in a call or a tuple; and notes of the readers."""
    for path in sorted(SOURCE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            items = (
                node.args if isinstance(node, ast.Call) else node.elts if isinstance(node, ast.Tuple) else []
            )
            for before, item in pairwise(items):
                names = names_in(before) & (LEVELS | {"level"})
                if code_of(item) and names:
                    yield code_of(item), names & LEVELS or LEVELS
            if is_note(node) and items and code_of(items[0]):
                yield code_of(items[0]), {"NOTE"}


def listed_codes() -> dict[str, str]:
    """Codes of the page with the level under which they stand."""
    listed, level = {}, ""
    for line in (ROOT / "docs" / "findings.md").read_text("utf-8").splitlines():
        if line.startswith("## "):
            level = HEADS[line[3:]]
        elif found := re.match(r"\| `([a-z-]+)` \|", line):
            listed[found[1]] = level
    return listed


def test_the_scan_sees_each_way_of_saying() -> None:
    codes = {code for code, _ in said_codes()}
    assert {"top-line-clash", "assumed-frost", "rail-leaves-bend", "grid-scale", "track-in-segments"} <= codes


def test_every_code_is_in_the_docs_and_the_reverse() -> None:
    assert {code for code, _ in said_codes()} == set(listed_codes())


def test_each_stands_under_a_level_that_it_can_have() -> None:
    listed = listed_codes()
    levels: dict[str, set[str]] = {}
    for code, own in said_codes():
        levels.setdefault(code, set()).update(own)
    assert not [code for code, own in levels.items() if listed.get(code) not in own]


def test_every_row_says_what_it_means_and_what_to_do() -> None:
    rows = [
        line
        for line in (ROOT / "docs" / "findings.md").read_text("utf-8").splitlines()
        if line.startswith("| `")
    ]
    assert not [row for row in rows if any(len(cell.strip()) < 5 for cell in row.strip("|").split(" | "))]
