"""The plan as a DXF drawing: true coordinates in metres, layers in the trade's words."""

import math
from collections.abc import Iterable, Iterator
from importlib import import_module
from io import StringIO
from typing import Any

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from fencewright.pipeline.record import Design, brace_id, post_id
from fencewright.sheets.dxf_layers import LAYERS, obstacle_layer
from fencewright.sheets.frame import NOT_TO_BE_BUILT, cautions, count_findings, sheet_units
from fencewright.sheets.leaves import open_leaves
from fencewright.sheets.letters import one_line
from fencewright.sheets.plan import plan_view
from fencewright.sheets.plan_labels import gate_words, plan_legs
from fencewright.sheets.plan_site import obstacle_name
from fencewright.sheets.section_trace import traces_of
from fencewright.site.features import SiteObstacle
from fencewright.tables.fence import Layout, Role, SpanKind

_TEXT_M = 0.0022  # letter size on paper at the plan's scale
_METRES = 6
_GROUND_M = 0.01  # points of the ground line that change it less than this are left out


def _clean(text: str) -> str:
    """Text that a DXF line can hold: one line, no control codes, no lone surrogates."""
    return one_line(text).encode("utf-8", "replace").decode("utf-8").replace("%%", "% %").replace("^", "^ ")


class _Drafter:
    """Adds entities to a model space; sizes of text follow the plan's scale."""

    def __init__(self, space: Any, scale: float) -> None:
        self.space = space
        self.text_m = _TEXT_M * scale

    def line(self, points: Iterable[Iterable[float]], layer: str, *, is_closed: bool = False) -> None:
        rows = [tuple(float(value) for value in point) for point in points]
        self.space.add_lwpolyline([row[:2] for row in rows], close=is_closed, dxfattribs={"layer": layer})

    def line_3d(self, points: np.ndarray, layer: str) -> None:
        rows = [tuple(map(float, row)) for row in points if np.all(np.isfinite(row))]
        if len(rows) > 1:
            self.space.add_polyline3d(rows, dxfattribs={"layer": layer})

    def circle(self, x_m: float, y_m: float, radius_m: float, layer: str) -> None:
        self.space.add_circle((float(x_m), float(y_m)), float(radius_m), dxfattribs={"layer": layer})

    def text(self, words: str, at: tuple[float, float], layer: str, turn_rad: float = 0.0) -> None:
        attributes = {"layer": layer, "height": self.text_m, "rotation": math.degrees(turn_rad)}
        self.space.add_text(_clean(words), dxfattribs=attributes).set_placement((float(at[0]), float(at[1])))


def _draw_posts(design: Design, pen: _Drafter) -> None:
    posts, holes = design.layout.posts, design.holes
    wide = np.maximum(holes.diameter_m, holes.bell_m)
    for k in range(len(posts)):
        x, y, radius = float(posts.x_m[k]), float(posts.y_m[k]), float(posts.diameter_m[k]) / 2
        pen.circle(x, y, radius, f"POSTS-{Role(int(posts.role[k])).name}")
        if math.isfinite(wide[k]) and wide[k] > 0:
            pen.circle(x, y, wide[k] / 2, "HOLES")
        away = 1.2 * max(radius, float(np.nan_to_num(wide[k])) / 2)
        pen.text(post_id(k), (x + away, y + away), "POST-IDS")


def _draw_spans(design: Design, pen: _Drafter) -> None:
    layout = design.layout
    xy = np.column_stack([layout.posts.x_m, layout.posts.y_m])
    left = layout.posts.heading_rad + math.pi / 2
    reach = layout.posts.rail_face * layout.posts.diameter_m / 2
    faces = xy + reach[:, None] * np.column_stack([np.cos(left), np.sin(left)])
    for posts in _fence_parts(layout):
        pen.line(xy[posts], "FENCE")
        pen.line(faces[posts], "RAIL")
    for k in np.flatnonzero(layout.spans.kind == SpanKind.CROSSING):
        pen.line(xy[[layout.spans.from_post[k], layout.spans.to_post[k]]], "CROSSINGS")
    for leg in plan_legs(layout, xy):
        middle = ((leg.start[0] + leg.end[0]) / 2, (leg.start[1] + leg.end[1]) / 2)
        pen.text(sheet_units(design).long(leg.length_m), middle, "DIMENSIONS", leg.readable_rad)


def _fence_parts(layout: Layout) -> Iterator[np.ndarray]:
    """Rows of the posts of each part of the fence between openings."""
    spans = layout.spans
    for trace in traces_of(layout):
        is_fence = spans.kind[trace.span_index] == SpanKind.FENCE
        edges = np.flatnonzero(np.diff(np.concatenate([[False], is_fence, [False]]).astype(int)))
        for start, end in zip(edges[::2], edges[1::2], strict=True):
            yield trace.post_index[start : end + 1]


def _draw_braces(design: Design, pen: _Drafter) -> None:
    braces, posts, holes = design.layout.braces, design.layout.posts, design.brace_holes
    for k in range(len(braces)):
        foot, post = (float(braces.x_m[k]), float(braces.y_m[k])), int(braces.post_index[k])
        pen.line(((posts.x_m[post], posts.y_m[post]), foot), "BRACES")
        if braces.second_post[k] < 0:
            pen.circle(*foot, max(float(holes.diameter_m[k]), float(holes.bell_m[k])) / 2, "HOLES")
        pen.text(brace_id(k), foot, "BRACES")


def _draw_openings(design: Design, pen: _Drafter) -> None:
    openings, posts, units = design.layout.openings, design.layout.posts, sheet_units(design)
    for k, name in enumerate(openings.name):
        layer = "CROSSINGS" if openings.is_crossing[k] else "GATES"
        for leaf in open_leaves(design.layout, k):
            pen.line((leaf.pivot_m, leaf.tip_m), layer)
            turns = sorted((leaf.closed_rad, leaf.opened_rad))
            pen.space.add_arc(
                tuple(map(float, leaf.pivot_m)),
                leaf.length_m,
                math.degrees(turns[0]),
                math.degrees(turns[1]),
                dxfattribs={"layer": layer},
            )
        ends = [int(openings.from_post[k]), int(openings.to_post[k])]
        words = gate_words(float(openings.opening_m[k]), float(openings.leaf_m[k]), units)
        pen.text(f"{name}: {words}", (posts.x_m[ends].mean(), posts.y_m[ends].mean()), layer)


def _draw_obstacle(obstacle: SiteObstacle, pen: _Drafter, words: str) -> None:
    layer, xy = obstacle_layer(obstacle.kind), obstacle.xy_m
    shape: BaseGeometry = shapely.LineString(xy) if len(xy) > 1 else shapely.Point(xy[0])
    if obstacle.geometry == "polygon" and len(xy) > 2:
        shape = shapely.make_valid(shapely.Polygon(xy))
        pen.line(xy, layer, is_closed=True)
    elif len(xy) > 1:
        pen.line(xy, layer)
    else:
        pen.circle(xy[0, 0], xy[0, 1], max(obstacle.radius_m, 0.1), layer)
    pen.text(words, (float(xy[0, 0]), float(xy[0, 1])), layer)
    if obstacle.clearance_m > 0:
        for part in shapely.get_parts(shape.buffer(obstacle.clearance_m + obstacle.radius_m)):
            pen.line(part.exterior.coords[:-1], "CLEARANCE", is_closed=True)


def _draw_lines_3d(design: Design, pen: _Drafter) -> None:
    posts, top = design.layout.posts, design.top_line.top_m
    for trace in traces_of(design.layout):
        rows = trace.post_index
        pen.line_3d(np.column_stack([posts.x_m[rows], posts.y_m[rows], top[rows]]), "TOP-LINE")
        seen = np.isfinite(trace.ground_m)
        if np.count_nonzero(seen) < 2:
            continue
        ground = shapely.LineString(np.column_stack([trace.ground_at_m[seen], trace.ground_m[seen]]))
        at, height = np.array(ground.simplify(_GROUND_M).coords).T
        x = np.interp(at, trace.at_m, posts.x_m[rows])
        y = np.interp(at, trace.at_m, posts.y_m[rows])
        pen.line_3d(np.column_stack([x, y, height]), "GROUND-LINE")


def _draw_notes(design: Design, pen: _Drafter) -> None:
    posts, head = design.layout.posts, design.job.asked.job
    words = [
        *([] if design.may_be_built else [NOT_TO_BE_BUILT]),
        f"{head.name}, revision {head.revision}",
        "Coordinates and heights in metres. Posts and holes at their true size.",
        f"Findings: {count_findings(design)}",
        *cautions(design),
    ]
    low = float(posts.y_m.min()) - 6 * pen.text_m if len(posts) else 0.0
    left = float(posts.x_m.min()) if len(posts) else 0.0
    for k, line in enumerate(words):
        pen.text(line, (left, low - 1.8 * pen.text_m * k), "NOTES")


def _document(ezdxf: Any) -> Any:
    """Start an empty drawing in metres with our layers."""
    document = ezdxf.new("R2010", units=_METRES)
    document.header["$INSUNITS"] = _METRES
    document.header["$MEASUREMENT"] = 1
    document.linetypes.add("DASHED", [1.0, 0.6, -0.4], description="Dashed __ __ __ __")
    for name, layer in LAYERS.items():
        made = document.layers.add(name, color=layer.colour, linetype=layer.linetype)
        made.description = layer.title
    return document


def plan_dxf(design: Design) -> bytes:
    """Draw the plan as a DXF file.

    Parameters
    ----------
    design : Design
        What is drawn, and nothing else.

    Returns
    -------
    bytes
        DXF R2010 (UTF-8), coordinates of the job's plane in metres, one layer a kind of thing. The same
        design gives the same bytes: dates and identifiers are fixed.

    Notes
    -----
    Top line and ground are three-dimensional, the rest lies at elevation 0. Letters are sized for the
    scale of the printed plan. O(posts + samples).
    """
    ezdxf: Any = import_module("ezdxf")  # slow to load, and only this needs it
    options = ezdxf.options
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        document = _document(ezdxf)
        pen = _Drafter(document.modelspace(), plan_view(design).scale)
        for obstacle in design.job.site.obstacles:
            _draw_obstacle(obstacle, pen, obstacle_name(obstacle, sheet_units(design)))
        for draw in (_draw_spans, _draw_posts, _draw_braces, _draw_openings):
            draw(design, pen)
        _draw_lines_3d(design, pen)
        _draw_notes(design, pen)
        for kind in sorted(document.entitydb.dxf_types_in_use()):
            document.classes.add_class(kind)  # in this order, not in that of a set
        stream = StringIO()
        document.write(stream)
        return stream.getvalue().encode("utf-8", "replace")
    finally:
        options.write_fixed_meta_data_for_testing = before
