"""Ground from LandXML: the points of its surface, or its survey points, as spot heights."""

import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.collect import FeatureCollector
from fencewright.exchange.ground_request import GroundRequest, need_file
from fencewright.exchange.intake import read_bytes
from fencewright.exchange.landxml import land_plane
from fencewright.exchange.landxml_walk import LandXml, walk_landxml
from fencewright.exchange.spots import ground_of_spots
from fencewright.findings import Finding, InputError
from fencewright.site.ground import Ground

FloatArray = NDArray[np.float64]

_MOST_NAMED = 6
_WITH_HEIGHT = 3


def landxml_crs(path: Path) -> str | None:
    """Coordinate system of the places of a LandXML file; None where it names none.

    Raises
    ------
    InputError
        As `walk_landxml`; an unknown coordinate system.
    """
    return land_plane(_held(path), path.name).crs.crs or None


def check_landxml_ground(path: Path) -> None:
    """See that a LandXML file holds heights.

    Raises
    ------
    InputError
        It holds none, or several surfaces; as `walk_landxml`.
    """
    held = _held(path)
    land_plane(held, path.name)
    _spots(held, path.name)


def read_landxml_ground(path: Path, request: GroundRequest) -> tuple[Ground, list[Finding]]:
    """Read ground from a LandXML file.

    Parameters
    ----------
    path : Path
        The file.
    request : GroundRequest
        What is wanted of it; `from_file` takes its places to the job's plane.

    Returns
    -------
    ground, findings
        As `ground_of_spots`, of the points of the one surface that has any (those of its triangles, else of
        what it was made from), or of the survey points that have heights where there is no surface. Its own
        triangles are not kept: the spots are joined anew.

    Raises
    ------
    InputError
        It holds no heights, or several surfaces, or does not say its unit; as `walk_landxml`.
    """
    held = _held(path)
    plane = land_plane(held, path.name)
    spots, names = _spots(held, path.name)
    z_factor = held.unit_m if request.z_factor is None else request.z_factor
    xy_factor = plane.factor
    if not plane.crs.crs:
        xy_factor = held.unit_m if request.xy_factor is None else request.xy_factor
    for factor, key in ((xy_factor, "file_unit"), (z_factor, "ground_unit")):
        if math.isnan(factor):
            raise InputError(f'does not say its unit: set [site] {key} = "ft" or "m"', file=path.name)
    xy_m = request.from_file(spots[:, :2] * xy_factor)
    spots_m = np.column_stack([xy_m, spots[:, 2] * z_factor])
    return ground_of_spots(spots_m, request, path.name, names)


def _held(path: Path) -> LandXml:
    need_file(path)
    return walk_landxml(read_bytes(path), path.name)


def _spots(held: LandXml, file: str) -> tuple[FloatArray, Callable[[int], str]]:
    """East, north and height (spots, 3) in the file's unit, and how a message names each."""
    surfaces = [surface for surface in held.surfaces if surface.points]
    if len(surfaces) > 1:
        told = ", ".join(surface.item for surface in surfaces[:_MOST_NAMED])
        what = f"holds {len(surfaces)} surfaces ({told}): export the one of the ground as it lies alone"
        raise InputError(what, file=file)
    points = [point for point in held.points if len(point.place) == _WITH_HEIGHT]
    if surfaces:
        rows = np.array(surfaces[0].points, np.float64).reshape(-1, _WITH_HEIGHT)
    elif points:
        rows = np.array([point.place for point in points], np.float64)
    else:
        raise InputError("holds no surface and no points with heights: give other ground", file=file)
    spots = rows[:, [1, 0, 2]]
    is_geographic = land_plane(held, file).crs.is_geographic
    item = surfaces[0].item if surfaces else "its points"
    FeatureCollector(Path(file), is_geographic=is_geographic, file=file).check(spots, item)
    return spots, lambda spot: f"{item}, point {spot + 1}" if surfaces else points[spot].item
