"""Line posts of every bay run: fewest posts, then the most even, none where it may not stand."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fencewright.layout.kept_out import RELATIVE_TOLERANCE
from fencewright.layout.spacing_obstructed import space_around

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class Intervals:
    """Open stretches of bay runs where no post may stand; a post may stand on an edge.

    Parameters
    ----------
    bay_index : int array (stretches,)
        Row of the bay run.
    from_m, to_m : float array (stretches,)
        Along the ground from the bay run's first fixed post; may reach past its ends, may overlap,
        in any order. [m]
    """

    bay_index: Ints
    from_m: Floats
    to_m: Floats


@dataclass(frozen=True)
class Points:
    """Stations where a line post must stand: bottoms of dips, tops of crests, posts already set.

    Parameters
    ----------
    bay_index : int array (points,)
        Row of the bay run.
    station_m : float array (points,)
        Along the ground from the bay run's first fixed post. Stands even inside a forbidden stretch;
        one that falls on a fixed post or on another is left out. [m]
    """

    bay_index: Ints
    station_m: Floats


@dataclass(frozen=True)
class Spacing:
    """Line posts of all bay runs, one run's posts after the other's.

    Parameters
    ----------
    bay_start : int array (bays + 1,)
        Posts of bay run b are rows `bay_start[b]` to `bay_start[b + 1]`.
    station_m : float array (posts,)
        Rising within a bay run, fixed posts left out. [m]
    is_feasible : bool array (bays,)
        False where a forbidden stretch is wider than the limit; the layout given then has a post at
        each edge of it and keeps the limit everywhere else.
    blocked_from_m, blocked_to_m : float array (bays,)
        Widest such stretch, NaN where feasible. [m]
    """

    bay_start: Ints
    station_m: Floats
    is_feasible: Bools
    blocked_from_m: Floats
    blocked_to_m: Floats


@dataclass(frozen=True)
class _Sections:
    """Parts of bay runs between posts that stand in any case: (sections,) each."""

    bay: Ints
    from_m: Floats
    to_m: Floats
    limit_m: Floats
    spans: Ints


def space_posts(
    length_m: ArrayLike,
    limit_m: ArrayLike,
    forbidden: Intervals | None = None,
    required: Points | None = None,
) -> Spacing:
    """Stations of the line posts of every bay run.

    Parameters
    ----------
    length_m : float array (bays,)
        From fixed post to fixed post along the ground, 0 or more. [m]
    limit_m : float or float array (bays,)
        Longest span, above 0. [m]
    forbidden : Intervals, optional
        Clearances, already widened by the hole's radius, and brace feet. Default: none.
    required : Points, optional
        Posts that must stand. Default: none.

    Returns
    -------
    Spacing
        Every span at most the limit where feasible; fewest posts; then least sum of squared spans.
        No bay runs give empty arrays; a bay run within the limit gives no posts.

    Raises
    ------
    ValueError
        Where a length, limit, stretch or station is not a finite number, out of its range, or names a
        bay run that is not there.

    Notes
    -----
    A required post parts a bay run into sections that do not bear on each other. An even section
    whose posts are all clear is the answer, in closed form for all at once; the rest go one by one to
    `space_around`. Lengths within 1e-9 of a whole number of limits count as that number, and a post
    within 1e-9 of a limit inside a stretch counts as on its edge. O(posts) and the obstructed rest.

    There is no least span: among layouts with the fewest posts, any two neighbouring spans together
    exceed the limit, so a short span sits between long ones and the most even layout avoids it wherever
    another has none (a search of random bay runs found no exception). Short spans that required posts or two
    nearby clearances force are in `station_m` for the caller to see.

    References
    ----------
    common practice, no source: spacing even between fixed posts, at most the limit.
    """
    lengths = np.atleast_1d(np.asarray(length_m, dtype=np.float64))
    limits = np.broadcast_to(np.asarray(limit_m, dtype=np.float64), lengths.shape)
    _check_bays(lengths, limits)
    sections = _sections_between(lengths, limits, required)
    solved: dict[int, list[float]] = {}
    blocked = np.full((2, lengths.size), np.nan)
    if forbidden is not None and np.size(forbidden.from_m):
        _check_rows(forbidden.bay_index, lengths.size, forbidden.from_m, forbidden.to_m)
        solved = _solve_obstructed(sections, forbidden, blocked)
    bay_start, station_m = _assemble(sections, solved, lengths.size)
    return Spacing(bay_start, station_m, np.isnan(blocked[0]), blocked[0], blocked[1])


def _check_bays(lengths: Floats, limits: Floats) -> None:
    """Refuse lengths and limits that no layout can have."""
    if lengths.ndim != 1:
        raise ValueError("lengths of bay runs must be one list, one number a bay run")
    if not (np.isfinite(lengths).all() and (lengths >= 0.0).all()):
        raise ValueError("every bay run needs a finite length of 0 or more")
    if not (np.isfinite(limits).all() and (limits > 0.0).all()):
        raise ValueError("every bay run needs a finite spacing limit above 0")


def _check_rows(bay_index: Ints, bays: int, *columns: Floats) -> None:
    """Refuse stretches and stations that belong to no bay run or are no numbers."""
    rows = np.asarray(bay_index)
    if any(np.shape(column) != rows.shape for column in columns):
        raise ValueError("stretches and stations need one bay run each")
    if rows.size and not (rows.min() >= 0 and rows.max() < bays):
        raise ValueError(f"a stretch or station names a bay run outside 0 to {bays - 1}")
    if any(np.isnan(column).any() for column in columns):
        raise ValueError("stretches and stations must be numbers")


def _sections_between(lengths: Floats, limits: Floats, required: Points | None) -> _Sections:
    """Bay runs parted at their required posts, each section with its even number of spans."""
    bay = np.arange(lengths.size, dtype=np.int64)
    from_m, to_m = np.zeros(lengths.size), lengths
    if required is not None and np.size(required.station_m):
        _check_rows(required.bay_index, lengths.size, required.station_m)
        point_bay, point_m = _distinct_points(required, lengths, limits)
        order = np.lexsort((np.concatenate([from_m, point_m]), np.concatenate([bay, point_bay])))
        bay = np.concatenate([bay, point_bay])[order]
        from_m = np.concatenate([from_m, point_m])[order]
        is_last = np.append(bay[1:] != bay[:-1], True)
        to_m = np.where(is_last, lengths[bay], np.append(from_m[1:], 0.0))
    section_limit = limits[bay]
    counted = np.ceil((to_m - from_m) / (section_limit * (1.0 + RELATIVE_TOLERANCE)))
    return _Sections(bay, from_m, to_m, section_limit, np.maximum(counted, 1.0).astype(np.int64))


def _distinct_points(required: Points, lengths: Floats, limits: Floats) -> tuple[Ints, Floats]:
    """Stations that are required between the ends, sorted, without repeats."""
    order = np.lexsort((required.station_m, required.bay_index))
    bay = np.asarray(required.bay_index, dtype=np.int64)[order]
    station_m = np.asarray(required.station_m, dtype=np.float64)[order]
    tolerance_m = RELATIVE_TOLERANCE * limits[bay]
    keep = (station_m > tolerance_m) & (station_m < lengths[bay] - tolerance_m)
    keep[1:] &= (bay[1:] != bay[:-1]) | (station_m[1:] - station_m[:-1] > tolerance_m[1:])
    return bay[keep], station_m[keep]


def _section_at(sections: _Sections, bay: Ints, station_m: Floats, before: bool) -> Ints:
    """Section in which each station lies: the earlier at a shared end if `before`, else the later."""
    known, asked = sections.bay.size, bay.size
    rank = np.concatenate(
        [np.full(known, before, dtype=np.int64), np.full(asked, not before, dtype=np.int64)]
    )
    keys = (rank, np.concatenate([sections.from_m, station_m]), np.concatenate([sections.bay, bay]))
    order = np.lexsort(keys)
    place = np.empty(known + asked, dtype=np.int64)
    place[order] = np.cumsum(order < known) - 1
    return place[known:]


def _cut_to_sections(sections: _Sections, forbidden: Intervals) -> tuple[Ints, Floats, Floats]:
    """Stretches cut at required posts: (section, from, to) in order of section."""
    bay = np.asarray(forbidden.bay_index, dtype=np.int64)
    last_of_bay = np.searchsorted(sections.bay, bay, side="right") - 1
    length = sections.to_m[last_of_bay]
    from_m, to_m = np.clip(forbidden.from_m, 0.0, length), np.clip(forbidden.to_m, 0.0, length)
    wide = to_m > from_m
    bay, from_m, to_m = bay[wide], from_m[wide], to_m[wide]
    first = _section_at(sections, bay, from_m, before=False)
    pieces = _section_at(sections, bay, to_m, before=True) - first + 1
    stretch = np.repeat(np.arange(bay.size), pieces)
    section = first[stretch] + np.arange(stretch.size) - np.repeat(np.cumsum(pieces) - pieces, pieces)
    low_m = np.maximum(from_m[stretch], sections.from_m[section])
    high_m = np.minimum(to_m[stretch], sections.to_m[section])
    order = np.argsort(section, kind="stable")
    return section[order], low_m[order], high_m[order]


def _solve_obstructed(sections: _Sections, forbidden: Intervals, blocked: Floats) -> dict[int, list[float]]:
    """Stations of the sections whose even posts would not be clear; fills `blocked` (2, bays)."""
    section, low_m, high_m = _cut_to_sections(sections, forbidden)
    span_m = (sections.to_m - sections.from_m)[section] / sections.spans[section]
    tolerance_m = RELATIVE_TOLERANCE * sections.limit_m[section]
    span_m = np.maximum(span_m, tolerance_m)
    ahead_m = low_m - sections.from_m[section]
    number = np.floor((ahead_m + tolerance_m) / span_m) + 1.0
    is_struck = (number < sections.spans[section]) & (
        number * span_m < high_m - sections.from_m[section] - tolerance_m
    )
    solved: dict[int, list[float]] = {}
    for row in np.unique(section[is_struck]).tolist():
        a, b = np.searchsorted(section, [row, row + 1])
        stretches = list(zip(low_m[a:b].tolist(), high_m[a:b].tolist(), strict=True))
        ends_m = float(sections.from_m[row]), float(sections.to_m[row])
        solved[row], blocking = space_around(*ends_m, float(sections.limit_m[row]), stretches)
        bay = sections.bay[row]
        for from_m, to_m in blocking:
            if not to_m - from_m <= blocked[1, bay] - blocked[0, bay]:
                blocked[:, bay] = from_m, to_m
    return solved


def _assemble(sections: _Sections, solved: dict[int, list[float]], bays: int) -> tuple[Ints, Floats]:
    """All sections' posts in order, a required post at each seam: (bays + 1,), (posts,)."""
    at_seam = np.zeros(sections.bay.size, dtype=np.int64)
    at_seam[:-1] = sections.bay[1:] == sections.bay[:-1]
    between = sections.spans - 1
    rows = np.fromiter(solved, dtype=np.int64, count=len(solved))
    between[rows] = [len(stations) for stations in solved.values()]
    posts = between + at_seam
    start = np.concatenate([[0], np.cumsum(posts)])
    span_m = (sections.to_m - sections.from_m) / sections.spans
    number = np.arange(1, start[-1] + 1, dtype=np.float64)
    number -= np.repeat(start[:-1].astype(np.float64), posts)
    station_m = number * np.repeat(span_m, posts)
    if sections.bay.size > bays:
        station_m += np.repeat(sections.from_m, posts)
    for row, stations in solved.items():
        station_m[start[row] : start[row] + len(stations)] = stations
    is_seam = at_seam == 1
    station_m[start[1:][is_seam] - 1] = sections.to_m[is_seam]
    bay_start = start[np.searchsorted(sections.bay, np.arange(bays + 1))]
    return bay_start, station_m
