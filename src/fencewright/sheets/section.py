"""The long section: each line drawn straight, in strips, posts to their depth and tops to their cut."""

from collections.abc import Sequence

from fencewright.pipeline.record import Design
from fencewright.quantity.show import counted
from fencewright.sheets.frame import MARGIN_M, NOT_TO_BE_BUILT, foot, moved, sheet_units
from fencewright.sheets.letters import shorten
from fencewright.sheets.picture import Item, Layer, Picture, Text, box_of
from fencewright.sheets.scales import PHONE_MARGIN_M, PHONE_WIDTH_M, Paper, paper_for, show_scale
from fencewright.sheets.section_head import narrow_head, wide_head
from fencewright.sheets.section_strip import SectionSheet, draw_strip, strip_height_m
from fencewright.sheets.section_trace import Strip, choose_strips
from fencewright.sheets.section_view import exaggeration

STRIP_LIMIT, PHONE_STRIP_LIMIT = 36, 100
_GUTTER_M, _GUTTER_PHONE_M = 0.021, 0.018
_RIGHT_M = 0.005
_HEAD_NEXT_M = 0.007
_TITLES = {
    "sheet": "the sheet",
    "ground": "ground along the line",
    "axes": "elevations",
    "posts": "posts, holes and braces",
    "rails": "top line, its band, and rails",
    "openings": "gates and crossings",
    "marks": "uplift, posts set long, clashes",
    "numbers": "numbers of each post",
    "frame": "title, legend, cautions",
}
_Items = dict[str, list[Item]]


def _lay_out(
    design: Design, width_m: float, margin_m: float, gutter_m: float, strip_limit: int
) -> tuple[SectionSheet, list[Strip]]:
    units = sheet_units(design)
    room = width_m - 2 * margin_m - gutter_m - _RIGHT_M
    scale, strips = choose_strips(design.layout, room, units, strip_limit)
    times = exaggeration(design, strips, scale)
    return SectionSheet(design, units, width_m, margin_m, gutter_m, scale, times), strips


def _share_out(
    sheet: SectionSheet, strips: Sequence[Strip], first_m: float, next_m: float
) -> list[list[Strip]]:
    """Share out the strips page by page, each page filled from the top; room on the first and the next [m]."""
    pages: list[list[Strip]] = [[]]
    room = first_m
    for strip in strips:
        height = strip_height_m(sheet, strip)
        if height > room and (pages[-1] or len(pages) == 1):
            pages.append([])
            room = next_m
        pages[-1].append(strip)
        room -= height
    return pages


def _draw_strips(sheet: SectionSheet, strips: Sequence[Strip], top_m: float) -> tuple[_Items, int, float]:
    """Draw strips below each other; their items by layer, labels dropped, and where they end [m]."""
    layers: _Items = {name: [] for name in _TITLES}
    dropped = 0
    for strip in strips:
        drawn, missing = draw_strip(sheet, strip, top_m)
        for name, items in drawn.items():
            layers[name] += items
        dropped += missing
        top_m -= strip_height_m(sheet, strip)
    return layers, dropped, top_m


def _head_next(sheet: SectionSheet, top_m: float, page: int, pages: int) -> list[Item]:
    words = f"{shorten(sheet.design.job.asked.job.name, 60.0)}: long section, page {page + 1} of {pages}"
    items: list[Item] = [Text(sheet.margin_m, top_m - 0.0015, words, "text-strong", 0.0024)]
    if not sheet.design.may_be_built:
        items.append(Text(sheet.right_m, top_m - 0.0015, NOT_TO_BE_BUILT, "text-accent", 0.003, "end"))
    return items


def _draw_pages(sheet: SectionSheet, strips: Sequence[Strip], paper: Paper) -> tuple[_Items, int, int]:
    """Draw all pages, stacked downward; items by layer, labels dropped, count of pages."""
    design = sheet.design
    _, low = foot(design, sheet.margin_m, sheet.right_m, sheet.margin_m, "Page")
    head = -wide_head(sheet, paper.name, 0.0, 0)[1]
    room = paper.height_m - sheet.margin_m - low
    pages = _share_out(sheet, strips, room - head, room - _HEAD_NEXT_M)
    layers: _Items = {name: [] for name in _TITLES}
    dropped = 0
    for page, some in enumerate(pages):
        base = (len(pages) - page - 1) * paper.height_m
        top = base + paper.height_m - sheet.margin_m
        layers["sheet"].append(box_of(0.0, base, paper.width_m, base + paper.height_m, "sheet"))
        note = f"Page {page + 1} of {len(pages)}." if len(pages) > 1 else ""
        layers["frame"] += foot(design, sheet.margin_m, sheet.right_m, base + sheet.margin_m, note)[0]
        layers["frame"] += _head_next(sheet, top, page, len(pages)) if page else []
        drawn, missing, _ = _draw_strips(sheet, some, top - (_HEAD_NEXT_M if page else head))
        for name, items in drawn.items():
            layers[name] += items
        dropped += missing
    top = len(pages) * paper.height_m - sheet.margin_m
    layers["frame"] += wide_head(sheet, paper.name, top, dropped)[0]
    return layers, dropped, len(pages)


def _layers(items: _Items, rise_m: float = 0.0) -> tuple[Layer, ...]:
    if rise_m:
        items = {name: [moved(item, 0.0, rise_m) for item in some] for name, some in items.items()}
    return tuple(Layer(name, said, tuple(items[name])) for name, said in _TITLES.items())


def draw_section(design: Design) -> Picture:
    """Draw the long section of every line, Letter or A4 landscape, on as many pages as it takes.

    Parameters
    ----------
    design : Design
        What is drawn, and nothing else.

    Returns
    -------
    Picture
        Pages stacked downward; one scale along and one upward for all strips, both stated with the
        exaggeration. A long fence is drawn to a coarser scale, so that it never has more than
        `STRIP_LIMIT` strips (or one a line): then fewer posts have their numbers. Its `phone` is the same
        drawn for a narrow screen.

    Notes
    -----
    O(posts + profile samples).
    """
    paper = paper_for(sheet_units(design))
    sheet, strips = _lay_out(design, paper.width_m, MARGIN_M, _GUTTER_M, STRIP_LIMIT)
    items, dropped, pages = _draw_pages(sheet, strips, paper)
    lead = "" if design.may_be_built else f"{NOT_TO_BE_BUILT}. "
    return Picture(
        f"Long section of {design.job.asked.job.name}",
        f"{lead}Long section in {counted(len(strips), 'strip')} on {counted(pages, 'page')},"
        f" {show_scale(sheet.scale, sheet.units)} along, heights {sheet.times:g} times as tall.",
        paper.width_m,
        pages * paper.height_m,
        paper.height_m,
        f"{paper.name} landscape",
        sheet.scale,
        _layers(items),
        dropped,
        _draw_for_phone(design),
    )


def _draw_for_phone(design: Design) -> Picture:
    """Draw head, strips and cautions narrow and tall, from the top down."""
    sheet, strips = _lay_out(design, PHONE_WIDTH_M, PHONE_MARGIN_M, _GUTTER_PHONE_M, PHONE_STRIP_LIMIT)
    start = narrow_head(sheet, -sheet.margin_m, 0)[1]
    items, dropped, low = _draw_strips(sheet, strips, start)
    feet, high = foot(design, sheet.margin_m, sheet.right_m, 0.0)
    items["frame"] += narrow_head(sheet, -sheet.margin_m, dropped)[0]
    items["frame"] += [moved(item, 0.0, low - high) for item in feet]
    height = sheet.margin_m + high - low
    items["sheet"].append(box_of(0.0, -height, PHONE_WIDTH_M, 0.0, "sheet"))
    return Picture(
        f"Long section of {design.job.asked.job.name}",
        f"Long section in {len(strips)} strips for a narrow screen.",
        PHONE_WIDTH_M,
        height,
        height,
        "narrow screen",
        sheet.scale,
        _layers(items, height),
        dropped,
    )
