"""The fence as map layers in the job's plane: posts, spans, braces, gates and what is in the way."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange import design_columns as columns
from fencewright.exchange.design_columns import Column
from fencewright.exchange.design_rows import table_rows
from fencewright.site.features import SiteObstacle

Floats = NDArray[np.float64]
Row = dict[str, Any]
POINT, LINE, AREA, MIXED = "Point", "LineString", "Polygon", "Geometry"

OBSTACLES = (
    Column("name", "text", "Name of what is in the way; empty where the job gives none."),
    Column("kind", "text", "What it is."),
    Column("clearance_m", "length", "From its edge to a hole's widest edge. [m]"),
    Column("radius_m", "length", "Half its own width. [m]"),
    Column("colour", "text", "Colour in which it is marked on the ground."),
)


@dataclass(frozen=True, slots=True, eq=False)
class MapLayer:
    """One layer.

    Attributes
    ----------
    name : str
        `posts`, `spans`, `braces`, `gates`, `obstacles`.
    geometry : str
        `Point`, `LineString`, or `Geometry` where it differs by feature.
    columns : tuple of Column
        What each feature says.
    rows : list of dict
        One a feature.
    shapes : tuple of str (features,)
        `Point`, `LineString` or `Polygon`.
    start : int array (features + 1,)
        Rows of `xy_m` of each feature; a polygon's first point is repeated, its ring runs to the left.
    xy_m : float array (points, 2)
        In the job's plane. [m]
    z_m : float array (points,) or None
        Elevation of the ground, where the layer has it. [m]
    """

    name: str
    geometry: str
    columns: tuple[Column, ...]
    rows: list[Row]
    shapes: tuple[str, ...]
    start: NDArray[np.int64]
    xy_m: Floats
    z_m: Floats | None = None


def map_layers(record: Row, obstacles: Sequence[SiteObstacle]) -> tuple[MapLayer, ...]:
    """Give the layers of a fence.

    Parameters
    ----------
    record : dict
        The record of design.json.
    obstacles : sequence of SiteObstacle
        What is in the way.

    Returns
    -------
    tuple of MapLayer
        Posts, spans, braces, gates, obstacles, each there even where empty.
    """
    place = {post["id"]: (post["x_m"], post["y_m"]) for post in record["posts"]}
    foot = [[place[brace["post"]], (brace["x_m"], brace["y_m"])] for brace in record["braces"]]
    return (
        _posts(record),
        _lines("spans", columns.SPANS, record["spans"], _between(record["spans"], place)),
        _lines("braces", columns.BRACES, record["braces"], np.array(foot, dtype=np.float64)),
        _lines("gates", columns.GATES, record["gates"], _between(record["gates"], place)),
        _obstacles(obstacles),
    )


def _posts(record: Row) -> MapLayer:
    left_out = {"also", "rail_marks_m"}
    kept = tuple(column for column in columns.POSTS if column.name not in left_out)
    posts = record["posts"]
    shared = Column("also", "text", "Other lines that share it, with their stations.")
    rails = max((len(post["rail_marks_m"]) for post in posts), default=0)
    marks = tuple(
        Column(f"rail_{rail + 1}_m", "length", f"Mark of rail {rail + 1}. [m]") for rail in range(rails)
    )
    rows = [{**{column.name: post[column.name] for column in kept}, **_flat(post, marks)} for post in posts]
    xy_m = np.array([(post["x_m"], post["y_m"]) for post in posts], dtype=np.float64).reshape(-1, 2)
    z_m = np.array([post["ground_m"] for post in posts], dtype=np.float64)
    shapes = (POINT,) * len(posts)
    return MapLayer(
        "posts", POINT, (*kept, shared, *marks), rows, shapes, np.arange(len(posts) + 1), xy_m, z_m
    )


def _flat(post: Row, marks: Sequence[Column]) -> Row:
    """Give what a map cannot hold as a list, as columns of its own."""
    also = "; ".join(f"{place['line']} {place['station_m']:.3f} m" for place in post["also"])
    heights = [*post["rail_marks_m"], *[None] * (len(marks) - len(post["rail_marks_m"]))]
    return {"also": also, **{mark.name: height for mark, height in zip(marks, heights, strict=True)}}


def _between(rows: Sequence[Row], place: dict[str, tuple[float, float]]) -> Floats:
    ends = [(place[row["from_post"]], place[row["to_post"]]) for row in rows]
    return np.array(ends, dtype=np.float64)


def _lines(name: str, kept: tuple[Column, ...], rows: list[Row], ends_m: Floats) -> MapLayer:
    """Build a layer of straight lines from `ends_m` (rows, 2, 2)."""
    return MapLayer(
        name, LINE, kept, rows, (LINE,) * len(rows), np.arange(len(rows) + 1) * 2, ends_m.reshape(-1, 2)
    )


def _obstacles(obstacles: Sequence[SiteObstacle]) -> MapLayer:
    shapes, parts = [], [np.zeros((0, 2))]
    for obstacle in obstacles:
        shape, xy_m = _shape(obstacle)
        shapes.append(shape)
        parts.append(xy_m)
    rows = table_rows(
        OBSTACLES, {column.name: [getattr(each, column.name) for each in obstacles] for column in OBSTACLES}
    )
    start = np.cumsum([len(part) for part in parts])
    return MapLayer("obstacles", MIXED, OBSTACLES, rows, tuple(shapes), start, np.concatenate(parts))


def _shape(obstacle: SiteObstacle) -> tuple[str, Floats]:
    xy_m = np.asarray(obstacle.xy_m, dtype=np.float64).reshape(-1, 2)
    if obstacle.geometry == "polygon":
        ring_m = xy_m[:-1] if len(xy_m) > 1 and (xy_m[0] == xy_m[-1]).all() else xy_m
        if _double_area_m2(ring_m) < 0:
            ring_m = ring_m[::-1]
        return AREA, np.concatenate([ring_m, ring_m[:1]])
    return (POINT, xy_m[:1]) if obstacle.geometry == "point" or len(xy_m) == 1 else (LINE, xy_m)


def _double_area_m2(ring_m: Floats) -> float:
    """Twice the signed area, positive where the ring runs to the left. [m2]."""
    x_m, y_m = (ring_m - ring_m.mean(axis=0)).T
    return float(np.sum(x_m * np.roll(y_m, -1) - np.roll(x_m, -1) * y_m))
