"""Vector site files of every format, chosen by their extension."""

import gc
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from fencewright.exchange.csv import read_csv
from fencewright.exchange.dxf import read_dxf
from fencewright.exchange.geojson import read_geojson
from fencewright.exchange.geopackage import list_geopackage_layers, read_geopackage
from fencewright.exchange.gpx import read_gpx
from fencewright.exchange.intake import shown
from fencewright.exchange.kml import read_kml
from fencewright.exchange.landxml import read_landxml
from fencewright.exchange.layers import pick_layer
from fencewright.exchange.records import SiteFile
from fencewright.exchange.shapefile import read_shapefile
from fencewright.findings import InputError

_READERS: dict[str, Callable[[Path], SiteFile]] = {
    ".geojson": read_geojson,
    ".json": read_geojson,
    ".gpx": read_gpx,
    ".kml": read_kml,
    ".shp": read_shapefile,
    ".gpkg": read_geopackage,
    ".dxf": read_dxf,
    ".csv": read_csv,
    ".xml": read_landxml,
    ".landxml": read_landxml,
}
_FORMATS = (
    "GeoJSON (.geojson, .json), GPX (.gpx), KML (.kml), Shapefile (.shp), GeoPackage (.gpkg), "
    "DXF (.dxf), CSV (.csv) or LandXML (.xml, .landxml)"
)


def read_site_file(path: str | Path, layer: str | None = None) -> SiteFile:
    """Read the points, lines and polygons of a site file.

    Parameters
    ----------
    path : str or Path
        The file; its extension, in any case, tells its format.
    layer : str, optional
        Layer, folder or group to be read; left out, all of them.

    Returns
    -------
    SiteFile
        Its features and coordinate system. Findings: `file-part-left-out`, `duplicate-points`,
        `track-in-segments`.

    Raises
    ------
    InputError
        One sentence that names the file and the item: not there, of another type, cut short, too large, no
        such layer, a coordinate that is not finite or out of range, an unknown coordinate system.
    """
    path = Path(path)
    reader = _reader(path)
    if reader is read_geopackage:
        return read_geopackage(path, layer)
    with _no_collection():
        site_file = reader(path)
    if layer is None:
        return site_file
    name = pick_layer(layer, site_file.layers, str(path))
    return replace(site_file, features=tuple(f for f in site_file.features if f.layer == name))


def list_layers(path: str | Path) -> tuple[str, ...]:
    """Names of the layers of a site file that hold something, in the order of the file.

    Raises
    ------
    InputError
        As `read_site_file`.
    """
    path = Path(path)
    reader = _reader(path)
    return list_geopackage_layers(path) if reader is read_geopackage else reader(path).layers


@contextmanager
def _no_collection() -> Iterator[None]:
    """Hold the collector of cycles back: a million rows make it search in vain for half of the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _reader(path: Path) -> Callable[[Path], SiteFile]:
    suffix = path.suffix.lower()
    if suffix not in _READERS:
        what = f'"{shown(suffix)}" is no format of a site file' if suffix else "its name has no extension"
        raise InputError(f"{what}: give it as {_FORMATS}", file=str(path))
    return _READERS[suffix]
