"""What layout hands on: lines, posts, spans, runs, braces, pulls and openings, as columns.

A post is one physical post; lines that share it stand in `Visits`. A span joins a post to the next along a
line. Spans of a line follow one another in the order in which its rail is drawn: a closed line without a gate
starts at the post that serves it best, so its stations may wrap.
"""

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]


class Role(IntEnum):
    """Why a post stands; the names are those of design.json."""

    END = 0
    GATE = 1
    CORNER = 2
    BEND = 3
    STRAIN = 4
    TEE = 5
    CROSSING = 6
    LINE = 7
    BRACE = 8

    @property
    def label(self) -> str:
        """Name in design.json."""
        return self.name.lower()


class SpanKind(IntEnum):
    """What stands between two posts."""

    FENCE = 0
    GATE = 1
    CROSSING = 2


class Setting(IntEnum):
    """How a post is held in its hole."""

    TAMPED = 0
    DRIVEN = 1
    CONCRETE = 2

    @property
    def label(self) -> str:
        """Name in design.json."""
        return self.name.lower()


@dataclass(frozen=True, slots=True, eq=False)
class FenceLine:
    """One line as it is built: through the centres of its fixed posts.

    `xy_m` (points, 2) [m]; `station_m` (points,) or (points + 1,) where closed [m]; `rail_side` +1 where the
    rail is left of the line posts, -1 right; `stock_side` +1 left, -1 right, 0 both.
    """

    name: str
    xy_m: Floats
    station_m: Floats
    is_closed: bool
    rail_side: int
    stock_side: int

    @property
    def length_m(self) -> float:
        """Plan length, gates included. [m]"""
        return float(self.station_m[-1])


@dataclass(frozen=True, slots=True, eq=False)
class Posts:
    """One row a physical post, sorted by line and station.

    Columns (posts,): `line_index` first line in job order; `station_m` along it [m]; `role` (`Role`); `x_m`,
    `y_m` hole centre [m]; `offset_m` hole centre left of the string at the rail's face [m]; `ground_m`
    elevation [m]; `ground_sd_m` [m]; `diameter_m` [m]; `turning_rad` plan turning, left positive [rad];
    `rail_face` +1 rail on the left face, -1 right, 0 both or none; `is_fixed` ends, gates, corners, bends,
    strains, tees, crossings; `is_built` already set; `built_depth_m` [m] NaN where not stated;
    `pinned_height_m` of the top above ground [m] NaN where free; `rock_depth_m` [m] NaN where none;
    `heading_rad` of the line there (mean of both legs at a turn) [rad]; `why` text.
    """

    line_index: Ints
    station_m: Floats
    role: Ints
    x_m: Floats
    y_m: Floats
    offset_m: Floats
    ground_m: Floats
    ground_sd_m: Floats
    diameter_m: Floats
    turning_rad: Floats
    rail_face: Ints
    is_fixed: Flags
    is_built: Flags
    built_depth_m: Floats
    pinned_height_m: Floats
    rock_depth_m: Floats
    heading_rad: Floats
    why: tuple[str, ...]

    def __len__(self) -> int:
        """Number of posts."""
        return len(self.station_m)


@dataclass(frozen=True, slots=True, eq=False)
class Visits:
    """Where lines share a post: one row for each line but the post's first.

    Columns (visits,): `post_index`; `line_index`; `station_m` along that line [m]; of that line there `heading_rad` (mean
    of both legs at a turn) [rad], `turning_rad` [rad] and `rail_face`, as of `Posts`.
    """

    post_index: Ints
    line_index: Ints
    station_m: Floats
    heading_rad: Floats
    turning_rad: Floats
    rail_face: Ints


@dataclass(frozen=True, slots=True, eq=False)
class Spans:
    """One row a span, in drawing order.

    Columns (spans,): `line_index`; `from_post`, `to_post`; `from_station_m`, `to_station_m` (to smaller than
    from only where a closed line wraps) [m]; `kind` (`SpanKind`); `run_index`, -1 where no rail; `length_m`
    plan distance of the two hole centres [m]; `slope_length_m` along the ground's chord [m].
    """

    line_index: Ints
    from_post: Ints
    to_post: Ints
    from_station_m: Floats
    to_station_m: Floats
    kind: Ints
    run_index: Ints
    length_m: Floats
    slope_length_m: Floats

    def __len__(self) -> int:
        """Number of spans."""
        return len(self.from_post)


@dataclass(frozen=True, slots=True, eq=False)
class Runs:
    """One row a run between two posts where the rail ends; each is drawn as one pull a strand.

    Columns (runs,): `line_index`; `from_span`, `to_span` (exclusive); `from_post`, `to_post`; `turning_rad`
    plan turning summed without sign [rad]; `rail_side` +1 left, -1 right of its turning posts, 0 straight.
    """

    line_index: Ints
    from_span: Ints
    to_span: Ints
    from_post: Ints
    to_post: Ints
    turning_rad: Floats
    rail_side: Ints

    def __len__(self) -> int:
        """Number of runs."""
        return len(self.from_span)


@dataclass(frozen=True, slots=True, eq=False)
class Braces:
    """One row a brace.

    Columns (braces,): `post_index`; `line_index`; `is_horizontal`; `x_m`, `y_m` of the foot or of the second
    upright [m]; `ground_m` there [m]; `station_m` there [m]; `reach_m` [m]; `contact_m` height on the post
    [m]; `length_m` of the brace itself [m]; `second_post` row of `Posts`, -1 for a diagonal.
    """

    post_index: Ints
    line_index: Ints
    is_horizontal: Flags
    x_m: Floats
    y_m: Floats
    ground_m: Floats
    station_m: Floats
    reach_m: Floats
    contact_m: Floats
    length_m: Floats
    second_post: Ints

    def __len__(self) -> int:
        """Number of braces."""
        return len(self.post_index)


@dataclass(frozen=True, slots=True, eq=False)
class Profile:
    """Ground between the posts: samples of span k are rows `start[k]` to `start[k + 1]`.

    `start` (spans + 1,); `fraction` (samples,) of the span's length, in (0, 1); `ground_m` (samples,) [m].
    """

    start: Ints
    fraction: Floats
    ground_m: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Openings:
    """One row a gate or crossing.

    `name`; `line_index`; `is_crossing`; `from_post`, `to_post`; `opening_m` between post faces [m]; `leaf_m`
    [m] NaN for a crossing; `hinge_post`; `swing` +1 left, -1 right, 0 both; `span_index`.
    """

    name: tuple[str, ...]
    line_index: Ints
    is_crossing: Flags
    from_post: Ints
    to_post: Ints
    opening_m: Floats
    leaf_m: Floats
    hinge_post: Ints
    swing: Ints
    span_index: Ints


@dataclass(frozen=True, slots=True, eq=False)
class Layout:
    """The whole answer of the layout stage."""

    lines: tuple[FenceLine, ...]
    posts: Posts
    visits: Visits
    spans: Spans
    runs: Runs
    braces: Braces
    profile: Profile
    openings: Openings


@dataclass(frozen=True, slots=True, eq=False)
class Strands:
    """The rails of the fence, lowest first.

    Columns (strands,): `rail` catalogue name; `height_m` of its centre above ground at nominal top [m];
    `drop_m` from the cut top to its centre [m]; `face_m` [m]; `cold_pull_n` [N].
    """

    rail: tuple[str, ...]
    height_m: Floats
    drop_m: Floats
    face_m: Floats
    cold_pull_n: Floats

    def __len__(self) -> int:
        """Number of strands."""
        return len(self.rail)


@dataclass(frozen=True, slots=True, eq=False)
class Holes:
    """One row a hole: first the posts (same rows as `Posts`), then the brace footings (`Braces`).

    Columns: `diameter_m`, `bell_m` (width at the bottom), `depth_m`, `set` (`Setting`), `concrete_m3`
    (net of the post), `spoil_m3`, `governs` (what decided the depth).
    """

    diameter_m: Floats
    bell_m: Floats
    depth_m: Floats
    set: Ints
    concrete_m3: Floats
    spoil_m3: Floats
    governs: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Pulls:
    """One row a rail drawn by one tensioner: run by strand.

    Columns (pulls,): `run_index`; `strand` 0 for the lowest; `length_m` post to post along the slope [m];
    `tail_m` at each end [m]; `turning_rad` plan [rad]; `turning_3d_rad` [rad]; `from_post`, `to_post`.
    """

    run_index: Ints
    strand: Ints
    length_m: Floats
    tail_m: Floats
    turning_rad: Floats
    turning_3d_rad: Floats
    from_post: Ints
    to_post: Ints

    def __len__(self) -> int:
        """Number of pulls."""
        return len(self.run_index)

    @property
    def rail_m(self) -> Floats:
        """Rail to cut, tails included. [m]"""
        return self.length_m + 2 * self.tail_m


@dataclass(frozen=True, slots=True, eq=False)
class OrderLine:
    """One thing to buy: net by geometry, waste apart, and the order rounded up to packs."""

    id: str
    item: str
    size: str
    unit: str
    net: float
    waste: float
    order: float
    pack: float
    why: str = ""
