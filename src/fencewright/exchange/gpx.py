"""GPX: tracks, routes and waypoints as lines and points, with their heights."""

from pathlib import Path

import numpy as np

from fencewright.exchange.collect import FeatureCollector
from fencewright.exchange.crs_text import GPS
from fencewright.exchange.fields import as_attributes
from fencewright.exchange.gpx_walk import FIELDS, ROUTE, TRACK, WAYPOINT, GpxPart, walk_gpx
from fencewright.exchange.intake import read_bytes, shown
from fencewright.exchange.records import LINE, POINT, SiteFile

TRACKS = "tracks"
ROUTES = "routes"
WAYPOINTS = "waypoints"
_LAYERS = {TRACK: TRACKS, ROUTE: ROUTES, WAYPOINT: WAYPOINTS}


def read_gpx(path: Path) -> SiteFile:
    """Read a GPX file.

    Parameters
    ----------
    path : Path
        The file, GPX 1.0 or 1.1.

    Returns
    -------
    SiteFile
        Layers `tracks`, `routes` and `waypoints`, WGS 84; heights as the receiver wrote them, in metres, NaN
        where a point has none. Each segment of a track is a line of its own (between two segments nothing was
        recorded), with the note `track-in-segments`.

    Raises
    ------
    InputError
        One sentence, for whatever is wrong with the file.
    """
    collector = FeatureCollector(path, is_geographic=True)
    walk_gpx(read_bytes(path), str(path), lambda part: _add(collector, part))
    return collector.finish(crs=GPS.crs, elevation_unit_m=GPS.elevation_unit_m)


def _add(collector: FeatureCollector, part: GpxPart) -> None:
    """Add a waypoint, a route, or each segment of a track."""
    fields = as_attributes((key, part.texts[key]) for key in sorted(FIELDS & part.texts.keys()))
    name = part.texts.get("name", "")
    many = len(part.segments) > 1
    for number, rows in enumerate(part.segments, start=1):
        which = f" segment {number}" if many else ""
        collector.add(
            f"{name or part.item}{which}" if part.kind == TRACK else name,
            POINT if part.kind == WAYPOINT else LINE,
            np.array(rows, dtype=np.float64).reshape(-1, 3),
            item=f"{part.item}{which}",
            layer=_LAYERS[part.kind],
            attributes=fields,
        )
    if many:
        message = (
            f'{part.item} "{shown(name)}" has {len(part.segments)} segments, each read as a line of its own'
        )
        collector.note("track-in-segments", message)
