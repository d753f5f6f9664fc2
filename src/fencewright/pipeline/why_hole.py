"""Why a hole is as wide and as deep, and takes as much concrete, as it does."""

import math

from fencewright.pipeline.bridges import unstable_posts
from fencewright.pipeline.record import Design
from fencewright.pipeline.why_origin import asked, computed, practice, source_of
from fencewright.pipeline.why_record import Input, Reason
from fencewright.pipeline.why_rows import Part
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import Holes, Role
from fencewright.takeoff.holes import post_holes

_GOVERNS = {
    "stated": "the job states it",
    "practice": "common practice is deep enough",
    "frost": "a concreted footing reaches below frost",
    "rock": "the auger met rock there",
    "already set": "the post is already set",
}
_SMALLER = {
    "stated": "a smaller depth stated in [holes], if it passes every check",
    "practice": "a smaller depth stated in [holes], if it passes every check",
    "frost": "a smaller [site] frost_depth: ask the building department",
    "rock": "",
    "already set": "",
}


def hole_reasons(design: Design, row: int, part: Part) -> list[Reason]:
    """Explain the hole of a post, computed again for this post alone."""
    holes = hole_again(design, part)
    reasons = [_depth(design, row, part, holes), _width(design, holes)]
    volume = float(holes.concrete_m3[0])
    reasons.append(_concrete(design, part, holes))
    return [*reasons, bags_reason(design, volume)] if volume > 0 else reasons


def hole_again(design: Design, part: Part) -> Holes:
    """Run the stage's own function on the posts of a part."""
    unstable = unstable_posts(design.job, part.layout)
    return post_holes(part.layout.posts, design.job.settings, unstable, part.top_line.needs_concrete)


def governs_text(governs: str) -> str:
    """Say what decided a depth in words."""
    return _GOVERNS.get(governs, f"{governs} decides")


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


def _depth(design: Design, row: int, part: Part, holes: Holes) -> Reason:
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
    words = (
        "as stated; else practice, and a concreted footing at least a little below frost (a tamped line post need not "
        "reach it); no deeper than rock"
    )
    return Reason(
        "hole depth",
        governs_text(governs),
        tuple(inputs),
        words,
        "d = stated, else max(d_p, z_f + e) in concrete, d_p tamped; d <= z_r",
        float(holes.depth_m[0]),
        "m",
        source_of(job, f"holes.{kind}_depth", f"holes.{kind}_depth"),
        _SMALLER.get(governs, f"see what governs: {governs}"),
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
