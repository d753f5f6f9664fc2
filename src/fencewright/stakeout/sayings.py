"""What the stake-out has to say: ties that cut badly or reach too far, pegs in the way, what is left out."""

import math

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import CAUTION, NOTE, Finding, Place
from fencewright.job.stake_out_settings import StakeOutSettings
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import Layout
from fencewright.tables.stake_out import TIES, StakeOut

Ints = NDArray[np.int64]

_AT = {"us": ("10 ft", "-20 ft"), "metric": ("3 m", "-6 m")}  # how a place is written
_THIRD = "Give a third [[reference]] off to the other side: each post then takes the two that cut best"
_ANOTHER = (
    "Give another [[reference]] off to the side where those stakes lie: each then takes the two that cut best"
)


def stake_out_findings(
    made: StakeOut, layout: Layout, settings: StakeOutSettings, show: UnitSystem
) -> list[Finding]:
    """Say what a crew must know before it stakes; codes as of `stake_out`."""
    return [
        *_without(made, show),
        *_alone(made),
        *_badly(made, layout, settings),
        *_long(made, layout, settings, show),
        *_pegs(made, layout, show),
    ]


def _without(made: StakeOut, show: UnitSystem) -> list[Finding]:
    references = made.references
    if not len(references):
        message = "No tape ties are given: the job names no reference points."
        east, north = _AT[show.name]
        remedy = (
            f'Add two [[reference]] tables, each with a name and at = ["{east}", "{north}"], '
            "off to one side of the fence."
        )
        return [Finding(NOTE, "ties-left-out", Place("job"), message, remedy)]
    unknown = [
        name
        for name, height in zip(references.name, references.ground_m.tolist(), strict=True)
        if math.isnan(height)
    ]
    if not unknown:
        return []
    message = f"The ground has no height at {', '.join(unknown)}: ties from there are given level only."
    return [
        Finding(
            NOTE, "reference-without-height", Place("reference", unknown[0]), message, "State its elevation."
        )
    ]


def _alone(made: StakeOut) -> list[Finding]:
    """One point gives no ties; it may be the first of two that are given one after the other."""
    names = made.references.name
    if len(names) != 1:
        return []
    message = "No tape ties are given: they start from two reference points, and the job names one."
    remedy = "Give a second one, off to the side of the fence."
    return [Finding(CAUTION, "one-reference", Place("reference", names[0]), message, remedy)]


def _place(made: StakeOut, layout: Layout, row: int) -> Place:
    stakes = made.stakes
    brace = int(stakes.brace_index[row])
    name = f"B{brace + 1}" if brace >= 0 else f"P{int(stakes.post_index[row]) + 1}"
    line = layout.lines[int(stakes.line_index[row])].name
    return Place("brace" if brace >= 0 else "post", name, line, float(stakes.station_m[row]))


def _badly(made: StakeOut, layout: Layout, settings: StakeOutSettings) -> list[Finding]:
    """Stakes whose ties cross too sharply or too flatly, in one finding at the worst."""
    stakes = made.stakes
    sharp, flat = TIES.index("too sharp"), TIES.index("too flat")
    rows = np.flatnonzero((stakes.tie_state == sharp) | (stakes.tie_state == flat))
    if not len(rows):
        return []
    angle = stakes.tie_angle_rad[rows]
    worst = int(rows[np.argmax(np.abs(angle - math.pi / 2))])
    place = _place(made, layout, worst)
    message = (
        f"The ties of {len(rows)} of {len(stakes)} stakes cut badly: at {place.id} they cross at "
        f"{math.degrees(float(stakes.tie_angle_rad[worst])):.0f} degrees, and between "
        f"{math.degrees(settings.tie_angle_least_rad):.0f} and {math.degrees(settings.tie_angle_most_rad):.0f} they "
        "cut well."
    )
    return [
        Finding(
            CAUTION,
            "tie-cuts-badly",
            place,
            message,
            f"{_THIRD if len(made.references) < 3 else _ANOTHER}; or set those stakes by chainage and offset.",
        )
    ]


def _long(made: StakeOut, layout: Layout, settings: StakeOutSettings, show: UnitSystem) -> list[Finding]:
    """Stakes that the tape does not reach, in one finding at the furthest."""
    stakes = made.stakes
    rows = np.flatnonzero(stakes.tie_state == TIES.index("too long"))
    if not len(rows):
        return []
    far = stakes.tie_m[rows].max(axis=1)
    worst = int(rows[np.argmax(far)])
    place = _place(made, layout, worst)
    message = (
        f"A tie of {len(rows)} of {len(stakes)} stakes is longer than the tape's {show.long(settings.tape_length_m)}: "
        f"to {place.id} it is {show.long(float(far.max()))}."
    )
    remedy = (
        "Give more [[reference]] points nearer to those stakes, or set them by chainage and offset from stakes that "
        "stand already; [stake_out] tape_length states a longer tape."
    )
    return [Finding(CAUTION, "tie-too-long", place, message, remedy)]


def _pegs(made: StakeOut, layout: Layout, show: UnitSystem) -> list[Finding]:
    pegs = made.pegs
    findings = []
    for row in np.flatnonzero(~pegs.is_clear).tolist():
        place = _peg_place(made, layout, row)
        message = "No place for the string-line peg is clear of what lies in the way."
        remedy = "Hold the string with a stake on a stand, or have the service located; drive nothing there."
        findings.append(Finding(CAUTION, "peg-in-clearance", place, message, remedy))
    moved = np.flatnonzero(pegs.is_moved)
    if len(moved):
        message = (
            f"{len(moved)} string-line pegs stand off their usual distance to keep clear, the first "
            f"{show.small(float(pegs.beyond_m[moved[0]]))} past its corner."
        )
        findings.append(Finding(NOTE, "pegs-moved", _peg_place(made, layout, int(moved[0])), message))
    return findings


def _peg_place(made: StakeOut, layout: Layout, row: int) -> Place:
    pegs = made.pegs
    post = int(pegs.post_index[row])
    line = layout.lines[int(pegs.line_index[row])].name
    return Place("post", f"P{post + 1}" if post >= 0 else "", line, float(pegs.station_m[row]))
