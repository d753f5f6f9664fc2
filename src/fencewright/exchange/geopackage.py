"""GeoPackage: layers of points, lines and polygons."""

import struct
from pathlib import Path

from fencewright.exchange.collect import FeatureCollector
from fencewright.exchange.geometry_table import add_layer, layer_crs, layer_names
from fencewright.exchange.intake import MAX_BINARY_BYTES, check_file, read_head, refuse_foreign
from fencewright.exchange.layers import pick_layer
from fencewright.exchange.records import SiteFile
from fencewright.findings import InputError

_MAGIC = b"SQLite format 3\x00"
_HEAD_BYTES = 100


def read_geopackage(path: Path, layer: str | None = None) -> SiteFile:
    """Read one layer of a GeoPackage, or all of them.

    Parameters
    ----------
    path : Path
        The file.
    layer : str, optional
        Layer to be read; left out, all are read, which must then be in one coordinate system.

    Returns
    -------
    SiteFile
        Features of the layer or layers, in the order of the file.

    Raises
    ------
    InputError
        One sentence, for whatever is wrong with the file.
    """
    names = list_geopackage_layers(path)
    chosen = names if layer is None else (pick_layer(layer, names, str(path)),)
    systems = [layer_crs(path, name) for name in chosen]
    if len({system.crs for system in systems}) > 1:
        told = ", ".join(f'"{name}"' for name in chosen)
        raise InputError(
            f"its layers {told} are in different coordinate systems: name one layer", file=str(path)
        )
    crs = systems[0]
    collector = FeatureCollector(path, is_geographic=crs.is_geographic)
    for name in chosen:
        add_layer(collector, path, name)
    return collector.finish(crs=crs.crs, unit_m=crs.unit_m, elevation_unit_m=crs.elevation_unit_m)


def list_geopackage_layers(path: Path) -> tuple[str, ...]:
    """Names of the layers with shapes; refuses a file that is damaged or has none."""
    _check_whole(path)
    names = layer_names(path)
    if not names:
        raise InputError("it has no layer with shapes", file=str(path))
    return names


def _check_whole(path: Path) -> None:
    """Refuse a file that is no SQLite database or is shorter than its own head says."""
    size = check_file(path, MAX_BINARY_BYTES)
    head = read_head(path, _HEAD_BYTES)
    if not head.startswith(_MAGIC):
        refuse_foreign(head, str(path), "a GeoPackage")
        raise InputError("it is no GeoPackage, whatever its name says", file=str(path))
    if len(head) < _HEAD_BYTES:
        raise InputError("the file is cut short in its head", file=str(path))
    page_bytes = struct.unpack(">H", head[16:18])[0]
    pages = struct.unpack(">I", head[28:32])[0] if head[24:28] == head[92:96] else 0
    wanted = pages * (65536 if page_bytes == 1 else page_bytes)
    if size < wanted and not path.with_name(path.name + "-wal").exists():
        raise InputError(f"the file is cut short: {size:,} bytes of {wanted:,}", file=str(path))
