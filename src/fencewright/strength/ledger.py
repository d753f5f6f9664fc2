"""Keeps, for each check of each post or brace, only the case with the largest utilisation."""

from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from fencewright.tables.strength import Check, Checks

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

# utilisation of what nothing holds (a brace too slender to be allowed), so that no table holds an infinity
NOTHING_HOLDS = 1000.0
# cases this near to each other are equally bad: one from the left and its mirror image differ by a rounding
_EQUAL = 1e-9


def quotient(demand: Floats, capacity: Floats) -> Floats:
    """Demand over capacity: 0 where nothing is demanded, `NOTHING_HOLDS` where nothing is there to hold it. [-]"""
    holds = capacity > 0
    if holds.all():
        return np.minimum(demand / capacity, NOTHING_HOLDS)
    none = np.where(demand > 0, NOTHING_HOLDS, 0.0)
    return np.where(holds, np.minimum(demand / np.where(holds, capacity, 1.0), NOTHING_HOLDS), none)


def _held(demand: Floats, capacity: Floats) -> Floats:
    """Capacity as it is told, never so small that the quotient would leave the table."""
    return np.maximum(capacity, demand / NOTHING_HOLDS)


@dataclass(slots=True, eq=False)
class _Row:
    demand: Floats
    capacity: Floats
    utilisation: Floats
    case: Ints


@dataclass(slots=True, eq=False)
class Ledger:
    """Worst rows so far, by check: of posts (posts,), of braces (braces,).

    `is_known` (posts,) soil has values: soil checks of the others are not kept.
    """

    posts: dict[Check, _Row] = field(default_factory=dict)
    braces: dict[Check, _Row] = field(default_factory=dict)

    def note(
        self,
        check: Check,
        case: Ints,
        demand: Floats,
        capacity: Floats,
        *,
        rows: Ints | None = None,
        of_brace: bool = False,
    ) -> None:
        """Keep what is worse than what was noted before, of equals the earliest case.

        Parameters
        ----------
        check : Check
            What is checked.
        case : int array (cases,)
            Rows of the cases.
        demand : float array (cases, rows)
            Of each case and post, or brace.
        capacity : float array (rows,) or (cases, rows)
            Against it.
        rows : int array (rows,), optional
            Which posts or braces they are; all of them unless given, as they are the first time.
        of_brace : bool
            The rows are braces.
        """
        table = self.braces if of_brace else self.posts
        used = quotient(demand, capacity)
        every = np.arange(used.shape[1])
        pick, most = np.zeros(len(every), np.int64), used[0]
        if len(used) > 1:
            pick = (used >= (1.0 - _EQUAL) * used.max(axis=0)).argmax(axis=0)
            most = used[pick, every]
        if check not in table:
            own = every
            empty = np.empty(len(every))
            table[check] = _Row(empty, empty.copy(), empty.copy(), np.empty(len(every), np.int64))
        else:
            before, at = table[check], slice(None) if rows is None else rows
            least, earlier = before.utilisation[at], case[pick] < before.case[at]
            factor = np.where(earlier, 1.0 - _EQUAL, 1.0 + _EQUAL)
            own = np.flatnonzero((most > 0) & (most > factor * least))
        row, kept, pick = table[check], own if rows is None else rows[own], pick[own]
        row.demand[kept] = asked = demand[pick, own]
        row.capacity[kept] = _held(asked, capacity[pick, own] if capacity.ndim == 2 else capacity[own])
        row.utilisation[kept] = most[own]
        row.case[kept] = case[pick]

    def repeat(self, of: Check, check: Check, kept: Flags, capacity: Floats) -> None:
        """Set the worst demands of one check of the posts against another capacity that no case changes."""
        row = self.posts[of]
        demand = np.where(kept, row.demand, 0.0)
        self.posts[check] = _Row(demand, _held(demand, capacity), quotient(demand, capacity), row.case)

    def worst(self, brace_post: Ints, count: int) -> tuple[Floats, Ints]:
        """Largest counted utilisation of each post and its braces, and the check: (posts,) each."""
        worst, check = np.zeros(count), np.full(count, int(Check.BENDING))
        for kind in (one for one in Check if one.kind.is_counted):
            used = self.posts[kind].utilisation.copy() if kind in self.posts else np.zeros(count)
            if kind in self.braces:
                np.maximum.at(used, brace_post, self.braces[kind].utilisation)
            check = np.where(used > worst, int(kind), check)
            worst = np.maximum(worst, used)
        return worst, check

    def worst_of_braces(self, count: int) -> Floats:
        """Largest counted utilisation of each brace: (braces,)."""
        worst = np.zeros(count)
        for kind, row in self.braces.items():
            if kind.kind.is_counted:
                worst = np.maximum(worst, row.utilisation)
        return worst

    def table(self, brace_post: Ints, cases: tuple[str, ...]) -> Checks:
        """Rows with a demand, by post, then brace, then check."""
        rows = [*self.posts.values(), *self.braces.values()]
        kinds = [int(check) for check in (*self.posts, *self.braces)]
        kept = [np.flatnonzero(row.demand > 0) for row in rows]
        of_posts = sum(map(len, kept[: len(self.posts)]))
        which = np.concatenate(kept)
        post, brace = which.copy(), which.copy()
        brace[:of_posts], post[of_posts:] = -1, brace_post[which[of_posts:]]
        kind = np.repeat(kinds, list(map(len, kept)))
        # each row of the table has a number of its own: by post, then brace, then check
        order = np.argsort((post * (len(brace_post) + 1) + brace + 1) * len(Check) + kind)

        def column(name: str) -> NDArray[Any]:
            return np.concatenate([getattr(row, name)[own] for row, own in zip(rows, kept, strict=True)])[
                order
            ]

        return Checks(
            post[order],
            brace[order],
            kind[order],
            column("case"),
            column("demand"),
            column("capacity"),
            column("utilisation"),
            cases,
        )
