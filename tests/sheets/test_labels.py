"""Label placement: nothing overlaps, what has no room is counted, columns are spread as little as may be."""

import math
import random

import numpy as np
import pytest
import shapely

from fencewright.sheets.labels import (
    Board,
    Box,
    Wanted,
    line_boxes,
    overlap,
    place_labels,
    places_around,
    spread,
    text_box,
)
from fencewright.sheets.picture import Text

FRAME = (0.0, 0.0, 0.2, 0.15)


def _outline(box: Box) -> shapely.Polygon:
    c, s = math.cos(box.rotation_rad), math.sin(box.rotation_rad)
    corners = [(-1, -1), (1, -1), (1, 1), (-1, 1)]
    half = [(i * box.half_width_m, j * box.half_height_m) for i, j in corners]
    return shapely.Polygon([(box.x_m + c * x - s * y, box.y_m + s * x + c * y) for x, y in half])


def test_overlap_agrees_with_polygon_intersection() -> None:
    rng = random.Random(7)
    seen = set()
    for _ in range(2000):
        a, b = (
            Box(
                rng.uniform(0, 3),
                rng.uniform(0, 3),
                rng.uniform(0.1, 1),
                rng.uniform(0.1, 1),
                rng.uniform(-4, 4),
            )
            for _ in range(2)
        )
        area = _outline(a).intersection(_outline(b)).area
        if area > 1e-9 or _outline(a).distance(_outline(b)) > 1e-9:
            assert overlap(a, b) == (area > 1e-9)
            seen.add(area > 1e-9)
    assert seen == {True, False}


def test_boxes_that_share_an_edge_do_not_overlap() -> None:
    assert not overlap(Box(0, 0, 1, 1), Box(2, 0, 1, 1))


def _wanted(count: int) -> list[Wanted]:
    rng = random.Random(3)
    points = [(rng.uniform(0.02, 0.18), rng.uniform(0.02, 0.13)) for _ in range(count)]
    texts = [Text(0, 0, f"P{k + 1}", "label", 0.0022) for k in range(count)]
    return [Wanted(places_around(p, t, 0.002), p, 0.003) for p, t in zip(points, texts, strict=True)]


def test_crowded_labels_never_overlap_and_the_rest_is_counted() -> None:
    placed = place_labels(_wanted(900), Board(FRAME))
    assert len(placed.boxes) + len(placed.dropped) == 900
    assert placed.dropped
    tree = shapely.STRtree([_outline(box).buffer(-1e-9) for box in placed.boxes])
    pairs = tree.query(tree.geometries, predicate="intersects")
    assert np.all(pairs[0] == pairs[1])


def test_labels_keep_off_what_is_taken_and_inside_the_frame() -> None:
    board = Board(FRAME)
    wall = list(line_boxes(((0.0, 0.07), (0.2, 0.07)), 0.001))
    board.take(wall)
    placed = place_labels(_wanted(200), board)
    assert not any(overlap(box, piece) for box in placed.boxes for piece in wall)
    for box in placed.boxes:
        reach = box.reach_m
        assert box.x_m - reach[0] >= 0
        assert box.x_m + reach[0] <= 0.2
        assert box.y_m - reach[1] >= 0
        assert box.y_m + reach[1] <= 0.15


def test_first_place_is_taken_when_free() -> None:
    want = _wanted(1)[0]
    assert place_labels([want], Board(FRAME)).items[-1] == want.places[0]


def test_a_far_label_gets_a_leader_to_its_point() -> None:
    far = Text(0.1, 0.1, "P1", "label", 0.0022)
    placed = place_labels([Wanted((far,), (0.05, 0.05), 0.003)], Board(FRAME))
    assert [type(item).__name__ for item in placed.items] == ["Polyline", "Text"]


def test_a_dimension_line_may_cross_a_soft_box_and_a_label_may_not() -> None:
    board = Board(FRAME)
    board.take([Box(0.1, 0.1, 0.01, 0.001, is_soft=True)])
    assert not board.is_free(Box(0.1, 0.1, 0.001, 0.01))
    assert board.is_free(Box(0.1, 0.1, 0.001, 0.01), may_cross=True)


def test_text_box_turns_with_its_anchor() -> None:
    text = Text(0.0, 0.0, "P100", "label", 0.002, "start", math.pi / 2)
    box = text_box(text, 0.0)
    assert box.y_m == pytest.approx(text.width_m / 2)
    assert box.x_m == pytest.approx(0.0, abs=1e-12)


def test_spread_leaves_what_stands_apart() -> None:
    assert spread([1.0, 3.0, 6.0], 1.5, 0.0, 10.0) == [1.0, 3.0, 6.0]
    assert spread([], 1.0, 0.0, 1.0) == []


def test_spread_is_least_squares() -> None:
    """No step towards any other feasible spread makes the sum of squares smaller: 5,000 random ones."""
    rng = np.random.default_rng(5)
    wanted = np.sort(rng.uniform(0, 20, 9))
    found = np.array(spread(list(wanted), 2.0, 0.0, 20.0))
    assert np.all(np.diff(found) >= 2.0 - 1e-9)
    assert not np.allclose(found, wanted)
    others = np.sort(rng.uniform(0, 4, (5_000, 9)), axis=1) + 2.0 * np.arange(9)
    for step in (1.0, 0.1, 1e-3):
        tried = found + step * (others - found)
        assert np.all(np.sum((tried - wanted) ** 2, axis=1) >= np.sum((found - wanted) ** 2) - 1e-9)


@pytest.mark.parametrize("seed", range(4))
def test_the_quick_look_never_changes_the_answer(seed: int) -> None:
    """Against every pair of rectangles, by separating axes alone."""
    rng = np.random.default_rng(seed)

    def some(count: int, most_m: float) -> list[Box]:
        rows = rng.uniform(size=(count, 5)) * [0.2, 0.15, most_m, most_m / 3, 2 * math.pi]
        turned = rng.random(count) < 0.5
        return [
            Box(x, y, w, h, turn if t else 0.0)
            for (x, y, w, h, turn), t in zip(rows.tolist(), turned, strict=True)
        ]

    taken = some(60, 0.01)
    board = Board((0.0, 0.0, 0.2, 0.15))
    board.take(taken)
    wanted = [box for box in some(400, 0.02) if board_holds(box)]
    free = [board.is_free(box) for box in wanted]
    assert free == [not any(overlap(box, other) for other in taken) for box in wanted]
    assert True in free
    assert False in free


def board_holds(box: Box) -> bool:
    reach_x, reach_y = box.reach_m
    return reach_x < box.x_m < 0.2 - reach_x and reach_y < box.y_m < 0.15 - reach_y


def test_a_second_best_place_is_taken_where_there_is_no_other() -> None:
    far, near = Text(0.08, 0.05, "P1", "label", 0.002), Text(0.05, 0.05, "P1", "label", 0.002)
    want = Wanted((far, near), (0.05, 0.05), math.inf, lambda place: place is far)
    assert place_labels([want], Board(FRAME)).items == (near,)
    board = Board(FRAME)
    board.take([text_box(near)])
    assert place_labels([want], board).items == (far,)
