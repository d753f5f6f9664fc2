"""Why a post stands where it stands."""

import math

import numpy as np

from fencewright.layout.bays import Bays, gather_bays, place_line_posts
from fencewright.layout.line_plan import LinePlan
from fencewright.layout.marks import Mark
from fencewright.layout.runs import turning_limit_rad
from fencewright.layout.spacing import space_posts
from fencewright.pipeline.record import Design, post_id
from fencewright.pipeline.why_origin import (
    asked,
    computed,
    friction,
    least_share,
    practice,
    pull_limit,
    source_of,
)
from fencewright.pipeline.why_record import Input, Reason
from fencewright.pipeline.why_rows import openings_again, plan_again, take_rows
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import Role

_SAME_M = 1e-6
_EVEN_M = 1e-4


def place_reasons(design: Design, row: int) -> list[Reason]:
    """Say why a post stands, and at which station."""
    posts = design.layout.posts
    line_index = int(posts.line_index[row])
    plan = plan_again(design, line_index)
    mark = _mark_at(plan, float(posts.station_m[row]))
    station = _fixed(design, row, plan, mark) if mark else _spaced(design, row, plan)
    return [_role(design, row), station, _offset(design, row)]


def _apart_m(plan: LinePlan, one_m: float, other_m: float) -> float:
    gap = abs(one_m - other_m)
    return min(gap, abs(plan.track.line.length_m - gap)) if plan.track.line.is_closed else gap


def _mark_at(plan: LinePlan, station_m: float) -> Mark | None:
    nearest = min(plan.marks, key=lambda mark: _apart_m(plan, mark.station_m, station_m), default=None)
    if nearest is None or _apart_m(plan, nearest.station_m, station_m) > _SAME_M:
        return None
    return nearest


def _role(design: Design, row: int) -> Reason:
    posts, job = design.layout.posts, design.job
    role, turning = Role(int(posts.role[row])), float(posts.turning_rad[row])
    layout = job.settings.layout
    inputs = (
        computed(
            "t", "turning of the line here, left positive", turning, "rad", "computed from the line as drawn"
        ),
        asked(
            job,
            "fence.corner_angle",
            "layout.corner_angle",
            ("t_c", "a corner from"),
            layout.corner_angle_rad,
            "rad",
        ),
        practice(
            job,
            "layout.straight_angle",
            ("t_s", "no post of its own below"),
            layout.straight_angle_rad,
            "rad",
        ),
    )
    smaller = ""
    if role is Role.CORNER:
        smaller = (
            f"a bend, without braces, where the line turns less than {math.degrees(layout.corner_angle_rad):.0f} deg: "
            "spread the turn over two points, or raise [fence] corner_angle"
        )
    elif role is Role.BEND:
        smaller = f"no post of its own where the line turns less than {math.degrees(layout.straight_angle_rad):.0f} deg"
    return Reason(
        "role",
        posts.why[row] or f"it is {_article(role.label)} post",
        inputs,
        "ends, gates, crossings and shared posts first; then a turn of a corner's angle or more is a corner, less a "
        "bend; the rest are strain posts, line posts and second uprights of braces",
        "|t| >= t_c: corner; t_s <= |t| < t_c: bend; |t| < t_s: none",
        role.label,
        "",
        source_of(job, "fence.corner_angle", "layout.corner_angle"),
        smaller,
    )


def _article(word: str) -> str:
    return f"an {word}" if word[0] in "aeiou" else f"a {word}"


def _fixed(design: Design, row: int, plan: LinePlan, mark: Mark) -> Reason:
    if mark.closes >= 0 and mark.opening < 0:
        return _far_gate_post(design, plan, mark)
    if mark.opening >= 0:
        return _near_gate_post(design, plan, mark)
    if mark.brace_of >= 0:
        return _second_upright(design, plan, mark)
    inputs: tuple[Input, ...] = ()
    words = "the station at which the line as drawn has this point, or at which the job asks for it"
    symbols, smaller, source = "station as drawn", "", ""
    if Role(int(design.layout.posts.role[row])) is Role.STRAIN:
        inputs, words, symbols = _strain(design, plan, mark)
        smaller = "none needed where one pull may be as long, and turn as much, as the whole run"
        source = source_of(design.job, "fence.pull_length_limit", "layout.pull_length_limit")
    station = float(plan.track.wrap(np.array([mark.station_m]))[0])
    return Reason("station", mark.why, inputs, words, symbols, station, "m", source, smaller)


def _strain(design: Design, plan: LinePlan, mark: Mark) -> tuple[tuple[Input, ...], str, str]:
    job, layout = design.job, design.job.settings.layout
    limit = turning_limit_rad(layout)
    inputs = (
        pull_limit(job),
        friction(job),
        least_share(job),
        computed("t_max", "most turning in one pull", limit, "rad"),
    )
    words = "a run is divided into the fewest pulls that keep both limits, then the most even"
    return inputs, words, "L <= L_max; sum|t| <= t_max = -ln(q) / mu"


def _near_gate_post(design: Design, plan: LinePlan, mark: Mark) -> Reason:
    opening = openings_again(design)[mark.opening]
    at = computed(
        "a", "station of its nearer post", opening.from_m, "m", f"stated in the job, {opening.item}, at"
    )
    return Reason(
        "station",
        mark.why,
        (at,),
        "the centre of an opening's nearer post stands where the job says",
        "station = a",
        float(plan.track.wrap(np.array([mark.station_m]))[0]),
        "m",
    )


def _far_gate_post(design: Design, plan: LinePlan, mark: Mark) -> Reason:
    job = design.job
    opening = openings_again(design)[mark.closes]
    diameter = job.settings.posts.end_diameter_m
    inputs = (
        computed(
            "a", "station of its nearer post", opening.from_m, "m", f"stated in the job, {opening.item}, at"
        ),
        computed("o", "opening between post faces", opening.opening_m, "m", f"from the job, {opening.item}"),
        asked(job, "posts.end_diameter", "posts.end_diameter", ("D", "diameter of both posts"), diameter),
    )
    return Reason(
        "station",
        mark.why,
        inputs,
        "centres of an opening's posts stand one post diameter further apart than its faces",
        "station = a + o + D",
        float(plan.track.wrap(np.array([opening.to_m]))[0]),
        "m",
        next_smaller="a smaller opening",
    )


def _second_upright(design: Design, plan: LinePlan, mark: Mark) -> Reason:
    brace = plan.braces[mark.brace_of]
    start = plan.marks[brace.mark].station_m
    inputs = (
        computed("a", "station of the post that it braces", start),
        computed("r", "reach of the brace", brace.reach_m),
    )
    return Reason(
        "station",
        mark.why,
        inputs,
        "the second upright stands one reach along the fence from the braced post",
        "station = a + r" if brace.forward else "station = a - r",
        float(plan.track.wrap(np.array([brace.foot_m]))[0]),
        "m",
    )


def _bay_of(plan: LinePlan, bays: Bays, station_m: float) -> tuple[int, float]:
    """Bay that holds a line post, and its station unwrapped as the bay's is."""
    length = plan.track.line.length_m
    shifts = (0.0, length, -length) if plan.track.line.is_closed else (0.0,)
    for shift in shifts:
        at = station_m + shift
        inside = np.flatnonzero((bays.from_m < at + _SAME_M) & (bays.to_m > at - _SAME_M))
        if len(inside):
            return int(inside[0]), at
    raise ValueError(f"no bay holds station {station_m}")


def _spaced(design: Design, row: int, plan: LinePlan) -> Reason:
    """Space the one bay that holds the post again."""
    job, posts = design.job, design.layout.posts
    bays = gather_bays([plan.track], [plan.stretches])
    bay, at = _bay_of(plan, bays, float(posts.station_m[row]))
    own = take_rows(bays, np.array([bay]))
    spaced, _ = place_line_posts([plan.track], own, [plan.kept_out_m], job.settings, job.asked.job.sheets)
    number = int(np.argmin(np.abs(spaced.station_m - at)))
    length = float(own.length_m[0])
    along = plan.track.slope_at(spaced.station_m) - own.from_slope_m[0]
    steps = np.diff(np.concatenate([[0.0], along, [length]]))
    count = len(steps)
    is_even = bool(np.ptp(steps) < _EVEN_M)
    limit = job.settings.layout.spacing_limit_m
    inputs = (
        computed("L", _bay_name(design, row, own), length, "m", "computed along the ground"),
        asked(job, "fence.spacing_limit", "layout.spacing_limit", ("s_max", "longest span"), limit),
        computed("n", "spans in it", float(count), "1"),
        computed("k", "spans before this post", float(number + 1), "1"),
        computed("s1", "span before it", float(steps[number])),
        computed("s2", "span after it", float(steps[number + 1])),
        *_barred(plan, own),
    )
    words, symbols = (
        (
            "fewest spans that keep the limit, all equal along the ground",
            "n = ceil(L / s_max); s = L / n; place = k s",
        )
        if is_even
        else (
            "posts at dips and crests that need one, none inside a clearance or where a brace's foot is; then fewest "
            "posts, then the most even",
            "least n, then least sum of s^2, with every s <= s_max",
        )
    )
    station = float(plan.track.wrap(spaced.station_m[number : number + 1])[0])
    return Reason(
        "station",
        posts.why[row],
        inputs,
        words,
        symbols,
        station,
        "m",
        source_of(job, "fence.spacing_limit", "layout.spacing_limit"),
        _fewer(design, length, count, limit),
    )


def _bay_name(design: Design, row: int, bay: Bays) -> str:
    posts, line = design.layout.posts, int(design.layout.posts.line_index[row])
    length, ends = design.layout.lines[line].length_m, np.array([bay.from_m[0], bay.to_m[0]])
    if design.layout.lines[line].is_closed:
        ends = np.mod(ends, length)
    names = []
    for at in ends.tolist():
        gap = np.abs(posts.station_m - at)
        near = np.flatnonzero((posts.line_index == line) & (np.minimum(gap, np.abs(length - gap)) < _SAME_M))
        visit = design.layout.visits
        shared = np.flatnonzero((visit.line_index == line) & (np.abs(visit.station_m - at) < _SAME_M))
        names += (
            [post_id(int(near[0]))] if len(near) else [post_id(int(visit.post_index[k])) for k in shared[:1]]
        )
    return f"length from {names[0]} to {names[-1]}" if names else "length between fixed posts"


def _barred(plan: LinePlan, bay: Bays) -> list[Input]:
    """Stretches of the bay where no post may stand."""
    start, end = float(bay.from_m[0]), float(bay.to_m[0])
    found = []
    for low, high in plan.kept_out_m.tolist():
        for shift in (0.0, plan.track.line.length_m) if plan.track.line.is_closed else (0.0,):
            a, b = max(low + shift, start), min(high + shift, end)
            if b - a > _SAME_M and (a, b) not in found:
                found.append((a, b))
    return [
        computed(
            f"x{k}", "no post between these stations", _wrapped(plan, pair), "m", "clearance or brace foot"
        )
        for k, pair in enumerate(sorted(found)[:6], 1)
    ]


def _wrapped(plan: LinePlan, pair: tuple[float, float]) -> tuple[float, ...]:
    return tuple(plan.track.wrap(np.array(pair)).tolist())


def _fewer(design: Design, length_m: float, count: int, limit_m: float) -> str:
    show = UnitSystem(design.job.asked.job.sheets)
    free = len(space_posts([length_m], limit_m).station_m) + 1  # spans that a clear, even bay would take
    over = length_m - (count - 1) * limit_m
    if count > free:
        return f"dips, crests and clearances cost {count - free} of these spans: move or mend them"
    if count < 2 or over <= 0:
        return ""
    return (
        f"one post fewer in this bay: {show.long(over)} less between its fixed posts, or [fence] spacing_limit of "
        f"{show.long(length_m / (count - 1))}"
    )


def _offset(design: Design, row: int) -> Reason:
    posts, job = design.layout.posts, design.job
    is_end = bool(posts.is_fixed[row])
    key = "posts.end_diameter" if is_end else "posts.line_diameter"
    inputs = (
        asked(job, key, key, ("D", "diameter of the post"), float(posts.diameter_m[row])),
        computed(
            "f", "face that carries the rail: +1 left, -1 right, 0 both", float(posts.rail_face[row]), "1"
        ),
    )
    return Reason(
        "hole centre, left of the string",
        "the string runs at the face that carries the rail",
        inputs,
        "half a diameter behind the string, on the side away from the rail",
        "x = -f D / 2",
        float(posts.offset_m[row]),
        "m",
        source_of(job, key, key),
        "a thinner post",
    )
