"""Change of state: what tension a rail takes when it grows warmer or colder, creeps, or its ends give.

A pull is all the rail between two points that hold it. It slides over the posts between, so every span has
the same tension and the spans enter by two sums only: their length and their w^2 L^3 / 24.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

ROUNDS = 60
FEWEST = 3  # rounds before it is worth looking whether more are needed
LAST_STEP = 1e-15  # of the root: what is left is rounding
LEAST_SLOPE_N2 = 1e-300  # without sag and tension the root is 0 already


def sagging_tension_n(taut_n: ArrayLike, sag_n3: ArrayLike) -> Floats:
    """Tension of a rail of which part hangs in sag: the positive root of H - K / H^2 = C.

    Parameters
    ----------
    taut_n : array
        C: tension if the rail had no weight; below 0 where it would hang slack; shapes broadcast. [N]
    sag_n3 : array
        K: w^2 L^3 / 24 over the flexibility of the whole, 0 or more. [N3]

    Returns
    -------
    float array
        0 where K is 0 and C below 0; NaN where either is NaN. [N]

    Notes
    -----
    H^3 - C H^2 - K is convex beyond its only positive root, and the start is always beyond it: Newton
    comes down to the root from above and cannot overshoot.

    References
    ----------
    parabola-state.
    """
    taut, sag = np.broadcast_arrays(np.asarray(taut_n, np.float64), np.asarray(sag_n3, np.float64))
    slack = np.maximum(-taut, 0.0)
    by_slack = np.sqrt(np.divide(sag, slack, out=np.full(sag.shape, np.inf), where=slack > 0))
    root = np.maximum(taut, 0.0) + np.minimum(np.cbrt(sag), by_slack)
    for done in range(ROUNDS):
        slope = np.maximum(root * (3.0 * root - 2.0 * taut), LEAST_SLOPE_N2)
        step = (root**2 * (root - taut) - sag) / slope
        root = root - step
        if done >= FEWEST and not (np.abs(step) > LAST_STEP * root).any():
            break
    return np.asarray(root)


def pull_sums(
    span_m: ArrayLike, load_n_m: ArrayLike, span_start: NDArray[np.integer]
) -> tuple[Floats, Floats, Floats]:
    """Length, sag sum and greatest w L^2 / 8 of each pull.

    Parameters
    ----------
    span_m : array (spans,)
        Chords from post to post, pull after pull. [m]
    load_n_m : array (spans,) or float
        Load across the chord: weight, with wind or ice where asked. [N/m]
    span_start : int array (pulls + 1,)
        Where each pull's spans begin; a pull may be empty.

    Returns
    -------
    length_m, sag_n2m, sag_moment_nm : float arrays (pulls,)
        Sum of L [m], sum of w^2 L^3 / 24 [N2 m], greatest w L^2 / 8 [N m]: the last over a tension is the
        deepest sag of the pull. All 0 for an empty pull.

    Notes
    -----
    O(spans), once a design.
    """
    span = np.asarray(span_m, np.float64)
    load = np.broadcast_to(np.asarray(load_n_m, np.float64), span.shape)
    columns = (span, load**2 * span**3 / 24.0)
    sums = [_over_pulls(np.add, column, span_start) for column in columns]
    return sums[0], sums[1], _over_pulls(np.maximum, load * span**2 / 8.0, span_start)


def _over_pulls(fold: np.ufunc, column: Floats, start: NDArray[np.integer]) -> Floats:
    """Fold a column over each pull's rows; 0 for an empty pull."""
    result = np.zeros(len(start) - 1)
    filled = start[1:] > start[:-1]
    if filled.any():
        result[filled] = fold.reduceat(column, start[:-1][filled])
    return result


@dataclass(frozen=True, slots=True)
class PullModel:
    """What a change of state needs of each pull; every column of shape (pulls,).

    Attributes
    ----------
    length_m, sag_n2m : float array
        `pull_sums`. [m], [N2 m]
    stiffness_n : float array
        E A of the rail. [N]
    expansion_per_c : float array
        Of the rail. [1/C]
    end_yield_m_n : float array
        Movement of both ends together for one newton of this rail: the sum of 1 / stiffness. 0 if held. [m/N]
    """

    length_m: Floats
    sag_n2m: Floats
    stiffness_n: Floats
    expansion_per_c: Floats
    end_yield_m_n: Floats

    @property
    def flexibility_m_n(self) -> Floats:
        """Movement for one newton: the rail's own stretch and the ends' giving. [m/N]"""
        return np.asarray(self.length_m / self.stiffness_n + self.end_yield_m_n)


def tension_after_n(
    pulls: PullModel,
    tension_n: ArrayLike,
    warmer_c: ArrayLike,
    slack_m: ArrayLike = 0.0,
    sag_after_n2m: ArrayLike | None = None,
) -> Floats:
    """Tension of each pull once it has grown warmer, or given way.

    Parameters
    ----------
    pulls : PullModel
        Columns of shape (pulls,).
    tension_n : array (pulls,) or float
        Before, above 0. [N]
    warmer_c : array (pulls, states) or (states,) or float
        Rise of the rail's temperature, below 0 when colder. [C]
    slack_m : array (pulls, states) or (states,) or float
        Rail gained since: creep strain x length, settlement of posts. Below 0 for a re-pull. [m]
    sag_after_n2m : array (pulls,), optional
        Sag sum after, where the load has changed too (wind, ice); the same as before unless given. [N2 m]

    Returns
    -------
    float array (pulls, states)
        Falls with every degree. NaN for a pull without length. [N]

    Notes
    -----
    f (H2 - H1) = K2 / H2^2 - K1 / H1^2 - alpha L dT - slack, with f = L / EA + end yield and K the sum of
    w^2 L^3 / 24: the parabola's equation, for a chain of spans that slides free of friction. It leaves out
    products of two strains: against the exact catenary one part in a thousand of the tension at 40 C. For
    a sloping span take chord, tension along the chord and the load across it. O(pulls x states).

    References
    ----------
    parabola-state.
    """
    before = np.asarray(tension_n, np.float64)
    warmer, slack = np.asarray(warmer_c, np.float64), np.asarray(slack_m, np.float64)
    sag_after = pulls.sag_n2m if sag_after_n2m is None else np.asarray(sag_after_n2m, np.float64)
    grown = np.atleast_1d(_column(pulls.expansion_per_c * pulls.length_m) * warmer + slack)
    flexible = np.where(pulls.length_m > 0, pulls.flexibility_m_n, np.nan)
    taut_before = before - pulls.sag_n2m / (flexible * before**2)
    taut = _column(taut_before) - grown / _column(flexible)
    return sagging_tension_n(taut, _column(sag_after / flexible))


def tension_change_n_per_c(pulls: PullModel, tension_n: ArrayLike) -> Floats:
    """Tension lost for a degree of warming, at a tension; array (pulls,). [N/C]

    Notes
    -----
    alpha L / (f + 2 K / H^3): EA alpha for a taut rail between fixed ends.

    References
    ----------
    parabola-state.
    """
    sagging = 2.0 * pulls.sag_n2m / np.asarray(tension_n, np.float64) ** 3
    return np.asarray(pulls.expansion_per_c * pulls.length_m / (pulls.flexibility_m_n + sagging))


def slack_for_tension_m(
    pulls: PullModel, tension_n: ArrayLike, wanted_n: ArrayLike, warmer_c: ArrayLike = 0.0
) -> Floats:
    """Rail to be let out to come from one tension to another, below 0 to be taken in; array (pulls,). [m]

    Parameters
    ----------
    pulls : PullModel
        Columns of shape (pulls,).
    tension_n, wanted_n : array (pulls,) or float
        Before and after, above 0. [N]
    warmer_c : array (pulls,) or float
        Rise of temperature between. [C]

    Notes
    -----
    The same equation as `tension_after_n`, read for the slack: the size of a re-pull.
    """
    before, after = np.asarray(tension_n, np.float64), np.asarray(wanted_n, np.float64)
    sag = pulls.sag_n2m * (1.0 / after**2 - 1.0 / before**2)
    grown = pulls.expansion_per_c * pulls.length_m * np.asarray(warmer_c, np.float64)
    return np.asarray(sag - grown - pulls.flexibility_m_n * (after - before))


def _column(values: ArrayLike) -> Floats:
    """Values a pull as a column, so that states run along the row."""
    return np.atleast_1d(np.asarray(values, np.float64))[:, np.newaxis]
