"""What pricing counts in a design, by line of the fence: posts, holes, brackets, pulls, rail, gates."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.pipeline.bridges import soils_of
from fencewright.pipeline.record import Design
from fencewright.tables.fence import Setting, SpanKind

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class DugHoles:
    """Every hole that is dug, of posts and of brace footings.

    Columns (holes,): `line_index`; `diameter_m`, `depth_m` [m]; `soil_class` of IBC Table 1806.2, 0 where it has none;
    `is_rock` met by the auger, or known; `is_belled`; `spoil_m3` soil that does not go back [m3].
    """

    line_index: Ints
    diameter_m: Floats
    depth_m: Floats
    soil_class: Ints
    is_rock: Flags
    is_belled: Flags
    spoil_m3: Floats

    def __len__(self) -> int:
        """Number of holes."""
        return len(self.line_index)


def dug_holes(design: Design) -> DugHoles:
    """Holes to dig: those of posts not yet set and not driven, then the brace footings.

    Notes
    -----
    A tamped post's soil goes back into its hole but for the post's own volume; concrete displaces all of it.
    A second upright of a horizontal brace is a post; its brace has no hole of its own.
    """
    posts, braces = design.layout.posts, design.layout.braces
    own = ~posts.is_built & (design.holes.set != int(Setting.DRIVEN))
    foot = ~braces.is_horizontal
    soil = np.array([one.soil_class for one in soils_of(design.job, design.layout)], np.int64)
    post_m3 = np.pi / 4 * posts.diameter_m**2 * design.holes.depth_m
    tamped = design.holes.set == int(Setting.TAMPED)
    spoil = np.where(tamped, post_m3, design.holes.spoil_m3)
    concreted = design.holes.set == int(Setting.CONCRETE)
    belled = concreted & (design.holes.bell_m > design.holes.diameter_m + 1e-9)
    rock = np.isfinite(posts.rock_depth_m) | np.isin(soil, (1, 2))
    foot_holes = design.brace_holes
    foot_belled = foot_holes.bell_m > foot_holes.diameter_m + 1e-9
    return DugHoles(
        np.concatenate([posts.line_index[own], braces.line_index[foot]]).astype(np.int64),
        np.concatenate([design.holes.diameter_m[own], foot_holes.diameter_m[foot]]),
        np.concatenate([design.holes.depth_m[own], foot_holes.depth_m[foot]]),
        np.concatenate([soil[own], soil[braces.post_index[foot]]]).astype(np.int64),
        np.concatenate([rock[own], rock[braces.post_index[foot]]]),
        np.concatenate([belled[own], foot_belled[foot]]),
        np.concatenate([spoil[own], foot_holes.spoil_m3[foot]]),
    )


def rail_counts(design: Design, rail: str) -> Mapping[str, Floats]:
    """What each `per` of the hardware rows counts of one rail product, by line. (lines,)

    Returns
    -------
    mapping of str to float array (lines,)
        `pull`, `rail at turning post`, `rail at line post`, `rail at post`, `splice` (split by length of rail),
        and `rail m`, the rail that is paid out, tails included. [m]
    """
    layout, lines = design.layout, len(design.layout.lines)
    strands = design.strands.rail.count(rail)
    spans, posts = layout.spans, layout.posts
    joined = (spans.run_index[:-1] == spans.run_index[1:]) & (spans.run_index[:-1] >= 0)
    inner, line = spans.to_post[:-1][joined], spans.line_index[:-1][joined]
    turns = np.abs(posts.turning_rad[inner]) > 0
    every = np.bincount(line, minlength=lines) * float(strands)
    turning = np.bincount(line[turns], minlength=lines) * float(strands)
    is_own = np.array([design.strands.rail[k] == rail for k in design.pulls.strand.tolist()], bool)
    pull_line = layout.runs.line_index[design.pulls.run_index[is_own]]
    rail_m = np.bincount(pull_line, design.pulls.rail_m[is_own], minlength=lines)
    splices = sum(one.cut_list.splices for one in design.cutting if one.rail == rail)
    whole = float(rail_m.sum())
    return {
        "pull": np.bincount(pull_line, minlength=lines).astype(float),
        "rail at turning post": turning,
        "rail at line post": every - turning,
        "rail at post": every,
        "splice": rail_m * (splices / whole if whole else 0.0),
        "rail m": rail_m,
    }


def fence_counts(design: Design) -> Mapping[str, Floats]:
    """What each `per` of the fence's own hardware rows and of its posts counts, by line. (lines,)"""
    layout, lines = design.layout, len(design.layout.lines)
    posts, braces, spans = layout.posts, layout.braces, layout.spans
    held = design.holes.set

    def count(index: Ints, mask: Flags) -> Floats:
        return np.bincount(index[mask], minlength=lines).astype(float)

    own = ~posts.is_built
    return {
        "brace": count(braces.line_index, np.ones(len(braces), bool)),
        "horizontal brace": count(braces.line_index, braces.is_horizontal),
        "diagonal brace": count(braces.line_index, ~braces.is_horizontal),
        "gate": count(spans.line_index, spans.kind == int(SpanKind.GATE)),
        "crossing": count(spans.line_index, spans.kind == int(SpanKind.CROSSING)),
        "cut post": count(posts.line_index, own),
        "post": count(posts.line_index, own) + count(braces.line_index, ~braces.is_horizontal),
        "tamped post": count(posts.line_index, own & (held == int(Setting.TAMPED))),
        "driven post": count(posts.line_index, own & (held == int(Setting.DRIVEN))),
        "concreted post": count(posts.line_index, own & (held == int(Setting.CONCRETE))),
    }


def concrete_by_line(design: Design) -> Floats:
    """Net concrete of posts and brace footings. (lines,) [m3]"""
    layout, lines = design.layout, len(design.layout.lines)
    posts = np.bincount(layout.posts.line_index, design.holes.concrete_m3, minlength=lines)
    braces = np.bincount(layout.braces.line_index, design.brace_holes.concrete_m3, minlength=lines)
    return np.asarray(posts + braces, np.float64)
