"""Why a pull is drawn as tight, and from that post, as it is."""

import math

import numpy as np

from fencewright.mechanics.belt_friction import BOTH_ENDS
from fencewright.pipeline.record import Design, post_id
from fencewright.pipeline.why_origin import asked, computed, friction, least_share, practice
from fencewright.pipeline.why_pull_part import (
    PullPart,
    coldest_input,
    growth_inputs,
    of_sheet,
    pull_part,
    rail_hottest_input,
    reference_input,
    sheet_origin,
)
from fencewright.pipeline.why_record import Input, Reason
from fencewright.pipeline.why_rows import Part
from fencewright.pipeline.why_take_up import take_up_reasons
from fencewright.pipeline.why_tension_days import day_reasons, rail_reasons
from fencewright.quantity.show import UnitSystem
from fencewright.tables.strength import Check
from fencewright.tables.tension import GOVERNS_HIGH

_LITTLE_RAD = math.radians(2.0)  # bends smaller than this are not named one by one


def tension_reasons(design: Design, run: int, strand: int, part: Part) -> list[Reason]:
    """Say how tight, from where, with how many turns, and how it is checked."""
    one = pull_part(design, run, strand, part)
    return [
        *rail_reasons(one),
        _least(one),
        _greatest(one),
        _set(one),
        *day_reasons(one),
        _tensioner(one),
        _at_posts(one, "pulling"),
        _at_posts(one, "worked"),
        *take_up_reasons(one),
    ]


def _least(one: PullPart) -> Reason:
    job, tension, limits = one.design.job, one.design.job.settings.tension, one.pulled.limits
    inputs = (
        asked(
            job,
            "tension.sag_limit",
            "tension.sag_limit",
            ("s", "most sag on the hottest day"),
            tension.sag_limit_m,
        ),
        computed("w", "weight", float(one.pulled.rails.weight_n_m[one.product]), "N/m", sheet_origin(one)),
        computed(
            "l",
            "span that sags most, brought to the tensioner's tension",
            math.sqrt(float(one.pulled.drawn.deepest_m2[0])),
        ),
        computed(
            "T_h", "least tension at the tensioner then", float(limits.least_hot_n[0, one.product]), "N"
        ),
        rail_hottest_input(one),
        *growth_inputs(one),
        computed(
            "f",
            "movement for a unit of tension, ends and springs with it",
            float(one.pulled.states.sliding_m_n[0, one.product]),
            "m/N",
        ),
    )
    return Reason(
        "least set tension",
        "below it the rail hangs slack on the hottest day",
        inputs,
        "tension from which the rail, warmed to its hottest, still sags no more than the limit; elastic, thermal, sag "
        "and yielding ends together",
        "T_h = w l^2 / (8 s); f T - K / T^2 = f T_h - K / T_h^2 + alpha L (t_h - t_0)",
        one.value("window_low_n"),
        "N",
        "parabola-state",
        "a lower limit with more sag allowed, shorter spans, or a spring-loaded keeper",
    )


def _greatest(one: PullPart) -> Reason:
    rails, tensions = one.pulled.rails, one.tensions
    assumed = one.design.job.settings.tension.assumed
    governs = GOVERNS_HIGH[int(tensions.governs_high[one.strand])]
    says = {
        "breaking share": "the allowed share of its breaking load governs on the coldest day",
        "cold allowed": "the cold tension of its data sheet governs on the coldest day",
        "ends": "what the end assemblies carry governs on the coldest day",
        "corners": "what the weakest corner or bend carries governs on the coldest day",
    }[governs]
    share = one.rail.allowed_share if one.rail.allowed_share is not None else assumed.allowed_share
    inputs = (
        computed("B", "breaking load", float(rails.breaking_load_n[one.product]), "N", sheet_origin(one)),
        of_sheet(one, "allowed_share", "tension.allowed_share", ("p", "allowed share of it"), share, "1"),
        computed(
            "T_k",
            "greatest cold tension of the data sheet",
            float(rails.cold_allowed_n[one.product]),
            "N",
            sheet_origin(one),
        ),
        *_ends(one),
        coldest_input(one),
        *growth_inputs(one),
        computed(
            "f",
            "movement for a unit of tension everywhere, ends with it",
            float(one.pulled.states.held_m_n[0, one.product]),
            "m/N",
        ),
    )
    return Reason(
        "greatest set tension",
        says,
        inputs,
        "tension from which no limit is passed once the rail has cooled to the coldest day; the capacity of ends and "
        "corners is shared among the rails as their cold tensions are",
        "T + alpha L (t_0 - t_c) / f, less sag, <= min(p B, T_k, share of C_1, C_2 and C_3)",
        one.value("window_high_n"),
        "N",
        "parabola-state",
        "",
    )


def _ends(one: PullPart) -> list[Input]:
    """Capacity of both ends, and of the weakest post at which the run turns, for all rails together."""
    found = []
    for side, name in enumerate((one.post_names[0], one.post_names[-1])):
        check = Check(int(one.ends.check[0, side])).label
        value = float(one.ends.capacity_n[0, side])
        origin = f"computed, the strength stage, limited by {check}"
        found.append(computed(f"C_{side + 1}", f"all rails together that {name} carries", value, "N", origin))
    weakest = int(one.ends.turn_post[0])
    if weakest >= 0:
        origin = f"computed, the strength stage, limited by {Check(int(one.ends.turn_check[0])).label}"
        name, value = post_id(weakest), float(one.ends.turn_capacity_n[0])
        found.append(
            computed("C_3", f"all rails together that {name}, its weakest turn, carries", value, "N", origin)
        )
    return found


def _set(one: PullPart) -> Reason:
    margin = one.design.job.settings.tension.window_margin
    wanted = float(one.pulled.rails.set_tension_n[one.product])
    low, high, chosen = (one.value(name) for name in ("window_low_n", "window_high_n", "set_tension_n"))
    show = UnitSystem(one.design.job.asked.job.sheets)
    if low > high:
        says = "the window is empty: no tension serves both the hottest and the coldest day"
    elif abs(chosen - wanted) < 1e-6:
        says = "the data sheet's set tension lies in the window"
    else:
        says = f"the data sheet's {show.force(wanted)} lies outside the window, so the nearest inside it is taken"
    inputs = (
        computed("T_s", "set tension of the data sheet", wanted, "N", sheet_origin(one)),
        computed("T_1", "least", low, "N"),
        computed("T_2", "greatest", high, "N"),
        practice(
            one.design.job,
            "tension.window_margin",
            ("m", "part of the window kept from its edge"),
            margin,
            "1",
        ),
        reference_input(one),
    )
    return Reason(
        "set tension",
        says,
        inputs,
        "the data sheet's where it lies in the window, else the nearest that keeps a margin from the edge; of one rail, "
        "at the tensioner, at the reference temperature",
        "T_s if T_1 <= T_s <= T_2, else the nearest of [T_1 + m (T_2 - T_1), T_2 - m (T_2 - T_1)]",
        chosen,
        "N",
        one.rail.source,
        f"down to {show.force(low)}, if more sag on hot days does no harm" if low <= high else "",
    )


def _tensioner(one: PullPart) -> Reason:
    tensions, job = one.tensions, one.design.job
    both = int(tensions.drawn_from[one.strand]) == BOTH_ENDS
    first = bool(tensions.tensioner_post[one.strand] == one.task.post_index[0])
    name = one.post_names[0] if first else one.post_names[-1]
    inputs = (
        friction(job),
        computed("x", "share that reaches the loosest span, once worked", one.value("far_share"), "1"),
        least_share(job),
        practice(
            job,
            "tension.window_least",
            ("y", "narrowest window that a person can hit, part of the set tension"),
            job.settings.tension.window_least,
            "1",
        ),
    )
    return Reason(
        "tensioner",
        "at both ends: one end's pull does not reach far enough" if both else f"at {name}",
        inputs,
        "the end with the wider window, the first of equals; both only where that mends what one cannot",
        "window(end) greatest; both where x < q or the window < y",
        f"{one.post_names[0]} and {one.post_names[-1]}" if both else name,
        "",
        "capstan",
        "one tensioner where the pull turns less" if both else "",
    )


def _at_posts(one: PullPart, way: str) -> Reason:
    tensions, job, rows = one.tensions, one.design.job, one.tensions.posts_of(one.strand)
    pulling = way == "pulling"
    key = "tension.friction_pulling"
    rub = (
        asked(
            job,
            key,
            key,
            ("mu", "friction while the rail is drawn"),
            job.settings.tension.friction_pulling,
            "1",
        )
        if pulling
        else friction(job)
    )
    values = tensions.pulling_n[rows] if pulling else tensions.worked_n[rows]
    inputs = (
        computed("T", "set tension, at the tensioner", one.value("set_tension_n"), "N"),
        rub,
        computed("t3", "turning in space of all bends", float(one.task.turning_3d_rad.sum()), "rad"),
    )
    return Reason(
        "tension at each post while pulling" if pulling else "tension at each post once worked round",
        _order(one),
        inputs,
        "belt friction: every bend holds some of the pull back",
        "T_k = T exp(-mu sum t3)",
        tuple(np.asarray(values).tolist()),
        "N",
        "capstan",
    )


def _order(one: PullPart) -> str:
    """Name the posts of the pull from end to end, and where the tension falls most."""
    turning = one.task.turning_3d_rad
    most = [int(row) for row in np.argsort(-turning, kind="stable")[:4] if turning[row] > _LITTLE_RAD]
    falls = ", ".join(one.post_names[row + 1] for row in sorted(most))
    return f"{one.post_names[0]} to {one.post_names[-1]}, in order" + (
        f"; it falls most at {falls}" if falls else ""
    )
