"""Sizes that the job states post by post."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

# what `Holes.governs` says of a depth stated for one post alone
STATED_HERE = "stated post by post"


@dataclass(frozen=True, slots=True, eq=False)
class StatedSizes:
    """Sizes stated for single posts and braces, NaN where none is. [m]

    Columns (posts,): `diameter_m` of the post; `hole_m`, `depth_m` of its hole; `bell_m` by which it is wider at the
    bottom; `set` how it is held (`Setting`), -1 where not stated. Columns (braces,): `brace_hole_m`, `brace_depth_m`
    of the footing.
    """

    diameter_m: Floats
    hole_m: Floats
    bell_m: Floats
    depth_m: Floats
    set: NDArray[np.int64]
    brace_hole_m: Floats
    brace_depth_m: Floats


def no_sizes(posts: int, braces: int) -> StatedSizes:
    """Give a table that states nothing."""
    own, feet = np.full(posts, np.nan), np.full(braces, np.nan)
    return StatedSizes(own, own.copy(), own.copy(), own.copy(), np.full(posts, -1), feet, feet.copy())
