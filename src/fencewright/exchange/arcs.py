"""Arcs as chains of points, to a stated sagitta."""

import math

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

_LEAST_STEP_RAD = math.pi / 180
_FULL_TURN_RAD = 2 * math.pi


def arc_points(center: Floats, radius: float, start_rad: float, sweep_rad: float, sagitta: float) -> Floats:
    """Points on an arc, both ends included.

    Parameters
    ----------
    center : float array (2,)
        Its centre.
    radius : float
        Above 0, in the same unit.
    start_rad, sweep_rad : float
        Angle of its start from +x, and the angle that it turns; anticlockwise positive. [rad]
    sagitta : float
        Farthest that a chord may lie from the arc, same unit, above 0. A step is never below one degree, so
        that an arc has at most 360 chords.

    Returns
    -------
    float array (points, 2)
        At least two points; on the arc, so that chords lie inside it.
    """
    step_rad = max(2 * math.acos(max(1 - sagitta / radius, 0.0)), _LEAST_STEP_RAD)
    count = max(1, math.ceil(abs(sweep_rad) / step_rad - 1e-9))
    angles = start_rad + sweep_rad * np.arange(count + 1) / count
    return center + radius * np.column_stack([np.cos(angles), np.sin(angles)])


def circle_points(center: Floats, radius: float, sagitta: float) -> Floats:
    """Points of a circle, anticlockwise from +x; the first is not repeated."""
    points = arc_points(center, radius, 0.0, _FULL_TURN_RAD, min(sagitta, radius / 2))
    return points[:-1]


def flatten_bulges(points: Floats, bulges: Floats, is_closed: bool, sagitta: float) -> Floats:
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
    sagitta : float
        Farthest that a chord may lie from its arc, same unit as `points`.

    Returns
    -------
    float array (more points, 2)
        The first vertex of a closed one is repeated at the end only where the last segment is an arc.
    """
    legs = len(points) if is_closed else len(points) - 1
    chords = np.hypot(*(np.roll(points, -1, axis=0) - points)[: max(legs, 0)].T)
    # The arc rises half its bulge times its chord; below the sagitta its chord is good enough.
    curved = np.flatnonzero(~(np.abs(bulges[: max(legs, 0)]) * chords / 2 <= sagitta))
    pieces: list[Floats] = []
    done = 0
    for index in curved.tolist():
        start, end = points[index], points[(index + 1) % len(points)]
        pieces.append(points[done : index + 1])
        pieces.append(_bulge_points(start, end, float(bulges[index]), sagitta)[1:])
        done = index + 2
    return np.concatenate([*pieces, points[done:]]) if pieces else points


def _bulge_points(start: Floats, end: Floats, bulge: float, sagitta: float) -> Floats:
    chord = end - start
    length = math.hypot(*chord)
    if length == 0:
        return np.array([start, end])
    radius = length * (1 + bulge * bulge) / (4 * abs(bulge))
    normal = np.array([-chord[1], chord[0]]) / length
    center = (start + end) / 2 + normal * length * (1 - bulge * bulge) / (4 * bulge)
    start_rad = math.atan2(start[1] - center[1], start[0] - center[0])
    points = arc_points(center, radius, start_rad, 4 * math.atan(bulge), sagitta)
    points[0], points[-1] = start, end
    return points
