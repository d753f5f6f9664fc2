"""Runs: where the rail ends, and strain posts where one pull would be too long or turn too much."""

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from fencewright.findings import STOP, Finding, Place
from fencewright.job.settings import LayoutSettings, Settings
from fencewright.layout.kept_out import merged_where_touching
from fencewright.layout.marks import Mark
from fencewright.layout.small_turns import shifted_out_m, turns_between
from fencewright.layout.strain_posts import divide_run
from fencewright.layout.track import Track
from fencewright.mechanics.belt_friction import turning_for_share
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import Role


@dataclass(frozen=True, slots=True, eq=False)
class Stretch:
    """A piece of fence or an opening between two marks, in drawing order; `to_m` may pass a closed line's end."""

    from_mark: int
    to_mark: int
    from_m: float
    to_m: float
    opening: int


def turning_limit_rad(settings: LayoutSettings) -> float:
    """Most turning in one pull: what still leaves the far end its share of the tension. [rad]"""
    return turning_for_share(settings.far_end_share, settings.friction_worked)


def choose_start(track: Track, marks: list[Mark]) -> None:
    """Start and finish the rail of a closed line without an end at the post that turns most.

    A closed line that nowhere turns enough for a post of its own starts at its first point.
    """
    if any(mark.ends_rail for mark in marks):
        return
    if not marks:
        marks.append(Mark(0.0, Role.STRAIN, ""))
    best = max(marks, key=lambda mark: (round(abs(mark.turning_rad), 9), -mark.station_m))
    best.ends_rail = True
    if best.role not in (Role.CORNER, Role.TEE):
        best.role = Role.STRAIN
    best.why = (best.why + "; " if best.why else "") + "the rail of this closed line starts and finishes here"


def drawing_order(track: Track, marks: list[Mark]) -> list[Stretch]:
    """Stretches from mark to mark in the order in which the rail is drawn.

    A closed line starts at the first rail end that no opening follows, so that no run is cut by station 0; its
    stations then go on past its length.
    """
    marks.sort(key=lambda mark: mark.station_m)
    length, closed = track.line.length_m, track.line.is_closed
    count = len(marks)
    first = 0
    if closed:
        first = next((k for k, m in enumerate(marks) if m.ends_rail and m.opening < 0), 0)
    order = [(first + k) % count for k in range(count)] + ([first] if closed else [])
    stretches = []
    start = marks[first].station_m
    for before, after in pairwise(order):
        end = marks[after].station_m
        while closed and end <= start + 1e-9:
            end += length
        stretches.append(Stretch(before, after, start, end, marks[before].opening))
        start = end
    return stretches


def runs_of(marks: list[Mark], stretches: list[Stretch]) -> list[list[Stretch]]:
    """Gather stretches into runs between rail ends, openings left out."""
    runs: list[list[Stretch]] = []
    current: list[Stretch] = []
    for stretch in stretches:
        if stretch.opening >= 0:
            continue
        current.append(stretch)
        if marks[stretch.to_mark].ends_rail:
            runs.append(current)
            current = []
    if current:
        runs.append(current)
    return runs


def add_strains(
    track: Track,
    marks: list[Mark],
    kept_out: np.ndarray,
    small: np.ndarray,
    settings: Settings,
    show: UnitSystem,
) -> list[Finding]:
    """Divide runs that one tensioner cannot draw.

    Parameters
    ----------
    track : Track
        The line over its ground.
    marks : list of Mark
        Fixed posts; strain posts are added, and corners that become rail ends are marked so.
    kept_out : float array (stretches, 2)
        Stations where no strain post may stand. [m]
    small : float array (turns, 2)
        Turns without a post, as `small_turns` gives them: station [m], turning [rad].
    settings : Settings
        Limits, and the braces' reach: a strain post keeps two braces' room from a turning post.
    show : UnitSystem
        Units of the findings and of why a post stands.

    Returns
    -------
    list of Finding
        `no-strain-post` where clearances leave no place for one.
    """
    findings: list[Finding] = []
    layout = settings.layout
    limit = turning_limit_rad(layout)
    new: list[Mark] = []
    room_m = 2.5 * settings.brace.whole_reach_m
    runs = runs_of(marks, drawing_order(track, marks))
    inners = [[(stretch.to_m, marks[stretch.to_mark]) for stretch in run[:-1]] for run in runs]
    barreds = [
        _barred(track, kept_out, inner, run[0].from_m, run[-1].to_m, room_m)
        for run, inner in zip(runs, inners, strict=True)
    ]
    slopes = _slopes(track, runs, inners, barreds)
    for run, inner, slope in zip(runs, inners, slopes, strict=True):
        start, end = run[0].from_m, run[-1].to_m
        base = float(slope[0])
        length = float(slope[1]) - base
        barred = (slope[2 + len(inner) :] - base).reshape(-1, 2)
        at = slope[2 : 2 + len(inner)] - base
        turning_at, turning = _turns(track, inner, at, turns_between(small, start, end), base, barred)
        division = divide_run(
            length,
            turning_at,
            turning,
            layout.pull_length_limit_m,
            limit,
            barred,
            layout.ground_turning_rad_per_m,
        )
        why = _why(length, float(turning.sum()), layout, limit, show)
        for at in np.asarray(track.station_at(division.station_m + base)).tolist():
            _strain_at(track, new, inner, at, why)
        if not division.is_feasible:
            findings.append(
                _blocked(track, division.blocked_from_m + base, division.blocked_to_m + base, show)
            )
    marks.extend(new)
    return findings


def _slopes(
    track: Track, runs: list[list[Stretch]], inners: list[list[tuple[float, Mark]]], barreds: list[np.ndarray]
) -> list[np.ndarray]:
    """Way along the slope of each run's start and end, its inner marks, and the edges of what is barred. [m]"""
    asked = [
        np.concatenate([[run[0].from_m, run[-1].to_m], [station for station, _ in inner], barred.ravel()])
        for run, inner, barred in zip(runs, inners, barreds, strict=True)
    ]
    if not asked:
        return []
    return np.split(track.slope_at(np.concatenate(asked)), np.cumsum([len(one) for one in asked])[:-1])


def _turns(
    track: Track,
    inner: list[tuple[float, Mark]],
    at: np.ndarray,
    small: np.ndarray,
    base: float,
    barred: np.ndarray,
) -> tuple[np.ndarray, np.ndarray]:
    """Give every turn of a run by its way along the slope [m], and how much it turns [rad]; `at` those of the marks.

    A turn without a post where none may stand counts at the edge of that stretch: a run may be divided at a turn.
    """
    size = np.array([abs(mark.turning_rad) for _, mark in inner])
    if not len(small):
        return at, size
    bare = shifted_out_m(track.slope_at(small[:, 0]) - base, barred)
    order = np.argsort(np.concatenate([at, bare]), kind="stable")
    return np.concatenate([at, bare])[order], np.concatenate([size, small[:, 1]])[order]


def _barred(
    track: Track,
    kept_out: np.ndarray,
    inner: list[tuple[float, Mark]],
    start: float,
    end: float,
    room_m: float,
) -> np.ndarray:
    """Stretches of a run where no new post may stand, by station: (stretches, 2). [m]"""
    shifts = (0.0, track.line.length_m) if track.line.is_closed else (0.0,)
    spans = (
        [merged_where_touching(np.vstack([kept_out + shift for shift in shifts]))] if len(kept_out) else []
    )
    near = [(at - room_m, at + room_m) for at, _ in inner] + [(start, start + room_m), (end - room_m, end)]
    spans.append(np.array(near))
    stretch = np.vstack(spans)
    return np.asarray(stretch[(stretch[:, 1] > start) & (stretch[:, 0] < end)])


def _why(
    length_m: float, turning_rad: float, settings: LayoutSettings, limit_rad: float, show: UnitSystem
) -> str:
    if length_m > settings.pull_length_limit_m:
        longest = show.long(settings.pull_length_limit_m)
        return f"the run of {show.long(length_m)} is longer than one pull's {longest}"
    return (
        f"the run turns {math.degrees(turning_rad):.0f} deg, and over the ground, more than one pull's "
        f"{math.degrees(limit_rad):.0f} deg"
    )


def _strain_at(track: Track, new: list[Mark], inner: list[tuple[float, Mark]], at_m: float, why: str) -> None:
    for station, mark in inner:
        if abs(station - at_m) < 1e-4:
            mark.ends_rail = True
            mark.role = Role.STRAIN if mark.role is Role.BEND else mark.role
            mark.why += f"; the rail ends here both ways: {why}"
            return
    new.append(Mark(float(track.wrap(np.array([at_m]))[0]), Role.STRAIN, why, ends_rail=True))


def _blocked(track: Track, from_slope_m: float, to_slope_m: float, show: UnitSystem) -> Finding:
    start, end = (float(track.station_at(np.array([s]))[0]) for s in (from_slope_m, to_slope_m))
    first, last = show.long(start), show.long(end)
    message = f"No strain post can stand between station {first} and {last}, yet the rail must end there."
    remedy = "Move the line, or have the service located and its clearance made smaller."
    return Finding(
        STOP, "no-strain-post", Place("line", track.line.name, track.line.name, start), message, remedy
    )
