"""Tables of the top line: what is asked of each post and span, and what comes out.

All elevations are in one vertical datum, upward positive. Rows of `TopLinePosts` are physical posts,
rows of `TopLineSpans` physical spans: several lines may share either.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True)
class TopLinePosts:
    """What each post allows its top to be.

    Attributes
    ----------
    ground_m : float array (posts,)
        Elevation of the ground at the post. [m]
    nominal_height_m : float array (posts,)
        Height above ground that is wanted. [m]
    low_m, high_m : float array (posts,)
        Band of the height above ground, finite. [m]
    pinned_top_m : float array (posts,)
        Elevation at which the top is fixed; NaN = free. [m]
    hold_down_n : float array (posts,)
        Uplift that the post holds as it would be set; inf where it is concreted anyway. [N]
    nominal_weight : float array (posts,)
        Weight of the squared deviation from the nominal height, above 0. [-]
    """

    ground_m: FloatArray
    nominal_height_m: FloatArray
    low_m: FloatArray
    high_m: FloatArray
    pinned_top_m: FloatArray
    hold_down_n: FloatArray
    nominal_weight: FloatArray


@dataclass(frozen=True)
class TopLineSpans:
    """Spans between two neighbouring posts.

    Attributes
    ----------
    from_post, to_post : int array (spans,)
        Rows of `TopLinePosts`; the two differ.
    length_m : float array (spans,)
        Plan length between the post centres, above 0. [m]
    is_fence : bool array (spans,)
        Rails run across it (a gate's opening has none).
    is_level : bool array (spans,)
        The two tops stand at one elevation.
    drop_m : float array (spans,)
        Post top down to the underside of the lowest rail. [m]
    gap_low_m, gap_high_m : float array (spans,)
        Band of the gap between ground and lowest rail; -inf and inf where there is none. [m]
    pull_n : float array (spans,)
        Cold tension of all rails together, 0 or more. [N]
    """

    from_post: IntArray
    to_post: IntArray
    length_m: FloatArray
    is_fence: BoolArray
    is_level: BoolArray
    drop_m: FloatArray
    gap_low_m: FloatArray
    gap_high_m: FloatArray
    pull_n: FloatArray


@dataclass(frozen=True)
class TopLineFlows:
    """Pairs of spans across whose shared post the line should flow.

    Attributes
    ----------
    before_span, after_span : int array (flows,)
        Rows of `TopLineSpans` that share a post; a closed line has a pair at its closing post too.
    """

    before_span: IntArray
    after_span: IntArray


@dataclass(frozen=True)
class GroundProfile:
    """Ground between the posts: the samples of span i stand in `start[i]:start[i + 1]`.

    Attributes
    ----------
    start : int array (spans + 1,)
        First sample of each span, and the count of samples at the end.
    fraction : float array (samples,)
        Place along the span from its `from_post`, rising within the span, 0 to 1; a sample at 0 or 1
        asks for the gap at the post itself, which its band covers mostly. [-]
    ground_m : float array (samples,)
        Elevation of the ground. [m]
    """

    start: IntArray
    fraction: FloatArray
    ground_m: FloatArray


@dataclass(frozen=True)
class TopLineSettings:
    """Prices and tolerances of the top line.

    Attributes
    ----------
    flow_length_m : float
        Length that turns a change of slope into metres, about one span. [m]
    uplift_price_m2_n : float
        Price of each newton of uplift above what a post holds, 0 or more. [m2/N]
    gap_price_m : float
        Price of each metre by which a gap leaves its band; so large that it is paid only where
        there is no other way. [m2/m]
    relative_gap : float
        The certified gap may be at most this part of the objective; the solver aims at a tenth. [-]
    iteration_limit : int
        Most iterations of the solver.
    clash_tolerance_m : float
        A band is said to be broken when it is left by more than this. [m]
    uplift_tolerance_n : float
        A post is concreted when its uplift is more than this above what it holds. [N]
    """

    flow_length_m: float
    uplift_price_m2_n: float
    gap_price_m: float = 100.0
    relative_gap: float = 1e-10
    iteration_limit: int = 60
    clash_tolerance_m: float = 1e-6
    uplift_tolerance_n: float = 5.0


@dataclass(frozen=True)
class TopLineTask:
    """All that the top line is computed from.

    Attributes
    ----------
    posts, spans, flows, profile
        The four tables of the ground, the fence and what is asked of it.
    """

    posts: TopLinePosts
    spans: TopLineSpans
    flows: TopLineFlows
    profile: GroundProfile


@dataclass(frozen=True)
class TopLineCertificate:
    """How far from the optimum the line can be at most, proven without trust in the solver.

    Attributes
    ----------
    objective_m2 : float
        Flow, heights, and the price of uplift and of broken gaps, before concreting is rounded to
        yes or no. [m2]
    lower_bound_m2 : float
        No line within the post bands costs less. [m2]
    relative_gap : float
        Objective less bound, over the objective, or over 1e-6 m2 an unknown where that is more. [-]
    max_residual_m : float
        Furthest that an unknown would still move: |x - clip(x - gradient of the Lagrangian)|. [m]
    iterations : int
        Iterations used.
    is_converged : bool
        The relative gap asked for was reached.
    """

    objective_m2: float
    lower_bound_m2: float
    relative_gap: float
    max_residual_m: float
    iterations: int
    is_converged: bool


@dataclass(frozen=True)
class TopLineClashes:
    """Bands that the line cannot keep, one row each.

    Attributes
    ----------
    kind : tuple of str (clashes,)
        `post band`, `gap low`, `gap high` or `level`.
    index : int array (clashes,)
        The post for `post band`, else the span.
    fraction : float array (clashes,)
        Place along the span; NaN for `post band` and `level`. [-]
    by_m : float array (clashes,)
        How far out of the band, above 0. For `post band` signed: above the band positive, below it
        negative. [m]
    """

    kind: tuple[str, ...] = ()
    index: IntArray = field(default_factory=lambda: np.zeros(0, np.int64))
    fraction: FloatArray = field(default_factory=lambda: np.zeros(0))
    by_m: FloatArray = field(default_factory=lambda: np.zeros(0))


@dataclass(frozen=True)
class TopLine:
    """The line through the post tops.

    Attributes
    ----------
    top_m : float array (posts,)
        Elevation of each top. [m]
    height_m : float array (posts,)
        Top above the ground at the post. [m]
    uplift_n : float array (posts,)
        Vertical part of the rail tensions at the post, upward positive. [N]
    needs_concrete : bool array (posts,)
        The uplift is more than the post holds as set.
    lowest_gap_m : float array (spans,)
        Least gap under the lowest rail, posts included; NaN where there is no fence. [m]
    clashes : TopLineClashes
        Bands that are broken, found again from the tops alone.
    certificate : TopLineCertificate
        Of the convex program, before concreting is rounded to yes or no.
    """

    top_m: FloatArray
    height_m: FloatArray
    uplift_n: FloatArray
    needs_concrete: BoolArray
    lowest_gap_m: FloatArray
    clashes: TopLineClashes
    certificate: TopLineCertificate


@dataclass(frozen=True)
class PostCuts:
    """What to buy for each post, and what to saw off.

    Attributes
    ----------
    stock_length_m : float array (posts,)
        Stock length to buy; NaN where none is long enough. [m]
    cut_m : float array (posts,)
        What is sawn off after setting; NaN where the post is set long or has no stock. [m]
    is_cut : bool array (posts,)
        False: the top is known worse than the cut claims, so the post is set long and is cut to a
        string.
    """

    stock_length_m: FloatArray
    cut_m: FloatArray
    is_cut: BoolArray
