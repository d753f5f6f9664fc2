"""The columns of numbers under a strip of the long section: one a post, spread where posts stand close."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fencewright.pipeline.record import Design, post_id
from fencewright.quantity.parse import POUND_FORCE_N
from fencewright.quantity.show import UnitSystem
from fencewright.sheets.labels import spread
from fencewright.sheets.letters import text_width_em
from fencewright.sheets.picture import Item, Text, line_of
from fencewright.sheets.section_view import StripView

ROW_M = 0.0030
_TEXT_M = 0.0020
_GAP_M = 0.0011
_ELBOW_M = 0.0032


@dataclass(frozen=True, slots=True)
class Columns:
    """What stands under one strip: rows of the trace that have a column, and their texts, one a heading."""

    rows: tuple[int, ...]
    texts: tuple[tuple[str, ...], ...]


def headings(design: Design, units: UnitSystem) -> tuple[str, ...]:
    """Name each row of numbers; uplift only where some post has any worth a mark."""
    force = "lbf" if units.name == "us" else "N"
    small = units.small_unit
    return (
        "Post",
        f"Station, {units.long_unit}",
        f"Cut off, {small}",
        f"Height, {small}",
        f"Hole, {small}",
        *([f"Uplift, {force}"] if any_lifted(design) else []),
    )


def rows_height_m(names: tuple[str, ...]) -> float:
    """Height of the columns with the elbows above them. [m]."""
    return _ELBOW_M + ROW_M * len(names)


def _bare(text: str, unit: str) -> str:
    return text.removesuffix(f" {unit}").replace(",", "")


def _cells(design: Design, row_post: int, at_m: float, length_m: float, units: UnitSystem) -> tuple[str, ...]:
    station = at_m - length_m if at_m > length_m + 1e-6 else at_m
    cuts, small = design.cuts, units.small_unit
    cut = _bare(units.small(float(cuts.cut_m[row_post])), small) if cuts.is_cut[row_post] else "long"
    uplift = float(design.top_line.uplift_n[row_post]) / (POUND_FORCE_N if units.name == "us" else 1.0)
    return (
        post_id(row_post),
        _bare(units.long(station), units.long_unit),
        cut,
        _bare(units.small(float(design.top_line.height_m[row_post])), small),
        _bare(units.small(float(design.holes.depth_m[row_post])), small),
        f"{uplift:.0f}" if is_lifted(design, row_post) else "",
    )


def _least_uplift_n(design: Design) -> float:
    holes = design.job.settings.holes
    return holes.tamped_lift_out_n / holes.uplift_factor / 2


def is_lifted(design: Design, row_post: int) -> bool:
    """Tell whether uplift is worth a mark: it needs concrete, or is half of what a tamped post bears."""
    top = design.top_line
    return bool(top.needs_concrete[row_post]) or float(top.uplift_n[row_post]) >= _least_uplift_n(design)


def any_lifted(design: Design) -> bool:
    """Tell whether any post's uplift is worth a mark."""
    top = design.top_line
    return bool(np.any(top.needs_concrete) or np.any(top.uplift_n >= _least_uplift_n(design)))


def _chosen(design: Design, view: StripView, fits: int) -> np.ndarray:
    """Every row of a strip where they fit, else fixed posts and evenly some of the rest."""
    strip = view.strip
    rows = np.arange(strip.first, strip.last + 1)
    if len(rows) <= fits:
        return rows
    fixed: np.ndarray = rows[design.layout.posts.is_fixed[strip.trace.post_index[rows]]]
    if len(fixed) >= fits:
        some: np.ndarray = fixed[np.linspace(0, len(fixed) - 1, max(fits, 1)).round().astype(int)]
        return some
    for every in (2, 5, 10, 20, 50, 100, 200, 500, 1000):
        some = np.union1d(fixed, rows[(strip.trace.post_index[rows] + 1) % every == 0])
        if len(some) <= fits:
            return some
    return fixed


def choose_columns(design: Design, view: StripView, units: UnitSystem, right_m: float) -> Columns:
    """Choose the posts that get a column of numbers, as many as have room up to `right_m` [m]."""
    trace = view.strip.trace
    length = design.layout.lines[trace.line_index].length_m
    rows = np.arange(view.strip.first, view.strip.last + 1)
    texts = {
        int(r): _cells(design, int(trace.post_index[r]), float(trace.at_m[r]), length, units) for r in rows
    }
    fits = int((right_m - view.left_m) / column_width_m(list(texts.values()))) + 1
    chosen = tuple(int(r) for r in _chosen(design, view, fits))
    return Columns(chosen, tuple(texts[r] for r in chosen))


def column_width_m(texts: Sequence[tuple[str, ...]]) -> float:
    """Least distance of two columns, from their widest text. [m]."""
    return max((text_width_em(cell) for cells in texts for cell in cells), default=1.0) * _TEXT_M + _GAP_M


def column_items(
    view: StripView, columns: Columns, names: tuple[str, ...], edges: tuple[float, float], top_m: float
) -> list[Item]:
    """Draw the columns under their `names` below `top_m`, between the page's `edges` (left of the headings, right) [m]."""
    items: list[Item] = []
    first_row = top_m - _ELBOW_M
    for line, heading in enumerate(names):
        y = first_row - (line + 0.5) * ROW_M
        items.append(Text(edges[0], y, heading, "text-quiet", _TEXT_M))
        items.append(line_of(((edges[0], y - ROW_M / 2), (edges[1], y - ROW_M / 2)), "grid"))
    wanted = [view.x(view.strip.trace.at_m[row]) for row in columns.rows]
    width = column_width_m(columns.texts)
    places = spread(
        wanted, width, view.left_m, max(edges[1] - width / 2, view.left_m + width * (len(wanted) - 1))
    )
    for x, place, cells in zip(wanted, places, columns.texts, strict=True):
        items.append(line_of(((x, top_m), (x, top_m - 0.001), (place, first_row + 0.0008)), "leader"))
        for line, cell in enumerate(cells[: len(names)]):
            style = "text-strong" if line == 0 else "text-accent" if cell == "long" or line == 5 else "text"
            items.append(Text(place, first_row - (line + 0.5) * ROW_M, cell, style, _TEXT_M, "middle"))
    return items
