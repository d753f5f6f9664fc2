"""Why a post is as high, as long and as cut as it is."""

import math

import numpy as np

from fencewright.job.record import Job
from fencewright.pipeline.bridges import cut_posts
from fencewright.pipeline.record import Design, post_id
from fencewright.pipeline.why_check import post_check_reasons
from fencewright.pipeline.why_hole import hole_reasons
from fencewright.pipeline.why_origin import asked, computed, ground_origin, practice, source_of
from fencewright.pipeline.why_place import place_reasons
from fencewright.pipeline.why_record import Explanation, Input, Reason
from fencewright.pipeline.why_rows import Part, part_of_post
from fencewright.pipeline.why_strength import strength_part
from fencewright.pipeline.why_uplift import uplift_reasons
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import Posts, Role, SpanKind

_SAME_M = 1e-6
_OWN_BUILT_M = 0.3  # as far as a post already set answers for a fixed one


def explain_post(design: Design, row: int) -> Explanation:
    """Explain every number of a post."""
    posts = design.layout.posts
    part, held = part_of_post(design, row), strength_part(design, np.array([row]))
    reasons = [
        *place_reasons(design, row),
        _diameter(design, row),
        *_tops(design, row, part),
        *uplift_reasons(design, row, part),
        *hole_reasons(design, row, part, held),
        *_cuts(design, row, part),
        *post_check_reasons(design, row, held),
    ]
    line = design.layout.lines[int(posts.line_index[row])].name
    show = UnitSystem(design.job.asked.job.sheets)
    where = f'{Role(int(posts.role[row])).label} post, line "{line}", station {show.long(float(posts.station_m[row]))}'
    return Explanation(post_id(row), "post", where, tuple(reasons))


def _is_thin(design: Design, row: int) -> bool:
    return int(design.layout.posts.role[row]) in (int(Role.LINE), int(Role.BRACE))


def _diameter(design: Design, row: int) -> Reason:
    job, key = design.job, "posts.line_diameter" if _is_thin(design, row) else "posts.end_diameter"
    value = float(design.layout.posts.diameter_m[row])
    return Reason(
        "diameter",
        "line posts and second uprights have one diameter, all fixed posts the other",
        (asked(job, key, key, ("D", "diameter"), value),),
        "as stated, else practice",
        "D",
        value,
        "m",
        source_of(job, key, key),
        f"[posts] {key.split('.')[1]}, if the thinner post passes every check",
    )


def _tops(design: Design, row: int, part: Part) -> list[Reason]:
    """Height of the top, and how well it is known."""
    return [_top(design, row, part), _top_sd(design, part)]


def _ground_origin(job: Job, posts: Posts) -> str:
    """Say where the elevation at a post is from: a post already set may have its own."""
    station_m, line = float(posts.station_m[0]), job.site.lines[int(posts.line_index[0])].name
    stated = [one for one in job.asked.built if one.line == line and one.ground is not None]
    is_own = bool(posts.is_built[0]) and any(abs(one.at - station_m) < _OWN_BUILT_M for one in stated)
    return "the job, [[built]] ground" if is_own else ground_origin(job)


def _top(design: Design, row: int, part: Part) -> Reason:
    job, posts, choice = design.job, part.layout.posts, design.job.settings.top_line
    nominal = job.settings.top_height_m
    height, ground = float(part.top_line.height_m[0]), float(posts.ground_m[0])
    pinned = float(posts.pinned_height_m[0])
    inputs = [
        _nominal(design, nominal),
        asked(job, "top_line.low", "top_line.low", ("b1", "it may stand lower by"), choice.low_m),
        asked(job, "top_line.high", "top_line.high", ("b2", "it may stand higher by"), choice.high_m),
        computed("z_g", "elevation of the ground", ground, "m", _ground_origin(job, posts)),
        computed("z_t", "elevation of the top", float(part.top_line.top_m[0]), "m", "computed, the top line"),
        *_gaps(design, part),
        computed(
            "g",
            "top line certified within this part of the best",
            design.top_line.certificate.relative_gap,
            "1",
        ),
    ]
    if math.isfinite(pinned):
        inputs.insert(
            0, computed("p", "height pinned here", pinned, "m", "stated in the job, [[pin]] or [[built]]")
        )
    return Reason(
        "top above ground",
        _top_says(design, row, height, pinned),
        tuple(inputs),
        "the smoothest line through the tops, near its nominal height, within the band of each post and of each gap; "
        "least squared change of slope, with a price on uplift beyond what a post holds",
        "h = z_t - z_g;  H - b1 <= h <= H + b2",
        height,
        "m",
        source_of(job, "fence.top_height", "fence.top_height"),
        _lower_top(design, row),
    )


def _nominal(design: Design, nominal_m: float) -> Input:
    job = design.job
    if job.asked.fence.top_height is None and job.asked.stock.kept:
        kept = " and ".join(job.asked.stock.kept)
        return computed("H", "nominal height", nominal_m, "m", f"proposed for {kept}, [stock] kept")
    return asked(job, "fence.top_height", "fence.top_height", ("H", "nominal height"), nominal_m)


def _gaps(design: Design, part: Part) -> list[Input]:
    spans, posts = part.layout.spans, part.post_rows
    return [
        computed(
            f"u{k}",
            f"least gap under the lowest rail, {post_id(int(posts[a]))} to {post_id(int(posts[b]))}",
            gap,
        )
        for k, (a, b, gap) in enumerate(
            zip(
                spans.from_post.tolist(),
                spans.to_post.tolist(),
                part.top_line.lowest_gap_m.tolist(),
                strict=True,
            ),
            1,
        )
        if math.isfinite(gap)
    ]


def _top_says(design: Design, row: int, height_m: float, pinned_m: float) -> str:
    if math.isfinite(pinned_m):
        return "its height is pinned"
    spans = design.layout.spans
    meets = (spans.from_post == row) | (spans.to_post == row)
    level = bool((meets & (spans.kind == int(SpanKind.GATE))).any())
    says = _where_in_band(design, height_m - design.job.settings.top_height_m)
    return f"{says}; level with the post across the gate" if level else says


def _where_in_band(design: Design, away_m: float) -> str:
    show, choice = UnitSystem(design.job.asked.job.sheets), design.job.settings.top_line
    if abs(away_m) < 1e-4:
        return "at its nominal height"
    if away_m >= choice.high_m - _SAME_M or away_m <= -choice.low_m + _SAME_M:
        return f"at the {'upper' if away_m > 0 else 'lower'} edge of its band"
    return f"{show.small(abs(away_m))} {'above' if away_m > 0 else 'below'} nominal, for a smooth line"


def _lower_top(design: Design, row: int) -> str:
    """Say how much lower a top would need a shorter post."""
    shorter = _shorter_by_m(design, row)
    show = UnitSystem(design.job.asked.job.sheets)
    if math.isnan(shorter):
        return ""
    return f"a shorter stock length fits a top {show.small(shorter)} lower: [[pin]] height here, or [fence] top_height"


def _need_m(design: Design, row: int) -> float:
    """Stock that a post needs, spare and trim included."""
    posts = design.job.settings.posts
    spare = 0.0 if design.top_sd_m[row] <= design.job.settings.top_line.cut_limit_m else posts.long_spare_m
    return float(design.holes.depth_m[row] + design.top_line.height_m[row]) + posts.trim_m + spare


def _shorter_by_m(design: Design, row: int) -> float:
    """How much less the next shorter stock length holds than is needed; NaN where there is none."""
    chosen = float(design.cuts.stock_length_m[row])
    settings = design.job.settings.posts
    lengths = settings.line_lengths_m if _is_thin(design, row) else settings.end_lengths_m
    shorter = [length for length in lengths if length < chosen - 1e-9]
    return _need_m(design, row) - max(shorter) if shorter and math.isfinite(chosen) else math.nan


def _top_sd(design: Design, part: Part) -> Reason:
    job = design.job
    sd = cut_posts(job, part.layout, design.strands, part.top_line, part.holes)[3]
    ground, mark = float(part.layout.posts.ground_sd_m[0]), job.settings.top_line.mark_sd_m
    inputs = (
        computed("s_g", "standard deviation of the ground", ground, "m", ground_origin(job)),
        practice(job, "top_line.mark_sd", ("s_m", "of marking and sawing"), mark),
    )
    return Reason(
        "standard deviation of the top",
        "how well the top is known",
        inputs,
        "independent errors add as squares",
        "s = sqrt(s_g^2 + s_m^2)",
        float(sd[0]),
        "m",
        job.catalogue.practice["top_line.mark_sd"].source,
        "level or survey the line instead",
    )


def _cuts(design: Design, row: int, part: Part) -> list[Reason]:
    """Stock length, cut and rail marks, by the stage's own functions on this post."""
    cuts, marks, *_ = cut_posts(design.job, part.layout, design.strands, part.top_line, part.holes)
    reasons = [_stock(design, row, float(cuts.stock_length_m[0])), _cut(design, row, float(cuts.cut_m[0]))]
    return [*reasons, _marks(design, part, marks[0], bool(cuts.is_cut[0]))]


def _stock_inputs(design: Design, row: int) -> tuple[Input, ...]:
    job, settings = design.job, design.job.settings.posts
    key = "posts.line_lengths" if _is_thin(design, row) else "posts.end_lengths"
    lengths = settings.line_lengths_m if _is_thin(design, row) else settings.end_lengths_m
    return (
        computed("d", "in the ground", float(design.holes.depth_m[row])),
        computed("h", "above it", float(design.top_line.height_m[row])),
        asked(job, "posts.trim", "posts.trim", ("t", "least length to saw off"), settings.trim_m),
        practice(
            job, "posts.long_spare", ("e", "spare, on a post that is set long only"), settings.long_spare_m
        ),
        computed("s", "standard deviation of the top", float(design.top_sd_m[row])),
        asked(
            job,
            "top_line.cut_limit",
            "top_line.cut_limit",
            ("s_c", "a cut is printed up to"),
            job.settings.top_line.cut_limit_m,
        ),
        asked(job, key, key, ("stock", "lengths that are sold"), lengths),
    )


def _stock(design: Design, row: int, stock_m: float) -> Reason:
    show, shorter = UnitSystem(design.job.asked.job.sheets), _shorter_by_m(design, row)
    key = "posts.line_lengths" if _is_thin(design, row) else "posts.end_lengths"
    if bool(design.layout.posts.is_built[row]):
        says = "already set: nothing to buy"
    elif math.isnan(stock_m):
        says = f"no stock length reaches {show.small(_need_m(design, row))}"
    else:
        says = f"{show.small(_need_m(design, row))} needed"
    smaller = (
        "" if math.isnan(shorter) else f"{show.small(shorter)} less of hole depth, height and trim together"
    )
    return Reason(
        "stock length",
        says,
        _stock_inputs(design, row),
        "the smallest stock of at least depth, height and trim, and the spare where the post is set long",
        "least of stock >= d + h + t (+ e where s > s_c)",
        stock_m,
        "m",
        source_of(design.job, key, key),
        smaller,
    )


def _cut(design: Design, row: int, cut_m: float) -> Reason:
    is_cut = bool(design.cuts.is_cut[row])
    inputs = (
        computed("l", "stock length", float(design.cuts.stock_length_m[row])),
        computed("d", "in the ground", float(design.holes.depth_m[row])),
        computed("h", "above it", float(design.top_line.height_m[row])),
    )
    says = "sawn off after setting" if is_cut else "set long, and cut to a string between control posts"
    return Reason(
        "cut",
        "already set" if design.layout.posts.is_built[row] else says,
        inputs,
        "what the stock is longer than depth and height",
        "c = l - d - h",
        cut_m,
        "m",
        next_smaller="a shorter stock length, see there",
    )


def _marks(design: Design, part: Part, marks_m: np.ndarray, is_cut: bool) -> Reason:
    strands = design.strands
    inputs = (
        computed("h", "top above ground", float(part.top_line.height_m[0])),
        *(
            computed(
                f"d{k}", f"top down to strand {k}, {rail}", drop, "m", "from the strands' heights in the job"
            )
            for k, (rail, drop) in enumerate(zip(strands.rail, strands.drop_m.tolist(), strict=True), 1)
        ),
    )
    return Reason(
        "rail marks",
        "lowest first, above grade" if is_cut else "none: the post is set long",
        inputs,
        "each strand hangs a fixed drop below the top",
        "m_k = h - d_k",
        tuple(marks_m.tolist()),
        "m",
    )
