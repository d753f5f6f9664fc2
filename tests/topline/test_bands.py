"""Unknowns and their bounds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from fencewright.tables.top_line import TopLineTask
from fencewright.topline.bands import bound_unknowns, level_groups

LineTask = Callable[..., TopLineTask]


def test_free_posts_are_their_own_unknowns(line_task: LineTask) -> None:
    task = line_task([5.0, 6.0, 7.0])
    unknowns = bound_unknowns(task.posts, task.spans)
    assert unknowns.unknown.tolist() == [0, 1, 2]
    np.testing.assert_allclose(unknowns.reference_m, [6.4, 7.4, 8.4])
    np.testing.assert_allclose(unknowns.low_m, -0.1)
    np.testing.assert_allclose(unknowns.high_m, 0.1)
    assert unknowns.constant_m2 == 0.0


def test_gate_posts_share_an_unknown_and_the_common_band(line_task: LineTask) -> None:
    """Tops 6.3 to 6.5 and 6.4 to 6.6: together 6.4 to 6.5, midway 6.45."""
    task = line_task([4.0, 5.0, 5.1, 4.0], gates=(1,))
    unknowns = bound_unknowns(task.posts, task.spans)
    assert unknowns.unknown.tolist() == [0, 1, 1, 2]
    np.testing.assert_allclose(unknowns.reference_m[1:3], 6.45)
    np.testing.assert_allclose([unknowns.low_m[1], unknowns.high_m[1]], [-0.05, 0.05])
    np.testing.assert_allclose(unknowns.constant_m2, 0.5 * 1e-3 * 2 * 0.05**2)


def test_two_gates_in_a_row_are_one_group(line_task: LineTask) -> None:
    task = line_task([0.0] * 5, gates=(1, 2))
    count, group = level_groups(task.posts, task.spans)
    assert count == 3
    assert group.tolist() == [0, 1, 1, 1, 2]


@pytest.mark.parametrize("gates", [(0,), (3, 9), (0, 4, 13), (2, 3, 7), (5, 6, 7, 8, 13), ()])
@pytest.mark.parametrize("is_turned", [False, True])
def test_groups_are_numbered_by_their_first_posts(
    line_task: LineTask, gates: tuple[int, ...], is_turned: bool
) -> None:
    """Gates alone, side by side and at both ends, whichever way their spans run."""
    spans = line_task([0.0] * 15, gates=gates).spans
    if is_turned:
        spans = replace(spans, from_post=spans.to_post, to_post=spans.from_post)
    count, group = level_groups(line_task([0.0] * 15).posts, spans)
    wanted = [0]
    for post in range(1, 15):
        wanted.append(wanted[-1] + (post - 1 not in gates))
    assert group.tolist() == wanted
    assert count == wanted[-1] + 1


def test_pins_leave_the_unknowns(line_task: LineTask) -> None:
    task = line_task([0.0] * 4, pins={1: 1.45})
    unknowns = bound_unknowns(task.posts, task.spans)
    assert unknowns.unknown.tolist() == [0, -1, 1, 2]
    assert unknowns.reference_m[1] == 1.45
    np.testing.assert_allclose(unknowns.constant_m2, 0.5 * 1e-3 * 0.05**2)


def test_pin_fixes_the_post_across_the_gate(line_task: LineTask) -> None:
    task = line_task([0.0] * 4, pins={1: 1.45}, gates=(1,))
    unknowns = bound_unknowns(task.posts, task.spans)
    assert unknowns.unknown.tolist() == [0, -1, -1, 1]
    assert unknowns.reference_m[2] == 1.45


def test_band_without_width_is_no_unknown(line_task: LineTask) -> None:
    task = line_task([0.0, 0.0, 0.1, 0.0], gates=(1,), half_m=0.05)
    unknowns = bound_unknowns(task.posts, task.spans)
    assert unknowns.unknown.tolist() == [0, -1, -1, 1]
    np.testing.assert_allclose(unknowns.reference_m[1:3], 1.45)


def test_bands_that_do_not_meet_open_to_what_lies_between(line_task: LineTask) -> None:
    """Tops up to 1.5 and from 1.8: anything from 1.5 to 1.8 is equally near, and the line chooses."""
    task = line_task([0.0, 0.0, 0.5, 0.5], gates=(1,))
    unknowns = bound_unknowns(task.posts, task.spans)
    shared = unknowns.unknown[1]
    assert shared == unknowns.unknown[2] == 1
    np.testing.assert_allclose(unknowns.reference_m[1] + unknowns.low_m[shared], 1.5)
    np.testing.assert_allclose(unknowns.reference_m[1] + unknowns.high_m[shared], 1.8)
