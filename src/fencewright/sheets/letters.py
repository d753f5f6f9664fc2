"""How long a text is on paper, how it is broken into lines, and how it is kept to one line."""

from functools import lru_cache

_WIDTHS_EM = {
    0.28: "'",
    0.35: " ,.IJijl·’-/:;\\f|",
    0.42: '!()[]rt³²"',
    0.53: "*_`sz–°c?L",
    0.62: "FPTYaekovxy•",
    0.66: "$0123456789EKSbdghnpqu{}",
    0.72: "ABCRVXZ",
    0.78: "DGHNU&OQw",
    0.86: "#+<=>M^~×",
    1.0: "%m@W—…",
}
_WIDTH_EM = {letter: width for width, letters in _WIDTHS_EM.items() for letter in letters}
_OTHER_EM = 1.0  # a letter of another script may be as wide as it is high


@lru_cache(maxsize=8192)
def text_width_em(text: str) -> float:
    """Length of a text in units of its letter size.

    Notes
    -----
    Widths are those of a wide sans serif face, rounded up: in a narrower one the text is shorter, so that
    boxes found from it never overlap.
    """
    return sum(_WIDTH_EM.get(letter, _OTHER_EM) for letter in text)


def one_line(text: str) -> str:
    """Give a text without line breaks and control characters, runs of blanks as one."""
    kept = "".join(letter if letter.isprintable() else " " for letter in text)
    return " ".join(kept.split())


def shorten(text: str, width_em: float) -> str:
    """Cut a text to a width, with an ellipsis where something was cut off [letter sizes]."""
    text = one_line(text)
    if text_width_em(text) <= width_em:
        return text
    while text and text_width_em(text) + 1.0 > width_em:
        text = text[:-1]
    return text.rstrip() + "…"


def wrap(text: str, width_em: float, line_limit: int = 1000) -> tuple[str, ...]:
    """Break a text into lines no longer than a width; the last of `line_limit` lines is shortened."""
    lines: list[str] = []
    current = ""
    words = one_line(text).split(" ")
    for index, word in enumerate(words):
        longer = f"{current} {word}" if current else word
        if text_width_em(longer) <= width_em:
            current = longer
            continue
        if len(lines) + 1 == line_limit:
            rest = " ".join(([current] if current else []) + words[index:])
            return (*lines, shorten(rest, width_em))
        if current:
            lines.append(current)
        current = word if text_width_em(word) <= width_em else shorten(word, width_em)
    return (*lines, current) if current else tuple(lines)
