"""Turning points that share a post share it across the first point of a closed line as they do anywhere else."""

from collections.abc import Callable

import numpy as np
import pytest

from fencewright.pipeline.record import Design

Laid = Callable[..., Design]
RING = [(0.0, 0.0), (60.0, -10.0), (80.0, 30.0), (40.0, 60.0), (-10.0, 40.0)]
TWICE = [*RING[:2], (80.0, 29.8), (80.0, 30.0), *RING[3:]]
THRICE = [*RING[:2], (80.0, 29.7), (80.1, 29.85), (80.0, 30.0), *RING[3:]]


def stops(made: Design) -> list[str]:
    return [one.code for one in made.findings if one.level == "stop"]


def rows(made: Design) -> np.ndarray:
    """Posts and their braces' feet, whatever their order: place, role, turning, heading."""
    posts, braces = made.layout.posts, made.layout.braces
    columns = (
        posts.x_m,
        posts.y_m,
        posts.role,
        posts.turning_rad,
        np.cos(posts.heading_rad),
        np.sin(posts.heading_rad),
    )
    found = np.round(np.column_stack(columns), 6) + 0.0
    feet = np.round(np.column_stack([braces.x_m, braces.y_m, *np.zeros((4, len(braces)))]), 6)
    every = np.vstack([found, feet])
    return every[np.lexsort(every.T)]


@pytest.mark.parametrize("points", [TWICE, THRICE], ids=["twice", "thrice"])
def test_a_doubled_corner_is_one_post_wherever_the_line_starts(
    laid: Laid, points: list[tuple[float, float]]
) -> None:
    wanted = laid({"a": (points, "closed = true")})
    assert not stops(wanted)
    (said,) = [one.message for one in wanted.findings if one.code == "bends-merged"]
    for first in range(1, len(points)):
        made = laid({"a": ([*points[first:], *points[:first]], "closed = true")})
        assert stops(made) == []
        assert [one.message for one in made.findings if one.code == "bends-merged"] == [said]
        assert rows(made) == pytest.approx(rows(wanted), abs=1e-6), first
        assert made.layout.spans.length_m.sum() == pytest.approx(wanted.layout.spans.length_m.sum())
