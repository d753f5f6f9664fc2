"""Line posts between fixed posts: even along the ground, at dips and crests that need one, none in a clearance."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import STOP, Finding, Place
from fencewright.job.settings import Settings
from fencewright.layout.kept_out import merged_where_touching
from fencewright.layout.runs import Stretch
from fencewright.layout.spacing import Intervals, Points, Spacing, space_posts
from fencewright.layout.track import Track
from fencewright.quantity.show import UnitSystem

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
_ROUNDS = 8  # a post at a crest leaves two shorter spans; after this many halvings none is left to divide


@dataclass(frozen=True, slots=True, eq=False)
class LinePosts:
    """Line posts of all lines.

    `stretch` row of the bay list; `station_m` unwrapped [m]; `is_dip`, `is_crest` flags; all (posts,).
    """

    bay: Ints
    station_m: Floats
    is_dip: NDArray[np.bool_]
    is_crest: NDArray[np.bool_]
    extreme_m: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Bays:
    """Stretches of fence of all lines: `line` row, stations and lengths along the ground, (bays,) each. [m]"""

    line: Ints
    from_m: Floats
    to_m: Floats
    from_slope_m: Floats
    length_m: Floats


def gather_bays(tracks: list[Track], stretches: list[list[Stretch]]) -> Bays:
    """List the stretches of fence, openings left out, line after line in drawing order."""
    line, start, end, base, length = [], [], [], [], []
    for index, (track, own) in enumerate(zip(tracks, stretches, strict=True)):
        fence = [one for one in own if one.opening < 0]
        a, b = np.array([one.from_m for one in fence]), np.array([one.to_m for one in fence])
        slope_a, slope_b = track.slope_at(a), track.slope_at(b)
        line.append(np.full(len(fence), index))
        start.append(a)
        end.append(b)
        base.append(slope_a)
        length.append(slope_b - slope_a)
    return Bays(*(np.concatenate(one) for one in (line, start, end, base, length)))


def place_line_posts(
    tracks: list[Track], bays: Bays, kept_out: list[Floats], settings: Settings, sheets: str
) -> tuple[LinePosts, list[Finding]]:
    """Space the line posts of every bay.

    Parameters
    ----------
    tracks : list of Track
        Lines over their ground.
    bays : Bays
        From `gather_bays`.
    kept_out : list of float array (stretches, 2)
        Per line, unwrapped stations where no line post may stand. [m]
    settings : Settings
        Limit and bands.
    sheets : str
        `us` or `metric`.

    Returns
    -------
    posts : LinePosts
        Sorted by bay and station.
    findings : list of Finding
        `span-over-clearance` (`stop`) where a clearance is wider than the limit.
    """
    forbidden = _forbidden(tracks, bays, kept_out)
    required = Points(np.zeros(0, np.int64), np.zeros(0))
    flags: dict[tuple[int, float], float] = {}
    spacing = space_posts(bays.length_m, settings.layout.spacing_limit_m, forbidden, required)
    for _ in range(_ROUNDS):
        found = _extremes(tracks, bays, spacing, forbidden, required, settings)
        if not len(found.bay_index):
            break
        for bay, at, by in zip(
            found.bay_index.tolist(), found.station_m.tolist(), found.by_m.tolist(), strict=True
        ):
            flags[(bay, round(at, 6))] = by
        required = Points(
            np.concatenate([required.bay_index, found.bay_index]),
            np.concatenate([required.station_m, found.station_m]),
        )
        spacing = space_posts(bays.length_m, settings.layout.spacing_limit_m, forbidden, required)
    return _line_posts(tracks, bays, spacing, flags), _blocked(tracks, bays, spacing, sheets)


def _forbidden(tracks: list[Track], bays: Bays, kept_out: list[Floats]) -> Intervals:
    rows, starts, ends = [], [], []
    for index, (track, own) in enumerate(zip(tracks, kept_out, strict=True)):
        mine = np.flatnonzero(bays.line == index)
        if not len(own) or not len(mine):
            continue
        shifts = (-track.line.length_m, 0.0, track.line.length_m) if track.line.is_closed else (0.0,)
        stretch = merged_where_touching(np.vstack([own + shift for shift in shifts]))
        first = np.searchsorted(bays.to_m[mine], stretch[:, 0], side="right")
        last = np.searchsorted(bays.from_m[mine], stretch[:, 1], side="left")
        slope = track.slope_at(stretch)
        count = np.maximum(last - first, 0)
        row = np.repeat(np.arange(len(stretch)), count)
        own_bays = mine[first[row] + np.arange(len(row)) - np.repeat(np.cumsum(count) - count, count)]
        rows.append(own_bays)
        starts.append(slope[row, 0] - bays.from_slope_m[own_bays])
        ends.append(slope[row, 1] - bays.from_slope_m[own_bays])
    if not rows:
        return Intervals(np.zeros(0, np.int64), np.zeros(0), np.zeros(0))
    return Intervals(np.concatenate(rows), np.concatenate(starts), np.concatenate(ends))


@dataclass(frozen=True, slots=True, eq=False)
class _Extremes:
    bay_index: Ints
    station_m: Floats
    by_m: Floats


def _extremes(
    tracks: list[Track],
    bays: Bays,
    spacing: Spacing,
    forbidden: Intervals,
    required: Points,
    settings: Settings,
) -> _Extremes:
    """Furthest ground from the chord of each span whose gap the bands cannot take; crest positive."""
    found = [
        _line_extremes(track, index, bays, spacing, settings)
        for index, track in enumerate(tracks)
        if np.ptp(track.ground_m) > 0
    ]
    if not found:
        return _Extremes(np.zeros(0, np.int64), np.zeros(0), np.zeros(0))
    bay = np.concatenate([one.bay_index for one in found])
    at = np.concatenate([one.station_m for one in found])
    by = np.concatenate([one.by_m for one in found])
    at = _out_of(bay, at, forbidden)
    least = settings.layout.least_span_m
    good = (at > least) & (at < bays.length_m[bay] - least)
    for row in np.flatnonzero(good).tolist():
        own = required.station_m[required.bay_index == bay[row]]
        good[row] = not len(own) or bool(np.min(np.abs(own - at[row])) >= least)
    return _Extremes(bay[good], at[good], by[good])


def _line_extremes(track: Track, index: int, bays: Bays, spacing: Spacing, settings: Settings) -> _Extremes:
    mine = np.flatnonzero(bays.line == index)
    none = _Extremes(np.zeros(0, np.int64), np.zeros(0), np.zeros(0))
    if not len(mine):
        return none
    counts = np.diff(spacing.bay_start)[mine]
    own = np.repeat(mine, counts)
    first, last = spacing.bay_start[mine[0]], spacing.bay_start[mine[-1] + 1]
    stations = track.station_at(spacing.station_m[first:last] + bays.from_slope_m[own])
    ends = np.concatenate([bays.from_m[mine], bays.to_m[mine], stations])
    knots = np.unique(ends)
    sample, ground = track_samples(track, float(knots[0]), float(knots[-1]))
    away = ground - np.interp(sample, knots, track.elevation(knots))
    over = np.where(away > 0, away - settings.top_line.gap_low_m, -away - settings.top_line.gap_high_m)
    rows = np.flatnonzero(over > 0)
    span = np.clip(np.searchsorted(knots, sample[rows], side="right") - 1, 0, len(knots) - 2)
    middle = (knots[span] + knots[span + 1]) / 2
    bay = mine[np.clip(np.searchsorted(bays.from_m[mine], middle, side="right") - 1, 0, len(mine) - 1)]
    is_fence = middle <= bays.to_m[bay]  # else a gate or a crossing
    rows, span, bay = rows[is_fence], span[is_fence], bay[is_fence]
    if not len(rows):
        return none
    order = np.lexsort((-over[rows], span))
    worst = order[np.concatenate([[True], np.diff(span[order]) > 0])]
    slope = track.slope_at(sample[rows[worst]]) - bays.from_slope_m[bay[worst]]
    return _Extremes(bay[worst], slope, away[rows[worst]])


def track_samples(track: Track, start_m: float, end_m: float) -> tuple[Floats, Floats]:
    """Ground samples between two unwrapped stations."""
    sample, ground = track.sample_m, track.ground_m
    if track.line.is_closed:
        length = track.line.length_m
        sample = np.concatenate([sample[:-1], sample[:-1] + length, [2 * length]])
        ground = np.concatenate([ground[:-1], ground[:-1], ground[:1]])
    inside = slice(np.searchsorted(sample, start_m), np.searchsorted(sample, end_m, side="right"))
    return sample[inside], ground[inside]


def spans_of_samples(knot_m: Floats, sample_m: Floats) -> Ints:
    """Span between rising knots in which each of the rising samples lies, at a knot the later: (samples,).

    -1 before the first knot; from the last knot on the number of spans.
    """
    first = np.searchsorted(sample_m, knot_m)
    begun = np.cumsum(np.bincount(first, minlength=len(sample_m) + 1))
    return np.asarray(begun[: len(sample_m)] - 1, np.int64)


def _out_of(bay: Ints, at_m: Floats, forbidden: Intervals) -> Floats:
    """Move places inside a forbidden stretch to its nearer edge."""
    moved = at_m.copy()
    for row in range(len(at_m)):
        own = np.flatnonzero(forbidden.bay_index == bay[row])
        for one in own.tolist():
            start, end = forbidden.from_m[one], forbidden.to_m[one]
            if start < moved[row] < end:
                moved[row] = start if moved[row] - start <= end - moved[row] else end
    return moved


def _line_posts(
    tracks: list[Track], bays: Bays, spacing: Spacing, flags: dict[tuple[int, float], float]
) -> LinePosts:
    counts = np.diff(spacing.bay_start)
    bay = np.repeat(np.arange(len(counts)), counts)
    slope = spacing.station_m + bays.from_slope_m[bay]
    station = np.empty(len(bay))
    for index, track in enumerate(tracks):
        mine = bays.line[bay] == index
        station[mine] = track.station_at(slope[mine])
    extreme = np.full(len(bay), np.nan)
    if flags:
        named = {(b, s): by for (b, s), by in flags.items()}
        touched = np.flatnonzero(np.isin(bay, np.array([b for b, _ in named])))
        for row in touched.tolist():
            extreme[row] = named.get((int(bay[row]), round(float(spacing.station_m[row]), 6)), np.nan)
    return LinePosts(bay, station, extreme < 0, extreme > 0, extreme)


def _blocked(tracks: list[Track], bays: Bays, spacing: Spacing, sheets: str) -> list[Finding]:
    show = UnitSystem(sheets)
    findings = []
    for bay in np.flatnonzero(~spacing.is_feasible).tolist():
        track = tracks[int(bays.line[bay])]
        ends = np.array([spacing.blocked_from_m[bay], spacing.blocked_to_m[bay]]) + bays.from_slope_m[bay]
        start, end = track.wrap(track.station_at(ends)).tolist()
        wide = float(ends[1] - ends[0])
        message = (
            f"No post can stand on {show.long(wide)} of line {track.line.name} from station {show.long(start)} to "
            f"{show.long(end)}: the span there is longer than the limit."
        )
        remedy = "Move the line, put a [[crossing]] there, or have the service located and its clearance made smaller."
        findings.append(
            Finding(STOP, "span-over-clearance", Place("span", "", track.line.name, start), message, remedy)
        )
    return findings
