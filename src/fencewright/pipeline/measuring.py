"""A measurement on site against the design: which span, what tension belongs there today, and what to do."""

from dataclasses import dataclass

import numpy as np

from fencewright.findings import InputError
from fencewright.pipeline.record import Design, post_id, pull_id
from fencewright.quantity.show import UnitSystem
from fencewright.takeoff.pieces import span_vectors
from fencewright.tension.measured import Beats, MeasuredSpan, Push, Verdict, Wanted, judge_measurement


@dataclass(frozen=True, slots=True)
class Measurement:
    """What was measured.

    `pull` such as `R1-2`; `post` before the span, empty for the tensioner's span; `rail_temperature_c` [C];
    `reading` a push with its deflection, or beats.
    """

    pull: str
    post: str
    rail_temperature_c: float
    reading: Push | Beats


@dataclass(frozen=True, slots=True)
class Judged:
    """The verdict, and where: ids of the two posts of the span."""

    verdict: Verdict
    from_post: str
    to_post: str


def judge(design: Design, measurement: Measurement) -> Judged:
    """Judge a measurement.

    Parameters
    ----------
    design : Design
        The whole design.
    measurement : Measurement
        What was read, where, and how warm the rail was.

    Returns
    -------
    Judged
        Compared with the chart at that temperature times the share that reaches the span once the rail is worked
        round its corners.

    Raises
    ------
    InputError
        No such pull, a post that the pull does not pass, a temperature off the chart, or a reading that no tension
        explains.
    """
    pull = pull_row(design, measurement.pull)
    tension = design.tension
    posts = tension.post_index[tension.posts_of(pull)]
    at = _place(design, pull, posts, measurement.post)
    wanted = wanted_tension(design, pull, measurement.post, measurement.rail_temperature_c)
    runs, product = design.layout.runs, int(tension.product_index[pull])
    run = int(design.pulls.run_index[pull])
    vector = span_vectors(design.layout, design.top_line.top_m)
    length = np.linalg.norm(vector[int(runs.from_span[run]) : int(runs.to_span[run])], axis=1)
    models = design.rail_models
    span = MeasuredSpan(
        float(length[at]),
        float(length.sum()),
        float(models.stiffness_n[product]),
        float(models.weight_n_m[product]),
    )
    verdict = judge_measurement(
        measurement.reading,
        span,
        wanted,
        design.job.settings.tension.checks,
        UnitSystem(design.job.asked.job.sheets),
    )
    return Judged(verdict, post_id(int(posts[at])), post_id(int(posts[at + 1])))


def wanted_tension(design: Design, pull: int, post: str, rail_temperature_c: float) -> Wanted:
    """Tension that belongs in the span beyond a post of a pull, and its window; errors as of `judge`."""
    tension = design.tension
    rows = tension.posts_of(pull)
    at = _place(design, pull, tension.post_index[rows], post)
    # each post holds the tension of its looser side, so a span has the greater of its two posts'
    share = float(tension.worked_n[rows][at : at + 2].max()) / float(tension.set_tension_n[pull])
    return _wanted(design, pull, rail_temperature_c, share)


def pull_row(design: Design, name: str) -> int:
    """Row of a pull by its name.

    Raises
    ------
    InputError
        No such pull.
    """
    pulls = design.pulls
    names = [pull_id(r, s) for r, s in zip(pulls.run_index.tolist(), pulls.strand.tolist(), strict=True)]
    if name not in names:
        raise InputError(f"there is no pull {name}; they run from {names[0]} to {names[-1]}", item="pull")
    return names.index(name)


def _place(design: Design, pull: int, posts: np.ndarray, name: str) -> int:
    """Row of the post before the measured span within the pull; the tensioner's span unless a post is named."""
    if not name:
        first = int(posts[0]) == int(design.tension.tensioner_post[pull])
        return 0 if first else len(posts) - 2
    ids = [post_id(int(post)) for post in posts]
    if name not in ids:
        raise InputError(f"the pull does not pass {name}; it runs from {ids[0]} to {ids[-1]}", item="post")
    return min(ids.index(name), len(ids) - 2)


def _wanted(design: Design, pull: int, rail_c: float, share: float) -> Wanted:
    tension = design.tension
    days = tension.chart_c
    if not days[0] - 1e-6 <= rail_c <= days[-1] + 1e-6:
        warm = UnitSystem(design.job.asked.job.sheets).temperature
        raise InputError(
            f"a rail at {warm(rail_c)} is off the chart, which runs from {warm(float(days[0]))} to {warm(float(days[-1]))}",
            item="temperature",
        )
    chart = tension.chart_n[pull]
    low, high = tension.chart_low_n[pull], tension.chart_high_n[pull]
    slope = float(np.interp(rail_c, days, np.gradient(chart, days)))
    at = [share * float(np.interp(rail_c, days, column)) for column in (chart, low, high)]
    return Wanted(at[0], at[1], at[2], share * slope)
