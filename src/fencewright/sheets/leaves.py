"""How a gate's leaf stands open, in the job's plane."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from fencewright.tables.fence import Floats, Layout


@dataclass(frozen=True, slots=True)
class OpenLeaf:
    """A leaf stood open: pivot at the hinge post's face, tip [m]; angles when closed and open [rad]."""

    pivot_m: Floats
    tip_m: Floats
    length_m: float
    closed_rad: float
    opened_rad: float


def open_leaves(layout: Layout, row: int) -> Iterator[OpenLeaf]:
    """Leaf of an opening as it stands open, once for each side to which it swings; none for a crossing.

    A leaf whose length is not known is drawn as long as the opening.
    """
    openings, posts = layout.openings, layout.posts
    if openings.is_crossing[row]:
        return
    hinge = int(openings.hinge_post[row])
    ends = (int(openings.from_post[row]), int(openings.to_post[row]))
    other = ends[1] if hinge == ends[0] else ends[0]
    at, far = (np.array([posts.x_m[k], posts.y_m[k]]) for k in (hinge, other))
    along = (far - at) / max(float(np.hypot(*(far - at))), 1e-9)
    leaf = float(openings.leaf_m[row])
    length = leaf if math.isfinite(leaf) else float(openings.opening_m[row])
    pivot = at + along * posts.diameter_m[hinge] / 2
    closed = math.atan2(along[1], along[0])
    forward = 1 if hinge == ends[0] else -1  # the line's left, seen from the hinge
    swing = int(openings.swing[row])
    for side in (1, -1) if swing == 0 else (swing,):
        opened = closed + side * forward * math.pi / 2
        tip = pivot + length * np.array([math.cos(opened), math.sin(opened)])
        yield OpenLeaf(pivot, tip, length, closed, opened)
