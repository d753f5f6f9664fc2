"""Which letters the papers' own font holds, and a text with every other one replaced visibly."""

import re
import struct
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources
from importlib.resources.abc import Traversable

MISSING = "□"  # stands for a letter that the font does not hold
_CUT = 40  # letters of one word after which it may be broken
_LONG = re.compile(rf"\S{{{_CUT + 1},}}")


def fonts_folder() -> Traversable:
    """Folder of the fonts that are shipped with the program."""
    return resources.files("fencewright").joinpath("data").joinpath("fonts")


@dataclass(frozen=True, slots=True)
class Face:
    """One face of the papers' font: the advance of each letter that it holds, in letter sizes."""

    advance_em: Mapping[str, float]


@cache
def face(is_strong: bool = False) -> Face:
    """Give the upright face, or the bold one."""
    file = "LiberationSans-Bold.ttf" if is_strong else "LiberationSans-Regular.ttf"
    return _face_of(fonts_folder().joinpath(file).read_bytes())


@cache
def known_letters() -> frozenset[str]:
    """Letters that both faces hold."""
    return frozenset(face().advance_em) & frozenset(face(True).advance_em)


def _face_of(font: bytes) -> Face:
    """Read the letters and their advances from a TrueType file (`cmap` format 4, `hmtx`)."""
    count = struct.unpack_from(">H", font, 4)[0]
    tables = {
        tag: at for tag, _, at, _ in (struct.unpack_from(">4sLLL", font, 12 + 16 * k) for k in range(count))
    }
    unit = struct.unpack_from(">H", font, tables[b"head"] + 18)[0]
    metrics = struct.unpack_from(">H", font, tables[b"hhea"] + 34)[0]
    advances = struct.unpack_from(">" + "Hh" * metrics, font, tables[b"hmtx"])[::2]
    glyphs = _glyphs(font, tables[b"cmap"])
    return Face({letter: advances[min(glyph, metrics - 1)] / unit for letter, glyph in glyphs.items()})


def _glyphs(font: bytes, cmap: int) -> dict[str, int]:
    """Give the glyph of each letter of the basic plane."""
    maps = struct.unpack_from(">H", font, cmap + 2)[0]
    places = [cmap + struct.unpack_from(">L", font, cmap + 8 + 8 * k)[0] for k in range(maps)]
    at = next(place for place in places if struct.unpack_from(">H", font, place)[0] == 4)
    count = struct.unpack_from(">H", font, at + 6)[0] // 2
    ends, starts, deltas, ranges = (
        struct.unpack_from(f">{count}H", font, at + 14 + 2 * count * k + (2 if k else 0)) for k in range(4)
    )
    found: dict[str, int] = {}
    for k, (start, end) in enumerate(zip(starts, ends, strict=True)):
        for code in range(start, min(end, 0xFFFE) + 1):
            glyph = code
            if ranges[k]:
                place = at + 16 + 6 * count + 2 * k + ranges[k] + 2 * (code - start)
                glyph = struct.unpack_from(">H", font, place)[0]
            found[chr(code)] = (glyph + deltas[k]) & 0xFFFF if glyph or not ranges[k] else 0
    return {letter: glyph for letter, glyph in found.items() if glyph}


@lru_cache(maxsize=65536)
def width_em(text: str, is_strong: bool = False) -> float:
    """Length of a text in units of its letter size."""
    advance = face(is_strong).advance_em
    return sum(advance.get(letter, 1.0) for letter in text)


def fitted(text: str, width_em_limit: float, is_strong: bool = False) -> str:
    """Give a text on one line, cut with an ellipsis where it is longer than a width [letter sizes]."""
    if len(text) <= width_em_limit and text.isascii() and "\n" not in text:
        return text
    line = " ".join(text.split())
    if width_em(line, is_strong) <= width_em_limit:
        return line
    while line and width_em(line, is_strong) + 1.0 > width_em_limit:
        line = line[:-1]
    return line.rstrip() + "…"


def plain_letters(text: str) -> str:
    """Give a text with every letter that the font lacks as `MISSING`, control characters but line ends as blanks."""
    known = known_letters()
    lacking = {one for one in set(text) if one != "\n" and not (one in known and one.isprintable())}
    if not lacking:
        return text
    return text.translate({ord(one): " " if ord(one) < 0xA0 else MISSING for one in lacking})


def plain_text(text: str) -> str:
    """Give a text as a paper can print it: as `plain_letters`, and a word of more than `_CUT` letters broken."""
    if text.isascii() and text.isprintable() and len(text) <= _CUT:
        return text
    return _LONG.sub(lambda found: _broken(found.group(0)), plain_letters(text))


def _broken(word: str) -> str:
    return " ".join(word[k : k + _CUT] for k in range(0, len(word), _CUT))
