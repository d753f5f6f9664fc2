"""Fill what a job leaves out: trade defaults, and assumptions that are said aloud."""

from itertools import pairwise

from fencewright.catalogue.rows import Catalogue, Kept, Soil
from fencewright.findings import CAUTION, NOTE, Finding, InputError
from fencewright.job.filling import Filling, pick
from fencewright.job.limits import refuse_impossible
from fencewright.job.schema import JobFile
from fencewright.job.settings import (
    BraceSettings,
    HoleSettings,
    LayoutSettings,
    PostSettings,
    RollSettings,
    Settings,
    TopLineChoice,
)
from fencewright.job.stake_out_settings import fill_load, fill_measured, fill_stake_out
from fencewright.job.strands import lay_strands
from fencewright.job.strength_settings import fill_strength
from fencewright.job.tension_settings import fill_tension
from fencewright.quantity.show import UnitSystem

_SAME_STATION_M = 0.01  # zones that meet, within the rounding of a station


def fill_defaults(asked: JobFile, catalogue: Catalogue) -> tuple[Settings, tuple[Finding, ...]]:
    """Resolve every number of a job.

    Parameters
    ----------
    asked : JobFile
        The job file.
    catalogue : Catalogue
        Shipped rows and data sheets.

    Returns
    -------
    Settings, tuple of Finding
        The findings say what was assumed (`assumed-soil`, `assumed-frost`, `assumed-temperatures`), what the
        stock proposes (`stock-proposes`), and what does not fit it (`stock-height`).

    Raises
    ------
    InputError
        An unknown rail, soil, bag or kind of stock; strands that do not fit under the top; soil zones
        that share a stretch of a line.
    """
    catalogue = catalogue.on_sheets(asked.job.sheets)
    filling = Filling(asked, catalogue)
    kept = _kept(filling)
    soil, frost = _ground(filling)
    top = filling.take(asked.fence.top_height, "fence.top_height") if not kept else _top(filling, kept)
    strands, bottom = lay_strands(filling, kept, top)
    settings = Settings(
        strands=strands,
        top_height_m=top,
        bottom_gap_m=bottom,
        top_reveal_m=filling.take(asked.fence.top_reveal, "fence.top_reveal"),
        layout=_layout(filling),
        posts=_posts(filling),
        holes=_holes(filling, frost, soil),
        brace=_brace(filling),
        top_line=_top_line(filling),
        rolls=_rolls(filling),
        hardware_waste=catalogue.practice["order.hardware_waste"].value,  # type: ignore[arg-type]  # a ratio
        frost_m=frost,
        soil=soil,
        unstable=asked.site.unstable,
        tension=fill_tension(filling),
        strength=fill_strength(filling),
        stake_out=fill_stake_out(filling),
        load=fill_load(filling),
        measured=fill_measured(filling),
    )
    _check_zones(filling)
    refuse_impossible(settings, UnitSystem(asked.job.sheets))
    return settings, tuple(filling.findings)


def _kept(filling: Filling) -> Kept | None:
    """Give the most demanding of the stock that the job names."""
    rows = [pick(filling.catalogue.kept, name, "stock", "stock, kept") for name in filling.asked.stock.kept]
    if not rows:
        return None
    hardest = max(rows, key=lambda row: (row.top_height_m, row.rails))
    lowest = min(rows, key=lambda row: row.bottom_gap_m)
    joined = Kept(
        " and ".join(row.name for row in rows),
        max(row.rails for row in rows),
        hardest.top_height_m,
        lowest.bottom_gap_m,
        "; ".join(dict.fromkeys(row.why for row in rows)),
        hardest.source,
        least_top_m=hardest.least_top_m,
    )
    show = UnitSystem(filling.asked.job.sheets)
    filling.say(
        NOTE,
        "stock-proposes",
        f"For {joined.name}: {joined.rails} rails, top {show.small(joined.top_height_m)}, bottom gap "
        f"{show.small(joined.bottom_gap_m)} ({joined.why}).",
        "State [fence] rails, top_height and bottom_gap where yours differ.",
    )
    return joined


def _top(filling: Filling, kept: Kept) -> float:
    given = filling.asked.fence.top_height
    if given is None:
        return kept.top_height_m
    stated = float(given)
    least = kept.top_height_m if kept.least_top_m is None else kept.least_top_m
    if stated < least - 1e-9:
        show = UnitSystem(filling.asked.job.sheets)
        filling.say(
            CAUTION,
            "stock-height",
            f"The top at {show.small(stated)} is {show.small(least - stated)} lower than {kept.name} "
            f"ask for ({show.small(least)}).",
            f'Set [fence] top_height = "{show.small(kept.top_height_m)}".',
        )
    return stated


def _ground(filling: Filling) -> tuple[Soil, float]:
    site, practice = filling.asked.site, filling.catalogue.practice
    show = UnitSystem(filling.asked.job.sheets)
    name = site.soil
    if name is None:
        name = str(practice["site.soil"].value)
        filling.say(
            CAUTION,
            "assumed-soil",
            f"The job states no soil: {name} is assumed ({practice['site.soil'].why}).",
            'Dig one hole, then set [site] soil = "sand" or another class.',
        )
    soil = pick(filling.catalogue.soils, name, "soil", "site, soil")
    if soil.soil_class == 0:
        filling.say(
            CAUTION,
            "soil-without-values",
            f"Table 1806.2 presumes no strength for {soil.name}.",
            "Have the soil tested, or dig to firm ground and name that.",
        )
    frost = site.frost_depth
    if frost is None:
        frost = float(str(practice["site.frost_depth"].value))
        filling.say(
            CAUTION,
            "assumed-frost",
            f"The job states no frost depth: {show.small(frost)} is assumed.",
            'Ask the building department, then set [site] frost_depth = "..." .',
        )
    _temperatures(filling)
    return soil, frost


def _check_zones(filling: Filling) -> None:
    for number, zone in enumerate(filling.asked.soil_zone):
        item = f"soil_zone {number + 1}"
        pick(filling.catalogue.soils, zone.soil, "soil", f"{item}, soil")
        if not zone.start < zone.end:
            raise InputError(
                "`from` is not before `to`: name two zones where one passes station 0", item=item
            )
    _refuse_shared_ground(filling)


def _refuse_shared_ground(filling: Filling) -> None:
    """Refuse two soil zones that share a stretch of a line: nothing says which soil is there."""
    zones = filling.asked.soil_zone
    show = UnitSystem(filling.asked.job.sheets)
    order = sorted(range(len(zones)), key=lambda row: (zones[row].line, zones[row].start))
    for before, after in pairwise(order):
        one, other = zones[before], zones[after]
        shared = min(one.end, other.end)
        if one.line == other.line and other.start < shared - _SAME_STATION_M:
            later, first = max(before, after), min(before, after)
            raise InputError(
                f"it shares {show.long(shared - other.start)} of line {one.line} with soil_zone {first + 1} "
                f"({zones[first].soil}), from {show.long(other.start)} to {show.long(shared)}: end one where the "
                "other begins",
                item=f"soil_zone {later + 1}",
            )


def _temperatures(filling: Filling) -> None:
    site, practice = filling.asked.site, filling.catalogue.practice
    show = UnitSystem(filling.asked.job.sheets)

    def usual(name: str) -> str:
        return show.temperature(float(str(practice[f"site.{name}"].value)))

    cold = filling.take(site.coldest, "site.coldest")
    hot = filling.take(site.hottest, "site.hottest")
    if cold >= hot:
        raise InputError("coldest is not below hottest: check both", item="site, coldest")
    if site.coldest is None or site.hottest is None:
        filling.say(
            CAUTION,
            "assumed-temperatures",
            f"The job does not state both temperatures: coldest {usual('coldest')} and hottest {usual('hottest')} are "
            "assumed where missing.",
            "Set [site] coldest and hottest from the nearest weather station.",
        )


def _layout(filling: Filling) -> LayoutSettings:
    fence, take = filling.asked.fence, filling.take
    spacing = take(fence.spacing_limit, "layout.spacing_limit")
    least = take(None, "layout.least_span")
    if spacing < least:
        raise InputError(
            f"less than {UnitSystem(filling.asked.job.sheets).small(least)} between posts cannot be dug: check its unit",
            item="fence, spacing_limit",
        )
    friction = take(fence.friction, "layout.friction_worked")
    share = take(fence.far_end_share, "layout.far_end_share")
    if not 0 < share < 1:
        raise InputError("must be between 0 and 1", item="fence, far_end_share")
    return LayoutSettings(
        take(fence.corner_angle, "layout.corner_angle"),
        take(None, "layout.straight_angle"),
        take(None, "layout.leaf_allowance"),
        spacing,
        least,
        take(fence.pull_length_limit, "layout.pull_length_limit"),
        friction,
        share,
        take(None, "layout.ground_turning"),
        take(None, "layout.string_beyond"),
        take(None, "layout.join_distance"),
        take(None, "layout.least_passage"),
        take(None, "layout.profile_step"),
        take(None, "layout.gate_swing_clearance"),
        take(None, "layout.overhead_reach"),
    )


def _lengths(filling: Filling, stated: list[float] | None, name: str, item: str) -> tuple[float, ...]:
    lengths = tuple(sorted(filling.take(stated, name)))
    if not lengths or lengths[0] <= 0:
        raise InputError("give at least one stock length above nothing", item=item)
    return lengths


def _posts(filling: Filling) -> PostSettings:
    posts, take = filling.asked.posts, filling.take
    return PostSettings(
        take(posts.line_diameter, "posts.line_diameter"),
        take(posts.end_diameter, "posts.end_diameter"),
        _lengths(filling, posts.line_lengths, "posts.line_lengths", "posts, line_lengths"),
        _lengths(filling, posts.end_lengths, "posts.end_lengths", "posts, end_lengths"),
        take(posts.trim, "posts.trim"),
        take(None, "posts.long_spare"),
        take(None, "posts.bevel"),
    )


def _depth(filling: Filling, stated: float | None, name: str, frost_m: float | None) -> tuple[float, str]:
    """Choose a hole's depth and say what decided it."""
    if stated is not None:
        return stated, "stated"
    depth = float(filling.take(None, name))
    if frost_m is None:
        return depth, "practice"
    needed = frost_m + float(filling.take(None, "holes.below_frost"))
    return (needed, "frost") if needed > depth else (depth, "practice")


def _holes(filling: Filling, frost_m: float, soil: Soil) -> HoleSettings:
    holes, take = filling.asked.holes, filling.take
    end, end_why = _depth(filling, holes.end_depth, "holes.end_depth", frost_m)
    brace, brace_why = _depth(filling, holes.brace_depth, "holes.brace_depth", frost_m)
    line, line_why = _depth(filling, holes.line_depth, "holes.line_depth", None)
    line_set = filling.asked.fence.line_posts or ("concrete" if filling.asked.site.unstable else "tamped")
    auger = take(holes.auger, "holes.auger")
    thickest = max(
        take(filling.asked.posts.line_diameter, "posts.line_diameter"),
        take(filling.asked.posts.end_diameter, "posts.end_diameter"),
    )
    if auger <= thickest:
        raise InputError(
            "the hole is no wider than the post that stands in it: use a wider auger", item="holes, auger"
        )
    _check_frost(filling, frost_m)
    return HoleSettings(
        auger,
        take(holes.bell, "holes.bell"),
        take(holes.bell_height, "holes.bell_height"),
        end,
        brace,
        line,
        end_why,
        brace_why,
        line_why,
        line_set,
        take(None, "holes.below_frost"),
        take(holes.recess, "holes.recess"),
        take(None, "holes.brace_top"),
        take(None, "holes.brace_concrete"),
        take(holes.waste, "holes.concrete_waste"),
        take(None, "holes.tamped_lift_out"),
        take(None, "holes.driven_lift_out"),
        take(None, "holes.uplift_factor"),
        pick(filling.catalogue.bags, filling.take_name(holes.bag, "holes.bag"), "bag", "holes, bag"),
    )


def _check_frost(filling: Filling, frost_m: float) -> None:
    show = UnitSystem(filling.asked.job.sheets)
    for key in ("end_depth", "brace_depth"):
        stated = getattr(filling.asked.holes, key)
        if stated is not None and stated < frost_m - 1e-9:
            filling.say(
                CAUTION,
                "above-frost",
                f"[holes] {key} of {show.small(stated)} ends {show.small(frost_m - stated)} above the frost line at "
                f"{show.small(frost_m)}: frost can lift the footing.",
                f"Dig at least {show.small(frost_m)}.",
            )


def _brace(filling: Filling) -> BraceSettings:
    brace, take = filling.asked.brace, filling.take
    kind = take(brace.kind, "brace.kind")
    reach_name = "brace.horizontal_reach" if kind == "horizontal" else "brace.reach"
    return BraceSettings(
        kind,
        int(take(brace.bays, "brace.bays")),
        take(None, "brace.far_reach"),
        take(brace.reach, reach_name),
        take(brace.contact, "brace.contact"),
        take(brace.lean, "brace.lean"),
        take(None, "brace.lean_most"),
        take(brace.diameter, "brace.diameter"),
        _lengths(filling, brace.lengths, "brace.lengths", "brace, lengths"),
    )


def _top_line(filling: Filling) -> TopLineChoice:
    top, take = filling.asked.top_line, filling.take
    return TopLineChoice(
        take(top.low, "top_line.low"),
        take(top.high, "top_line.high"),
        take(top.gap_low, "top_line.gap_low"),
        take(top.gap_high, "top_line.gap_high"),
        take(None, "top_line.nominal_pull"),
        take(None, "top_line.concrete_worth"),
        take(top.cut_limit, "top_line.cut_limit"),
        take(None, "top_line.mark_sd"),
        take(None, "top_line.string_tolerance"),
    )


def _rolls(filling: Filling) -> RollSettings:
    rolls, take = filling.asked.rolls, filling.take
    return RollSettings(
        rolls.length,
        tuple(sorted(rolls.remainders, reverse=True)),
        take(rolls.splice_price, "rolls.splice_price"),
        take(None, "rolls.splice_overlap"),
        take(None, "rolls.splice_clearance"),
        take(None, "rolls.splice_from_fixed"),
        take(rolls.least_fragment, "rolls.least_fragment"),
        take(None, "rolls.near"),
        take(filling.asked.fence.tail, "fence.tail"),
    )
