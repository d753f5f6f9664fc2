"""Arrays of shapely shapes with one type, whatever their number, and a search tree over them."""

import numpy as np
import shapely
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Shapes = NDArray[np.object_]


def leg_shapes(start_m: Floats, end_m: Floats) -> Shapes:
    """One straight line a leg: (legs,) from ends (legs, 2) each. [m]."""
    return _array(shapely.linestrings(np.stack([start_m, end_m], axis=1)), len(start_m))


def point_shapes(x_m: Floats, y_m: Floats) -> Shapes:
    """Points: (points,). [m]."""
    return _array(shapely.points(np.asarray(x_m), np.asarray(y_m)), len(x_m))


def _array(made: object, count: int) -> Shapes:
    shapes = np.empty(count, object)
    shapes[:] = made
    return shapes


def line_shape(xy_m: Floats) -> shapely.LineString:
    """Give one polyline as a shape: (points, 2). [m]."""
    return shapely.LineString(xy_m)


def search_tree(shapes: Shapes) -> shapely.STRtree:
    """Build a search tree over shapes."""
    return shapely.STRtree(list(shapes))
