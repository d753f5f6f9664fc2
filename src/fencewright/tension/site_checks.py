"""Site checks: how far a span gives under a known push, and how fast it beats, where and on which day."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import NOTE, Finding, Place
from fencewright.job.settings import Settings
from fencewright.mechanics.belt_friction import LAST_END
from fencewright.mechanics.pushed_span import deflection_m
from fencewright.mechanics.vibration import frequency_hz
from fencewright.quantity.parse import GRAVITY_M_S2
from fencewright.tables.tension import PLACES, SiteChecks, TensionTask
from fencewright.tension.pulled import PulledRuns

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_TENSIONER, _MIDDLE, _FAR, _CORNER = range(len(PLACES))


@dataclass(frozen=True, slots=True, eq=False)
class CheckPlaces:
    """Spans to be checked; columns (places,).

    `run_index`; `span` row of the task's spans; `place` row of `PLACES`; `post_index` the post on the tensioner's
    side; `run_m` rail between the two corners or ends about it, which slides with it [m].
    """

    run_index: Ints
    span: Ints
    place: Ints
    post_index: Ints
    run_m: Floats


def check_places(task: TensionTask, pulled: PulledRuns, corner_rad: float) -> CheckPlaces:
    """Name the spans of each run that are worth checking.

    Parameters
    ----------
    task, pulled
        The stage's own.
    corner_rad : float
        A bend that turns this much or more in space is a corner. [rad]

    Returns
    -------
    CheckPlaces
        Of each run: the span at the tensioner, the one in the middle, the last, and the one past each corner; each
        span once, under the first of these names. By run, then along it.
    """
    runs = len(task)
    start, last = task.span_start[:-1], task.span_start[1:] - 1
    from_last = pulled.drawn_from == LAST_END
    half = np.concatenate([[0.0], np.cumsum(task.span_m)])
    middle = np.searchsorted(half, (half[start] + half[last + 1]) / 2, side="left") - 1
    corner_span, corner_run = _past_corners(task, pulled, corner_rad)
    every = np.arange(runs)
    span = np.concatenate(
        [np.where(from_last, last, start), middle, np.where(from_last, start, last), corner_span]
    )
    place = np.repeat([_TENSIONER, _MIDDLE, _FAR, _CORNER], [runs, runs, runs, len(corner_span)])
    run = np.concatenate([every, every, every, corner_run])
    _, first = np.unique(span, return_index=True)
    span, place, run = span[first], place[first], run[first]
    near_end = _nearer_first(task, pulled)[span]
    post = task.post_index[span + run + ~near_end]
    return CheckPlaces(run, span, place, post, _between_corners(task, corner_rad)[span])


def _nearer_first(task: TensionTask, pulled: PulledRuns) -> NDArray[np.bool_]:
    """Spans whose tension comes from the first end: (spans,)."""
    count = np.diff(task.span_start)
    share = pulled.drawn.share
    # tension falls away from the tensioner; drawn from both ends, the loosest span parts the two sides
    loosest = np.repeat(task.span_start[:-1] + pulled.drawn.loosest_span, count)
    way = np.repeat(pulled.drawn_from, count)
    rising = np.arange(len(share)) < loosest
    return np.where(way == LAST_END, False, (way != 2) | rising | (np.arange(len(share)) == loosest))


def _past_corners(task: TensionTask, pulled: PulledRuns, corner_rad: float) -> tuple[Ints, Ints]:
    """Span beyond each corner seen from the tensioner, and its run."""
    bends = np.flatnonzero(task.turning_3d_rad >= corner_rad)
    run = np.searchsorted(task.bend_start, bends, side="right") - 1
    before = bends + run
    toward_last = _nearer_first(task, pulled)[before]
    return np.where(toward_last, before + 1, before), run


def _between_corners(task: TensionTask, corner_rad: float) -> Floats:
    """Rail between the corners or ends on either side of each span: (spans,). [m]"""
    cut = np.zeros(len(task.span_m), bool)
    cut[task.span_start[:-1]] = True
    bends = np.flatnonzero(task.turning_3d_rad >= corner_rad)
    cut[bends + np.searchsorted(task.bend_start, bends, side="right")] = True
    piece = np.cumsum(cut) - 1
    return np.bincount(piece, weights=task.span_m)[piece] if len(piece) else np.zeros(0)


def site_checks(
    task: TensionTask, pulled: PulledRuns, settings: Settings
) -> tuple[SiteChecks, tuple[Finding, ...]]:
    """What a person measures on each pull, once its rail is worked round its corners.

    Parameters
    ----------
    task, pulled, settings
        The stage's own.

    Returns
    -------
    SiteChecks
        By place, then product, then rail temperature; deflection from where the rail hung, at mid-span.
    tuple of Finding
        `site-checks-thinned` where a huge fence gets fewer days or places.

    Notes
    -----
    Tension: the chart's of that day times the span's share. Sliding: the rail between two corners slides freely;
    pinned: not at all. The truth lies between. O(checks).

    References
    ----------
    pushed-wire, string-frequency.
    """
    checks, rails = settings.tension.checks, pulled.rails
    places = check_places(task, pulled, settings.layout.corner_angle_rad)
    kept_days, keep, said = _thinned(places, len(rails), pulled.site_chart.rail_c, settings)
    of_day = pulled.site_chart.of(kept_days)
    days = of_day.rail_c
    shape = (len(keep), len(rails), len(days))
    run, span = places.run_index[keep], places.span[keep]
    tension = of_day.tension_n[run] * pulled.drawn.share[span][:, None, None]

    def wide(column: NDArray[np.generic]) -> NDArray[np.generic]:
        return np.broadcast_to(column[:, None, None], shape).ravel()

    product = np.broadcast_to(np.arange(len(rails))[None, :, None], shape).ravel()
    span_m, run_m = (np.asarray(wide(one), np.float64) for one in (task.span_m[span], places.run_m[keep]))
    flat, stiffness, weight = tension.ravel(), rails.stiffness_n[product], rails.weight_n_m[product]
    push = np.full(len(flat), checks.push_n)
    sliding, pinned = deflection_m(push, span_m, np.stack([run_m, span_m]), flat, stiffness, weight)
    made = SiteChecks(
        run_index=np.asarray(wide(run), np.int64),
        product_index=product,
        pull_index=np.asarray(wide(run), np.int64) * len(settings.strands)
        + _lowest(pulled, settings)[product],
        post_index=np.asarray(wide(places.post_index[keep]), np.int64),
        place=np.asarray(wide(places.place[keep]), np.int64),
        rail_temperature_c=np.broadcast_to(days, shape).ravel(),
        span_m=span_m,
        run_m=run_m,
        tension_n=flat,
        push_n=push,
        deflection_sliding_m=sliding,
        deflection_pinned_m=pinned,
        frequency_hz=frequency_hz(flat, span_m, weight / GRAVITY_M_S2),
    )
    return made, said


def _lowest(pulled: PulledRuns, settings: Settings) -> Ints:
    """Lowest strand of each product: (products,)."""
    names = [row.rail.name for row in settings.strands]
    return np.array([names.index(name) for name in pulled.rails.rail], np.int64)


def _thinned(
    places: CheckPlaces, products: int, days: Floats, settings: Settings
) -> tuple[Ints, Ints, tuple[Finding, ...]]:
    """Rows of the days and of `places` that are kept, and what was left out."""
    most, keep, kept_days = settings.tension.checks.most, np.arange(len(places.span)), np.arange(len(days))
    if len(keep) * products * len(days) <= most:
        return kept_days, keep, ()
    kept_days = np.array([np.argmin(np.abs(days - settings.tension.reference_c))])
    if len(keep) * products > most:
        keep = np.flatnonzero(places.place == _TENSIONER)
    keep = keep[: max(most // products, 1)]
    said = Finding(
        NOTE,
        "site-checks-thinned",
        Place("job"),
        f"The fence is so long that site checks are given for one day and {len(keep):,} of {len(places.span):,} places.",
        "Name fewer [tension] check_temperatures, or run a part of the fence as its own job.",
    )
    return kept_days, keep, (said,)
