"""What the finished tables have to say: clashes, stock lengths, uplift, heave, depths, uncertain ground."""

import numpy as np

from fencewright.findings import CAUTION, NOTE, STOP, Finding, Place
from fencewright.pipeline.bending import bending_findings
from fencewright.pipeline.bridges import soils_of
from fencewright.pipeline.hole_depths import depth_findings
from fencewright.pipeline.record import Design, place_of, post_id
from fencewright.quantity.show import UnitSystem
from fencewright.site.clearances import trespass_m
from fencewright.tables.fence import Role, Setting

_LEAST_MISS_M = 0.005  # nearer than a tape reads, it is a wobble of the ground and no saving


def design_findings(design: Design) -> list[Finding]:
    """Read every table once and say what a builder must know.

    Returns
    -------
    list of Finding
        `top-line-clash`, `no-stock-length`, `rail-bent-at-post`, `hole-too-deep` (`stop`); `frost-heave`,
        `ground-uncertain`, `hole-meets-rock`, `built-off-string`, `rail-bent-on-spool` (`caution`);
        `concreted-for-uplift`, `roll-bound` (`note`).
    """
    show = UnitSystem(design.job.asked.job.sheets)
    return [
        *_clashes(design, show),
        *_stock(design, show),
        *_brace_stock(design, show),
        *_concreted(design),
        *_heave(design, show),
        *_bells(design, show),
        *depth_findings(design),
        *_off_string(design, show),
        *_uncertain(design, show),
        *_bays(design, show),
        *_bound(design, show),
        *_certificate(design),
        *bending_findings(design),
    ]


def _clashes(design: Design, show: UnitSystem) -> list[Finding]:
    clashes, spans = design.top_line.clashes, design.layout.spans
    findings = []
    for kind, index, fraction, by in zip(
        clashes.kind, clashes.index.tolist(), clashes.fraction.tolist(), clashes.by_m.tolist(), strict=True
    ):
        if kind == "post band":
            place = place_of(design, index)
            side = "above" if by > 0 else "below"
            message = f"The top of {post_id(index)} stands {show.small(abs(by))} {side} its band."
            remedy = "Widen [top_line] low or high, or pin it elsewhere."
        else:
            a, b = int(spans.from_post[index]), int(spans.to_post[index])
            place = Place("span", f"{post_id(a)}-{post_id(b)}", *_span_place(design, index, fraction))
            message, remedy = _span_clash(kind, post_id(a), post_id(b), show.small(by))
        findings.append(Finding(STOP, "top-line-clash", place, message, remedy))
    return findings


def _span_clash(kind: str, one: str, other: str, by: str) -> tuple[str, str]:
    if kind == "gap low":
        return (
            f"Between {one} and {other} the ground comes {by} too near the lowest rail.",
            "Add a post at the hump with a [[pin]], cut the hump down, or widen [top_line] gap_low or high.",
        )
    if kind == "gap high":
        return (
            f"Between {one} and {other} the gap under the lowest rail is {by} too large.",
            "Add a post in the hollow with a [[pin]], fill it, add a strand, or widen [top_line] gap_high or low.",
        )
    return (
        f"The tops of {one} and {other} cannot be level: their bands miss each other by {by}.",
        "Move the gate to more level ground, grade it, or widen [top_line] low and high.",
    )


def _span_place(design: Design, span: int, fraction: float) -> tuple[str, float]:
    spans = design.layout.spans
    line = design.layout.lines[int(spans.line_index[span])]
    start, end = float(spans.from_station_m[span]), float(spans.to_station_m[span])
    end = end + line.length_m if end < start else end
    share = 0.5 if np.isnan(fraction) else fraction
    station = start + share * (end - start)
    return line.name, float(np.mod(station, line.length_m)) if line.is_closed else station


def _stock(design: Design, show: UnitSystem) -> list[Finding]:
    """Posts of which no stock is long enough, one finding for all that lack the same."""
    posts, cuts, settings = design.layout.posts, design.cuts, design.job.settings
    missing = np.flatnonzero(np.isnan(cuts.stock_length_m) & ~posts.is_built)
    is_line = np.isin(posts.role, (int(Role.LINE), int(Role.BRACE)))
    spare = settings.posts.trim_m + np.where(cuts.is_cut, 0.0, settings.posts.long_spare_m)
    need = design.holes.depth_m + design.top_line.height_m + spare
    groups: dict[tuple[bool, str], list[int]] = {}
    for row in missing.tolist():
        groups.setdefault((bool(is_line[row]), show.small(float(need[row]))), []).append(row)
    findings = []
    for (line_post, needed), rows in groups.items():
        key = "line_lengths" if line_post else "end_lengths"
        longest = max(settings.posts.line_lengths_m if line_post else settings.posts.end_lengths_m)
        row = rows[0]
        depth, height = float(design.holes.depth_m[row]), float(design.top_line.height_m[row])
        names = post_id(row) if len(rows) == 1 else f"{post_id(row)} and {len(rows) - 1} more like it"
        message = (
            f"{names}: {needed} needed, {show.small(depth)} in the ground, {show.small(height)} above it and "
            f"{show.small(float(spare[row]))} to saw off; the longest stock of {show.post(longest)} is "
            f"{show.small(float(need[row]) - longest)} short."
        )
        deepest = depth - float(need[row]) + longest
        remedy = f"Add a longer post to [posts] {key}" + (
            f", or dig {show.small(deepest)} at most." if deepest > 0 else "."
        )
        findings.append(Finding(STOP, "no-stock-length", place_of(design, row), message, remedy))
    return findings


def _brace_stock(design: Design, show: UnitSystem) -> list[Finding]:
    """Braces of which no stock is long enough, in one finding."""
    braces, longest = design.layout.braces, max(design.job.settings.brace.lengths_m)
    over = np.flatnonzero(braces.length_m > longest + 1e-9)
    if not len(over):
        return []
    worst = float(braces.length_m[over].max())
    needed, stock, short = show.small(worst), show.post(longest), show.small(worst - longest)
    message = f"{len(over)} braces need up to {needed}; the longest stock of {stock} is {short} short."
    if len(over) == 1:
        message = f"1 brace needs {needed}; the longest stock of {stock} is {short} short."
    remedy = "Add a longer one to [brace] lengths, or shorten [brace] reach."
    return [
        Finding(STOP, "no-stock-length", place_of(design, int(braces.post_index[over[0]])), message, remedy)
    ]


def _concreted(design: Design) -> list[Finding]:
    """Line posts that are concreted because of uplift; whether their footings hold it is strength's check."""
    findings = []
    posts = design.layout.posts
    chosen = np.flatnonzero(design.top_line.needs_concrete & ~posts.is_fixed)
    if len(chosen):
        names = ", ".join(post_id(row) for row in chosen[:8].tolist()) + (" ..." if len(chosen) > 8 else "")
        message = (
            f"1 line post is concreted because the rails lift it out of tamped soil: {names}."
            if len(chosen) == 1
            else f"{len(chosen)} line posts are concreted because the rails lift them out of tamped soil: {names}."
        )
        findings.append(Finding(NOTE, "concreted-for-uplift", place_of(design, int(chosen[0])), message))
    return findings


def _bells(design: Design, show: UnitSystem) -> list[Finding]:
    """Holes wider than the layout reckoned with, whose bottom reaches into a clearance: concreted later, or so stated."""
    posts, holes, settings = design.layout.posts, design.holes, design.job.settings.holes
    later = ~posts.is_fixed & (holes.set == int(Setting.CONCRETE)) & (posts.role == int(Role.LINE))
    later &= settings.line_set != "concrete"
    later |= holes.bell_m > settings.auger_m + settings.bell_m + 1e-9
    rows = np.flatnonzero(later & ~posts.is_built)
    findings = []
    for obstacle in (one for one in design.job.site.obstacles if not one.is_overhead and len(rows)):
        over = trespass_m(obstacle, posts.x_m[rows], posts.y_m[rows], 0.0) + holes.bell_m[rows] / 2
        for row, by in zip(rows[over > 1e-3].tolist(), over[over > 1e-3].tolist(), strict=True):
            message = (
                f"The hole of {post_id(row)}, {show.small(float(holes.bell_m[row]))} wide at its bottom, reaches "
                f"{show.small(by)} into the clearance of {obstacle.name}."
            )
            remedy = (
                f"Pin it as far away, or have the {obstacle.kind} located and its clearance made smaller."
            )
            findings.append(Finding(STOP, "post-in-clearance", place_of(design, row), message, remedy))
    return findings


def _heave(design: Design, show: UnitSystem) -> list[Finding]:
    holes, soils = design.holes, soils_of(design.job, design.layout)
    heaves = np.array([soil.heaves for soil in soils], bool)
    tamped = heaves & (holes.set != int(Setting.CONCRETE)) & (holes.depth_m < design.job.settings.frost_m)
    if not tamped.any():
        return []
    first = int(np.flatnonzero(tamped)[0])
    names = " and ".join(dict.fromkeys(soils[row].name for row in np.flatnonzero(tamped).tolist()))
    message = (
        f"{int(tamped.sum())} tamped posts end above the frost line at {show.small(design.job.settings.frost_m)} in "
        f"{names}: frost may lift them."
    )
    remedy = "Dig them below frost, backfill with gravel, or plan to re-set them in spring."
    return [Finding(CAUTION, "frost-heave", place_of(design, first), message, remedy)]


def _off_string(design: Design, show: UnitSystem) -> list[Finding]:
    """Posts already set whose face is off the string by more than a finished fence may be."""
    posts, allowed = design.layout.posts, design.job.settings.measured.post_offset_m
    off = posts.offset_m + posts.rail_face * posts.diameter_m / 2
    findings = []
    for row in np.flatnonzero(
        posts.is_built & (posts.rail_face != 0) & (np.abs(off) > allowed + 1e-6)
    ).tolist():
        side = "left" if off[row] > 0 else "right"
        message = (
            f"The face of {post_id(row)}, already set, is {show.small(abs(float(off[row])))} {side} of the string; "
            f"{show.small(allowed)} is allowed."
        )
        remedy = "Set the post to the string, pack or notch its brackets, or correct its [[built]] offset."
        findings.append(Finding(CAUTION, "built-off-string", place_of(design, row), message, remedy))
    return findings


def _uncertain(design: Design, show: UnitSystem) -> list[Finding]:
    long_set = ~design.cuts.is_cut & ~design.layout.posts.is_built
    if not long_set.any():
        return []
    first = int(np.flatnonzero(long_set)[0])
    worst = float(design.top_sd_m[long_set].max())
    limit = design.job.settings.top_line.cut_limit_m
    controls = int(design.is_control.sum())
    message = (
        f"No cut is printed for {int(long_set.sum())} posts: the ground ({design.job.site.ground.source}) is known to "
        f"{show.small(worst)} at worst, and a cut claims {show.small(limit)}. They are set long, to be cut to a string "
        f"between {controls} control posts."
    )
    remedy = "Level the line, or survey it, and use those heights as [site] ground."
    return [Finding(CAUTION, "ground-uncertain", place_of(design, first), message, remedy)]


def _bays(design: Design, show: UnitSystem) -> list[Finding]:
    """Bays that miss one post fewer by a little."""
    spans, limit = design.layout.spans, design.job.settings.layout.spacing_limit_m
    near = design.job.settings.rolls.near_m
    posts = design.layout.posts
    given = np.isfinite(posts.pinned_height_m) | np.isfinite(posts.rock_depth_m) | posts.is_built
    fixed = posts.is_fixed | given | (posts.role == int(Role.BRACE))
    findings = []
    start = 0
    rows = np.flatnonzero(spans.kind == 0)
    ends = np.flatnonzero(fixed[spans.to_post[rows]])
    for end in ends.tolist():
        own = rows[start : end + 1]
        start = end + 1
        length = float(spans.slope_length_m[own].sum())
        over = length - limit * (len(own) - 1)
        if len(own) > 1 and _LEAST_MISS_M < over <= near and len(own) == int(np.ceil(length / limit - 1e-9)):
            a, b = int(spans.from_post[own[0]]), int(spans.to_post[own[-1]])
            message = f"{show.small(over)} less between {post_id(a)} and {post_id(b)} would save a post."
            findings.append(
                Finding(
                    NOTE, "bay-near-miss", place_of(design, a), message, "Move a gate or an end by as much."
                )
            )
    return findings[:5]


def _bound(design: Design, show: UnitSystem) -> list[Finding]:
    findings = []
    for one in design.cutting:
        if one.cut_list.is_proven:
            continue
        message = (
            f"The cut list of {one.rail} costs {show.long(one.cut_list.cost_m)} of rail; none costs less than "
            f"{show.long(one.cut_list.bound_m)} (gap {one.cut_list.gap:.2%})."
        )
        findings.append(Finding(NOTE, "roll-bound", Place("roll", one.rail), message))
    return findings


def _certificate(design: Design) -> list[Finding]:
    certificate = design.top_line.certificate
    if certificate.is_converged:
        return []
    message = (
        f"The top line is certified within {certificate.relative_gap:.1e} of the best only, short of its aim; "
        "its bands are judged from the tops themselves all the same."
    )
    return [Finding(CAUTION, "top-line-not-converged", Place("job"), message, "Report the job file.")]
