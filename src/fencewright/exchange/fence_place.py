"""Where a design lies on the Earth: its plane's way to degrees, and how a map file names the plane."""

import math

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.fence_geojson import LonLat
from fencewright.exchange.fence_gpkg import UNDEFINED_PLANE, Reference
from fencewright.findings import NOTE, Finding, Place
from fencewright.job.record import Job
from fencewright.site.plane import WGS84, Origin, Plane, local_mercator, parse_crs, to_geographic

Floats = NDArray[np.float64]
_OWN_SRS_ID = 100000  # first of those that a GeoPackage leaves to its writer


def job_origin(job: Job) -> Origin | None:
    """Where the job says that its bare plane lies; None where it does not say, or the plane is no bare one."""
    site = job.asked.site
    if job.site.plane.crs or site.origin is None:
        return None
    return Origin(*site.origin, math.degrees(site.north))


def way_to_degrees(job: Job) -> LonLat | None:
    """Give the way from the job's plane [m] to longitude and latitude [deg]; None where it has no place."""
    plane, origin = job.site.plane, job_origin(job)
    if not plane.crs and origin is None:
        return None

    def lon_lat(xy_m: Floats) -> Floats:
        degrees = to_geographic(plane, xy_m, origin)
        return np.zeros((0, 2)) if degrees is None else degrees

    return lon_lat


def place_findings(job: Job) -> tuple[Finding, ...]:
    """Say that a job has no place on the Earth, so that no waypoint can be written.

    Returns
    -------
    tuple of Finding
        `no-place` (note), or none.
    """
    if way_to_degrees(job) is not None:
        return ()
    return (
        Finding(
            NOTE,
            "no-place",
            Place(),
            "The job's plane has no place on the Earth: stakes.gpx holds no waypoints, and the maps are in metres.",
            "State the latitude and longitude of the plane's 0, 0 as [site] origin, or an EPSG code as [site] crs.",
        ),
    )


def map_reference(job: Job) -> Reference:
    """Coordinate system of the plane as a GeoPackage names it.

    Parameters
    ----------
    job : Job
        Its plane: one with a system of its own is named by it; a bare one by a transverse Mercator where the job
        gives its origin with north up, else it is undefined.

    Returns
    -------
    Reference
        Coordinates go with it in the plane's native unit, metres for a bare one.
    """
    plane, origin = job.site.plane, job_origin(job)
    if plane.crs:
        return _named(plane.crs, plane)
    if origin is not None and origin.north_deg == 0:
        return _named(local_mercator(origin.lat_deg, origin.lon_deg), plane)
    return UNDEFINED_PLANE


def _named(crs: str, plane: Plane) -> Reference:
    system = parse_crs(crs).to_2d()
    authority, code = system.to_authority(min_confidence=90) or ("NONE", "")
    if authority == "EPSG" and code.isdigit():
        return Reference(str(system.name), int(code), authority, int(code), wkt_of(crs))
    return Reference(plane.name, _OWN_SRS_ID, "NONE", _OWN_SRS_ID, wkt_of(crs))


def wkt_of(crs: str = WGS84) -> str:
    """Give a system as WKT of the kind that GeoPackage 1.3 asks for."""
    return str(parse_crs(crs).to_2d().to_wkt("WKT1_GDAL"))
