"""What keeps a text from being TOML, in the house's words: the line, the slip in it, and what to write."""

import re
import tomllib
from typing import Any

from fencewright.findings.errors import InputError

_PLACE = re.compile(r" \(at line (\d+), column \d+\)$")
_STRING = re.compile(r'"(?:[^"\\]|\\.)*"|\'[^\']*\'')
_COMMA = re.compile(r"=\s*([+-]?\d[\d.]*,\d[\d.,]*)")
_BARE = re.compile(r"^[^=]*=\s*([^=\s\"'\[{#][^\[\]{}#]*?)\s*(?:#.*)?$")
_DATE = re.compile(r"=\s*(\d{1,4}[-./]\d{1,2}[-./]\d{1,4})\b")
_MOST_SHOWN = 40


def read_toml(text: str, file: str = "") -> dict[str, Any]:
    """Read TOML.

    Parameters
    ----------
    text : str
        The text.
    file : str
        Its name, for messages.

    Returns
    -------
    dict
        Its plain values.

    Raises
    ------
    InputError
        It is none: the line, the slip in it, and what to write.
    """
    try:
        return tomllib.loads(text)
    except RecursionError as error:
        raise InputError("not valid TOML: nested too deeply", file=file) from error
    except tomllib.TOMLDecodeError as error:
        raise toml_refusal(text, file, str(error)) from error


def toml_refusal(text: str, file: str = "", said: str = "") -> InputError:
    """Give the error of a text that a reader of TOML refused.

    Parameters
    ----------
    text : str
        The text.
    file : str
        Its name, for messages.
    said : str, optional
        What the standard library's reader said of it; asked for where left out.
    """
    if not said:  # another reader refused it
        try:
            read_toml(text, file)
        except InputError as refused:
            return refused
        return InputError("not valid TOML: a key or a heading stands where it may not", file=file)
    lines = text.replace("\r\n", "\n").split("\n")
    place = _PLACE.search(said)
    last = max((at for at, line in enumerate(lines, start=1) if line.strip()), default=1)
    number = int(place[1]) if place else _opened(lines) or last
    is_inside = _opened(lines[: number - 1]) > 0 or (not place and _opened(lines) > 0)
    fault = _fault(lines[number - 1] if number <= len(lines) else "", said, is_inside=is_inside)
    return InputError(f"line {number} is not valid TOML: {fault}", file=file)


def _fault(line: str, said: str, *, is_inside: bool) -> str:
    """Tell the slip in a line."""
    code = _without_remark(line)
    bare = _STRING.sub('""', code)
    if re.search("[“”„«»‘’]", bare):
        return 'it has curly quotes: write straight ones, like "12 ft"'
    if "Unescaped" in said or "Invalid hex" in said or "escape" in said.lower():
        return r"a \ stands in a text in quotes: write / in the name of a file"
    if re.search("[\"']", bare.replace('""', "")):
        return "a quote is opened there and not closed: close it"
    is_whole = bare.count("[") == bare.count("]")
    if is_whole and ("overwrite" in said or "twice" in said or "redefine" in said or "Cannot" in said):
        return (
            f"{_shown(code.partition('=')[0] if '=' in code else code)} stands there a second time: keep one"
        )
    if comma := _COMMA.search(bare):
        return (
            f"{_shown(comma[1])} has a comma: write a number with a decimal point and without marks between "
            "thousands, like 12.5 or 1250"
        )
    if "date" in said.lower() or _DATE.search(bare):
        return "it holds no date of the calendar: write year-month-day, like 2026-03-31"
    if re.search(r"=\s*$", bare):
        return "nothing stands behind the =: write a value, or take the line out"
    is_whole = is_whole and bare.count("{") == bare.count("}")
    if is_inside or "Unclosed" in said or (not is_whole and "=" in bare):
        return "a bracket is opened and not closed, or a comma is missing between two values"
    return _of_words(bare)


def _of_words(bare: str) -> str:
    """Tell the slip in a line whose quotes and brackets are whole."""
    if bare.lstrip().startswith("["):
        return "it is no whole heading: write one like [fence] or [[gate]], and nothing behind it"
    if "=" not in bare:
        return "it is no line like `key = value` and no heading like [fence]"
    word = _BARE.search(bare)
    if word is None or '"' in word[1] or " " in bare.partition("=")[0].strip():
        return "it is no line like `key = value`, with one word before the = and one value behind it"
    if word[1].lower() in ("true", "false", "yes", "no"):
        return f"{_shown(word[1])} is not known: write true or false, in small letters"
    if re.fullmatch(r"[+-]?[\d.]+", word[1]):
        return f"{_shown(word[1])} is no number: write one like 12.5, 0.5 or 12"
    return (
        f"{_shown(word[1])} stands without quotes: write it in quotes, as any text and any number with a unit"
    )


def _opened(lines: list[str]) -> int:
    """Line, from 1, of the bracket or the long quote that is still open where the text ends; 0 where none is."""
    opened: list[tuple[str, int]] = []
    for number, line in enumerate(lines, start=1):
        for mark in ('"""', "'''"):
            if line.count(mark) % 2:
                opened = opened[:-1] if opened and opened[-1][0] == mark else [*opened, (mark, number)]
        bare = _STRING.sub("", _without_remark(line))
        for one in bare if opened or "=" in bare else "":  # a heading's brackets hold no values
            if one in "[{":
                opened.append((one, number))
            elif one in "]}" and opened:
                opened.pop()
    return opened[-1][1] if opened else 0


def _without_remark(line: str) -> str:
    """Take the remark behind a # off a line."""
    for mark in re.finditer("#", line):
        if len(re.findall("[\"']", _STRING.sub("", line[: mark.start()]))) == 0:
            return line[: mark.start()]
    return line


def _shown(text: str) -> str:
    """Part of a line as it may stand in a message."""
    shown = " ".join(re.sub(r"[\x00-\x1f\x7f-\x9f\ud800-\udfff]+", " ", text).split())
    return f"`{shown if len(shown) <= _MOST_SHOWN else shown[: _MOST_SHOWN - 3] + '...'}`"
