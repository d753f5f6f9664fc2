"""Bands that a line breaks, found from the tops alone: nothing of the solver is trusted here."""

from __future__ import annotations

import numpy as np

from fencewright.tables.top_line import (
    BoolArray,
    FloatArray,
    IntArray,
    TopLineClashes,
    TopLinePosts,
    TopLineSpans,
    TopLineTask,
)
from fencewright.topline.gap_rows import sample_gaps, sample_spans

POST_BAND = "post band"
GAP_LOW = "gap low"
GAP_HIGH = "gap high"
LEVEL = "level"


def find_clashes(task: TopLineTask, top_m: FloatArray, tolerance_m: float) -> TopLineClashes:
    """Find every band that the tops break.

    Parameters
    ----------
    task : TopLineTask
        What was asked.
    top_m : float array (posts,)
        Elevation of each top. [m]
    tolerance_m : float
        A band is broken when it is left by more than this. [m]

    Returns
    -------
    TopLineClashes
        Post bands first, then level spans, then gaps; of each span and end of its band the worst
        sample. A level span is named where its tops differ and where the bands of its two posts do
        not meet, by the greater amount; the posts that leave their bands for it are named too.
    """
    heights = top_m - task.posts.ground_m
    over = np.maximum(heights - task.posts.high_m, 0.0) - np.maximum(task.posts.low_m - heights, 0.0)
    out = np.flatnonzero(np.abs(over) > tolerance_m)
    tilt = _level_misses(task.posts, task.spans, top_m)
    tilted = np.flatnonzero(tilt > tolerance_m)
    none = np.full(out.size + tilted.size, np.nan)
    span = sample_spans(task.profile)
    gap = sample_gaps(task.spans, task.profile, top_m, span)
    low, low_by = _worst(span, (task.spans.gap_low_m[span] - gap), task.spans.is_fence, tolerance_m)
    high, high_by = _worst(span, (gap - task.spans.gap_high_m[span]), task.spans.is_fence, tolerance_m)
    fraction = task.profile.fraction
    return TopLineClashes(
        kind=(POST_BAND,) * out.size
        + (LEVEL,) * tilted.size
        + (GAP_LOW,) * low.size
        + (GAP_HIGH,) * high.size,
        index=np.concatenate([out, tilted, span[low], span[high]]).astype(np.int64),
        fraction=np.concatenate([none, fraction[low], fraction[high]]),
        by_m=np.concatenate([over[out], tilt[tilted], low_by, high_by]),
    )


def lowest_gaps(task: TopLineTask, top_m: FloatArray) -> FloatArray:
    """Least gap under the lowest rail of each span, at its posts and at every sample.

    Parameters
    ----------
    task : TopLineTask
        Spans and ground.
    top_m : float array (posts,)
        Elevation of each top. [m]

    Returns
    -------
    float array (spans,)
        NaN where there is no fence. [m]
    """
    spans = task.spans
    height = top_m - task.posts.ground_m
    lowest = np.minimum(height[spans.from_post], height[spans.to_post]) - spans.drop_m
    span = sample_spans(task.profile)
    np.minimum.at(lowest, span, sample_gaps(spans, task.profile, top_m, span))
    return np.where(spans.is_fence, lowest, np.nan)


def post_uplift(spans: TopLineSpans, top_m: FloatArray) -> FloatArray:
    """Vertical part of the rail tensions at each post.

    Parameters
    ----------
    spans : TopLineSpans
        Fence spans pull along the straight line between their tops.
    top_m : float array (posts,)
        Elevation of each top. [m]

    Returns
    -------
    float array (posts,)
        Upward positive: each span pulls its lower post up and its higher post down. [N]

    Notes
    -----
    Sum of pull * rise / 3-D length. Rail weight and sag are left out.
    """
    rise = top_m[spans.to_post] - top_m[spans.from_post]
    lift = np.where(spans.is_fence, spans.pull_n * rise / np.hypot(spans.length_m, rise), 0.0)
    posts = top_m.size
    upward = np.bincount(spans.from_post, lift, posts) - np.bincount(spans.to_post, lift, posts)
    return np.asarray(upward, np.float64)


def _level_misses(posts: TopLinePosts, spans: TopLineSpans, top_m: FloatArray) -> FloatArray:
    """How far each level span is out of level, or its two bands apart, whichever is more."""
    one, other = spans.from_post, spans.to_post
    low, high = posts.ground_m + posts.low_m, posts.ground_m + posts.high_m
    apart = np.maximum(low[one] - high[other], low[other] - high[one])
    miss = np.maximum(np.abs(top_m[one] - top_m[other]), apart)
    return np.where(spans.is_level, miss, 0.0)


def _worst(
    span: IntArray, by_m: FloatArray, is_fence: BoolArray, tolerance_m: float
) -> tuple[IntArray, FloatArray]:
    """Sample of each span that breaks the band most, where one does."""
    rows = np.flatnonzero((by_m > tolerance_m) & is_fence[span])
    order = rows[np.lexsort((rows, -by_m[rows], span[rows]))]
    worst = order[np.flatnonzero(np.diff(span[order], prepend=-1))]
    return worst, by_m[worst]
