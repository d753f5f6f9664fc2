"""How the page puts what the program says into its language (web/src/texts/program.ts), and what stays English of it."""

import json
import re
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

TEXTS = Path(__file__).parents[2] / "web" / "src" / "texts"
LEAST_LITERAL = 12  # letters of its own that a phrase must have (web/src/texts/program.ts)
MOST_WORDS = 3
HOLE = re.compile(r"\{\w+\}")
BARE = re.compile(
    r"""(?:"[^"]*"|'[^']*'|`[^`]*`|(?:price|programme):[\w.{}-]+|[A-Z]+\d[\w-]*|[\w./-]+\.\w{2,7}|[A-Z]+(?:[a-z]+[A-Z]+)*"""
    r"|(?:in|ft[23]?|mi|mm|m[23]?|km|yd3|lb|lbf|kN|kg|deg|psf|psi|h|x)(?![a-z])|[^A-Za-z])+"
)
NAME = re.compile(r"[A-Z][\w.'-]*(?: [A-Z][\w.'-]*)*")
# What is no English word in a value: quoted, a key of the job file, a list of keys, a unit or symbol.
_OWN = re.compile(
    r'"[^"]*"|\'[^\']*\'|`[^`]*`|\[\[?\w+\]\]?(?: \w+)?|\b\w*_\w*\b|\S*/\S+|\b\w+\.\w{2,}\b|\w+:\S+|\b\w+(?:-[\w.]+)+'
)
_WORD = re.compile(r"(?<![\w{])[A-Za-z]{3,}(?![\w}])")
_SYMBOLS = {
    "lbf", "psf", "psi", "deg", "USD", "EPSG", "UTM", "TOML", "JSON", "CSV", "XLSX",
    "PNG", "JPEG", "SVG", "GPX", "KML", "GeoTIFF", "wkt", "usft", "ASCII", "day",
}  # fmt: skip
TITLES = {"title", "error"}  # of a publication; what a library says, in its own words

Shown = tuple[str, tuple[str, ...]]


def texts(name: str) -> dict[str, str]:
    """One file of the page's words."""
    return dict(json.loads((TEXTS / name).read_text("utf-8")))


def phrases(language: str) -> dict[str, str]:
    """Every phrase of a language."""
    found: dict[str, str] = {}
    for name in ("program", "why", "defaults", "refusals"):
        found |= texts(f"{name}.{language}.json")
    for words in json.loads((TEXTS / f"findings.{language}.json").read_text("utf-8")).values():
        found |= words.get("says", {})
    return found


@dataclass(frozen=True)
class _Pattern:
    phrase: str
    own: str
    names: tuple[str, ...]
    fits: tuple[re.Pattern[str], ...]  # holes that take little, the first little and the rest much, much
    literal: int


@dataclass
class Reader:
    """The phrases of one language, and what they make of a text."""

    exact: dict[str, str]
    words: dict[str, str]
    patterns: list[_Pattern]
    fields: dict[tuple[str, str], str]
    done: dict[str, Shown | None] = field(default_factory=dict)

    def shown(self, text: str) -> Shown | None:
        """What the page shows for a text, and what is left English in it; None where no phrase fits."""
        if text in self.exact:
            return self.exact[text], ()
        if text not in self.done:
            self.done[text] = None
            self.done[text] = (
                (self._by_pattern(text, "; ") if "; " in text else None)
                or self._several(text)
                or self._by_pattern(text)
                or self._row(text)
                or self._with_size(text)
                or self._held(text)
                or self._listed(text)
            )
        return self.done[text]

    def left(self, text: str) -> list[str]:
        """What stays English: the whole text, or words in it; empty where the page says all of it in its language."""
        if BARE.fullmatch(text) or not re.search(r"[A-Za-z]", text.replace("{}", "")):
            return []
        shown = self.shown(text)
        return [text] if shown is None else list(shown[1])

    def _inside(self, text: str) -> Shown | None:
        if (shown := self.shown(text)) or BARE.fullmatch(text):
            return shown or (text, ())
        place = self.place(text)
        return None if place is None else (place, ())

    def _several(self, text: str) -> Shown | None:
        parts = re.split(r"; (?![^(]*\))", text)
        return self._together([self._inside(part) for part in parts], "; ") if len(parts) > 1 else None

    def _listed(self, text: str) -> Shown | None:
        for comma, own in ((", ", ", "), (" and ", " y "), (" or ", " o ")):
            parts = text.split(comma)
            known = [self._inside(part) or ((part, ()) if NAME.fullmatch(part) else None) for part in parts]
            found = self._together(known, own) if len(parts) > 1 else None
            if found:
                return found
        return None

    def _together(self, parts: list[Shown | None], comma: str) -> Shown | None:
        known = [part for part in parts if part]
        if len(known) < len(parts):
            return None
        return comma.join(text for text, _ in known), tuple(one for _, left in known for one in left)

    def _with_size(self, text: str) -> Shown | None:
        parts = re.fullmatch(r'([a-z][a-z ,-]*?) (\d[^"]*)', text)
        known = self.shown(parts[1]) if parts and BARE.fullmatch(parts[2]) else None
        return (f"{known[0]} {parts[2]}", known[1]) if parts and known else None

    def _by_pattern(self, text: str, parting: str = "") -> Shown | None:
        best: tuple[int, Shown | None] = (1000, None)
        for pattern in self.patterns:
            if parting not in pattern.phrase:
                continue
            for fits in pattern.fits:
                found, doubts = self._with_values(pattern, fits.fullmatch(text))
                if found and not doubts:
                    return found
                if found and not parting and pattern.literal >= LEAST_LITERAL and doubts < best[0]:
                    best = (doubts, found)
        return best[1]

    def _with_values(self, pattern: _Pattern, match: re.Match[str] | None) -> tuple[Shown | None, int]:
        """A phrase with its values, and how doubtful they are (web/src/texts/program.ts)."""
        if match is None:
            return None, 0
        left: list[str] = []
        doubts = 0

        def put(hole: re.Match[str]) -> str:
            nonlocal doubts
            value = match[pattern.names.index(hole[2]) + 1]
            is_quoted = re.search(rf"[\"'`]\{{{hole[2]}\}}[\"'`]", pattern.phrase) is not None
            known = (
                self._inside(value)
                if hole[1]
                else (value, () if is_quoted or hole[2] in TITLES else _english(value))
            )
            if known is None:
                doubts += 10
                left.append(value)
                return value
            if not hole[1] and _bare_words(value) > MOST_WORDS:
                doubts += 1
            left.extend(known[1])
            return known[0]

        said = re.sub(r"\{(~?)(\w+)\}", put, pattern.own)
        return (said, tuple(left)), doubts

    def _row(self, text: str) -> Shown | None:
        row = re.fullmatch(r'([a-z ]+) (?:"(.+)"|(\d+))', text)
        if row is None or row[1] not in self.exact:
            return None
        return f"{self.exact[row[1]]} {row[3] or '«' + row[2] + '»'}", ()

    def _held(self, text: str) -> Shown | None:
        parts = re.fullmatch(r"([^\s:]+\.\w+: )?(.+)", text, re.DOTALL)
        file, rest = (parts[1] or "", parts[2]) if parts else ("", text)
        if file and (whole := self.shown(rest)):
            return file + whole[0], whole[1]
        held = re.fullmatch(r'([\w\[\] ",]+): (.+)', rest, re.DOTALL)
        known = self.shown(held[2]) if held else None
        if held is None or known is None:
            return None
        holder = self.place(held[1]) or (held[1] if BARE.fullmatch(held[1]) else None)
        return (f"{file}{holder}: {known[0]}", known[1]) if holder else None

    def place(self, item: str) -> str | None:
        """What holds a fault, each step by its own word; None where one is not known."""
        own = re.fullmatch(r"([a-z_]+) ([a-z_]+) (\S.*)", item, re.DOTALL)
        if own and (title := self.fields.get((own[1], own[2]))):
            return f"{self._step(own[1], is_table=True) or own[1]}, {title}: {own[3]}"
        table = re.fullmatch(r"\[(\w+)\] (\w+)", item)
        steps = list(table.groups()) if table else re.split(r', (?=[^"]*(?:"[^"]*"[^"]*)*$)', item)
        said = [self._step(step, is_table=not number) for number, step in enumerate(steps)]
        if None not in said:
            return ", ".join(word for word in said if word)
        return shown[0] if (shown := self.shown(item)) else None

    def _step(self, step: str, *, is_table: bool) -> str | None:
        parts = re.fullmatch(
            r'(?:\[\[)?([A-Za-z_]*(?: [a-z]+)*)(?:\]\])?((?: ?(?:[\dA-F]|\{\})+)*)(?: ?"(.*)")?',
            step,
            re.DOTALL,
        )
        if parts is None or not (parts[1] or parts[2]):
            return None
        word = parts[1]
        own = [f"row_{word}", f"table_{word}"] if is_table else []
        known = next(
            (self.words[key] for key in own if key in self.words), self.exact.get(word.replace("_", " "), "")
        )
        if word and not known and is_table:
            return None
        known = known or word  # a key without a title is named as it stands in the file
        return f"{known}{parts[2]}{'' if parts[3] is None else f' «{parts[3]}»'}"


def _bare_words(value: str) -> int:
    return len(re.findall(r"(?<!\S)[a-z]{2,}(?![\w.])", re.sub(r'"[^"]*"|`[^`]*`', "", value)))


def _english(value: str) -> tuple[str, ...]:
    """A value that is put in as it stands, where it holds more English than a name of one word."""
    words = [word for word in _WORD.findall(_OWN.sub("", value)) if word not in _SYMBOLS]
    return (
        (value,)
        if len(words) > 1 or re.search(r"(?<!\w)(?:or|and|of|the|a|an)(?!\w)", _OWN.sub("", value))
        else ()
    )


@cache
def reader(language: str) -> Reader:
    """The page's phrases of a language, longest first."""
    tables = json.loads((TEXTS / f"fields.{language}.json").read_text("utf-8"))
    fields = {(table, key): words[0] for table, keys in tables.items() for key, words in keys.items()}
    exact = {key.replace("_", " "): title for (_, key), title in fields.items()} | phrases(language)
    patterns = [_pattern(phrase, own) for phrase, own in exact.items() if HOLE.search(phrase)]
    patterns.sort(key=lambda one: -one.literal)
    return Reader(exact, texts(f"{language}.json"), patterns, fields)


def _pattern(phrase: str, own: str) -> _Pattern:
    parts = re.split(r"\{(\w+)\}", phrase)

    def fitting(first: str, hole: str) -> re.Pattern[str]:
        holes = [first, *[hole] * len(parts)]
        said = (holes[at // 2] if at % 2 else re.escape(part) for at, part in enumerate(parts))
        return re.compile("".join(said), re.DOTALL)

    literal = len(HOLE.sub("", phrase))
    fits = (fitting("(.+?)", "(.+?)"), fitting("(.+?)", "(.+)"), fitting("(.+)", "(.+)"))
    return _Pattern(phrase, own, tuple(parts[1::2]), fits, literal)
