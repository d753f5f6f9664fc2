"""What each check of a post, hole or brace was computed from."""

from collections.abc import Callable
from dataclasses import dataclass

from fencewright.catalogue.rows import LoadCase
from fencewright.pipeline.record import Design
from fencewright.pipeline.why_origin import asked, brace_diameter, computed, doubling, ground_origin, practice
from fencewright.pipeline.why_record import Input
from fencewright.pipeline.why_strength import StrengthPart
from fencewright.strength.brace_footings import footing_capacity, footing_soil
from fencewright.strength.load_cases import member_factors, member_resistance, soil_factors
from fencewright.strength.posts import Reactions, size
from fencewright.tables.strength import Check

OF_MEMBERS = (Check.BENDING, Check.SHEAR, Check.BRACE_COMPRESSION)


@dataclass(frozen=True, slots=True, eq=False)
class CheckedRow:
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


_PULL_FACTORS = {
    "cold": "factor of the cold pull",
    "set": "factor of the set pull",
    "hot": "factor of the hot pull",
}


def _case_inputs(one: CheckedRow) -> list[Input]:
    """Name the factors of the case."""
    case = one.case
    if case is None:
        return []
    method = one.design.job.settings.strength.method
    factors = member_factors(case, method) if one.check in OF_MEMBERS else soil_factors(case)
    origin = f'load case "{case.name}": {case.why} [{case.source}]'
    given = [("f_p", _PULL_FACTORS[case.pull], factors.pull)]
    if case.wind != "none":
        given.append(("f_w", f"factor of the wind, {case.wind}", factors.wind))
    if case.extra != "none":
        given.append(("f_x", f"factor of: {case.extra}", factors.extra))
    return [computed(symbol, name, value, "1", origin) for symbol, name, value in given]


def _nothing(_: CheckedRow) -> list[Input]:
    return []


def _at_grade(one: CheckedRow) -> list[Input]:
    """Force and moment that the soil takes at grade."""
    if one.reactions is None:
        return []
    origin = "computed: rails, wind and braces, statics"
    return [
        computed("P", "force at grade", float(size(one.reactions.foot_n)[one.post]), "N", origin),
        computed("M", "moment at grade", float(size(one.reactions.foot_moment_n_m)[one.post]), "N m", origin),
    ]


def _soil_beside(one: CheckedRow) -> list[Input]:
    part, post, job = one.part, one.post, one.design.job
    soil = part.task.soils[post].name
    doubled = doubling(job)
    return [
        computed("d", "hole depth", float(part.task.holes.depth_m[post])),
        computed("b", "width that bears", float(part.footing.width_m[post])),
        computed(
            "S",
            f"lateral value for its depth, {doubled}",
            float(part.footing.lateral_pa_m[post]),
            "Pa/m",
            f"soil {soil}, table 1806.2 [ibc-1806]",
        ),
    ]


def _embedment(one: CheckedRow) -> list[Input]:
    return [*_at_grade(one), *_soil_beside(one)]


def _broms(one: CheckedRow) -> list[Input]:
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


def _member(one: CheckedRow) -> list[Input]:
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
            f"{'bending' if kind == 'bending' else 'shear'} that its section bears, before duration",
            float(own[post]),
            one.check.kind.unit,
            origin,
        ),
        computed(
            "k", "duration or resistance factor", float(factor[post]), "1", f'load case "{one.case.name}"'
        ),
        computed("D_p", "diameter of the post", float(part.task.layout.posts.diameter_m[post])),
    ]


def _uplift(one: CheckedRow) -> list[Input]:
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


def _bearing(one: CheckedRow) -> list[Input]:
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


def _frost(one: CheckedRow) -> list[Input]:
    job = one.design.job
    return [asked(job, "site.frost_depth", "site.frost_depth", ("z_f", "frost depth"), job.settings.frost_m)]


def _lean(one: CheckedRow) -> list[Input]:
    job = one.design.job
    return [
        asked(job, "brace.lean", "brace.lean", ("e", "lean that it is set with"), job.settings.brace.lean_m)
    ]


def _thrust(one: CheckedRow) -> list[Input]:
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


def _compression(one: CheckedRow) -> list[Input]:
    job, part = one.design.job, one.part
    timber, strength = job.settings.strength.timber, job.settings.strength
    origin = f'catalogue, timber "{timber.name}" [{timber.source}]'
    return [
        *_thrust(one),
        computed("l", "length of the strut", float(part.frame.length_m[one.brace])),
        brace_diameter(job),
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


def _footing(one: CheckedRow) -> list[Input]:
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
        name = f"lateral value for its depth, {doubling(one.design.job)}"
        return [*found, computed("S", name, lateral, "Pa/m", soil)]
    return [*found, computed("q", "bearing value", float(part.footing.bearing_pa[post]), "Pa", soil)]


def _tipping(one: CheckedRow) -> list[Input]:
    part, brace, job = one.part, one.brace, one.design.job
    task, ground = part.task, job.settings.strength.ground
    holds = footing_capacity(task, footing_soil(task, part.footing), task.brace_holes.depth_m)
    if part.footing.is_clay[one.post]:
        what = practice(
            job, "strength.clay_strength", ("c", "undrained strength"), ground.clay_strength_pa, "Pa"
        )
    else:
        what = practice(
            job, "strength.friction_angle", ("phi", "friction angle"), ground.friction_angle_rad, "rad"
        )
    return [
        *_thrust(one),
        computed("z", "from the brace's end down to the toe", float(holds.lever_m[brace])),
        computed("D_f", "width of the footing", float(task.brace_holes.diameter_m[brace])),
        computed("weight", "of the footing", float(holds.weight_n[brace]), "N"),
        computed(
            "M_s",
            "what the soil holds about the toe, ultimate",
            float(holds.turning_n_m[brace]) * ground.tipping_factor,
            "N m",
        ),
        what,
        practice(
            job, "strength.tipping_factor", ("F", "factor against overturning"), ground.tipping_factor, "1"
        ),
    ]


def _tie(one: CheckedRow) -> list[Input]:
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


_INPUTS: dict[Check, Callable[[CheckedRow], list[Input]]] = {
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
    Check.FOOTING_TIPPING: _tipping,
    Check.FOOTING_BEARING: _footing,
    Check.TIE: _tie,
}


def check_inputs(one: CheckedRow) -> tuple[Input, ...]:
    """Name what demand and capacity of a row were computed from, the factors of its case first."""
    return (*_case_inputs(one), *_INPUTS.get(one.check, _nothing)(one))
