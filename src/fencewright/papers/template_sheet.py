"""The rail-mark template: true size, in strips to cut out and join, with bars that prove the scale."""

import math
from collections import Counter
from typing import Any

from fencewright.papers.blocks import Block, Drawing, Section, Words
from fencewright.papers.measures import Measures, Record
from fencewright.papers.windows import drawing_of, shifted
from fencewright.sheets.picture import Item, Polygon, Text, box_of, line_of

_STRIP_M, _WIDE_M, _GAP_M = 0.200, 0.027, 0.004
_ACROSS = 6  # strips beside each other on a sheet
_BAR_M = 0.012  # height kept for the bars
_LETTER_M = 0.0032
_WORDS_M = 0.0078  # from a rail's mark to the outer edge of its words
_END_M = 0.020  # of paper beyond the lowest mark
_MOST_KINDS = 2
_ALIKE_M = 0.0016  # half of a saw cut: marks this near to each other are one
_INCH_M = 0.0254
_BARS = {
    "us": (("4 in", 4 * _INCH_M, 4), ("100 mm", 0.100, 10)),
    "metric": (("100 mm", 0.100, 10),),
}

Drops = tuple[float, ...]


def post_drops(post: dict[str, Any]) -> Drops:
    """Distances of the rail centres below the cut top, the highest first, to the millimetre. [m]."""
    top = post["above_ground_m"]
    if top is None:
        return ()
    return tuple(sorted(round(top - mark, 3) for mark in post["rail_marks_m"] if mark is not None))


def _bars(sheets: str, left_m: float, low_m: float) -> list[Item]:
    """Draw a bar of 100 mm, and on US sheets one of 4 in above it, in parts, each with its length. [m]."""
    items: list[Item] = []
    for place, (said, length, parts) in enumerate(_BARS[sheets]):
        low = low_m + 0.0005 + 0.0065 * (1 - place)
        for k in range(parts):
            style = "bar-dark" if k % 2 == 0 else "bar-light"
            items.append(
                box_of(
                    left_m + k * length / parts, low, left_m + (k + 1) * length / parts, low + 0.003, style
                )
            )
        items.append(Text(left_m + length + 0.003, low + 0.0015, f"this bar is {said}", "text", 0.003))
    return items


def _strip(row: int, left_m: float, drops: Drops, told: Measures, long_m: float) -> list[Item]:
    """Draw one strip: what lies from `row` strip lengths below the top to one more. [m]."""
    start = row * _STRIP_M
    end = min(start + _STRIP_M, long_m)
    high, low = _STRIP_M, _STRIP_M - (end - start)
    items: list[Item] = [box_of(left_m, low, left_m + _WIDE_M, high, "mark")]
    step = _INCH_M / 4 if told.units.name == "us" else 0.005
    for k in range(math.ceil(start / step - 1e-9), math.floor(end / step + 1e-9) + 1):
        y = high - (k * step - start)
        whole = 4 if told.units.name == "us" else 2
        reach = 0.006 if k % whole == 0 else 0.003
        items.append(line_of(((left_m, y), (left_m + reach, y)), "tick"))
        numbered = k % (whole if told.units.name == "us" else 4) == 0 and 0.004 < y - low < high - low - 0.002
        if k and numbered and not _is_taken(k * step, drops):
            told_at = f"{k // 4}" if told.units.name == "us" else f"{k * 5}"
            items.append(Text(left_m + 0.0068, y, told_at, "text-quiet", 0.0022))
    rails = len(drops)
    for number, drop in enumerate(drops):
        if start - 1e-9 <= drop < end - 1e-9:
            y = high - (drop - start)
            tip, right = left_m + 0.012, left_m + _WIDE_M
            items.append(line_of(((left_m, y), (right, y)), "frame"))
            items.append(
                Polygon(
                    (((right, y), (right - 0.005, y + 0.0022), (right - 0.005, y - 0.0022)),), "mark-solid"
                )
            )
            rise, sink = _beside(y, low, high)
            items.append(Text(tip, y + rise, f"rail {rails - number}", "text-strong", _LETTER_M))
            items.append(Text(tip, y + sink, told.small(drop), "text-strong", 0.0028))
    items.append(Text(left_m + _WIDE_M / 2, high + 0.0025, _edge(row), "text-strong", 0.0026, "middle"))
    if end < long_m - 1e-9:
        items.append(
            Text(left_m + _WIDE_M / 2, low - 0.0025, _edge(row + 1), "text-strong", 0.0026, "middle")
        )
    return items


def _is_taken(down_m: float, drops: Drops) -> bool:
    """Whether the words of a rail stand where a tick would have its number. [m]."""
    return any(abs(down_m - drop) < _WORDS_M for drop in drops)


def _beside(y_m: float, low_m: float, high_m: float) -> tuple[float, float]:
    """Where a rail's two words stand from its mark: above and below, or on one side of it near an edge. [m]."""
    if high_m - y_m < 0.006:
        return -0.0034, -0.0072
    return (0.0072, 0.0034) if y_m - low_m < 0.006 else (0.0034, -0.0042)


def _edge(row: int) -> str:
    return "cut top of the post" if row == 0 else f"join {chr(ord('A') + row - 1)}"


def _sheets(drops: Drops, told: Measures, said: str) -> list[Drawing]:
    """Draw a template on as many sheets as its strips take."""
    long = max(drops) + _END_M
    strips = math.ceil(long / _STRIP_M)
    drawings = []
    for first in range(0, strips, _ACROSS):
        rows = range(first, min(first + _ACROSS, strips))
        width = _ACROSS * (_WIDE_M + _GAP_M)
        items: list[Item] = []
        for place, row in enumerate(rows):
            items += _strip(row, 0.001 + place * (_WIDE_M + _GAP_M), drops, told, long)
        base = _BAR_M + 0.006
        layers = [("bars", _bars(told.units.name, 0.001, 0.0)), ("strips", shifted(items, 0.0, base))]
        alt = f"Rail-mark template in true size, {said}: {len(drops)} rail centres below the cut top, with proving bars"
        drawings.append(drawing_of(alt, alt, (width, base + _STRIP_M + 0.005), layers))
    return drawings


def _kinds(record: Record) -> list[tuple[Drops, int]]:
    """Distances that differ by no more than a saw cut as one kind, and how many posts have them, most first."""
    exact = Counter(drops for post in record["posts"] if (drops := post_drops(post)))
    kinds: dict[Drops, int] = {}
    for drops, count in exact.most_common():
        same = next((one for one in kinds if _is_like(one, drops)), drops)
        kinds[same] = kinds.get(same, 0) + count
    return sorted(kinds.items(), key=lambda one: -one[1])


def _is_like(one: Drops, other: Drops) -> bool:
    return len(one) == len(other) and all(abs(a - b) <= _ALIKE_M for a, b in zip(one, other, strict=True))


def template_section(record: Record) -> list[Section]:
    """Give a template for each kind of post by its rail distances below the top, the most frequent first."""
    told = Measures(record)
    kinds = _kinds(record)
    sections = []
    for number, (drops, count) in enumerate(kinds[:_MOST_KINDS], start=1):
        some = f"for {count} posts" if count > 1 else "for one post"
        more = len(kinds) - _MOST_KINDS
        words = (
            f"True size, {some}. Print at 100 % and lay a rule on a bar: if it is not right, do not use the sheet. Cut out"
            " the strips, join A to A and so on, lay the first edge on the cut top and mark each rail's centre."
        )
        if number == 1 and more > 0:
            words += f" {more} more kinds of post differ: take their marks from the post sheet."
        blocks: list[Block] = []
        for drawing in _sheets(drops, told, some):
            blocks += [Words(words), drawing]
        title = "Rail-mark template" if number == 1 else f"Rail-mark template {number}"
        sections.append(Section(title, blocks, level=1 if number == 1 else 2))
    return sections
