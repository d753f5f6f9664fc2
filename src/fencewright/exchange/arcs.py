"""Arcs as chains of points, to a stated sagitta; those of a fence as posts follow them."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

_LEAST_STEP_RAD = math.pi / 180
_FULL_TURN_RAD = 2 * math.pi

#: A rail runs straight from post to post: so far it may lie from a drawn curve, and no chord is longer, so that posts
#: of the usual spacing stand at its ends. Common practice, no source.
RAIL_SAGITTA_M, RAIL_CHORD_M = 0.025, 2.4


@dataclass(frozen=True, slots=True)
class Chords:
    """How an arc becomes chords, in the unit of its points.

    Attributes
    ----------
    sagitta : float
        Farthest that a chord may lie from the arc, above 0.
    longest : float
        Longest chord; an arc that rises less than the sagitta is one chord all the same.
    """

    sagitta: float
    longest: float = math.inf

    @classmethod
    def of_rails(cls, unit_m: float) -> "Chords":
        """Chords of a line that may be a fence; `unit_m` is NaN where nothing says it, then taken for metres. [m]"""
        factor = 1.0 / unit_m if math.isfinite(unit_m) else 1.0
        return cls(RAIL_SAGITTA_M * factor, RAIL_CHORD_M * factor)


def arc_points(center: Floats, radius: float, start_rad: float, sweep_rad: float, chords: Chords) -> Floats:
    """Points on an arc, both ends included.

    Parameters
    ----------
    center : float array (2,)
        Its centre.
    radius : float
        Above 0, in the same unit.
    start_rad, sweep_rad : float
        Angle of its start from +x, and the angle that it turns; anticlockwise positive. [rad]
    chords : Chords
        In the same unit. A step is never below one degree, so that an arc has at most 360 chords.

    Returns
    -------
    float array (points, 2)
        At least two points; on the arc, so that chords lie inside it.
    """
    step_rad = 2 * math.acos(max(1 - chords.sagitta / radius, 0.0))
    if step_rad < abs(sweep_rad):
        step_rad = max(min(step_rad, chords.longest / radius), _LEAST_STEP_RAD)
    count = max(1, math.ceil(abs(sweep_rad) / step_rad - 1e-9))
    angles = start_rad + sweep_rad * np.arange(count + 1) / count
    return center + radius * np.column_stack([np.cos(angles), np.sin(angles)])


def circle_points(center: Floats, radius: float, sagitta: float) -> Floats:
    """Points of a circle, anticlockwise from +x; the first is not repeated."""
    points = arc_points(center, radius, 0.0, _FULL_TURN_RAD, Chords(min(sagitta, radius / 2)))
    return points[:-1]


def flatten_bulges(points: Floats, bulges: Floats, is_closed: bool, chords: Chords) -> Floats:
    """Polyline whose arcs are drawn as chords.

    Parameters
    ----------
    points : float array (points, 2)
        Its vertices.
    bulges : float array (points,)
        Tangent of a quarter of the angle that the arc from each vertex to the next turns, anticlockwise
        positive; 0 is straight. The last one counts only where it is closed.
    is_closed : bool
        Whether it returns to its first vertex.
    chords : Chords
        In the unit of `points`.

    Returns
    -------
    float array (more points, 2)
        The first vertex of a closed one is repeated at the end only where the last segment is an arc.
    """
    legs = len(points) if is_closed else len(points) - 1
    length = np.hypot(*(np.roll(points, -1, axis=0) - points)[: max(legs, 0)].T)
    # The arc rises half its bulge times its chord; below the sagitta its chord is good enough.
    curved = np.flatnonzero(~(np.abs(bulges[: max(legs, 0)]) * length / 2 <= chords.sagitta))
    pieces: list[Floats] = []
    done = 0
    for index in curved.tolist():
        start, end = points[index], points[(index + 1) % len(points)]
        pieces.append(points[done : index + 1])
        pieces.append(_bulge_points(start, end, float(bulges[index]), chords)[1:])
        done = index + 2
    return np.concatenate([*pieces, points[done:]]) if pieces else points


def _bulge_points(start: Floats, end: Floats, bulge: float, chords: Chords) -> Floats:
    chord = end - start
    length = math.hypot(*chord)
    if length == 0:
        return np.array([start, end])
    radius = length * (1 + bulge * bulge) / (4 * abs(bulge))
    normal = np.array([-chord[1], chord[0]]) / length
    center = (start + end) / 2 + normal * length * (1 - bulge * bulge) / (4 * bulge)
    start_rad = math.atan2(start[1] - center[1], start[0] - center[0])
    points = arc_points(center, radius, start_rad, 4 * math.atan(bulge), chords)
    points[0], points[-1] = start, end
    return points
