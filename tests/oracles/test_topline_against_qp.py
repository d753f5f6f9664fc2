"""The top line against two general solvers, piqp and clarabel, on a program written a second time.

The oracle's program is built here from the tables post by post: one variable a post (level posts tied
by equations), every sample a row with a slack of its own, nothing pruned, nothing merged.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Any

import clarabel
import numpy as np
import piqp
import pytest
from scipy.sparse import coo_array, csc_array, csc_matrix, diags_array, triu, vstack

from fencewright.tables.top_line import (
    FloatArray,
    GroundProfile,
    TopLineFlows,
    TopLinePosts,
    TopLineSettings,
    TopLineSpans,
    TopLineTask,
)
from fencewright.topline.program import build_program
from fencewright.topline.solve import solve_program
from fencewright.topline.stage import shape_top_line

SETTINGS = TopLineSettings(flow_length_m=3.6, uplift_price_m2_n=2e-4)

Oracle = dict[str, Any]
Shape = dict[str, Any]


def network(seed: int, legs: int, posts_a_leg: int, *, is_closed: bool, tees: int) -> TopLineTask:
    """Build a line of several legs on rough ground, with gates, pins, limited hold and lines that tee off."""
    random = np.random.default_rng(seed)
    chains = [list(range(legs * posts_a_leg))]
    for _ in range(tees):
        first = max(chains[-1]) + 1
        owner = int(random.integers(1, legs * posts_a_leg - 1))
        chains.append([owner, *range(first, first + posts_a_leg)])
    names = {post: row for row, post in enumerate(dict.fromkeys(post for chain in chains for post in chain))}
    ends: list[tuple[int, int]] = []
    flows: list[tuple[int, int]] = []
    for number, chain in enumerate(chains):
        rows = [names[post] for post in chain]
        begin = len(ends)
        ends += list(pairwise(rows))
        flows += [(span, span + 1) for span in range(begin, len(ends) - 1)]
        if number == 0 and is_closed:
            ends.append((rows[-1], rows[0]))
            flows += [(len(ends) - 2, len(ends) - 1), (len(ends) - 1, begin)]
    posts, spans = len(names), len(ends)
    level = np.zeros(spans, bool)
    level[random.choice(spans, max(1, spans // 40), replace=False)] = True
    pinned = np.full(posts, np.nan)
    ground = 300.0 + np.cumsum(0.25 * random.standard_normal(posts))
    for post in random.choice(posts, max(1, posts // 30), replace=False):
        pinned[post] = ground[post] + random.uniform(1.3, 1.45)
    for a, b in np.array(ends)[level]:
        ground[b] = ground[a] + 0.05 * random.standard_normal()
    gates = set(np.flatnonzero(level).tolist())
    kept = [pair for pair in flows if not gates & set(pair)]
    from_post, to_post = np.array(ends).T
    pinned[np.concatenate([from_post[level], to_post[level]])] = np.nan
    turned = random.random(spans) < 0.2
    from_post, to_post = np.where(turned, to_post, from_post), np.where(turned, from_post, to_post)
    count = random.integers(0, 5, spans)
    fraction = np.concatenate([np.sort(random.uniform(0.0, 1.0, size)) for size in count])
    span = np.repeat(np.arange(spans), count)
    between = ground[from_post][span] * (1 - fraction) + ground[to_post][span] * fraction
    half = random.uniform(0.1, 0.3, posts)
    hold = np.where(random.random(posts) < 0.8, random.uniform(200.0, 1200.0, posts), np.inf)
    one = np.ones(spans)
    return TopLineTask(
        TopLinePosts(
            ground, np.full(posts, 1.37), 1.37 - half, 1.37 + half, pinned, hold, np.full(posts, 1e-3)
        ),
        TopLineSpans(
            from_post,
            to_post,
            random.uniform(2.0, 4.5, spans),
            ~level,
            level,
            0.95 * one,
            0.2 * one,
            0.65 * one,
            5000.0 * one,
        ),
        TopLineFlows(*np.array(kept, np.int64).reshape(-1, 2).T),
        GroundProfile(
            np.concatenate([[0], np.cumsum(count)]),
            fraction,
            between + 0.12 * random.standard_normal(fraction.size),
        ),
    )


@dataclass
class _Qp:
    """Minimise 1/2 v'Pv + q'v + constant with rows; v is the tops less nominal, then the slacks."""

    entries: list[tuple[int, int, float]] = field(default_factory=list)
    limit: list[float] = field(default_factory=list)
    price: list[float] = field(default_factory=list)

    def add(self, coefficients: dict[int, float], limit: float, price: float) -> None:
        self.entries += [(len(self.limit), post, value) for post, value in coefficients.items()]
        self.limit.append(limit)
        self.price.append(price)


def _elastic_rows(task: TopLineTask, nominal: FloatArray) -> _Qp:
    qp, spans, profile = _Qp(), task.spans, task.profile
    lift = [0.0] * nominal.size
    rates: list[dict[int, float]] = [{} for _ in range(nominal.size)]
    for span in range(spans.length_m.size):
        a, b = int(spans.from_post[span]), int(spans.to_post[span])
        if not spans.is_fence[span]:
            continue
        for at in range(profile.start[span], profile.start[span + 1]):
            t = float(profile.fraction[at])
            gap = (1 - t) * nominal[a] + t * nominal[b] - spans.drop_m[span] - profile.ground_m[at]
            qp.add({a: t - 1, b: -t}, gap - spans.gap_low_m[span], SETTINGS.gap_price_m)
            qp.add({a: 1 - t, b: t}, spans.gap_high_m[span] - gap, SETTINGS.gap_price_m)
        slope = (nominal[b] - nominal[a]) / spans.length_m[span]
        for post, other, sign in ((a, b, 1.0), (b, a, -1.0)):
            rate = spans.pull_n[span] * (1 + slope**2) ** -1.5 / spans.length_m[span]
            lift[post] += sign * spans.pull_n[span] * slope * (1 + slope**2) ** -0.5
            rates[post][other] = rates[post].get(other, 0.0) + rate
            rates[post][post] = rates[post].get(post, 0.0) - rate
    for post, hold in enumerate(task.posts.hold_down_n):
        if np.isfinite(hold) and rates[post]:
            # A newton is weighed as a millimetre, so that the general solvers see rows of one size.
            row = {other: 1e-3 * rate for other, rate in rates[post].items()}
            qp.add(row, 1e-3 * (hold - lift[post]), 1e3 * SETTINGS.uplift_price_m2_n)
    return qp


def _oracle(task: TopLineTask) -> Oracle:
    """Build the whole program: quadratic and linear cost, rows, equations, bounds."""
    posts, spans = task.posts, task.spans
    size = posts.ground_m.size
    fixed = ~np.isnan(posts.pinned_top_m)
    nominal = np.where(fixed, posts.pinned_top_m, posts.ground_m + posts.nominal_height_m)
    qp = _elastic_rows(task, nominal)
    bend: list[tuple[int, int, float]] = []
    offset: list[float] = []
    for row, (one, other) in enumerate(
        zip(task.flows.before_span.tolist(), task.flows.after_span.tolist(), strict=True)
    ):
        ends = [{int(spans.from_post[s]), int(spans.to_post[s])} for s in (one, other)]
        (middle,) = ends[0] & ends[1]
        value = 0.0
        for span, pair in zip((one, other), ends, strict=True):
            (far,) = pair - {middle}
            scale = SETTINGS.flow_length_m / spans.length_m[span]
            bend += [(row, far, scale), (row, middle, -scale)]
            value += scale * (nominal[far] - nominal[middle])
        offset.append(value)
    rows, columns, values = zip(*bend, strict=True)
    flow = csc_array((values, (rows, columns)), shape=(len(offset), size))
    total = size + len(qp.limit)
    off_nominal = nominal - posts.ground_m - posts.nominal_height_m
    hessian = coo_array(flow.T @ flow + diags_array(posts.nominal_weight))
    rows, columns, values = zip(*qp.entries, strict=True)
    count = len(qp.limit)
    slack = (np.full(count, -1.0), (np.arange(count), size + np.arange(count)))
    level = np.flatnonzero(spans.is_level)
    tie = np.repeat(np.arange(level.size), 2)
    tied = np.stack([spans.from_post[level], spans.to_post[level]], axis=1).ravel()
    low = np.where(fixed, 0.0, posts.low_m - posts.nominal_height_m)
    high = np.where(fixed, 0.0, posts.high_m - posts.nominal_height_m)
    return {
        "P": csc_array((hessian.data, (hessian.row, hessian.col)), shape=(total, total)),
        "q": np.concatenate([flow.T @ offset + posts.nominal_weight * off_nominal, qp.price]),
        "constant": 0.5 * float(np.dot(offset, offset) + posts.nominal_weight @ off_nominal**2),
        "G": csc_array((values, (rows, columns)), shape=(count, total))
        + csc_array(slack, shape=(count, total)),
        "h": np.array(qp.limit),
        "A": csc_array((np.tile([1.0, -1.0], level.size), (tie, tied)), shape=(level.size, total)),
        "b": nominal[spans.to_post[level]] - nominal[spans.from_post[level]],
        "low": np.concatenate([low, np.zeros(count)]),
        "high": np.concatenate([high, np.full(count, np.inf)]),
        "nominal": nominal,
    }


def _by_piqp(qp: Oracle) -> tuple[FloatArray, float]:
    solver = piqp.SparseSolver()
    solver.settings.eps_abs = solver.settings.eps_rel = 1e-11
    solver.settings.eps_duality_gap_abs = solver.settings.eps_duality_gap_rel = 1e-11
    solver.setup(
        csc_matrix(qp["P"]),
        qp["q"],
        csc_matrix(qp["A"]),
        qp["b"],
        csc_matrix(qp["G"]),
        None,
        qp["h"],
        qp["low"],
        qp["high"],
    )
    assert solver.solve() == piqp.PIQP_SOLVED
    return solver.result.x, solver.result.info.primal_obj + qp["constant"]


def _by_clarabel(qp: Oracle) -> tuple[FloatArray, float]:
    bounded = np.isfinite(qp["high"])
    eye = np.eye(qp["q"].size)
    stacked = [qp["A"], qp["G"], csc_array(-eye), csc_array(eye[bounded])]
    right = np.concatenate([qp["b"], qp["h"], -qp["low"], qp["high"][bounded]])
    cones = [clarabel.ZeroConeT(qp["b"].size), clarabel.NonnegativeConeT(right.size - qp["b"].size)]
    settings = clarabel.DefaultSettings()
    settings.verbose = False
    settings.tol_gap_abs = settings.tol_gap_rel = settings.tol_feas = 1e-11
    upper = csc_matrix(triu(qp["P"]))
    answer = clarabel.DefaultSolver(
        upper, qp["q"], csc_matrix(vstack(stacked)), right, cones, settings
    ).solve()
    assert str(answer.status) in {"Solved", "AlmostSolved"}
    return np.array(answer.x), answer.obj_val + qp["constant"]


def _shape(seed: int, legs: int, posts_a_leg: int, *, is_closed: bool, tees: int) -> Shape:
    return {"seed": seed, "legs": legs, "posts_a_leg": posts_a_leg, "is_closed": is_closed, "tees": tees}


CASES = [
    pytest.param(_shape(1, 1, 12, is_closed=False, tees=0), id="short line"),
    pytest.param(_shape(2, 4, 15, is_closed=True, tees=0), id="closed"),
    pytest.param(_shape(3, 4, 20, is_closed=True, tees=3), id="closed with tees"),
    pytest.param(_shape(4, 3, 30, is_closed=False, tees=6), id="open with tees"),
    pytest.param(_shape(5, 10, 25, is_closed=True, tees=2), id="longer"),
]


@pytest.mark.parametrize("shape", CASES)
@pytest.mark.parametrize("solver", [_by_piqp, _by_clarabel], ids=["piqp", "clarabel"])
def test_top_line_is_the_general_solvers(
    shape: Shape, solver: Callable[[Oracle], tuple[FloatArray, float]]
) -> None:
    task = network(**shape)
    line = shape_top_line(task, SETTINGS)
    qp = _oracle(task)
    x, objective = solver(qp)
    posts = task.posts.ground_m.size
    assert line.certificate.is_converged
    assert line.certificate.objective_m2 == pytest.approx(objective, rel=1e-7)
    np.testing.assert_allclose(line.top_m, x[:posts] + qp["nominal"], atol=1e-5)


def test_three_thousand_posts_with_piqp() -> None:
    task = network(seed=8, legs=30, posts_a_leg=97, is_closed=True, tees=1)
    line = shape_top_line(task, SETTINGS)
    qp = _oracle(task)
    x, objective = _by_piqp(qp)
    assert line.certificate.relative_gap < 1e-10
    assert line.certificate.objective_m2 == pytest.approx(objective, rel=1e-7)
    posts = task.posts.ground_m.size
    np.testing.assert_allclose(line.top_m, x[:posts] + qp["nominal"], atol=1e-5)


def test_certificate_bounds_the_general_optimum() -> None:
    """Stopped far too early, the lower bound still lies below what a general solver finds."""
    task = network(**_shape(3, 4, 20, is_closed=True, tees=3))
    _, objective = _by_piqp(_oracle(task))
    program, _ = build_program(task, SETTINGS)
    for limit in (0, 2, 5, 8, 11):
        _, proof = solve_program(program, replace(SETTINGS, iteration_limit=limit))
        assert proof.lower_bound_m2 <= objective * (1 + 1e-9)
        assert proof.objective_m2 >= objective * (1 - 1e-9)
        assert not proof.is_converged
