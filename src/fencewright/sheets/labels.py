"""Where labels go: each in the first of its places that is free, on a leader where that is far.

Greedy and in order of importance: what finds no free place is dropped and counted, never drawn over
another.
"""

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from fencewright.sheets.picture import XY, Item, Text, line_of

Frame = tuple[float, float, float, float]

_CELL_M = 0.002
_DOT_M = 0.0004  # of the dotted sheet that tells most places taken at once
_AT_POINT_M = 0.0028  # a leader may touch what stands this near to its point


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on paper: middle, half its width and height, turn [m, rad].

    `is_soft`: text keeps off it, a dimension line may cross it.
    """

    x_m: float
    y_m: float
    half_width_m: float
    half_height_m: float
    rotation_rad: float = 0.0
    is_soft: bool = False

    @property
    def reach_m(self) -> XY:
        """Half the width and height of the upright rectangle around it. [m]."""
        c, s = abs(math.cos(self.rotation_rad)), abs(math.sin(self.rotation_rad))
        return (
            c * self.half_width_m + s * self.half_height_m,
            s * self.half_width_m + c * self.half_height_m,
        )


@dataclass(frozen=True, slots=True)
class Wanted:
    """A label and the places where it may go, best first.

    `point` is what it names, to which a leader is drawn when the label is further off than `leader_from_m`
    [m]. `is_second_best` tells of a free place that it should only be taken where there is no other.
    """

    places: tuple[Text, ...]
    point: XY
    leader_from_m: float = math.inf
    is_second_best: Callable[[Text], bool] | None = None


@dataclass(frozen=True, slots=True)
class Placed:
    """Labels that found a place, with their leaders and boxes, and those that did not."""

    items: tuple[Item, ...]
    boxes: tuple[Box, ...]
    dropped: tuple[str, ...]


def text_box(text: Text, margin_m: float = 0.0004) -> Box:
    """Rectangle that a text covers, with a margin [m]."""
    width = text.width_m
    shift = {"start": 0.5, "middle": 0.0, "end": -0.5}[text.anchor] * width
    x = text.x_m + shift * math.cos(text.rotation_rad)
    y = text.y_m + shift * math.sin(text.rotation_rad)
    return Box(x, y, width / 2 + margin_m, text.height_m * 0.5 + margin_m, text.rotation_rad)


def overlap(a: Box, b: Box) -> bool:
    """Tell whether two turned rectangles share any area (separating axes)."""
    dx, dy = b.x_m - a.x_m, b.y_m - a.y_m
    reach = a.half_width_m + a.half_height_m + b.half_width_m + b.half_height_m
    if abs(dx) >= reach or abs(dy) >= reach:
        return False
    for first, second in ((a, b), (b, a)):
        c, s = math.cos(first.rotation_rad), math.sin(first.rotation_rad)
        turned = second.rotation_rad - first.rotation_rad
        cc, ss = abs(math.cos(turned)), abs(math.sin(turned))
        along = first.half_width_m + cc * second.half_width_m + ss * second.half_height_m
        across = first.half_height_m + ss * second.half_width_m + cc * second.half_height_m
        if abs(c * dx + s * dy) >= along or abs(c * dy - s * dx) >= across:
            return False
    return True


def line_boxes(points: Sequence[XY], half_width_m: float, *, is_soft: bool = False) -> Iterator[Box]:
    """Thin boxes along a line, none longer than a few cells of the search, so that labels keep off it."""
    for (x0, y0), (x1, y1) in pairwise(points):
        length = math.hypot(x1 - x0, y1 - y0)
        parts = max(1, math.ceil(length / (2 * _CELL_M)))
        turn = math.atan2(y1 - y0, x1 - x0)
        for k in range(parts):
            t = (k + 0.5) / parts
            yield Box(x0 + t * (x1 - x0), y0 + t * (y1 - y0), length / parts / 2, half_width_m, turn, is_soft)


class Board:
    """What is taken on a sheet; `frame` (left, low, right, high) holds every label. [m]."""

    def __init__(self, frame: Frame) -> None:
        self.frame = frame
        self._cells: defaultdict[tuple[int, int], list[Box]] = defaultdict(list)
        left, low, right, high = frame
        self._columns = max(1, math.ceil((right - left) / _DOT_M))
        self._rows = [bytearray(self._columns) for _ in range(max(1, math.ceil((high - low) / _DOT_M)))]

    def _cells_of(self, box: Box) -> Iterator[tuple[int, int]]:
        rx, ry = box.reach_m
        for i in range(math.floor((box.x_m - rx) / _CELL_M), math.floor((box.x_m + rx) / _CELL_M) + 1):
            for j in range(math.floor((box.y_m - ry) / _CELL_M), math.floor((box.y_m + ry) / _CELL_M) + 1):
                yield i, j

    def take(self, boxes: Iterable[Box]) -> None:
        """Keep labels off these boxes."""
        for box in boxes:
            self._take(box)

    def _take(self, box: Box) -> None:
        for cell in self._cells_of(box):
            self._cells[cell].append(box)
        for x, y in _points_along(box):
            column = math.floor((x - self.frame[0]) / _DOT_M)
            row = math.floor((y - self.frame[1]) / _DOT_M)
            if 0 <= column < self._columns and 0 <= row < len(self._rows):
                self._rows[row][column] = 1

    def _is_dotted(self, box: Box) -> bool:
        """Tell at a glance that an upright box covers a point of something taken; False where that is not sure."""
        if box.rotation_rad:
            return False
        left = math.ceil((box.x_m - box.half_width_m - self.frame[0]) / _DOT_M)
        right = math.floor((box.x_m + box.half_width_m - self.frame[0]) / _DOT_M)
        low = math.ceil((box.y_m - box.half_height_m - self.frame[1]) / _DOT_M)
        high = math.floor((box.y_m + box.half_height_m - self.frame[1]) / _DOT_M)
        return any(row.find(1, left, right) >= 0 for row in self._rows[low:high])

    def is_free(self, box: Box, *, may_cross: bool = False) -> bool:
        """Tell whether a box lies in the frame and touches nothing taken (soft boxes apart, if asked)."""
        left, low, right, high = self.frame
        rx, ry = box.reach_m
        if box.x_m - rx < left or box.x_m + rx > right or box.y_m - ry < low or box.y_m + ry > high:
            return False
        if not may_cross and self._is_dotted(box):
            return False
        near = (other for cell in self._cells_of(box) for other in self._cells[cell])
        return not any(overlap(box, other) for other in near if not (may_cross and other.is_soft))


def _points_along(box: Box) -> Iterator[XY]:
    """Points of a box along its middle line, no further apart than the dots of the sheet. [m]."""
    along = 0.9 * max(box.half_width_m, 0.0)
    steps = max(1, math.ceil(2 * along / _DOT_M))
    c, s = math.cos(box.rotation_rad), math.sin(box.rotation_rad)
    for k in range(steps + 1):
        way = along * (2 * k / steps - 1)
        yield box.x_m + way * c, box.y_m + way * s


def _nearest(box: Box, point: XY) -> XY:
    """Point of a box that is nearest to another point. [m]."""
    dx, dy = point[0] - box.x_m, point[1] - box.y_m
    c, s = math.cos(box.rotation_rad), math.sin(box.rotation_rad)
    along = min(max(c * dx + s * dy, -box.half_width_m), box.half_width_m)
    across = min(max(c * dy - s * dx, -box.half_height_m), box.half_height_m)
    return box.x_m + c * along - s * across, box.y_m + s * along + c * across


def box_distance(box: Box, point: XY) -> float:
    """Distance of a point from a box, 0 within it. [m]."""
    return math.dist(_nearest(box, point), point)


def _leader(text: Text, wanted: Wanted) -> tuple[XY, XY] | None:
    near = _nearest(text_box(text, 0.0), wanted.point)
    if math.dist(near, wanted.point) <= wanted.leader_from_m:
        return None
    return near, wanted.point


def _free_places(wanted: Wanted, board: Board) -> Iterator[tuple[Text, tuple[XY, XY] | None]]:
    """Find places that are free, with a leader that runs over nothing but what it points at."""
    for place in wanted.places:
        if not board.is_free(text_box(place)):
            continue
        leader = _leader(place, wanted)
        if leader is not None:
            (x0, y0), (x1, y1) = leader
            part = max(0.0, 1.0 - _AT_POINT_M / max(math.dist(*leader), 1e-9))
            short = ((x0, y0), (x0 + part * (x1 - x0), y0 + part * (y1 - y0)))
            if not all(board.is_free(box, may_cross=True) for box in line_boxes(short, 0.0001)):
                continue
        yield place, leader


def _best_place(wanted: Wanted, board: Board) -> tuple[Text, tuple[XY, XY] | None] | None:
    """Give the first free place that is not second best, else the first free one."""
    spare = None
    for found in _free_places(wanted, board):
        if wanted.is_second_best is None or not wanted.is_second_best(found[0]):
            return found
        spare = spare or found
    return spare


def place_labels(wanted: Iterable[Wanted], board: Board) -> Placed:
    """Place labels one after another, each at its first free place, and take that place.

    Parameters
    ----------
    wanted : iterable of Wanted
        The most important first.
    board : Board
        What no label may cover: marks, lines, other text. The labels placed are added to it.

    Returns
    -------
    Placed
        No two boxes overlap, none covers what was taken, nor leaves the frame. A leader keeps others off.

    Notes
    -----
    O(labels x places), each looked up in a grid of cells.
    """
    items: list[Item] = []
    boxes: list[Box] = []
    dropped: list[str] = []
    for want in wanted:
        found = _best_place(want, board)
        if found is None:
            dropped += [place.text for place in want.places[:1]]
            continue
        text, leader = found
        if leader is not None:
            items.append(line_of(leader, "leader"))
            board.take(line_boxes(leader, 0.0001))
        items.append(text)
        boxes.append(text_box(text))
        board.take(boxes[-1:])
    return Placed(tuple(items), tuple(boxes), tuple(dropped))


def places_around(
    point: XY, text: Text, first_m: float, *, towards_rad: float = 0.0, rings: int = 3
) -> tuple[Text, ...]:
    """Places for an upright label around a point, nearest first, `towards_rad` before the rest [m, rad]."""
    turns = sorted(range(8), key=lambda k: (min(k, 8 - k), k))
    texts = []
    for ring in range(rings):
        for k in turns:
            angle = towards_rad + k * math.pi / 4
            c, s = math.cos(angle), math.sin(angle)
            reach = first_m * (1 + 1.6 * ring)
            anchor = "start" if c > 0.38 else "end" if c < -0.38 else "middle"
            lift = text.height_m * (0.5 if anchor == "middle" else 0.85) * s  # clear of the mark when aslant
            texts.append(
                Text(
                    point[0] + reach * c,
                    point[1] + reach * s + lift,
                    text.text,
                    text.style,
                    text.height_m,
                    anchor,
                )
            )
    return tuple(texts)


def spread(wanted_m: Sequence[float], least_m: float, low_m: float, high_m: float) -> list[float]:
    """Positions at least `least_m` apart, in order, moved as little as may be in the sum of squares.

    Parameters
    ----------
    wanted_m : sequence of float
        Rising. [m]
    least_m : float
        Least distance of two neighbours, 0 or more. [m]
    low_m, high_m : float
        Bounds of all positions; they must hold (count - 1) x least_m. [m]

    Returns
    -------
    list of float
        One for each wanted; empty for none. [m]

    Notes
    -----
    Pool adjacent violators on wanted - k x least, then clipped: exact for the bounded problem. O(n).
    """
    pools: list[tuple[float, int]] = []
    for k, value in enumerate(wanted_m):
        total, count = value - k * least_m, 1
        while pools and pools[-1][0] / pools[-1][1] >= total / count:
            before = pools.pop()
            total, count = total + before[0], count + before[1]
        pools.append((total, count))
    top_m = high_m - (len(wanted_m) - 1) * least_m
    flat = [min(max(total / count, low_m), top_m) for total, count in pools for _ in range(count)]
    return [value + k * least_m for k, value in enumerate(flat)]
