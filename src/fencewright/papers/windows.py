"""A large drawing cut into windows of paper: which marks fall into which window, and a window as a drawing."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from fencewright.papers.blocks import Drawing
from fencewright.sheets.frame import moved
from fencewright.sheets.picture import Circle, Item, Layer, Picture, Polygon, Polyline, Text
from fencewright.sheets.svg import write_svg

Extent = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Grid:
    """Windows side by side over a drawing.

    `left_m`, `low_m` of the first [m]; `step_x_m`, `step_y_m` from one to the next [m]; `columns`, `rows` of them;
    `over_m` by which each shows its neighbours' part too [m].
    """

    left_m: float
    low_m: float
    step_x_m: float
    step_y_m: float
    columns: int
    rows: int
    over_m: float

    def corner(self, cell: tuple[int, int]) -> tuple[float, float]:
        """Lower left corner of what a window shows. [m]."""
        return (
            self.left_m + cell[0] * self.step_x_m - self.over_m,
            self.low_m + cell[1] * self.step_y_m - self.over_m,
        )

    def cells(self, extent: Extent) -> Iterable[tuple[int, int]]:
        """Windows that show any of an upright rectangle (left, low, right, high). [m]."""
        left, low, right, high = extent
        first_x = max(0, int((left - self.left_m - self.over_m) // self.step_x_m))
        last_x = min(self.columns - 1, int((right - self.left_m + self.over_m) // self.step_x_m))
        first_y = max(0, int((low - self.low_m - self.over_m) // self.step_y_m))
        last_y = min(self.rows - 1, int((high - self.low_m + self.over_m) // self.step_y_m))
        return ((i, j) for i in range(first_x, last_x + 1) for j in range(first_y, last_y + 1))


def extent_of(item: Item) -> Extent:
    """Upright rectangle about a mark, for text at any turn. [m]."""
    if isinstance(item, Polyline | Polygon):
        points = item.points if isinstance(item, Polyline) else [p for ring in item.rings for p in ring]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return min(xs), min(ys), max(xs), max(ys)
    if isinstance(item, Text):
        reach = (
            item.width_m + item.height_m if item.rotation_rad or item.anchor != "middle" else item.width_m / 2
        )
        high = reach if item.rotation_rad else item.height_m
        return item.x_m - reach, item.y_m - high, item.x_m + reach, item.y_m + high
    reach = item.radius_m if isinstance(item, Circle) else item.size_m
    return item.x_m - reach, item.y_m - reach, item.x_m + reach, item.y_m + reach


def share_out(layers: Sequence[Layer], grid: Grid) -> dict[tuple[int, int], list[list[Item]]]:
    """Give each window its marks, layer by layer in the drawing's order.

    Notes
    -----
    A mark goes to every window that its rectangle touches, so cost grows with marks and windows, not with their
    product.
    """
    found: dict[tuple[int, int], list[list[Item]]] = {}
    for row, layer in enumerate(layers):
        for item in layer.items:
            for cell in grid.cells(extent_of(item)):
                found.setdefault(cell, [[] for _ in layers])[row].append(item)
    return found


def drawing_of(
    title: str,
    alt: str,
    size_m: tuple[float, float],
    layers: Sequence[tuple[str, Sequence[Item]]],
    scale: float = 1.0,
) -> Drawing:
    """Give marks, already in paper metres from the lower left, as a drawing of a stated size [m]."""
    width, height = size_m
    made = tuple(Layer(name, name, tuple(items)) for name, items in layers)
    picture = Picture(title, alt, width, height, height, "", scale, made)
    return Drawing(write_svg(picture), alt, width * 1000, height * 1000)


def shifted(items: Iterable[Item], dx_m: float, dy_m: float) -> list[Item]:
    """Give the same marks elsewhere. [m]."""
    return [moved(item, dx_m, dy_m) for item in items]
