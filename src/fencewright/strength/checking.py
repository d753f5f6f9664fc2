"""Every check of every post and brace in every case, at the depths that the task has."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import LoadCase
from fencewright.strength.acting import Acting, acted
from fencewright.strength.fence import Fence
from fencewright.strength.footings import UPLIFT_MODELS, broms_capacity_n, embedment_terms
from fencewright.strength.holds import Holds
from fencewright.strength.ledger import Ledger
from fencewright.strength.load_cases import Factors, member_factors, member_resistance, soil_factors
from fencewright.strength.posts import braced_bending_n_m, free_bending_n_m, rails_at_braced_n
from fencewright.tables.strength import Check

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


class Checker:
    """One fence with its columns, ready to be checked some cases at a time.

    `kept` rows of the posts that the ledger is of, None for all of them: cases that reach other posts than those are
    noted by their rows. Soil that has no values is asked nothing: a finding says so.
    """

    def __init__(self, fence: Fence, holds: Holds, kept: Ints | None = None) -> None:
        self.fence, self.holds, self.kept = fence, holds, kept
        self.ledger = Ledger()
        self.is_known = fence.footing.lateral_pa_m > 0
        self.is_all_known = bool(self.is_known.all())
        braces, frame = fence.task.layout.braces, fence.frame
        self.diagonal = ~braces.is_horizontal
        self.slant = np.hypot(frame.drop_m, frame.reach_m) / frame.reach_m
        self.at_braced_n: dict[tuple[str, str], Floats] = {}

    def check(self, some: Acting) -> None:
        """Add some cases, as they act on the soil, to the ledger."""
        self._soil(some)
        self._brace_footings(some)
        method = self.fence.task.settings.strength.method
        own = [member_factors(case, method) for case in some.cases]
        if own == [soil_factors(case) for case in some.cases]:
            self._members(some, own)
            self._brace_members(some)
            return
        other = acted(self.fence, some.cases, own, some.reach, some.row)
        self._members(other, own)
        self._brace_members(other)

    def finish(self) -> Ledger:
        """Add the second opinions on uplift, whose worst case is that of the first, and give the ledger."""
        for name, check in UPLIFT_MODELS.items():
            holds = self.holds.models_n[name]
            self.ledger.repeat(Check.UPLIFT, check, self.fence.footing.is_concrete, holds)
        return self.ledger

    def _note(self, check: Check, some: Acting, demand: Floats, capacity: Floats) -> None:
        rows = None if some.reach.rows is self.kept else some.reach.rows
        self.ledger.note(check, some.row, demand, capacity, rows=rows)

    def _soil(self, some: Acting) -> None:
        """Embedment, uplift and bearing of the posts' holes."""
        task, reactions, of = self.fence.task, some.reactions, some.reach.of
        footing, depth = self.fence.footing.of(some.reach.rows), of(task.holes.depth_m)
        force, moment, uplift, pressed = self._known(
            some, reactions.kick_n, reactions.turn_n_m, reactions.uplift_n, reactions.down_n
        )
        demand, capacity = embedment_terms(force, moment, depth, footing.width_m, footing.lateral_pa_m)
        self._note(Check.EMBEDMENT, some, demand, capacity)
        broms = broms_capacity_n(task, footing, force, moment, depth)
        self._note(Check.EMBEDMENT_BROMS, some, force, broms)
        self._note(Check.UPLIFT, some, uplift, of(self.holds.down_n))
        down = np.where(pressed > 0, pressed + of(self.holds.weight_n), 0.0)
        self._note(Check.BEARING, some, down, of(self.holds.bearing_n))

    def _known(self, some: Acting, *columns: Floats) -> Sequence[Floats]:
        """Columns with nothing where the soil has no values."""
        if self.is_all_known:
            return columns
        known = some.reach.of(self.is_known)
        return [known * column for column in columns]

    def _brace_footings(self, some: Acting) -> None:
        """Push, tipping and bearing of the diagonal braces' footings, and the tie of the horizontal ones."""
        braces, frame, ledger = self.fence.task.layout.braces, self.fence.frame, self.ledger
        row, reactions = some.row, some.reactions
        thrust = np.where(self.diagonal & self.is_known[braces.post_index], reactions.thrust_n, 0.0)
        down = thrust * frame.slope
        holds = self.holds.footings
        ledger.note(Check.FOOTING_PUSH, row, thrust, holds.push_n(down), of_brace=True)
        tips = thrust * holds.lever_m
        ledger.note(Check.FOOTING_TIPPING, row, tips, holds.tipping_n_m(down), of_brace=True)
        pressed = np.where(down > 0, down + holds.weight_n, 0.0)
        ledger.note(Check.FOOTING_BEARING, row, pressed, holds.down_n, of_brace=True)
        if self.diagonal.all():
            return
        # a last bay's tie is asked to hold without the second upright; a first bay's shares with the second's
        tied = np.where(frame.behind >= 0, reactions.tied_n, reactions.thrust_n)
        tie = np.where(self.diagonal, 0.0, tied) * self.slant
        strength = np.full(len(braces), self.fence.task.settings.strength.tie_n)
        ledger.note(Check.TIE, row, tie, strength, of_brace=True)

    def _members(self, some: Acting, factors: Sequence[Factors]) -> None:
        """Bending and shear of the posts."""
        fence, reactions, of = self.fence, some.reactions, some.reach.of
        depth, concrete = of(fence.task.holes.depth_m), of(fence.footing.is_concrete)
        bending = free_bending_n_m(fence.task, reactions, depth, concrete)
        shear = reactions.kick_n.copy()
        braced = some.reach.frame.braced
        if len(braced):
            pulls = self._braced_pulls_n(some.cases, factors)
            height = fence.task.height_m[fence.frame.braced]
            moment, across = braced_bending_n_m(
                fence.task, some.reach.frame, height, pulls, some.braced_loads, reactions
            )
            on = some.braced_loads.applies
            bending[:, braced] = np.maximum(bending[:, braced], np.where(on, moment, 0.0))
            shear[:, braced] = np.maximum(shear[:, braced], np.where(on, across, 0.0))
        members, steel = fence.members, of(fence.members.is_steel)
        if not steel.any():
            steel = steel[:1]  # one factor for all posts
        for check, demand, holds, kind in (
            (Check.BENDING, bending, members.bending_n_m, "bending"),
            (Check.SHEAR, shear, members.shear_n, "shear"),
        ):
            resists = np.stack(
                [member_resistance(case, fence.task.settings, kind, steel) for case in some.cases]
            )
            self._note(check, some, demand, of(holds) * resists)

    def _braced_pulls_n(self, cases: Sequence[LoadCase], factors: Sequence[Factors]) -> Floats:
        """Rails' pulls at the braced posts, (2, cases, strands, braced). [N]"""
        of = self.at_braced_n
        for key in dict.fromkeys((case.pull, case.side) for case in cases):
            if key not in of:
                of[key] = rails_at_braced_n(self.fence.braced, self.fence.task.tension_n[key[0]], key[1])
        pulls = [own.pull * of[case.pull, case.side] for case, own in zip(cases, factors, strict=True)]
        return np.stack(pulls, axis=1)

    def _brace_members(self, some: Acting) -> None:
        """Compression along the braces."""
        along = np.where(self.diagonal, self.slant, 1.0)
        capacity = np.stack([self.holds.strut_n[case.duration, case.time_effect] for case in some.cases])
        self.ledger.note(
            Check.BRACE_COMPRESSION, some.row, some.reactions.thrust_n * along, capacity, of_brace=True
        )


def note_frost(fence: Fence, ledger: Ledger, case: int) -> None:
    """Frost of concreted holes and of brace footings' posts: depth of frost over depth of the hole."""
    task, row = fence.task, np.array([case])
    frost = np.where(fence.footing.is_concrete, task.settings.frost_m, 0.0)
    ledger.note(Check.FROST, row, frost[None], task.holes.depth_m)
    diagonal = ~task.layout.braces.is_horizontal
    frost = np.where(diagonal, task.settings.frost_m, 0.0)
    ledger.note(Check.FROST, row, frost[None], task.brace_holes.depth_m, of_brace=True)
