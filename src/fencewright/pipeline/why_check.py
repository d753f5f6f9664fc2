"""Why a post, a hole or a brace holds: each check with its demand, capacity, case and clause."""

import numpy as np

from fencewright.pipeline.record import Design, brace_id
from fencewright.pipeline.why_check_inputs import OF_MEMBERS, CheckedRow, check_inputs
from fencewright.pipeline.why_check_words import FORMULAS
from fencewright.pipeline.why_origin import computed
from fencewright.pipeline.why_record import Reason
from fencewright.pipeline.why_strength import StrengthPart
from fencewright.quantity.show import UnitSystem
from fencewright.strength.remedies import BY_DEPTH, remedy_of
from fencewright.tables.strength import Check


def post_check_reasons(design: Design, row: int, part: StrengthPart) -> list[Reason]:
    """Say what decides a post's utilisation, and every check of its own."""
    post = part.post(row)
    checks = part.checked.checks
    own = np.flatnonzero((checks.post_index == post) & (checks.brace_index < 0))
    return [
        _utilisation(design, post, part),
        _movement(design, post, part),
        *(_reason(design, part, int(one)) for one in own),
    ]


def _movement(design: Design, post: int, part: StrengthPart) -> Reason:
    """Give how far the top moves under the cold pull."""
    task, moved = part.task, float(part.checked.movement_m[post])
    braced = post in part.frame.braced.tolist()
    inputs = (
        computed("T", "cold pull of one rail", tuple(task.tension_n["cold"].max(axis=0).tolist()), "N"),
        computed("h", "top above ground", float(task.height_m[post])),
        computed("d", "hole depth", float(task.holes.depth_m[post])),
        computed("S", "lateral value for its depth", float(part.footing.lateral_pa_m[post]), "Pa/m"),
    )
    return Reason(
        "movement of the top",
        "under the cold pull; as its braces give"
        if braced
        else "under the cold pull; as a stiff post turns in its soil",
        inputs,
        "soil as soft as the code reckons with: its doubled lateral value at half an inch; a braced post turns about "
        "grade as strut, footing or tie give, never further than its soil alone would let it",
        "y = thrust of its braces, or force and moment at grade, times what they and the soil give; the soil gives 1/2 in "
        "at its doubled lateral value",
        moved,
        "m",
        "ibc-1806-3",
        "",
        "1806.3.4",
    )


def brace_check_reasons(design: Design, row: int, part: StrengthPart) -> list[Reason]:
    """Say every check of a brace and of its footing."""
    brace, checks = part.brace(row), part.checked.checks
    own = np.flatnonzero(checks.brace_index == brace)
    force = float(part.checked.fastener_n[brace])
    fastener = Reason(
        "force of its joint",
        "what the fastener between brace and post must carry along the brace, in the worst case",
        (
            computed(
                "N",
                "force along the brace, greatest of all cases",
                force,
                "N",
                "computed: the demand of its compression",
            ),
        ),
        "level thrust of the brace, brought onto its own line",
        "N = H sqrt(r^2 + f^2) / r (H for a level one)",
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
        f"{check.label} governs: {used:.0%} used" if counted else "nothing loads it",
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
    reactions = part.reactions(case, of_member=check in OF_MEMBERS) if case else None
    one = CheckedRow(design, part, row, case, reactions)
    kind, words = check.kind, FORMULAS[check]
    inputs = (
        computed("D", "demand", float(checks.demand[row]), kind.unit),
        computed("C", "capacity", float(checks.capacity[row]), kind.unit),
        *check_inputs(one),
    )
    used = f"{float(checks.utilisation[row]):.0%}"
    return Reason(
        f"{kind.label} ({kind.part})",
        f'{used} used, governed by the case "{name}"{"" if kind.is_counted else ", not counted in the utilisation"}',
        inputs,
        words[0],
        f"u = D / C; {words[1]}",
        float(checks.utilisation[row]),
        "1",
        kind.source,
        _smaller(one),
        kind.clause,
    )


def _smaller(one: CheckedRow) -> str:
    """What the next smaller size would need, or what mends a check that does not pass."""
    part, kind = one.part, one.check.kind
    used = float(part.checked.checks.utilisation[one.row])
    if used > 1 and kind.is_counted:
        return "too small already: " + remedy_of(part.task, part.footing, part.checked, one.row).text
    show = UnitSystem(one.design.job.asked.job.sheets)
    if one.check in BY_DEPTH:
        sizes = part.checked.brace_sizes if one.brace >= 0 else part.checked.sizes
        least = float(sizes.least_depth_m[one.brace if one.brace >= 0 else one.post])
        return (
            f"{show.small(least)} is the least depth that passes every check and frost"
            if np.isfinite(least)
            else ""
        )
    if one.check in (Check.BENDING, Check.SHEAR):
        return _thinner(one, float(part.task.layout.posts.diameter_m[one.post]), used, show)
    if one.check is Check.BRACE_COMPRESSION:
        return "a thinner or longer brace while this stays at or below 1"
    return ""


def _thinner(one: CheckedRow, diameter_m: float, used: float, show: UnitSystem) -> str:
    """How full the next thinner stock would be, strength falling with the cube or the square of the diameter."""
    stock = [size_m for size_m in one.design.job.settings.strength.diameters_m if size_m < diameter_m - 1e-9]
    if not stock:
        return ""
    power = 3.0 if one.check is Check.BENDING else 2.0
    then = used * (diameter_m / max(stock)) ** power
    verdict = "by this check it would do" if then <= 1 else "it would not do"
    return f"the next thinner stock, {show.small(max(stock))}, would be used to {then:.0%}: {verdict}"
