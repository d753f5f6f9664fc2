"""The stage: from posts, spans and ground to the line through the post tops."""

from __future__ import annotations

import numpy as np

from fencewright.tables.top_line import TopLine, TopLineSettings, TopLineTask
from fencewright.topline.clashes import find_clashes, lowest_gaps, post_uplift
from fencewright.topline.program import build_program
from fencewright.topline.solve import solve_program


def shape_top_line(task: TopLineTask, settings: TopLineSettings) -> TopLine:
    """Shape the line through the post tops: smooth, near its nominal height, within its bands.

    Parameters
    ----------
    task : TopLineTask
        Posts with their bands and pins, spans, flows, and the ground between the posts.
    settings : TopLineSettings
        Prices and tolerances.

    Returns
    -------
    TopLine
        There is always one: bands that cannot be kept are its clashes, by how much, and the line is
        the nearest. Without posts every column is empty.

    Raises
    ------
    ValueError
        A table holds a number that is not finite where it must be, a span without length, a post
        or span that does not exist, or a flow between spans that do not meet.

    Notes
    -----
    Least of 1/2 sum (flow length * change of slope)^2 + 1/2 sum weight * (height - nominal)^2
    + price * uplift beyond what each post holds. Concreting is yes or no: the price is its convex
    relaxation, and the certificate is of that. Posts whose uplift is still too much are then named
    for concrete, and all bands are judged again from the tops alone. Linear in posts and samples.
    """
    _check(task)
    program, unknowns = build_program(task, settings)
    x, certificate = solve_program(program, settings)
    top = unknowns.reference_m + np.append(x, 0.0)[unknowns.unknown]
    uplift = post_uplift(task.spans, top)
    return TopLine(
        top_m=top,
        height_m=top - task.posts.ground_m,
        uplift_n=uplift,
        needs_concrete=uplift > task.posts.hold_down_n + settings.uplift_tolerance_n,
        lowest_gap_m=lowest_gaps(task, top),
        clashes=find_clashes(task, top, settings.clash_tolerance_m),
        certificate=certificate,
    )


def _check(task: TopLineTask) -> None:
    """Refuse tables that no line can be computed from."""
    posts, spans, profile = task.posts, task.spans, task.profile
    finite = {
        "posts.ground_m": posts.ground_m,
        "posts.nominal_height_m": posts.nominal_height_m,
        "posts.low_m": posts.low_m,
        "posts.high_m": posts.high_m,
        "posts.nominal_weight": posts.nominal_weight,
        "spans.length_m": spans.length_m,
        "spans.drop_m": spans.drop_m,
        "spans.pull_n": spans.pull_n,
        "profile.fraction": profile.fraction,
        "profile.ground_m": profile.ground_m,
    }
    for name, column in finite.items():
        if not np.isfinite(column).all():
            raise ValueError(f"top line: {name} holds a number that is not finite")
    for name, column in (("posts.nominal_weight", posts.nominal_weight), ("spans.length_m", spans.length_m)):
        if not np.all(column > 0.0):
            raise ValueError(f"top line: {name} must be above 0")
    ends, count = np.concatenate([spans.from_post, spans.to_post]), posts.ground_m.size
    if np.any((ends < 0) | (ends >= count)) or np.any(spans.from_post == spans.to_post):
        raise ValueError("top line: a span needs two different posts that exist")
    if profile.start.size != spans.length_m.size + 1 or profile.start[-1] != profile.fraction.size:
        raise ValueError("top line: profile.start does not fit the spans and samples")
