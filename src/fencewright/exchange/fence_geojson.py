"""fence.geojson: the fence's layers as one collection, in degrees where the plane has a place."""

import json
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.fence_layers import AREA, POINT, MapLayer

Floats = NDArray[np.float64]
LonLat = Callable[[Floats], Floats]
_DEGREE_DECIMALS = 8  # 1 mm on the ground
_METRE_DECIMALS = 4


def write_geojson(layers: Sequence[MapLayer], lon_lat: LonLat | None, about: Mapping[str, Any]) -> bytes:
    """Give the bytes of a GeoJSON feature collection.

    Parameters
    ----------
    layers : sequence of MapLayer
        What `map_layers` gives; the layer of a feature is its property `layer`.
    lon_lat : callable or None
        From plane coordinates (n, 2) [m] to longitude and latitude (n, 2) [deg]; None for a plane without a
        place on the Earth, whose metres are then written and named in `coordinate_system`.
    about : mapping
        Further members of the collection (program, digest, whether it may be built).

    Returns
    -------
    bytes
        ASCII; one feature a line. Elevations are properties, not third coordinates, since those would have
        to be above the ellipsoid.

    Notes
    -----
    After RFC 7946: WGS 84, longitude first, outer rings to the left. A collection in plane metres departs
    from it, and says so.
    """
    system = "WGS 84, longitude and latitude in degrees" if lon_lat else "local plane, metres"
    head = {"type": "FeatureCollection", "coordinate_system": system, **about}
    features = [feature for layer in layers for feature in _features(layer, lon_lat)]
    text = json.dumps(head, separators=(",", ":"))[:-1] + ',"features":[\n' + ",\n".join(features) + "\n]}\n"
    return text.encode("ascii")


def _features(layer: MapLayer, lon_lat: LonLat | None) -> list[str]:
    if not layer.rows:
        return []
    places = lon_lat(layer.xy_m) if lon_lat else layer.xy_m
    points = (np.round(places, _DEGREE_DECIMALS if lon_lat else _METRE_DECIMALS) + 0.0).tolist()
    bounds = layer.start.tolist()
    encode = json.JSONEncoder(separators=(",", ":"), allow_nan=False).encode
    names = [column.name for column in layer.columns]
    return [
        encode(
            {
                "type": "Feature",
                **({"id": row["id"]} if "id" in row else {}),
                "geometry": {"type": shape, "coordinates": _coordinates(shape, points[first:last])},
                "properties": {"layer": layer.name, **{name: row[name] for name in names}},
            }
        )
        for row, shape, first, last in zip(layer.rows, layer.shapes, bounds[:-1], bounds[1:], strict=True)
    ]


def _coordinates(shape: str, points: list[list[float]]) -> Any:
    if shape == POINT:
        return points[0]
    return [points] if shape == AREA else points
