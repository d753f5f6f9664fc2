"""KML: placemarks, with their folders as layers."""

import math
import re
from collections.abc import Iterator
from pathlib import Path
from xml.etree.ElementTree import Element

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.collect import FeatureCollector
from fencewright.exchange.crs_text import GPS
from fencewright.exchange.fields import as_attributes
from fencewright.exchange.intake import read_bytes, shown
from fencewright.exchange.records import LINE, POINT, POLYGON, SiteFile
from fencewright.exchange.xml_text import check_xml, local_name, opened_and_closed
from fencewright.findings import InputError

_GEOMETRIES = {"Point": POINT, "LineString": LINE, "LinearRing": LINE, "Polygon": POLYGON, "Track": LINE}


def read_kml(path: Path) -> SiteFile:
    """Read a KML file.

    Parameters
    ----------
    path : Path
        The file, KML 2.0 to 2.3, not zipped.

    Returns
    -------
    SiteFile
        A feature for each point, line, ring, polygon and track of each placemark, WGS 84. The layer is the
        innermost folder with a name, else the document, else the file's stem. Heights are kept where the
        placemark says `absolute` (otherwise KML's are above the ground or have no meaning, and give NaN).
        Inner rings and linked files are left out, with a finding.

    Raises
    ------
    InputError
        One sentence, for whatever is wrong with the file.
    """
    file = str(path)
    data = read_bytes(path)
    check_xml(data, file, "kml", "KML")
    collector = FeatureCollector(path, is_geographic=True)
    holders: list[list[str]] = []  # tag and name of each folder or document that is open
    parents: list[str] = []
    number = 0
    for event, element in opened_and_closed(data, file):
        tag = local_name(element.tag)
        if event == "start":
            parents.append(tag)
            if tag in ("Folder", "Document"):
                holders.append([tag, ""])
            continue
        parents.pop()
        if tag in ("Folder", "Document"):
            holders.pop()
        elif tag == "name" and holders and parents and parents[-1] == holders[-1][0]:
            holders[-1][1] = (element.text or "").strip()
        elif tag == "NetworkLink":
            collector.leave_out("link to another file")
        elif tag == "Placemark":
            number += 1
            layer = next((name for _, name in reversed(holders) if name), "")
            _add_placemark(collector, element, f"placemark {number}", layer)
            element.clear()
    return collector.finish(crs=GPS.crs, elevation_unit_m=GPS.elevation_unit_m)


def _add_placemark(collector: FeatureCollector, placemark: Element, item: str, layer: str) -> None:
    name = _child_text(placemark, "name")
    item = f'{item} "{shown(name)}"' if name else item
    attributes = as_attributes(_fields(placemark))
    inside = {id(ring) for polygon in _named(placemark, "Polygon") for ring in _named(polygon, "LinearRing")}
    shapes = [
        element
        for element in placemark.iter()
        if local_name(element.tag) in _GEOMETRIES and id(element) not in inside
    ]
    if not shapes:
        collector.leave_out("placemark without geometry")
    for number, shape in enumerate(shapes, start=1):
        kind = local_name(shape.tag)
        label = name or item
        label = label if len(shapes) == 1 else f"{label} part {number}"
        points = _shape_points(collector, shape, kind, item)
        if _child_text(shape, "altitudeMode") != "absolute":
            points[:, 2] = math.nan
        collector.add(label, _GEOMETRIES[kind], points, item=item, layer=layer, attributes=attributes)


def _shape_points(collector: FeatureCollector, shape: Element, kind: str, item: str) -> NDArray[np.float64]:
    """Longitude, latitude and height (points, 3) of one shape."""
    if kind == "Track":
        texts = [",".join((coord.text or "").split()) for coord in _named(shape, "coord")]
        return parse_coordinates(" ".join(texts), collector.file, item)
    if kind == "Polygon":
        collector.leave_out_if(len(list(_named(shape, "innerBoundaryIs"))), "inner ring of a polygon")
        shape = next(_named(shape, "outerBoundaryIs"), shape)
    holder = next(_named(shape, "coordinates"), None)
    return parse_coordinates((holder.text or "") if holder is not None else "", collector.file, item)


def parse_coordinates(text: str, file: str, item: str) -> NDArray[np.float64]:
    """Coordinates `lon,lat[,height]` parted by blanks, as (points, 3) with NaN where there is no height.

    Raises
    ------
    InputError
        A point is not two or three numbers.
    """
    tokens = re.sub(r"\s*,\s*", ",", text).split()
    points = np.full((len(tokens), 3), math.nan)
    try:
        widths = {token.count(",") for token in tokens}
        if len(widths) == 1 and widths <= {1, 2}:
            width = widths.pop() + 1
            points[:, :width] = np.fromiter(map(float, ",".join(tokens).split(",")), float).reshape(-1, width)
            return points
    except ValueError:
        pass  # looked at point by point below
    for number, token in enumerate(tokens):
        try:
            longitude, latitude, *heights = (float(part) for part in token.rstrip(",").split(","))
        except ValueError as error:
            where = f"{item}, point {number + 1}"
            raise InputError(f'"{shown(token)}" is no longitude,latitude', file=file, item=where) from error
        points[number] = longitude, latitude, heights[0] if heights else math.nan
    return points


def _named(element: Element, name: str) -> Iterator[Element]:
    return (child for child in element.iter() if local_name(child.tag) == name)


def _child_text(element: Element, name: str) -> str:
    return next(((child.text or "").strip() for child in element if local_name(child.tag) == name), "")


def _fields(placemark: Element) -> Iterator[tuple[str, str]]:
    """Give the description, and the data that other programs attach."""
    yield "description", _child_text(placemark, "description")
    for data in _named(placemark, "SimpleData"):
        yield data.get("name", ""), data.text or ""
    for data in _named(placemark, "Data"):
        yield data.get("name", ""), _child_text(data, "value")
