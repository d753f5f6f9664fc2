"""Fixed posts of each line: ends, corners, bends, tees, forced strains, pins, posts already set, rock."""

import math

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import NOTE, Finding, InputError, Place
from fencewright.geometry.polyline import turnings
from fencewright.job.record import Job
from fencewright.job.settings import LayoutSettings
from fencewright.layout.junctions import Meeting
from fencewright.layout.marks import Mark, add_mark
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import FenceLine, Role

SNAP_M = 0.05  # a station given by hand falls on a fixed post when this near
_PAST_END_M = 0.002  # the end's own station, as an edit writes it: to 1 mm or 0.001 ft
_ZONE_PAST_END_M = 0.5  # a zone to the line's end, its length rounded by hand
STRAIN_SNAP_M = 0.3  # a strain asked for this near a corner is meant for the corner
BUILT_SNAP_M = 0.3  # a post already set answers for a fixed post this near: nobody sets two there


def turning_marks(
    line: FenceLine, settings: LayoutSettings, show: UnitSystem
) -> tuple[list[Mark], list[Finding], NDArray[np.int64]]:
    """Mark ends, corners and bends of a line.

    Returns
    -------
    marks : list of Mark
        By station. Turning points closer together than two holes can be are one post, that of the first of them along
        the line, which takes all their turnings; on a closed line across its first point too.
    findings : list of Finding
        `bends-merged`.
    stubs : int array (stubs,)
        Legs between turning points that share a post: no fence runs along them.
    """
    turning = turnings(line.xy_m, line.is_closed)
    size = np.abs(turning)
    is_mark = size >= settings.straight_angle_rad - 1e-12
    if not line.is_closed:
        is_mark[[0, -1]] = True
    marks: list[Mark] = []
    stubs: list[int] = []
    merged, before, points = 0, 0, len(line.xy_m)
    for row in _from_a_gap(line, np.flatnonzero(is_mark), settings.least_span_m):
        station = float(line.station_m[row])
        if not line.is_closed and row in (0, points - 1):
            which = "starts" if row == 0 else "ends"
            marks.append(Mark(station, Role.END, f"the line {which} here", ends_rail=True))
            continue
        if (
            marks
            and (station - marks[-1].station_m) % line.length_m < settings.least_span_m
            and marks[-1].role in (Role.CORNER, Role.BEND)
        ):
            marks[-1].turning_rad += float(turning[row])
            stubs += (leg % points for leg in range(before, row if row > before else row + points))
            merged += 1
        else:
            marks.append(Mark(station, Role.BEND, "", float(turning[row])))
        before = row
    marks.sort(key=lambda mark: mark.station_m)
    for mark in marks:
        if mark.role is not Role.END:
            _name_turning(mark, settings)
    findings = []
    if merged:
        near = show.small(settings.least_span_m)
        message = (
            f"1 turning point stands nearer to the next than {near} and shares its post."
            if merged == 1
            else f"{merged} turning points stand nearer to the next than {near} and share its post."
        )
        findings.append(Finding(NOTE, "bends-merged", Place("line", line.name, line.name), message))
    return marks, findings, np.array(stubs, np.int64)


def _from_a_gap(line: FenceLine, rows: NDArray[np.int64], least_m: float) -> list[int]:
    """Turning points in the line's order; a closed line's from the first that none stands near before."""
    if not line.is_closed or len(rows) < 2:
        return [int(row) for row in rows]
    gap = np.mod(line.station_m[rows] - line.station_m[np.roll(rows, 1)], line.length_m)
    return [int(row) for row in np.roll(rows, -int(np.argmax(gap >= least_m)))]


def _name_turning(mark: Mark, settings: LayoutSettings) -> None:
    degrees = math.degrees(mark.turning_rad)
    side = "left" if degrees > 0 else "right"
    if abs(mark.turning_rad) >= settings.corner_angle_rad - 1e-12:
        mark.role, mark.why = Role.CORNER, f"the line turns {abs(degrees):.1f} deg {side}"
    else:
        limit = math.degrees(settings.corner_angle_rad)
        mark.role = Role.BEND
        mark.why = f"the line bends {abs(degrees):.1f} deg {side}, less than a corner's {limit:.0f} deg"


def mark_meetings(
    index: int, line: FenceLine, marks: list[Mark], meetings: tuple[Meeting, ...], names: list[str]
) -> None:
    """Mark the posts that a line shares with others."""
    for number, meeting in enumerate(meetings):
        if index not in meeting.line_index:
            continue
        station = meeting.station_m[meeting.line_index.index(index)]
        others = ", ".join(f'"{names[k]}"' for k in meeting.line_index if k != index)
        mark = Mark(station, Role.TEE, f"shared with line {others}", meeting=number)
        add_mark(marks, mark, SNAP_M, line.length_m, line.is_closed)


def mark_wishes(job: Job, line: FenceLine, marks: list[Mark]) -> None:
    """Mark what the job fixes by line and station: strains, pins, posts already set, holes that met rock."""
    show = UnitSystem(job.asked.job.sheets)
    for wish in (w for w in job.asked.strain if w.line == line.name):
        station = held_station(line, wish.at, "strain", show)
        mark = Mark(station, Role.STRAIN, "the job ends the rail here", ends_rail=True)
        add_mark(marks, mark, STRAIN_SNAP_M, line.length_m, line.is_closed)
    pinned: dict[int, float] = {}
    for pin in (w for w in job.asked.pin if w.line == line.name):
        mark = Mark(held_station(line, pin.at, "pin", show), Role.LINE, "pinned in the job")
        mark.pinned_height_m = math.nan if pin.height is None else pin.height
        mark.pinned_top_m = math.nan if pin.top is None else pin.top
        kept = add_mark(marks, mark, SNAP_M, line.length_m, line.is_closed)
        _refuse_second(line, "pin", pinned, kept, pin.at, show)
    built_at: dict[int, float] = {}
    for built in (w for w in job.asked.built if w.line == line.name):
        offset = math.nan if built.offset is None else built.offset
        if abs(offset) > job.settings.layout.spacing_limit_m / 2:
            raise InputError(
                f"a post {show.long(abs(offset))} beside the line is none of it: check its unit",
                item="built, offset",
            )
        mark = Mark(held_station(line, built.at, "built", show), Role.LINE, "already set", is_built=True)
        mark.built_offset_m = offset
        mark.built_depth_m = math.nan if built.depth is None else built.depth
        mark.built_ground_m = math.nan if built.ground is None else built.ground
        mark.pinned_height_m = math.nan if built.height is None else built.height
        kept = add_mark(marks, mark, BUILT_SNAP_M, line.length_m, line.is_closed)
        _refuse_second(line, "built", built_at, kept, built.at, show)
    rock_at: dict[int, float] = {}
    for rock in (w for w in job.asked.rock if w.line == line.name):
        mark = Mark(held_station(line, rock.at, "rock", show), Role.LINE, "the hole met rock")
        mark.rock_depth_m = rock.depth
        kept = add_mark(marks, mark, SNAP_M, line.length_m, line.is_closed)
        _refuse_second(line, "rock", rock_at, kept, rock.at, show)


def _refuse_second(
    line: FenceLine, item: str, seen: dict[int, float], mark: Mark, at_m: float, show: UnitSystem
) -> None:
    """Refuse a second wish of one kind for one post: one of the two would be lost."""
    if id(mark) in seen:
        raise InputError(
            f'those at {show.station(seen[id(mark)])} and at {show.station(at_m)} of line "{line.name}" mean the same '
            "post: keep one",
            item=f"[[{item}]]",
        )
    seen[id(mark)] = at_m


def held_station(line: FenceLine, station_m: float, item: str, show: UnitSystem) -> float:
    """Check that a station lies on its line.

    Raises
    ------
    InputError
        Beyond the line's end.
    """
    if station_m > line.length_m + _PAST_END_M:
        raise _past_end(line, station_m, item, show)
    if line.is_closed and station_m >= line.length_m - 1e-9:
        return station_m - line.length_m if station_m > line.length_m else 0.0
    return min(station_m, line.length_m)


def refuse_far_zones(job: Job, lines: tuple[FenceLine, ...]) -> None:
    """Check that soil zones begin and end on their lines.

    Raises
    ------
    InputError
        `from` or `to` lies beyond the line's end, by more than a length rounded by hand.
    """
    show = UnitSystem(job.asked.job.sheets)
    named = {line.name: line for line in lines}
    for number, zone in enumerate(job.asked.soil_zone):
        line = named[zone.line]
        for key, station_m in (("from", zone.start), ("to", zone.end)):
            if station_m > line.length_m + _ZONE_PAST_END_M:
                raise _past_end(line, station_m, f"soil_zone {number + 1}, {key}", show)


def _past_end(line: FenceLine, station_m: float, item: str, show: UnitSystem) -> InputError:
    return InputError(
        f'station {show.station(station_m)} lies beyond the end of line "{line.name}", which is '
        f"{show.station(line.length_m)} long",
        item=item,
    )
