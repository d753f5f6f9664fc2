"""DXF: lines, polylines, arcs, circles and points of the model space, with their layers."""

import logging
import math
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.arcs import Chords, arc_points, circle_points, flatten_bulges
from fencewright.exchange.collect import FeatureCollector
from fencewright.exchange.intake import MAX_TEXT_BYTES, check_file, read_head, refuse_foreign, shown
from fencewright.exchange.length_units import dxf_unit_m
from fencewright.exchange.records import LINE, POINT, POLYGON, SiteFile
from fencewright.findings import InputError

_HEAD_BYTES = 64
_TAIL_BYTES = 64
_CIRCLE_SHARE = 0.4  # of that sagitta: the outline of a thing in the way, to 10 mm
_FLAT_AXIS = (0.0, 0.0, 1.0)

Floats = NDArray[np.float64]
Shape = tuple[str, Floats, bool]


def read_dxf(path: Path) -> SiteFile:
    """Read a DXF drawing.

    Parameters
    ----------
    path : Path
        The file, text or binary DXF.

    Returns
    -------
    SiteFile
        LINE, LWPOLYLINE, POLYLINE, ARC, CIRCLE (a polygon) and POINT of the model space, each named by its
        kind and handle; drawing units, with `unit_m` from $INSUNITS, NaN where it says none (arcs are then
        drawn as if it were metres). Arcs are drawn as posts follow them (`arcs.Chords.of_rails`). A height of
        0 along a whole entity is taken for none. Blocks, texts and all else are left out and counted in a finding.

    Raises
    ------
    InputError
        One sentence, for whatever is wrong with the file.
    """
    _check_whole(path)
    with _quiet_ezdxf(str(path)):
        from ezdxf.filemanagement import readfile

        drawing = readfile(path, errors="strict")
        entities = list(drawing.modelspace())
        code = drawing.header.get("$INSUNITS", 0)
    unit_m = dxf_unit_m(code)
    chords = Chords.of_rails(unit_m)
    collector = FeatureCollector(path, is_geographic=False)
    for entity in entities:
        _add_entity(collector, entity, chords)
    return collector.finish(crs="", unit_m=unit_m, elevation_unit_m=unit_m)


def _check_whole(path: Path) -> None:
    """Refuse what is no DXF, or a text DXF without its end."""
    size = check_file(path, MAX_TEXT_BYTES)
    head = read_head(path, _HEAD_BYTES)
    refuse_foreign(head, str(path), "DXF")
    if head.startswith(b"AutoCAD Binary DXF"):
        return
    if head.startswith(b"AC10"):
        raise InputError("it is a DWG drawing, not DXF: save it as DXF", file=str(path))
    if head.lstrip(b"\xef\xbb\xbf \t\r\n").split(None, 1)[0:1] not in ([b"0"], [b"999"]):
        raise InputError("it is no DXF drawing, whatever its name says", file=str(path))
    with path.open("rb") as stream:
        stream.seek(max(size - _TAIL_BYTES, 0))
        if b"EOF" not in stream.read():
            raise InputError("the file is cut short: it has no EOF at its end", file=str(path))


@contextmanager
def _quiet_ezdxf(file: str) -> Iterator[None]:
    """Silence the log of ezdxf, and turn its errors into one sentence about the file."""
    logger = logging.getLogger("ezdxf")
    level = logger.level
    logger.setLevel(logging.CRITICAL + 1)
    try:
        yield
    except UnicodeError as error:
        raise InputError("its text is not in the encoding it names: save it as UTF-8", file=file) from error
    except RecursionError as error:
        raise InputError("its parts are nested too deep", file=file) from error
    except MemoryError:
        raise
    except Exception as error:  # ezdxf lets errors of many kinds through on damaged tags
        raise InputError(f"it is a damaged DXF drawing ({shown(str(error), 100)})", file=file) from error
    finally:
        logger.setLevel(level)


def _add_entity(collector: FeatureCollector, entity: Any, chords: Chords) -> None:
    kind = entity.dxftype()
    item = f"{kind.lower()} {shown(str(entity.dxf.handle))}"
    read = _SHAPES.get(kind)
    if read is None:
        collector.leave_out("block" if kind == "INSERT" else kind.lower())
        return
    with _quiet_ezdxf(collector.file), np.errstate(all="ignore"):  # what is not finite is told when added
        shape = read(entity, chords)
    if shape is None:
        collector.leave_out(f"{kind.lower()} that is a mesh, or has no size")
        return
    geometry, points, is_closed = shape
    if not points[:, 2].any():
        points[:, 2] = math.nan
    layer = str(entity.dxf.layer)
    collector.add("", geometry, points, item=item, layer=layer, is_closed=is_closed)


def _line(entity: Any, _chords: Chords) -> Shape:
    return LINE, np.array([tuple(entity.dxf.start), tuple(entity.dxf.end)], dtype=np.float64), False


def _point(entity: Any, _chords: Chords) -> Shape:
    return POINT, np.array([tuple(entity.dxf.location)], dtype=np.float64), False


def _circle(entity: Any, chords: Chords) -> Shape | None:
    center, radius = np.array(tuple(entity.dxf.center), dtype=np.float64), float(entity.dxf.radius)
    if not (radius > 0 and np.isfinite(center).all() and math.isfinite(radius)):
        return None
    points = circle_points(center[:2], radius, chords.sagitta * _CIRCLE_SHARE)
    return POLYGON, _in_world(entity, _raised(points, center[2])), True


def _arc(entity: Any, chords: Chords) -> Shape | None:
    center, radius = np.array(tuple(entity.dxf.center), dtype=np.float64), float(entity.dxf.radius)
    start, end = math.radians(entity.dxf.start_angle), math.radians(entity.dxf.end_angle)
    if not (radius > 0 and np.isfinite([*center, radius, start, end]).all()):
        return None
    sweep = (end - start) % (2 * math.pi) or 2 * math.pi
    points = arc_points(center[:2], radius, start, sweep, chords)
    return LINE, _in_world(entity, _raised(points, center[2])), False


def _light_polyline(entity: Any, chords: Chords) -> Shape:
    table = np.array(entity.lwpoints.values, dtype=np.float64).reshape(-1, 5)
    is_closed = bool(entity.closed)
    points = flatten_bulges(table[:, :2], table[:, 4], is_closed, chords)
    return LINE, _in_world(entity, _raised(points, float(entity.dxf.elevation))), is_closed


def _polyline(entity: Any, chords: Chords) -> Shape | None:
    if not (entity.is_2d_polyline or entity.is_3d_polyline):
        return None
    places = [tuple(vertex.dxf.location) for vertex in entity.vertices]
    points = np.array(places, dtype=np.float64).reshape(-1, 3)
    is_closed = bool(entity.is_closed)
    if entity.is_3d_polyline:
        return LINE, points, is_closed
    bulges = np.array([vertex.dxf.bulge for vertex in entity.vertices], dtype=np.float64)
    height = float(tuple(entity.dxf.elevation)[2]) if entity.dxf.hasattr("elevation") else 0.0
    flat = flatten_bulges(points[:, :2], bulges, is_closed, chords)
    return LINE, _in_world(entity, _raised(flat, height)), is_closed


def _raised(points: Floats, height: float) -> Floats:
    """Plan points (points, 2) at one height, as (points, 3)."""
    return np.column_stack([points, np.full(len(points), height)])


def _in_world(entity: Any, points: Floats) -> Floats:
    """Points of an entity drawn on its own plane, in world coordinates."""
    axis = tuple(entity.dxf.extrusion)
    if axis == _FLAT_AXIS:
        return points
    from ezdxf.math import OCS

    places = [tuple(place) for place in OCS(axis).points_to_wcs(points.tolist())]
    return np.array(places, dtype=np.float64).reshape(-1, 3)


_SHAPES: dict[str, Callable[[Any, Chords], Shape | None]] = {
    "LINE": _line,
    "POINT": _point,
    "CIRCLE": _circle,
    "ARC": _arc,
    "LWPOLYLINE": _light_polyline,
    "POLYLINE": _polyline,
}
