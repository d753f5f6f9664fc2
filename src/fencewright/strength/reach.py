"""Which posts some load cases reach: all of them, or only those at gates and ends with all that have braces."""

from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from fencewright.strength.braces import BraceFrame
from fencewright.tables.fence import Braces

Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
Cell = TypeVar("Cell", bound=np.generic)


@dataclass(frozen=True, slots=True, eq=False)
class Reach:
    """Some posts, with every post that a brace stands at, and where the braces stand among them.

    `rows` of the posts, None for all of them; `count` how many they are; `post`, `second` (braces,) as in `Braces`
    and `frame` as `BraceFrame`, their posts counted among these.
    """

    rows: Ints | None
    count: int
    post: Ints
    second: Ints
    frame: BraceFrame

    def of(self, column: NDArray[Cell]) -> NDArray[Cell]:
        """Give the posts' part of a column (..., posts)."""
        return column if self.rows is None else column[..., self.rows]


def everywhere(braces: Braces, frame: BraceFrame, posts: int) -> Reach:
    """Give all posts."""
    return Reach(None, posts, braces.post_index, braces.second_post, frame)


def near(braces: Braces, frame: BraceFrame, reached: Flags) -> Reach:
    """Give the posts that are reached (posts,), and those of braces: no statics leave them."""
    kept = reached.copy()
    kept[braces.post_index] = True
    kept[braces.second_post[braces.second_post >= 0]] = True
    rows = np.flatnonzero(kept)
    place = np.cumsum(kept) - 1
    second = np.where(braces.second_post >= 0, place[braces.second_post], -1)
    return Reach(
        rows, len(rows), place[braces.post_index], second, replace(frame, braced=place[frame.braced])
    )
