"""The tension stage: how tight each pull is drawn, from where, on which day."""

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import Finding, InputError
from fencewright.job.settings import Settings
from fencewright.mechanics.belt_friction import LAST_END, share_in_pieces
from fencewright.quantity.show import UnitSystem
from fencewright.tables.tension import Tensions, TensionTask
from fencewright.tension.friction import share_at_posts
from fencewright.tension.pulled import PulledRuns, cold_tension_n, hot_tension_n, pulled_runs
from fencewright.tension.rail_model import rail_models
from fencewright.tension.words import tension_findings

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Cell = TypeVar("Cell", bound=np.generic)


def pull_tensions(
    task: TensionTask, settings: Settings, show: UnitSystem | None = None
) -> tuple[Tensions, PulledRuns, tuple[Finding, ...]]:
    """Tension of every pull.

    Parameters
    ----------
    task : TensionTask
        Runs as the rail passes them, and their ends.
    settings : Settings
        Strands, friction, temperatures, limits.
    show : UnitSystem, optional
        Units of the findings; US customary unless given.

    Returns
    -------
    Tensions
        Rows as `Pulls`: all strands of the first run, lowest first, then of the next. No value is NaN.
    PulledRuns
        The same by run and product, for `site_checks` and for `why`.
    tuple of Finding
        `rail-assumed`, `tension-window-empty`, `tension-low`, `tension-moved`, `pull-turns-too-much`.

    Raises
    ------
    InputError
        A run without a span, a span without length, an end stiffness or capacity that is no number.

    Notes
    -----
    O(spans + runs x products x days).

    References
    ----------
    parabola-state, capstan, ieee-738, spool-layers.
    """
    _refuse(task)
    rails, said = rail_models(settings)
    pulled = pulled_runs(task, rails, settings)
    tensions = _spread(task, pulled, settings)
    return tensions, pulled, (*said, *tension_findings(task, pulled, settings, show or UnitSystem()))


def _refuse(task: TensionTask) -> None:
    spans = np.diff(task.span_start)
    if (spans < 1).any():
        raise InputError(f"run {int(np.argmin(spans)) + 1} has no span: a pull needs two ends", item="pulls")
    bad = ~((task.span_m > 0) & np.isfinite(task.span_m))
    if bad.any():
        raise InputError(
            f"span {int(np.argmax(bad)) + 1} has no length: two posts stand in one place", item="pulls"
        )
    for column, name in (
        (task.end_stiffness_n_m, "stiffness"),
        (task.end_capacity_n, "capacity"),
        (task.turn_capacity_n, "capacity"),
    ):
        if not (column >= 0).all() or (name == "stiffness" and not (column > 0).all()):
            raise InputError(f"the {name} of an end is missing: give a number above nothing", item="pulls")


def _spread(task: TensionTask, pulled: PulledRuns, settings: Settings) -> Tensions:
    """One row a pull from one row a run and product."""
    rails, tension = pulled.rails, settings.tension
    runs, products = len(task), len(rails)
    own = np.array([rails.rail.index(row.rail.name) for row in settings.strands])
    row = (np.arange(runs)[:, None] * products + own).ravel()
    run = row // products

    def over(column: NDArray[Cell]) -> NDArray[Cell]:
        spread: NDArray[Cell] = column.reshape(runs * products, *column.shape[2:])[row]
        return spread

    first, last = task.post_index[task.post_start[:-1]], task.post_index[task.post_start[1:] - 1]
    is_last = pulled.drawn_from == LAST_END
    hot = hot_tension_n(pulled, tension.reference_c)
    sag = pulled.rails.weight_n_m * pulled.drawn.deepest_m2[:, None] / (8.0 * hot)
    pulling = share_in_pieces(
        task.turning_3d_rad, task.bend_start, tension.friction_pulling, pulled.drawn_from
    )
    post_start, at, there = _posts_of_rows(task, pulled)
    return Tensions(
        product_index=row % products,
        row_index=row,
        reference_c=tension.reference_c,
        set_tension_n=over(pulled.set_tension_n),
        window_low_n=over(pulled.window.low_n),
        window_high_n=over(pulled.window.high_n),
        governs_low=np.zeros(len(row), np.int64),
        governs_high=over(pulled.window.governs_high),
        is_open=over(pulled.window.is_open),
        cold_n=over(cold_tension_n(pulled, tension.reference_c)),
        hot_n=over(hot),
        hot_loosest_n=over(hot * pulled.drawn.least_share[:, None]),
        sag_hot_m=over(sag),
        drawn_from=pulled.drawn_from[run],
        tensioner_post=np.where(is_last, last, first)[run],
        anchor_post=np.where(is_last, first, last)[run],
        far_share=pulled.drawn.least_share[run],
        loosest_span=pulled.drawn.loosest_span[run],
        stretch_m=over(pulled.take_up.stretch_m),
        slack_m=over(pulled.take_up.slack_m),
        end_yield_m=over(pulled.take_up.end_yield_m),
        take_up_m=over(pulled.take_up.whole_m),
        turns=over(pulled.take_up.turns),
        regrips=over(pulled.take_up.regrips),
        extra_rail_m=over(pulled.take_up.extra_rail_m),
        marked_m=tension.marked_m,
        marked_stretch_m=over(pulled.set_tension_n / rails.stiffness_n * tension.marked_m),
        repull_days=pulled.repull.days,
        repull_loss_n=over(pulled.repull.loss_n),
        repull_m=over(pulled.repull.take_in_m),
        chart_c=pulled.chart.rail_c,
        chart_n=over(pulled.chart.tension_n),
        chart_low_n=over(pulled.chart.low_n),
        chart_high_n=over(pulled.chart.high_n),
        chart_is_open=over(pulled.chart.is_open),
        post_start=post_start,
        post_index=task.post_index[at],
        pulling_n=there * share_at_posts(pulling, task)[at],
        worked_n=there * share_at_posts(pulled.drawn.share, task)[at],
    )


def _posts_of_rows(task: TensionTask, pulled: PulledRuns) -> tuple[Ints, Ints, Floats]:
    """First post of each run and product, which row of the task's posts each is, and the tension set there."""
    products, count = len(pulled.rails), np.diff(task.post_start)
    size = np.repeat(count, products)
    start = np.concatenate([[0], np.cumsum(size)])
    within = np.arange(start[-1]) - np.repeat(start[:-1], size)
    at = np.repeat(np.repeat(task.post_start[:-1], products), size) + within
    return start, at, np.repeat(pulled.set_tension_n.ravel(), size)
