"""One walk through a LandXML file for whoever reads it: unit, coordinate system, points, paths, surfaces."""

import math
from array import array
from dataclasses import dataclass, field
from typing import TypeVar

from fencewright.exchange.collect import MAX_FEATURES, refuse_too_many
from fencewright.exchange.intake import shown
from fencewright.exchange.length_units import US_SURVEY_FOOT_M
from fencewright.exchange.xml_text import walk_xml
from fencewright.findings import InputError

# `linearUnit` of <Metric> and <Imperial>; LandXML 1.2 schema, from memory.
LINEAR_UNIT_M = {
    "millimeter": 0.001,
    "centimeter": 0.01,
    "meter": 1.0,
    "kilometer": 1000.0,
    "foot": 0.3048,
    "ussurveyfoot": US_SURVEY_FOOT_M,
    "inch": 0.0254,
    "mile": 1609.344,
}
ALIGNMENT, PLAN_FEATURE, PARCEL = "alignment", "plan feature", "parcel"
_HOLDERS = {"Alignment": ALIGNMENT, "PlanFeature": PLAN_FEATURE, "Parcel": PARCEL}
_LEGS = ("Line", "IrregularLine", "Curve", "Spiral", "Chain")
_PLACES = ("Start", "End", "Center", "PI", "Location")
_LISTS = {"PntList2D": 2, "PntList3D": 3}
_FIELDS = ("code", "desc", "state")

Place = tuple[float, ...]
Part = TypeVar("Part")


@dataclass(slots=True)
class LandPoint:
    """A point: its name, northing, easting and (where it has one) height; `ref` names the one it stands for."""

    name: str
    number: int
    layer: str
    fields: dict[str, str]
    place: Place = ()
    ref: str = ""

    @property
    def item(self) -> str:
        """How a message names it: `point "12"`."""
        return f'point "{shown(self.name)}"' if self.name else f"point {self.number}"


@dataclass(slots=True)
class LandLeg:
    """A part of a path: its element, which way it turns (`cw`, `ccw`), its places by element, the points of its list.

    A place that only names a point is that name, and so is each point of a chain.
    """

    kind: str
    turns: str
    places: dict[str, Place | str] = field(default_factory=dict)
    points: list[Place | str] = field(default_factory=list)


@dataclass(slots=True)
class LandPath:
    """An alignment, plan feature or parcel: its legs, or the one place of a plan feature."""

    kind: str
    number: int
    name: str
    fields: dict[str, str]
    legs: list[LandLeg] = field(default_factory=list)
    place: Place | str = ()

    @property
    def item(self) -> str:
        """How a message names it: `alignment "north"`."""
        return f'{self.kind} "{shown(self.name)}"' if self.name else f"{self.kind} {self.number}"


@dataclass(slots=True)
class LandSurface:
    """A surface: northing, easting and height of the points of its triangles, else of what it was made from."""

    name: str
    number: int
    triangle_points: "array[float]" = field(default_factory=lambda: array("d"))
    source_points: "array[float]" = field(default_factory=lambda: array("d"))

    @property
    def item(self) -> str:
        """How a message names it: `surface "ground"`."""
        return f'surface "{shown(self.name)}"' if self.name else f"surface {self.number}"

    @property
    def points(self) -> "array[float]":
        """Northing, easting, height, point after point."""
        return self.triangle_points or self.source_points


@dataclass(slots=True)
class LandXml:
    """What a LandXML file holds, in its own unit; `unit_m` is NaN where it names none, `crs` then empty. [m]."""

    unit_m: float = math.nan
    crs: str = ""
    points: list[LandPoint] = field(default_factory=list)
    paths: list[LandPath] = field(default_factory=list)
    surfaces: list[LandSurface] = field(default_factory=list)


def walk_landxml(data: bytes, file: str) -> LandXml:
    """Walk through a LandXML file.

    Parameters
    ----------
    data : bytes
        The file, LandXML 1.0 to 2.0.
    file : str
        Its name, for messages.

    Returns
    -------
    LandXml
        Its parts, in the order of the file.

    Raises
    ------
    InputError
        It is no LandXML, is cut short or hostile, holds too much, its unit is not known, or a place is not two
        or three numbers.
    """
    walk = _Walk(file)
    walk_xml(data, file, "LandXML", "LandXML", walk)
    return walk.held


class _Walk:
    """What is open while the elements of a file open and close one after another."""

    tags = frozenset(
        {
            "Metric",
            "Imperial",
            "CoordinateSystem",
            "CgPoints",
            "CgPoint",
            "Surface",
            *_HOLDERS,
            *_LEGS,
            *_PLACES,
        }
    )
    text_tags = frozenset({"CgPoint", "P", "Chain", *_PLACES, *_LISTS})

    def __init__(self, file: str) -> None:
        self.file = file
        self.held = LandXml()
        self.count = self.legs = 0
        self.numbers = dict.fromkeys(_HOLDERS.values(), 0)
        self.layers: list[str] = []
        self.point: LandPoint | None = None
        self.surface: LandSurface | None = None
        self.path: LandPath | None = None
        self.leg: LandLeg | None = None
        self.ref = ""

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """Take note of what opens."""
        name = attributes.get("name", "").strip()
        if tag in _PLACES:
            self.ref = attributes.get("pntRef", "").strip()
        elif tag == "CgPoint":
            ref = attributes.get("pntRef", "").strip()
            layer = next((layer for layer in reversed(self.layers) if layer), "")
            self.point = LandPoint(name, len(self.held.points) + 1, layer, _fields(attributes), ref=ref)
        elif tag == "CgPoints":
            self.layers.append(name)
        elif tag == "Surface":
            self.surface = LandSurface(name, len(self.held.surfaces) + 1)
        elif tag in _HOLDERS:
            kind = _HOLDERS[tag]
            self.numbers[kind] += 1
            self.path = LandPath(kind, self.numbers[kind], name, _fields(attributes))
        elif tag in _LEGS and self.path is not None:
            self.leg = LandLeg(tag, attributes.get("rot", "ccw").strip().lower())
        elif tag in ("Metric", "Imperial"):
            self.held.unit_m = self._unit(attributes.get("linearUnit", ""))
        elif tag == "CoordinateSystem" and not self.held.crs:
            self.held.crs = _crs(attributes)

    def end(self, tag: str, text: str) -> None:
        """Use what has closed."""
        if tag == "P":
            if self.surface is not None:
                self._take(self.surface.triangle_points, self.surface, text)
        elif tag in _LISTS:
            self._close_list(tag, text)
        elif tag == "CgPoint":
            self._close_point(text)
        elif tag in _PLACES:
            self._close_place(tag, text)
        elif tag in _LEGS:
            self._close_leg(text)
        elif tag in _HOLDERS:
            self._keep(self.held.paths, self.path)
            self.path = None
        elif tag == "Surface":
            self._keep(self.held.surfaces, self.surface)
            self.surface = None
        elif tag == "CgPoints":
            self.layers.pop()

    def _take(self, into: "array[float]", surface: LandSurface, text: str) -> None:
        """Take one point of a surface."""
        place = self._place(text, f"{surface.item}, point {len(into) // 3 + 1}")
        if len(place) != 3:
            what = "a point of a surface is three numbers: northing, easting and elevation"
            raise InputError(what, file=self.file, item=f"{surface.item}, point {len(into) // 3 + 1}")
        into.extend(place)

    def _close_list(self, tag: str, text: str) -> None:
        """Take the points of a list: of a leg, or of what a surface was made from."""
        width = _LISTS[tag]
        holder = self.path if self.leg is not None else self.surface
        if holder is None or (self.leg is None and width == 2):
            return
        cells = text.split()
        if len(cells) % width:
            what = f"it has {len(cells)} numbers in a list of points of {width} numbers each"
            raise InputError(what, file=self.file, item=holder.item)
        rows = [" ".join(cells[first : first + width]) for first in range(0, len(cells), width)]
        if self.leg is not None:
            self.leg.points += [self._place(row, f"{holder.item}, a list of points") for row in rows]
        elif self.surface is not None:
            for row in rows:
                self._take(self.surface.source_points, self.surface, row)

    def _close_point(self, text: str) -> None:
        point, self.point = self.point, None
        if point is None:
            return
        if text.strip() or not point.ref:
            point.place = self._place(text, point.item)
        self._keep(self.held.points, point)

    def _close_place(self, tag: str, text: str) -> None:
        ref, self.ref = self.ref, ""
        if self.path is None or (self.leg is None) != (tag == "Location"):
            return
        place = ref if ref and not text.strip() else self._place(text, f"{self.path.item}, {tag}")
        if self.leg is None:
            self.path.place = place
        else:
            self.leg.places[tag] = place

    def _close_leg(self, text: str) -> None:
        if self.path is not None and self.leg is not None:
            if self.leg.kind == "Chain":
                self.leg.points += text.split()
                self._bound(len(self.leg.points))
            self.path.legs.append(self.leg)
            self.legs += 1
            self._refuse_many(self.legs)
        self.leg = None

    def _place(self, text: str, item: str) -> Place:
        """Read northing, easting and perhaps height."""
        self._bound(1)
        try:
            place = tuple(float(cell) for cell in text.split())
        except ValueError as error:
            what = f'"{shown(text)}" is no place: it is northing, easting and elevation as numbers'
            raise InputError(what, file=self.file, item=item) from error
        if len(place) not in (2, 3):
            what = f"a place is northing, easting and perhaps elevation, not {len(place)} numbers"
            raise InputError(what, file=self.file, item=item)
        return place

    def _bound(self, more: int) -> None:
        self.count += more
        refuse_too_many(self.count, self.file)

    def _keep(self, parts: list[Part], part: Part | None) -> None:
        """Keep a part that closes, unless there are too many."""
        if part is None:
            return
        parts.append(part)
        self._refuse_many(len(parts))

    def _refuse_many(self, count: int) -> None:
        if count > MAX_FEATURES:
            what = f"it has more than {MAX_FEATURES:,} features: trim it to the site"
            raise InputError(what, file=self.file)

    def _unit(self, name: str) -> float:
        if name.strip().lower() not in LINEAR_UNIT_M:
            what = f'its linear unit "{shown(name)}" is not known: export it in meter, foot or USSurveyFoot'
            raise InputError(what, file=self.file)
        return LINEAR_UNIT_M[name.strip().lower()]


def _fields(attributes: dict[str, str]) -> dict[str, str]:
    return {name: attributes[name] for name in _FIELDS if name in attributes}


def _crs(attributes: dict[str, str]) -> str:
    """Coordinate system as pyproj reads it; empty where only a program's own name for it is given."""
    code = attributes.get("epsgCode", "").strip().upper().removeprefix("EPSG:").strip()
    if code.strip("0"):
        return f"EPSG:{code}"
    return attributes.get("ogcWktCode", "").strip()
