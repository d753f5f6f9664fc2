"""The tables of a design as rows of design.json."""

from collections.abc import Sequence
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange import design_columns as columns
from fencewright.exchange.check_columns import BRACE_STRENGTH, POST_STRENGTH
from fencewright.exchange.compact import Cells, Named, plain
from fencewright.exchange.design_rows import json_numbers, names_at, rows_of, table_cells, table_rows
from fencewright.exchange.strength_cells import brace_strength, post_strength
from fencewright.pipeline.record import Design, brace_id, post_id, pull_id
from fencewright.tables.fence import Role, Setting, SpanKind

Rows = list[dict[str, Any]]
POSTS = (*columns.POSTS, *POST_STRENGTH)
BRACES = (*columns.BRACES, *BRACE_STRENGTH)
_SIDE = {1: "left", -1: "right"}


def roll_id(index: int) -> str:
    """Name of a roll on every list: `C1`, a coil, is the first."""
    return f"C{index + 1}"


def run_id(run_index: int) -> str:
    """Name of a run of rail: `R1` is the first row; its pulls are `R1-1`, `R1-2`, ..."""
    return f"R{run_index + 1}"


def side_name(side: int, nought: str) -> str:
    """`left` for +1, `right` for -1, and the word given for 0."""
    return _SIDE.get(side, nought)


def side_names(sides: NDArray[np.int64], nought: str) -> Named:
    """Name the sides of a column, as `side_name` does one."""
    return Named(("right", nought, "left"), np.sign(sides).astype(np.int64) + 1)


def _rows(cells: dict[str, Cells]) -> Rows:
    return rows_of({name: plain(some) for name, some in cells.items()})


def post_ids(design: Design) -> list[str]:
    """Names of all posts, by row."""
    return list(_post_ids(len(design.layout.posts)))


@lru_cache(maxsize=8)
def _post_ids(count: int) -> tuple[str, ...]:
    return tuple(post_id(row) for row in range(count))


def line_names(design: Design) -> list[str]:
    """Names of all lines, by row."""
    return [line.name for line in design.layout.lines]


def pull_ids(design: Design) -> list[str]:
    """Names of all pulls, by row."""
    pulls = design.pulls
    pairs = zip(pulls.run_index.tolist(), pulls.strand.tolist(), strict=True)
    return [pull_id(run, strand) for run, strand in pairs]


def lines_rows(design: Design) -> Rows:
    """One row a line."""
    return [
        {
            "name": line.name,
            "closed": bool(line.is_closed),
            "length_m": json_numbers([line.length_m], "length")[0],
            "points_m": json_numbers(line.xy_m, "length"),
            "station_m": json_numbers(line.station_m, "length"),
            "rail_side": side_name(line.rail_side, "none"),
            "stock_side": side_name(line.stock_side, "both"),
        }
        for line in design.layout.lines
    ]


def openings_rows(design: Design, *, crossings: bool) -> Rows:
    """One row a gate, or one a crossing of open water."""
    table = design.layout.openings
    spans = design.layout.spans
    posts = post_ids(design)
    rows = table_rows(
        columns.GATES,
        {
            "name": table.name,
            "line": names_at(line_names(design), table.line_index),
            "station_m": spans.from_station_m[table.span_index] if len(spans) else np.zeros(len(table.name)),
            "from_post": names_at(posts, table.from_post),
            "to_post": names_at(posts, table.to_post),
            "opening_m": table.opening_m,
            "leaf_m": table.leaf_m,
            "hinge_post": names_at(posts, table.hinge_post),
            "swing": [side_name(side, "both") for side in table.swing.tolist()],
        },
    )
    kept = {column.name for column in (columns.CROSSINGS if crossings else columns.GATES)}
    picked = zip(rows, table.is_crossing.tolist(), strict=True)
    return [{name: row[name] for name in row if name in kept} for row, wet in picked if wet == crossings]


def spans_rows(design: Design) -> Rows:
    """One row a span."""
    return _rows(spans_cells(design))


def spans_cells(design: Design) -> dict[str, Cells]:
    """Give the spans column by column."""
    spans, posts = design.layout.spans, post_ids(design)
    kinds = [SpanKind(kind).name.lower() for kind in SpanKind]
    return table_cells(
        columns.SPANS,
        {
            "line": Named(line_names(design), spans.line_index),
            "from_post": Named(posts, spans.from_post),
            "to_post": Named(posts, spans.to_post),
            "kind": Named(kinds, spans.kind),
            "run": Named(
                [run_id(run) for run in range(spans.run_index.max(initial=-1) + 1)], spans.run_index
            ),
            "length_m": spans.length_m,
            "slope_length_m": spans.slope_length_m,
            "lowest_gap_m": design.top_line.lowest_gap_m,
            "gap_sd_m": design.gap_sd_m,
        },
    )


def posts_rows(design: Design) -> Rows:
    """One row a physical post."""
    return _rows(posts_cells(design))


def posts_cells(design: Design) -> dict[str, Cells]:
    """Give the posts column by column."""
    posts, holes, cuts = design.layout.posts, design.holes, design.cuts
    direct = ("station_m", "x_m", "y_m", "offset_m", "ground_m", "diameter_m", "turning_rad", "why")
    return table_cells(
        POSTS,
        {
            **{name: getattr(posts, name) for name in direct},
            **post_strength(design),
            "id": post_ids(design),
            "line": Named(line_names(design), posts.line_index),
            "also": _also(design),
            "role": Named([role.label for role in Role], posts.role),
            "top_m": design.top_line.top_m,
            "top_sd_m": design.top_sd_m,
            "above_ground_m": design.top_line.height_m,
            "embedment_m": holes.depth_m,
            "hole_diameter_m": holes.diameter_m,
            "hole_bell_m": holes.bell_m,
            "hole_depth_m": holes.depth_m,
            "hole_governs": holes.governs,
            "set": Named([setting.label for setting in Setting], holes.set),
            "concrete_m3": holes.concrete_m3,
            "bags": design.bags,
            "uplift_n": design.top_line.uplift_n,
            "stock_length_m": cuts.stock_length_m,
            "cut_m": cuts.cut_m,
            "rail_marks_m": _marks(design.rail_marks_m),
            "cut": cuts.is_cut,
            "control": design.is_control,
            "rail_face": side_names(posts.rail_face, "both"),
            "bevel_rad": np.full(len(posts), design.job.settings.posts.bevel_rad),
            "bevel_falls": side_names(-posts.rail_face, "either"),
        },
    )


def _also(design: Design) -> list[Rows]:
    """Other lines of each post."""
    visits, names = design.layout.visits, line_names(design)
    nowhere: Rows = []
    also = [nowhere] * len(design.layout.posts)
    stations = json_numbers(visits.station_m, "length")
    for post, line, station_m in zip(
        visits.post_index.tolist(), visits.line_index.tolist(), stations, strict=True
    ):
        also[post] = [*also[post], {"line": names[line], "station_m": station_m}]
    return also


def _marks(marks_m: NDArray[np.float64]) -> Sequence[Any]:
    """Give the marks of each post; none at all on one that carries no rail."""
    none: list[Any] = []
    rows = [none] * len(marks_m)
    marked = np.flatnonzero(np.isfinite(marks_m).any(axis=1))
    for row, marks in zip(marked.tolist(), json_numbers(marks_m[marked], "length"), strict=True):
        rows[row] = marks
    return rows


def braces_rows(design: Design) -> Rows:
    """One row a brace."""
    braces, holes, posts = design.layout.braces, design.brace_holes, post_ids(design)
    hole = np.where(braces.is_horizontal, np.nan, 1.0)
    direct = ("x_m", "y_m", "length_m", "reach_m", "contact_m")
    return table_rows(
        BRACES,
        {
            **{name: getattr(braces, name) for name in direct},
            **brace_strength(design),
            "id": [brace_id(row) for row in range(len(braces))],
            "post": names_at(posts, braces.post_index),
            "kind": ["horizontal" if level else "diagonal" for level in braces.is_horizontal.tolist()],
            "hole_diameter_m": holes.diameter_m * hole,
            "hole_depth_m": holes.depth_m,
            "concrete_m3": holes.concrete_m3,
            "bags": design.brace_bags,
            "second_post": names_at(posts, braces.second_post),
            "cut_rad": np.where(braces.is_horizontal, 0.0, np.arctan2(braces.contact_m, braces.reach_m)),
            "lean_m": np.full(len(braces), design.job.settings.brace.lean_m),
        },
    )


def pulls_rows(design: Design) -> Rows:
    """One row a pull."""
    pulls, runs, posts = design.pulls, design.layout.runs, post_ids(design)
    direct = ("length_m", "tail_m", "rail_m", "turning_rad", "turning_3d_rad")
    return table_rows(
        columns.PULLS,
        {
            **{name: getattr(pulls, name) for name in direct},
            "id": pull_ids(design),
            "line": names_at(line_names(design), runs.line_index[pulls.run_index]),
            "run": [run_id(run) for run in pulls.run_index.tolist()],
            "length_sd_m": design.length_sd_m,
            "rail": pulls.strand + 1,
            "product": names_at(design.strands.rail, pulls.strand),
            "from_post": names_at(posts, pulls.from_post),
            "to_post": names_at(posts, pulls.to_post),
        },
    )


def rolls_rows(design: Design) -> Rows:
    """One row a roll, its pieces in the order in which they come off."""
    rows: Rows = []
    names = np.array(pull_ids(design), dtype=object)
    for cutting in design.cutting:
        cut = cutting.cut_list
        pieces = table_rows(
            columns.PIECES,
            {
                "pull": names[cutting.pull_index[cut.pull_index]] if len(cut.pull_index) else [],
                "from_m": cut.from_m,
                "to_m": cut.to_m,
                "rail_m": cut.rail_m,
            },
        )
        by_roll: list[Rows] = [[] for _ in range(len(cut.roll_length_m))]
        for roll, piece in zip(cut.roll_index.tolist(), pieces, strict=True):
            by_roll[roll].append(piece)
        rows += table_rows(
            columns.ROLLS,
            {
                "id": [roll_id(len(rows) + row) for row in range(len(by_roll))],
                "product": [cutting.rail] * len(by_roll),
                "from_yard": cut.is_remainder,
                "length_m": cut.roll_length_m,
                "used_m": cut.used_m,
                "offcut_m": cut.offcut_m,
                "pieces": by_roll,
            },
        )
    return rows


def order_rows(design: Design) -> Rows:
    """One row a thing to buy."""
    names = [column.name for column in columns.ORDER]
    return table_rows(columns.ORDER, {name: [getattr(row, name) for row in design.order] for name in names})
