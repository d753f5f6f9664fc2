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
from fencewright.topline.program import Program

#: Part of the way to the nearest bound that a step goes.
STEP_SHARE = 0.99
#: Point and prices step alike once the products are below this part of the objective: apart they are
#: quicker at first, but leave a residual that the proof cannot bear at the end.
ALIKE_BELOW = 1e-2
#: Part of a bound's width that the first point keeps from it.
START_MARGIN = 0.3
#: Least distance of a row from its limit that the first prices reckon with. [m]
START_ROOM_M = 0.1
#: First products over the mean of gradient times width: with rows, and with bounds alone.
ROWS_START, BOUNDS_START = 50.0, 0.5
#: First product where the gradient is 0. [m2]
LEAST_PRODUCT_M2 = 1e-12
#: The corrector aims at the predicted part of the products to this power, and not below this part.
CENTRING_POWER, LEAST_CENTRING = 2, 1e-4
#: The gap is proven from where the products are this many times what is wanted.
PROOF_FROM = 1e4
#: Iterations that may pass without a better proof.
STALL_LIMIT = 3


@dataclass
class _Point:
    """State of the iteration: the point, its distances to bounds, and all prices."""

    x: FloatArray
    above: FloatArray  # x - low
    below: FloatArray  # high - x
    low_price: FloatArray
    high_price: FloatArray
    room: FloatArray  # r
    excess: FloatArray  # s
    price: FloatArray  # z
    spare_price: FloatArray  # q = p - z


@dataclass(frozen=True)
class _System:
    """The program with its transposed rows, and the matrix of its Newton steps."""

    program: Program
    matrix: NewtonMatrix
    flow_across: csr_array
    rows_across: csr_array
    pairs: int


@dataclass(frozen=True)
class _Slopes:
    """What the program says at a point."""

    objective: float
    gradient: FloatArray  # of the Lagrangian, bounds left out
    over: FloatArray  # A x - b
    products: float  # sum over all pairs


@dataclass(frozen=True)
class _Predicted:
    """The predictor: its matrix, and where the corrector shall go."""

    solve: Solve
    scale: FloatArray
    low_rate: FloatArray
    high_rate: FloatArray
    second: tuple[FloatArray, FloatArray, FloatArray, FloatArray]
    target: float


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
    across = csr_array(program.flow.T), csr_array(program.rows.T)
    pairs = 2 * (program.weight.size + program.limit_m.size)
    system = _System(program, matrix, *across, pairs)
    point = _start(system, first_m)
    best, best_gap, stalled, iteration = (point.x, point.price), np.inf, 0, 0
    for iteration in range(iteration_limit + 1):
        at = _slopes(system, point)
        wanted = relative_gap * objective_scale(program, at.objective)
        if at.products <= PROOF_FROM * wanted:
            gap = _proven_gap(program, point, at)
            stalled += 1
            if gap < best_gap:
                best, best_gap, stalled = (point.x.copy(), point.price.copy()), gap, 0
            if gap <= wanted or stalled > STALL_LIMIT:
                break
        if iteration == iteration_limit or not _advance(system, point, at):
            break
    return (*best, iteration) if np.isfinite(best_gap) else (point.x, point.price, iteration)


def _start(system: _System, first: FloatArray) -> _Point:
    """Point inside the bounds, with every product alike; the rows need not be kept yet."""
    program = system.program
    width = program.high_m - program.low_m
    x = np.clip(first, program.low_m + START_MARGIN * width, program.high_m - START_MARGIN * width)
    above, below = x - program.low_m, program.high_m - x
    gradient = system.flow_across @ (program.flow @ x + program.flow_offset_m) + program.weight * x
    product = float(np.mean(np.abs(gradient) * width)) + LEAST_PRODUCT_M2
    product *= ROWS_START if program.limit_m.size else BOUNDS_START
    spare = np.abs(program.limit_m - program.rows @ x)
    price = np.minimum(product / np.maximum(spare, START_ROOM_M), 0.5 * program.price_m)
    gradient += system.rows_across @ price
    return _Point(
        x=x,
        above=above,
        below=below,
        low_price=np.maximum(gradient, 0.0) + product / above,
        high_price=np.maximum(-gradient, 0.0) + product / below,
        room=product / price,
        excess=product / (program.price_m - price),
        price=price,
        spare_price=program.price_m - price,
    )


def _slopes(system: _System, point: _Point) -> _Slopes:
    program = system.program
    bend = program.flow @ point.x
    bend += program.flow_offset_m
    weighted = program.weight * point.x
    objective = program.constant_m2 + 0.5 * (ordered_dot(bend, bend) + ordered_dot(weighted, point.x))
    objective += ordered_dot(program.price_m, point.excess)
    gradient = system.flow_across @ bend
    gradient += weighted
    products = ordered_dot(point.above, point.low_price) + ordered_dot(point.below, point.high_price)
    over: FloatArray = np.zeros(0)
    if program.limit_m.size:
        gradient += system.rows_across @ point.price
        over = program.rows @ point.x
        over -= program.limit_m
        products += ordered_dot(point.room, point.price) + ordered_dot(point.excess, point.spare_price)
    return _Slopes(objective, gradient, over, products)


def _proven_gap(program: Program, point: _Point, at: _Slopes) -> float:
    """Gap of the point and its prices, as `certificate.certify` finds it."""
    gap = ordered_dot(np.maximum(at.gradient, 0.0), point.above) - ordered_dot(
        np.minimum(at.gradient, 0.0), point.below
    )
    if program.limit_m.size:
        gap += ordered_dot(program.price_m, np.maximum(at.over, 0.0)) - ordered_dot(point.price, at.over)
    return gap


def _advance(system: _System, point: _Point, at: _Slopes) -> bool:
    """One predictor and corrector step, in place; False where no step can be computed."""
    predicted = _predict(system, point, at)
    if predicted is None:
        return False
    dx, dz, changes = _correct(system, point, at, predicted)
    u, v, k, m = changes
    falls = (_fall(dx, point.above), _fall(-dx, point.below), _fall(k, point.room), _fall(m, point.excess))
    step = min(1.0, STEP_SHARE / max(*falls, STEP_SHARE))
    falls = (
        _fall(u, point.low_price),
        _fall(v, point.high_price),
        _fall(dz, point.price),
        _fall(-dz, point.spare_price),
    )
    price_step = min(1.0, STEP_SHARE / max(*falls, STEP_SHARE))
    if at.products < ALIKE_BELOW * at.objective:
        step = price_step = min(step, price_step)
    point.x += step * dx
    point.above += step * dx
    point.below -= step * dx
    point.room += step * k
    point.excess += step * m
    point.low_price += price_step * u
    point.high_price += price_step * v
    point.price += price_step * dz
    point.spare_price -= price_step * dz
    return True


def _predict(system: _System, point: _Point, at: _Slopes) -> _Predicted | None:
    """Step to products of 0; its second-order terms, and the product that the corrector aims at."""
    program, has_rows = system.program, system.program.limit_m.size > 0
    low_rate, high_rate = point.low_price / point.above, point.high_price / point.below
    scale = point.room / point.price
    scale += point.excess / point.spare_price
    np.reciprocal(scale, out=scale)
    solve = system.matrix.factorise(scale, low_rate + high_rate)
    if solve is None:
        return None
    right = -at.gradient
    if has_rows:
        right -= system.rows_across @ (scale * at.over)
    dx = solve(right)
    dz = scale * (program.rows @ dx + at.over) if has_rows else scale
    rates = (dx / point.above, -dx / point.below, dz / point.price, -dz / point.spare_price)
    step = 1.0 / max(1.0, *(_reach(rate) for rate in rates))
    second = 0.0
    factors = (point.low_price, point.high_price, point.room, point.excess)
    others = (point.above, point.below, point.price, point.spare_price)
    for rate, factor, other in zip(rates, factors, others, strict=True):
        rate *= 1.0 + rate
        rate *= factor
        second += ordered_dot(rate, other)
    after = (1.0 - step) * at.products - step * step * second
    centring = min(1.0, max(after / at.products, LEAST_CENTRING)) ** CENTRING_POWER
    target = centring * at.products / system.pairs
    return _Predicted(solve, scale, low_rate, high_rate, rates, target)


def _correct(
    system: _System, point: _Point, at: _Slopes, predicted: _Predicted
) -> tuple[FloatArray, FloatArray, tuple[FloatArray, FloatArray, FloatArray, FloatArray]]:
    """Find the changes of x, of the row prices, and of bound prices, room and excess."""
    u, v, k, m = predicted.second
    target, has_rows = predicted.target, system.program.limit_m.size > 0
    u += target / point.above
    v += target / point.below
    right = u - v
    right -= at.gradient
    pull = at.over
    if has_rows:
        k += target / point.price
        m += target / point.spare_price
        pull = k - m
        pull += at.over
        right -= system.rows_across @ (predicted.scale * pull)
    dx = predicted.solve(right)
    dz = predicted.scale
    if has_rows:
        dz = predicted.scale * (system.program.rows @ dx + pull)
        k -= point.room
        k -= point.room * (dz / point.price)
        m -= point.excess
        m += point.excess * (dz / point.spare_price)
    u -= point.low_price
    u -= predicted.low_rate * dx
    v -= point.high_price
    v += predicted.high_rate * dx
    return dx, dz, (u, v, k, m)


def _reach(rate: FloatArray) -> float:
    """Greatest of -rate and 1 + rate: one over the longest step."""
    return max(-float(rate.min()), 1.0 + float(rate.max())) if rate.size else 0.0


def _fall(change: FloatArray, value: FloatArray) -> float:
    """Greatest part of itself that a value loses."""
    return -float((change / value).min()) if value.size else 0.0
