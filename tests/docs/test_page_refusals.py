"""What refuses a job, and where a number is from, in the page's other languages: read as strictly as the page does."""

import ast
import re
from functools import cache
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from types import ModuleType

import pytest

from fencewright.desk.reading import read_job
from fencewright.desk.running import design
from fencewright.job.wrong_values import _LIMITS, _SAID, wrong_value
from fencewright.pipeline.why import explain
from fencewright.pipeline.why_sum import SUMS

ROOT = Path(__file__).parents[2]
REFUSED = ("InputError", "QuantityError", "ValueError")
# Who writes on the page meets what these refuse; a call for a rough price is asked on the command line alone.
PACKAGES = ("job", "quantity", "findings")
ELSEWHERE = ("rough_call.py",)
LEAST_LITERAL = 12
# Words of the program that hold none to translate: ids, keys of the job file.
BARE = re.compile(r"(price|programme):[\w.-]+|\W*(\{\}\W*)*|\[\w+\] \w+")


@cache
def _page() -> ModuleType:
    spec = spec_from_file_location("page_texts", Path(__file__).with_name("test_page_texts.py"))
    assert spec is not None
    assert spec.loader is not None
    module = module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@cache
def _own(language: str) -> dict[str, str]:
    keys = {
        key.replace("_", " "): words[0]
        for table in _page().texts(f"fields.{language}.json").values()
        for key, words in table.items()
    }
    return keys | dict(_page().phrases(language))


@cache
def _patterns(language: str) -> list[tuple[str, re.Pattern[str], re.Pattern[str]]]:
    hole = re.compile(r"\\\{(\w+)\\\}")
    made = [
        (
            phrase,
            re.compile(hole.sub(r"(?P<\1>.+?)", re.escape(phrase)), re.DOTALL),
            re.compile(hole.sub(r"(?P<\1>.+)", re.escape(phrase)), re.DOTALL),
        )
        for phrase in _own(language)
        if re.search(r"\{\w+\}", phrase)
    ]
    return sorted(made, key=lambda one: -_literal(one[0]))


def _literal(phrase: str) -> int:
    return len(re.sub(r"\{\w+\}", "", phrase))


@cache
def says(language: str, text: str) -> bool:
    """Whether the page shows a text in a language, as web/src/texts/program.ts goes about it."""
    own = _own(language)
    if text in own or BARE.fullmatch(text):
        return True
    parts = re.split(r"; (?![^(]*\))", text)
    if len(parts) > 1 and all(says(language, part) for part in parts):
        return True
    for phrase, *fits in _patterns(language):
        found = [match for match in (one.fullmatch(text) for one in fits) if match]
        inner = re.findall(r"\{~(\w+)\}", own[phrase])
        is_whole = any(all(says(language, match[name]) for name in inner) for match in found)
        if found and (is_whole or _literal(phrase) >= LEAST_LITERAL):
            return True
    row = re.fullmatch(r'([a-z ]+) (?:"(.+)"|(\d+))', text)
    return row is not None and row[1] in own


@cache
def refusals() -> frozenset[str]:
    found: set[str] = set()
    for path in (path for name in PACKAGES for path in (_page().SOURCE / name).glob("*.py")):
        if path.name in ELSEWHERE:
            continue
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") in REFUSED and node.args:
                found.update(_page().spoken(node.args[0]))
    return frozenset(found)


def wrong_values() -> list[str]:
    limits = {name: 3.5 for name, _ in _LIMITS.values()}
    kinds = [*_SAID, *_LIMITS, "missing"]
    said = [wrong_value({"type": kind, "msg": "", "input": 4, "ctx": limits}) for kind in kinds]
    said.append(wrong_value({"type": "literal_error", "input": 4, "ctx": {"expected": "'a' or 'b'"}}))
    for kind, text in (("string_too_short", ""), ("string_too_short", "a"), ("string_too_long", "abc")):
        ctx = {"min_length": 2} if kind.endswith("short") else {"max_length": 2}
        said.append(wrong_value({"type": kind, "input": text, "ctx": ctx}))
    for kind, values in (("too_short", []), ("too_short", [1]), ("too_long", [1, 2, 3])):
        ctx = {"min_length": 2} if kind == "too_short" else {"max_length": 2}
        said.append(wrong_value({"type": kind, "input": values, "ctx": ctx}))
    return said


@pytest.mark.parametrize("language", _page().LANGUAGES)
def test_the_page_is_read_strictly_here(language: str) -> None:
    assert not says(language, "{} is nothing that anybody has put into words")
    assert not says(language, "computed by nobody: at all")


@pytest.mark.parametrize("language", _page().LANGUAGES)
def test_every_wrong_value_is_refused_in_the_page_s_language(language: str) -> None:
    assert len(wrong_values()) > 25
    assert not [text for text in wrong_values() if not says(language, text)]


@pytest.mark.parametrize("language", _page().LANGUAGES)
def test_every_refusal_of_a_job_is_in_the_page_s_language(language: str) -> None:
    assert len(refusals()) > 60  # the scan still sees them
    assert not [text for text in refusals() if not says(language, text)]


@pytest.fixture(scope="module")
def origins() -> set[str]:
    """Where the numbers of a small job are from, by every thing of it that has a why."""
    made = design(read_job(ROOT / "examples" / "small-paddock" / "job.toml"))
    things = [f"P{number + 1}" for number in range(len(made.layout.posts))]
    things += [f"B{number + 1}" for number in range(len(made.layout.braces))]
    things += ["R1-1", "C1", "P3-1", *SUMS, *(line.id for line in made.order)]
    return {
        one.origin for thing in things for reason in explain(made, thing).reasons for one in reason.inputs
    }


@pytest.mark.parametrize("language", _page().LANGUAGES)
def test_every_origin_is_in_the_page_s_language(language: str, origins: set[str]) -> None:
    assert len(origins) > 100
    assert not [text for text in sorted(origins) if not says(language, text)]
