"""What the site holds, in the job's plane: drawn lines and things in the way."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from fencewright.site.ground import Ground
from fencewright.site.plane import Plane

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class DrawnLine:
    """A line as drawn: `xy_m` (points, 2) in the plane [m], first point not repeated where closed."""

    name: str
    xy_m: Floats
    is_closed: bool


@dataclass(frozen=True, slots=True, eq=False)
class SiteObstacle:
    """Something in the way.

    `geometry` is `point`, `line` or `polygon`; `xy_m` (points, 2) [m]; `clearance_m` from its edge to a hole's
    widest edge [m]; `radius_m` half its own width [m]; `is_solid` no rail passes through it.
    """

    name: str
    kind: str
    geometry: str
    xy_m: Floats
    clearance_m: float
    radius_m: float
    colour: str
    is_service: bool
    is_water: bool
    is_overhead: bool
    bars_machines: bool
    is_solid: bool = False


@dataclass(frozen=True, slots=True)
class SiteReference:
    """A point that tape ties start from: `x_m`, `y_m` [m]; `elevation_m`, NaN for that of the ground there [m]."""

    name: str
    x_m: float
    y_m: float
    elevation_m: float


@dataclass(frozen=True, slots=True, eq=False)
class Site:
    """Lines, obstacles, ground, plane and reference points of a job."""

    plane: Plane
    ground: Ground
    lines: tuple[DrawnLine, ...] = field(default=())
    obstacles: tuple[SiteObstacle, ...] = field(default=())
    references: tuple[SiteReference, ...] = field(default=())
