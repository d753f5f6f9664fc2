"""The samples of the ground that can decide a gap: the rest is implied and is left out."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fencewright.tables.top_line import BoolArray, FloatArray, GroundProfile, IntArray, TopLineSpans
from fencewright.topline.bands import Unknowns

#: Passes of the hull; each halves a rough profile, and what is left over is only not pruned.
HULL_PASSES = 40
#: Samples that are looked at together: what is reckoned for them stays in the processor's cache.
PART = 8_192


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
    start, rise = _lowest_rails(spans, top_m)
    return np.asarray(start[span] + profile.fraction * rise[span] - profile.ground_m)


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
    start, rise = _lowest_rails(spans, unknowns.reference_m)
    ends = (
        (1.0, spans.gap_low_m, *_reach(unknowns, spans, 1.0)),
        (-1.0, spans.gap_high_m, *_reach(unknowns, spans, -1.0)),
    )
    rows: tuple[list[IntArray], list[IntArray]] = ([], [])
    slacks: tuple[list[FloatArray], list[FloatArray]] = ([], [])
    for first in range(0, span.size, PART):
        part = slice(first, first + PART)
        of, fraction = span[part], profile.fraction[part]
        gap = start[of] + fraction * rise[of] - profile.ground_m[part]
        for (sign, limit, reach, reach_rise), row, slack in zip(ends, rows, slacks, strict=True):
            inside = sign * (gap - limit[of])
            may = np.flatnonzero(reach[of] + fraction * reach_rise[of] + inside < 0.0)
            may = may[spans.is_fence[of[may]]]
            row.append(may + first)
            slack.append(inside[may])
    low, high = (
        _hulled(span, profile, row, slack, sign)
        for row, slack, sign in zip(rows, slacks, (1.0, -1.0), strict=True)
    )
    return low, high


def _hulled(
    span: IntArray, profile: GroundProfile, rows: list[IntArray], slacks: list[FloatArray], sign: float
) -> GapRows:
    """Rows of the hull among samples that may touch their band."""
    row = np.concatenate([np.zeros(0, np.int64), *rows])
    slack = np.concatenate([np.zeros(0), *slacks])
    kept = _hull(span[row], profile.fraction[row], slack)
    row = row[kept]
    return GapRows(span[row], profile.fraction[row], slack[kept], sign)


def _lowest_rails(spans: TopLineSpans, top_m: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Lowest rail at each span's first post, and its rise to the second: (spans,) each. [m]"""
    return top_m[spans.from_post] - spans.drop_m, top_m[spans.to_post] - top_m[spans.from_post]


def _reach(unknowns: Unknowns, spans: TopLineSpans, sign: float) -> tuple[FloatArray, FloatArray]:
    """Furthest move of each span's first top towards the end of the band, times `sign`, and the rise to the second's.

    0 or less mostly.
    """
    bound = unknowns.low_m if sign > 0 else -unknowns.high_m
    reach = np.append(bound, 0.0)[unknowns.unknown]
    return reach[spans.from_post], reach[spans.to_post] - reach[spans.from_post]


def _hull(span: IntArray, fraction: FloatArray, slack: FloatArray) -> IntArray:
    """Rows on the lower hull of `slack` over `fraction` within each span, and perhaps a few more."""
    rows = np.arange(span.size, dtype=np.int64)
    settled: list[IntArray] = []
    for _ in range(HULL_PASSES):
        inner = _above_chord(span[rows], fraction[rows], slack[rows])
        if not inner.any():
            break
        is_open = np.zeros(int(span[-1]) + 1, bool)
        is_open[span[rows[inner]]] = True  # only where a row fell can another fall
        rows = rows[~inner]
        again = is_open[span[rows]]
        settled.append(rows[~again])
        rows = rows[again]
    return np.sort(np.concatenate([*settled, rows]))


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
