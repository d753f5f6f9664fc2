"""The page's words for what the program says in English: none is missing, and none is left of what it no longer says."""

import ast
import json
import re
import tomllib
from collections.abc import Iterator, Sequence
from functools import cache
from itertools import chain, islice, product
from pathlib import Path
from typing import Any

import pytest
from tests.docs import page_sayings

from fencewright.findings.cautions import DESIGN_CAUTIONS
from fencewright.pipeline.stages import STAGES
from fencewright.programme import activities
from fencewright.quantity.show import plural
from fencewright.tables.fence import Role, Setting
from fencewright.tables.price import KINDS as KINDS_OF_PRICE
from fencewright.tables.strength import KINDS
from fencewright.tables.tension import PLACES

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "fencewright"
TEXTS = ROOT / "web" / "src" / "texts"
CATALOGUE = SOURCE / "data" / "catalogue"
LANGUAGES = sorted({path.name.split(".")[1] for path in TEXTS.glob("findings.*.json")} - {"en"})
HOLE = re.compile(r"\{\w+\}")
FEWEST, MOST = 2, 8  # words of a heading
MOST_WAYS = 64  # in which one expression is spelt out


def texts(name: str) -> dict[str, Any]:
    return dict(json.loads((TEXTS / name).read_text("utf-8")))


def schema() -> dict[str, Any]:
    return dict(json.loads((ROOT / "docs" / "job.schema.json").read_text("utf-8")))


def listed_codes() -> set[str]:
    page = (ROOT / "docs" / "findings.md").read_text("utf-8")
    return set(re.findall(r"^\| `([a-z-]+)` \|", page, re.MULTILINE))


def spoken(node: ast.AST) -> list[str]:
    """The texts that an expression can give, `{}` for each value in it; nothing where it is no text."""
    if isinstance(node, ast.Constant | ast.JoinedStr):
        return parts_of(node) if not isinstance(node, ast.Constant) or isinstance(node.value, str) else []
    return parts_of(node) if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add) else []


def parts_of(node: ast.AST) -> list[str]:
    match node:
        case ast.Constant(value=str(text)):
            return [text]
        case ast.FormattedValue(value=ast.IfExp(body=ast.Constant(), orelse=ast.Constant()) as choice):
            return parts_of(choice)
        case ast.IfExp(body=body, orelse=other):
            return [*parts_of(body), *parts_of(other)]
        case ast.JoinedStr(values=parts):
            return joined(parts)
        case ast.BinOp(left=left, op=ast.Add(), right=right):
            return joined([left, right])
        case _:
            return ["{}"]


def joined(nodes: Sequence[ast.AST]) -> list[str]:
    return ["".join(parts) for parts in islice(product(*map(parts_of, nodes)), MOST_WAYS)]


def in_file(values: Any) -> Iterator[str]:
    """Keys and texts of a TOML or JSON file."""
    if isinstance(values, dict):
        yield from chain(values, *map(in_file, values.values()))
    elif isinstance(values, list):
        yield from chain.from_iterable(map(in_file, values))
    elif isinstance(values, str):
        yield values


@cache
def sayings() -> frozenset[str]:
    """Everything that the program can say, with `{}` for its values."""
    said: set[str] = set()
    for path in SOURCE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            said.update(spoken(node))
            if isinstance(node, ast.ClassDef):
                said.update(name.id.lower() for name in ast.walk(node) if isinstance(name, ast.Name))
    for path in (SOURCE / "data").rglob("*.toml"):
        said.update(in_file(tomllib.loads(path.read_text("utf-8"))))
    said.update(in_file(schema()))
    said |= page_sayings.refusals() | page_sayings.whys() | page_sayings.findings()
    said |= page_sayings.sentences_of_files() | page_sayings.every_text()
    cases = tomllib.loads((CATALOGUE / "load_cases.toml").read_text("utf-8"))["load_case"]
    said.update(case.partition(", ")[0] for case in cases)  # what a phrase such as `{case}, gate shut` holds
    said.update(texts("en.json").values())
    said |= {plural(text) for text in said if text.isalpha()}  # units behind a count
    priced = {f"{{}}, {kind} {{}}" for kind in KINDS_OF_PRICE}  # where a price is from
    said |= {text + more for text in priced for more in ("", ", {}", ", {}, {}")}
    return frozenset(said | {text.replace("_", " ") for text in said})


def fits(phrase: str) -> re.Pattern[str]:
    parts = HOLE.split(phrase)
    return re.compile("(.+)".join(map(re.escape, parts)), re.DOTALL)


def is_said(phrase: str, said: frozenset[str]) -> bool:
    longest = max(HOLE.split(phrase), key=len)
    return any(longest in text and fits(phrase).fullmatch(text) for text in said)


def phrases(language: str) -> dict[str, str]:
    """Every phrase of a language, as the page gathers them (web/src/texts/program.ts)."""
    found: dict[str, str] = {}
    for name in ("program", "why", "defaults", "refusals"):
        found |= texts(f"{name}.{language}.json")
    for words in texts(f"findings.{language}.json").values():
        found |= words.get("says", {})
    return found


def knows(language: str, text: str) -> bool:
    own = phrases(language)
    return text in own or any(HOLE.search(phrase) and fits(phrase).fullmatch(text) for phrase in own)


def labels() -> set[str]:
    """Labels of edits: what the functions give that change a job."""
    found: set[str] = set()
    for name in ("lines", "items"):
        tree = ast.parse((SOURCE / "edits" / f"{name}.py").read_text("utf-8"))
        for function in ast.walk(tree):
            if isinstance(function, ast.FunctionDef) and not function.name.startswith("_"):
                arguments = [argument.arg for argument in function.args.args]
                if arguments[:2] == ["document", "edit"]:
                    returned = [node.value for node in ast.walk(function) if isinstance(node, ast.Return)]
                    found.update(text for node in returned if node for text in spoken(node))
    return found


def enumerated() -> dict[str, list[str]]:
    """Words of the tables and lists that the page shows."""
    files = {path.stem: tomllib.loads(path.read_text("utf-8")) for path in CATALOGUE.glob("*.toml")}
    hardware = [
        row
        for rows in files["hardware"].values()
        for row in (rows if isinstance(rows, list) else rows.values())
    ]
    tree = ast.parse(Path(activities.__file__).read_text("utf-8"))
    capital = re.compile(r"[A-Z][a-z']+( [\w',:-]+)+")
    works = {text for node in ast.walk(tree) for text in spoken(node) if capital.fullmatch(text)}
    assert len(works) > 20  # the scan still sees them
    return {
        "roles": [role.label for role in Role],
        "ways of setting": [way.label for way in Setting],
        "checks": [word for kind in KINDS.values() for word in (kind.label, kind.part)],
        "places of a check on site": list(PLACES),
        "load cases": list(files["load_cases"]["load_case"]),
        "obstacles": list(files["obstacles"]["obstacle"]),
        "soils": list(files["soils"]["soil"]),
        "rails": list(files["rails"]["rail"]),
        "animals": list(files["stock"]["keep"]),
        "hardware": [row[key] for row in hardware for key in ("item", "why")],
        "works": list(files["work"]["work"]),
        "activities": sorted(works),
        "cautions": list(DESIGN_CAUTIONS),
    }


def names_of_reasons() -> set[str]:
    """Names of the numbers that have a why, where they are written out."""
    found: set[str] = set()
    for path in (SOURCE / "pipeline").glob("why*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            is_reason = isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Reason"
            if is_reason and isinstance(node, ast.Call) and isinstance(node.args[0], ast.Constant):
                found.add(str(node.args[0].value))
    return found


def test_every_finding_has_a_short_heading_in_every_language() -> None:
    for language in ("en", *LANGUAGES):
        own = texts(f"findings.{language}.json")
        assert set(own) == listed_codes(), language
        lengths = {code: len(words["heading"].split()) for code, words in own.items()}
        assert not [code for code, count in lengths.items() if not FEWEST <= count <= MOST], language


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_finding_says_what_mends_it(language: str) -> None:
    own = texts(f"findings.{language}.json")
    assert not [code for code, words in own.items() if len(words["mends"]) < 5]


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_name_of_a_reason_has_its_own(language: str) -> None:
    assert len(names_of_reasons()) > 50  # the scan still sees them
    assert not [name for name in names_of_reasons() if not knows(language, name)]


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_phrase_is_left_of_what_the_program_no_longer_says(language: str) -> None:
    said = sayings()
    exact = {phrase for phrase in phrases(language) if not HOLE.search(phrase)}
    patterns = [phrase for phrase in phrases(language) if HOLE.search(phrase)]
    assert not exact - said
    assert not [phrase for phrase in patterns if not is_said(phrase, said)]


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_phrase_keeps_every_value(language: str) -> None:
    holes = re.compile(r"\{~?(\w+)\}")
    lost = [
        phrase
        for phrase, own in phrases(language).items()
        if set(holes.findall(phrase)) != set(holes.findall(own))
    ]
    assert not lost


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_label_of_an_edit_has_its_words(language: str) -> None:
    assert len(labels()) > 20  # the scan still sees them
    assert not [label for label in labels() if not knows(language, label)]


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("kind", list(enumerated()))
def test_every_word_of_a_list_has_its_word(language: str, kind: str) -> None:
    assert not [word for word in enumerated()[kind] if not knows(language, word)]


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_key_of_the_job_file_has_its_name_and_help(language: str) -> None:
    job = schema()

    def resolved(node: dict[str, Any]) -> dict[str, Any]:
        name = node.get("$ref", "").rpartition("/")[2]
        target = job["$defs"][name] if name else node
        only = [each for each in target.get("anyOf", []) if each.get("type") != "null"]
        return resolved(only[0]) | node if len(only) == 1 and "$ref" in only[0] else target | node

    asked: dict[tuple[str, str], bool] = {}
    for table, node in job["properties"].items():
        whole = resolved(node)
        keys = resolved(whole.get("items", whole)).get("properties", {})
        asked |= {(table, key): bool(part.get("description")) for key, part in keys.items()}
    own = {
        (table, key): bool(words[1])
        for table, keys in texts(f"fields.{language}.json").items()
        for key, words in keys.items()
    }
    assert set(own) == set(asked)
    assert not [place for place, has_help in asked.items() if has_help and not own[place]]


def test_every_role_of_a_post_and_every_stage_has_its_name() -> None:
    named = {f"role_{role.label}" for role in Role} | {"stage_" + re.sub(r"\W", "_", one) for one in STAGES}
    for language in ("en", *LANGUAGES):
        assert not named - set(texts(f"{language}.json")), language
