"""Keeps, for each check of each post or brace, only the case with the largest utilisation."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from fencewright.tables.strength import Check, Checks

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

# utilisation of what nothing holds (a brace too slender to be allowed), so that no table holds an infinity
NOTHING_HOLDS = 1000.0


def quotient(demand: Floats, capacity: Floats) -> Floats:
    """Demand over capacity: 0 where nothing is demanded, `NOTHING_HOLDS` where nothing is there to hold it. [-]"""
    holds = capacity > 0
    if holds.all():
        return np.minimum(demand / capacity, NOTHING_HOLDS)
    none = np.where(demand > 0, NOTHING_HOLDS, 0.0)
    return np.where(holds, np.minimum(demand / np.where(holds, capacity, 1.0), NOTHING_HOLDS), none)


def _worst_of(demand: Floats, capacity: Floats, case: Ints) -> "_Row":
    """Give the first case of several (cases, rows) with the largest utilisation, row by row."""
    used = quotient(demand, capacity)
    if len(demand) == 1:
        held = capacity[0] if capacity.ndim == 2 else capacity
        return _row(demand[0].copy(), held, used[0], np.full(demand.shape[1], case[0]))
    pick, rows = used.argmax(axis=0), np.arange(demand.shape[1])
    held = capacity[pick, rows] if capacity.ndim == 2 else capacity
    return _row(demand[pick, rows], held, used[pick, rows], case[pick])


def _row(demand: Floats, capacity: Floats, used: Floats, case: Ints) -> "_Row":
    return _Row(demand, np.maximum(capacity, demand / NOTHING_HOLDS), used, case)


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
        new = _worst_of(demand, capacity, case)
        if check not in table:
            table[check] = new
            return
        row, at = table[check], slice(None) if rows is None else rows
        used = row.utilisation[at]
        worse = (new.utilisation > used) | ((new.utilisation == used) & (new.case < row.case[at]))
        own = np.flatnonzero(worse)
        kept = own if rows is None else rows[own]
        row.demand[kept] = new.demand[own]
        row.capacity[kept] = new.capacity[own]
        row.utilisation[kept] = new.utilisation[own]
        row.case[kept] = new.case[own]

    def repeat(self, of: Check, check: Check, kept: Flags, capacity: Floats) -> None:
        """Set the worst demands of one check of the posts against another capacity that no case changes."""
        row = self.posts[of]
        demand = np.where(kept, row.demand, 0.0)
        self.posts[check] = _row(demand, capacity, quotient(demand, capacity), row.case)

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
        parts: list[tuple[Ints, Ints, Ints, _Row, Ints]] = []
        for check, row in self.posts.items():
            kept = np.flatnonzero(row.demand > 0)
            parts.append((kept, np.full(len(kept), -1), np.full(len(kept), int(check)), row, kept))
        for check, row in self.braces.items():
            kept = np.flatnonzero(row.demand > 0)
            parts.append((brace_post[kept], kept, np.full(len(kept), int(check)), row, kept))
        post, brace, kind = (np.concatenate([part[k] for part in parts]).astype(np.int64) for k in range(3))
        demand = np.concatenate([part[3].demand[part[4]] for part in parts])
        capacity = np.concatenate([part[3].capacity[part[4]] for part in parts])
        used = np.concatenate([part[3].utilisation[part[4]] for part in parts])
        case = np.concatenate([part[3].case[part[4]] for part in parts]).astype(np.int64)
        order = np.lexsort((kind, brace, post))
        return Checks(
            post[order],
            brace[order],
            kind[order],
            case[order],
            demand[order],
            capacity[order],
            used[order],
            cases,
        )
