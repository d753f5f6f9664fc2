"""The samples of the ground that can decide a gap: the rest is implied and is left out."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fencewright.tables.top_line import BoolArray, FloatArray, GroundProfile, IntArray, TopLineSpans
from fencewright.topline.bands import Unknowns

#: Passes of the hull; each halves a rough profile, and what is left over is only not pruned.
HULL_PASSES = 40


@dataclass(frozen=True)
class GapRows:
    """Samples that may touch a gap's band: `sign * gap` must be at least `sign * limit`.

    Attributes
    ----------
    span : int array (rows,)
        Span of the sample.
    fraction : float array (rows,)
        Place along the span. [-]
    slack_m : float array (rows,)
        How far the gap at x = 0 is inside its band. [m]
    sign : float
        +1 for the low end of the band, -1 for the high end.
    """

    span: IntArray
    fraction: FloatArray
    slack_m: FloatArray
    sign: float


def sample_spans(profile: GroundProfile) -> IntArray:
    """Span of each sample of the profile.

    Parameters
    ----------
    profile : GroundProfile
        Ground between the posts.

    Returns
    -------
    int array (samples,)
        Row of the span, rising.
    """
    return np.repeat(np.arange(profile.start.size - 1, dtype=np.int64), np.diff(profile.start))


def sample_gaps(spans: TopLineSpans, profile: GroundProfile, top_m: FloatArray, span: IntArray) -> FloatArray:
    """Gap under the lowest rail at each sample.

    Parameters
    ----------
    spans : TopLineSpans
        Posts at the ends and the drop to the lowest rail.
    profile : GroundProfile
        Ground between the posts.
    top_m : float array (posts,)
        Elevation of the post tops. [m]
    span : int array (samples,)
        `sample_spans(profile)`.

    Returns
    -------
    float array (samples,)
        The rail drawn straight from post to post, less the ground. [m]
    """
    start = (top_m[spans.from_post] - spans.drop_m)[span]
    rise = (top_m[spans.to_post] - top_m[spans.from_post])[span]
    return np.asarray(start + profile.fraction * rise - profile.ground_m)


def deciding_rows(unknowns: Unknowns, spans: TopLineSpans, profile: GroundProfile) -> tuple[GapRows, GapRows]:
    """Pick the samples whose gap may be decided by the low and by the high end of its band.

    Parameters
    ----------
    unknowns : Unknowns
        References and bounds of the tops.
    spans : TopLineSpans
        Fence spans with their bands.
    profile : GroundProfile
        Ground between the posts.

    Returns
    -------
    low, high : GapRows
        A row is left out where the post bands or the other rows imply it: the answer is the same.

    Notes
    -----
    The low end is implied by the vertices of the ground's upper hull in each span, the high end by
    those of the lower hull. O(samples) for natural ground.
    """
    span = sample_spans(profile)
    gap = sample_gaps(spans, profile, unknowns.reference_m, span)
    return _deciding(unknowns, spans, profile, span, gap, 1.0), _deciding(
        unknowns, spans, profile, span, gap, -1.0
    )


def _deciding(
    unknowns: Unknowns,
    spans: TopLineSpans,
    profile: GroundProfile,
    span: IntArray,
    gap: FloatArray,
    sign: float,
) -> GapRows:
    limit = spans.gap_low_m if sign > 0 else spans.gap_high_m
    slack = sign * (gap - limit[span])
    reach = _reach(unknowns, sign)
    start, end = reach[spans.from_post][span], reach[spans.to_post][span]
    may = spans.is_fence[span] & (start + profile.fraction * (end - start) + slack < 0.0)
    rows = np.flatnonzero(may)
    rows = rows[_hull(span[rows], profile.fraction[rows], slack[rows])]
    return GapRows(span[rows], profile.fraction[rows], slack[rows], sign)


def _reach(unknowns: Unknowns, sign: float) -> FloatArray:
    """Furthest move of each top towards the end of the band, times `sign`: 0 or less mostly."""
    bound = unknowns.low_m if sign > 0 else -unknowns.high_m
    padded = np.append(bound, 0.0)
    return np.asarray(padded[unknowns.unknown])


def _hull(span: IntArray, fraction: FloatArray, slack: FloatArray) -> IntArray:
    """Rows on the lower hull of `slack` over `fraction` within each span, and perhaps a few more."""
    rows = np.arange(span.size, dtype=np.int64)
    for _ in range(HULL_PASSES):
        inner = _above_chord(span[rows], fraction[rows], slack[rows])
        if not inner.any():
            break
        rows = rows[~inner]
    return rows


def _above_chord(span: IntArray, fraction: FloatArray, slack: FloatArray) -> BoolArray:
    """Tell which rows lie on or above the chord of their two neighbours in the span."""
    above = np.zeros(span.size, bool)
    if span.size < 3:
        return above
    before, after = np.diff(fraction)[:-1], np.diff(fraction)[1:]
    step = np.diff(slack)
    inside = (span[:-2] == span[2:]) & (before > 0.0) & (after > 0.0)
    above[1:-1] = inside & (step[:-1] * after >= step[1:] * before)
    return above
