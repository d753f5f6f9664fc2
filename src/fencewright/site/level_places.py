"""First places for the points of a tape-and-level survey: by bearings, turned angles and crossed lengths."""

import math

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import InputError
from fencewright.site.level_notes import Leg, LevelNotes

FloatArray = NDArray[np.float64]
Places = dict[str, FloatArray]


def came_from(notes: LevelNotes) -> tuple[str, ...]:
    """Give for each leg the point before its start, from which a turned angle counts; empty where none."""
    arrival: dict[str, str] = {}
    before = []
    for leg in notes.legs:
        before.append(arrival.get(leg.from_point, ""))
        if not leg.is_tie:
            arrival[leg.to_point] = leg.from_point
    return tuple(before)


def first_places_m(
    notes: LevelNotes, index: dict[str, int], z_m: FloatArray
) -> tuple[FloatArray, NDArray[np.bool_], str]:
    """Place every point roughly, so that an adjustment can start.

    Parameters
    ----------
    notes : LevelNotes
        The notes.
    index : dict of str to int
        Row of each point.
    z_m : float array (points,)
        Adjusted heights, by which slope lengths are reduced. [m]

    Returns
    -------
    place_m : float array (points, 2)
        [m]
    is_held : bool array (points,)
        Points whose place is given, or assumed (the first).
    assumed : str
        What was assumed because nobody measured it; empty where nothing.

    Raises
    ------
    InputError
        A point is not fixed by two lengths or by a length and an angle.
    """
    places: Places = {
        name: np.array(place[:2]) for name, place in notes.known_m.items() if name in index
    } or {notes.legs[0].from_point: np.zeros(2)}
    held = np.array([name in places for name in index])
    lengths_m = _lengths_m(notes, index, z_m)
    before = came_from(notes)
    assumed = ""
    while len(places) < len(index):
        if _place_by_angle(notes, places, lengths_m, before):
            continue
        if len(places) == 1:
            assumed = _place_first_leg(notes, places, lengths_m)
            continue
        if _place_by_lengths(notes, index, places, lengths_m):
            assumed = f"{assumed}, points turning left" if assumed == FIRST_EAST else assumed
            continue
        missing = next(name for name in index if name not in places)
        raise InputError(
            f'the place of point "{missing}" is not fixed: give a bearing, or lengths from two other points',
            file=notes.file,
        )
    return np.array([places[name] for name in index]), held, assumed


FIRST_EAST = "no bearing was read: the first leg is drawn due east"


def _lengths_m(notes: LevelNotes, index: dict[str, int], z_m: FloatArray) -> list[float]:
    """Reduce slope lengths to plan with the adjusted heights; NaN where none was taped."""
    rises_m = [z_m[index[leg.to_point]] - z_m[index[leg.from_point]] for leg in notes.legs]
    return [
        math.sqrt(max(leg.slope_length_m**2 - rise_m**2, 0.0)) if leg.slope_length_m > 0 else math.nan
        for leg, rise_m in zip(notes.legs, rises_m, strict=True)
    ]


def _place_by_angle(
    notes: LevelNotes, places: Places, lengths_m: list[float], before: tuple[str, ...]
) -> bool:
    """Place what a bearing or turned angle reaches; tell whether anything was."""
    placed = False
    for leg, length_m, come in zip(notes.legs, lengths_m, before, strict=True):
        if math.isnan(length_m) or (leg.from_point in places) == (leg.to_point in places):
            continue
        azimuth_rad = leg.azimuth_rad
        if math.isnan(azimuth_rad) and come in places and leg.from_point in places:
            way = places[leg.from_point] - places[come]
            azimuth_rad = math.atan2(way[0], way[1]) + leg.turn_rad
        if math.isnan(azimuth_rad):
            continue
        step = length_m * np.array([math.sin(azimuth_rad), math.cos(azimuth_rad)])
        if leg.from_point in places:
            places[leg.to_point] = places[leg.from_point] + step
        else:
            places[leg.from_point] = places[leg.to_point] - step
        placed = True
    return placed


def _place_first_leg(notes: LevelNotes, places: Places, lengths_m: list[float]) -> str:
    """Draw the first leg from the only known point due east."""
    for leg, length_m in zip(notes.legs, lengths_m, strict=True):
        if math.isnan(length_m):
            continue
        east = np.array([length_m, 0.0])
        if leg.from_point in places:
            places[leg.to_point] = places[leg.from_point] + east
            return FIRST_EAST
        if leg.to_point in places:
            places[leg.from_point] = places[leg.to_point] - east
            return FIRST_EAST
    (only,) = places
    raise InputError(f'no leg leaves point "{only}": give a length from it', file=notes.file)


def _place_by_lengths(
    notes: LevelNotes, index: dict[str, int], places: Places, lengths_m: list[float]
) -> bool:
    """Place the first point that two or more lengths reach; tell whether there was one."""
    for name in index:
        if name in places:
            continue
        reach = {
            index[other]: (places[other], length_m)
            for leg, length_m in zip(notes.legs, lengths_m, strict=True)
            if (other := _other_end(leg, name)) in places and not math.isnan(length_m)
        }
        if len(reach) >= 2:
            places[name] = _crossed([reach[point] for point in sorted(reach)])
            return True
    return False


def _other_end(leg: Leg, name: str) -> str:
    if leg.to_point == name:
        return leg.from_point
    return leg.to_point if leg.from_point == name else ""


def _crossed(reach: list[tuple[FloatArray, float]]) -> FloatArray:
    """Cross two lengths; of the two places take the one that further lengths fit, else the left one."""
    (first, first_m), (second, second_m) = reach[0], reach[1]
    way = second - first
    apart_m = max(float(np.hypot(*way)), 1e-9)
    along_m = (first_m**2 - second_m**2 + apart_m**2) / (2.0 * apart_m)
    aside_m = math.sqrt(max(first_m**2 - along_m**2, 0.0))
    left = np.array([-way[1], way[0]]) / apart_m
    middle = first + along_m * way / apart_m
    both = (middle + aside_m * left, middle - aside_m * left)
    misfit_m = [
        sum(abs(float(np.hypot(*(spot - place))) - length_m) for place, length_m in reach) for spot in both
    ]
    return both[1] if misfit_m[1] < misfit_m[0] - 1e-6 else both[0]
