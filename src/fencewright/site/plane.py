"""The job's plane: metres east and north, and the way there from degrees or another plane, and back."""

import math
import warnings
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import InputError

if TYPE_CHECKING:
    from pyproj import CRS, Transformer

Floats = NDArray[np.float64]

WGS84 = "EPSG:4326"
LOCAL_NAME = "local plane"


@dataclass(frozen=True, slots=True)
class Plane:
    """The plane that everything is computed on.

    Parameters
    ----------
    name : str
        As printed: `local plane`, `EPSG:26916 NAD83 / UTM zone 16N`,
        `local transverse Mercator at 46.5012 N 87.3950 W`.
    crs : str
        Projected coordinate system as pyproj reads it; empty for a bare local plane.
    unit_m : float
        Metres in one native unit of that system; 1 for a bare local plane. [m]
    """

    name: str = LOCAL_NAME
    crs: str = ""
    unit_m: float = 1.0


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a bare local plane lies on the earth.

    Parameters
    ----------
    lat_deg, lon_deg : float
        Latitude and longitude of its point 0, 0, WGS 84. [degree]
    north_deg : float
        Bearing of its +y, clockwise from true north at that point. [degree]
    """

    lat_deg: float
    lon_deg: float
    north_deg: float = 0.0


def to_plane(plane: Plane, xy: Floats, crs: str, unit_m: float = math.nan) -> Floats:
    """Points of a file, on the job's plane.

    Parameters
    ----------
    plane : Plane
        The job's plane.
    xy : float array (points, 2)
        East and north, or longitude and latitude in that order, in the file's unit.
    crs : str
        The file's system; empty: its numbers are taken to lie on the plane already.
    unit_m : float
        Metres in one unit of a file without a system; NaN: the plane's native unit. Not used with `crs`. [m]

    Returns
    -------
    float array (points, 2)
        East and north. No points give (0, 2). [m]

    Raises
    ------
    InputError
        A file with a system on a bare local plane, or points that the plane's projection does not reach.
    """
    points = np.asarray(xy, dtype=np.float64).reshape(-1, 2)
    if not crs:
        return points * (unit_m if math.isfinite(unit_m) else plane.unit_m)
    if not plane.crs:
        title = crs_title(crs)
        what = f"it is in {title}, but the job's plane is local: name an EPSG code as crs, or leave crs out"
        raise InputError(what, item="[site] crs")
    return _moved(points, crs, plane.crs, plane.name) * plane.unit_m


def from_plane(plane: Plane, xy_m: Floats, crs: str) -> Floats:
    """Points of the job's plane in another system: (points, 2) in its unit, east and north or lon and lat.

    Raises
    ------
    InputError
        A bare local plane, or points that the system does not reach.
    """
    points = np.asarray(xy_m, dtype=np.float64).reshape(-1, 2)
    if not plane.crs:
        raise InputError("the job's plane is local: name an EPSG code as crs", item="[site] crs")
    return _moved(points / plane.unit_m, plane.crs, crs, plane.name)


def to_geographic(plane: Plane, xy_m: Floats, origin: Origin | None = None) -> Floats | None:
    """Longitude and latitude (WGS 84) of points on the plane.

    Parameters
    ----------
    plane : Plane
        The job's plane.
    xy_m : float array (points, 2)
        East and north. [m]
    origin : Origin, optional
        Where a bare local plane lies; not used for a plane with a system of its own.

    Returns
    -------
    float array (points, 2) or None
        Longitude and latitude; None for a bare local plane without an origin. [degree]

    Raises
    ------
    InputError
        Points that the projection cannot give back.
    """
    points = np.asarray(xy_m, dtype=np.float64).reshape(-1, 2)
    if plane.crs:
        return _moved(points / plane.unit_m, plane.crs, WGS84, plane.name)
    if origin is None:
        return None
    turn_rad = math.radians(origin.north_deg)
    cos, sin = math.cos(turn_rad), math.sin(turn_rad)
    # +y lies `north_deg` clockwise from north, so +x lies as much clockwise from east.
    turned = points @ np.array([[cos, -sin], [sin, cos]])
    return _moved(turned, local_mercator(origin.lat_deg, origin.lon_deg), WGS84, plane.name)


def from_geographic(plane: Plane, lon_lat: Floats, origin: Origin | None = None) -> Floats:
    """Points on a bare local plane from longitude and latitude (WGS 84): the inverse of `to_geographic`. [m]

    Raises
    ------
    InputError
        A plane that has no place on the Earth.
    """
    if origin is None:
        what = "the job's plane has no place on the Earth: give [site] origin, or the point's x and y"
        raise InputError(what)
    turn_rad = math.radians(origin.north_deg)
    cos, sin = math.cos(turn_rad), math.sin(turn_rad)
    points = np.asarray(lon_lat, dtype=np.float64).reshape(-1, 2)
    turned = _moved(points, WGS84, local_mercator(origin.lat_deg, origin.lon_deg), plane.name)
    return np.asarray(turned @ np.array([[cos, sin], [-sin, cos]]), np.float64)


def local_mercator(lat_deg: float, lon_deg: float) -> str:
    """Transverse Mercator with scale 1 along its central meridian, as PROJ text, WGS 84, metres."""
    place = f"+lat_0={float(lat_deg)!r} +lon_0={float(lon_deg)!r}"
    return f"+proj=tmerc {place} +k=1 +x_0=0 +y_0=0 +datum=WGS84 +units=m +no_defs"


def crs_title(crs: str) -> str:
    """Give a system's code and name as printed: `EPSG:4326 WGS 84`."""
    system = parse_crs(crs)
    code = system.to_authority(min_confidence=90)
    return f"{':'.join(code)} {system.name}" if code else str(system.name)


@lru_cache(maxsize=64)
def parse_crs(crs: str) -> "CRS":
    """Give the pyproj object of a system.

    Raises
    ------
    InputError
        pyproj does not know it.
    """
    import pyproj

    try:
        return pyproj.CRS.from_user_input(crs)
    except (pyproj.exceptions.CRSError, UnicodeError, ValueError) as error:
        shown = crs if len(crs) <= 60 else crs[:57] + "..."
        raise InputError(f'"{shown}" is no coordinate system that is known: check its EPSG code') from error


@lru_cache(maxsize=64)
def _transformer(source: str, target: str) -> "Transformer":
    """Give one operation for all points, the best that needs no grid on disk.

    `Transformer.from_crs` chooses anew for each point, which can tear a line by a metre at a region's edge.
    """
    from pyproj import Transformer
    from pyproj.transformer import TransformerGroup

    ends = parse_crs(source).to_2d(), parse_crs(target).to_2d()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of grids that are not there: `datum_findings` says so
        found = TransformerGroup(*ends, always_xy=True).transformers
    known = [transformer for transformer in found if transformer.accuracy >= 0]
    return (known or found or [Transformer.from_crs(*ends, always_xy=True)])[0]


def shift_accuracy_m(source: str, target: str) -> float:
    """Accuracy of the way from one system's datum to another's; 0 where they share it, NaN if unknown. [m]."""
    base, other = (parse_crs(crs).to_2d().geodetic_crs for crs in (source, target))
    if base is None or other is None or base.datum == other.datum:
        return 0.0
    accuracy = _transformer(source, target).accuracy
    return float(accuracy) if accuracy >= 0 else math.nan


def _moved(points: Floats, source: str, target: str, plane_name: str) -> Floats:
    if not len(points) or source == target:
        return points.copy()
    x, y = _transformer(source, target).transform(points[:, 0], points[:, 1])
    moved = np.column_stack([x, y])
    if not np.isfinite(moved).all():
        row = int(np.argmin(np.isfinite(moved).all(axis=1)))
        place = f"{points[row, 0]:.6g}, {points[row, 1]:.6g}"
        raise InputError(f"{plane_name} does not reach the point {place}: name an EPSG code for this region")
    return moved
