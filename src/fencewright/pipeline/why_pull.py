"""Why a pull is as long, turns as much, and is cut from the rolls that it is."""

import math

import numpy as np

from fencewright.layout.runs import turning_limit_rad
from fencewright.mechanics.belt_friction import tension_share
from fencewright.pipeline.record import Design, RailCutting, post_id, pull_id
from fencewright.pipeline.why_origin import (
    asked,
    computed,
    friction,
    ground_origin,
    least_share,
    practice,
    pull_limit,
    source_of,
)
from fencewright.pipeline.why_record import Explanation, Input, Reason
from fencewright.pipeline.why_rows import Part, part_of_run, take_rows
from fencewright.pipeline.why_tension import tension_reasons
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import Pulls
from fencewright.takeoff.pieces import length_sd_m, pull_table


def explain_pull(design: Design, row: int) -> Explanation:
    """Explain every number of a pull."""
    pulls = design.pulls
    run, strand = int(pulls.run_index[row]), int(pulls.strand[row])
    part = part_of_run(design, run)
    one = _pull_again(design, part, strand)
    reasons = [
        _one_pull(design, part, one),
        _length(design, part, one),
        _length_sd(design, part, one),
        _turning(design, one),
        _share(design, one),
        _rail(design, one),
        *_rolls(design, row),
        *tension_reasons(design, run, strand, part),
    ]
    line = design.layout.lines[int(design.layout.runs.line_index[run])].name
    ends = post_id(int(pulls.from_post[row])), post_id(int(pulls.to_post[row]))
    where = f'strand {strand + 1} from the ground, {design.strands.rail[strand]}, line "{line}", {ends[0]} to {ends[1]}'
    return Explanation(pull_id(run, strand), "pull", where, tuple(reasons))


def _pull_again(design: Design, part: Part, strand: int) -> Pulls:
    """Run the take-off's own function on one run, and keep one strand."""
    made = pull_table(part.layout, design.strands, part.top_line.top_m, design.job.settings.rolls.tail_m)
    return take_rows(made, np.array([strand]))


def _one_pull(design: Design, part: Part, one: Pulls) -> Reason:
    job, layout = design.job, design.job.settings.layout
    length = float(part.layout.spans.slope_length_m.sum())
    limit = turning_limit_rad(layout)
    inputs = (
        computed("L", "length of the run along the ground", length),
        computed("t", "turning of its corners and bends", float(one.turning_rad[0]), "rad"),
        practice(
            job,
            "layout.ground_turning",
            ("g", "turning over the ground allowed for, each metre"),
            layout.ground_turning_rad_per_m,
            "rad/m",
        ),
        pull_limit(job),
        friction(job),
        least_share(job),
    )
    show = UnitSystem(job.asked.job.sheets)
    return Reason(
        "most turning in one pull",
        f"one tensioner draws {show.long(length)} and {math.degrees(float(one.turning_rad[0])):.0f} deg here",
        inputs,
        "a run within both limits is one pull; a longer or more crooked one is divided at strain posts",
        "L <= L_max and t + g L <= t_max = -ln(q) / mu",
        limit,
        "rad",
        "capstan",
        "more turning in one pull with less friction, or a smaller [fence] far_end_share",
    )


def _length(design: Design, part: Part, one: Pulls) -> Reason:
    job, spans = design.job, part.layout.spans
    inputs = (
        computed("n", "spans", float(len(spans)), "1"),
        computed("L_p", "plan length through the hole centres", float(spans.length_m.sum())),
        computed("L_g", "along the ground's chords", float(spans.slope_length_m.sum())),
        computed(
            "sd",
            "standard deviation of the ground under its posts, mean",
            float(part.layout.posts.ground_sd_m.mean()),
            "m",
            ground_origin(job),
        ),
    )
    return Reason(
        "length",
        "from post to post in space; the rail is parallel to the top line and passes corners at their outer faces",
        inputs,
        "straight lines from post to post at the rail's face, summed; the wrap round a post is left out",
        "L = sum over n spans of sqrt(dx^2 + dy^2 + dz^2)",
        float(one.length_m[0]),
        "m",
        "",
        "a strain post in the run, or a shorter line",
    )


def _length_sd(design: Design, part: Part, one: Pulls) -> Reason:
    sd = length_sd_m(part.layout, one, part.top_line.top_m, design.top_sd_m[part.post_rows])
    inputs = (
        computed("s", "standard deviation of the tops, mean", float(design.top_sd_m[part.post_rows].mean())),
    )
    return Reason(
        "standard deviation of the length",
        "a height known worse changes a length only where the rail slopes",
        inputs,
        "each span's slope times the errors of its two tops, added as squares",
        "sd^2 = sum (dz / L)^2 (s_a^2 + s_b^2)",
        float(sd[0]),
        "m",
        "",
        "ground that is known better",
    )


def _turning(design: Design, one: Pulls) -> Reason:
    inputs = (computed("t", "turning in plan", float(one.turning_rad[0]), "rad"),)
    return Reason(
        "turning in space",
        "corners, bends, dips and crests",
        inputs,
        "sum of the angles between neighbouring spans in space",
        "t3 = sum atan2(|a x b|, a . b)",
        float(one.turning_3d_rad[0]),
        "rad",
        "",
        "a smoother top line, fewer corners, or a strain post between",
    )


def _share(design: Design, one: Pulls) -> Reason:
    job, layout = design.job, design.job.settings.layout
    turning = float(one.turning_3d_rad[0])
    share = float(tension_share(turning, layout.friction_worked))
    inputs = (
        computed("t3", "turning in space", turning, "rad"),
        friction(job),
        least_share(job),
    )
    return Reason(
        "share of the pull that reaches the far end",
        "once the rail is worked round its posts",
        inputs,
        "belt friction: every turn holds some of the pull back",
        "exp(-mu t3)",
        share,
        "1",
        "capstan",
        "less turning in the pull, or a tensioner at each end",
    )


def _rail(design: Design, one: Pulls) -> Reason:
    job = design.job
    inputs = (
        computed("L", "length, post to post", float(one.length_m[0])),
        asked(job, "fence.tail", "fence.tail", ("e", "tail at each end"), float(one.tail_m[0])),
    )
    return Reason(
        "rail to cut",
        "with a tail at each end",
        inputs,
        "the length and two tails",
        "l = L + 2 e",
        float(one.rail_m[0]),
        "m",
        source_of(job, "fence.tail", "fence.tail"),
        "a shorter [fence] tail",
    )


def _rolls(design: Design, row: int) -> list[Reason]:
    """One reason for each piece that the pull is cut from."""
    offset = 0
    for cutting in design.cutting:
        own = np.flatnonzero(cutting.pull_index == row)
        if len(own):
            pieces = np.flatnonzero(cutting.cut_list.pull_index == own[0])
            pieces = pieces[np.argsort(cutting.cut_list.from_m[pieces])]
            return [_piece(design, cutting, int(piece), offset, len(pieces)) for piece in pieces]
        offset += len(cutting.cut_list.roll_length_m)
    return []


def _piece(design: Design, cutting: RailCutting, piece: int, offset: int, count: int) -> Reason:
    job, rolls, cut = design.job, design.job.settings.rolls, cutting.cut_list
    roll = int(cut.roll_index[piece])
    name = f"C{offset + roll + 1}"
    origin = (
        "the yard, [rolls] remainders"
        if bool(cut.is_remainder[roll])
        else f'catalogue, rail "{cutting.rail}", or [rolls] length'
    )
    inputs: tuple[Input, ...] = (
        computed("a", "along the pull, from", float(cut.from_m[piece])),
        computed("b", "to", float(cut.to_m[piece])),
        practice(
            job,
            "rolls.splice_overlap",
            ("v", "rail lost in a splice, where it does not begin the pull"),
            rolls.splice_overlap_m,
        ),
        computed("R", f"length of roll {name}", float(cut.roll_length_m[roll]), "m", origin),
        computed("w", f"left of roll {name}", float(cut.offcut_m[roll])),
        asked(
            job,
            "rolls.splice_price",
            "rolls.splice_price",
            ("p", "a splice counts as this much rail"),
            rolls.splice_price_m,
        ),
        computed("gap", "the cut list is within this part of the best", float(cut.gap), "1"),
    )
    says = f"cut from roll {name}" + (f", one of {count} pieces spliced" if count > 1 else ", in one piece")
    return Reason(
        "piece",
        says,
        inputs,
        "least cost of new rolls and splices over the whole product, then the longest usable remainder",
        "l = b - a (+ v where a > 0)",
        float(cut.rail_m[piece]),
        "m",
        source_of(job, "rolls.splice_price", "rolls.splice_price"),
        _other_roll(design, cutting, piece, offset),
    )


def _other_roll(design: Design, cutting: RailCutting, piece: int, offset: int) -> str:
    """How much shorter the piece would fit what is left of another roll."""
    cut, show = cutting.cut_list, UnitSystem(design.job.asked.job.sheets)
    others = np.flatnonzero(np.arange(len(cut.roll_length_m)) != cut.roll_index[piece])
    if not len(others):
        return "no other roll is begun"
    best = int(others[np.argmax(cut.offcut_m[others])])
    short = float(cut.rail_m[piece] - cut.offcut_m[best])
    if short <= 0:
        return f"it would fit what is left of roll C{offset + best + 1} too"
    return f"{show.long(short)} shorter it would fit what is left of roll C{offset + best + 1}"
