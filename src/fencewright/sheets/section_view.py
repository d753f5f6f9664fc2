"""From station and elevation to paper, and the vertical scale that suits all strips."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fencewright.pipeline.record import Design
from fencewright.sheets.picture import XY
from fencewright.sheets.section_trace import Strip

_EXAGGERATIONS = (10.0, 8.0, 5.0, 4.0, 3.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05)
_POST_ON_PAPER_M = 0.032  # a post, hole included, need not be drawn taller than this
_TALLEST_M = 0.085


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
    """Lowest hole bottom or ground, and highest top or ground, of a strip. [m]."""
    rows = strip.trace.post_index[strip.first : strip.last + 1]
    ground = design.layout.posts.ground_m[rows]
    low = float(np.min(ground - design.holes.depth_m[rows]))
    high = float(np.max(ground + np.maximum(design.top_line.height_m[rows], 0.0)))
    inside = (strip.trace.ground_at_m >= strip.start_m) & (strip.trace.ground_at_m <= strip.end_m)
    between = strip.trace.ground_m[inside]
    return min(low, float(np.nanmin(between))), max(high, float(np.nanmax(between)))


def exaggeration(design: Design, strips: Sequence[Strip], scale: float) -> float:
    """How much taller than long a metre is drawn, one for all strips. [-].

    The largest of a few round ones at which no strip is taller than a good part of a page, nor a post
    taller than it need be.
    """
    tallest = max((high - low for low, high in (strip_range_m(design, s) for s in strips)), default=1.0)
    post = float(np.max(design.holes.depth_m + design.top_line.height_m)) if len(design.layout.posts) else 1.0
    for times in _EXAGGERATIONS:
        if post * times / scale <= _POST_ON_PAPER_M and tallest * times / scale <= _TALLEST_M:
            return times
    return _EXAGGERATIONS[-1]
