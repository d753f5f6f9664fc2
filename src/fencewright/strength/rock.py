"""What to do where rock stops the auger: how far the post may move, a collar, a drilled socket."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.mechanics.embedment import FREE_DEPTH_SHARE, depth_at_pressure_m, free_depth_m
from fencewright.strength.task import Footing, StrengthTask
from fencewright.tables.fence import Role

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_SUBSTITUTIONS = 40


@dataclass(frozen=True, slots=True, eq=False)
class RockLadders:
    """One row a post whose hole met rock above its depth, (ladders,).

    `post_index`; `ahead_m`, `back_m` by which it may move along the line without a span over the limit [m];
    `collar_m` diameter of concrete that holds it at the depth of the rock, its own width where that holds [m];
    `socket_m` depth to drill into the rock and fill with grout, `socket_width_m` its diameter [m].
    """

    post_index: Ints
    ahead_m: Floats
    back_m: Floats
    collar_m: Floats
    socket_m: Floats
    socket_width_m: Floats


def rock_ladders(task: StrengthTask, footing: Footing, demand_n: Floats, used: Floats) -> RockLadders:
    """Ladders of the posts that met rock.

    Parameters
    ----------
    task : StrengthTask
        At the depths that rock allows.
    footing : Footing
        Soil and holes.
    demand_n, used : float array (posts,)
        Embedment: force at grade of the worst case [N], its utilisation [-].

    Returns
    -------
    RockLadders

    Notes
    -----
    The soil's hold grows with the width: collar = width x utilisation. The socket takes the force, and that force
    over the whole depth of soil as its moment, no soil helping: never too short.

    References
    ----------
    ibc-1807 (1807.3.2.1); ibc-1806 for the rock.
    """
    posts, ground = task.layout.posts, task.settings.strength.ground
    met = np.flatnonzero(np.isfinite(posts.rock_depth_m) & ~posts.is_built)
    rows = np.array([row for row in met.tolist() if task.holes.governs[row] == "rock"], np.int64)
    if not len(rows):
        return RockLadders(rows, *(np.zeros(0) for _ in range(5)))
    force, depth = demand_n[rows], task.holes.depth_m[rows]
    width = posts.diameter_m[rows] + ground.socket_room_m
    socket = _socket_m(force, depth, width, ground.rock_pa_m)
    collar = footing.width_m[rows] * np.maximum(used[rows], 1.0)
    ahead, back = _room_m(task, rows)
    return RockLadders(rows, ahead, back, collar, np.where(used[rows] > 1, socket, 0.0), width)


def _socket_m(force_n: Floats, rock_m: Floats, width_m: Floats, rock_pa_m: float) -> Floats:
    """Depth of a socket whose lateral value is counted from grade down: by repeated substitution. [m]"""
    socket = free_depth_m(force_n, force_n * rock_m, width_m, rock_pa_m)
    for _ in range(_SUBSTITUTIONS):
        pressure = rock_pa_m * (rock_m + socket * FREE_DEPTH_SHARE)
        socket = (socket + depth_at_pressure_m(force_n, force_n * rock_m, width_m, pressure)) / 2
    return socket


def _room_m(task: StrengthTask, rows: Ints) -> tuple[Floats, Floats]:
    """How far each post may move ahead and back; fixed posts not at all."""
    spans, posts = task.layout.spans, task.layout.posts
    limit = task.settings.layout.spacing_limit_m
    before, after = np.full(len(posts), np.inf), np.full(len(posts), np.inf)
    before[spans.to_post] = spans.slope_length_m
    after[spans.from_post] = spans.slope_length_m
    may = ~posts.is_fixed[rows] & (posts.role[rows] == int(Role.LINE))
    room = [np.where(may, np.maximum(limit - span[rows], 0.0), 0.0) for span in (before, after)]
    return np.asarray(room[0]), np.asarray(room[1])
