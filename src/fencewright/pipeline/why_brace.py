"""Why a brace is as long, and its footing as large, as it is."""

import math
from dataclasses import replace

import numpy as np

from fencewright.layout.braces import PlannedBrace
from fencewright.layout.line_plan import LinePlan
from fencewright.layout.marks import Mark
from fencewright.layout.table_parts import brace_table
from fencewright.layout.track import Track
from fencewright.pipeline.record import Design, brace_id, post_id
from fencewright.pipeline.why_check import brace_check_reasons
from fencewright.pipeline.why_hole import bags_reason, depth_inputs, governs_text, loads_input, smaller_text
from fencewright.pipeline.why_origin import asked, computed, ground_origin, practice, source_of
from fencewright.pipeline.why_record import Explanation, Reason
from fencewright.pipeline.why_strength import StrengthPart, strength_part
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import Braces, Holes, Role
from fencewright.takeoff.holes import footings_at
from fencewright.topline.cuts import CutPractice, post_cuts

_SAME_M = 1e-6


def explain_brace(design: Design, row: int) -> Explanation:
    """Explain every number of a brace."""
    braces = design.layout.braces
    one = brace_again(design, row)
    held = strength_part(design, braces.post_index[row : row + 1])
    reasons = [
        _reach(design, row, one),
        _contact(design, one),
        _length(design, row, one),
        _stock(design, one),
    ]
    if not bool(one.is_horizontal[0]):
        sizes, own = held.sized.brace_sizes, held.brace(row)
        depth, wide = sizes.depth_m[own : own + 1], design.brace_holes.diameter_m[row : row + 1]
        footing = footings_at(one, design.job.settings, depth, (sizes.governs[own],), wide)
        reasons += [
            _depth(design, footing, held, own),
            _concrete(design, footing),
            bags_reason(design, float(footing.concrete_m3[0])),
        ]
    reasons += brace_check_reasons(design, row, held)
    post = int(braces.post_index[row])
    line = design.layout.lines[int(braces.line_index[row])].name
    kind = "horizontal" if bool(one.is_horizontal[0]) else "diagonal"
    show = UnitSystem(design.job.asked.job.sheets)
    where = f'{kind} brace of {post_id(post)}, line "{line}", foot at station {show.long(float(braces.station_m[row]))}'
    return Explanation(brace_id(row), "brace", where, tuple(reasons))


def brace_again(design: Design, row: int) -> Braces:
    """Run the layout's own brace table on one brace."""
    braces, posts = design.layout.braces, design.layout.posts
    line = design.layout.lines[int(braces.line_index[row])]
    post, second = int(braces.post_index[row]), int(braces.second_post[row])
    nothing = np.zeros(0)
    track = Track(line, line.xy_m, nothing, nothing, nothing, nothing)
    station = float(braces.station_m[row])
    marks = [Mark(float(posts.station_m[post]), Role(int(posts.role[post])), "")]
    place = [post]
    if second >= 0:
        marks.append(Mark(station, Role.BRACE, "", brace_of=0))
        place.append(second)
    foot = np.array([braces.x_m[row], braces.y_m[row]])
    planned = PlannedBrace(0, True, station, float(braces.reach_m[row]), 0.0, foot)
    plan = LinePlan(track, marks, [], [], [], [planned], np.zeros((0, 2)))
    made = brace_table(design.job, [plan], [0], np.array(place), posts)
    return replace(made, line_index=braces.line_index[row : row + 1])


def _is_far(design: Design, row: int) -> bool:
    """Whether it is the farther of two diagonals, one behind the other."""
    braces = design.layout.braces
    mine = (braces.post_index == braces.post_index[row]) & (braces.line_index == braces.line_index[row])
    mine &= ~braces.is_horizontal & (braces.reach_m < braces.reach_m[row] - _SAME_M)
    away = np.hypot(braces.x_m[mine] - braces.x_m[row], braces.y_m[mine] - braces.y_m[row])
    return bool((away < braces.reach_m[row]).any())


def _reach(design: Design, row: int, one: Braces) -> Reason:
    job, reach = design.job, float(one.reach_m[0])
    default = "brace.horizontal_reach" if bool(one.is_horizontal[0]) else "brace.reach"
    is_far, show = _is_far(design, row), UnitSystem(job.asked.job.sheets)
    usual = job.settings.brace.reach_m * (job.settings.brace.far_reach if is_far else 1.0)
    says = (
        ("the usual reach of a second diagonal" if is_far else "its usual reach")
        if abs(reach - usual) < _SAME_M
        else f"not the usual {show.small(usual)}, to keep its hole clear"
    )
    inputs = [asked(job, "brace.reach", default, ("r", "reach"), job.settings.brace.reach_m)]
    if is_far:
        far = ("k", "of a second diagonal, as a part of it")
        inputs.append(practice(job, "brace.far_reach", far, job.settings.brace.far_reach, "1"))
    return Reason(
        "reach",
        says,
        tuple(inputs),
        "as stated, else practice; moved in small steps out and in until its hole is clear of what lies in the way",
        f"{'k r' if is_far else 'r'}, or the nearest reach that is clear",
        reach,
        "m",
        source_of(job, "brace.reach", default),
        "a smaller [brace] reach: a steeper brace, which lifts its post more",
    )


def _contact(design: Design, one: Braces) -> Reason:
    job = design.job
    contact = float(one.contact_m[0])
    return Reason(
        "contact",
        "where the brace meets its post",
        (asked(job, "brace.contact", "brace.contact", ("c", "height on the post"), contact),),
        "as stated, else practice",
        "c",
        contact,
        "m",
        source_of(job, "brace.contact", "brace.contact"),
        "[brace] contact",
    )


def _length(design: Design, row: int, one: Braces) -> Reason:
    job, post = design.job, int(one.post_index[0])
    level = bool(one.is_horizontal[0])
    inputs = [computed("r", "reach", float(one.reach_m[0]))]
    if not level:
        inputs += [
            computed("c", "contact on the post", float(one.contact_m[0])),
            computed(
                "z_p",
                "ground at the post",
                float(design.layout.posts.ground_m[post]),
                "m",
                ground_origin(job),
            ),
            computed("z_b", "ground at the foot", float(one.ground_m[0]), "m", ground_origin(job)),
            practice(
                job,
                "holes.brace_top",
                ("b", "footing's concrete stops below grade by"),
                job.settings.holes.brace_top_m,
            ),
        ]
    return Reason(
        "length",
        "level, from post to post" if level else "from the post down to the footing's concrete",
        tuple(inputs),
        "the reach" if level else "hypotenuse of the reach and of the rise from the footing to the contact",
        "l = r" if level else "l = sqrt(r^2 + (c + z_p - z_b + b)^2)",
        float(one.length_m[0]),
        "m",
        next_smaller="a shorter reach or a lower contact",
    )


def _stock(design: Design, one: Braces) -> Reason:
    job, settings = design.job, design.job.settings.brace
    length, zero = one.length_m, np.zeros(1)
    chosen = post_cuts(length, zero, zero, np.array(settings.lengths_m), CutPractice(0.0, 0.0, math.inf))
    stock = float(chosen.stock_length_m[0])
    shorter = [other for other in settings.lengths_m if other < stock - 1e-9]
    show = UnitSystem(job.asked.job.sheets)
    inputs = (
        computed("l", "length", float(length[0])),
        asked(job, "brace.lengths", "brace.lengths", ("stock", "lengths that are sold"), settings.lengths_m),
    )
    smaller = f"{show.small(float(length[0]) - max(shorter))} shorter, by reach or contact" if shorter else ""
    return Reason(
        "stock length",
        "none is long enough" if math.isnan(stock) else "the smallest that is long enough",
        inputs,
        "the smallest stock of at least the length",
        "least of stock >= l",
        stock,
        "m",
        source_of(job, "brace.lengths", "brace.lengths"),
        "" if math.isnan(stock) else smaller,
    )


def _depth(design: Design, footing: Holes, held: StrengthPart, own: int) -> Reason:
    governs = footing.governs[0]
    return Reason(
        "footing depth",
        governs_text(governs),
        (
            *depth_inputs(design, "brace"),
            loads_input(design, float(held.sized.brace_sizes.least_depth_m[own])),
        ),
        "as stated; else practice, at least a little below frost, and deepened in steps to what the greatest pull asks for, "
        "as deep as can be dug where none passes",
        "d = stated, else max(d_p, z_f + e, d_l in steps)",
        float(footing.depth_m[0]),
        "m",
        source_of(design.job, "holes.brace_depth", "holes.brace_depth"),
        smaller_text(design, governs, float(held.checked.brace_sizes.least_depth_m[own])),
    )


def _concrete(design: Design, footing: Holes) -> Reason:
    job, holes = design.job, design.job.settings.holes
    inputs = (
        asked(job, "holes.auger", "holes.auger", ("D", "auger"), holes.auger_m),
        computed("d", "footing depth", float(footing.depth_m[0])),
        practice(job, "holes.brace_top", ("b", "concrete stops below grade by"), holes.brace_top_m),
        practice(job, "holes.brace_concrete", ("k", "least height of concrete"), holes.brace_concrete_m),
    )
    return Reason(
        "concrete",
        "from the bottom of the hole up to the brace's foot",
        inputs,
        "cylinder of the auger's width, at least the least height of it",
        "V = pi/4 D^2 min(max(d - b, k), d)",
        float(footing.concrete_m3[0]),
        "m3",
        "",
        "a shallower footing",
    )
