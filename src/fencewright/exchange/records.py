"""What a vector site file holds once it is read, the same for every format."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import Finding

POINT = "point"
LINE = "line"
POLYGON = "polygon"


@dataclass(frozen=True, slots=True, eq=False)
class SiteFeature:
    """One point, line or outline of a site file.

    Parameters
    ----------
    name : str
        Its name in the file, else one made of its kind and number (`track 2`); never empty.
    geometry : str
        `point`, `line` or `polygon` (its outer ring).
    points : float array (points, 2)
        East and north, or longitude and latitude, in the file's own unit. Finite; no point equals the one
        before it; the closing point of a ring is not repeated. Read-only.
    elevation : float array (points,)
        Height in the file's unit of height (`SiteFile.elevation_unit_m`), NaN where the file has none.
    is_closed : bool
        Whether the last point joins the first; always true for a polygon.
    layer : str
        Layer, folder or group of the file; the file's stem where the format has none.
    attributes : mapping of str to str
        The other fields, as text; empty ones left out.
    """

    name: str
    geometry: str
    points: NDArray[np.float64]
    elevation: NDArray[np.float64]
    is_closed: bool
    layer: str
    attributes: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, eq=False)
class SiteFile:
    """A vector site file, read.

    Parameters
    ----------
    path : str
        The file, as it was named.
    features : tuple of SiteFeature
        At least one, in the order of the file.
    crs : str
        Coordinate system, in a form that pyproj reads; empty where the file does not say.
    is_geographic : bool
        Whether `points` are longitude and latitude. [degree]
    unit_m : float
        Metres in one unit of `points`; NaN where the file does not say, or where it is geographic. [m]
    elevation_unit_m : float
        Metres in one unit of `elevation`; NaN where the file does not say. [m]
    findings : tuple of Finding
        What was left out or changed while reading.
    """

    path: str
    features: tuple[SiteFeature, ...]
    crs: str
    is_geographic: bool
    unit_m: float
    elevation_unit_m: float
    findings: tuple[Finding, ...] = ()

    @property
    def layers(self) -> tuple[str, ...]:
        """Names of its layers, in the order of the file."""
        return tuple(dict.fromkeys(feature.layer for feature in self.features))

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """West, south, east and north limit of all points, in the file's unit."""
        low = np.min([feature.points.min(axis=0) for feature in self.features], axis=0)
        high = np.max([feature.points.max(axis=0) for feature in self.features], axis=0)
        return float(low[0]), float(low[1]), float(high[0]), float(high[1])
