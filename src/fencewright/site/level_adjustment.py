"""Least-squares adjustment of tape-and-level notes: place, height and standard deviation of each point."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import InputError
from fencewright.site.ground_precision import GroundPrecision
from fencewright.site.level_notes import LevelNotes, Traverse, traverse
from fencewright.site.level_places import came_from, first_places_m

FloatArray = NDArray[np.float64]

MOST_POINTS = 2000
_ORIENTATION_SD_RAD = 1e-7  # holds a direction that nobody measured; far below any that somebody did


@dataclass(frozen=True, slots=True)
class AdjustedNotes:
    """The points of a survey after adjustment.

    Parameters
    ----------
    file : str
        Name of the notes' file.
    names : tuple of str
        Names of the points, in the order in which the notes name them.
    place_m, sd_m : float array (points, 3)
        x, y, z of each point and their standard deviations; a given value has zero. [m]
    legs : int array (legs, 2)
        Pairs of points between which ground was walked with tape and level (rise and length read).
    misfit_plan, misfit_height : float
        How large the residuals are against what tape, level and compass promise (1: as promised);
        NaN where nothing is measured more than once.
    assumed : str
        What was assumed because it was not measured; empty where nothing.
    closure : Traverse
        The traverse and its misclosures before adjustment.
    """

    file: str
    names: tuple[str, ...]
    place_m: FloatArray
    sd_m: FloatArray
    legs: NDArray[np.intp]
    misfit_plan: float
    misfit_height: float
    assumed: str
    closure: Traverse


def adjust_level_notes(notes: LevelNotes, precision: GroundPrecision) -> AdjustedNotes:
    """Adjust notes by weighted least squares: heights first, then the plan.

    Parameters
    ----------
    notes : LevelNotes
        The notes, at most 2,000 points.
    precision : GroundPrecision
        Standard deviations of tape, level and bearings.

    Returns
    -------
    AdjustedNotes
        With no point given, the first is at 0, 0, 0.

    Raises
    ------
    InputError
        A point is not tied in by rises, or its place is not fixed by lengths and angles; too many points.

    Notes
    -----
    Heights are linear in the rises. In plan, slope lengths are reduced with the adjusted heights and
    solved together with bearings and turned angles by Gauss-Newton. Standard deviations come from the
    inverse normal matrix, enlarged where residuals are larger than the instruments promise. Dense:
    O(points^3).

    References
    ----------
    Least-squares adjustment of observations: textbook, from memory.
    """
    names = tuple(dict.fromkeys(name for leg in notes.legs for name in (leg.from_point, leg.to_point)))
    if len(names) > MOST_POINTS:
        raise InputError(
            f"holds {len(names):,} points, more than {MOST_POINTS:,}: divide the survey", file=notes.file
        )
    index = {name: number for number, name in enumerate(names)}
    z_m, z_sd_m, misfit_height = _heights(notes, index, precision)
    start_m, held, assumed = first_places_m(notes, index, z_m)
    plan_m, plan_sd_m, misfit_plan = _plan(notes, index, z_m, start_m, held, precision)
    walked = [
        (index[leg.from_point], index[leg.to_point])
        for leg in notes.legs
        if not math.isnan(leg.rise_m) and not math.isnan(leg.slope_length_m)
    ]
    return AdjustedNotes(
        notes.file,
        names,
        np.column_stack([plan_m, z_m]),
        np.column_stack([plan_sd_m, z_sd_m]),
        np.array(walked, dtype=np.intp).reshape(-1, 2),
        misfit_plan,
        misfit_height,
        assumed,
        traverse(notes),
    )


def _heights(
    notes: LevelNotes, index: dict[str, int], precision: GroundPrecision
) -> tuple[FloatArray, FloatArray, float]:
    """Adjust the rises: heights, standard deviations, misfit."""
    legs = [leg for leg in notes.legs if not math.isnan(leg.rise_m)]
    height_m = np.full(len(index), np.nan)
    for name, place in notes.known_m.items():
        if name in index:
            height_m[index[name]] = place[2]
    if np.isnan(height_m).all():
        height_m[0] = 0.0
    start = np.array([index[leg.from_point] for leg in legs], dtype=np.intp)
    stop = np.array([index[leg.to_point] for leg in legs], dtype=np.intp)
    _need_tied(notes, index, np.isfinite(height_m), start, stop)
    free = np.flatnonzero(np.isnan(height_m))
    column = np.full(len(index), -1)
    column[free] = np.arange(len(free))
    design = np.zeros((len(legs), len(index)))
    design[np.arange(len(legs)), stop] += 1.0
    design[np.arange(len(legs)), start] -= 1.0
    held_m = np.nan_to_num(height_m)
    over_m = np.array([leg.rise_m for leg in legs]) - design @ held_m
    solved_m, sd_m, misfit = _solve(design[:, free] / precision.level_sd_m, over_m / precision.level_sd_m)
    result_sd_m = np.zeros(len(index))
    held_m[free], result_sd_m[free] = solved_m, sd_m
    return held_m, result_sd_m, misfit


def _need_tied(
    notes: LevelNotes,
    index: dict[str, int],
    known: NDArray[np.bool_],
    start: NDArray[np.intp],
    stop: NDArray[np.intp],
) -> None:
    """Refuse notes with a point that no chain of rises joins to a known height."""
    reached, before = known.copy(), -1
    while reached.sum() != before:
        before = int(reached.sum())
        tied = reached[start] | reached[stop]
        reached[start[tied]] = True
        reached[stop[tied]] = True
    if not reached.all():
        name = list(index)[int(np.flatnonzero(~reached)[0])]
        raise InputError(
            f'no rise ties point "{name}" to the others: read one, or leave the point out', file=notes.file
        )


def _solve(design: FloatArray, over: FloatArray) -> tuple[FloatArray, FloatArray, float]:
    """Solve weighted observation equations; give values, standard deviations and misfit."""
    spare = len(over) - design.shape[1]
    if not design.shape[1]:
        misfit = float(np.sqrt(np.mean(over**2))) if spare > 0 else math.nan
        return np.zeros(0), np.zeros(0), misfit
    left, singular, right = np.linalg.svd(design, full_matrices=False)
    if spare < 0 or singular[-1] < 1e-9 * singular[0]:
        raise np.linalg.LinAlgError("not fixed")
    value = right.T @ ((left.T @ over) / singular)
    residual = over - design @ value
    misfit = float(np.sqrt(residual @ residual / spare)) if spare > 0 else math.nan
    sd = np.sqrt(np.sum((right.T / singular) ** 2, axis=1)) * max(1.0, misfit if spare > 0 else 1.0)
    return value, sd, misfit


def _plan(
    notes: LevelNotes,
    index: dict[str, int],
    z_m: FloatArray,
    start_m: FloatArray,
    held: NDArray[np.bool_],
    precision: GroundPrecision,
) -> tuple[FloatArray, FloatArray, float]:
    """Adjust lengths and angles from the first places by Gauss-Newton."""
    plan_m = start_m.copy()
    free = np.flatnonzero(np.repeat(~held, 2))
    sd_m = np.zeros(2 * len(index))
    misfit = math.nan
    try:
        for _ in range(50):
            design, over = _plan_equations(notes, index, z_m, plan_m, held, precision)
            step_m, step_sd_m, misfit = _solve(design[:, free], over)
            plan_m.reshape(-1)[free] += step_m
            sd_m[free] = step_sd_m
            if not len(free) or np.abs(step_m).max() < 1e-9:
                return plan_m, sd_m.reshape(-1, 2), misfit
    except np.linalg.LinAlgError as error:
        raise InputError(
            "lengths and angles do not fix every point: add a bearing or a diagonal", file=notes.file
        ) from error
    raise InputError("lengths and angles contradict each other: check them for a blunder", file=notes.file)


class _Equations:
    """Weighted observation equations in the places of points, gathered one by one."""

    def __init__(self, plan_m: FloatArray) -> None:
        self.plan_m = plan_m
        self.rows: list[FloatArray] = []
        self.over: list[float] = []

    def _add(self, parts: list[tuple[int, FloatArray]], over: float, sd: float) -> None:
        row = np.zeros(self.plan_m.size)
        for point, slope in parts:
            row[2 * point : 2 * point + 2] += slope
        self.rows.append(row / sd)
        self.over.append(over / sd)

    def _way(self, a: int, b: int) -> tuple[FloatArray, float, float]:
        """Give the unit vector from a to b, the distance and the azimuth."""
        way = self.plan_m[b] - self.plan_m[a]
        apart_m = max(float(np.hypot(way[0], way[1])), 1e-9)
        return way / apart_m, apart_m, math.atan2(way[0], way[1])

    def length(self, a: int, b: int, length_m: float, sd_m: float) -> None:
        """Observe a plan length from a to b."""
        unit, apart_m, _ = self._way(a, b)
        self._add([(b, unit), (a, -unit)], length_m - apart_m, sd_m)

    def azimuth(self, a: int, b: int, azimuth_rad: float, sd_rad: float) -> None:
        """Observe the azimuth from a to b; NaN holds the present one."""
        unit, apart_m, present_rad = self._way(a, b)
        turn = np.array([unit[1], -unit[0]]) / apart_m
        over_rad = 0.0 if math.isnan(azimuth_rad) else _wrapped(azimuth_rad - present_rad)
        self._add([(b, turn), (a, -turn)], over_rad, sd_rad)

    def turned(self, before: int, a: int, b: int, turn_rad: float, sd_rad: float) -> None:
        """Observe the angle turned to the right at a, coming from before and going to b."""
        come, come_m, come_rad = self._way(before, a)
        go, go_m, go_rad = self._way(a, b)
        back, turn = np.array([come[1], -come[0]]) / come_m, np.array([go[1], -go[0]]) / go_m
        self._add(
            [(b, turn), (a, -turn - back), (before, back)], _wrapped(turn_rad - (go_rad - come_rad)), sd_rad
        )


def _plan_equations(
    notes: LevelNotes,
    index: dict[str, int],
    z_m: FloatArray,
    plan_m: FloatArray,
    held: NDArray[np.bool_],
    precision: GroundPrecision,
) -> tuple[FloatArray, FloatArray]:
    """Give weighted observation equations (observations, 2 points) about the present places."""
    equations = _Equations(plan_m)
    taped = [
        (leg, before)
        for leg, before in zip(notes.legs, came_from(notes), strict=True)
        if not math.isnan(leg.slope_length_m)
    ]
    for leg, before in taped:
        a, b = index[leg.from_point], index[leg.to_point]
        plan_length_m = math.sqrt(max(leg.slope_length_m**2 - (z_m[b] - z_m[a]) ** 2, 1e-12))
        tape_sd_m = math.hypot(precision.tape_sd_m, precision.tape_sd_ratio * leg.slope_length_m)
        equations.length(a, b, plan_length_m, tape_sd_m * leg.slope_length_m / plan_length_m)
        sd_rad = precision.transit_sd_rad if leg.is_fine else precision.compass_sd_rad
        if not math.isnan(leg.azimuth_rad):
            equations.azimuth(a, b, leg.azimuth_rad, sd_rad)
        if not math.isnan(leg.turn_rad) and before:
            equations.turned(index[before], a, b, leg.turn_rad, sd_rad)
    if int(held.sum()) < 2 and all(math.isnan(leg.azimuth_rad) for leg, _ in taped):
        leg = taped[0][0]
        equations.azimuth(index[leg.from_point], index[leg.to_point], math.nan, _ORIENTATION_SD_RAD)
    return np.array(equations.rows).reshape(-1, plan_m.size), np.array(equations.over)


def _wrapped(angle_rad: float) -> float:
    return (angle_rad + math.pi) % (2.0 * math.pi) - math.pi
