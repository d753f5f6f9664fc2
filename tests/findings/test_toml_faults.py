"""What keeps a text from being TOML, in the house's words."""

import re

import pytest

from fencewright.edits.document import open_document
from fencewright.findings import InputError
from fencewright.findings.toml_faults import read_toml

HEAD = "[fence]\nrails = 4\n"
SYSTEM = re.compile(r"column \d|Expected|Illegal|Invalid|Unclosed|Unterminated|Cannot|end of document|U\+")


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("length = 12,5", "`12,5` has a comma"),
        ("length = 12,5 m  # of the side", "`12,5` has a comma"),
        ("price = 1,250.00", "`1,250.00` has a comma"),
        ('name = "abc\nrails = 2', "a quote is opened there and not closed"),
        ("name = 'it's'", "a quote is opened there and not closed"),
        ('points = [["0 ft, "0 ft"], ["1 ft", "2 ft"]]', "a quote is opened there and not closed"),
        ('note = """abc\nmore', "a quote is opened there and not closed"),
        ("name = “abc”", "it has curly quotes"),
        (r'file = "C:\work\line.csv"', r"a \ stands in a text in quotes"),
        ("soil = sand", "`sand` stands without quotes"),
        ("opening = 12 ft", "`12 ft` stands without quotes"),
        ("keep = True", "`True` is not known: write true or false"),
        ("opening = ", "nothing stands behind the ="),
        ("rails = 4", "`rails` stands there a second time: keep one"),
        ("[fence]", "`[fence]` stands there a second time: keep one"),
        ("[fence", "it is no whole heading"),
        ("[[gate]", "it is no whole heading"),
        ('[job] name = "x"', "it is no whole heading"),
        ("start = 31.12.2026", "it holds no date of the calendar"),
        ("start = 2026-13-01", "it holds no date of the calendar"),
        ("start = 2026-02-30", "it holds no date of the calendar"),
        ("rail = 012", "`012` is no number"),
        ("spacing 12 ft", "it is no line like `key = value`"),
        ("spacing: 12", "it is no line like `key = value`"),
        ('points = [["0 ft", "0 ft"]', "a bracket is opened and not closed"),
        ('x = "a" y = 2', "one value behind it"),
    ],
)
def test_the_line_and_the_slip_in_it_are_told(text: str, sentence: str) -> None:
    with pytest.raises(InputError) as caught:
        read_toml(HEAD + text + "\n", "job.toml")
    said = str(caught.value)
    assert said.startswith("job.toml: line 3 is not valid TOML: ")
    assert sentence in said
    assert not SYSTEM.search(said)
    with pytest.raises(InputError) as edited:
        open_document(HEAD + text + "\n")
    assert edited.value.what == caught.value.what


def test_a_list_left_open_is_named_where_it_is_opened() -> None:
    text = 'a = 1\npoints = [\n  ["0 ft", "0 ft"],\n  ["1 ft", "0 ft"],\n'
    with pytest.raises(InputError, match="line 2 is not valid TOML: a bracket is opened"):
        read_toml(text)
    with pytest.raises(InputError, match=r"line 4 is not valid TOML: a bracket .* or a comma is missing"):
        read_toml(text.replace('"],\n', '"]\n') + "]\n")


def test_nested_without_end() -> None:
    with pytest.raises(InputError, match="nested too deeply"):
        read_toml("a = " + "[" * 100_000)
