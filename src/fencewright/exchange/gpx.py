"""GPX: tracks, routes and waypoints, with their heights."""

import math
from pathlib import Path

import numpy as np

from fencewright.exchange.collect import FeatureCollector
from fencewright.exchange.crs_text import GPS
from fencewright.exchange.fields import as_attributes
from fencewright.exchange.intake import read_bytes, shown
from fencewright.exchange.records import LINE, POINT, SiteFile
from fencewright.exchange.xml_text import walk_xml
from fencewright.findings import InputError

TRACKS = "tracks"
ROUTES = "routes"
WAYPOINTS = "waypoints"
_FIELDS = {"cmt", "desc", "src", "type", "number", "sym", "fix"}
_TEXTS = frozenset({"ele", "name", *_FIELDS})
_KINDS = {"trkpt": "track", "trk": "track", "rtept": "route", "rte": "route", "wpt": "waypoint"}

Rows = list[tuple[float, float, float]]


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
    reading = _Reading(FeatureCollector(path, is_geographic=True))
    walk_xml(read_bytes(path), str(path), "gpx", "GPX", reading)
    return reading.collector.finish(crs=GPS.crs, elevation_unit_m=GPS.elevation_unit_m)


class _Reading:
    """Points gathered so far, while the elements of a file open and close one after another."""

    tags = frozenset({"trkpt", "rtept", "wpt", "trkseg", "trk", "rte"})
    text_tags = _TEXTS

    def __init__(self, collector: FeatureCollector) -> None:
        self.collector = collector
        self.rows: Rows = []
        self.segments: list[Rows] = []
        self.counts = {"track": 0, "route": 0, "waypoint": 0}
        self.place: dict[str, str] | None = None  # attributes of the point that is open
        self.height = ""
        self.texts: dict[str, str] = {}  # of the track, route or waypoint that is open
        self.ends = {"trkseg": self._segment, "trk": self._track, "rte": self._route, "wpt": self._waypoint}

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """Take note of what opens."""
        if tag in ("trkpt", "rtept", "wpt"):
            self.place, self.height = attributes, ""
        if tag in ("trk", "rte", "wpt"):
            self.texts = {}
            self.rows = []
            self.counts[_KINDS[tag]] += 1

    def end(self, tag: str, text: str) -> None:
        """Use what has closed."""
        if tag == "ele":
            self.height = text
        elif tag in ("trkpt", "rtept"):
            self.rows.append(self._row(_KINDS[tag]))
            self.place = None
        elif tag in self.ends:
            self.ends[tag]()
        elif tag in _TEXTS and (self.place is None or not self.rows):
            self.texts.setdefault(tag, text)

    def _segment(self) -> None:
        self.segments.append(self.rows)
        self.rows = []

    def _track(self) -> None:
        item, name, fields = self._label("track")
        many = len(self.segments) > 1
        for number, rows in enumerate(self.segments, start=1):
            part = f" segment {number}" if many else ""
            self._add_line(rows, f"{name or item}{part}", f"{item}{part}", TRACKS, fields)
        if many:
            message = (
                f'{item} "{shown(name)}" has {len(self.segments)} segments, each read as a line of its own'
            )
            self.collector.note("track-in-segments", message)
        self.segments = []

    def _route(self) -> None:
        item, name, fields = self._label("route")
        self._add_line(self.rows, name, item, ROUTES, fields)
        self.rows = []

    def _waypoint(self) -> None:
        item, name, fields = self._label("waypoint")
        points = np.array([self._row("waypoint")], dtype=np.float64)
        self.collector.add(name, POINT, points, item=item, layer=WAYPOINTS, attributes=fields)
        self.place = None

    def _add_line(self, rows: Rows, name: str, item: str, layer: str, fields: dict[str, str]) -> None:
        points = np.array(rows, dtype=np.float64).reshape(-1, 3)
        self.collector.add(name, LINE, points, item=item, layer=layer, attributes=fields)

    def _label(self, kind: str) -> tuple[str, str, dict[str, str]]:
        fields = as_attributes((key, self.texts[key]) for key in sorted(_FIELDS & self.texts.keys()))
        return f"{kind} {self.counts[kind]}", self.texts.get("name", ""), fields

    def _row(self, kind: str) -> tuple[float, float, float]:
        """Longitude, latitude and height of the point that closes."""
        place = self.place or {}
        try:
            height = float(self.height) if self.height.strip() else math.nan
            return float(place["lon"]), float(place["lat"]), height
        except (KeyError, ValueError) as error:
            number = f", point {len(self.rows) + 1}" if kind != "waypoint" else ""
            missing = isinstance(error, KeyError)
            what = f"it has no {error.args[0]}" if missing else "its lat, lon or ele is no number"
            item = f"{kind} {self.counts[kind]}{number}"
            raise InputError(what, file=self.collector.file, item=item) from error
