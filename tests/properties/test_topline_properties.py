"""What must hold for any top line, whatever its ground."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from fencewright.tables.top_line import (
    FloatArray,
    GroundProfile,
    TopLine,
    TopLineFlows,
    TopLinePosts,
    TopLineSettings,
    TopLineSpans,
    TopLineTask,
)
from fencewright.topline.stage import shape_top_line

SETTINGS = TopLineSettings(flow_length_m=3.0, uplift_price_m2_n=1e-4)
SEEDS = st.integers(0, 2**32 - 1)


def fence(seed: int, *, is_closed: bool = False, is_flat: bool = False) -> TopLineTask:
    """Build a line of up to 40 posts with humps between them, a gate, and limited hold."""
    random = np.random.default_rng(seed)
    posts = int(random.integers(4, 40))
    spans = posts if is_closed else posts - 1
    at = np.arange(spans, dtype=np.int64)
    rough = 0.0 if is_flat else 1.0
    ground = rough * 0.2 * random.standard_normal(posts).cumsum()
    level = at == (1 if random.random() < 0.5 and posts > 6 else -1)
    if level.any():
        ground[2] = ground[1] + 0.04 * rough
    end = (at + 1) % posts
    fraction = np.tile([0.25, 0.6], spans)
    middle = ground[at].repeat(2) * (1 - fraction) + ground[end].repeat(2) * fraction
    one, per_span = np.ones(posts), np.ones(spans)
    before, after = (at, (at + 1) % spans) if is_closed else (at[:-1], at[1:])
    kept = ~(level[before] | level[after])
    return TopLineTask(
        TopLinePosts(
            ground,
            1.4 * one,
            1.25 * one,
            1.55 * one,
            np.nan * one,
            random.uniform(200, 900, posts),
            1e-3 * one,
        ),
        TopLineSpans(
            at,
            end,
            random.uniform(2.0, 4.0, spans),
            ~level,
            level,
            1.0 * per_span,
            0.2 * per_span,
            0.65 * per_span,
            4000.0 * per_span,
        ),
        TopLineFlows(before[kept], after[kept]),
        GroundProfile(
            np.arange(spans + 1) * 2, fraction, middle + rough * 0.1 * random.standard_normal(2 * spans)
        ),
    )


def same(one: TopLine, tops_m: FloatArray) -> None:
    np.testing.assert_allclose(one.top_m, tops_m, atol=2e-5)


def backwards(task: TopLineTask) -> TopLineTask:
    """Turn a task round: number and draw everything from the other end: posts, spans, samples."""
    posts, spans, last = task.posts, task.spans, task.posts.ground_m.size - 1
    turned = {name: getattr(posts, name)[::-1].copy() for name in vars(posts)}
    back = {name: getattr(spans, name)[::-1].copy() for name in vars(spans)}
    back["from_post"], back["to_post"] = last - spans.to_post[::-1], last - spans.from_post[::-1]
    final = spans.length_m.size - 1
    return TopLineTask(
        TopLinePosts(**turned),
        TopLineSpans(**back),
        TopLineFlows(final - task.flows.after_span[::-1], final - task.flows.before_span[::-1]),
        GroundProfile(
            task.profile.start, 1 - task.profile.fraction[::-1], task.profile.ground_m[::-1].copy()
        ),
    )


@settings(max_examples=30, deadline=None)
@given(SEEDS, st.booleans())
def test_line_reversed_has_the_same_tops(seed: int, is_closed: bool) -> None:
    task = fence(seed, is_closed=is_closed)
    same(shape_top_line(backwards(task), SETTINGS), shape_top_line(task, SETTINGS).top_m[::-1])


@settings(max_examples=30, deadline=None)
@given(SEEDS, st.booleans())
def test_span_drawn_the_other_way_changes_nothing(seed: int, is_closed: bool) -> None:
    task = fence(seed, is_closed=is_closed)
    spans = replace(task.spans, from_post=task.spans.to_post, to_post=task.spans.from_post)
    count = task.spans.length_m.size
    profile = replace(
        task.profile,
        fraction=1 - task.profile.fraction.reshape(count, 2)[:, ::-1].ravel(),
        ground_m=task.profile.ground_m.reshape(count, 2)[:, ::-1].ravel(),
    )
    mirrored = replace(task, spans=spans, profile=profile)
    same(shape_top_line(mirrored, SETTINGS), shape_top_line(task, SETTINGS).top_m)


@settings(max_examples=30, deadline=None)
@given(SEEDS, st.floats(-400.0, 4000.0))
def test_line_raised_is_raised(seed: int, rise_m: float) -> None:
    task = fence(seed)
    raised = replace(
        task,
        posts=replace(task.posts, ground_m=task.posts.ground_m + rise_m),
        profile=replace(task.profile, ground_m=task.profile.ground_m + rise_m),
    )
    same(shape_top_line(raised, SETTINGS), shape_top_line(task, SETTINGS).top_m + rise_m)


@settings(max_examples=30, deadline=None)
@given(SEEDS)
def test_posts_numbered_anyhow_have_the_same_tops(seed: int) -> None:
    """Also drives the reordering: shuffled numbers have no band of their own."""
    task = fence(seed, is_closed=True)
    order = np.random.default_rng(seed).permutation(task.posts.ground_m.size)
    place = np.argsort(order)
    shuffled = replace(
        task,
        posts=TopLinePosts(**{name: getattr(task.posts, name)[order] for name in vars(task.posts)}),
        spans=replace(task.spans, from_post=place[task.spans.from_post], to_post=place[task.spans.to_post]),
    )
    same(shape_top_line(shuffled, SETTINGS), shape_top_line(task, SETTINGS).top_m[order])


@settings(max_examples=30, deadline=None)
@given(SEEDS, st.floats(0.0, 0.3), st.floats(0.0, 0.3))
def test_looser_bands_never_cost_more(seed: int, band_m: float, gap_m: float) -> None:
    task = fence(seed)
    looser = replace(
        task,
        posts=replace(task.posts, low_m=task.posts.low_m - band_m, high_m=task.posts.high_m + band_m),
        spans=replace(
            task.spans, gap_low_m=task.spans.gap_low_m - gap_m, gap_high_m=task.spans.gap_high_m + gap_m
        ),
    )
    tight, loose = shape_top_line(task, SETTINGS).certificate, shape_top_line(looser, SETTINGS).certificate
    assert loose.lower_bound_m2 <= tight.objective_m2 * (1 + 1e-12) + 1e-15


@settings(max_examples=20, deadline=None)
@given(SEEDS, st.booleans(), st.floats(-100.0, 3000.0))
def test_flat_ground_gives_nominal_heights(seed: int, is_closed: bool, elevation_m: float) -> None:
    task = fence(seed, is_closed=is_closed, is_flat=True)
    flat = replace(
        task,
        posts=replace(task.posts, ground_m=task.posts.ground_m + elevation_m),
        profile=replace(task.profile, ground_m=task.profile.ground_m + elevation_m),
    )
    line = shape_top_line(flat, SETTINGS)
    np.testing.assert_allclose(line.height_m, 1.4, atol=1e-9)
    np.testing.assert_allclose(line.uplift_n, 0.0, atol=1e-5)
    assert line.clashes.kind == ()


@settings(max_examples=30, deadline=None)
@given(SEEDS, st.floats(-0.5, 0.5))
def test_pin_is_honoured_to_the_last_digit(seed: int, off_m: float) -> None:
    task = fence(seed)
    pinned = task.posts.pinned_top_m.copy()
    pinned[3] = task.posts.ground_m[3] + 1.4 + off_m
    line = shape_top_line(replace(task, posts=replace(task.posts, pinned_top_m=pinned)), SETTINGS)
    assert line.top_m[3] == pinned[3]
    assert line.certificate.is_converged


@settings(max_examples=40, deadline=None)
@given(SEEDS, st.booleans())
def test_every_answer_is_proven_and_judged(seed: int, is_closed: bool) -> None:
    task = fence(seed, is_closed=is_closed)
    line = shape_top_line(task, SETTINGS)
    assert line.certificate.is_converged
    assert not {"post band", "level"} & set(line.clashes.kind)
    gates = task.spans.is_level
    assert np.array_equal(line.top_m[task.spans.from_post[gates]], line.top_m[task.spans.to_post[gates]])
    broken = np.array(
        [i for k, i in zip(line.clashes.kind, line.clashes.index, strict=True) if k == "gap low"]
    )
    low = np.flatnonzero(line.lowest_gap_m < task.spans.gap_low_m - 1e-6)
    assert set(broken.tolist()) == set(low.tolist())
