"""From station and elevation to paper, and the vertical scale that suits all strips."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fencewright.pipeline.record import Design
from fencewright.sheets.picture import XY
from fencewright.sheets.section_trace import Strip

_EXAGGERATIONS = (10.0, 8.0, 5.0, 4.0, 3.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05)
_POST_ON_PAPER_M = 0.027  # a post, hole included, need not be drawn taller than this
_UNKNOWN_M = 3.0  # height of a strip of which no elevation is known
_TALLEST_M, _TALLEST_TRUE_M = 0.070, 0.098  # of a strip drawn taller than long, and of one drawn true


@dataclass(frozen=True, slots=True)
class StripView:
    """Where a strip lies on paper.

    `left_m` is x of its start, `low_m` y of `datum_m` [m]; `scale` along the line, `vertical_scale` upward.
    """

    strip: Strip
    left_m: float
    low_m: float
    datum_m: float
    top_m: float
    scale: float
    vertical_scale: float

    def x(self, at_m: float) -> float:
        """Paper x of a station. [m]."""
        return self.left_m + (float(at_m) - self.strip.start_m) / self.scale

    def y(self, elevation_m: float) -> float:
        """Paper y of an elevation. [m]."""
        return self.low_m + (float(elevation_m) - self.datum_m) / self.vertical_scale

    def point(self, at_m: float, elevation_m: float) -> XY:
        """Put a station and elevation on paper. [m]."""
        return self.x(at_m), self.y(elevation_m)

    @property
    def right_m(self) -> float:
        """Paper x of its end. [m]."""
        return self.x(self.strip.end_m)


def strip_range_m(design: Design, strip: Strip) -> tuple[float, float]:
    """Lowest hole bottom or ground, and highest top or ground, of a strip; unknown ground left out. [m]."""
    rows = strip.trace.post_index[strip.first : strip.last + 1]
    ground = design.layout.posts.ground_m[rows]
    inside = (strip.trace.ground_at_m >= strip.start_m) & (strip.trace.ground_at_m <= strip.end_m)
    low = np.concatenate([ground - design.holes.depth_m[rows], strip.trace.ground_m[inside]])
    high = np.concatenate([ground + design.top_line.height_m[rows], strip.trace.ground_m[inside]])
    low, high = low[np.isfinite(low)], high[np.isfinite(high)]
    if not len(low) or not len(high):
        return 0.0, _UNKNOWN_M
    return float(np.min(low)), float(np.max(high))


def exaggeration(design: Design, strips: Sequence[Strip], scale: float) -> float:
    """How much taller than long a metre is drawn, one for all strips. [-].

    The largest of a few round ones at which no strip is taller than a good part of a page, nor a post
    taller than it need be.
    """
    tallest = max((high - low for low, high in (strip_range_m(design, s) for s in strips)), default=1.0)
    posts = design.holes.depth_m + design.top_line.height_m
    post = float(np.max(posts[np.isfinite(posts)], initial=1.0))
    for times in _EXAGGERATIONS:
        most = _TALLEST_M if times > 1 else _TALLEST_TRUE_M
        if post * times / scale <= _POST_ON_PAPER_M and tallest * times / scale <= most:
            return times
    return _EXAGGERATIONS[-1]
