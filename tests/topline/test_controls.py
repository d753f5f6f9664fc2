"""Control posts against the string drawn post by post, as one would stretch it."""

from __future__ import annotations

import numpy as np
import pytest

from fencewright.tables.top_line import BoolArray, FloatArray
from fencewright.topline import controls as module
from fencewright.topline.controls import control_posts


def _meets(station: FloatArray, top: FloatArray, start: int, end: int, tolerance: float) -> bool:
    """Whether a string from one top to another passes all tops between within the tolerance."""
    share = (station[start + 1 : end] - station[start]) / (station[end] - station[start])
    string = top[start] + share * (top[end] - top[start])
    return bool(np.all(np.abs(string - top[start + 1 : end]) <= tolerance))


def _post_by_post(station: FloatArray, top: FloatArray, is_fixed: BoolArray, tolerance: float) -> list[int]:
    last = len(station) - 1
    stops = [int(post) for post in np.flatnonzero(is_fixed) if 0 < post < last]
    picked = [0]
    for stop in [*stops, last]:
        while picked[-1] < stop:
            start = picked[-1]
            picked.append(
                max(end for end in range(start + 1, stop + 1) if _meets(station, top, start, end, tolerance))
            )
    return picked


@pytest.mark.parametrize("look", [1, 3, 12, 400])
@pytest.mark.parametrize("rough_m", [0.0, 0.003, 0.02, 0.3])
def test_controls_are_those_of_strings_drawn_one_by_one(
    look: int, rough_m: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "LOOK", look)
    random = np.random.default_rng(int(1000 * rough_m))
    station = np.cumsum(random.uniform(1.8, 4.0, 140))
    top = 2 * np.sin(station / 60) * (rough_m > 0) + rough_m * random.standard_normal(140)
    is_fixed = random.random(140) < 0.06
    picked = control_posts(station, top, is_fixed, 0.02).tolist()
    assert picked == _post_by_post(station, top, is_fixed, 0.02)
    assert set(np.flatnonzero(is_fixed).tolist()) <= set(picked)


def test_level_line_needs_its_ends_alone_and_no_post_needs_none() -> None:
    station = np.arange(0.0, 300.0, 3.0)
    assert control_posts(station, 0.0 * station, np.zeros(100, bool), 0.0).tolist() == [0, 99]
    assert control_posts(station[:1], station[:1], np.zeros(1, bool), 0.0).tolist() == [0]
    assert control_posts(station[:0], station[:0], np.zeros(0, bool), 0.0).size == 0
