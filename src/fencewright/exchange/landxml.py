"""LandXML: points, alignments, plan features and parcels; its surfaces are ground."""

import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.arcs import Chords, arc_points
from fencewright.exchange.collect import FeatureCollector
from fencewright.exchange.crs_text import FileCrs, read_crs
from fencewright.exchange.fields import as_attributes
from fencewright.exchange.intake import read_bytes, shown
from fencewright.exchange.landxml_walk import (
    ALIGNMENT,
    PARCEL,
    PLAN_FEATURE,
    LandLeg,
    LandPath,
    LandXml,
    Place,
    walk_landxml,
)
from fencewright.exchange.records import LINE, POINT, SiteFile
from fencewright.findings import InputError

_LAYERS = {ALIGNMENT: "alignments", PLAN_FEATURE: "plan features", PARCEL: "parcels"}
_POINTS = "points"
_JOINED_M = 0.01  # legs whose ends lie no farther apart are one line
_SAME_FOOT = 1e-5  # the two feet differ by 2 parts in a million
_UNLIKE_RADII = 0.01
_MOST_REFERENCES = 20

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class LandPlane:
    """How a file's numbers become coordinates: its system, and what they are multiplied by to be in its unit."""

    crs: FileCrs
    factor: float
    unit_m: float


def read_landxml(path: Path) -> SiteFile:
    """Read points and lines of a LandXML file.

    Parameters
    ----------
    path : Path
        The file, LandXML 1.0 to 2.0.

    Returns
    -------
    SiteFile
        Layers `alignments`, `plan features`, `parcels`, and `points` (or the name of their group), east before
        north though the file has it the other way round. Lines, chains, irregular lines and arcs are drawn as
        they are; a spiral, or an arc without its centre, as its chord, with a finding. A path with a gap is as
        many lines. The unit is that of `<Units>`, the system that of `epsgCode` or `ogcWktCode`. Where the unit
        is one foot and the system's the other, the numbers are the system's.

    Raises
    ------
    InputError
        One sentence, for whatever is wrong with the file.
    """
    file = str(path)
    held = walk_landxml(read_bytes(path), file)
    plane = land_plane(held, file)
    collector = FeatureCollector(path, is_geographic=plane.crs.is_geographic)
    drawing = _Drawing(collector, plane, _named_places(held))
    for one in held.paths:
        drawing.add_path(one)
    for point in held.points:
        if point.place:  # else it only lists another
            fields = as_attributes(point.fields)
            rows = drawing.columns([point.place])
            layer = point.layer or _POINTS
            collector.add(point.name, POINT, rows, item=point.item, layer=layer, attributes=fields)
    return collector.finish(crs=plane.crs.crs, unit_m=plane.unit_m, elevation_unit_m=plane.unit_m)


def land_plane(held: LandXml, file: str) -> LandPlane:
    """Tell how a file's numbers become coordinates of its system.

    Parameters
    ----------
    held : LandXml
        The file.
    file : str
        Its name, for messages.

    Returns
    -------
    LandPlane
        `unit_m` is that of what comes out, NaN where nothing says it or in degrees.

    Raises
    ------
    InputError
        Its coordinate system is unknown.
    """
    crs = read_crs(held.crs, file)
    if crs.is_geographic:
        return LandPlane(crs, 1.0, math.nan)
    if not crs.crs:
        return LandPlane(crs, 1.0, held.unit_m)
    factor = held.unit_m / crs.unit_m if math.isfinite(held.unit_m) else 1.0
    factor = 1.0 if abs(factor - 1.0) < _SAME_FOOT else factor
    return LandPlane(crs, factor, crs.unit_m)


def _named_places(held: LandXml) -> dict[str, Place]:
    """Places of points by name; one that stands for another has that one's."""
    stated = {point.name: point for point in held.points if point.name}
    places: dict[str, Place] = {}
    for name, point in stated.items():
        for _ in range(_MOST_REFERENCES):
            if point.place or point.ref not in stated:
                break
            point = stated[point.ref]
        if point.place:
            places[name] = point.place
    return places


@dataclass(frozen=True, slots=True, eq=False)
class _Drawing:
    """Where paths are drawn: what collects them, the plane, and the places of named points."""

    collector: FeatureCollector
    plane: LandPlane
    named: dict[str, Place]

    def place(self, given: Place | str, item: str) -> Place:
        """Give a place, or that of the point that is named."""
        if not isinstance(given, str):
            return given
        if given not in self.named:
            what = f'there is no point "{shown(given)}" with a place of its own'
            raise InputError(what, file=self.collector.file, item=item)
        return self.named[given]

    def columns(self, places: list[Place]) -> Floats:
        """East, north and height (points, 3) in the unit of the plane."""
        rows = np.full((len(places), 3), math.nan)
        for number, place in enumerate(places):
            rows[number, : len(place)] = place
        rows[:, :2] = rows[:, 1::-1]
        return rows * self.plane.factor

    def add_path(self, path: LandPath) -> None:
        """Add an alignment, plan feature or parcel."""
        fields = as_attributes(path.fields)
        if path.place:
            rows = self.columns([self.place(path.place, path.item)])
            layer = _LAYERS[path.kind]
            self.collector.add(path.name, POINT, rows, item=path.item, layer=layer, attributes=fields)
        parts: list[list[Floats]] = []
        for leg in path.legs:
            rows = self._leg(leg, path.item)
            if not len(rows):
                continue
            if parts and self._meets(parts[-1][-1], rows):
                parts[-1].append(rows[1:] if len(rows) > 1 else rows)
            else:
                parts.append([rows])
        if not parts and not path.place:
            self.collector.leave_out(f"{path.kind} without geometry")
        for number, part in enumerate(parts, start=1):
            which = f" part {number}" if len(parts) > 1 else ""
            rows = self._closed(np.concatenate(part))
            self.collector.add(
                f"{path.name or path.item}{which}",
                LINE,
                rows,
                item=f"{path.item}{which}",
                layer=_LAYERS[path.kind],
                attributes=fields,
            )

    def _joined(self) -> float:
        return _JOINED_M / self.plane.unit_m if math.isfinite(self.plane.unit_m) else _JOINED_M

    def _meets(self, before: Floats, rows: Floats) -> bool:
        limit = 1e-7 if self.plane.crs.is_geographic else self._joined()
        return bool(np.hypot(*(before[-1, :2] - rows[0, :2])) <= limit)

    def _closed(self, rows: Floats) -> Floats:
        """Let a line end where it began, where it ends beside it."""
        if len(rows) > 3 and self._meets(rows, rows):
            rows = rows.copy()
            rows[-1, :2] = rows[0, :2]
        return rows

    def _leg(self, leg: LandLeg, item: str) -> Floats:
        """Points of a leg (points, 3)."""
        start, end = (self._end(leg, name, item) for name in ("Start", "End"))
        if leg.kind == "Curve" and start and end:
            return self._arc(leg, start, end, item)
        if leg.kind == "Spiral":
            self.collector.leave_out("bend of a spiral, which is drawn straight,")
        between = [self.place(one, item) for one in leg.points]
        if start and between[:1] == [start]:
            between = between[1:]
        return self.columns([*([start] if start else []), *between, *([end] if end else [])])

    def _end(self, leg: LandLeg, name: str, item: str) -> Place:
        if name in leg.places:
            return self.place(leg.places[name], item)
        if leg.kind in ("Line", "Curve", "Spiral"):
            what = f"a {leg.kind} of it has no {name}"
            raise InputError(what, file=self.collector.file, item=item)
        return ()

    def _arc(self, leg: LandLeg, start: Place, end: Place, item: str) -> Floats:
        """Points of an arc about its centre, by the way that it turns."""
        ends = self.columns([start, end])
        if "Center" not in leg.places or self.plane.crs.is_geographic:
            about = "in degrees" if self.plane.crs.is_geographic else "without its centre"
            self.collector.leave_out(f"bend of an arc {about}, which is drawn straight,")
            return ends
        center = self.columns([self.place(leg.places["Center"], item)])[0, :2]
        self.collector.check(np.vstack([ends[:, :2], center]), item)
        arms = ends[:, :2] - center
        radii = np.hypot(*arms.T)
        radius = float(radii.mean())
        if not radius > 0.0 or abs(radii[0] - radii[1]) > _UNLIKE_RADII * radius:
            what = "the ends of an arc lie at unlike distances from its centre: export it again"
            raise InputError(what, file=self.collector.file, item=item)
        first, last = np.arctan2(arms[:, 1], arms[:, 0]).tolist()
        turn = (last - first) % (2 * math.pi)
        if leg.turns == "cw":
            turn = turn - 2 * math.pi
        drawn = arc_points(center, radius, first, turn, Chords.of_rails(self.plane.unit_m))
        rows = np.column_stack([drawn, np.full(len(drawn), math.nan)])
        rows[0], rows[-1] = ends
        return rows
