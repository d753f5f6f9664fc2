"""A mark: a station of one line where a post must stand, and why, before line posts are spaced between."""

from dataclasses import dataclass, field

import numpy as np

from fencewright.tables.fence import Role

_RANK = (
    Role.GATE,
    Role.CROSSING,
    Role.END,
    Role.CORNER,
    Role.TEE,
    Role.STRAIN,
    Role.BEND,
    Role.BRACE,
    Role.LINE,
)


@dataclass(slots=True)
class Mark:
    """One fixed station of a line; lengths in metres, angles in radians.

    `opening` is the index of the gate or crossing that begins here, -1 for none; `closes` the one that ends
    here. `ends_rail`: the rail ends here on both sides. `meeting` names the post shared with other lines, -1 for
    none.
    """

    station_m: float
    role: Role
    why: str
    turning_rad: float = 0.0
    ends_rail: bool = False
    opening: int = -1
    closes: int = -1
    meeting: int = -1
    is_built: bool = False
    built_offset_m: float = float("nan")
    built_depth_m: float = float("nan")
    built_ground_m: float = float("nan")
    pinned_height_m: float = float("nan")
    pinned_top_m: float = float("nan")
    rock_depth_m: float = float("nan")
    brace_of: int = field(default=-1)


def rank(role: Role) -> int:
    """Order of roles where one post has several: a gate post at a corner is a gate post."""
    return _RANK.index(role)


def merge_into(kept: Mark, other: Mark) -> None:
    """Let one mark take over another at the same station."""
    if rank(other.role) < rank(kept.role):
        kept.role = other.role
    if other.why and other.why not in kept.why:
        kept.why = f"{kept.why}; {other.why}" if kept.why else other.why
    kept.turning_rad += other.turning_rad
    kept.ends_rail |= other.ends_rail
    kept.opening = other.opening if other.opening >= 0 else kept.opening
    kept.closes = other.closes if other.closes >= 0 else kept.closes
    kept.meeting = other.meeting if other.meeting >= 0 else kept.meeting
    if other.is_built:
        kept.is_built, kept.built_offset_m = True, other.built_offset_m
    for name in ("built_depth_m", "built_ground_m", "pinned_height_m", "pinned_top_m", "rock_depth_m"):
        value = getattr(other, name)
        if not np.isnan(value):
            setattr(kept, name, value)


def add_mark(marks: list[Mark], mark: Mark, snap_m: float, length_m: float, is_closed: bool) -> Mark:
    """Add a mark, or merge it into the nearest one within `snap_m`; returns the mark that stands."""
    return add_marks(marks, [mark], snap_m, length_m, is_closed)[0]


def add_marks(
    marks: list[Mark], new: list[Mark], snap_m: float, length_m: float, is_closed: bool
) -> list[Mark]:
    """Add marks one after the other, each as `add_mark` does; returns the marks that stand for them."""
    station = np.empty(len(marks) + len(new))
    station[: len(marks)] = [mark.station_m for mark in marks]
    standing = []
    for mark in new:
        away = np.abs(station[: len(marks)] - mark.station_m)
        if is_closed:
            away = np.minimum(away, length_m - away)
        nearest = int(np.argmin(away)) if len(marks) else -1
        if nearest >= 0 and away[nearest] <= snap_m:
            merge_into(marks[nearest], mark)
            standing.append(marks[nearest])
            continue
        station[len(marks)] = mark.station_m
        marks.append(mark)
        standing.append(mark)
    return standing
