"""Why the rails lift a post, and how it is held."""

import numpy as np

from fencewright.pipeline.bridges import unstable_posts
from fencewright.pipeline.record import Design, post_id
from fencewright.pipeline.why_origin import computed, practice
from fencewright.pipeline.why_record import Input, Reason
from fencewright.pipeline.why_rows import Part
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import Role, Setting, SpanKind
from fencewright.tables.top_line import TopLineSpans
from fencewright.takeoff.holes import settings_of
from fencewright.topline.clashes import post_uplift


def uplift_reasons(design: Design, row: int, part: Part) -> list[Reason]:
    """Say what lifts a post, and why it is tamped, driven or concreted."""
    return [_uplift(design, row, part), _setting(design, row, part)]


def _spans(design: Design, part: Part) -> TopLineSpans:
    """Give the spans that meet at the post as the top line has them; bands play no part in uplift."""
    spans = part.layout.spans
    fence = spans.kind == int(SpanKind.FENCE)
    nothing = np.zeros(len(spans))
    pull = np.where(fence, float(design.strands.cold_pull_n.sum()), 0.0)
    level = spans.kind == int(SpanKind.GATE)
    return TopLineSpans(
        spans.from_post, spans.to_post, spans.length_m, fence, level, nothing, nothing, nothing, pull
    )


def _uplift(design: Design, row: int, part: Part) -> Reason:
    spans, top = part.layout.spans, part.top_line.top_m
    lift = float(post_uplift(_spans(design, part), top)[0])
    total = float(design.strands.cold_pull_n.sum())
    rows = zip(
        spans.from_post.tolist(),
        spans.to_post.tolist(),
        spans.length_m.tolist(),
        spans.kind.tolist(),
        strict=True,
    )
    sides: list[Input] = []
    for number, (a, b, length, kind) in enumerate(rows, 1):
        if kind != int(SpanKind.FENCE):
            continue
        other = b if a == 0 else a
        name = post_id(int(part.post_rows[other]))
        sides.append(computed(f"l{number}", f"plan distance to {name}", length))
        sides.append(computed(f"r{number}", f"rise of the top to {name}", float(top[other] - top[0])))
    inputs = (
        computed(
            "T",
            f"cold pull of all {len(design.strands)} rails",
            total,
            "N",
            "catalogue, rail data sheets, cold tension",
        ),
        *sides,
    )
    show = UnitSystem(design.job.asked.job.sheets)
    says = (
        f"the rails press it down by {show.force(-lift)}"
        if lift < 0
        else f"the rails lift it by {show.force(lift)}"
    )
    if abs(lift) < 0.5:
        says = "the rails neither lift it nor press on it"
    return Reason(
        "uplift",
        says,
        inputs,
        "each fence span draws the post toward its neighbour's top",
        "U = sum T r / sqrt(l^2 + r^2)",
        lift,
        "N",
        "statics",
        "less where the top line bends less here: a higher top, or lower tops beside it",
    )


def _setting(design: Design, row: int, part: Part) -> Reason:
    job, holes, posts = design.job, design.job.settings.holes, part.layout.posts
    unstable = unstable_posts(job, part.layout)
    held = settings_of(posts, holes, unstable, part.top_line.needs_concrete)
    chosen = Setting(int(held[0]))
    is_upright = bool(posts.is_fixed[0]) or int(posts.role[0]) == int(Role.BRACE)
    origin = (
        "stated in the job, [fence] line_posts"
        if job.asked.fence.line_posts
        else "common practice, no source"
    )
    inputs = (
        computed("way", "how line posts are set", holes.line_set, "", origin),
        computed("U", "uplift", float(design.top_line.uplift_n[row]), "N"),
        practice(
            job, "holes.tamped_lift_out", ("R_t", "lift-out of a tamped post"), holes.tamped_lift_out_n, "N"
        ),
        practice(
            job, "holes.driven_lift_out", ("R_d", "lift-out of a driven post"), holes.driven_lift_out_n, "N"
        ),
        practice(job, "holes.uplift_factor", ("F", "factor on lift-out"), holes.uplift_factor, "1"),
        computed(
            "soil",
            "ground called unstable",
            "yes" if unstable[0] else "no",
            "",
            "the job, [site] or [[soil_zone]]",
        ),
    )
    says, smaller = _held_because(
        chosen, is_upright, bool(unstable[0]), bool(part.top_line.needs_concrete[0])
    )
    return Reason(
        "set",
        says,
        inputs,
        "fixed posts, unstable ground and too much uplift take concrete; others as the job says",
        "concrete where fixed, unstable, or U > R / F; else way",
        chosen.label,
        "",
        job.catalogue.practice["holes.tamped_lift_out"].source,
        smaller,
    )


def _held_because(chosen: Setting, is_upright: bool, is_unstable: bool, is_lifted: bool) -> tuple[str, str]:
    """Say why a post is held as it is, and what the lighter way would need."""
    if is_upright:
        return "ends, gates, corners, bends and second uprights stand in concrete", ""
    if is_unstable:
        return "the job calls the ground here unstable", "a tamped post where the ground holds it"
    if is_lifted:
        return "the rails lift it more than the soil holds", "a tamped post where uplift is at most R / F"
    if chosen is Setting.CONCRETE:
        return "line posts are concreted, as the job asks", '[fence] line_posts = "tamped"'
    return f"the soil holds a {chosen.label} post here", ""
