"""Interior-point method for the program: predictor and corrector on one band factorisation.

Each row a'x - s <= b with price p has two pairs: its room r = b - a'x + s with the row's price z, and
its excess s with q = p - z; each bound has the distance to it and its price. All stay above 0, and the
sum of the products is driven to 0. O(unknowns + rows) an iteration; stops on counts and tolerances.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import csr_array

from fencewright.tables.top_line import FloatArray
from fencewright.topline.certificate import objective_scale, ordered_dot
from fencewright.topline.newton import NewtonMatrix, Solve
from fencewright.topline.pairs import Pair, aimed, follow, move, paired, predict, stiffness
from fencewright.topline.program import Program

#: Part of the way to the nearest bound that a step goes.
STEP_SHARE = 0.995
#: Point and prices step alike once the products are below this part of the objective: apart they are
#: quicker at first, but leave a residual that the proof cannot bear at the end.
ALIKE_BELOW = 1e-2
#: Part of a bound's width that the first point keeps from it.
START_MARGIN = 0.49
#: Least distance of a row from its limit that the first prices reckon with. [m]
START_ROOM_M = 0.1
#: First product over the mean of gradient times width, and what rows do to it; over the mean cost of
#: the rows that are broken at first.
BOUNDS_START, ROWS_START, BROKEN_START = 0.5, 400.0, 10.0
#: First product where the gradient is 0. [m2]
LEAST_PRODUCT_M2 = 1e-12
#: The corrector aims at the predicted part of the products to this power, and not below this part.
CENTRING_POWER, LEAST_CENTRING = 2, 1e-4
#: The gap is proven from where the products are this many times what is wanted.
PROOF_FROM = 1e4
#: Iterations that may pass without a better proof.
STALL_LIMIT = 3


@dataclass(frozen=True)
class _System:
    """The program with its transposed rows, and the matrix of its Newton steps."""

    program: Program
    matrix: NewtonMatrix
    flow_across: csr_array
    rows_across: csr_array


@dataclass(frozen=True)
class _Point:
    """State of the iteration; all arrays change in place.

    Of a bound the distance drives (it moves with x) and its price follows; of a row the price drives,
    and its room (b - A x + s) or excess (s) follows.
    """

    x: FloatArray
    bounds: tuple[Pair, Pair]
    rows: tuple[Pair, Pair]

    @property
    def pairs(self) -> tuple[Pair, ...]:
        return self.bounds + self.rows

    @property
    def price(self) -> FloatArray:
        return self.rows[0].driver


@dataclass(frozen=True)
class _Slopes:
    """What the program says at a point."""

    objective: float
    gradient: FloatArray  # of flow and heights
    over: FloatArray  # A x - b
    products: float  # sum over all pairs


def interior_point(
    program: Program, matrix: NewtonMatrix, first_m: FloatArray, relative_gap: float, iteration_limit: int
) -> tuple[FloatArray, FloatArray, int]:
    """Solve the program.

    Parameters
    ----------
    program : Program
        Every bound has width, every row a price above 0.
    matrix : NewtonMatrix
        Of the same program.
    first_m : float array (unknowns,)
        Where to start from; moved inside the bounds. [m]
    relative_gap : float
        Stops when the proven gap is this part of the objective. [-]
    iteration_limit : int
        Stops there at the latest.

    Returns
    -------
    x_m : float array (unknowns,)
        The point with the least proven gap. [m]
    row_price_m : float array (rows,)
        The rows' prices z. [m2/m]
    iterations : int
        Iterations used.

    Notes
    -----
    Mehrotra's predictor-corrector. It stops early where the proven gap no longer falls: the certificate
    then says what was reached.
    """
    system = _System(program, matrix, csr_array(program.flow.T), csr_array(program.rows.T))
    point = _start(system, first_m)
    best, best_gap, stalled, iteration = (point.x, point.price), np.inf, 0, 0
    for iteration in range(iteration_limit + 1):
        at = _slopes(system, point)
        wanted = relative_gap * objective_scale(program, at.objective)
        if at.products <= PROOF_FROM * wanted:
            gap = _proven_gap(system, point, at)
            stalled += 1
            if gap < best_gap:
                best, best_gap, stalled = (point.x.copy(), point.price.copy()), gap, 0
            if gap <= wanted or stalled > STALL_LIMIT:
                break
        if iteration == iteration_limit or not _advance(system, point, at):
            break
    return (*best, iteration) if np.isfinite(best_gap) else (point.x, point.price, iteration)


def _first_product(program: Program, gradient: FloatArray, spare: FloatArray) -> float:
    """Product to start from: of the size of what is at stake at bounds and at rows."""
    product = BOUNDS_START * float(np.mean(np.abs(gradient) * (program.high_m - program.low_m)))
    if spare.size:
        product *= ROWS_START
        product += BROKEN_START * float(np.mean(program.price_m * np.maximum(-spare, 0.0)))
    return product + LEAST_PRODUCT_M2


def _start(system: _System, first: FloatArray) -> _Point:
    """Point inside the bounds, with every product alike; the rows need not be kept yet."""
    program = system.program
    width = program.high_m - program.low_m
    x = np.clip(first, program.low_m + START_MARGIN * width, program.high_m - START_MARGIN * width)
    above, below = x - program.low_m, program.high_m - x
    gradient = system.flow_across @ (program.flow @ x + program.flow_offset_m) + program.weight * x
    spare = program.limit_m - program.rows @ x
    product = _first_product(program, gradient, spare)
    price = np.minimum(product / np.maximum(np.abs(spare), START_ROOM_M), 0.5 * program.price_m)
    gradient += system.rows_across @ price
    spare_price = program.price_m - price
    low_price = np.maximum(gradient, 0.0) + product / above
    high_price = np.maximum(-gradient, 0.0) + product / below
    bounds = (paired(above, low_price, 1.0), paired(below, high_price, -1.0))
    rows = (paired(price, product / price, 1.0), paired(spare_price, product / spare_price, -1.0))
    return _Point(x, bounds, rows)


def _slopes(system: _System, point: _Point) -> _Slopes:
    program = system.program
    bend = program.flow @ point.x
    bend += program.flow_offset_m
    weighted = program.weight * point.x
    objective = program.constant_m2 + 0.5 * (ordered_dot(bend, bend) + ordered_dot(weighted, point.x))
    objective += ordered_dot(program.price_m, point.rows[1].follower)
    gradient = system.flow_across @ bend
    gradient += weighted
    over: FloatArray = np.zeros(0)
    if program.limit_m.size:
        over = program.rows @ point.x
        over -= program.limit_m
    products = sum(ordered_dot(pair.driver, pair.follower) for pair in point.pairs)
    return _Slopes(objective, gradient, over, products)


def _proven_gap(system: _System, point: _Point, at: _Slopes) -> float:
    """Gap of the point and its prices, as `certificate.certify` finds it."""
    price_m, slope = system.program.price_m, at.gradient
    if price_m.size:
        slope = slope + system.rows_across @ point.price
    low, high = point.bounds
    gap = ordered_dot(np.maximum(slope, 0.0), low.driver) - ordered_dot(np.minimum(slope, 0.0), high.driver)
    return gap + ordered_dot(price_m, np.maximum(at.over, 0.0)) - ordered_dot(point.price, at.over)


def _advance(system: _System, point: _Point, at: _Slopes) -> bool:
    """One predictor and corrector step, in place; False where no step can be computed."""
    scale = 1.0 / stiffness(point.rows)
    solve = system.matrix.factorise(scale, stiffness(point.bounds))
    if solve is None:
        return False
    target = _predict(system, point, at, solve, scale)
    dx, dz = _correct(system, point, at, solve, scale, target)
    x_falls = [follow(pair, dx) for pair in point.bounds]
    z_falls = [follow(pair, dz) for pair in point.rows]
    most = max(fall for fall, _ in x_falls), max(fall for _, fall in z_falls)
    step = min(1.0, STEP_SHARE / max(*most, STEP_SHARE))
    most = max(fall for _, fall in x_falls), max(fall for fall, _ in z_falls)
    price_step = min(1.0, STEP_SHARE / max(*most, STEP_SHARE))
    if at.products < ALIKE_BELOW * at.objective:
        step = price_step = min(step, price_step)
    for pair in point.bounds:
        move(pair, dx, step, price_step)
    for pair in point.rows:
        move(pair, dz, price_step, step)
    dx *= step
    np.add(point.x, dx, out=point.x)
    return True


def _predict(system: _System, point: _Point, at: _Slopes, solve: Solve, scale: FloatArray) -> float:
    """Step to products of 0: the product that the corrector aims at; its second order stays in the pairs."""
    right = -at.gradient
    if scale.size:
        right -= system.rows_across @ (point.price + scale * at.over)
    dx = solve(right)
    dz = scale * (system.program.rows @ dx + at.over) if scale.size else scale
    ahead = [predict(pair, dx) for pair in point.bounds] + [predict(pair, dz) for pair in point.rows]
    step = 1.0 / max(1.0, *(reach for reach, _ in ahead))
    after = (1.0 - step) * at.products - step * step * sum(second for _, second in ahead)
    centring = min(1.0, max(after / at.products, LEAST_CENTRING)) ** CENTRING_POWER
    return float(centring * at.products / (2 * (dx.size + dz.size)))


def _correct(
    system: _System, point: _Point, at: _Slopes, solve: Solve, scale: FloatArray, target: float
) -> tuple[FloatArray, FloatArray]:
    """Find the changes of x and of the row prices."""
    right = aimed(point.bounds, target)
    right -= at.gradient
    if scale.size == 0:
        return solve(right), scale
    pull = aimed(point.rows, target)
    pull += at.over
    right -= system.rows_across @ (point.price + scale * pull)
    dx = solve(right)
    dz = system.program.rows @ dx
    dz += pull
    dz *= scale
    return dx, dz
