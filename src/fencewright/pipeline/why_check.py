"""Why a post, a hole or a brace holds: each check with its demand, capacity, case and clause."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from fencewright.catalogue.rows import LoadCase
from fencewright.pipeline.record import Design, brace_id
from fencewright.pipeline.why_check_words import FORMULAS
from fencewright.pipeline.why_origin import asked, computed, ground_origin, practice
from fencewright.pipeline.why_record import Input, Reason
from fencewright.pipeline.why_strength import StrengthPart
from fencewright.quantity.show import UnitSystem
from fencewright.strength.load_cases import member_factors, member_resistance, soil_factors
from fencewright.strength.posts import Reactions, size
from fencewright.strength.remedies import remedy_of
from fencewright.tables.strength import Check

_OF_MEMBERS = (Check.BENDING, Check.SHEAR, Check.BRACE_COMPRESSION)


@dataclass(frozen=True, slots=True, eq=False)
class _Checked:
    """One row of the checks of a part: its design, part, row, and the reactions of its case."""

    design: Design
    part: StrengthPart
    row: int
    case: LoadCase | None
    reactions: Reactions | None

    @property
    def check(self) -> Check:
        """What is checked."""
        return Check(int(self.part.checked.checks.check[self.row]))

    @property
    def post(self) -> int:
        """Row of the post within the part."""
        return int(self.part.checked.checks.post_index[self.row])

    @property
    def brace(self) -> int:
        """Row of the brace within the part."""
        return int(self.part.checked.checks.brace_index[self.row])


def post_check_reasons(design: Design, row: int, part: StrengthPart) -> list[Reason]:
    """Say what decides a post's utilisation, and every check of its own."""
    post = part.post(row)
    checks = part.checked.checks
    own = np.flatnonzero((checks.post_index == post) & (checks.brace_index < 0))
    return [_utilisation(design, post, part), *(_reason(design, part, int(one)) for one in own)]


def brace_check_reasons(design: Design, row: int, part: StrengthPart) -> list[Reason]:
    """Say every check of a brace and of its footing."""
    brace, checks = part.brace(row), part.checked.checks
    own = np.flatnonzero(checks.brace_index == brace)
    force = float(part.checked.fastener_n[brace])
    fastener = Reason(
        "level force of its joint",
        "what the fastener between brace and post must carry, in the worst case",
        (computed("H", "level thrust of the brace", force, "N"),),
        "the brace's thrust, level, greatest of all cases",
        "H",
        force,
        "N",
        "statics",
        "a higher contact, or less pull",
    )
    return [fastener, *(_reason(design, part, int(one)) for one in own)]


def _utilisation(design: Design, post: int, part: StrengthPart) -> Reason:
    """Give the largest counted check of the post and of its braces."""
    checks, checked = part.checked.checks, part.checked
    used, check = float(checked.utilisation[post]), Check(int(checked.check[post]))
    mine = np.flatnonzero(checks.post_index == post)
    counted = [int(one) for one in mine if Check(int(checks.check[one])).kind.is_counted]
    inputs = tuple(
        computed(f"u{number}", _row_name(part, one), float(checks.utilisation[one]), "1")
        for number, one in enumerate(counted, 1)
    )
    return Reason(
        "utilisation",
        f"{check.label} governs" if counted else "nothing loads it",
        inputs,
        "the largest utilisation of the post's own checks and of its braces'; second opinions, frost and lean do not "
        "count",
        "u = max(u1, u2, ...)",
        used,
        "1",
        check.kind.source,
        "a thinner post, a shallower hole or a lighter brace may do while this stays at or below 1",
        check.kind.clause,
    )


def _row_name(part: StrengthPart, row: int) -> str:
    checks = part.checked.checks
    brace = int(checks.brace_index[row])
    label = Check(int(checks.check[row])).label
    return f"{label}, {brace_id(int(part.brace_rows[brace]))}" if brace >= 0 else label


def _reason(design: Design, part: StrengthPart, row: int) -> Reason:
    checks, strength = part.checked.checks, design.job.settings.strength
    name = checks.cases[int(checks.case_index[row])]
    check = Check(int(checks.check[row]))
    case = next((one for one in strength.cases if one.name == name), None)
    reactions = part.reactions(case, of_member=check in _OF_MEMBERS) if case else None
    one = _Checked(design, part, row, case, reactions)
    kind, words = check.kind, FORMULAS[check]
    inputs = (
        computed("D", "demand", float(checks.demand[row]), kind.unit),
        computed("C", "capacity", float(checks.capacity[row]), kind.unit),
        *_case_inputs(one),
        *_INPUTS.get(check, _nothing)(one),
    )
    opinion = "" if kind.is_counted else ", not counted in the utilisation"
    return Reason(
        f"{kind.label} ({kind.part})",
        f'governed by the case "{name}"{opinion}',
        inputs,
        words[0],
        f"u = D / C; {words[1]}",
        float(checks.utilisation[row]),
        "1",
        kind.source,
        _smaller(one),
        kind.clause,
    )


def _case_inputs(one: _Checked) -> list[Input]:
    """Name the factors of the case."""
    case = one.case
    if case is None:
        return []
    method = one.design.job.settings.strength.method
    factors = member_factors(case, method) if one.check in _OF_MEMBERS else soil_factors(case)
    origin = f'load case "{case.name}": {case.why} [{case.source}]'
    given = [("f_p", f"factor of the {case.pull} pull", factors.pull)]
    if case.wind != "none":
        given.append(("f_w", f"factor of the wind, {case.wind}", factors.wind))
    if case.extra != "none":
        given.append(("f_x", f"factor of: {case.extra}", factors.extra))
    return [computed(symbol, name, value, "1", origin) for symbol, name, value in given]


def _nothing(_: _Checked) -> list[Input]:
    return []


def _at_grade(one: _Checked) -> list[Input]:
    """Force and moment that the soil takes at grade."""
    if one.reactions is None:
        return []
    origin = "computed: rails, wind and braces, statics"
    return [
        computed("P", "force at grade", float(size(one.reactions.foot_n)[one.post]), "N", origin),
        computed("M", "moment at grade", float(size(one.reactions.foot_moment_n_m)[one.post]), "N m", origin),
    ]


def _soil_beside(one: _Checked) -> list[Input]:
    part, post, job = one.part, one.post, one.design.job
    soil = part.task.soils[post].name
    half = job.settings.strength.ground.is_half_inch
    doubled = "doubled, half an inch accepted" if half else "not doubled"
    return [
        computed("d", "hole depth", float(part.task.holes.depth_m[post])),
        computed("b", "width that bears", float(part.footing.width_m[post])),
        computed(
            "S",
            f"lateral value, each metre of depth, {doubled}",
            float(part.footing.lateral_pa_m[post]),
            "Pa/m",
            f"soil {soil}, table 1806.2 [ibc-1806]",
        ),
    ]


def _embedment(one: _Checked) -> list[Input]:
    return [*_at_grade(one), *_soil_beside(one)]


def _broms(one: _Checked) -> list[Input]:
    job, ground = one.design.job, one.design.job.settings.strength.ground
    if one.part.footing.is_clay[one.post]:
        what, key, value, unit = (
            ("c", "undrained strength"),
            "strength.clay_strength",
            ground.clay_strength_pa,
            "Pa",
        )
    else:
        what, key, value, unit = (
            ("phi", "friction angle"),
            "strength.friction_angle",
            ground.friction_angle_rad,
            "rad",
        )
    return [
        *_at_grade(one),
        *_soil_beside(one)[:2],
        practice(job, key, what, value, unit),
        practice(
            job, "strength.broms_factor", ("F", "factor on the ultimate load"), ground.broms_factor, "1"
        ),
    ]


def _member(one: _Checked) -> list[Input]:
    part, post, settings = one.part, one.post, one.design.job.settings
    if one.case is None:
        return []
    kind = "bending" if one.check is Check.BENDING else "shear"
    own = part.members.bending_n_m if kind == "bending" else part.members.shear_n
    factor = member_resistance(one.case, settings, kind, part.members.is_steel)
    steel = bool(part.members.is_steel[post])
    origin = "catalogue, pipe" if steel else f'catalogue, timber "{settings.strength.timber.name}"'
    return [
        *_at_grade(one),
        computed(
            "R",
            f"{kind} that its section bears, before duration",
            float(own[post]),
            one.check.kind.unit,
            origin,
        ),
        computed(
            "k", "duration or resistance factor", float(factor[post]), "1", f'load case "{one.case.name}"'
        ),
        computed("D_p", "diameter of the post", float(part.task.layout.posts.diameter_m[post])),
    ]


def _uplift(one: _Checked) -> list[Input]:
    job, part, post = one.design.job, one.part, one.post
    model = job.settings.strength.ground.uplift_model
    lift = float(one.reactions.uplift_n[post]) if one.reactions else 0.0
    found = [
        computed("U", "lift that the hole must hold", lift, "N", "computed: rails and braces, statics"),
        computed("d", "hole depth", float(part.task.holes.depth_m[post])),
        computed("b_1", "width of the shaft", float(part.footing.shaft_m[post])),
        computed("b_2", "width at the bottom", float(part.footing.bell_m[post])),
        practice(
            job,
            "holes.uplift_factor",
            ("F", "factor on skin and cone"),
            job.settings.holes.uplift_factor,
            "1",
        ),
    ]
    if one.check is Check.UPLIFT:
        found.append(
            asked(job, "strength.uplift_model", "strength.uplift_model", ("model", "uplift model"), model, "")
        )
    return found


def _bearing(one: _Checked) -> list[Input]:
    part, post = one.part, one.post
    down = float(one.reactions.down_n[post]) if one.reactions else 0.0
    concrete = bool(part.footing.is_concrete[post])
    width = part.footing.bell_m[post] if concrete else part.task.layout.posts.diameter_m[post]
    own = part.members.weight_n_m[post] * (part.task.height_m[post] + part.task.holes.depth_m[post])
    return [
        computed("N", "rails and braces press it down by", down, "N", "computed, statics"),
        computed("G", "weight of the post", float(own), "N"),
        computed("b_2", "width of its base", float(width)),
        computed(
            "q",
            "bearing value",
            float(part.footing.bearing_pa[post]),
            "Pa",
            f"soil {part.task.soils[post].name}, table 1806.2 [ibc-1806]",
        ),
    ]


def _frost(one: _Checked) -> list[Input]:
    job = one.design.job
    return [asked(job, "site.frost_depth", "site.frost_depth", ("z_f", "frost depth"), job.settings.frost_m)]


def _lean(one: _Checked) -> list[Input]:
    job = one.design.job
    return [
        asked(job, "brace.lean", "brace.lean", ("e", "lean that it is set with"), job.settings.brace.lean_m)
    ]


def _thrust(one: _Checked) -> list[Input]:
    part, brace = one.part, one.brace
    thrust = float(one.reactions.thrust_n[brace]) if one.reactions else 0.0
    return [
        computed(
            "H",
            "level thrust of the brace",
            thrust,
            "N",
            "computed: moments about grade over the contact's height",
        ),
        computed("r", "reach", float(part.frame.reach_m[brace])),
        computed(
            "f",
            "fall from contact to the brace's end",
            float(part.frame.drop_m[brace]),
            "m",
            ground_origin(one.design.job),
        ),
    ]


def _compression(one: _Checked) -> list[Input]:
    job, part = one.design.job, one.part
    timber, strength = job.settings.strength.timber, job.settings.strength
    origin = f'catalogue, timber "{timber.name}" [{timber.source}]'
    return [
        *_thrust(one),
        computed("l", "length of the strut", float(part.frame.length_m[one.brace])),
        asked(
            job, "brace.diameter", "brace.diameter", ("D_b", "its diameter"), job.settings.brace.diameter_m
        ),
        computed("F_c", "compression value", timber.compression_pa, "Pa", origin),
        computed("E_min", "least modulus", timber.least_modulus_pa, "Pa", origin),
        asked(
            job,
            "strength.wet_service",
            "strength.wet_service",
            ("wet", "taken wet"),
            "yes" if strength.is_wet else "no",
            "",
        ),
    ]


def _footing(one: _Checked) -> list[Input]:
    part, brace = one.part, one.brace
    post, task = one.post, one.part.task
    soil = f"soil {task.soils[post].name}, table 1806.2 [ibc-1806]"
    found = [
        *_thrust(one),
        computed("d", "footing depth", float(task.brace_holes.depth_m[brace])),
        computed("D_f", "its width", float(task.brace_holes.diameter_m[brace])),
    ]
    if one.check is Check.FOOTING_PUSH:
        lateral = float(part.footing.lateral_pa_m[post])
        return [*found, computed("S", "lateral value, each metre of depth", lateral, "Pa/m", soil)]
    return [*found, computed("q", "bearing value", float(part.footing.bearing_pa[post]), "Pa", soil)]


def _tie(one: _Checked) -> list[Input]:
    job = one.design.job
    return [
        *_thrust(one),
        practice(
            job,
            "strength.tie_share",
            ("s", "share of its breaking load"),
            float(str(job.catalogue.practice["strength.tie_share"].value)),
            "1",
        ),
    ]


_INPUTS: dict[Check, Callable[[_Checked], list[Input]]] = {
    Check.BENDING: _member,
    Check.SHEAR: _member,
    Check.EMBEDMENT: _embedment,
    Check.EMBEDMENT_BROMS: _broms,
    Check.UPLIFT: _uplift,
    Check.UPLIFT_SHAFT: _uplift,
    Check.UPLIFT_CYLINDER: _uplift,
    Check.UPLIFT_CONE: _uplift,
    Check.UPLIFT_LEDGE: _uplift,
    Check.BEARING: _bearing,
    Check.FROST: _frost,
    Check.LEAN: _lean,
    Check.BRACE_COMPRESSION: _compression,
    Check.FOOTING_PUSH: _footing,
    Check.FOOTING_BEARING: _footing,
    Check.TIE: _tie,
}


def _smaller(one: _Checked) -> str:
    """What the next smaller size would need, or what mends a check that does not pass."""
    part, kind = one.part, one.check.kind
    used = float(part.checked.checks.utilisation[one.row])
    if used > 1 and kind.is_counted:
        return "too small already: " + remedy_of(part.task, part.footing, part.checked, one.row).text
    show = UnitSystem(one.design.job.asked.job.sheets)
    if one.check in (Check.EMBEDMENT, Check.UPLIFT, Check.FOOTING_PUSH, Check.FOOTING_BEARING):
        sizes = part.checked.brace_sizes if one.brace >= 0 else part.checked.sizes
        least = float(sizes.least_depth_m[one.brace if one.brace >= 0 else one.post])
        return (
            f"a hole of {show.small(least)} at least, if nothing else keeps it deeper"
            if np.isfinite(least)
            else ""
        )
    if one.check in (Check.BENDING, Check.SHEAR):
        return _thinner(one, float(part.task.layout.posts.diameter_m[one.post]), used, show)
    if one.check is Check.BRACE_COMPRESSION:
        return "a thinner or longer brace while this stays at or below 1"
    return ""


def _thinner(one: _Checked, diameter_m: float, used: float, show: UnitSystem) -> str:
    """How full the next thinner stock would be, strength falling with the cube or the square of the diameter."""
    stock = [size_m for size_m in one.design.job.settings.strength.diameters_m if size_m < diameter_m - 1e-9]
    if not stock:
        return ""
    power = 3.0 if one.check is Check.BENDING else 2.0
    then = used * (diameter_m / max(stock)) ** power
    verdict = "it would do here" if then <= 1 else "it would not do"
    return f"the next thinner stock, {show.small(max(stock))}, would be used to {then:.0%}: {verdict}"
