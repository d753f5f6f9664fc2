"""Why a sum of the whole design is what it is: its parts, by line, role, run or product."""

import math
from collections.abc import Callable, Mapping

from fencewright.pipeline.record import Design
from fencewright.pipeline.why_order_counts import added
from fencewright.pipeline.why_origin import COMPUTED, computed
from fencewright.pipeline.why_record import Explanation, Input, Reason
from fencewright.tables.fence import Role

_MOST_PARTS = 20  # beyond, the parts stand in one row


def explain_sum(design: Design, name: str) -> Explanation:
    """Explain a sum of the design, by one of the names of `SUMS`."""
    return Explanation(name, "sum", "of the whole design", SUMS[name](design))


def _summed(
    name: str, says: str, parts: list[tuple[str, float]], words: str, unit: str, origin: str = COMPUTED
) -> Reason:
    values = tuple(float(value) for _, value in parts)
    if len(parts) > _MOST_PARTS:
        inputs: tuple[Input, ...] = (computed("n", words, values, unit, origin),)
        symbols = "N = sum(n)"
    else:
        inputs = tuple(
            computed(f"n_{number}", part, value, unit, origin)
            for number, (part, value) in enumerate(parts, 1)
        )
        symbols = f"N = {added(len(parts))}"
    return Reason(name, says, inputs, words, symbols, float(math.fsum(values)), unit)


def _fence_length(design: Design) -> tuple[Reason, ...]:
    parts = [(f'line "{line.name}"', line.length_m) for line in design.layout.lines]
    return (
        _summed(
            "fence length",
            "on plan, gates included",
            parts,
            "the lines, corner to corner",
            "m",
            "lines table",
        ),
    )


def _posts(design: Design) -> tuple[Reason, ...]:
    roles = design.layout.posts.role
    parts = [
        (f"{role.label} posts", float((roles == int(role)).sum()))
        for role in Role
        if (roles == int(role)).any()
    ]
    says = "every post once, those already set too; a post that lines share is one"
    return (_summed("posts", says, parts, "the posts, by role", "1", "posts table"),)


def _rail_length(design: Design) -> tuple[Reason, ...]:
    pulls = design.pulls
    own = {
        name: [k for k, rail in enumerate(design.strands.rail) if rail == name]
        for name in design.strands.rail
    }
    lengths = [
        (f"{name}, post to post", float(sum(pulls.length_m[pulls.strand == k].sum() for k in strands)))
        for name, strands in own.items()
    ]
    tails = [("tails, two a pull", float((2 * pulls.tail_m).sum()))]
    says = "to cut, tails included; without the overlaps of splices"
    return (
        _summed(
            "rail length",
            says,
            lengths + tails,
            "the pulls along the slope, and their tails",
            "m",
            "pulls table",
        ),
    )


def _rolls(design: Design) -> tuple[Reason, ...]:
    parts = []
    for cutting in design.cutting:
        old = cutting.cut_list.is_remainder
        parts.append((f"{cutting.rail}, new", float((~old).sum())))
        if old.any():
            parts.append((f"{cutting.rail}, from the yard", float(old.sum())))
    return (
        _summed(
            "rolls", "rolls begun, those of the yard too", parts, "the rolls of each product", "1", "cut list"
        ),
    )


def _pulls(design: Design) -> tuple[Reason, ...]:
    runs, strands = len(design.layout.runs), len(design.strands)
    inputs = (
        computed("r", "runs between posts where the rail ends", float(runs), "1", "layout"),
        computed("k", "strands", float(strands), "1", "stated in the job, [fence] rails or [[strand]]"),
    )
    return (
        Reason(
            "pulls",
            "each strand of each run is drawn as one",
            inputs,
            "runs times strands",
            "N = r k",
            float(len(design.pulls)),
            "1",
            next_smaller="fewer ends, gates and strain posts, or fewer strands",
        ),
    )


def _bags(design: Design) -> tuple[Reason, ...]:
    parts = [
        ("of the posts", float(design.bags.sum())),
        ("of the brace footings", float(design.brace_bags.sum())),
    ]
    exact = _summed("bags", "exact, without waste", parts, "concrete over the yield of a bag", "bag", "holes")
    whole = Reason(
        "whole bags",
        "rounded up, still without waste; the order adds it",
        (computed("n", "bags", float(exact.result), "bag"),),  # type: ignore[arg-type]  # a sum is a number
        "rounded up once for the whole job",
        "N = ceil(n)",
        float(math.ceil(float(exact.result) - 1e-9)),  # type: ignore[arg-type]  # a sum is a number
        "bag",
    )
    return (exact, whole)


def _concrete(design: Design) -> tuple[Reason, ...]:
    parts = [
        ("of the posts", float(design.holes.concrete_m3.sum())),
        ("of the brace footings", float(design.brace_holes.concrete_m3.sum())),
    ]
    return (_summed("concrete", "net, without waste", parts, "the concrete of every hole", "m3", "holes"),)


def _braces(design: Design) -> tuple[Reason, ...]:
    level = design.layout.braces.is_horizontal
    parts = [("diagonal", float((~level).sum())), ("horizontal", float(level.sum()))]
    return (
        _summed(
            "braces",
            "of ends, corners, gates and strain posts",
            parts,
            "the braces, by kind",
            "1",
            "braces table",
        ),
    )


def _splices(design: Design) -> tuple[Reason, ...]:
    parts = [(one.rail, float(one.cut_list.splices)) for one in design.cutting]
    return (
        _summed(
            "splices",
            "pieces of the cut lists less pulls",
            parts,
            "the splices of each product",
            "1",
            "cut list",
        ),
    )


SUMS: Mapping[str, Callable[[Design], tuple[Reason, ...]]] = {
    "fence length": _fence_length,
    "posts": _posts,
    "rail length": _rail_length,
    "rolls": _rolls,
    "pulls": _pulls,
    "bags": _bags,
    "concrete": _concrete,
    "braces": _braces,
    "splices": _splices,
}
"""What may be asked of the whole design, by the names of its totals."""


def explain_rail_mark(design: Design, post: int, strand: int, name: str) -> Explanation:
    """Explain the mark of one strand on one post."""
    top, settings = design.top_line, design.job.settings
    drop = float(design.strands.drop_m[strand])
    rail = design.strands.rail[strand]
    nominal = computed(
        "H", "nominal top above ground", settings.top_height_m, "m", "[fence] top_height, or practice"
    )
    height = computed(
        "s",
        "centre of the strand above ground there",
        float(design.strands.height_m[strand]),
        "m",
        "[fence] rails or [[strand]]",
    )
    is_cut = bool(design.cuts.is_cut[post])
    reasons = (
        Reason(
            "drop below the top",
            f"{rail}, the same at every post",
            (nominal, height),
            "nominal top less the strand's height",
            "d = H - s",
            drop,
            "m",
            next_smaller="a higher strand in the job",
        ),
        Reason(
            "rail mark",
            "above grade, to the centre of the strand"
            if is_cut
            else "none: the post is set long, and marked from the string",
            (
                computed(
                    "h",
                    "top above ground",
                    float(top.height_m[post]),
                    "m",
                    f"computed: see Why of {name.split('-')[0]}",
                ),
                computed("d", "drop below the top", drop),
            ),
            "each strand hangs a fixed drop below the top",
            "m = h - d",
            float(design.rail_marks_m[post, strand]),
            "m",
            next_smaller="a lower top or a lower strand",
        ),
    )
    return Explanation(name, "rail mark", f"strand {strand + 1} from the ground, {rail}", reasons)
