"""What each line of the order counts, part by part: posts by role, braces, concrete, rail, hardware, gates."""

from dataclasses import dataclass

import numpy as np

from fencewright.pipeline.price_counts import fence_counts, rail_counts
from fencewright.pipeline.record import Design
from fencewright.pipeline.why_origin import COMPUTED, asked, computed, practice, source_of
from fencewright.pipeline.why_record import Input
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import OrderLine, Role
from fencewright.takeoff.order import diameter_text, own_item, row_kind


@dataclass(frozen=True, slots=True)
class Counted:
    """How the net quantity of a line came about; `is_rolls` where a cut list says what is bought."""

    says: str
    inputs: tuple[Input, ...]
    words: str
    symbols: str
    source: str = ""
    smaller: str = ""
    is_rolls: bool = False


def counted_net(design: Design, line: OrderLine) -> Counted:
    """Count the net quantity of a line again, part by part."""
    if line.item == "round post":
        return _posts(design, line)
    if line.item == "brace":
        return _braces(design, line)
    if line.item == "bagged concrete":
        return _concrete(design)
    if line.item == "gate leaf":
        return _leaves(design, line)
    if any(one.rail == line.item for one in design.cutting):
        return _rail(design, line)
    return _hardware(design, line)


def added(count: int) -> str:
    """The sum of so many parts, in symbols: `n_1 + n_2`."""
    return " + ".join(f"n_{number}" for number in range(1, count + 1)) or "0"


def _parts(parts: list[tuple[str, float, str]], unit: str) -> tuple[Input, ...]:
    return tuple(
        computed(f"n_{number}", name, count, unit, origin)
        for number, (name, count, origin) in enumerate(parts, 1)
    )


def _posts(design: Design, line: OrderLine) -> Counted:
    posts, show = design.layout.posts, UnitSystem(design.job.asked.job.sheets)
    keys = np.round(np.column_stack([posts.diameter_m, design.cuts.stock_length_m]), 6)
    bought = ~posts.is_built & np.isfinite(design.cuts.stock_length_m)
    sizes, inverse = np.unique(keys[bought], axis=0, return_inverse=True)
    names = [f"{diameter_text(wide, show)} x {show.post(long)}" for wide, long in sizes.tolist()]
    roles = posts.role[bought][inverse.ravel() == names.index(line.size)]
    parts = [
        (f"{role.label} posts of this size", float((roles == int(role)).sum()), "posts table, by role")
        for role in Role
        if (roles == int(role)).any()
    ]
    return Counted(
        "one a post, by its diameter and stock length; posts already set are not bought",
        _parts(parts, "piece"),
        "the posts of this diameter and stock length, by role",
        f"n = {added(len(parts))}",
        smaller="a post fewer, or one of another stock length: see Why of a post",
    )


def _braces(design: Design, line: OrderLine) -> Counted:
    braces, show = design.layout.braces, UnitSystem(design.job.asked.job.sheets)
    stock = np.array([*design.job.settings.brace.lengths_m, np.inf])
    chosen = stock[np.searchsorted(stock[:-1], braces.length_m - 1e-9)]
    wide = diameter_text(design.job.settings.brace.diameter_m, show)
    own = np.array([f"{wide} x {show.post(long)}" == line.size for long in chosen.tolist()], bool)
    kinds = (("diagonal", ~braces.is_horizontal), ("horizontal", braces.is_horizontal))
    parts = [
        (f"{name} braces of this stock length", float((own & kind).sum()), "braces table")
        for name, kind in kinds
        if (own & kind).any()
    ]
    return Counted(
        "one a brace, by the smallest stock that is long enough",
        _parts(parts, "piece"),
        "the braces of this stock length",
        f"n = {added(len(parts))}",
        smaller="a shorter reach or a lower contact: see Why of a brace",
    )


def _concrete(design: Design) -> Counted:
    bag = design.job.settings.holes.bag
    origin = f'catalogue, bag "{bag.name}", [holes] bag'
    return Counted(
        "not rounded by hole: rounded up once for the whole job",
        (
            computed("V_p", "concrete of the posts", float(design.holes.concrete_m3.sum()), "m3"),
            computed(
                "V_b", "concrete of the brace footings", float(design.brace_holes.concrete_m3.sum()), "m3"
            ),
            computed("y", f"yield of a {bag.name} bag", bag.yield_m3, "m3", origin),
        ),
        "the concrete of all holes over the yield of one bag",
        "n = (V_p + V_b) / y",
        "premix-yield",
        "narrower or shallower holes, where the checks allow them",
    )


def _rail(design: Design, line: OrderLine) -> Counted:
    cutting = next(one for one in design.cutting if one.rail == line.item)
    job, pulls, cut = design.job, design.pulls, cutting.cut_list
    own = cutting.pull_index
    new = ~cut.is_remainder
    return Counted(
        "what is taken off new rolls, as a part of their length",
        (
            computed("L", "the pulls, post to post", float(pulls.length_m[own].sum()), "m", "pulls table"),
            asked(job, "fence.tail", "fence.tail", ("e", "tail at each end"), job.settings.rolls.tail_m),
            computed("m", "pulls", float(len(own)), "1", "pulls table"),
            computed("s", "splices", float(cut.splices), "1", "cut list"),
            practice(
                job,
                "rolls.splice_overlap",
                ("v", "rail lost in a splice"),
                job.settings.rolls.splice_overlap_m,
            ),
            computed(
                "y",
                "on hand: taken off rolls and remainders of the yard",
                float(cut.used_m[~new].sum()),
                "m",
                "cut list, [rolls] remainders",
            ),
            computed(
                "R",
                "length of a new roll",
                float(cut.roll_length_m[new][0]),
                "m",
                roll_origin(design, line.item),
            ),
        ),
        "the pulls, two tails each and the overlaps of the splices, less what the yard gives, over a roll's length",
        "n = (L + 2 e m + s v - y) / R",
        source_of(job, "fence.tail", "fence.tail"),
        "shorter tails, fewer splices, or remainders from the yard",
        is_rolls=True,
    )


def roll_origin(design: Design, rail: str) -> str:
    """Say where the length of a new roll is from."""
    if design.job.settings.rolls.length_m is not None:
        return "stated in the job, [rolls] length"
    return f'catalogue, rail "{rail}"'


def _hardware(design: Design, line: OrderLine) -> Counted:
    rails = {row.rail.name: row.rail for row in design.job.settings.strands}
    groups = [
        (
            row_kind(rail),
            rail,
            name,
            {per: float(many.sum()) for per, many in rail_counts(design, name).items()},
        )
        for name, rail in rails.items()
    ]
    fence = {per: float(many.sum()) for per, many in fence_counts(design).items()}
    inputs: list[Input] = []
    products: list[str] = []
    for kind, rail, name, counts in [*groups, ("fence", None, "", fence)]:
        for row in design.job.catalogue.hardware:
            if row.strand_kind != kind or row.per not in counts or own_item(row, rail) != line.item:
                continue
            place = len(products) + 1
            what = f"{row.per}, counted of {name}" if name else f"{row.per}, counted"
            inputs += [
                computed(f"c_{place}", f"for each {row.per}", row.count, line.unit, f"catalogue: {row.why}"),
                computed(f"m_{place}", what, counts[row.per], "1", COMPUTED),
            ]
            products.append(f"c_{place} m_{place}")
    return Counted(
        line.why,
        tuple(inputs),
        "so many for each thing that takes it",
        f"n = {' + '.join(products)}",
        smaller="fewer of what takes it",
    )


def _leaves(design: Design, line: OrderLine) -> Counted:
    openings, show = design.layout.openings, UnitSystem(design.job.asked.job.sheets)
    names = [
        name
        for name, wet, leaf in zip(
            openings.name, openings.is_crossing.tolist(), openings.leaf_m.tolist(), strict=True
        )
        if not wet and show.long(round(leaf, 6)) == line.size
    ]
    parts = [(f'"{name}"', 1.0, "the job, [[gate]]") for name in names]
    return Counted(
        "one a gate, by its leaf",
        _parts(parts, "piece"),
        "the gates of this leaf",
        f"n = {added(len(parts))}",
        smaller="another opening: see Why of a gate",
    )
