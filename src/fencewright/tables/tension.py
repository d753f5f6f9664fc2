"""Tables of the tension stage: what is asked of each run, and how tight each pull is drawn.

Rows of a run's spans and posts stand one run after the other, in drawing order. A *row* of the stage is a run and
a rail product: strands of one product in one run are alike, so they share a row.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

GOVERNS_LOW = ("sag",)
GOVERNS_HIGH = ("breaking share", "cold allowed", "ends", "corners")


@dataclass(frozen=True, slots=True, eq=False)
class TensionTask:
    """Runs as the rail passes them, and what their ends carry.

    `span_start` (runs + 1,) first span of each run, every run having at least one; `span_m` (spans,) post to post
    along the rail [m]; `turning_3d_rad` (spans - runs,) at the posts between the spans of a run, run after run
    [rad]; `post_index` (spans + runs,) posts of each run, first to last; `end_stiffness_n_m` (runs, 2) of the
    assemblies at first and last post for all rails together, inf where they do not give [N/m]; `end_capacity_n`
    (runs, 2) greatest tension of all rails together that they carry, inf where not known [N]; `turn_capacity_n`
    (runs,) that the weakest post at which the run turns carries, inf without one [N], and `turn_post` (runs,) that
    post, -1 without one.
    """

    span_start: Ints
    span_m: Floats
    turning_3d_rad: Floats
    post_index: Ints
    end_stiffness_n_m: Floats
    end_capacity_n: Floats
    turn_capacity_n: Floats
    turn_post: Ints

    def __len__(self) -> int:
        """Number of runs."""
        return len(self.span_start) - 1

    @property
    def bend_start(self) -> Ints:
        """First row of each run in `turning_3d_rad`: (runs + 1,)."""
        return self.span_start - np.arange(len(self.span_start))

    @property
    def post_start(self) -> Ints:
        """First row of each run in `post_index`: (runs + 1,)."""
        return self.span_start + np.arange(len(self.span_start))


@dataclass(frozen=True, slots=True, eq=False)
class RailModels:
    """Rail products as the tension stage sees them, one row a product, in the order of the lowest strand of each.

    Columns (products,): `rail` catalogue name; `strands` how many of it a run has; `stiffness_n` E A [N];
    `expansion_per_c` [1/C]; `weight_n_m` [N/m]; `breaking_load_n`, `share_allowed_n` its allowed part, and
    `cold_allowed_n` of the data sheet [N]; `set_tension_n` of the data sheet [N]; `creep_per_decade` strain for each
    tenfold of time; `hottest_c`, `coldest_c` of the rail [C]; `spool_holds_m` [m]; `wire_m` thickness wound [m].
    """

    rail: tuple[str, ...]
    strands: Ints
    stiffness_n: Floats
    expansion_per_c: Floats
    weight_n_m: Floats
    breaking_load_n: Floats
    share_allowed_n: Floats
    cold_allowed_n: Floats
    set_tension_n: Floats
    creep_per_decade: Floats
    hottest_c: Floats
    coldest_c: Floats
    spool_holds_m: Floats
    wire_m: Floats

    def __len__(self) -> int:
        """Number of products."""
        return len(self.rail)


@dataclass(frozen=True, slots=True, eq=False)
class Tensions:
    """How tight each pull is drawn; tensions are of one rail, at the tensioner unless said.

    Columns (pulls,), rows as `Pulls`: `product_index` row of `RailModels`; `set_tension_n` at `reference_c`;
    `window_low_n`, `window_high_n` there; `governs_low`, `governs_high` rows of `GOVERNS_LOW`, `GOVERNS_HIGH`;
    `is_open` the window is not empty; `cold_n`, `hot_n` on the coldest and hottest day; `hot_loosest_n` where the
    rail is loosest then; `sag_hot_m` deepest sag then [m]; `drawn_from` 0 first post, 1 last post, 2 both
    (`mechanics.belt_friction`); `tensioner_post`, `anchor_post` rows of `Posts`; `far_share` of the tension that
    reaches the loosest span once worked [-]; `loosest_span` row within the run's spans; `stretch_m`, `slack_m`,
    `end_yield_m` and their sum `take_up_m` [m]; `turns` of the spool; `regrips`; `extra_rail_m` [m];
    `marked_stretch_m` over `marked_m` [m]; `repull_loss_n` tension lost by `repull_days`, and `repull_m` of rail to
    take in then [m].

    Chart (pulls, temperatures): `chart_n` tension to pull to, `chart_low_n`, `chart_high_n` its window, and
    `chart_is_open` where there is one, at rail temperatures `chart_c` [C].

    Posts of each pull: those of row `row_index[pull]` stand in `post_start[row]` to `post_start[row + 1]` of
    `post_index`, `pulling_n` (tension beyond that post while the rail is drawn) and `worked_n` (once it is worked
    round its corners); rows are run x product.
    """

    product_index: Ints
    row_index: Ints
    reference_c: float
    set_tension_n: Floats
    window_low_n: Floats
    window_high_n: Floats
    governs_low: Ints
    governs_high: Ints
    is_open: Flags
    cold_n: Floats
    hot_n: Floats
    hot_loosest_n: Floats
    sag_hot_m: Floats
    drawn_from: Ints
    tensioner_post: Ints
    anchor_post: Ints
    far_share: Floats
    loosest_span: Ints
    stretch_m: Floats
    slack_m: Floats
    end_yield_m: Floats
    take_up_m: Floats
    turns: Floats
    regrips: Ints
    extra_rail_m: Floats
    marked_m: float
    marked_stretch_m: Floats
    repull_days: float
    repull_loss_n: Floats
    repull_m: Floats
    chart_c: Floats
    chart_n: Floats
    chart_low_n: Floats
    chart_high_n: Floats
    chart_is_open: Flags
    post_start: Ints
    post_index: Ints
    pulling_n: Floats
    worked_n: Floats

    def __len__(self) -> int:
        """Number of pulls."""
        return len(self.set_tension_n)

    def posts_of(self, pull: int) -> slice:
        """Rows of one pull's posts."""
        row = self.row_index[pull]
        return slice(int(self.post_start[row]), int(self.post_start[row + 1]))


@dataclass(frozen=True, slots=True, eq=False)
class SiteChecks:
    """What a person measures to prove a pull; one row a place and day.

    Columns (checks,): `run_index`, `product_index`; `pull_index` the lowest strand of that product there; `post_index`
    the named post, the check being made in the span beyond it; `place` row of `PLACES`; `rail_temperature_c` [C];
    `span_m`; `run_m` rail that slides with it [m]; `tension_n`; `push_n`; `deflection_sliding_m`,
    `deflection_pinned_m` [m]; `frequency_hz`.
    """

    run_index: Ints
    product_index: Ints
    pull_index: Ints
    post_index: Ints
    place: Ints
    rail_temperature_c: Floats
    span_m: Floats
    run_m: Floats
    tension_n: Floats
    push_n: Floats
    deflection_sliding_m: Floats
    deflection_pinned_m: Floats
    frequency_hz: Floats

    def __len__(self) -> int:
        """Number of checks."""
        return len(self.run_index)


PLACES = ("tensioner", "middle", "far end", "past corner")
