"""A drawing as plain records in paper metres; writers turn it into SVG or another format.

x runs right and y runs up from the lower left corner of the sheet; angles are counter-clockwise. Each
primitive names a style of `look.STYLES`; nothing here knows colours or fences.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from fencewright.sheets.letters import text_width_em

XY = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Polyline:
    """An open or closed line through `points` [m]."""

    points: tuple[XY, ...]
    style: str
    is_closed: bool = False


@dataclass(frozen=True, slots=True)
class Polygon:
    """A filled area bounded by `rings` [m]; a ring within another is a hole."""

    rings: tuple[tuple[XY, ...], ...]
    style: str


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle about `x_m`, `y_m` [m]."""

    x_m: float
    y_m: float
    radius_m: float
    style: str


@dataclass(frozen=True, slots=True)
class Symbol:
    """A mark of `symbols.SYMBOLS`, `size_m` across [m], turned by `rotation_rad` [rad]."""

    name: str
    x_m: float
    y_m: float
    size_m: float
    rotation_rad: float = 0.0


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text.

    `x_m`, `y_m` its anchor, at half the height of a capital [m]; `height_m` the letter size [m]; `anchor`
    `start`, `middle` or `end`; `rotation_rad` about the anchor [rad].
    """

    x_m: float
    y_m: float
    text: str
    style: str
    height_m: float
    anchor: str = "start"
    rotation_rad: float = 0.0

    @property
    def width_m(self) -> float:
        """Estimate of its length on paper, for the widest usual sans serif face. [m]."""
        return text_width_em(self.text) * self.height_m


Item = Polyline | Polygon | Circle | Symbol | Text


@dataclass(frozen=True, slots=True)
class Layer:
    """Primitives that belong together, drawn in order; `title` says what they show."""

    name: str
    title: str
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing on one or more pages stacked downward.

    Attributes
    ----------
    title, description : str
        For people who cannot see it.
    width_m, height_m : float
        Of all pages together, on paper. [m]
    page_height_m : float
        Of one page. [m]
    paper : str
        `Letter landscape`, `A4 landscape`, ...
    scale : float
        Metres on the ground for one metre on paper, along x. [-]
    layers : tuple of Layer
        Lowest first.
    dropped_labels : int
        Labels for which there was no room; the sheet says so too.
    phone : Picture, optional
        The same drawn narrow and tall, for a small screen.
    """

    title: str
    description: str
    width_m: float
    height_m: float
    page_height_m: float
    paper: str
    scale: float
    layers: tuple[Layer, ...]
    dropped_labels: int = 0
    phone: "Picture | None" = None

    @property
    def pages(self) -> int:
        """Number of pages."""
        return max(1, round(self.height_m / self.page_height_m))

    def items(self) -> Iterator[Item]:
        """Every primitive, lowest layer first."""
        for layer in self.layers:
            yield from layer.items

    def texts(self) -> tuple[str, ...]:
        """Every text on the sheet, in drawing order."""
        return tuple(item.text for item in self.items() if isinstance(item, Text))


def line_of(points: Iterable[XY], style: str, *, is_closed: bool = False) -> Polyline:
    """Give a polyline from any points [m]."""
    return Polyline(tuple((float(x), float(y)) for x, y in points), style, is_closed)


def box_of(left_m: float, low_m: float, right_m: float, high_m: float, style: str) -> Polygon:
    """Give an upright rectangle [m]."""
    return Polygon((((left_m, low_m), (right_m, low_m), (right_m, high_m), (left_m, high_m)),), style)


def arc_points(centre: XY, radius_m: float, from_rad: float, to_rad: float) -> tuple[XY, ...]:
    """Points along an arc, ends included, about every 5 degrees [m, rad]."""
    steps = max(2, math.ceil(abs(to_rad - from_rad) / math.radians(5)))
    angles = (from_rad + (to_rad - from_rad) * k / steps for k in range(steps + 1))
    return tuple((centre[0] + radius_m * math.cos(a), centre[1] + radius_m * math.sin(a)) for a in angles)


def readable(turn_rad: float) -> float:
    """Give a direction or its opposite, so that text along it reads from below or from the right [rad]."""
    turn_rad = math.remainder(turn_rad, 2 * math.pi)
    if turn_rad > math.pi / 2 + 1e-6:
        return turn_rad - math.pi
    return turn_rad + math.pi if turn_rad <= -math.pi / 2 + 1e-6 else turn_rad
