"""One walk through a GPX file for whoever reads it: its tracks, routes and waypoints, in the file's order."""

import math
from collections.abc import Callable
from dataclasses import dataclass, field

from fencewright.exchange.xml_text import walk_xml
from fencewright.findings import InputError

TRACK = "track"
ROUTE = "route"
WAYPOINT = "waypoint"
FIELDS = frozenset({"cmt", "desc", "src", "type", "number", "sym", "fix"})
_TEXTS = frozenset({"ele", "name", *FIELDS})
_PARTS = {"trk": TRACK, "rte": ROUTE, "wpt": WAYPOINT}
_POINTS = ("trkpt", "rtept", "wpt")

Rows = list[tuple[float, float, float]]


@dataclass(slots=True)
class GpxPart:
    """A track, route or waypoint: its number among its kind, its own texts by element, its points.

    `segments` hold longitude and latitude in degrees and height in metres, NaN where a point has none; a
    route and a waypoint have one.
    """

    kind: str
    number: int
    texts: dict[str, str] = field(default_factory=dict)
    segments: list[Rows] = field(default_factory=list)

    @property
    def item(self) -> str:
        """How a message names it: `track 2`."""
        return f"{self.kind} {self.number}"


def walk_gpx(data: bytes, file: str, take: Callable[[GpxPart], None]) -> None:
    """Give each part of a GPX file as it closes.

    Parameters
    ----------
    data : bytes
        The file, GPX 1.0 or 1.1.
    file : str
        Its name, for messages.
    take : callable
        Called with each part.

    Raises
    ------
    InputError
        It is no GPX, is cut short or hostile, a point lacks its place, or a value is no number; or what
        `take` raises.
    """
    walk_xml(data, file, "gpx", "GPX", _Walk(file, take))


class _Walk:
    """What is open while the elements of a file open and close one after another."""

    tags = frozenset({*_PARTS, *_POINTS, "trkseg"})
    text_tags = _TEXTS

    def __init__(self, file: str, take: Callable[[GpxPart], None]) -> None:
        self.file = file
        self.take = take
        self.counts = dict.fromkeys(_PARTS.values(), 0)
        self.part: GpxPart | None = None
        self.rows: Rows = []
        self.place: dict[str, str] | None = None  # attributes of the point that is open
        self.height = ""

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """Take note of what opens."""
        if tag in _PARTS:
            kind = _PARTS[tag]
            self.counts[kind] += 1
            self.part, self.rows = GpxPart(kind, self.counts[kind]), []
        if tag in _POINTS:
            self.place, self.height = attributes, ""

    def end(self, tag: str, text: str) -> None:
        """Use what has closed."""
        part = self.part
        if tag == "ele":
            self.height = text
        elif part is None:
            return
        elif tag in _TEXTS:
            if self.place is None or part.kind == WAYPOINT:
                part.texts.setdefault(tag, text)
        else:
            self._close(tag, part)

    def _close(self, tag: str, part: GpxPart) -> None:
        if tag in _POINTS:
            self.rows.append(self._row(part))
            self.place = None
        if tag in ("trkseg", "rte", "wpt"):
            part.segments.append(self.rows)
            self.rows = []
        if tag in _PARTS:
            self.take(part)
            self.part = None

    def _row(self, part: GpxPart) -> tuple[float, float, float]:
        """Longitude, latitude and height of the point that closes."""
        place = self.place or {}
        try:
            height = float(self.height) if self.height.strip() else math.nan
            return float(place["lon"]), float(place["lat"]), height
        except (KeyError, ValueError) as error:
            number = f", point {len(self.rows) + 1}" if part.kind != WAYPOINT else ""
            what = (
                f"it has no {error.args[0]}"
                if isinstance(error, KeyError)
                else "its lat, lon or ele is no number"
            )
            raise InputError(what, file=self.file, item=f"{part.item}{number}") from error
