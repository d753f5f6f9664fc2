"""Rails as pieces: their path past the posts, length along the slope, turning, and where a splice may not fall."""

import numpy as np
from numpy.typing import NDArray

from fencewright.job.settings import RollSettings
from fencewright.tables.fence import Layout, Posts, Pulls, Role, Strands
from fencewright.takeoff.roll_records import RollPieces

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


def rail_points(posts: Posts) -> Floats:
    """Where the rail of its first line passes each post, in plan: at its face, on the string unless it was set elsewhere.

    Returns
    -------
    float array (posts, 2)
        At a corner the point where the two strings meet. [m]
    """
    centre = np.column_stack([posts.x_m, posts.y_m])
    return centre + _to_face(posts.diameter_m, posts.rail_face, posts.heading_rad, posts.turning_rad)


def _to_face(diameter_m: Floats, face: Ints, heading_rad: Floats, turning_rad: Floats) -> Floats:
    """From the centre of posts to where a rail passes them: (posts, 2). [m]"""
    reach = face * diameter_m / 2 / np.maximum(np.cos(turning_rad / 2), np.cos(np.deg2rad(75.0)))
    return np.column_stack([-np.sin(heading_rad), np.cos(heading_rad)]) * reach[:, None]


def rail_ends(layout: Layout) -> tuple[Floats, Floats]:
    """Where the rail of each span begins and ends in plan: at a post that lines share, at the face that its own line uses.

    Returns
    -------
    float array (spans, 2), float array (spans, 2)
        [m]
    """
    posts, spans, visits = layout.posts, layout.spans, layout.visits
    points = rail_points(posts)
    ends = points[spans.from_post], points[spans.to_post]
    if len(visits.post_index) == 0:
        return ends
    at = visits.post_index
    centre = np.column_stack([posts.x_m[at], posts.y_m[at]])
    shared = centre + _to_face(posts.diameter_m[at], visits.rail_face, visits.heading_rad, visits.turning_rad)
    lines = len(layout.lines)
    order = np.argsort(at * lines + visits.line_index, kind="stable")
    key = (at * lines + visits.line_index)[order]
    for post, end in zip((spans.from_post, spans.to_post), ends, strict=True):
        other = np.flatnonzero(posts.line_index[post] != spans.line_index)
        end[other] = shared[order[np.searchsorted(key, post[other] * lines + spans.line_index[other])]]
    return ends


def span_vectors(layout: Layout, top_m: Floats) -> Floats:
    """Rail from post to post in space: (spans, 3), rails being parallel to the top line. [m]"""
    begin, end = rail_ends(layout)
    rise = top_m[layout.spans.to_post] - top_m[layout.spans.from_post]
    return np.column_stack([end - begin, rise])


def pull_table(layout: Layout, strands: Strands, top_m: Floats, tail_m: float) -> Pulls:
    """One row a rail and run: all strands of the first run, then of the next.

    Parameters
    ----------
    layout : Layout
        Runs and spans.
    strands : Strands
        The rails.
    top_m : float array (posts,)
        Elevation of each top. [m]
    tail_m : float
        Spare rail at each end. [m]

    Returns
    -------
    Pulls
        Lengths along the rail's chords; the wrap round a post's face is left out (below 3 cm a corner).
    """
    runs, spans = layout.runs, layout.spans
    vector = span_vectors(layout, top_m)
    length = np.linalg.norm(vector, axis=1)
    unit = vector / np.maximum(length, 1e-12)[:, None]
    cosine = np.clip((unit[:-1] * unit[1:]).sum(axis=1), -1.0, 1.0)
    sine = np.linalg.norm(np.cross(unit[:-1], unit[1:]), axis=1)
    turning = np.where(spans.run_index[:-1] == spans.run_index[1:], np.arctan2(sine, cosine), 0.0)
    total = np.concatenate([[0.0], np.cumsum(length)])
    turned = np.concatenate([[0.0], np.cumsum(turning)])
    count, rails = len(runs), len(strands)
    run = np.repeat(np.arange(count), rails)
    run_length = total[runs.to_span] - total[runs.from_span]
    run_turned = turned[np.maximum(runs.to_span - 1, runs.from_span)] - turned[runs.from_span]
    return Pulls(
        run, np.tile(np.arange(rails), count), run_length[run], np.full(count * rails, tail_m),
        runs.turning_rad[run], run_turned[run], runs.from_post[run], runs.to_post[run],
    )  # fmt: skip


def length_sd_m(layout: Layout, pulls: Pulls, top_m: Floats, ground_sd_m: Floats) -> Floats:
    """Standard deviation of each pull's length from that of the ground under its posts: (pulls,). [m]"""
    spans, runs = layout.spans, layout.runs
    vector = span_vectors(layout, top_m)
    slope = vector[:, 2] / np.maximum(np.linalg.norm(vector, axis=1), 1e-12)
    variance = slope**2 * (ground_sd_m[spans.from_post] ** 2 + ground_sd_m[spans.to_post] ** 2)
    total = np.concatenate([[0.0], np.cumsum(variance)])
    return np.asarray(np.sqrt(total[runs.to_span] - total[runs.from_span])[pulls.run_index])


def roll_pieces(layout: Layout, pulls: Pulls, picked: Ints, top_m: Floats, rolls: RollSettings) -> RollPieces:
    """Pulls of one product as pieces to cut, with the places where no splice may fall.

    Parameters
    ----------
    layout : Layout
        Posts and spans.
    pulls : Pulls
        All pulls.
    picked : int array (pieces,)
        Rows of the product's pulls.
    top_m : float array (posts,)
        Elevation of each top. [m]
    rolls : RollSettings
        Distances that a splice keeps from any post, and from ends, corners and gates.

    Returns
    -------
    RollPieces
        Rows as `picked`.
    """
    spans, runs, posts = layout.spans, layout.runs, layout.posts
    length = np.linalg.norm(span_vectors(layout, top_m), axis=1)
    total = np.concatenate([[0.0], np.cumsum(length)])
    is_held = posts.is_fixed & (posts.role != int(Role.TEE))
    run = pulls.run_index[picked]
    counts = runs.to_span[run] - runs.from_span[run] + 1
    start = np.concatenate([[0], np.cumsum(counts)])
    step = np.arange(start[-1]) - np.repeat(start[:-1], counts)
    knot = np.repeat(runs.from_span[run], counts) + step
    is_last = step == np.repeat(counts, counts) - 1
    post = np.where(
        is_last, spans.to_post[np.maximum(knot - 1, 0)], spans.from_post[np.minimum(knot, len(spans) - 1)]
    )
    at = total[knot] - np.repeat(total[runs.from_span[run]], counts) + np.repeat(pulls.tail_m[picked], counts)
    keep = np.where(
        is_held[post] | is_last | (step == 0), rolls.splice_from_fixed_m, rolls.splice_clearance_m
    )
    return RollPieces(pulls.rail_m[picked], start, at - keep, at + keep)
