"""From post bands, pins and level spans to the unknowns of the program and their bounds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import csr_array
from scipy.sparse.csgraph import connected_components

from fencewright.tables.top_line import FloatArray, IntArray, TopLinePosts, TopLineSpans

#: An unknown whose band is narrower than this is no unknown: it is set in the middle. [m]
LEAST_BAND_M = 1e-9


@dataclass(frozen=True)
class Unknowns:
    """The unknowns x of the program: each top is `reference_m + x[unknown]`.

    Attributes
    ----------
    unknown : int array (posts,)
        The unknown that moves the post; -1 where the top is fixed. Level posts share one.
    reference_m : float array (posts,)
        Elevation of the top at x = 0: nominal where free, the pin where pinned. [m]
    low_m, high_m : float array (unknowns,)
        Bounds of x. [m]
    weight : float array (unknowns,)
        Sum of the nominal weights of its posts. [-]
    constant_m2 : float
        What deviation from nominal costs and no unknown can change. [m2]
    has_shared : bool
        Some unknown moves more than one post.
    """

    unknown: IntArray
    reference_m: FloatArray
    low_m: FloatArray
    high_m: FloatArray
    weight: FloatArray
    constant_m2: float
    has_shared: bool


def level_groups(posts: TopLinePosts, spans: TopLineSpans) -> tuple[int, IntArray]:
    """Group the posts whose tops stand at one elevation.

    Parameters
    ----------
    posts : TopLinePosts
        Only the number of posts is read.
    spans : TopLineSpans
        Its level spans join posts.

    Returns
    -------
    count : int
        Number of groups.
    group : int array (posts,)
        Group of each post, in the order of each group's first post.
    """
    count = posts.ground_m.size
    rows = np.flatnonzero(spans.is_level)
    if rows.size == 0:
        return count, np.arange(count, dtype=np.int64)
    ends = (spans.from_post[rows], spans.to_post[rows])
    if np.bincount(np.concatenate(ends)).max() == 1:  # pairs, each apart from the others
        is_first = np.ones(count, bool)
        is_first[np.maximum(*ends)] = False
        group = np.cumsum(is_first) - 1
        group[np.maximum(*ends)] = group[np.minimum(*ends)]
        return count - rows.size, group
    graph = csr_array((np.ones(rows.size), ends), shape=(count, count))
    groups, label = connected_components(graph, directed=False)
    first = np.full(groups, count)
    np.minimum.at(first, label, np.arange(count))
    rank = np.empty(groups, np.int64)
    rank[np.argsort(first)] = np.arange(groups)
    return int(groups), rank[label]


def bound_unknowns(posts: TopLinePosts, spans: TopLineSpans) -> Unknowns:
    """Merge level posts, intersect their bands, and take fixed tops out.

    Parameters
    ----------
    posts : TopLinePosts
        Bands, pins and nominal heights.
    spans : TopLineSpans
        Level spans merge their two posts.

    Returns
    -------
    Unknowns
        Where bands do not meet (low above high, or level posts too far apart in height), the band
        is opened to what lies between them: any top there is equally near. A pin wins over a band;
        where pins of level posts differ each is kept, and free posts stand midway.
    """
    groups, group = level_groups(posts, spans)
    wanted = posts.ground_m + posts.nominal_height_m
    low, high = posts.ground_m + posts.low_m, posts.ground_m + posts.high_m
    if groups < group.size:
        low, high = _fold(np.maximum, low, group, groups), _fold(np.minimum, high, group, groups)
    low, high = np.minimum(low, high), np.maximum(low, high)
    centre = _weighted_mean(wanted, posts.nominal_weight, group, groups)
    fixed = high - low <= LEAST_BAND_M
    value = np.where(fixed, 0.5 * (low + high), centre)
    pinned = np.flatnonzero(~np.isnan(posts.pinned_top_m))
    if pinned.size:
        pins, owner = posts.pinned_top_m[pinned], group[pinned]
        least, most = np.full(groups, np.inf), np.full(groups, -np.inf)
        np.minimum.at(least, owner, pins)
        np.maximum.at(most, owner, pins)
        value[owner] = 0.5 * (least[owner] + most[owner])
        fixed[owner] = True
    reference = value[group]
    reference[pinned] = posts.pinned_top_m[pinned]
    number = np.where(fixed, -1, np.cumsum(~fixed) - 1)
    weight = np.asarray(np.bincount(group, posts.nominal_weight, groups), np.float64)
    kept = ~fixed
    return Unknowns(
        unknown=number[group],
        reference_m=reference,
        low_m=(low - value)[kept],
        high_m=(high - value)[kept],
        weight=weight[kept],
        constant_m2=0.5 * float(np.sum(posts.nominal_weight * (reference - wanted) ** 2)),
        has_shared=groups < group.size,
    )


def _fold(fold: np.ufunc, values: FloatArray, group: IntArray, groups: int) -> FloatArray:
    """Fold the values of each group with `np.minimum` or `np.maximum`."""
    result = np.full(groups, -np.inf if fold is np.maximum else np.inf)
    fold.at(result, group, values)
    return result


def _weighted_mean(values: FloatArray, weight: FloatArray, group: IntArray, groups: int) -> FloatArray:
    """Mean of each group, so that the deviations from it have no first-order cost."""
    if groups == group.size:
        return values.copy()
    base = _fold(np.minimum, values, group, groups)
    total = np.bincount(group, weight, groups)
    return np.asarray(base + np.bincount(group, weight * (values - base[group]), groups) / total)
