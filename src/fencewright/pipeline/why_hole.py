"""Why a hole is as wide and as deep, and takes as much concrete, as it does."""

import math

import numpy as np

from fencewright.pipeline.bridges import unstable_posts
from fencewright.pipeline.record import Design
from fencewright.pipeline.sizes import stated_sizes
from fencewright.pipeline.why_origin import asked, computed, practice, source_of
from fencewright.pipeline.why_record import Input, Reason
from fencewright.pipeline.why_rows import Part, take_rows
from fencewright.pipeline.why_strength import StrengthPart
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import Holes, Role
from fencewright.tables.sizes import STATED_HERE
from fencewright.takeoff.holes import holes_at, settings_of

_GOVERNS = {
    "stated": "the job states it",
    STATED_HERE: "the job states it for this one, [[size]]",
    "practice": "common practice is deep enough",
    "frost": "a concreted footing reaches below frost",
    "rock": "the auger met rock there",
    "already set": "the post is already set",
    "embedment": "the soil beside the post must hold its pull",
    "uplift": "the hole must hold the post down",
    "footing sideways": "the soil before the footing must hold the brace's push",
    "footing tipping": "the soil and what presses on the footing must keep it from tipping",
    "footing bearing": "the soil under the footing must carry what the brace presses on it",
}
_SMALLER = {
    "stated": "a smaller depth stated in [holes]",
    STATED_HERE: "a smaller depth stated in its [[size]]",
    "practice": "a smaller depth stated in [holes]",
    "frost": "a smaller [site] frost_depth: ask the building department",
    "rock": "",
    "already set": "",
}


def hole_reasons(design: Design, row: int, part: Part, held: StrengthPart) -> list[Reason]:
    """Explain the hole of a post, sized and filled again for this post alone."""
    holes = hole_again(design, row, part, held)
    reasons = [_depth(design, row, part, holes, held), _width(design, holes)]
    volume = float(holes.concrete_m3[0])
    reasons.append(_concrete(design, part, holes))
    return [*reasons, bags_reason(design, volume)] if volume > 0 else reasons


def hole_again(design: Design, row: int, part: Part, held: StrengthPart) -> Holes:
    """Run the stages' own functions on one post: set, sized, filled."""
    posts, sizes, post = take_rows(part.layout.posts, np.zeros(1, np.int64)), held.sized.sizes, held.post(row)
    unstable = unstable_posts(design.job, part.layout)[:1]
    own = slice(row, row + 1)
    way = settings_of(posts, design.job.settings.holes, unstable, part.top_line.needs_concrete[:1])
    stated = stated_sizes(design.job, part.layout)[0].set[:1]
    way = np.where(stated >= 0, stated, way)
    widths = (design.holes.diameter_m[own], design.holes.bell_m[own])
    depth, governs = sizes.depth_m[post : post + 1], (sizes.governs[post],)
    return holes_at(posts, design.job.settings, way, depth, governs, widths)


def governs_text(governs: str) -> str:
    """Say what decided a depth in words."""
    return _GOVERNS.get(governs, f"{governs} decides")


def smaller_text(design: Design, governs: str, least_m: float) -> str:
    """Say what a shallower hole would need, and how deep the loads ask for at the tension chosen."""
    show = UnitSystem(design.job.asked.job.sheets)
    change = _SMALLER.get(governs, "less pull, firmer soil, a wider hole, or a wider bell")
    if not math.isfinite(least_m):
        return "no depth that can be dug passes: see the checks"
    passes = f"{show.small(least_m)} still passes its checks at the tension chosen"
    return f"{passes}; {change}" if change else passes


def depth_inputs(design: Design, kind: str) -> list[Input]:
    """Name what a depth is chosen from; `kind` is `end`, `line` or `brace`."""
    job, holes = design.job, design.job.settings.holes
    depth = {"end": holes.end_depth_m, "line": holes.line_depth_m, "brace": holes.brace_depth_m}[kind]
    key = f"holes.{kind}_depth"
    if getattr(job.asked.holes, f"{kind}_depth") is None and job.catalogue.practice[key].value != depth:
        wanted = float(str(job.catalogue.practice[key].value))
        first = practice(job, key, ("d_p", "depth by practice"), wanted)
    else:
        first = asked(job, key, key, ("d_p", "depth as stated or by practice"), depth)
    return [
        first,
        asked(job, "site.frost_depth", "site.frost_depth", ("z_f", "frost depth"), job.settings.frost_m),
        practice(
            job,
            "holes.below_frost",
            ("e", "below frost by"),
            float(str(job.catalogue.practice["holes.below_frost"].value)),
        ),
    ]


def loads_input(design: Design, least_m: float) -> Input:
    """Name the least depth that frost and the greatest pull ask for."""
    step = design.job.settings.strength.depth_step_m
    show = UnitSystem(design.job.asked.job.sheets)
    origin = f"computed, the strength stage, in steps of {show.small(step)}"
    least = least_m if math.isfinite(least_m) else "none that can be dug"
    return computed("d_l", "least depth that passes at the greatest pull", least, "m", origin)


def _depth(design: Design, row: int, part: Part, holes: Holes, held: StrengthPart) -> Reason:
    posts, job = part.layout.posts, design.job
    is_upright = bool(posts.is_fixed[0]) or int(posts.role[0]) == int(Role.BRACE)
    kind, governs = "end" if is_upright else "line", holes.governs[0]
    inputs = depth_inputs(design, kind)
    rock, built = float(posts.rock_depth_m[0]), float(posts.built_depth_m[0])
    if math.isfinite(rock):
        inputs.append(computed("z_r", "rock", rock, "m", "stated in the job, [[rock]]"))
    if math.isfinite(built):
        inputs.append(
            computed("d_b", "depth of the post already set", built, "m", "stated in the job, [[built]]")
        )
    post = held.post(row)
    inputs.append(loads_input(design, float(held.sized.sizes.least_depth_m[post])))
    words = (
        "as stated; else practice, a concreted footing at least a little below frost (a tamped line post need not "
        "reach it), and deepened in steps to what the greatest pull asks for, an end's or corner's as deep as can be dug "
        "where none passes; no deeper than rock"
    )
    return Reason(
        "hole depth",
        governs_text(governs),
        tuple(inputs),
        words,
        "d = stated, else max(d_p, z_f + e in concrete, d_l in steps); d <= z_r",
        float(holes.depth_m[0]),
        "m",
        source_of(job, f"holes.{kind}_depth", f"holes.{kind}_depth"),
        smaller_text(design, governs, float(held.checked.sizes.least_depth_m[post])),
    )


def _width(design: Design, holes: Holes) -> Reason:
    job, settings = design.job, design.job.settings.holes
    wide, bell = float(holes.diameter_m[0]), float(holes.bell_m[0])
    inputs = (
        asked(job, "holes.auger", "holes.auger", ("D", "auger"), settings.auger_m),
        asked(job, "holes.bell", "holes.bell", ("b", "bell, wider than the shaft by"), settings.bell_m),
    )
    return Reason(
        "hole width, top and bottom",
        "belled" if bell > wide else "straight: only a concreted hole is belled",
        inputs,
        "the auger's width, and the bell's at the bottom of a concreted hole; a driven post has its own width",
        "D; D + b",
        (wide, bell),
        "m",
        source_of(job, "holes.auger", "holes.auger"),
        "a smaller [holes] auger, wider than the post still",
    )


def _concrete(design: Design, part: Part, holes: Holes) -> Reason:
    job, settings = design.job, design.job.settings.holes
    volume = float(holes.concrete_m3[0])
    inputs = (
        computed("D", "hole width", float(holes.diameter_m[0])),
        computed("B", "width at the bottom", float(holes.bell_m[0])),
        asked(
            job, "holes.bell_height", "holes.bell_height", ("k", "height of the bell"), settings.bell_height_m
        ),
        computed("d", "hole depth", float(holes.depth_m[0])),
        asked(job, "holes.recess", "holes.recess", ("r", "concrete stops below grade by"), settings.recess_m),
        computed("p", "diameter of the post", float(part.layout.posts.diameter_m[0])),
    )
    return Reason(
        "concrete",
        "hole up to the recess, less the post" if volume > 0 else "none: the soil itself holds the post",
        inputs,
        "frustum of the bell and cylinder of the shaft, less the cylinder of the post, which stands on the bottom",
        "V = pi/12 k (B^2 + D^2 + B D) + pi/4 D^2 (d - r - k) - pi/4 p^2 (d - r), 0 where not concreted",
        volume,
        "m3",
        "",
        "a shallower or narrower hole" if volume > 0 else "",
    )


def bags_reason(design: Design, volume_m3: float) -> Reason:
    """Say how many bags a volume is, and what would save one on the whole job."""
    job, bag = design.job, design.job.settings.holes.bag
    show = UnitSystem(job.asked.job.sheets)
    inputs = (
        computed("V", "concrete", volume_m3, "m3"),
        computed(
            "y", f"yield of a {bag.name} bag", bag.yield_m3, "m3", f'catalogue, bag "{bag.name}", [holes] bag'
        ),
        asked(
            job,
            "holes.waste",
            "holes.concrete_waste",
            ("w", "waste, added on the whole order"),
            job.settings.holes.waste,
            "1",
        ),
    )
    order = next((line for line in design.order if line.item == "bagged concrete"), None)
    smaller = ""
    if order:
        over = order.net + order.waste - (order.order - order.pack)
        less = show.volume(over * bag.yield_m3 / (1 + job.settings.holes.waste))
        smaller = (
            f"the whole job's {order.order:.0f} bags become one fewer with {less} less concrete anywhere"
        )
    return Reason(
        "bags",
        "not rounded here: the order rounds up once for the whole job",
        inputs,
        "concrete over the yield of one bag",
        "n = V / y",
        volume_m3 / bag.yield_m3,
        "1",
        "premix-yield",
        smaller,
    )
