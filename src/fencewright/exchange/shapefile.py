"""Shapefile: one layer of points, lines or polygons, with the files beside it."""

import struct
from pathlib import Path

from fencewright.exchange.collect import FeatureCollector
from fencewright.exchange.geometry_table import add_layer, layer_crs, layer_names
from fencewright.exchange.intake import MAX_BINARY_BYTES, check_file, read_head, refuse_foreign, shown
from fencewright.exchange.records import SiteFile
from fencewright.findings import InputError

_HEAD_BYTES = 100
_MAGIC = b"\x00\x00\x27\x0a"


def read_shapefile(path: Path) -> SiteFile:
    """Read a Shapefile: the `.shp` with its `.shx`, and `.dbf` and `.prj` where they are there.

    Parameters
    ----------
    path : Path
        The `.shp` file.

    Returns
    -------
    SiteFile
        One layer, named as the file. The coordinate system is that of the `.prj`, else unknown.

    Raises
    ------
    InputError
        One sentence, for whatever is wrong with the file.
    """
    _check_whole(path)
    with_index = next(
        (path.with_suffix(end) for end in (".shx", ".SHX") if path.with_suffix(end).is_file()), None
    )
    if with_index is None:
        raise InputError(
            f'"{shown(path.stem)}.shx" is not beside it: copy all files of the Shapefile', file=str(path)
        )
    names = layer_names(path)
    if not names:
        raise InputError("it has no layer with shapes", file=str(path))
    crs = layer_crs(path, names[0])
    if not crs.crs and _has_projection(path):
        raise InputError("its .prj names no known coordinate system: name one by EPSG code", file=str(path))
    collector = FeatureCollector(path, is_geographic=crs.is_geographic)
    add_layer(collector, path, names[0])
    return collector.finish(crs=crs.crs, unit_m=crs.unit_m, elevation_unit_m=crs.elevation_unit_m)


def _check_whole(path: Path) -> None:
    """Refuse a file that is no Shapefile or is shorter than its own head says."""
    size = check_file(path, MAX_BINARY_BYTES)
    head = read_head(path, _HEAD_BYTES)
    if not head.startswith(_MAGIC):
        refuse_foreign(head, str(path), "a Shapefile")
        raise InputError("it is no Shapefile, whatever its name says", file=str(path))
    wanted = 2 * struct.unpack(">i", head[24:28])[0] if len(head) == _HEAD_BYTES else _HEAD_BYTES
    if size < wanted:
        raise InputError(f"the file is cut short: {size:,} bytes of {wanted:,}", file=str(path))


def _has_projection(path: Path) -> bool:
    """Tell whether a `.prj` with something other than a bare local plane is beside the file."""
    beside = next(
        (path.with_suffix(end) for end in (".prj", ".PRJ") if path.with_suffix(end).is_file()), None
    )
    if beside is None:
        return False
    text = read_head(beside, 10_000).strip().upper()
    return bool(text) and not text.startswith((b"LOCAL_CS", b"ENGCRS"))
