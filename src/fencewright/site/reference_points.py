"""Reference points on the job's plane: where tape ties start."""

import math
from collections.abc import Sequence

import numpy as np

from fencewright.findings import InputError
from fencewright.site.features import SiteReference
from fencewright.site.plane import WGS84, Origin, Plane, from_geographic, to_plane


def place_references(
    rows: Sequence[tuple[str, tuple[float, float] | None, tuple[float, float] | None, float | None]],
    plane: Plane,
    origin: Origin | None,
) -> tuple[SiteReference, ...]:
    """Put the job's reference points on its plane.

    Parameters
    ----------
    rows : sequence of (name, at, lat_lon, elevation)
        `at` in metres on the plane, or `lat_lon` in degrees; elevation in metres, None for that of the ground.
    plane : Plane
        The job's plane.
    origin : Origin, optional
        Where a bare local plane lies on the Earth.

    Returns
    -------
    tuple of SiteReference
        In job order.

    Raises
    ------
    InputError
        Two points of one name, one with both places or none, or degrees on a plane that has no place on the Earth.
    """
    made: list[SiteReference] = []
    for number, (name, at, lat_lon, elevation) in enumerate(rows, start=1):
        item = f'reference {number} "{name}"'
        if name in {one.name for one in made}:
            raise InputError("two reference points have this name: give each its own", item=item)
        if (at is None) == (lat_lon is None):
            raise InputError("give either at or lat_lon", item=item)
        x, y = at if at is not None else _placed(lat_lon or (0.0, 0.0), plane, origin, item)
        made.append(SiteReference(name, x, y, math.nan if elevation is None else elevation))
    return tuple(made)


def _placed(
    lat_lon: tuple[float, float], plane: Plane, origin: Origin | None, item: str
) -> tuple[float, float]:
    degrees = np.array([[lat_lon[1], lat_lon[0]]])
    try:
        xy = to_plane(plane, degrees, WGS84) if plane.crs else from_geographic(plane, degrees, origin)
    except InputError as error:
        raise error.within(item=item) from error
    return float(xy[0, 0]), float(xy[0, 1])
