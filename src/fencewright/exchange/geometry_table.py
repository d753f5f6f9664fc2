"""Layers that GDAL reads (Shapefile, GeoPackage), quietly, as checked features."""

import logging
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.collect import MAX_FEATURES, MAX_POINTS, FeatureCollector
from fencewright.exchange.crs_text import FileCrs, read_crs
from fencewright.exchange.fields import as_attributes, name_of
from fencewright.exchange.intake import shown
from fencewright.exchange.records import LINE, POINT, POLYGON
from fencewright.findings import InputError

_KINDS = {0: POINT, 1: LINE, 2: LINE, 3: POLYGON}


@contextmanager
def quiet_gdal(file: str) -> Iterator[None]:
    """Silence GDAL's warnings and log, and turn its errors into one sentence about the file."""
    import pyogrio.errors
    import shapely

    logger = logging.getLogger("pyogrio")
    level = logger.level
    logger.setLevel(logging.CRITICAL + 1)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            yield
    except UnicodeError as error:
        raise InputError("its fields are not UTF-8 text, nor in the encoding it names", file=file) from error
    except shapely.errors.GEOSException as error:
        raise InputError(
            "it holds a damaged shape, or a curve that is not drawn as lines", file=file
        ) from error
    except (pyogrio.errors.DataSourceError, pyogrio.errors.DataLayerError, ValueError, OSError) as error:
        raise InputError(
            f"it is damaged, or not what its name says ({shown(str(error), 100)})", file=file
        ) from error
    finally:
        logger.setLevel(level)


def layer_names(path: Path) -> tuple[str, ...]:
    """Names of the layers that hold shapes."""
    import pyogrio

    with quiet_gdal(str(path)):
        rows = pyogrio.list_layers(path.resolve())
    return tuple(str(name) for name, kind in rows if kind is not None)


def layer_crs(path: Path, layer: str) -> FileCrs:
    """Coordinate system of a layer; refuses one with too many features."""
    import pyogrio

    with quiet_gdal(str(path)):
        info = pyogrio.read_info(path.resolve(), layer=layer)
    count = int(info["features"])
    if count > MAX_FEATURES:
        what = f'layer "{shown(layer)}" has {count:,} features, above the {MAX_FEATURES:,} that are read'
        raise InputError(what, file=str(path))
    return read_crs(info["crs"], str(path))


def add_layer(collector: FeatureCollector, path: Path, layer: str) -> None:
    """Add each feature of a layer to a collector.

    Raises
    ------
    InputError
        The layer is damaged, too large, or holds a shape that cannot be used.
    """
    import shapely
    from pyogrio import raw

    with quiet_gdal(collector.file):
        meta, _, shapes, columns = raw.read(path.resolve(), layer=layer, datetime_as_string=True)
        geometries = shapely.from_wkb(shapes)
    total = int(shapely.get_num_coordinates(geometries).sum())
    if total > MAX_POINTS:
        collector.count(total)
    fields = [str(field) for field in meta["fields"]]
    for row, geometry in enumerate(geometries):
        attributes = as_attributes(
            (field, column[row]) for field, column in zip(fields, columns, strict=True)
        )
        add_geometry(collector, geometry, attributes, f"feature {row + 1}", layer)


def add_geometry(
    collector: FeatureCollector, geometry: Any, attributes: dict[str, str], item: str, layer: str
) -> None:
    """Add the points, lines and polygons of one shapely geometry (None and empty ones are left out).

    Raises
    ------
    InputError
        A coordinate is not finite or out of range.
    """
    import shapely

    if geometry is None or geometry.is_empty:
        collector.leave_out("feature without geometry")
        return
    name = name_of(attributes) or item
    item = item if name == item else f'{item} "{shown(name)}"'
    parts = list(_single_parts(geometry))
    for number, part in enumerate(parts, start=1):
        kind = int(shapely.get_type_id(part))
        if kind == 3:
            collector.leave_out_if(int(shapely.get_num_interior_rings(part)), "inner ring of a polygon")
            part = shapely.get_exterior_ring(part)
        label = name if len(parts) == 1 else f"{name} part {number}"
        points = _coordinates(part)
        collector.add(label, _KINDS[kind], points, item=item, layer=layer, attributes=attributes)


def _single_parts(geometry: Any) -> Iterator[Any]:
    import shapely

    parts = shapely.get_parts(geometry)
    for part in parts:
        if int(shapely.get_type_id(part)) in _KINDS:
            yield part
        else:
            yield from _single_parts(part)


def _coordinates(geometry: Any) -> NDArray[np.float64]:
    import shapely

    return np.asarray(shapely.get_coordinates(geometry, include_z=True), dtype=np.float64)
