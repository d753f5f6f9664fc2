"""Solid things in the fence's way: trees, rocks and buildings that the rails or a gate's leaf would have to pass."""

import numpy as np
import shapely
from numpy.typing import NDArray

from fencewright.findings import STOP, Finding, Place
from fencewright.geometry.shapes import leg_shapes, search_tree
from fencewright.job.record import Job
from fencewright.quantity.show import UnitSystem
from fencewright.site.clearances import obstacle_shape
from fencewright.site.features import SiteObstacle
from fencewright.tables.fence import Layout, SpanKind

Ints = NDArray[np.int64]

_HALF_WIDTH_M = 0.05  # of a thing drawn as a point or a line without a size; common practice, no source
_TOUCH_M = 0.02  # a fence that ends against a thing touches it; as well as a site is measured


def solid_findings(job: Job, layout: Layout) -> list[Finding]:
    """Say where the fence runs through a solid thing.

    Parameters
    ----------
    job : Job
        Its obstacles.
    layout : Layout
        Spans and posts.

    Returns
    -------
    list of Finding
        `rail-through-solid` (`stop`), one for each stretch of spans inside a thing.

    Notes
    -----
    A span is looked at twice, between the centres of its posts and along the string at the rail's face; crossings
    carry no rail and are left out. O(spans) to build the search tree, only where something solid is drawn.
    """
    solid = [one for one in job.site.obstacles if one.is_solid]
    spans, posts = layout.spans, layout.posts
    rows = np.flatnonzero(spans.kind != int(SpanKind.CROSSING))
    if not solid or not len(rows):
        return []
    centre = np.column_stack([posts.x_m, posts.y_m])
    normal = np.column_stack([-np.sin(posts.heading_rad), np.cos(posts.heading_rad)])
    string = centre - normal * posts.offset_m[:, None]
    a, b = spans.from_post[rows], spans.to_post[rows]
    ways = leg_shapes(np.concatenate([centre[a], string[a]]), np.concatenate([centre[b], string[b]]))
    tree = search_tree(ways)
    findings = []
    for obstacle in solid:
        body = _body(obstacle)
        met = np.asarray(tree.query(body, predicate="intersects"), np.int64)
        for stretch in _stretches(np.unique(met % len(rows)), spans.line_index[rows]):
            first = int(stretch[0])
            way = ways[first] if first in met else ways[first + len(rows)]
            findings.append(_through(job, layout, obstacle, rows[stretch], _share(way, body)))
    return findings


def _body(obstacle: SiteObstacle) -> shapely.Geometry:
    """Where the thing is beyond doubt: its shape and half its width, less what a measurement may be out."""
    is_area = obstacle.geometry == "polygon"
    half_m = obstacle.radius_m if obstacle.radius_m > 0 or is_area else _HALF_WIDTH_M
    return shapely.buffer(obstacle_shape(obstacle), half_m - _TOUCH_M)


def _stretches(rows: Ints, line: Ints) -> list[Ints]:
    """Rows that follow one another on one line, together; `line` is that of each row there is."""
    ends = (np.diff(rows) > 1) | (np.diff(line[rows]) != 0)
    return [part for part in np.split(rows, np.flatnonzero(ends) + 1) if len(part)]


def _share(way: shapely.LineString, body: shapely.Geometry) -> float:
    """Share of a span's way at which the thing begins."""
    inside = shapely.get_coordinates(shapely.intersection(way, body))
    along = shapely.line_locate_point(way, shapely.points(inside), normalized=True)
    return float(np.min(along, initial=1.0))


def _through(job: Job, layout: Layout, obstacle: SiteObstacle, spans: Ints, share: float) -> Finding:
    table, first = layout.spans, int(spans[0])
    a, b = int(table.from_post[first]), int(table.to_post[int(spans[-1])])
    line = layout.lines[int(table.line_index[first])]
    start, end = float(table.from_station_m[first]), float(table.to_station_m[first])
    end += line.length_m if end < start else 0.0
    station = start + share * (end - start)
    station = float(np.mod(station, line.length_m)) if line.is_closed else station
    show = UnitSystem(job.asked.job.sheets)
    message = (
        f"Line {line.name} runs through {obstacle.name} ({obstacle.kind}) at station {show.station(station)}, "
        f"between P{a + 1} and P{b + 1}: no rail or gate can pass it."
    )
    remedy = f"Move the line clear of {obstacle.name}, or end the fence in front of it and begin another line behind."
    return Finding(
        STOP, "rail-through-solid", Place("span", f"P{a + 1}-P{b + 1}", line.name, station), message, remedy
    )
