"""The plan's obstacles: what lies there, the clearance about it, and its name."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import shapely
from shapely.geometry.base import BaseGeometry

from fencewright.quantity.show import UnitSystem
from fencewright.sheets.frame import LegendEntry
from fencewright.sheets.labels import Box, Wanted, line_boxes, places_around
from fencewright.sheets.letters import shorten
from fencewright.sheets.look import code_colour, obstacle_style
from fencewright.sheets.picture import (
    XY,
    Circle,
    Item,
    Polygon,
    Polyline,
    Symbol,
    Text,
    box_of,
    line_of,
    readable,
)
from fencewright.sheets.plan_view import View
from fencewright.site.features import SiteObstacle
from fencewright.site.letters import obstacle_letter

_LETTER_EVERY_M = 0.04
_LABEL_M = 0.0022


@dataclass(frozen=True, slots=True)
class SiteMarks:
    """Clearance bands, the obstacles themselves, letters along them, what labels keep off, labels wanted."""

    bands: tuple[Item, ...]
    things: tuple[Item, ...]
    taken: tuple[Box, ...]
    wanted: tuple[Wanted, ...]
    shown: tuple[SiteObstacle, ...]


def _shape(obstacle: SiteObstacle, view: View) -> BaseGeometry:
    points = view.points(obstacle.xy_m)
    if obstacle.geometry == "point" or len(points) == 1:
        return shapely.Point(points[0])
    if obstacle.geometry == "polygon" and len(points) >= 3:
        return shapely.make_valid(shapely.Polygon(points))
    return shapely.LineString(points)


def _polygons(shape: BaseGeometry, style: str) -> Iterator[Polygon]:
    for part in shapely.get_parts(shape):
        if isinstance(part, shapely.Polygon) and not part.is_empty:
            rings = [part.exterior, *part.interiors]
            yield Polygon(tuple(tuple((x, y) for x, y, *_ in ring.coords[:-1]) for ring in rings), style)


def _lines(shape: BaseGeometry, style: str) -> Iterator[Polyline]:
    for part in shapely.get_parts(shape):
        if isinstance(part, shapely.LineString) and not part.is_empty:
            yield line_of(((x, y) for x, y, *_ in part.coords), style)


def _style(obstacle: SiteObstacle, part: str) -> str:
    colour = code_colour(obstacle)
    return obstacle_style(obstacle.kind.replace("|", "/"), colour, part)


def _letters(line: Polyline, letter: str, style: str) -> Iterator[Text]:
    """Write the service's letter along its line, upright enough to read."""
    path = shapely.LineString(line.points)
    count = max(1, round(path.length / _LETTER_EVERY_M))
    for k in range(count):
        at = path.length * (k + 0.5) / count
        spot, ahead = path.interpolate(at), path.interpolate(min(at + 1e-4, path.length))
        turn = readable(math.atan2(ahead.y - spot.y, ahead.x - spot.x))
        yield Text(spot.x, spot.y, letter, style, 0.0024, "middle", turn)


def _point_marks(obstacle: SiteObstacle, shape: shapely.Point, view: View) -> list[Item]:
    size = max(2 * obstacle.radius_m / view.scale, 0.0022)
    if obstacle.kind in ("tree", "rock"):
        return [Symbol(obstacle.kind, shape.x, shape.y, size)]
    return [Circle(shape.x, shape.y, size / 2, _style(obstacle, "area"))]


def _things(obstacle: SiteObstacle, seen: BaseGeometry, view: View) -> list[Item]:
    if isinstance(seen, shapely.Point):
        return _point_marks(obstacle, seen, view)
    if obstacle.geometry == "polygon":
        return list(_polygons(seen, _style(obstacle, "area")))
    lines = list(_lines(seen, _style(obstacle, "line")))
    letter = obstacle_letter(obstacle.kind)
    letters = [text for line in lines for text in _letters(line, letter, _style(obstacle, "text")) if letter]
    return [*lines, *letters]


def obstacle_name(obstacle: SiteObstacle, units: UnitSystem) -> str:
    """Name or kind of an obstacle, with its clearance."""
    name = shorten(obstacle.name or obstacle.kind, 28.0)
    if obstacle.kind not in name.lower():
        name = f"{name} ({obstacle.kind})"
    return f"{name}, keep {units.small(obstacle.clearance_m)} clear" if obstacle.clearance_m > 0 else name


def _label_spots(seen: BaseGeometry) -> list[XY]:
    if isinstance(seen, shapely.Point):
        return [(seen.x, seen.y)]
    if seen.area > 0:
        spot = seen.representative_point()
        return [(spot.x, spot.y)]
    longest = max(shapely.get_parts(seen), key=lambda part: part.length)
    spots = (longest.interpolate(t, normalized=True) for t in (0.5, 0.3, 0.7, 0.15, 0.85, 0.05, 0.95))
    return [(spot.x, spot.y) for spot in spots]


def _wanted(obstacle: SiteObstacle, seen: BaseGeometry, units: UnitSystem) -> Wanted:
    """Name an obstacle, by its bare name where there is no room for more."""
    spots = _label_spots(seen)
    places: list[Text] = []
    for words in (obstacle_name(obstacle, units), shorten(obstacle.name or obstacle.kind, 20.0)):
        text = Text(0.0, 0.0, words, _style(obstacle, "text"), _LABEL_M)
        places += [replace(text, x_m=x, y_m=y, anchor="middle") for x, y in spots if seen.area > 0]
        places += [place for spot in spots for place in places_around(spot, text, 0.0022)]
    return Wanted(tuple(places), spots[0], 0.012 if len(spots) == 1 else math.inf)


def draw_obstacles(obstacles: tuple[SiteObstacle, ...], view: View, units: UnitSystem) -> SiteMarks:
    """Draw what lies within the plan's frame.

    Parameters
    ----------
    obstacles : tuple of SiteObstacle
        In job order.
    view : View
        Of the plan.
    units : UnitSystem
        Of the sheet.

    Returns
    -------
    SiteMarks
        Empty where nothing lies in the frame.
    """
    window = shapely.box(*view.frame)
    bands: list[Item] = []
    things: list[Item] = []
    taken: list[Box] = []
    wanted: list[Wanted] = []
    shown: list[SiteObstacle] = []
    for obstacle in obstacles:
        shape = _shape(obstacle, view)
        seen = shape.intersection(window)
        if seen.is_empty:
            continue
        shown.append(obstacle)
        reach_m = (obstacle.clearance_m + obstacle.radius_m) / view.scale
        if obstacle.clearance_m > 0:
            band = shape.buffer(reach_m).difference(shape).intersection(window)
            bands += _polygons(band, _style(obstacle, "band"))
        marks = _things(obstacle, seen, view)
        things += marks
        wanted.append(_wanted(obstacle, seen, units))
        for mark in marks:
            if isinstance(mark, Polyline):
                taken += line_boxes(mark.points, 0.0003, is_soft=True)
            elif isinstance(mark, Symbol):
                taken.append(Box(mark.x_m, mark.y_m, mark.size_m / 2, mark.size_m / 2))
    return SiteMarks(tuple(bands), tuple(things), tuple(taken), tuple(wanted), tuple(shown))


def _swatch(obstacle: SiteObstacle) -> tuple[Item, ...]:
    line, letter = _style(obstacle, "line"), obstacle_letter(obstacle.kind)
    if obstacle.kind in ("tree", "rock"):
        return (Symbol(obstacle.kind, 0.0, 0.0, 0.0026),)
    if obstacle.geometry == "polygon":
        return (box_of(-0.003, -0.0011, 0.003, 0.0011, _style(obstacle, "area")),)
    mark = (Text(0.0, 0.0, letter, _style(obstacle, "text"), 0.0022, "middle"),) if letter else ()
    return (line_of(((-0.004, 0.0), (0.004, 0.0)), line), *mark)


def obstacle_legend(shown: tuple[SiteObstacle, ...]) -> list[LegendEntry]:
    """One entry a kind, and one for the clearance."""
    kinds = {obstacle.kind: obstacle for obstacle in reversed(shown)}
    entries = [LegendEntry(_swatch(kinds[kind]), kind) for kind in sorted(kinds)]
    first = next((obstacle for obstacle in shown if obstacle.clearance_m > 0), None)
    if first is not None:
        band = box_of(-0.004, -0.0012, 0.004, 0.0012, _style(first, "band"))
        entries.append(LegendEntry((band,), "clearance: no hole in it"))
    return entries
