"""What was measured on the finished fence beside what the design says: in tolerance or out, and what to do."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from fencewright.findings import CAUTION, STOP, Finding, InputError, Place
from fencewright.job.measured_schema import PULLS, Measured
from fencewright.job.stake_out_settings import MeasuredSettings
from fencewright.pipeline.measuring import Measurement, judge, pull_row, wanted_tension
from fencewright.pipeline.record import Design, post_id
from fencewright.quantity.show import UnitSystem
from fencewright.tables.as_measured import AsMeasured
from fencewright.tension.measured import LEAVE, Beats, Push

_FAR_M = 0.5  # a station that no post is nearer to names no post


@dataclass(frozen=True, slots=True)
class _Row:
    """One row of `AsMeasured`."""

    post: int
    pull: int
    kind: str
    designed: float
    measured: float
    least: float
    most: float
    says: str


def nothing_measured() -> AsMeasured:
    """Give the table of a job that has no `[[measured]]`."""
    none = np.zeros(0)
    whole = np.zeros(0, np.int64)
    return AsMeasured(whole, whole, (), (), none, none, none, none, none, np.zeros(0, bool), (), (), ())


def with_measured(design: Design) -> tuple[Design, list[Finding]]:
    """Set what was measured beside what was designed.

    Parameters
    ----------
    design : Design
        The whole design.

    Returns
    -------
    design : Design
        With its table `measured`, one row a `[[measured]]` of the job that finds its place in the design.
    findings : list of Finding
        `measured-nowhere` (`stop`) for each row of a post, line or pull that is not there, or that lacks what its
        `what` needs; `measured-out` (`caution`) for each row out of tolerance; `measured-by-name` (`caution`) where
        a post is given by a name that another revision may have given to another post.
    """
    asked: list[Measured] = []
    rows: list[_Row] = []
    findings: list[Finding] = []
    for number, one in enumerate(design.job.asked.measured, start=1):
        try:
            row = _row(design, one)
        except InputError as error:  # a fence without that post is designed all the same
            findings.append(_nowhere(number, error))
            continue
        asked.append(one)
        rows.append(row)
        findings += _findings(design, one, row)
    if not rows:
        return design, findings
    measured = np.array([row.measured for row in rows])
    designed = np.array([row.designed for row in rows])
    least, most = np.array([row.least for row in rows]), np.array([row.most for row in rows])
    table = AsMeasured(
        np.array([row.post for row in rows], np.int64), np.array([row.pull for row in rows], np.int64),
        tuple(one.what for one in asked), tuple(row.kind for row in rows), designed, measured, measured - designed,
        least, most, _is_in(measured, least, most), tuple(one.by for one in asked),
        tuple(one.when.isoformat() if one.when else "" for one in asked), tuple(row.says for row in rows),
    )  # fmt: skip
    return replace(design, measured=table), findings


def _nowhere(number: int, error: InputError) -> Finding:
    message = f"Measured row {number} cannot be set beside the design: {error.what}."
    return Finding(
        STOP, "measured-nowhere", Place("measured", str(number)), message, "Correct the row, or remove it."
    )


def _is_in(measured: np.ndarray, least: np.ndarray, most: np.ndarray) -> np.ndarray:
    """In tolerance; a tape's last 0.05 mm is not read."""
    return np.asarray((measured >= least - 5e-5) & (measured <= most + 5e-5))


def _row(design: Design, one: Measured) -> _Row:
    if one.what in PULLS:
        return _rail_row(design, one)
    if one.pull is not None:
        raise InputError(f"{one.what} is measured at a post: give line and at in place of pull", item="pull")
    post = _post(design, one)
    least_most: Callable[[Design, int], tuple[float, float, float]] = _AT_POST[one.what]
    designed, least, most = least_most(design, post)
    if math.isnan(designed):
        raise InputError(f"the design has no {one.what.replace('_', ' ')} at {post_id(post)}", item="what")
    is_in = least - 5e-5 <= one.value <= most + 5e-5
    return _Row(post, -1, "length", designed, one.value, least, most, "" if is_in else _MEND[one.what])


def _post(design: Design, one: Measured) -> int:
    """Row of the post that a line and station, or a name, mean."""
    posts, names = design.layout.posts, [line.name for line in design.layout.lines]
    if one.post is not None:
        number = one.post[1:]
        row = int(number) - 1 if one.post[:1] == "P" and number.isdecimal() and len(number) < 9 else -1
        if not 0 <= row < len(posts):
            raise InputError(
                f"there is no post {one.post!r}; they run from P1 to {post_id(len(posts) - 1)}", item="post"
            )
        return row
    if one.line is None or one.at is None:
        raise InputError("it names no post: give line and at, or post with revision")
    if one.line not in names:
        raise InputError(f'there is no line "{one.line}"; lines: {", ".join(names[:8])}', item="line")
    index, visits = names.index(one.line), design.layout.visits
    mine, theirs = np.flatnonzero(posts.line_index == index), np.flatnonzero(visits.line_index == index)
    rows = np.concatenate([mine, visits.post_index[theirs]])
    away = np.abs(np.concatenate([posts.station_m[mine], visits.station_m[theirs]]) - one.at)
    if design.layout.lines[index].is_closed:
        away = np.minimum(away, design.layout.lines[index].length_m - away)
    best = int(np.argmin(away))
    if away[best] > _FAR_M:
        show = UnitSystem(design.job.asked.job.sheets)
        near = int(rows[best])
        raise InputError(
            f'no post stands at {show.long(one.at)} of line "{one.line}"; the nearest, {post_id(near)}, is '
            f"{show.long(float(away[best]))} away",
            item="at",
        )
    return int(rows[best])


def _around(designed: float, by: float) -> tuple[float, float, float]:
    return designed, designed - by, designed + by


def _limits(design: Design) -> MeasuredSettings:
    return design.job.settings.measured


def _gap(design: Design, post: int) -> tuple[float, float, float]:
    """Gap under the lowest rail in the span beyond a post, along its own line."""
    spans = design.layout.spans
    own = np.flatnonzero(
        (spans.from_post == post) & (spans.line_index == design.layout.posts.line_index[post])
    )
    gap = float(design.top_line.lowest_gap_m[own[0]]) if len(own) else math.nan
    return _around(gap, _limits(design).gap_m)


def _depth(design: Design, post: int) -> tuple[float, float, float]:
    depth = float(design.holes.depth_m[post])
    return depth, depth - _limits(design).depth_m, math.inf


def _plumb(design: Design, post: int) -> tuple[float, float, float]:
    """Off plumb at the top, away from the pull: a post with a diagonal brace is set with the brace's lean."""
    braces = design.layout.braces
    leans = bool((braces.post_index[~braces.is_horizontal] == post).any())
    return _around(design.job.settings.brace.lean_m if leans else 0.0, _limits(design).plumb_m)


_AT_POST: dict[str, Callable[[Design, int], tuple[float, float, float]]] = {
    "top": lambda design, post: _around(float(design.top_line.height_m[post]), _limits(design).top_m),
    "plumb": _plumb,
    "depth": _depth,
    "post_offset": lambda design, _: _around(0.0, _limits(design).post_offset_m),
    "gap": _gap,
    "spacing": lambda design, post: _around(
        float(design.stake_out.stakes.from_previous_m[post]), _limits(design).spacing_m
    ),
    "string": lambda design, _: _around(0.0, _limits(design).string_m),
}
_MEND = {
    "top": "Saw it to the string, or cap it; a top too low stays, where the rails still fit.",
    "plumb": "Set it plumb again while its concrete is green, or tamp it anew.",
    "depth": "Dig to the designed depth, or have the shallower one checked with a stated depth in the job.",
    "post_offset": "Move the post to the string before its hole is filled.",
    "gap": "Grade the ground, or draw the lowest rail to its marks.",
    "spacing": "Move the post, or state it as [[built]] and design again.",
    "string": "Cut the top to the string.",
}


def _rail_row(design: Design, one: Measured) -> _Row:
    """Tension from a push, beats or a gauge, beside what belongs there at the rail's temperature."""
    if one.pull is None:
        raise InputError(f"{one.what} is measured on a rail: give pull", item="pull")
    if one.temperature is None:
        raise InputError(f"{one.what} needs the temperature of the rail", item="temperature")
    pull, post = pull_row(design, one.pull), one.post or ""
    if one.what == "tension":
        wanted = wanted_tension(design, pull, post, one.temperature)
        says = "Pull more." if one.value < wanted.low_n else "Ease off." if one.value > wanted.high_n else ""
        row = int(post[1:]) - 1 if post else -1
        return _Row(row, pull, "force", wanted.tension_n, one.value, wanted.low_n, wanted.high_n, says)
    push = design.job.settings.tension.checks.push_n if one.push is None else one.push
    reading = Push(push, one.value) if one.what == "deflection" else Beats(one.value)
    judged = judge(design, Measurement(one.pull, post, one.temperature, reading))
    verdict, wanted = judged.verdict, judged.verdict.wanted
    is_left = verdict.advice == LEAVE
    least, most = wanted.low_n, wanted.high_n
    if is_left:  # the reading may be right: its bounds reach into the window
        least, most = min(least, verdict.tension_n), max(most, verdict.tension_n)
    says = "" if is_left else verdict.advice.capitalize() + "."
    return _Row(
        int(judged.from_post[1:]) - 1, pull, "force", wanted.tension_n, verdict.tension_n, least, most,
        says,
    )  # fmt: skip


def _findings(design: Design, one: Measured, row: _Row) -> list[Finding]:
    posts, show = design.layout.posts, UnitSystem(design.job.asked.job.sheets)
    place = Place("pull", one.pull or "")
    if row.pull < 0:
        line = design.layout.lines[int(posts.line_index[row.post])].name
        place = Place("post", post_id(row.post), line, float(posts.station_m[row.post]))
    findings = []
    if one.post is not None and one.revision != design.job.asked.job.revision:
        said = f"revision {one.revision}" if one.revision else "no revision"
        message = (
            f"The {one.what.replace('_', ' ')} is given for {one.post} with {said}, and this is revision "
            f"{design.job.asked.job.revision}: a name may mean another post."
        )
        findings.append(
            Finding(CAUTION, "measured-by-name", place, message, "Give line and at in place of post.")
        )
    if row.says:
        write = show.small if row.kind == "length" else show.force
        what, least, most = one.what.replace("_", " "), write(row.least), write(row.most)
        measured, designed = write(row.measured), write(row.designed)
        message = f"Measured {what}: {measured}; designed {designed}, {least} to {most} is in tolerance."
        if math.isinf(row.most):
            message = f"Measured {what}: {measured}; designed {designed}, at least {least} is in tolerance."
        findings.append(Finding(CAUTION, "measured-out", place, message, row.says))
    return findings
