"""Interior-point method for the program: predictor and corrector on one band factorisation.

Each row a'x - s <= b with price p has two pairs: its room r = b - a'x + s with the row's price z, and
its excess s with q = p - z; each bound has the distance to it and its price. All stay above 0, and the
sum of the products is driven to 0. O(unknowns + rows) an iteration; stops on counts and tolerances.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import csc_array, csr_array

from fencewright.tables.top_line import FloatArray
from fencewright.topline.certificate import objective_scale, ordered_dot
from fencewright.topline.newton import NewtonMatrix, Solve
from fencewright.topline.pairs import Pairs, aimed, follow, move, paired, predict, products_of, stiffness
from fencewright.topline.program import Program, stacked

#: Part of the way to the nearest bound that a step goes.
STEP_SHARE = 0.999
#: Point and prices step alike once the products are below this part of the objective: apart they are
#: quicker at first, but leave a residual that the proof cannot bear at the end.
ALIKE_BELOW = 1e-5
#: The first point bends to the middle of its bounds by a spring of this stiffness, and keeps this part of each
#: bound's width from it.
START_SPRING, START_MARGIN = 100.0, 0.2
#: First product over the mean of what is at stake: gradient times width at a bound, cost of the rows broken at first;
#: without rows, and with.
FIRST_PRODUCT, FIRST_PRODUCT_ROWS = 1.0, 100.0
#: First product where nothing is at stake. [m2]
LEAST_PRODUCT_M2 = 1e-12
#: The corrector aims at the predicted part of the products to this power, and not below this part.
CENTRING_POWER, LEAST_CENTRING = 4, 1e-4
#: Nor below this part of the gap that is wanted: products far smaller only cost the balance of prices its digits.
LEAST_OF_WANTED = 0.1
#: The gap is proven from where the products are this many times what is wanted.
PROOF_FROM = 1e4
#: Iterations that may pass without a better proof.
STALL_LIMIT = 3


@dataclass(frozen=True)
class _System:
    """The program, the matrix of its Newton steps, and its flow and rows together, straight and transposed.

    One product with both costs little more than one with either: at most sizes a sparse product is mostly its call.
    """

    program: Program
    matrix: NewtonMatrix
    both: csr_array
    both_across: csc_array
    rows_across: csc_array


@dataclass(frozen=True)
class _Point:
    """State of the iteration; all arrays change in place.

    Of a bound the distance drives (it moves with x) and its price follows; of a row the price drives,
    and its room (b - A x + s) or excess (s) follows. `bend_over` holds D x + d and A x - b.
    """

    x: FloatArray
    bend_over: FloatArray
    bounds: Pairs
    rows: Pairs

    @property
    def price(self) -> FloatArray:
        prices: FloatArray = self.rows.driver[0]
        return prices


def interior_point(
    program: Program, matrix: NewtonMatrix, relative_gap: float, iteration_limit: int
) -> tuple[FloatArray, FloatArray, int]:
    """Solve the program.

    Parameters
    ----------
    program : Program
        Every bound has width, every row a price above 0.
    matrix : NewtonMatrix
        Of the same program.
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
    Mehrotra's predictor-corrector, from a point that keeps rows, bounds and the balance of prices. It stops early
    where the proven gap no longer falls: the certificate then says what was reached.
    """
    both = stacked(program.flow, program.rows)
    system = _System(program, matrix, both, both.T, program.rows.T)
    point = _start(system)
    products = products_of(point.bounds) + products_of(point.rows)
    best, best_gap, stalled, iteration = (point.x, point.price), np.inf, 0, 0
    for iteration in range(iteration_limit + 1):
        objective = _objective(system, point)
        wanted = relative_gap * objective_scale(program, objective)
        if products <= PROOF_FROM * wanted:
            gap = _proven_gap(system, point)
            stalled += 1
            if gap < best_gap:
                best, best_gap, stalled = (point.x.copy(), point.price.copy()), gap, 0
            if gap <= wanted or stalled > STALL_LIMIT:
                break
        if iteration == iteration_limit:
            break
        advanced = _advance(system, point, products, wanted, is_alike=products < ALIKE_BELOW * objective)
        if advanced is None:
            break
        products = advanced
    return (*best, iteration) if np.isfinite(best_gap) else (point.x, point.price, iteration)


def _start(system: _System) -> _Point:
    """Point inside the bounds that keeps rows and the balance of prices, with products of one size."""
    program = system.program
    width, middle = program.high_m - program.low_m, 0.5 * (program.high_m + program.low_m)
    solve = system.matrix.factorise(np.zeros(program.limit_m.size), np.full(middle.size, START_SPRING))
    sprung = START_SPRING * middle - program.flow.T @ program.flow_offset_m
    x = middle if solve is None else solve(sprung)
    x = np.clip(x, program.low_m + START_MARGIN * width, program.high_m - START_MARGIN * width)
    bend_over = system.both @ x
    bend_over += np.concatenate([program.flow_offset_m, -program.limit_m])
    bend, over = np.split(bend_over, [program.flow_offset_m.size])
    gradient = program.flow.T @ bend + program.weight * x
    product = FIRST_PRODUCT * float(np.mean(np.abs(gradient) * width)) + LEAST_PRODUCT_M2
    if over.size:
        product += float(np.mean(program.price_m * np.maximum(over, 0.0)))
        product *= FIRST_PRODUCT_ROWS
    price, spare = _central_prices(over, program.price_m, product)
    gradient += system.rows_across @ price
    above, below = x - program.low_m, program.high_m - x
    pressed = product / np.maximum(above, below)
    bound_prices = np.maximum(gradient, 0.0) + pressed, np.maximum(-gradient, 0.0) + pressed
    rows = paired((price, spare), (product / price, product / spare))
    return _Point(x, bend_over, paired((above, below), bound_prices), rows)


def _central_prices(over: FloatArray, price: FloatArray, product: float) -> tuple[FloatArray, FloatArray]:
    """Prices z and p - z at which room and excess have this product and differ by what the row is over its limit.

    Notes
    -----
    product / z - product / (p - z) = -over, a quadratic in z; each root is taken where nothing cancels.
    """
    root = np.hypot(over * price, 2.0 * product)
    price_over = np.abs(over) * price
    lesser = 2.0 * product * price / (2.0 * product + price_over + root)
    greater = price - lesser
    return np.where(over > 0.0, greater, lesser), np.where(over > 0.0, lesser, greater)


def _objective(system: _System, point: _Point) -> float:
    program = system.program
    bend = point.bend_over[: program.flow_offset_m.size]
    objective = program.constant_m2 + 0.5 * ordered_dot(bend, bend)
    objective += 0.5 * ordered_dot(program.weight * point.x, point.x)
    return objective + ordered_dot(program.price_m, point.rows.follower[1])


def _proven_gap(system: _System, point: _Point) -> float:
    """Gap of the point and its prices, as `certificate.certify` finds it."""
    program = system.program
    bend, over = np.split(point.bend_over, [program.flow_offset_m.size])
    slope = system.both_across @ np.concatenate([bend, point.price])
    slope += program.weight * point.x
    above, below = point.bounds.driver
    gap = ordered_dot(np.maximum(slope, 0.0), above) - ordered_dot(np.minimum(slope, 0.0), below)
    return gap + ordered_dot(program.price_m, np.maximum(over, 0.0)) - ordered_dot(point.price, over)


def _advance(
    system: _System, point: _Point, products: float, wanted: float, *, is_alike: bool
) -> float | None:
    """One predictor and corrector step, in place: the sum of products after it, None where none can be computed."""
    scale = 1.0 / stiffness(point.rows)
    solve = system.matrix.factorise(scale, stiffness(point.bounds))
    if solve is None:
        return None
    right = _right(system, point, scale)
    aim = max(_predict(system, point, products, solve, scale, right), LEAST_OF_WANTED * wanted)
    target = aim / (2 * (point.x.size + point.price.size))
    dx, dz, bend_over = _correct(system, point, solve, scale, right, target)
    x_fall, bound_price_fall = follow(point.bounds, dx)
    price_fall, room_fall = follow(point.rows, dz)
    step = min(1.0, STEP_SHARE / max(x_fall, room_fall, STEP_SHARE))
    price_step = min(1.0, STEP_SHARE / max(bound_price_fall, price_fall, STEP_SHARE))
    if is_alike:
        step = price_step = min(step, price_step)
    products = move(point.bounds, dx, step, price_step) + move(point.rows, dz, price_step, step)
    for state, change in ((point.x, dx), (point.bend_over, bend_over)):
        change *= step
        state += change
    return products


def _right(system: _System, point: _Point, scale: FloatArray) -> FloatArray:
    """Right-hand side of a step to products of 0: minus the gradient, the rows at their prices after the step."""
    flows = system.program.flow_offset_m.size
    pull = point.bend_over.copy()
    pull[flows:] *= scale
    pull[flows:] += point.price
    right = system.both_across @ pull
    right += system.program.weight * point.x
    np.negative(right, out=right)
    return right


def _predict(
    system: _System, point: _Point, products: float, solve: Solve, scale: FloatArray, right: FloatArray
) -> float:
    """Step to products of 0: the sum of products to aim at; the step's second order stays in the pairs."""
    dx = solve(right.copy())
    dz = system.program.rows @ dx
    dz += point.bend_over[system.program.flow_offset_m.size :]
    dz *= scale
    ahead = predict(point.bounds, dx), predict(point.rows, dz)
    step = 1.0 / max(1.0, *(reach for reach, _ in ahead))
    after = (1.0 - step) * products - step * step * sum(second for _, second in ahead)
    centring = min(1.0, max(after / products, LEAST_CENTRING)) ** CENTRING_POWER
    return centring * products


def _correct(
    system: _System, point: _Point, solve: Solve, scale: FloatArray, right: FloatArray, target: float
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Find the changes of x, of the row prices, and of D x + d and A x - b."""
    right += aimed(point.bounds, target)
    pull = aimed(point.rows, target)
    if scale.size:
        right -= system.rows_across @ (scale * pull)
    dx = solve(right)
    bend_over = system.both @ dx
    flows = system.program.flow_offset_m.size
    pull += point.bend_over[flows:]
    pull += bend_over[flows:]
    pull *= scale
    return dx, pull, bend_over
