"""Why the rail is as stiff and as hot, and as tight on each day, as it is."""

import math

from fencewright.pipeline.why_origin import asked, computed
from fencewright.pipeline.why_pull_part import (
    PullPart,
    coldest_input,
    growth_inputs,
    of_sheet,
    rail_hottest_input,
    sheet_origin,
    stiffness_input,
)
from fencewright.pipeline.why_record import Reason


def rail_reasons(one: PullPart) -> list[Reason]:
    """Say how stiff the rail is, and how hot it gets."""
    return [_stiffness(one), _hottest(one)]


def day_reasons(one: PullPart) -> list[Reason]:
    """Say how tight the rail is on the coldest and hottest day, and what to pull it to on any."""
    return [_cold(one), _hot(one), _sag(one), _chart(one)]


def _stiffness(one: PullPart) -> Reason:
    assumed, rail, rails = one.design.job.settings.tension.assumed, one.rail, one.pulled.rails
    modulus = rail.elastic_modulus_pa if rail.elastic_modulus_pa is not None else assumed.steel_modulus_pa
    inputs = (
        computed("n", "wires", float(rail.wires), "1", sheet_origin(one)),
        computed("d", "diameter of a wire", rail.wire_diameter_m, "m", sheet_origin(one)),
        of_sheet(
            one, "elastic_modulus_pa", "tension.steel_modulus", ("E", "modulus of the wires"), modulus, "Pa"
        ),
        computed("EA_p", "stiffness of the polymer", rail.polymer_stiffness_n or 0.0, "N", sheet_origin(one)),
    )
    return Reason(
        "stiffness of one rail",
        "the data sheet states it" if rail.stiffness_n is not None else "from its wires and its polymer",
        inputs,
        "wires and polymer stretch together",
        "EA = n pi d^2 / 4 E + EA_p, unless the sheet states EA",
        float(rails.stiffness_n[one.product]),
        "N",
        "composite-bar",
    )


def _hottest(one: PullPart) -> Reason:
    job, tension, rail = one.design.job, one.design.job.settings.tension, one.rail
    assumed = tension.assumed
    dark = rail.absorptivity if rail.absorptivity is not None else assumed.absorptivity
    shine = rail.emissivity if rail.emissivity is not None else assumed.emissivity
    inputs = (
        asked(job, "site.hottest", "site.hottest", ("t_a", "hottest air"), tension.hottest_c, "C"),
        asked(job, "tension.sun", "tension.sun", ("q", "sun on the rail's face"), tension.sun_w_m2, "W/m2"),
        asked(job, "tension.wind", "tension.wind", ("v", "wind"), tension.wind_m_s, "m/s"),
        of_sheet(one, "absorptivity", "tension.absorptivity", ("a", "absorptivity"), dark, "1"),
        of_sheet(one, "emissivity", "tension.emissivity", ("e", "emissivity"), shine, "1"),
    )
    return Reason(
        "rail on the hottest day",
        "sun heats a rail above the air",
        inputs,
        "heat from the sun equals what the rail gives to the air and the sky",
        "a q face = convection(v, t_h - t_a) + e sigma (T_h^4 - T_a^4) skin",
        float(one.pulled.rails.hottest_c[one.product]),
        "C",
        "ieee-738",
        "a light rail",
    )


def _cold(one: PullPart) -> Reason:
    inputs = (
        computed("T", "set tension", one.value("set_tension_n"), "N"),
        coldest_input(one),
        *growth_inputs(one),
        stiffness_input(one),
        computed(
            "f",
            "movement for a unit of tension everywhere, ends with it",
            float(one.pulled.states.held_m_n[0, one.product]),
            "m/N",
        ),
    )
    return Reason(
        "tension on the coldest day",
        "what the ends are checked for",
        inputs,
        "the rail shrinks and no bend slips: the whole pull gains one tension",
        "T_c = T + alpha L (t_0 - t_c) / f, less sag",
        one.value("cold_n"),
        "N",
        "parabola-state",
        "a lower set tension, or a spring-loaded keeper",
    )


def _hot(one: PullPart) -> Reason:
    inputs = (
        computed("T", "set tension", one.value("set_tension_n"), "N"),
        rail_hottest_input(one),
        *growth_inputs(one),
        stiffness_input(one),
        computed(
            "f",
            "movement for a unit of tension, ends with it",
            float(one.pulled.states.sliding_m_n[0, one.product]),
            "m/N",
        ),
    )
    return Reason(
        "tension on the hottest day",
        "what keeps the rail from hanging slack",
        inputs,
        "the rail grows and slips at its bends as it was drawn: its tension keeps its profile",
        "f T_h - K / T_h^2 = f T - K / T^2 - alpha L (t_h - t_0)",
        one.value("hot_n"),
        "N",
        "parabola-state",
    )


def _sag(one: PullPart) -> Reason:
    inputs = (
        computed("w", "weight", float(one.pulled.rails.weight_n_m[one.product]), "N/m", sheet_origin(one)),
        computed(
            "l",
            "span that sags most, brought to the tensioner's tension",
            math.sqrt(float(one.pulled.drawn.deepest_m2[0])),
        ),
        computed("T_h", "tension on the hottest day", one.value("hot_n"), "N"),
    )
    return Reason(
        "deepest sag on the hottest day",
        "where the rail is loosest for its span",
        inputs,
        "parabola between two posts",
        "s = w l^2 / (8 T_h)",
        one.value("sag_hot_m"),
        "m",
        "parabola-state",
        "a tighter rail, or shorter spans",
    )


def _chart(one: PullPart) -> Reason:
    tensions = one.tensions
    inputs = (
        computed(
            "t",
            "rail temperatures",
            tuple(tensions.chart_c.tolist()),
            "C",
            "the job, [tension] chart_from, chart_to, chart_step, or their trade defaults",
        ),
        computed("T_1", "least of each day", tuple(tensions.chart_low_n[one.strand].tolist()), "N"),
        computed("T_2", "greatest of each day", tuple(tensions.chart_high_n[one.strand].tolist()), "N"),
    )
    return Reason(
        "chart: tension to pull to",
        "by rail temperature while pulling",
        inputs,
        "the same rail comes to lie in the pull as at the set tension, colder tighter; held to the day's window",
        "f T - K / T^2 = f T_0 - K / T_0^2 - alpha L (t - t_0), T_1 <= T <= T_2",
        tuple(tensions.chart_n[one.strand].tolist()),
        "N",
        "parabola-state",
    )
