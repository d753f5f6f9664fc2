"""One line's plan before its line posts: marks, stretches, runs, braces, and where no hole may be."""

from dataclasses import dataclass, field

import numpy as np
import shapely
from numpy.typing import NDArray

from fencewright.findings import Finding
from fencewright.job.record import Job
from fencewright.layout.braces import PlannedBrace, brace_marks, plan_braces, upright_of
from fencewright.layout.fixed_posts import SNAP_M, mark_meetings, mark_wishes, turning_marks
from fencewright.layout.gates import Opening, mark_openings, refuse_inside
from fencewright.layout.junctions import Meeting
from fencewright.layout.marks import Mark, add_marks
from fencewright.layout.rail_side import outer_side, side_findings
from fencewright.layout.runs import Stretch, add_strains, choose_start, drawing_order, runs_of
from fencewright.layout.small_turns import small_turns
from fencewright.layout.track import Track, lay_track
from fencewright.quantity.show import UnitSystem
from fencewright.site.clearances import kept_out_shape, kept_out_stretches
from fencewright.tables.fence import FenceLine

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class LinePlan:
    """What is fixed on one line; `small_turns` (turns, 2) are its turns without a post: station, turning [m, rad]."""

    track: Track
    marks: list[Mark]
    stretches: list[Stretch]
    runs: list[list[Stretch]]
    outer_side: list[int]
    braces: list[PlannedBrace]
    kept_out_m: Floats
    findings: list[Finding] = field(default_factory=list)
    small_turns: Floats = field(default_factory=lambda: np.zeros((0, 2)))


@dataclass(frozen=True, slots=True, eq=False)
class KeptOut:
    """Shapes where no hole's centre may be, for each size of hole."""

    line_hole: list[shapely.Geometry]
    end_hole: list[shapely.Geometry]
    brace_hole: list[shapely.Geometry]


def kept_out_shapes(job: Job) -> KeptOut:
    """Widen every obstacle that bars holes by its clearance and by each hole's radius at its widest."""
    holes = job.settings.holes
    bars = [one for one in job.site.obstacles if not one.is_overhead]
    line_radius = (holes.auger_m + (holes.bell_m if holes.line_set == "concrete" else 0.0)) / 2
    end_radius = (holes.auger_m + holes.bell_m) / 2
    brace_radius = end_radius if job.settings.brace.kind == "horizontal" else holes.auger_m / 2
    return KeptOut(
        [kept_out_shape(one, line_radius) for one in bars],
        [kept_out_shape(one, end_radius) for one in bars],
        [kept_out_shape(one, brace_radius) for one in bars],
    )


def plan_line(
    job: Job,
    index: int,
    line: FenceLine,
    names: list[str],
    meetings: tuple[Meeting, ...],
    openings: list[Opening],
    out: KeptOut,
) -> LinePlan:
    """Fix everything on a line that does not depend on its line posts."""
    settings, show = job.settings, UnitSystem(job.asked.job.sheets)
    track, findings = lay_track(line, job.site.ground, settings.layout.profile_step_m, show)
    marks, said, stubs = turning_marks(line, settings.layout, show)
    findings += said
    track = track.past(stubs)
    mark_meetings(index, line, marks, meetings, names)
    mark_openings(index, line, marks, openings, show)
    mark_wishes(job, line, marks)
    refuse_inside(line, marks, [one for one in openings if one.line_index == index], show)
    choose_start(track, marks)
    legs = track.ring_m[:-1], track.ring_m[1:], line.station_m
    ends_out = np.column_stack(kept_out_stretches(*legs, out.end_hole)[:2])
    small = small_turns(line, settings.layout.straight_angle_rad)
    findings += add_strains(track, marks, ends_out, small, settings, show)
    stretches = drawing_order(track, marks)
    braces, said = plan_braces(track, marks, stretches, out.brace_hole, settings, job.asked.job.sheets)
    findings += said
    if settings.brace.kind == "horizontal":
        add_marks(marks, brace_marks(track, braces), SNAP_M, line.length_m, line.is_closed)
        stretches, braces = _renumbered(track, marks, stretches, braces)
    runs = runs_of(marks, stretches)
    sides = [outer_side(line, marks, run) for run in runs]
    for run in runs:
        findings += side_findings(line, marks, run, show)
    kept = _line_posts_kept_out(job, track, stretches, runs, sides, braces, out)
    return LinePlan(track, marks, stretches, runs, sides, braces, kept, findings, small)


def _renumbered(
    track: Track, marks: list[Mark], old: list[Stretch], braces: list[PlannedBrace]
) -> tuple[list[Stretch], list[PlannedBrace]]:
    """Order stretches again after second uprights were added, and point braces at their marks' new rows."""
    owners = [_owner(track, marks, braces, brace) for brace in braces]
    stretches = drawing_order(track, marks)
    rows = {id(mark): row for row, mark in enumerate(marks)}
    moved = [
        PlannedBrace(rows[id(owner)], b.forward, b.foot_m, b.reach_m, b.heading_rad, b.foot_xy, b.behind)
        for owner, b in zip(owners, braces, strict=True)
    ]
    return stretches, moved


def _owner(track: Track, marks: list[Mark], braces: list[PlannedBrace], brace: PlannedBrace) -> Mark:
    """Mark of the post at which a brace stands: the second upright of the brace in front of it, where there is one."""
    return (
        marks[brace.mark]
        if brace.behind < 0
        else upright_of(track, marks, braces[brace.behind], brace.behind)
    )


def _may_be_unstable(job: Job, line: str) -> bool:
    """Whether line posts of a line may stand in unstable ground, where they are concreted in belled holes."""
    return job.settings.unstable or any(zone.unstable and zone.line == line for zone in job.asked.soil_zone)


def line_post_shift_m(job: Job, line: FenceLine, outer: int) -> float:
    """How far left of the reference line the line posts of a run stand, so that their faces meet the string. [m]

    Notes
    -----
    The string runs along the outer face of the fixed posts. A line post that carries the rail on the same face
    stands on the same side of the string; one that carries it on the other face stands beyond the string.
    """
    posts = job.settings.posts
    face = line.rail_side or outer
    return outer * posts.end_diameter_m / 2 - face * posts.line_diameter_m / 2


def _within(stretch_m: Floats, runs_m: list[tuple[float, float]], line: FenceLine) -> Floats:
    """Cut stretches to the runs whose line posts stand on their side; stations unwrapped as the runs' are."""
    if not len(stretch_m):
        return stretch_m
    shifts = (0.0, line.length_m) if line.is_closed else (0.0,)
    unwrapped = np.vstack([stretch_m + shift for shift in shifts])
    parts = [np.zeros((0, 2))]
    for start, end in runs_m:
        cut = np.clip(unwrapped, start, end)
        parts.append(cut[cut[:, 1] > cut[:, 0]])
    return np.vstack(parts)


def _line_posts_kept_out(
    job: Job,
    track: Track,
    stretches: list[Stretch],
    runs: list[list[Stretch]],
    sides: list[int],
    braces: list[PlannedBrace],
    out: KeptOut,
) -> Floats:
    """Stations where no line post may stand: clearances at the posts' true centres, and brace feet."""
    found = [np.zeros((0, 2))]
    shapes = out.end_hole if _may_be_unstable(job, track.line.name) else out.line_hole
    for side in sorted(set(sides)):
        shift = line_post_shift_m(job, track.line, side)
        normal = np.column_stack([-np.sin(track.heading_rad), np.cos(track.heading_rad)]) * shift
        start, end, _ = kept_out_stretches(
            track.ring_m[:-1] + normal, track.ring_m[1:] + normal, track.line.station_m, shapes
        )
        own = [(run[0].from_m, run[-1].to_m) for run, of in zip(runs, sides, strict=True) if of == side]
        found.append(_within(np.column_stack([start, end]), own, track.line))
    room = job.settings.holes.auger_m
    feet = np.array([[b.foot_m - room, b.foot_m + room] for b in braces]).reshape(-1, 2)
    if job.settings.brace.kind != "horizontal":
        found.append(feet)
    return np.vstack(found)
