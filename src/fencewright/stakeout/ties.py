"""Tape ties from two reference points: their lengths, how they cross, and how well they place a stake."""

from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from fencewright.job.stake_out_settings import StakeOutSettings
from fencewright.tables.stake_out import TIES, References

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_GOOD, _SHARP, _FLAT, _LONG = (TIES.index(name) for name in ("good", "too sharp", "too flat", "too long"))
_WORSE = 1e9  # a pair with a fault is taken only where every pair has one: longer than any tie


@dataclass(frozen=True, slots=True, eq=False)
class Ties:
    """Ties of each stake; columns as of `Stakes`."""

    tie_reference: Ints
    tie_m: Floats
    slope_tie_m: Floats
    tie_side: Ints
    tie_angle_rad: Floats
    tie_state: Ints
    position_sd_m: Floats
    major_sd_m: Floats
    minor_sd_m: Floats
    major_heading_rad: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Targets:
    """Points that are tied: `x_m`, `y_m`, `ground_m` and its `ground_sd_m`, (stakes,) each [m]."""

    x_m: Floats
    y_m: Floats
    ground_m: Floats
    ground_sd_m: Floats


def no_ties(count: int) -> Ties:
    """Ties of stakes where no reference point is given: none."""
    unknown = np.full(count, np.nan)
    nought = np.zeros(count, np.int64)
    pair = np.full((count, 2), np.nan)
    return Ties(np.full((count, 2), -1), pair, pair.copy(), nought, unknown, nought.copy(), *([unknown] * 4))


def tie_stakes(targets: Targets, references: References, settings: StakeOutSettings) -> Ties:
    """Tie each stake to the two reference points that place it best.

    Parameters
    ----------
    targets : Targets
        The stakes.
    references : References
        Two or more points.
    settings : StakeOutSettings
        The tape's error and length, and the angles at which ties cross well.

    Returns
    -------
    Ties
        A pair whose ties cross well and reach comes before one that does not; then the least standard deviation.
        Where the two ties lie in one line the position has none: infinite.

    Notes
    -----
    With d1, d2 level, u1, u2 from the references to the stake, and g the angle between them, a change of the stake's
    place e gives u1 e = dd1, u2 e = dd2. Errors of standard deviation s1, s2 then give

        s^2 = sx^2 + sy^2 = (s1^2 + s2^2) / sin^2 g,
        axes^2 = (s^2 +- sqrt(s^4 - 4 s1^2 s2^2 / sin^2 g)) / 2.

    A tape on the slope of length t over a rise h gives d = sqrt(t^2 - h^2), so sd^2 = (t/d)^2 st^2 + (h/d)^2 sh^2, with
    st^2 = fixed part^2 + (share t)^2. Errors of the reference points themselves are left out: they move the fence as
    a whole. O(stakes x pairs of references).

    References
    ----------
    .. [1] error-propagation, two distances
    """
    best: Ties | None = None
    score = np.full(len(targets.x_m), np.inf)
    for pair in combinations(range(len(references)), 2):
        made = _tie(targets, references, pair, settings)
        far = made.tie_m.max(axis=1, initial=0.0)
        cost = np.where(np.isfinite(made.position_sd_m), made.position_sd_m, _WORSE) + far * 1e-12
        cost += np.where(made.tie_state == _GOOD, 0.0, _WORSE) + np.where(
            made.tie_state == _LONG, far * _WORSE, 0.0
        )
        if best is None:
            best, score = made, cost
            continue
        better = cost < score
        best, score = _chosen(better, made, best), np.where(better, cost, score)
    return best if best is not None else no_ties(len(targets.x_m))


def _chosen(is_first: NDArray[np.bool_], first: Ties, second: Ties) -> Ties:
    """Ties of the first pair where it is better, else of the second."""
    picked = []
    for name in Ties.__slots__:
        one, other = getattr(first, name), getattr(second, name)
        picked.append(np.where(is_first[:, None] if one.ndim == 2 else is_first, one, other))
    return Ties(*picked)


def _tie(targets: Targets, references: References, pair: tuple[int, int], settings: StakeOutSettings) -> Ties:
    """Ties from one pair of references."""
    rows = np.array(pair)
    dx = targets.x_m[:, None] - references.x_m[rows]
    dy = targets.y_m[:, None] - references.y_m[rows]
    level = np.hypot(dx, dy)
    rise = targets.ground_m[:, None] - references.ground_m[rows]
    rise_sd = np.hypot(targets.ground_sd_m[:, None], references.ground_sd_m[rows])
    slope = np.hypot(level, rise)
    sd = _level_sd(level, rise, rise_sd, settings)
    angle = np.abs(
        np.arctan2(dx[:, 0] * dy[:, 1] - dy[:, 0] * dx[:, 1], (dx * dx[:, ::-1] + dy * dy[:, ::-1])[:, 0])
    )
    base = (
        references.x_m[rows[1]] - references.x_m[rows[0]],
        references.y_m[rows[1]] - references.y_m[rows[0]],
    )
    side = np.sign(np.round(base[0] * dy[:, 0] - base[1] * dx[:, 0], 9)).astype(np.int64)
    state = np.full(len(level), _GOOD)
    state[angle < settings.tie_angle_least_rad] = _SHARP
    state[angle > settings.tie_angle_most_rad] = _FLAT
    taped = np.where(np.isfinite(slope), slope, level)
    state[taped.max(axis=1, initial=0.0) > settings.tape_length_m] = _LONG
    return Ties(
        np.broadcast_to(rows, level.shape).copy(),
        level,
        slope,
        side,
        angle,
        state,
        *_ellipse(dx, dy, level, sd),
    )


def _level_sd(level: Floats, rise: Floats, rise_sd: Floats, settings: StakeOutSettings) -> Floats:
    """Standard deviation of the level distance that a tape on the slope gives; level where no height is known. [m]"""
    rise = np.where(np.isfinite(rise), rise, 0.0)
    rise_sd = np.where(np.isfinite(rise_sd), rise_sd, 0.0)
    taped = np.hypot(level, rise)
    tape_sd = np.hypot(settings.tape_sd_m, settings.tape_share * taped)
    safe = np.maximum(level, 1e-9)
    return np.asarray(np.hypot(taped * tape_sd, rise * rise_sd) / safe)


def _ellipse(dx: Floats, dy: Floats, level: Floats, sd: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """Standard deviation of the position, half axes of its ellipse [m], direction of the longer one [rad]."""
    safe = np.maximum(level, 1e-9)
    ux, uy = dx / safe, dy / safe
    sine2 = (ux[:, 0] * uy[:, 1] - uy[:, 0] * ux[:, 1]) ** 2
    # an error of one tie moves the stake square to the other tie
    var = sd[:, ::-1] ** 2
    is_placed = sine2 > 1e-18
    part = np.divide(1.0, sine2, out=np.full_like(sine2, np.inf), where=is_placed)
    xx, yy = (var * uy**2).sum(axis=1), (var * ux**2).sum(axis=1)
    xy = -(var * ux * uy).sum(axis=1)
    half = np.hypot((xx - yy) / 2, xy)
    major2 = (xx + yy) / 2 + half
    minor2 = sine2 * sd[:, 0] ** 2 * sd[:, 1] ** 2 / np.maximum(major2, 1e-300)
    heading = np.arctan2(2 * xy, xx - yy) / 2
    with np.errstate(invalid="ignore"):
        return (
            np.sqrt(sd[:, 0] ** 2 + sd[:, 1] ** 2) * np.sqrt(part),
            np.sqrt(major2) * np.sqrt(part),
            np.sqrt(np.where(is_placed, minor2 * part, (sd**2).min(axis=1))),
            heading,
        )
