"""What the program refuses and why its numbers are as they are, in the page's other languages: every sentence of it.

The sentences are read off the source (spelt_out.py) and put into the language as the page does it (page_reader.py): a text
that no phrase fits, and a phrase with English left in it, are both told.
"""

import re
from collections.abc import Callable, Iterator
from functools import cache, partial
from pathlib import Path

import pytest
from tests.docs import page_reader, page_sayings

from fencewright.desk.pricing import priced_alone
from fencewright.desk.reading import read_job
from fencewright.desk.running import design
from fencewright.desk.scheduling import programme
from fencewright.desk.why import explain_any
from fencewright.job.wrong_values import _LIMITS, _SAID, wrong_value
from fencewright.pipeline.why_price_risk import QUANTILES
from fencewright.pipeline.why_price_steps import STEPS
from fencewright.pipeline.why_record import Explanation
from fencewright.pipeline.why_sum import SUMS

ROOT = Path(__file__).parents[2]
LANGUAGES = sorted(path.name.split(".")[1] for path in (ROOT / "web/src/texts").glob("refusals.*.json"))
# Spelt with an empty word where there never is none: it has no place in the sentence.
UNTIDY = re.compile(r'  |^[ :]| [;:,]|""|\( | $')


def left(language: str, texts: set[str]) -> dict[str, list[str]]:
    """What stays English of texts on the page, by text."""
    reader = page_reader.reader(language)
    told = {text: reader.left(text) for text in sorted(texts) if not UNTIDY.search(text)}
    return {text: words for text, words in told.items() if words}


def wrong_values() -> set[str]:
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
    return set(said)


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize(
    "text",
    [
        "{} is nothing that anybody has put into words",
        "computed by nobody: at all",
        'there is no layer of that name: give the file "a.shp" again and name one that it holds',
        "trade default holes.auger, nobody knows why (from memory)",
        "it is a parrot, not GPX: give it its right name, or another file",
    ],
)
def test_the_page_is_read_strictly_here(language: str, text: str) -> None:
    assert left(language, {text})


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize(
    ("sayings", "least"),
    [
        (wrong_values, 15),
        (page_sayings.refusals, 450),
        (page_sayings.sentences_of_files, 12),
        (page_sayings.whys, 600),
        (page_sayings.formulas, 20),
        (page_sayings.findings, 250),
    ],
)
def test_every_sentence_is_in_the_page_s_language_whole(
    language: str, sayings: Callable[[], set[str]], least: int
) -> None:
    assert len(sayings()) > least  # the scan still sees them
    assert not left(language, set(sayings()))


def test_no_refusal_hides_from_the_scan() -> None:
    assert not page_sayings.hidden()


@pytest.mark.parametrize("language", LANGUAGES)
def test_what_holds_a_fault_is_named_in_the_page_s_language(language: str) -> None:
    items = {text for text in page_sayings.items() if text and not UNTIDY.search(text)}
    assert len(items) > 60  # the scan still sees them
    place = page_reader.reader(language).place
    assert not [
        text for text in sorted(items) if not page_reader.BARE.fullmatch(text) and place(text) is None
    ]


def _explained(path: Path) -> Iterator[Explanation]:
    """Why everything of a job is as it is: the design, its price and its programme."""
    made = design(read_job(path))
    price = cache(partial(priced_alone, made, path.parent))
    plan = cache(partial(programme, made))
    things = [f"P{number + 1}" for number in range(len(made.layout.posts))]
    things += [f"B{number + 1}" for number in range(len(made.layout.braces))]
    things += ["R1-1", "C1", "P3-1", *SUMS, *(line.id for line in made.order), *made.layout.openings.name]
    things += [f"price:{line.id}" for line in price().price.lines]
    things += [f"price:{name}" for name in (*STEPS, *QUANTILES)]
    things += [f"programme:{name}" for name in plan().activities.id]
    for thing in dict.fromkeys(things):
        yield explain_any(made, thing, path.parent, price, plan)


@pytest.fixture(scope="module")
def told() -> set[str]:
    """Every text in the whys of the small paddock."""
    found: set[str] = set()
    for one in _explained(ROOT / "examples" / "small-paddock" / "job.toml"):
        found |= {one.kind, one.where}
        for reason in one.reasons:
            said = (reason.name, reason.says, reason.words, reason.result, reason.next_smaller)
            if page_sayings.WORD_IN_FORMULA.search(reason.symbols):
                found.add(reason.symbols)
            inputs = (text for given in reason.inputs for text in (given.name, given.origin, given.value))
            found.update(text for text in (*said, *inputs) if isinstance(text, str) and text)
    return found


# Names that the example itself gives: its price book's yard, a person of its crew.
OWN_NAMES = re.compile(r"prices\.toml, .*invented yard.*|Ana|Ben|building permit|freight of posts and rail")


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_why_of_a_whole_job_is_in_the_page_s_language(language: str, told: set[str]) -> None:
    assert len(told) > 700
    assert not left(language, {text for text in told if not OWN_NAMES.fullmatch(text)})
