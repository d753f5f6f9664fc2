"""Why a gate's or crossing's posts stand as far apart as they do, and its leaf is as long as it is."""

import math

from fencewright.pipeline.record import Design, post_id
from fencewright.pipeline.why_origin import asked, computed, practice
from fencewright.pipeline.why_record import Explanation, Input, Reason
from fencewright.pipeline.why_rows import openings_again
from fencewright.quantity.show import UnitSystem


def explain_opening(design: Design, row: int) -> Explanation:
    """Explain every number of a gate or of a crossing."""
    table = design.layout.openings
    wet = bool(table.is_crossing[row])
    one = openings_again(design)[row]
    job = design.job
    stated = computed("o", "opening between post faces", one.opening_m, "m", f"stated in the job, {one.item}")
    if wet:
        stated = computed(
            "w", "width between post centres", one.to_m - one.from_m, "m", f"stated in the job, {one.item}"
        )
    diameter = asked(
        job,
        "posts.end_diameter",
        "posts.end_diameter",
        ("D", "post diameter"),
        job.settings.posts.end_diameter_m,
    )
    reasons = [
        Reason(
            "opening between post faces",
            "as the job asks",
            (stated, diameter) if wet else (stated,),
            "the width less one post" if wet else "as stated",
            "o = w - D" if wet else "o",
            one.opening_m,
            "m",
            next_smaller="a smaller one in the job",
        ),
        Reason(
            "distance between post centres",
            "half a post at each side",
            (stated, diameter),
            "as stated" if wet else "the opening and one post diameter",
            "w" if wet else "w = o + D",
            one.to_m - one.from_m,
            "m",
            next_smaller="a smaller one in the job, or thinner posts",
        ),
    ]
    if not wet:
        reasons.append(_leaf(design, row, one.leaf_m, stated))
    show = UnitSystem(job.asked.job.sheets)
    posts = f"{post_id(int(table.from_post[row]))} to {post_id(int(table.to_post[row]))}"
    line = design.layout.lines[int(table.line_index[row])].name
    where = f'line "{line}", station {show.long(one.from_m)}, {posts}'
    return Explanation(one.name, "crossing" if wet else "gate", where, tuple(reasons))


def _leaf(design: Design, row: int, leaf_m: float, opening: Input) -> Reason:
    job, table = design.job, design.layout.openings
    room = job.settings.layout.leaf_allowance_m
    is_stated = job.asked.gate[row].leaf is not None
    room_input = practice(job, "layout.leaf_allowance", ("e", "hinge and latch room"), room)
    hinge = computed("hinge", "hinged at", post_id(int(table.hinge_post[row])), "", "the job, [[gate]] hinge")
    return Reason(
        "leaf",
        "the job states it" if is_stated else "the opening less hinge and latch room",
        (computed("a", "leaf", leaf_m, "m", "stated in the job, [[gate]] leaf"), hinge)
        if is_stated
        else (opening, room_input, hinge),
        "as stated" if is_stated else "the opening less hinge and latch room, at least half the opening",
        "a" if is_stated else "a = max(o - e, o / 2)",
        leaf_m if math.isfinite(leaf_m) else math.nan,
        "m",
        "" if is_stated else job.catalogue.practice["layout.leaf_allowance"].source,
        "[[gate]] leaf",
    )
