"""Ways between a file's coordinates and the job's plane, a bare plane with a place on the earth included."""

import math
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.crs_text import FileCrs
from fencewright.findings import InputError
from fencewright.site.plane import (
    WGS84,
    Origin,
    Plane,
    crs_title,
    from_geographic,
    from_plane,
    to_geographic,
    to_plane,
)

Floats = NDArray[np.float64]
Move = Callable[[Floats], Floats]

_DEGREES = Plane("", WGS84)


def plane_ways(
    file: FileCrs, plane: Plane, origin: Origin | None, file_unit_m: float = math.nan
) -> tuple[Move, Move]:
    """Ways from the job's plane to a file's coordinates, and back.

    Parameters
    ----------
    file : FileCrs
        The file's coordinate system.
    plane : Plane
        The job's.
    origin : Origin, optional
        Where a bare local plane lies on the earth.
    file_unit_m : float
        Metres in one unit of a file that names neither system nor unit; NaN: the plane's own unit. [m]

    Returns
    -------
    to_file, from_file : callable
        Points (n, 2): of the plane [m] to the file's unit, and back.

    Raises
    ------
    InputError
        The file has a system, the job's plane is local and has no place on the earth.
    """
    if not file.crs:
        unit_m = next(unit for unit in (file.unit_m, file_unit_m, plane.unit_m) if math.isfinite(unit))
        return (lambda xy: xy / unit_m), (lambda xy: to_plane(plane, xy, "", unit_m))
    if plane.crs:
        return (lambda xy: from_plane(plane, xy, file.crs)), (lambda xy: to_plane(plane, xy, file.crs))
    if origin is None:
        raise InputError(
            f"it is in {crs_title(file.crs)}, but the job's plane is local: name an EPSG code as crs, or give "
            "[site] origin"
        )

    def to_file(xy: Floats) -> Floats:
        degrees = to_geographic(plane, xy, origin)
        if degrees is None:
            raise InputError("the job's plane has no place on the earth: give [site] origin")
        return from_plane(_DEGREES, degrees, file.crs)

    return to_file, lambda xy: from_geographic(plane, to_plane(_DEGREES, xy, file.crs), origin)
