"""The marks on the sheets: each post role has its own shape, so that none needs a colour.

A mark is a few polygons, circles and lines in a square from -0.5 to 0.5.
"""

import math
from collections.abc import Iterator, Mapping
from types import MappingProxyType

from fencewright.sheets.picture import XY, Circle, Polygon, Polyline, Symbol
from fencewright.tables.fence import Role

Shape = Polyline | Polygon | Circle


def _regular(sides: int, radius: float, turn_rad: float, style: str) -> Polygon:
    angles = [turn_rad + 2 * math.pi * k / sides for k in range(sides)]
    return Polygon((tuple((radius * math.cos(a), radius * math.sin(a)) for a in angles),), style)


_SQUARE = ((-0.4, -0.4), (0.4, -0.4), (0.4, 0.4), (-0.4, 0.4))
_HALF = ((-0.4, -0.4), (0.4, -0.4), (0.4, 0.4))

SYMBOLS: Mapping[str, tuple[Shape, ...]] = MappingProxyType(
    {
        "post-end": (Polygon((_SQUARE,), "mark-solid"),),
        "post-corner": (Polygon((_SQUARE,), "mark"), Polygon((_HALF,), "mark-solid")),
        "post-gate": (_regular(4, 0.5, 0.0, "mark-solid"),),
        "post-bend": (_regular(3, 0.5, math.pi / 2, "mark"),),
        "post-strain": (
            Polygon((_SQUARE,), "mark"),
            Polyline(((-0.4, -0.4), (0.4, 0.4)), "mark-line"),
            Polyline(((-0.4, 0.4), (0.4, -0.4)), "mark-line"),
        ),
        "post-tee": (_regular(3, 0.5, -math.pi / 2, "mark-solid"),),
        "post-crossing": (_regular(4, 0.5, 0.0, "mark"), Circle(0.0, 0.0, 0.1, "mark-solid")),
        "post-line": (Circle(0.0, 0.0, 0.3, "mark"),),
        "post-dot": (Circle(0.0, 0.0, 0.5, "mark-solid"),),
        "post-brace": (Circle(0.0, 0.0, 0.3, "mark-solid"),),
        "brace-foot": (
            Polyline(((-0.4, 0.0), (0.4, 0.0)), "brace-foot"),
            Polyline(((0.0, -0.4), (0.0, 0.4)), "brace-foot"),
            Circle(0.0, 0.0, 0.22, "mark"),
        ),
        "clash": (
            Circle(0.0, 0.0, 0.45, "accent-open"),
            Polyline(((-0.2, -0.2), (0.2, 0.2)), "accent-line"),
            Polyline(((-0.2, 0.2), (0.2, -0.2)), "accent-line"),
        ),
        "long": (_regular(3, 0.4, math.pi / 2, "accent-open"),),
        "control": (_regular(3, 0.4, math.pi / 2, "accent-solid"),),
        "uplift": (
            Polyline(((0.0, -0.5), (0.0, 0.2)), "uplift"),
            Polygon((((-0.22, 0.1), (0.22, 0.1), (0.0, 0.5)),), "accent-solid"),
        ),
        "tensioner": (
            Circle(0.0, 0.0, 0.45, "mark"),
            Circle(0.0, 0.0, 0.2, "mark-solid"),
            Polyline(((0.0, 0.45), (0.0, 0.75)), "mark-line"),
        ),
        "anchor": (
            Polyline(((0.0, -0.5), (0.0, 0.5)), "mark-line"),
            Polyline(((-0.4, -0.15), (-0.25, -0.45), (0.0, -0.5), (0.25, -0.45), (0.4, -0.15)), "mark-line"),
            Circle(0.0, 0.4, 0.14, "mark"),
        ),
        "use-low": (Circle(0.0, 0.0, 0.3, "use-low"),),
        "use-mid": (Circle(0.0, 0.0, 0.4, "use-mid"), Circle(0.0, 0.0, 0.08, "mark-solid")),
        "use-high": (_regular(3, 0.58, math.pi / 2, "use-high"),),
        "use-over": (
            Polygon((_SQUARE,), "use-over"),
            Polyline(((-0.3, -0.3), (0.3, 0.3)), "use-over-line"),
            Polyline(((-0.3, 0.3), (0.3, -0.3)), "use-over-line"),
        ),
        "tree": (Circle(0.0, 0.0, 0.45, "mark-line"), Circle(0.0, 0.0, 0.12, "mark-solid")),
        "rock": (
            _regular(5, 0.45, 0.3, "mark-line"),
            Polyline(((-0.2, 0.05), (0.0, -0.15), (0.2, 0.1)), "mark-line"),
        ),
        "north": (
            Polygon((((0.0, 0.5), (-0.22, -0.5), (0.0, -0.28)),), "mark-solid"),
            Polygon((((0.0, 0.5), (0.22, -0.5), (0.0, -0.28)),), "mark"),
        ),
    }
)

POST_SIZE_M = 0.0026
LINE_POST_SIZE_M = 0.0018


def post_symbol(role: int) -> str:
    """Mark of a post's role."""
    return f"post-{Role(role).label}"


def placed_shapes(symbol: Symbol) -> Iterator[Shape]:
    """Shapes of a mark where it stands, at its size and turn, in paper metres."""
    cosine, sine = math.cos(symbol.rotation_rad), math.sin(symbol.rotation_rad)

    def place(point: XY) -> XY:
        x, y = point[0] * symbol.size_m, point[1] * symbol.size_m
        return symbol.x_m + cosine * x - sine * y, symbol.y_m + sine * x + cosine * y

    for shape in SYMBOLS[symbol.name]:
        if isinstance(shape, Circle):
            x, y = place((shape.x_m, shape.y_m))
            yield Circle(x, y, shape.radius_m * symbol.size_m, shape.style)
        elif isinstance(shape, Polyline):
            yield Polyline(tuple(map(place, shape.points)), shape.style, shape.is_closed)
        else:
            yield Polygon(tuple(tuple(map(place, ring)) for ring in shape.rings), shape.style)
