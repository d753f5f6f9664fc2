"""The stake-out stage: coordinates, chainage, offsets, ties, corner checks and string-line pegs."""

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import Finding, InputError
from fencewright.geometry.polyline import nearest_station, with_closing
from fencewright.job.record import Job
from fencewright.quantity.show import UnitSystem
from fencewright.stakeout.chainage import lay_axis, lay_chainage
from fencewright.stakeout.checks import check_corners, find_corners, find_diagonals
from fencewright.stakeout.coordinates import Marks, mark_stakes
from fencewright.stakeout.pegs import set_pegs
from fencewright.stakeout.sayings import stake_out_findings
from fencewright.stakeout.ties import Targets, Ties, no_ties, tie_stakes
from fencewright.tables.fence import FenceLine, Layout
from fencewright.tables.stake_out import References, StakeOut, Stakes

Floats = NDArray[np.float64]

MOST_REFERENCES = 8  # pairs grow with the square; a crew tapes from no more


def stake_out(job: Job, layout: Layout) -> tuple[StakeOut, list[Finding]]:
    """Say how every hole is found on the ground.

    Parameters
    ----------
    job : Job
        Reference points, obstacles, tape.
    layout : Layout
        Lines, posts, braces, ground.

    Returns
    -------
    stake_out : StakeOut
        Stakes, ties, corner checks, diagonals, pegs.
    findings : list of Finding
        `one-reference`, `tie-cuts-badly`, `tie-too-long`, `peg-in-clearance` (`caution`); `ties-left-out`,
        `reference-without-height`, `pegs-moved` (`note`).

    Raises
    ------
    InputError
        Too many reference points, two at one place, or one on a line itself: ties cannot tell the sides of a line
        apart from a point on it.

    Notes
    -----
    O(posts x pairs of references + points).
    """
    references = _references(job, layout.lines)
    axis = lay_axis(layout.lines)
    chainage = lay_chainage(axis, layout)
    marks = mark_stakes(job, layout, axis)
    targets = Targets(marks.x_m, marks.y_m, marks.ground_m, marks.ground_sd_m)
    settings = job.settings.stake_out
    ties = tie_stakes(targets, references, settings) if len(references) > 1 else no_ties(len(marks))
    slope = chainage.slope_at(marks.line_index, marks.station_m)
    corners = find_corners(layout.lines, job.settings.layout.straight_angle_rad)
    posts = len(layout.posts)
    made = StakeOut(
        references,
        _stakes(marks, slope, ties),
        check_corners(job, layout, axis, corners),
        find_diagonals(job, layout, axis, corners),
        set_pegs(job, layout, axis, corners, marks.reference_left_m[:posts]),
    )
    return made, stake_out_findings(made, layout, settings, UnitSystem(job.asked.job.sheets))


def _stakes(marks: Marks, slope_station_m: Floats, ties: Ties) -> Stakes:
    """Join marks, chainage and ties."""
    direct = (
        "post_index", "brace_index", "line_index", "station_m", "x_m", "y_m", "ground_m", "left_of_line_m",
        "left_of_string_m", "from_previous_m", "slope_from_previous_m",
    )  # fmt: skip
    return Stakes(
        slope_station_m=slope_station_m,
        **{name: getattr(marks, name) for name in direct},
        **{name: getattr(ties, name) for name in Ties.__slots__},
    )


def _references(job: Job, lines: tuple[FenceLine, ...]) -> References:
    """Read the reference points, refusing those from which no tie can be told."""
    given = job.site.references
    if not given:
        none = np.zeros(0)
        return References((), none, none, none, none)
    if len(given) > MOST_REFERENCES:
        raise InputError(
            f"{len(given)} reference points are too many: give {MOST_REFERENCES} at most", item="reference"
        )
    x, y = np.array([one.x_m for one in given]), np.array([one.y_m for one in given])
    _refuse_on_a_line(job, lines, x, y)
    _refuse_together(job, x, y)
    stated = np.array([one.elevation_m for one in given])
    ground = np.asarray(job.site.ground.elevation_m(x.copy(), y.copy()), np.float64)
    sd = np.asarray(job.site.ground.sd_m(x.copy(), y.copy()), np.float64)
    is_stated = np.isfinite(stated)
    return References(
        tuple(one.name for one in given), x, y, np.where(is_stated, stated, ground),
        np.where(is_stated, 0.0, sd),
    )  # fmt: skip


def _refuse_on_a_line(job: Job, lines: tuple[FenceLine, ...], x: Floats, y: Floats) -> None:
    clear = job.settings.stake_out.reference_clear_m
    show = UnitSystem(job.asked.job.sheets)
    for row, one in enumerate(job.site.references):
        for line in lines:
            ring = with_closing(line.xy_m, line.is_closed)
            _, away = nearest_station(ring, line.station_m, np.array([x[row], y[row]]))
            if away < clear:
                raise InputError(
                    f'the point stands on line "{line.name}" itself ({show.small(away)} off it), so that ties from it '
                    f"cannot tell the two sides of the line apart: choose one at least {show.small(clear)} off every line",
                    item=f'reference {row + 1} "{one.name}"',
                )


def _refuse_together(job: Job, x: Floats, y: Floats) -> None:
    clear = job.settings.stake_out.reference_clear_m
    given = job.site.references
    for row in range(len(given)):
        near = np.flatnonzero(np.hypot(x[:row] - x[row], y[:row] - y[row]) < clear)
        if len(near):
            raise InputError(
                f'it stands where "{given[int(near[0])].name}" stands: choose two points apart from each other',
                item=f'reference {row + 1} "{given[row].name}"',
            )
