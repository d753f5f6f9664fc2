"""Clearances: where no hole may be, as shapes, as stretches of a line, and as depths of trespass."""

import math

import numpy as np
import shapely
from numpy.typing import NDArray

from fencewright.geometry.shapes import leg_shapes, line_shape, search_tree
from fencewright.site.features import SiteObstacle

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_QUARTER_STEPS = 32  # segments of a quarter circle; the shape is widened so that it holds the true circle


def obstacle_shape(obstacle: SiteObstacle) -> shapely.Geometry:
    """Give the obstacle itself as a shape: point, line or area. [m]"""
    if obstacle.geometry == "point" or len(obstacle.xy_m) == 1:
        return shapely.Point(obstacle.xy_m[0])
    if obstacle.geometry == "polygon" and len(obstacle.xy_m) > 2:
        return shapely.make_valid(shapely.Polygon(obstacle.xy_m))
    return line_shape(obstacle.xy_m)


def kept_out_shape(obstacle: SiteObstacle, hole_radius_m: float) -> shapely.Geometry:
    """Where a hole's centre may not be: the obstacle widened by its own radius, clearance and the hole's radius.

    Notes
    -----
    Circles are drawn as polygons that hold the true circle: no hole centre slips between.
    """
    reach = obstacle.radius_m + obstacle.clearance_m + hole_radius_m
    widened = reach / math.cos(math.pi / (4 * _QUARTER_STEPS))
    return shapely.buffer(obstacle_shape(obstacle), widened, quad_segs=_QUARTER_STEPS)


def trespass_m(obstacle: SiteObstacle, x_m: Floats, y_m: Floats, hole_radius_m: float) -> Floats:
    """How far each hole reaches into a clearance: (holes,), 0 or less where it does not. [m]"""
    away = shapely.distance(obstacle_shape(obstacle), shapely.points(x_m, y_m))
    return np.asarray(obstacle.radius_m + obstacle.clearance_m + hole_radius_m - away, np.float64)


def kept_out_stretches(
    start_m: Floats, end_m: Floats, station_m: Floats, shapes: list[shapely.Geometry]
) -> tuple[Floats, Floats, Ints]:
    """Stretches of a line that lie inside shapes.

    Parameters
    ----------
    start_m, end_m : float array (legs, 2)
        Ends of each leg. [m]
    station_m : float array (legs + 1,)
        Stations of the legs' ends. [m]
    shapes : list of shapely.Geometry
        Areas.

    Returns
    -------
    from_m, to_m : float array (stretches,)
        Stations, sorted. A stretch that passes a point of the line comes as one a leg. [m]
    shape_index : int array (stretches,)
        Row of the shape.
    """
    empty = np.zeros(0), np.zeros(0), np.zeros(0, np.int64)
    if not shapes or not len(start_m):
        return empty
    legs = leg_shapes(start_m, end_m)
    areas = np.empty(len(shapes), object)
    areas[:] = shapes
    shape, leg = search_tree(legs).query(shapes, predicate="intersects")
    if not len(leg):
        return empty
    cut = shapely.intersection(legs[leg], areas[shape])
    parts, row = shapely.get_parts(cut, return_index=True)
    is_line = shapely.get_dimensions(parts) == 1
    parts, row = parts[is_line], row[is_line]
    if not len(parts):
        return empty
    ends = np.stack([shapely.get_coordinates(shapely.get_point(parts, k)) for k in (0, -1)], axis=1)
    leg, shape = leg[row], shape[row]
    step = end_m[leg] - start_m[leg]
    length2 = np.maximum((step**2).sum(axis=1), 1e-300)
    share = ((ends - start_m[leg][:, None]) * step[:, None]).sum(axis=2) / length2[:, None]
    span = (station_m[leg + 1] - station_m[leg])[:, None]
    at = np.sort(station_m[leg][:, None] + share * span, axis=1)
    order = np.argsort(at[:, 0], kind="stable")
    return at[order, 0], at[order, 1], shape[order].astype(np.int64)
