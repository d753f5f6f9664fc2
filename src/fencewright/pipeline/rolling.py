"""Rolls of every rail product: the cut lists, and what they have to say."""

import numpy as np

from fencewright.findings import NOTE, STOP, Finding, Place
from fencewright.job.record import Job
from fencewright.pipeline.record import RailCutting, pull_id
from fencewright.quantity.show import UnitSystem, counted
from fencewright.tables.fence import Layout, Pulls, Strands
from fencewright.takeoff.pieces import roll_pieces
from fencewright.takeoff.roll_near_misses import near_misses
from fencewright.takeoff.roll_records import RollStock, SpliceRule, UncuttablePullError
from fencewright.takeoff.rolls import cut_rolls


def cut_all_rolls(
    job: Job, layout: Layout, strands: Strands, pulls: Pulls, top_m: np.ndarray
) -> tuple[tuple[RailCutting, ...], list[Finding]]:
    """Cut the pulls of each product from its rolls.

    Returns
    -------
    cutting : tuple of RailCutting
        One a product, in the order of the strands.
    findings : list of Finding
        `roll-near-miss` (`note`): a small change that saves a roll; `pull-cannot-be-cut` (`stop`).
    """
    settings = job.settings.rolls
    rule = SpliceRule(settings.splice_overlap_m, settings.splice_price_m, settings.least_fragment_m)
    made, findings = [], []
    rails = {row.rail.name: row.rail for row in job.settings.strands}
    strand_rail = np.array([list(rails).index(name) for name in strands.rail])
    for number, (name, rail) in enumerate(rails.items()):
        picked = np.flatnonzero(strand_rail[pulls.strand] == number)
        pieces = roll_pieces(layout, pulls, picked, top_m, settings)
        remainders = np.array(settings.remainders_m if number == 0 else (), np.float64)
        stock = RollStock(settings.length_m or rail.roll_length_m, remainders)
        try:
            cut = cut_rolls(pieces, stock, rule)
        except UncuttablePullError as error:
            row = int(picked[error.pull_index])
            findings.append(_uncuttable(job, pulls, row, error))
            continue
        made.append(RailCutting(name, picked, cut))
        for miss in near_misses(pieces, stock, rule, cut, settings.near_m):
            findings.append(_near(job, pulls, picked, miss.pull_index, miss.by_m, miss.saves_rolls, name))
    return tuple(made), findings


def _uncuttable(job: Job, pulls: Pulls, row: int, error: UncuttablePullError) -> Finding:
    name, show = pull_id(int(pulls.run_index[row]), int(pulls.strand[row])), UnitSystem(job.asked.job.sheets)
    message = (
        f"{name} of {show.long(error.length_m)} cannot be cut from rolls of {show.long(error.roll_m)}: no allowed places "
        "for its splices are within a roll of each other."
    )
    remedy = "Use a longer roll, or a shorter [rolls] least_fragment."
    return Finding(STOP, "pull-cannot-be-cut", Place("pull", name), message, remedy)


def _near(
    job: Job, pulls: Pulls, picked: np.ndarray, rows: np.ndarray, by_m: float, saves: int, rail: str
) -> Finding:
    show = UnitSystem(job.asked.job.sheets)
    names = [pull_id(int(pulls.run_index[k]), int(pulls.strand[k])) for k in picked[rows].tolist()]
    named = ", ".join(names[:4]) + (f" and {len(names) - 4} more" if len(names) > 4 else "")
    message = f"{named} shorter by {show.long(by_m)} each would save {counted(saves, 'roll')} of {rail}."
    return Finding(
        NOTE,
        "roll-near-miss",
        Place("pull", names[0]),
        message,
        "Shorten tails, or move a gate or strain post.",
    )
