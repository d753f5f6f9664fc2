"""Why a roll is cut as it is: its length, each piece with its tails and splices, what is left, and why this cut list."""

import numpy as np

from fencewright.pipeline.record import Design, RailCutting, pull_id
from fencewright.pipeline.why_order_counts import roll_origin
from fencewright.pipeline.why_origin import asked, computed, practice, source_of
from fencewright.pipeline.why_record import Explanation, Input, Reason
from fencewright.quantity.show import UnitSystem


def roll_count(design: Design) -> int:
    """Rolls of all products."""
    return sum(len(one.cut_list.roll_length_m) for one in design.cutting)


def roll_id(index: int) -> str:
    """Name of a roll: `C1` is the first row."""
    return f"C{index + 1}"


def explain_roll(design: Design, row: int) -> Explanation:
    """Explain every number of a roll."""
    offset = 0
    for cutting in design.cutting:
        if row < offset + len(cutting.cut_list.roll_length_m):
            break
        offset += len(cutting.cut_list.roll_length_m)
    roll, cut = row - offset, cutting.cut_list
    pieces = np.flatnonzero(cut.roll_index == roll)
    pieces = pieces[np.argsort(cut.at_m[pieces], kind="stable")]
    reasons = [
        _length(design, cutting, roll),
        *(_piece(design, cutting, int(piece), offset, number) for number, piece in enumerate(pieces, 1)),
        _used(cutting, roll, pieces),
        _offcut(design, cutting, roll),
        _splices(cutting, pieces),
        _cost(design, cutting),
    ]
    is_old = bool(cut.is_remainder[roll])
    where = f"roll from the yard, {cutting.rail}" if is_old else f"new roll, {cutting.rail}"
    return Explanation(roll_id(row), "roll", where, tuple(reasons))


def _roll_length(design: Design, cutting: RailCutting, roll: int) -> Input:
    cut = cutting.cut_list
    is_old = bool(cut.is_remainder[roll])
    origin = "stated in the job, [rolls] remainders" if is_old else roll_origin(design, cutting.rail)
    return computed("R", "length of the roll", float(cut.roll_length_m[roll]), "m", origin)


def _length(design: Design, cutting: RailCutting, roll: int) -> Reason:
    is_old = bool(cutting.cut_list.is_remainder[roll])
    return Reason(
        "length",
        "on hand in the yard: it costs nothing" if is_old else "a new roll, as it is sold",
        (_roll_length(design, cutting, roll),),
        "as stated" if is_old else "as the catalogue has it, or the job states it",
        "R",
        float(cutting.cut_list.roll_length_m[roll]),
        "m",
    )


def _piece(design: Design, cutting: RailCutting, piece: int, offset: int, number: int) -> Reason:
    job, cut, pulls = design.job, cutting.cut_list, design.pulls
    own = int(cut.pull_index[piece])
    pull = int(cutting.pull_index[own])
    parts = np.flatnonzero(cut.pull_index == own)
    name = pull_id(int(pulls.run_index[pull]), int(pulls.strand[pull]))
    is_later = bool(cut.from_m[piece] > 0)
    inputs = [
        computed("a", f"along pull {name}, from", float(cut.from_m[piece])),
        computed("b", "to", float(cut.to_m[piece])),
        computed(
            "l_p",
            "rail of the whole pull, both tails in it",
            float(pulls.rail_m[pull]),
            "m",
            f"computed: see Why of {name}",
        ),
        asked(
            job, "fence.tail", "fence.tail", ("e", "tail at each end of the pull"), float(pulls.tail_m[pull])
        ),
    ]
    if is_later:
        told = ("v", "overlap of the splice at its beginning")
        inputs.append(practice(job, "rolls.splice_overlap", told, job.settings.rolls.splice_overlap_m))
    others = sorted({roll_id(offset + int(cut.roll_index[one])) for one in parts if one != piece})
    says = f"the whole of pull {name}, in one piece"
    if others:
        says = f"a part of pull {name}, spliced to what comes off {', '.join(others)}"
    return Reason(
        f"piece {number}",
        says,
        tuple(inputs),
        "what it covers of its pull, and the overlap where it begins at a splice",
        "l = b - a + v" if is_later else "l = b - a",
        float(cut.rail_m[piece]),
        "m",
        source_of(job, "fence.tail", "fence.tail"),
    )


def _used(cutting: RailCutting, roll: int, pieces: np.ndarray) -> Reason:
    cut = cutting.cut_list
    return Reason(
        "used",
        f"{len(pieces)} pieces" if len(pieces) != 1 else "one piece",
        (
            computed(
                "l", "its pieces, in the order in which they come off", tuple(cut.rail_m[pieces].tolist())
            ),
        ),
        "the sum of its pieces",
        "u = sum(l)",
        float(cut.used_m[roll]),
        "m",
    )


def _offcut(design: Design, cutting: RailCutting, roll: int) -> Reason:
    job, cut = design.job, cutting.cut_list
    left = round(float(cut.offcut_m[roll]), 4) + 0.0  # what rounding leaves is nothing
    usable = job.settings.rolls.least_fragment_m
    says = (
        "in one length; too short for any splice" if left < usable else "in one length: label it for the yard"
    )
    return Reason(
        "off-cut",
        "nothing is left" if left <= 0 else says,
        (
            _roll_length(design, cutting, roll),
            computed("u", "used", float(cut.used_m[roll])),
            asked(
                job,
                "rolls.least_fragment",
                "rolls.least_fragment",
                ("f", "shortest piece that may be spliced in"),
                usable,
            ),
        ),
        "the roll less its pieces",
        "w = R - u",
        left,
        "m",
    )


def _splices(cutting: RailCutting, pieces: np.ndarray) -> Reason:
    begins = float((cutting.cut_list.from_m[pieces] > 0).sum())
    return Reason(
        "splices",
        "none of its pieces begins at a splice" if not begins else "pieces that begin at a splice",
        (computed("n", "pieces that begin at a splice", begins, "1", "cut list"),),
        "each splice is counted where its later piece begins",
        "s = n",
        begins,
        "1",
        next_smaller="longer rolls, or shorter pulls" if begins else "",
    )


def _cost(design: Design, cutting: RailCutting) -> Reason:
    job, cut = design.job, cutting.cut_list
    new = ~cut.is_remainder
    price = asked(
        job,
        "rolls.splice_price",
        "rolls.splice_price",
        ("p", "a splice counts as this much rail"),
        job.settings.rolls.splice_price_m,
    )
    inputs = (
        computed(
            "R", "new rolls of this product, their lengths together", float(cut.roll_length_m[new].sum())
        ),
        computed("s", "splices of this product", float(cut.splices), "1", "cut list"),
        price,
        computed("c_0", "no cut list costs less than", float(cut.bound_m), "m", "a bound on every cut list"),
    )
    gap = UnitSystem(job.asked.job.sheets).long(float(cut.gap_m))
    says = (
        "proven: no cut list of this product costs less"
        if cut.is_proven
        else f"at most {gap} of rail over the best"
    )
    return Reason(
        "cost of the cut list",
        f"why this roll: {says}; of equal ones it leaves the longest piece"
        if cut.is_proven
        else f"why this roll: {says}",
        inputs,
        "new rolls by their length and splices by theirs; what lies in the yard costs nothing",
        "c = R + s p",
        float(cut.cost_m),
        "m",
        source_of(job, "rolls.splice_price", "rolls.splice_price"),
        "shorter pulls: findings name those that are near a roll fewer",
    )
