"""The plan at a stated round scale, cut into sheets with match lines, and a key map that shows where each lies."""

import itertools
import math
from collections.abc import Sequence

import numpy as np

from fencewright.papers.blocks import Drawing, Section, Words
from fencewright.papers.frame import Size, room_mm
from fencewright.papers.windows import Grid, drawing_of, share_out, shifted
from fencewright.pipeline.record import Design
from fencewright.sheets.frame import draw_scale_bar, sheet_units
from fencewright.sheets.picture import Item, Text, box_of, line_of
from fencewright.sheets.plan_column import Drawn, draw_in_view, north_arrow, plan_column, plan_layers
from fencewright.sheets.plan_fence import draw_fence, span_spacing_m
from fencewright.sheets.plan_labels import Words as PlanWords
from fencewright.sheets.plan_site import draw_obstacles
from fencewright.sheets.plan_view import View
from fencewright.sheets.pull_ends import PullEnds
from fencewright.sheets.scales import scale_bar, show_scale, standard_scale, standard_scale_below
from fencewright.tables.fence import Floats

_FINEST = {"us": 240.0, "metric": 200.0}  # 1 in = 20 ft, 1:200
_POSTS_APART_M = 0.0075  # line posts on paper, so that each has its name
_EDGE_M = 0.020  # kept free around the fence for its labels
_OVER_M = 0.008  # of each neighbour that a sheet shows beyond its match lines
_FOOT_M = 0.015  # below the drawing, for scale bar and north arrow
_NORTH_DOWN_M = 0.0022  # of the arrow's middle below that of the foot: its letter stands above it
_BLEED_M = 0.002  # of white beyond the sheet's lower edge, so that nothing shows through a rounded one
_WORDS_M = 0.026  # above it, for title and words
_MOST_SHEETS = 20
_LARGEST_M = 2.2  # paper that all sheets together may cover, each way
_COLUMN_M = 0.060
_PLACES = (0.5, 0.3, 0.7, 0.2, 0.8)  # along a side where words may stand, the best first
_CLEAR_M = 0.002  # of words from the fence
_MATCH_LETTER_M = 0.0028
_STEP_M = 0.004  # the fence is looked at this often on paper, to find the sheets that it crosses


def _window_m(size: Size) -> tuple[float, float]:
    """Width and height of the drawing on one sheet. [m]."""
    width, height = room_mm(size, is_landscape=True)
    return math.floor(width) / 1000, math.floor(height) / 1000 - _FOOT_M - _WORDS_M


def _points(design: Design) -> Floats:
    """Points that the plan must hold (n, 2). [m]."""
    layout = design.layout
    posts = np.column_stack([layout.posts.x_m, layout.posts.y_m])
    return np.vstack([posts, np.column_stack([layout.braces.x_m, layout.braces.y_m])])


def _along(design: Design, step_m: float) -> Floats:
    """Points along every span, no further apart than a step on the ground (n, 2). [m]."""
    spans = design.layout.spans
    posts = np.column_stack([design.layout.posts.x_m, design.layout.posts.y_m])
    if not len(spans):
        return posts
    counts = np.maximum(1, np.ceil(spans.length_m / step_m)).astype(int)
    row = np.repeat(np.arange(len(spans)), counts)
    part = (np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)) / counts[row]
    start, end = posts[spans.from_post[row]], posts[spans.to_post[row]]
    return np.vstack([posts, start + part[:, None] * (end - start)])


class _Tiles:
    """The sheets of a plan at one scale: the view that holds all of it, the grid, and the windows that are used."""

    def __init__(self, design: Design, scale: float, size: Size) -> None:
        points = _points(design)
        low, high = points.min(axis=0), points.max(axis=0)
        paper = (high - low) / scale + 2 * _EDGE_M
        self.paper_m = (float(paper[0]), float(paper[1]))
        self.window_m = _window_m(size)
        steps = [length - 2 * _OVER_M for length in self.window_m]
        columns, rows = (max(1, math.ceil(p / s - 1e-9)) for p, s in zip(self.paper_m, steps, strict=True))
        left, bottom = ((p - n * s) / 2 for p, n, s in zip(self.paper_m, (columns, rows), steps, strict=True))
        self.grid = Grid(left, bottom, steps[0], steps[1], columns, rows, _OVER_M)
        middle = (low + high) / 2
        centre = (self.paper_m[0] / 2, self.paper_m[1] / 2)
        self.view = View(scale, 0.0, (float(middle[0]), float(middle[1])), centre, (0.0, 0.0, *self.paper_m))
        self.fence = self.view.points(_along(design, _STEP_M * scale))  # points of it on the paper
        self.used = self._used()

    def _used(self) -> list[tuple[int, int]]:
        """Windows that the fence crosses, from the top row down, each from the left."""
        grid, at = self.grid, self.fence
        column = np.clip((at[:, 0] - grid.left_m) // grid.step_x_m, 0, grid.columns - 1).astype(int)
        row = np.clip((at[:, 1] - grid.low_m) // grid.step_y_m, 0, grid.rows - 1).astype(int)
        cells = {(int(i), int(j)) for i, j in np.unique(np.column_stack([column, row]), axis=0)}
        return sorted(cells, key=lambda cell: (-cell[1], cell[0]))

    @property
    def is_fit(self) -> bool:
        """Whether it is a reasonable number of sheets."""
        return len(self.used) <= _MOST_SHEETS and max(self.paper_m) <= _LARGEST_M


def choose_tiles(design: Design, size: Size) -> _Tiles:
    """Choose the sheets: at the job's own scale, else at the largest standard one that takes a reasonable number."""
    units = sheet_units(design)
    stated = design.job.asked.paper.plan_scale
    points = _points(design)
    span = float(np.max(np.ptp(points, axis=0)))
    least = span / (_LARGEST_M - 2 * _EDGE_M)
    clear = standard_scale_below(span_spacing_m(design.layout, 1.0) / _POSTS_APART_M, units)
    finest = max(_FINEST[units.name], clear, least)
    scale = max(stated, least) if stated else standard_scale(finest, units)
    tiles = _Tiles(design, scale, size)
    while not tiles.is_fit and not stated:
        scale = standard_scale(scale * 1.001, units)
        tiles = _Tiles(design, scale, size)
    return tiles


def _clearest(
    places: Sequence[tuple[float, float]], half_m: tuple[float, float], fence: Floats
) -> tuple[float, float]:
    """The first place where words of this half width and height keep clear of the fence, else the clearest. [m]."""
    if not len(fence):
        return places[0]
    clear = []
    for place in places:
        beyond = np.maximum(np.abs(fence - np.array(place)) - np.array(half_m), 0.0)
        clear.append(float(np.hypot(beyond[:, 0], beyond[:, 1]).min()))
        if clear[-1] >= _CLEAR_M:
            return place
    return places[int(np.argmax(clear))]


def _match_lines(tiles: _Tiles, cell: tuple[int, int]) -> tuple[list[Item], list[Item]]:
    """Dashed lines at which a sheet meets those beside it, and the words along them."""
    width, height = tiles.window_m
    numbers = {one: k for k, one in enumerate(tiles.used, start=1)}
    fence = tiles.fence - np.array(tiles.grid.corner(cell))
    i, j = cell
    lines: list[Item] = []
    words: list[Item] = []
    low, right, top = _OVER_M, width - _OVER_M, height - _OVER_M
    for beside, ends, is_upright, at in (
        ((i - 1, j), ((low, 0.0), (low, height)), True, low / 2),
        ((i + 1, j), ((right, 0.0), (right, height)), True, right + low / 2),
        ((i, j - 1), ((0.0, low), (width, low)), False, low / 2),
        ((i, j + 1), ((0.0, top), (width, top)), False, top + low / 2),
    ):
        if beside in numbers:
            said = f"match line: plan sheet {numbers[beside]}"
            half = (Text(0.0, 0.0, said, "label-strong", _MATCH_LETTER_M).width_m / 2, _MATCH_LETTER_M / 2)
            places = [(at, part * height) if is_upright else (part * width, at) for part in _PLACES]
            x, y = _clearest(places, half[::-1] if is_upright else half, fence)
            lines.append(line_of(ends, "match"))
            turn = math.pi / 2 if is_upright else 0.0
            words.append(Text(x, y, said, "label-strong", _MATCH_LETTER_M, "middle", turn))
    return lines, words


def _foot(design: Design, tiles: _Tiles) -> list[Item]:
    """Scale bar and north arrow below the drawing."""
    scale = tiles.view.scale
    bar = scale_bar(scale, sheet_units(design), 0.08)
    width = tiles.window_m[0]
    north = north_arrow(tiles.view, design.job.asked.site.north, width - 0.008, _FOOT_M / 2 - _NORTH_DOWN_M)
    return [*draw_scale_bar(bar, scale, 0.002, 0.002), *north]


def _sheet(
    design: Design, tiles: _Tiles, cell: tuple[int, int], layers: Sequence[Sequence[Item]], alt: str
) -> Drawing:
    width, height = tiles.window_m
    x, y = tiles.grid.corner(cell)
    marks = [item for items in layers[:-1] for item in items]
    names = layers[-1] if layers else ()
    over = [
        box_of(-_BLEED_M, -_BLEED_M, width + _BLEED_M, _FOOT_M, "sheet"),
        box_of(0.0, _FOOT_M, width, _FOOT_M + height, "frame"),
        *_foot(design, tiles),
    ]
    lines, words = _match_lines(tiles, cell)
    drawn = [
        ("marks", shifted(marks, -x, _FOOT_M - y)),
        ("match", shifted(lines, 0.0, _FOOT_M)),  # under the names, which clear a place for themselves
        ("names", shifted(names, -x, _FOOT_M - y)),
        ("match-words", shifted(words, 0.0, _FOOT_M)),
        ("foot", over),
    ]
    return drawing_of(alt, alt, (width, height + _FOOT_M), drawn, tiles.view.scale)


def _key_map(design: Design, tiles: _Tiles, said: str) -> Drawing:
    """Whole fence with the outline of each sheet, facts and legend beside it."""
    width, height = tiles.window_m[0], tiles.window_m[1] + _FOOT_M
    units = sheet_units(design)
    view = _key_view(tiles, (width - _COLUMN_M - 0.004, height))
    site, fence = draw_obstacles(design.job.site.obstacles, view, units), draw_fence(design, view)
    drawn = Drawn(view, site, fence, PullEnds((), 0), PlanWords((), (), (), (), 1))
    items: list[Item] = [item for layer in plan_layers(drawn) for item in layer.items]
    grid, (x, y) = tiles.grid, view.point(*tiles.view.middle_m)
    shrink = tiles.view.scale / view.scale
    built = np.array((x, y)) + shrink * (tiles.fence - np.array(tiles.view.centre_m))
    for number, (i, j) in enumerate(tiles.used, start=1) if len(tiles.used) > 1 else ():
        left = x + shrink * (grid.left_m + i * grid.step_x_m - tiles.view.centre_m[0])
        low = y + shrink * (grid.low_m + j * grid.step_y_m - tiles.view.centre_m[1])
        right, high = left + shrink * grid.step_x_m, low + shrink * grid.step_y_m
        items.append(
            line_of(((left, low), (right, low), (right, high), (left, high)), "match", is_closed=True)
        )
        places = [
            (left + a * (right - left), low + b * (high - low))
            for a, b in itertools.product(_PLACES, _PLACES)
        ]
        at = _clearest(places, (0.005, 0.003), built)
        items.append(Text(*at, str(number), "label-strong", 0.005, "middle"))
    column, _ = plan_column(design, drawn, said, (width - _COLUMN_M, height, _COLUMN_M), 0.0)
    alt = f"Key map of the plan: {len(tiles.used)} sheets over the fence, with the legend"
    return drawing_of(alt, alt, (width, height), [("key", items), ("legend", column)], view.scale)


def _key_view(tiles: _Tiles, room_m: tuple[float, float]) -> View:
    """View that holds every sheet's outline in a room on paper. [m]."""
    grid = tiles.grid
    columns, rows = (sorted({cell[axis] for cell in tiles.used}) for axis in (0, 1))
    left, right = grid.left_m + columns[0] * grid.step_x_m, grid.left_m + (columns[-1] + 1) * grid.step_x_m
    low, high = grid.low_m + rows[0] * grid.step_y_m, grid.low_m + (rows[-1] + 1) * grid.step_y_m
    shrink = 1.02 * max((right - left) / room_m[0], (high - low) / room_m[1])
    off = ((left + right) / 2 - tiles.view.centre_m[0], (low + high) / 2 - tiles.view.centre_m[1])
    middle = tuple(m + tiles.view.scale * one for m, one in zip(tiles.view.middle_m, off, strict=True))
    centre = (room_m[0] / 2, room_m[1] / 2)
    return View(tiles.view.scale * shrink, 0.0, (middle[0], middle[1]), centre, (0.0, 0.0, *room_m))


def plan_sections(design: Design, size: Size) -> list[Section]:
    """Give the key map and the plan's sheets, the same marks as on the plan of the design.

    Notes
    -----
    Drawn once and cut: O(posts + sheets).
    """
    units = sheet_units(design)
    tiles = choose_tiles(design, size)
    told = show_scale(tiles.view.scale, units)
    layers = plan_layers(draw_in_view(design, tiles.view))
    shared = share_out(layers, tiles.grid)
    count = len(tiles.used)
    name = "A4" if size == "a4" else "Letter"
    sheets = "The sheets that follow are" if count > 1 else "The sheet that follows is"
    said = (
        f"{sheets} at {told} when printed on {name} at 100 %. This map is smaller: it has a bar of its own."
    )
    stated = design.job.asked.paper.plan_scale
    if stated and stated < tiles.view.scale:
        said += f" The scale that the job states, 1:{stated:,.0f}, would ask for more paper than that."
    sections = [Section("Plan", [Words(said), _key_map(design, tiles, "by its own bar")], is_landscape=True)]
    for number, cell in enumerate(tiles.used, start=1):
        title = f"Plan sheet {number} of {count}"
        alt = f"{title}, {told}: fence, posts by role with their names, braces, gates, what lies in the way"
        drawing = _sheet(design, tiles, cell, shared.get(cell, []), alt)
        words = f"{told} on {name} at 100 %. Posts and holes by their centres; measure nothing from it that a table gives."
        sections.append(Section(title, [Words(words), drawing], is_landscape=True, level=2))
    return sections
