"""GeoJSON: lines, points and polygons with their properties."""

import json
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.collect import FeatureCollector
from fencewright.exchange.crs_text import GPS, FileCrs, read_crs
from fencewright.exchange.fields import as_attributes, name_of
from fencewright.exchange.intake import decode, read_bytes, shown
from fencewright.exchange.records import LINE, POINT, POLYGON, SiteFile
from fencewright.findings import InputError

_FORMAT = "GeoJSON"
_SIMPLE = {"Point": POINT, "LineString": LINE, "Polygon": POLYGON}
_PLURAL = {"MultiPoint": "Point", "MultiLineString": "LineString", "MultiPolygon": "Polygon"}
_TYPES = (*_SIMPLE, *_PLURAL, "GeometryCollection")


def read_geojson(path: Path) -> SiteFile:
    """Read a GeoJSON file: a feature collection, a feature or a bare geometry.

    Parameters
    ----------
    path : Path
        The file, UTF-8.

    Returns
    -------
    SiteFile
        Longitude and latitude (RFC 7946), or the system of an old `crs` member. The name is the property
        `name`, `title`, `label` or `id`; the layer is the property `layer`, else the file's stem. Each part
        of a multiple geometry is a feature; the inner rings of a polygon are left out, with a finding.

    Raises
    ------
    InputError
        One sentence, for whatever is wrong with the file.
    """
    file = str(path)
    root = _parse(decode(read_bytes(path), file, _FORMAT), file)
    crs = _crs(root, file)
    collector = FeatureCollector(path, is_geographic=crs.is_geographic)
    for number, feature in enumerate(_features(root, file), start=1):
        _add_feature(collector, feature, f"feature {number}")
    return collector.finish(crs=crs.crs, unit_m=crs.unit_m, elevation_unit_m=crs.elevation_unit_m)


def _parse(text: str, file: str) -> dict[str, Any]:
    try:
        root = json.loads(text)
    except json.JSONDecodeError as error:
        cut = error.pos >= len(text.rstrip()) - 1 or error.msg.startswith("Unterminated")
        what = (
            f"the file is cut short in line {error.lineno}"
            if cut and text.lstrip()[:1] in "{["
            else f"line {error.lineno} is not JSON ({error.msg})"
        )
        raise InputError(what, file=file) from error
    except (RecursionError, ValueError) as error:
        raise InputError("it is JSON nested too deep or with a number too long", file=file) from error
    if not isinstance(root, dict) or not isinstance(root.get("type"), str):
        raise InputError('it is JSON, but not GeoJSON: it has no "type" at its root', file=file)
    return root


def _crs(root: dict[str, Any], file: str) -> FileCrs:
    """Give the old `crs` member where there is one; else longitude and latitude."""
    member = root.get("crs")
    if member is None:
        return GPS
    properties = member.get("properties") if isinstance(member, dict) else None
    name = properties.get("name") if isinstance(properties, dict) else None
    if not isinstance(name, str):
        raise InputError('its "crs" member names no coordinate system: name an EPSG code there', file=file)
    return read_crs(name, file)


def _features(root: dict[str, Any], file: str) -> Iterator[dict[str, Any]]:
    kind = root["type"]
    if kind == "FeatureCollection":
        features = root.get("features")
        if not isinstance(features, list):
            raise InputError('its "features" are no list', file=file)
        for number, feature in enumerate(features, start=1):
            if not isinstance(feature, dict) or feature.get("type") != "Feature":
                raise InputError("it is no GeoJSON feature", file=file, item=f"feature {number}")
            yield feature
    elif kind == "Feature":
        yield root
    elif kind in _TYPES:
        yield {"geometry": root}
    else:
        raise InputError(f'it is JSON, but not GeoJSON: its type is "{shown(kind)}"', file=file)


def _add_feature(collector: FeatureCollector, feature: dict[str, Any], item: str) -> None:
    raw = feature.get("properties")
    properties = as_attributes(raw if isinstance(raw, dict) else {})
    if isinstance(feature.get("id"), str | int):
        properties.setdefault("id", str(feature["id"]))
    name = name_of(properties)
    told = f'{item} "{shown(name)}"' if name else item
    if feature.get("geometry") is None:
        collector.leave_out("feature without geometry")
        return
    parts = list(_parts(feature["geometry"], collector.file, told))
    for number, (kind, coordinates) in enumerate(parts, start=1):
        label = (name or item) if len(parts) == 1 else f"{name or item} part {number}"
        _add_part(collector, kind, coordinates, label, told, properties)


def _add_part(
    collector: FeatureCollector,
    kind: str,
    coordinates: Any,
    label: str,
    item: str,
    properties: dict[str, str],
) -> None:
    if not isinstance(coordinates, list):
        raise InputError("its coordinates are no list", file=collector.file, item=item)
    if not coordinates:
        collector.leave_out("geometry without coordinates")
        return
    if kind == "Polygon":
        if len(coordinates) > 1:
            collector.leave_out("inner ring of a polygon", len(coordinates) - 1)
        coordinates = coordinates[0]
    elif kind == "Point":
        coordinates = [coordinates]
    points = _points(coordinates, collector.file, item)
    layer = properties.get("layer", "")
    collector.add(label, _SIMPLE[kind], points, item=item, layer=layer, attributes=properties)


def _parts(geometry: Any, file: str, item: str) -> Iterator[tuple[str, Any]]:
    """Give the single points, lines and polygons of a geometry."""
    kind = geometry.get("type") if isinstance(geometry, dict) else None
    if kind == "GeometryCollection":
        members = geometry.get("geometries")
        if not isinstance(members, list):
            raise InputError("its geometries are no list", file=file, item=item)
        for member in members:
            yield from _parts(member, file, item)
    elif kind in _PLURAL:
        members = geometry.get("coordinates")
        if not isinstance(members, list):
            raise InputError("its coordinates are no list", file=file, item=item)
        yield from ((_PLURAL[kind], member) for member in members)
    elif kind in _SIMPLE:
        yield kind, geometry.get("coordinates")
    else:
        raise InputError(f'its geometry is of the unknown type "{shown(str(kind))}"', file=file, item=item)


def _points(rows: Any, file: str, item: str) -> NDArray[np.float64]:
    """Coordinates as an array (points, 2 or 3); lists of two and of three numbers may be mixed."""
    if not isinstance(rows, list):
        raise InputError("its coordinates are no list of points", file=file, item=item)
    try:
        array = np.array(rows)
        if array.dtype.kind in "iuf" and array.ndim == 2 and array.shape[1] in (2, 3):
            return array.astype(np.float64)
    except (ValueError, OverflowError):
        pass  # ragged or absurd: looked at point by point below
    points = np.full((len(rows), 3), math.nan)
    for number, row in enumerate(rows):
        values = row[:3] if isinstance(row, list) else []
        if len(values) < 2 or not all(isinstance(v, int | float) and not isinstance(v, bool) for v in values):
            raise InputError("it is no pair of numbers", file=file, item=f"{item}, point {number + 1}")
        try:
            points[number, : len(values)] = values
        except OverflowError as error:
            where = f"{item}, point {number + 1}"
            raise InputError("a coordinate is no finite number", file=file, item=where) from error
    return points
