"""Every sentence that the program can say on the page, read off its source (spelt_out.py)."""

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

from tests.docs import spelt_out

from fencewright.server.errors import CODES

ROOT = Path(__file__).parents[2]
# Never on the page: the command line's own, and a call for a rough price, which is asked there alone.
ELSEWHERE = ("cli", "papers")
ELSEWHERE_FILES = ("rough_call", "rough_asked")
# What one stage hands another wrongly is a fault of the program: it raises ValueError, and the page tells the fault.
STAGES = ("mechanics", "geometry", "layout", "topline", "tension", "strength", "takeoff", "programme")
GRIDS = ("grid_ground",)
# By what is called: where its texts stand among what it is called with, by number and by name.
WHYS = {
    "Reason": ((0, "name"), (1, "says"), (3, "words"), (5, "result"), (8, "next_smaller"), (9, "clause")),
    "Input": ((1, "name"), (2, "value"), (4, "origin")),
    "Explanation": ((1, "kind"), (2, "where")),
}
NAMED_INPUTS = {"asked": 3, "practice": 2}  # where the symbol and name stand


@cache
def _errors() -> frozenset[str]:
    """Names of every error that the program raises on purpose, and of the one that stands for a wrong value."""
    names = {"FencewrightError", "ValueError"}
    classes = [
        node
        for module in spelt_out.modules().values()
        for node in ast.walk(module.tree)
        if isinstance(node, ast.ClassDef)
    ]
    for _ in range(6):
        names |= {
            node.name
            for node in classes
            for base in node.bases
            if getattr(base, "id", getattr(base, "attr", "")) in names
        }
    return frozenset(names)


def _raised() -> Iterator[tuple[Any, ast.Call]]:
    for module, call in spelt_out.arguments_of(_errors()):
        package = module.path.relative_to(spelt_out.SOURCE).parts[0]
        is_wrong_value = spelt_out.called(call) == "ValueError" and (
            package in STAGES or module.path.stem in GRIDS
        )
        if package not in ELSEWHERE and module.path.stem not in ELSEWHERE_FILES and not is_wrong_value:
            yield module, call


@cache
def refusals() -> frozenset[str]:
    """Every sentence that refuses something, as the source has it."""
    found: set[str] = set()
    for module, call in _raised():
        said = [*call.args, *(word.value for word in call.keywords if word.arg in ("what", "sentence"))]
        found.update(text for part in said for text in spelt_out.texts_of(part, module))
    return frozenset(found - set(CODES))


# Sentences that another error has said already, and what such an error is made of besides its sentence.
PASSED_ON = {
    *("str(error)", "error.what", "self.what", "str(content)", "text", "what"),
    *("row.head", "number", "clashes", "pull", "code", "where", "sentence"),
}


@cache
def hidden() -> frozenset[str]:
    """What refuses in words that the source does not spell out here, nor in what it calls or is called with."""
    found = {
        ast.unparse(part)
        for module, call in _raised()
        for part in call.args
        if set(spelt_out.texts_of(part, module)) <= {spelt_out.VALUE} and not isinstance(part, ast.BinOp)
    }
    return frozenset(found - PASSED_ON)


@cache
def items() -> frozenset[str]:
    """What the refusals name as holding the fault: a row, a key, a point."""
    said = (
        (module, word.value) for module, call in _raised() for word in call.keywords if word.arg == "item"
    )
    found = {text for module, part in said for text in spelt_out.texts_of(part, module)}
    return frozenset(text for text in found if not text.startswith("--"))


@cache
def sentences_of_files() -> frozenset[str]:
    """What is said of a file that was given, of what cannot be shown or written, and of a request."""
    found: set[str] = set()
    for module, call in spelt_out.arguments_of(frozenset({"FileGiven", "ErrorText", "LeftOut", "_answer"})):
        said = [word.value for word in call.keywords if word.arg == "sentence"]
        if spelt_out.called(call) == "LeftOut":
            said += call.args
        found.update(text for part in said for text in spelt_out.texts_of(part, module))
    return frozenset(found)


WORD_IN_FORMULA = re.compile(
    r"\b(?!ceil|round|sqrt|theta|alpha|sigma|hinge|atan)[a-z]{4,}\b| or | and | of | to | the | where "
)


@cache
def formulas() -> frozenset[str]:
    """Formulas of the whys that hold words."""
    calls = [
        (module, call)
        for module, call in spelt_out.arguments_of(frozenset({"Reason"}), ("pipeline",))
        if len(call.args) > 4
    ]
    found = {text for module, call in calls for text in spelt_out.texts_of(call.args[4], module)}
    return frozenset(text for text in found if WORD_IN_FORMULA.search(text))


@cache
def whys() -> frozenset[str]:
    """Every name and text of a why, as the source has it."""
    found: set[str] = set()
    for module, call in spelt_out.arguments_of(frozenset({*WHYS, *NAMED_INPUTS}), ("pipeline", "desk")):
        by_name = {word.arg: word.value for word in call.keywords}
        if (place := NAMED_INPUTS.get(spelt_out.called(call))) is not None:
            what = call.args[place] if place < len(call.args) else None
            told = [what.elts[1]] if isinstance(what, ast.Tuple) else []
        else:
            star = next(
                (row for row, part in enumerate(call.args) if isinstance(part, ast.Starred)), len(call.args)
            )
            told = [call.args[row] for row, _ in WHYS[spelt_out.called(call)] if row < star]
            told += [by_name[name] for _, name in WHYS[spelt_out.called(call)] if name in by_name]
        found.update(text for part in told for text in spelt_out.texts_of(part, module))
    return frozenset(found)


def listed_codes() -> set[str]:
    """Codes of findings that docs/findings.md lists."""
    page = (ROOT / "docs" / "findings.md").read_text("utf-8")
    return set(re.findall(r"^\| `([a-z-]+)` \|", page, re.MULTILINE))


@cache
def findings() -> frozenset[str]:
    """What stands behind a finding's code where it is made: its sentence, what mends it, what is left out."""
    codes = listed_codes()
    found: set[str] = set()
    for module in spelt_out.modules().values():
        for call in (node for node in ast.walk(module.tree) if isinstance(node, ast.Call)):
            is_code = [getattr(part, "value", None) in codes for part in call.args]
            said = call.args[is_code.index(True) + 1 :] if True in is_code else []
            if spelt_out.called(call) in ("Remedy", "leave_out", "leave_out_if", "note"):
                said += call.args[: 1 if spelt_out.called(call) != "note" else 2]
            found.update(text for part in said for text in spelt_out.texts_of(part, module))
    return frozenset(text for text in found if " " in text)


def every_text() -> frozenset[str]:
    """Every text that any expression of the program can come to."""
    return frozenset(spelt_out.every_text())
