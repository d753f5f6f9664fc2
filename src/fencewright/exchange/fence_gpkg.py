"""fence.gpkg: the fence's layers as an OGC GeoPackage, built in memory, the same bytes each time."""

import sqlite3
import struct
from collections.abc import Iterator, Sequence
from contextlib import closing
from dataclasses import astuple, dataclass, replace
from typing import Any

import numpy as np

from fencewright.exchange.design_columns import DECIMALS, Column
from fencewright.exchange.fence_layers import AREA, LINE, POINT, MapLayer

_APPLICATION_ID = 0x47504B47  # "GPKG"
_USER_VERSION = 10300  # GeoPackage 1.3
_CHANGED = "2000-01-01T00:00:00.000Z"  # the format wants a date; a clock would change the bytes
_TABLES = """
CREATE TABLE gpkg_spatial_ref_sys (
  srs_name TEXT NOT NULL, srs_id INTEGER PRIMARY KEY, organization TEXT NOT NULL,
  organization_coordsys_id INTEGER NOT NULL, definition TEXT NOT NULL, description TEXT);
CREATE TABLE gpkg_contents (
  table_name TEXT NOT NULL PRIMARY KEY, data_type TEXT NOT NULL, identifier TEXT UNIQUE,
  description TEXT DEFAULT '',
  last_change DATETIME NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')),
  min_x DOUBLE, min_y DOUBLE, max_x DOUBLE, max_y DOUBLE, srs_id INTEGER,
  CONSTRAINT fk_gc_r_srs_id FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys(srs_id));
CREATE TABLE gpkg_geometry_columns (
  table_name TEXT NOT NULL, column_name TEXT NOT NULL, geometry_type_name TEXT NOT NULL,
  srs_id INTEGER NOT NULL, z TINYINT NOT NULL, m TINYINT NOT NULL,
  CONSTRAINT pk_geom_cols PRIMARY KEY (table_name, column_name),
  CONSTRAINT uk_gc_table_name UNIQUE (table_name),
  CONSTRAINT fk_gc_tn FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name),
  CONSTRAINT fk_gc_srs FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys(srs_id));
"""
_SQL_TYPES = {"text": "TEXT", "flag": "BOOLEAN", "whole": "INTEGER"}
_WKB = {POINT: 1, LINE: 2, AREA: 3}


@dataclass(frozen=True, slots=True)
class Reference:
    """A coordinate system as a GeoPackage names it."""

    name: str
    srs_id: int
    organization: str
    code: int
    definition: str
    description: str = ""


UNDEFINED_PLANE = Reference(
    "Undefined Cartesian SRS", -1, "NONE", -1, "undefined", "a plane in metres without a place on the Earth"
)
_UNDEFINED_EARTH = Reference(
    "Undefined geographic SRS", 0, "NONE", 0, "undefined", "unknown latitude, longitude"
)


def write_gpkg(
    layers: Sequence[MapLayer], reference: Reference, wgs84_wkt: str, about: str, unit_m: float = 1.0
) -> bytes:
    """Give the bytes of a GeoPackage.

    Parameters
    ----------
    layers : sequence of MapLayer
        What `map_layers` gives; z is written where a layer has it.
    reference : Reference
        Coordinate system of the plane, `UNDEFINED_PLANE` for a bare one.
    wgs84_wkt : str
        WKT of EPSG:4326, which every GeoPackage must name.
    about : str
        Description of each layer: program, design, whether it may be built.
    unit_m : float
        Metres in the unit of the plane's coordinate system, in which plan coordinates are written. [m]

    Returns
    -------
    bytes
        The file; nothing in it comes from a clock.

    Notes
    -----
    Tables and geometry heads of GeoPackage 1.3, from memory; tests read the file back through GDAL. No
    spatial index is written: a reader makes one.
    """
    earth = Reference("WGS 84 geodetic", 4326, "EPSG", 4326, wgs84_wkt, "longitude and latitude in degrees")
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as database:
        database.execute(f"PRAGMA application_id = {_APPLICATION_ID}")
        database.execute(f"PRAGMA user_version = {_USER_VERSION}")
        database.execute("BEGIN")
        for statement in filter(str.strip, _TABLES.split(";\n")):
            database.execute(statement)
        known = {each.srs_id: each for each in (UNDEFINED_PLANE, _UNDEFINED_EARTH, earth, reference)}
        database.executemany(
            "INSERT INTO gpkg_spatial_ref_sys VALUES (?, ?, ?, ?, ?, ?)",
            [astuple(each) for each in known.values()],
        )
        for layer in layers:
            _add_layer(database, replace(layer, xy_m=layer.xy_m / unit_m), reference.srs_id, about)
        database.execute("COMMIT")
        return bytes(database.serialize())


def _add_layer(database: sqlite3.Connection, layer: MapLayer, srs_id: int, about: str) -> None:
    shape = layer.geometry.upper()
    kept = ", ".join(f'"{column.name}" {_sql_type(column)}' for column in layer.columns)
    database.execute(
        f'CREATE TABLE "{layer.name}" (fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, geom {shape}, {kept})'
    )
    corners = (
        [*layer.xy_m.min(axis=0).tolist(), *layer.xy_m.max(axis=0).tolist()]
        if len(layer.xy_m)
        else [None] * 4
    )
    database.execute(
        "INSERT INTO gpkg_contents VALUES (?, 'features', ?, ?, ?, ?, ?, ?, ?, ?)",
        (layer.name, layer.name, about, _CHANGED, *corners, srs_id),
    )
    database.execute(
        "INSERT INTO gpkg_geometry_columns VALUES (?, 'geom', ?, ?, ?, 0)",
        (layer.name, shape, srs_id, int(layer.z_m is not None)),
    )
    marks = ", ".join("?" * (len(layer.columns) + 2))
    database.executemany(f'INSERT INTO "{layer.name}" VALUES ({marks})', _features(layer, srs_id))


def _sql_type(column: Column) -> str:
    return "REAL" if column.kind in DECIMALS else _SQL_TYPES[column.kind]


def _features(layer: MapLayer, srs_id: int) -> Iterator[list[Any]]:
    names = [column.name for column in layer.columns]
    for fid, (row, geometry) in enumerate(zip(layer.rows, _geometries(layer, srs_id), strict=True), start=1):
        yield [fid, geometry, *(row[name] for name in names)]


def _geometries(layer: MapLayer, srs_id: int) -> Iterator[bytes]:
    """GeoPackage binary of each feature: head, box of the plan (points have none), WKB."""
    points = layer.xy_m if layer.z_m is None else np.column_stack([layer.xy_m, layer.z_m])
    raw = np.ascontiguousarray(points, dtype="<f8").tobytes()
    stride = points.shape[1] * 8
    extra = 0 if layer.z_m is None else 1000
    bounds = layer.start.tolist()
    boxes = _boxes(layer)
    for shape, first, last, box in zip(layer.shapes, bounds[:-1], bounds[1:], boxes, strict=True):
        head = struct.pack("<2sBBi", b"GP", 0, 1 if shape == POINT else 3, srs_id)
        body = struct.pack("<BI", 1, _WKB[shape] + extra)
        if shape == AREA:
            body += struct.pack("<I", 1)
        if shape != POINT:
            body += struct.pack("<I", last - first)
            head += struct.pack("<4d", *box)
        yield head + body + raw[first * stride : last * stride]


def _boxes(layer: MapLayer) -> list[list[float]]:
    """Least and greatest x, then y, of each feature; every feature has a point."""
    if not layer.shapes:
        return []
    low = np.minimum.reduceat(layer.xy_m, layer.start[:-1])
    high = np.maximum.reduceat(layer.xy_m, layer.start[:-1])
    boxes: list[list[float]] = np.stack([low, high], axis=2).reshape(-1, 4).tolist()
    return boxes
