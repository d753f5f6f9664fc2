"""Braces: at each rail end and each way from a corner, their feet clear of what lies in the way."""

import math
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from fencewright.findings import NOTE, STOP, Finding, Place
from fencewright.job.settings import Settings
from fencewright.layout.marks import Mark
from fencewright.layout.runs import Stretch
from fencewright.layout.track import Track
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import Role

Floats = NDArray[np.float64]

_REACH_STEP = 0.025  # a foot in the way is moved in steps of this share of the reach ...
_REACH_STEPS = 12  # ... this many each way at most
# none, then steps outward and inward in turn
_OFFSETS = np.array(
    [0, *(sign * step for step in range(1, _REACH_STEPS + 1) for sign in (1, -1))], np.float64
)


@dataclass(frozen=True, slots=True, eq=False)
class PlannedBrace:
    """A brace of one line: its post's mark, the way it points, and where its foot is.

    `behind` is the row of the brace in front of it where it is the second of two, else -1; a horizontal one stands at
    that brace's second upright, a diagonal one at the same post.
    """

    mark: int
    forward: bool
    foot_m: float
    reach_m: float
    heading_rad: float
    foot_xy: Floats
    behind: int = -1


def needs_brace(mark: Mark) -> bool:
    """Tell whether a post is braced along each stretch of fence that meets it."""
    return mark.ends_rail or mark.role is Role.CORNER


def plan_braces(
    track: Track,
    marks: list[Mark],
    stretches: list[Stretch],
    kept_out: list[shapely.Geometry],
    settings: Settings,
    sheets: str,
) -> tuple[list[PlannedBrace], list[Finding]]:
    """Place the braces of a line.

    Parameters
    ----------
    track : Track
        The line over its ground.
    marks, stretches
        Fixed posts and the stretches between them.
    kept_out : list of shapely.Geometry
        Where the centre of a brace's hole may not be.
    settings : Settings
        Reach, holes.
    sheets : str
        `us` or `metric`.

    Returns
    -------
    braces : list of PlannedBrace
        In drawing order, the second of two bays after its first; two ends a stretch at most.
    findings : list of Finding
        `leg-too-short`, `brace-in-clearance` (both `stop`), `brace-moved` (`note`).
    """
    if settings.brace.kind == "none":
        return [], []
    union = shapely.union_all(kept_out) if kept_out else None
    braces: list[PlannedBrace] = []
    findings: list[Finding] = []
    for leg in _legs(marks, stretches):
        findings.extend(_too_short(track, leg, len(_braced(marks, leg)), settings, sheets))
    ends = _ends(track, marks, stretches)
    for end, first in zip(ends, _placed(ends, union, settings), strict=True):
        braces.append(first.brace)
        findings.extend(_place_findings(track, first, sheets))
        if settings.brace.bays > 1:
            second = _place_behind(end.stretch, len(braces) - 1, first.brace, union, settings)
            braces.append(second.brace)
            findings.extend(_place_findings(track, second, sheets))
    return braces, findings


@dataclass(frozen=True, slots=True)
class _End:
    """A braced end of a stretch: its mark, whether the brace points forward, and where and which way it stands."""

    stretch: Stretch
    mark: int
    forward: bool
    base_m: float
    xy: Floats
    heading_rad: float


def _ends(track: Track, marks: list[Mark], stretches: list[Stretch]) -> list[_End]:
    """Give the braced ends of the stretches of fence, in drawing order."""
    kept = [
        (one, mark, forward) for one in stretches if one.opening < 0 for mark, forward in _braced(marks, one)
    ]
    if not kept:
        return []
    base = np.array([one.from_m if forward else one.to_m for one, _, forward in kept])
    ahead = np.array([forward for _, _, forward in kept], np.bool_)
    heading = np.where(ahead, track.heading(base), track.heading(base, before=True) + math.pi)
    return [
        _End(stretch, mark, forward, float(base[row]), xy, float(heading[row]))
        for row, ((stretch, mark, forward), xy) in enumerate(zip(kept, track.at(base), strict=True))
    ]


def _braced(marks: list[Mark], stretch: Stretch) -> list[tuple[int, bool]]:
    """Give the ends of a stretch that are braced along it: mark, and whether the brace points forward."""
    ends = [(stretch.from_mark, True), (stretch.to_mark, False)]
    return [(mark, forward) for mark, forward in ends if needs_brace(marks[mark])]


def _legs(marks: list[Mark], stretches: list[Stretch]) -> list[Stretch]:
    """Join the stretches of fence that only a post which the rail passes straight parts from each other."""
    legs: list[Stretch] = []
    before: Stretch | None = None
    for stretch in stretches:
        mark = marks[stretch.from_mark]
        if stretch.opening < 0 and before is not None and not (needs_brace(mark) or mark.turning_rad):
            legs[-1] = Stretch(legs[-1].from_mark, stretch.to_mark, legs[-1].from_m, stretch.to_m, -1)
        elif stretch.opening < 0:
            legs.append(stretch)
        before = stretch if stretch.opening < 0 else None
    return legs


def _too_short(track: Track, stretch: Stretch, count: int, settings: Settings, sheets: str) -> list[Finding]:
    reach = settings.brace.whole_reach_m
    needed = count * reach + settings.holes.auger_m
    length = stretch.to_m - stretch.from_m
    if not count or length >= needed - 1e-9:
        return []
    show = UnitSystem(sheets)
    what = "brace" if count == 1 else "two braces"
    message = (
        f"The leg of {show.long(length)} is {show.long(needed - length)} too short for its {what} "
        f"of {show.long(reach)} reach."
    )
    remedy = "Lengthen the leg, shorten [brace] reach, or leave the two posts unbraced with [brace] kind."
    place = Place("line", track.line.name, track.line.name, float(track.wrap(np.array([stretch.from_m]))[0]))
    return [Finding(STOP, "leg-too-short", place, message, remedy)]


@dataclass(frozen=True, slots=True, eq=False)
class _Placed:
    """A brace with the station of its base, its usual reach, and whether its foot is clear and the first one tried."""

    brace: PlannedBrace
    base_m: float
    usual_m: float
    is_clear: bool
    is_usual: bool


def _placed(ends: list[_End], kept_out: shapely.Geometry | None, settings: Settings) -> list[_Placed]:
    """Try the stated reach at each end, then others near it, until the foot is clear."""
    if not ends:
        return []
    legs = np.array([end.stretch.to_m - end.stretch.from_m for end in ends])[:, None]
    usual = settings.brace.reach_m
    reach = np.repeat((usual * (1 + _REACH_STEP * _OFFSETS))[None, :], len(ends), axis=0)
    if settings.brace.kind == "horizontal":  # a second upright beyond its leg would stand in the next one
        reach = np.minimum(reach, legs / 2 / settings.brace.bays)
    way = np.array([(math.cos(end.heading_rad), math.sin(end.heading_rad)) for end in ends])
    feet = np.array([end.xy for end in ends])[:, None] + reach[:, :, None] * way[:, None]
    pick, is_clear = _picked(kept_out, feet, np.abs(legs - reach) >= settings.holes.auger_m)
    every = np.arange(len(ends))
    chosen = zip(
        ends, pick.tolist(), is_clear.tolist(), reach[every, pick].tolist(), feet[every, pick], strict=True
    )
    placed = []
    for end, place, clear, reach_m, foot_xy in chosen:
        foot = end.base_m + reach_m if end.forward else end.base_m - reach_m
        brace = PlannedBrace(end.mark, end.forward, foot, reach_m, end.heading_rad, foot_xy)
        placed.append(_Placed(brace, end.base_m, usual, clear, place == 0))
    return placed


def _picked(
    kept_out: shapely.Geometry | None, feet: Floats, is_apart: NDArray[np.bool_]
) -> tuple[NDArray[np.int64], NDArray[np.bool_]]:
    """First foot that is clear and apart from what stands at its leg's end, else clear, and whether it is clear.

    `feet` (braces, places, 2) [m], `is_apart` (braces, places); gives the place and its clearness, (braces,) each.
    """
    is_clear = np.ones(is_apart.shape, bool)
    if kept_out is not None:
        is_clear = ~shapely.intersects_xy(kept_out, feet[:, :, 0], feet[:, :, 1])
    good = is_clear & is_apart
    pick = np.where(good.any(axis=1), good.argmax(axis=1), is_clear.argmax(axis=1))
    return pick, is_clear[np.arange(len(pick)), pick]


def _place_behind(
    stretch: Stretch, front: int, brace: PlannedBrace, kept_out: shapely.Geometry | None, settings: Settings
) -> _Placed:
    """Place the second brace of two bays: beyond the first's second upright, or to a foot beyond the first's."""
    level, sign = settings.brace.kind == "horizontal", 1.0 if brace.forward else -1.0
    way = np.array([math.cos(brace.heading_rad), math.sin(brace.heading_rad)])
    leg, room = stretch.to_m - stretch.from_m, settings.holes.auger_m
    usual = settings.brace.reach_m * (1.0 if level else settings.brace.far_reach)
    reach = usual * (1 + _REACH_STEP * _OFFSETS)
    if level:
        base, start = brace.foot_m, brace.foot_xy
        reach = np.minimum(reach, leg / 2 / settings.brace.bays)
        is_apart = np.abs(leg - brace.reach_m - reach) >= room
    else:
        base, start = brace.foot_m - sign * brace.reach_m, brace.foot_xy - brace.reach_m * way
        is_apart = (np.abs(leg - reach) >= room) & (reach - brace.reach_m >= room)
    feet = start + reach[:, None] * way
    picks, is_clear = _picked(kept_out, feet[None], is_apart[None])
    pick = int(picks[0])
    second = PlannedBrace(
        -1 if level else brace.mark, brace.forward, float(base + sign * reach[pick]), float(reach[pick]),
        brace.heading_rad, feet[pick], front,
    )  # fmt: skip
    return _Placed(second, base, usual, bool(is_clear[0]), pick == 0)


def _place_findings(track: Track, placed: _Placed, sheets: str) -> list[Finding]:
    """Say what became of a foot: its reach, and the usual one."""
    if placed.is_clear and placed.is_usual:
        return []
    station = float(track.wrap(np.array([placed.base_m]))[0])
    place = Place("post", "", track.line.name, station)
    show = UnitSystem(sheets)
    usual = show.small(placed.usual_m)
    if not placed.is_clear:
        message = f"The brace's foot, {usual} from its post, lies in a clearance, as does any place near it."
        remedy = 'Move the post, make the clearance smaller once it is located, or use [brace] kind = "horizontal".'
        return [Finding(STOP, "brace-in-clearance", place, message, remedy)]
    reach = show.small(placed.brace.reach_m)
    message = f"The brace's foot stands {reach} from its post, not {usual}, to keep clear."
    return [Finding(NOTE, "brace-moved", place, message)]


def brace_marks(track: Track, braces: list[PlannedBrace]) -> list[Mark]:
    """Marks of the second uprights of horizontal braces."""
    marks = []
    for row, brace in enumerate(braces):
        station = float(track.wrap(np.array([brace.foot_m]))[0])
        which = (
            "second upright of a horizontal brace" if brace.behind < 0 else "third upright, of its second bay"
        )
        marks.append(Mark(station, Role.BRACE, which, brace_of=row))
    return marks


def upright_of(track: Track, marks: list[Mark], brace: PlannedBrace, number: int) -> Mark:
    """Mark of a horizontal brace's second upright, which may have been merged into one that stands there."""
    own = next((mark for mark in marks if mark.brace_of == number), None)
    if own is not None:
        return own
    station = float(track.wrap(np.array([brace.foot_m]))[0])
    return min(marks, key=lambda mark: abs(mark.station_m - station))
