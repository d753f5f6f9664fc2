"""The long section on sheets of the pack: strips with the numbers of every post, exaggeration stated."""

import math

from fencewright.papers.blocks import Section, Words
from fencewright.papers.frame import Size, room_mm
from fencewright.papers.windows import drawing_of, shifted
from fencewright.pipeline.record import Design
from fencewright.sheets.frame import draw_scale_bar, legend, sheet_units
from fencewright.sheets.picture import Item, box_of
from fencewright.sheets.scales import scale_bar, show_scale
from fencewright.sheets.section_legend import section_legend
from fencewright.sheets.section_strip import SectionSheet, draw_strip, strip_height_m
from fencewright.sheets.section_trace import Strip, choose_strips
from fencewright.sheets.section_view import exaggeration

_WORDS_M = 0.030  # above the drawing, for title and words
_GUTTER_M, _RIGHT_M, _MARGIN_M = 0.021, 0.005, 0.001
_STRIP_LIMIT = 400
_NUMBER_ROWS = 2  # post and station; the rest stands larger on the post sheet and in the hole schedule
_LEGEND_COLUMNS, _LEGEND_M = 4, 0.058


def _legend(design: Design, width_m: float, sheet: SectionSheet) -> tuple[list[Item], float]:
    """Legend in columns with the scale bar below, hung from 0 downward; and its height. [m]."""
    entries = section_legend(design)
    part = math.ceil(len(entries) / _LEGEND_COLUMNS)
    items: list[Item] = []
    low = 0.0
    for column in range(_LEGEND_COLUMNS):
        some = entries[column * part : (column + 1) * part]
        more, end = legend(some, _MARGIN_M + column * (_LEGEND_M + 0.003), 0.0, _LEGEND_M)
        items += more
        low = min(low, end)
    bar = scale_bar(sheet.scale, sheet.units, 0.08)
    return [*items, *draw_scale_bar(bar, sheet.scale, _MARGIN_M, low - 0.008)], 0.010 - low


def _pages(sheet: SectionSheet, strips: list[Strip], first_m: float, next_m: float) -> list[list[Strip]]:
    """Share out the strips, each page filled from the top. [m]."""
    pages: list[list[Strip]] = [[]]
    room = first_m
    for strip in strips:
        height = strip_height_m(sheet, strip)
        if height > room and pages[-1]:
            pages.append([])
            room = next_m
        pages[-1].append(strip)
        room -= height
    return pages


def section_sections(design: Design, size: Size) -> list[Section]:
    """Give the long section, sheet by sheet; nothing where no line has a span.

    Notes
    -----
    One scale along and one upward for all strips, so that every post has its numbers: O(posts).
    """
    units = sheet_units(design)
    width, height = (math.floor(length) / 1000 for length in room_mm(size, is_landscape=True))
    height -= _WORDS_M
    room = width - 2 * _MARGIN_M - _GUTTER_M - _RIGHT_M
    scale, strips = choose_strips(design.layout, room, units, _STRIP_LIMIT)
    if not strips:
        return []
    times = exaggeration(design, strips, scale)
    sheet = SectionSheet(design, units, width, _MARGIN_M, _GUTTER_M, scale, times, _NUMBER_ROWS)
    key, tall = _legend(design, width, sheet)
    pages = _pages(sheet, strips, height - tall, height)
    drawn = "as lengths" if times == 1 else f"{times:g} times as tall as lengths"
    name = "A4" if size == "a4" else "Letter"
    said = (
        f"Along {show_scale(scale, units)} on {name} at 100 %; heights are drawn {drawn}"
        f" (1:{sheet.vertical_scale:,.4g}). Cuts, heights and holes stand in the post sheet and the hole schedule."
    )
    sections = []
    for number, some in enumerate(pages, start=1):
        items: list[Item] = [box_of(0.0, 0.0, width, height, "sheet")]
        top = height
        if number == 1:
            items += shifted(key, 0.0, height)
            top -= tall
        for strip in some:
            marks, _ = draw_strip(sheet, strip, top)
            items += [item for layer in marks.values() for item in layer]
            top -= strip_height_m(sheet, strip)
        low = max(0.0, top)
        title = "Long section" if number == 1 else f"Long section, sheet {number} of {len(pages)}"
        alt = f"Long section, sheet {number} of {len(pages)}: ground, posts, holes, top line and rails in {len(some)} strips"
        drawing = drawing_of(
            alt, alt, (width, height - low), [("strips", shifted(items[1:], 0.0, -low))], scale
        )
        sections.append(
            Section(title, [Words(said), drawing], is_landscape=True, level=1 if number == 1 else 2)
        )
    return sections
