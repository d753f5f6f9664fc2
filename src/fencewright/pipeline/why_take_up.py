"""Why the tensioner turns as often as it does, and what the first season takes back."""

from fencewright.pipeline.why_origin import asked, computed
from fencewright.pipeline.why_pull_part import PullPart, sheet_origin, stiffness_input
from fencewright.pipeline.why_record import Reason

_DAY_S = 86400.0


def take_up_reasons(one: PullPart) -> list[Reason]:
    """Say what the tensioner takes in, what a person watches, and what is lost in the first season."""
    return [_ends_give(one), *_take_up(one), _marked(one), _repull(one)]


def _ends_give(one: PullPart) -> Reason:
    tension, drawn, both = one.design.job.settings.tension, one.pulled.drawn, (0, 1)
    ends, share = (one.post_names[0], one.post_names[-1]), (drawn.first_share[0], drawn.last_share[0])
    draws, soil = (drawn.first_draws[0], drawn.last_draws[0]), "computed, the strength stage"
    stiffness = one.task.end_stiffness_n_m[0]
    inputs = [
        computed("F", "set tension of all rails together", float(one.tensions.set_tension_n.sum()), "N"),
        *(
            computed(f"K_{side + 1}", f"stiffness of {ends[side]}", float(stiffness[side]), "N/m", soil)
            for side in both
        ),
        *(
            computed(f"x_{side + 1}", f"share of the tension at {ends[side]}", float(share[side]), "1")
            for side in both
        ),
    ]
    symbols = "c = F (x_1 / K_1 + x_2 / K_2)"
    if tension.spring_m_n:
        at = float(share[0] * draws[0] + share[1] * draws[1])
        origin = "[tension] spring_travel over spring_force, of the job or their trade defaults"
        inputs += [
            computed("s", "give of a spring-loaded keeper", tension.spring_m_n, "m/N", origin),
            computed("T", "set tension", one.value("set_tension_n"), "N"),
            computed("x_3", "share at its tensioners, summed", at, "1"),
        ]
        symbols += " + s T x_3"
    return Reason(
        "give of ends and springs",
        "what the rail takes in because they move",
        tuple(inputs),
        "an end moves once, by the pull of all rails over its stiffness, and each rail takes that in",
        symbols,
        one.value("end_yield_m"),
        "m",
        "",
        "stiffer ends: deeper holes, or braces",
    )


def _take_up(one: PullPart) -> list[Reason]:
    parts = (
        computed("a", "slack", one.value("slack_m"), "m", "length times [tension] hand_slack"),
        computed(
            "b", "stretch", one.value("stretch_m"), "m", "tension of each span over EA, times its length"
        ),
        computed(
            "c",
            "ends and springs give",
            one.value("end_yield_m"),
            "m",
            "all rails' pull over the stiffness of each end",
        ),
    )
    whole = Reason(
        "take-up",
        "rail that the tensioner takes in",
        parts,
        "slack, stretch and the ends' yield",
        "u = a + b + c",
        one.value("take_up_m"),
        "m",
        "spool-layers",
        "a rail pulled tighter by hand first",
    )
    return [whole, *_spool(one)]


def _spool(one: PullPart) -> list[Reason]:
    """Say how often a tensioner turns, how often the rail is gripped anew, and what that uses up."""
    job, tension, rails = one.design.job, one.design.job.settings.tension, one.pulled.rails
    spool = tension.spool
    size = (
        computed("u", "take-up", one.value("take_up_m")),
        asked(job, "tension.spool_core", "tension.spool_core", ("d_0", "bare spool"), spool.core_m),
        asked(job, "tension.spool_width", "tension.spool_width", ("b", "between its flanges"), spool.width_m),
        computed("d_w", "thickness wound", float(rails.wire_m[one.product]), "m", sheet_origin(one)),
        computed("h", "rail that it holds", float(rails.spool_holds_m[one.product])),
    )
    turns = Reason(
        "turns of the spool",
        "of one tensioner",
        size,
        "layer upon layer, each thicker by two wires",
        "u = sum of pi (d_0 + (2 k - 1) d_w) x turns of layer k, b / d_w a layer",
        one.value("turns"),
        "1",
        "spool-layers",
        "a thicker spool, or less take-up",
    )
    grip = asked(
        job, "tension.grip_rail", "tension.grip_rail", ("g", "rail used up by each grip"), tension.grip_rail_m
    )
    regrips = Reason(
        "re-grips",
        "how often the rail is cut back and gripped anew",
        (size[0], size[-1]),
        "as often as the take-up fills the spool",
        "ceil(u / h) - 1",
        one.value("regrips"),
        "1",
        "spool-layers",
        "less take-up than the spool holds" if one.value("regrips") else "",
    )
    extra = Reason(
        "extra rail",
        "used up by gripping",
        (grip, computed("k", "re-grips", one.value("regrips"), "1")),
        "one grip, and one more for each re-grip, at each tensioner",
        "g (1 + k)",
        one.value("extra_rail_m"),
        "m",
        "spool-layers",
    )
    return [turns, regrips, extra]


def _marked(one: PullPart) -> Reason:
    job, tension = one.design.job, one.design.job.settings.tension
    inputs = (
        computed("T", "set tension", one.value("set_tension_n"), "N"),
        stiffness_input(one),
        asked(
            job, "tension.marked_length", "tension.marked_length", ("l", "marked length"), tension.marked_m
        ),
    )
    return Reason(
        "stretch of the marked length",
        "what a person watches while pulling",
        inputs,
        "tension over stiffness, times the length",
        "T l / EA",
        one.value("marked_stretch_m"),
        "m",
        "composite-bar",
    )


def _repull(one: PullPart) -> Reason:
    job, tension, tensions = one.design.job, one.design.job.settings.tension, one.tensions
    inputs = (
        asked(
            job,
            "tension.settlement",
            "tension.settlement",
            ("e", "each end gives for good"),
            tension.settlement_m,
        ),
        asked(
            job,
            "tension.settling_time",
            "tension.settling_time",
            ("tau", "in this time, two thirds of it"),
            tension.settling_s / _DAY_S,
            "day",
        ),
        computed(
            "c",
            "creep for each tenfold of time",
            float(one.pulled.rails.creep_per_decade[one.product]),
            "1",
            sheet_origin(one),
        ),
        computed("m", "rail to take in then", one.value("repull_m")),
        computed("t", "days after the first pull", tensions.repull_days, "day"),
    )
    return Reason(
        "tension lost by the re-pull",
        "when most of the settling is over",
        inputs,
        "both ends settle and the rail creeps: the pull loses what it slackens by",
        "m = 2 e (1 - exp(-t / tau)) + c log10(1 + t) L",
        one.value("repull_loss_n"),
        "N",
        "",
        "posts that settle less: concrete that has hardened before the pull",
    )
