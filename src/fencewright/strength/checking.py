"""Every check of every post and brace in every case, at the depths that the task has."""

from collections.abc import Sequence
from copy import copy
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import LoadCase
from fencewright.strength.acting import Acting, acting
from fencewright.strength.braces import BraceFrame, brace_capacity_n, footing_capacity
from fencewright.strength.footings import (
    UPLIFT_MODELS,
    bearing_of_post_n,
    broms_capacity_n,
    embedment_terms,
    hold_down_n,
    hole_shape,
)
from fencewright.strength.ledger import Ledger
from fencewright.strength.load_cases import Factors, member_factors, member_resistance, soil_factors
from fencewright.strength.post_loads import Surroundings
from fencewright.strength.posts import braced_bending_n_m, free_bending_n_m, rails_at_braced_n
from fencewright.strength.task import Footing, Members, StrengthTask
from fencewright.tables.strength import Check

Floats = NDArray[np.float64]


class Checker:
    """One task with its columns, ready to be checked some cases at a time.

    Soil that has no values is asked nothing: a finding says so.
    """

    def __init__(
        self,
        task: StrengthTask,
        around: Surroundings,
        footing: Footing,
        members: Members,
        frame: BraceFrame,
    ) -> None:
        self.task, self.around, self.footing, self.members, self.frame = task, around, footing, members, frame
        self.ledger = Ledger()
        self.is_known = footing.lateral_pa_m > 0
        self.weight_n = members.weight_n_m * (task.height_m + task.holes.depth_m)
        self.bearing_n = bearing_of_post_n(task, footing)
        braces = task.layout.braces
        self.diagonal = ~braces.is_horizontal
        self.slant = np.hypot(frame.drop_m, frame.reach_m) / frame.reach_m
        self.brace_diameter_m = np.full(len(braces), task.settings.brace.diameter_m)
        self.shape = hole_shape(task, footing, members, np.arange(len(task.layout.posts)))
        self.hold_n = hold_down_n(
            task, self.shape, task.holes.depth_m, task.settings.strength.ground.uplift_model
        )
        self.footing_capacity = footing_capacity(task, footing, task.brace_holes.depth_m)

    def drawn_otherwise(self, task: StrengthTask, around: Surroundings) -> "Checker":
        """Give a checker of the same fence under other pulls, nothing noted yet."""
        other = copy(self)
        other.task, other.around, other.ledger = task, around, Ledger()
        return other

    def check(self, some: Acting) -> None:
        """Add some cases, as they act on the soil, to the ledger."""
        self._soil(some)
        self._brace_footings(some)
        method = self.task.settings.strength.method
        own = [member_factors(case, method) for case in some.cases]
        if own == [soil_factors(case) for case in some.cases]:
            self._members(some, own)
            self._brace_members(some)
            return
        parts = (self.task, self.around, self.members, self.frame)
        row = some.row
        for other in acting(*parts, some.cases, lambda case: member_factors(case, method)):
            mine = replace(other, row=row[other.row])
            self._members(mine, [own[place] for place in other.row])
            self._brace_members(mine)

    def finish(self) -> Ledger:
        """Add the second opinions on uplift, whose worst case is that of the first, and give the ledger."""
        for name, check in UPLIFT_MODELS.items():
            holds = hold_down_n(self.task, self.shape, self.task.holes.depth_m, name)
            self.ledger.repeat(Check.UPLIFT, check, self.footing.is_concrete, holds)
        return self.ledger

    def _soil(self, some: Acting) -> None:
        """Embedment, uplift and bearing of the posts' holes."""
        task, footing, ledger, row, reactions = (
            self.task,
            self.footing,
            self.ledger,
            some.row,
            some.reactions,
        )
        depth = task.holes.depth_m
        known = self.is_known
        force, moment = known * reactions.kick_n, known * reactions.turn_n_m
        uplift, pressed = known * reactions.uplift_n, known * reactions.down_n
        demand, capacity = embedment_terms(force, moment, depth, footing.width_m, footing.lateral_pa_m)
        ledger.note(Check.EMBEDMENT, row, demand, capacity)
        broms = broms_capacity_n(task, footing, force, moment, depth)
        ledger.note(Check.EMBEDMENT_BROMS, row, force, broms)
        ledger.note(Check.UPLIFT, row, uplift, self.hold_n)
        down = np.where(pressed > 0, pressed + self.weight_n, 0.0)
        ledger.note(Check.BEARING, row, down, self.bearing_n)

    def _brace_footings(self, some: Acting) -> None:
        """Push, tipping and bearing of the diagonal braces' footings, and the tie of the horizontal ones."""
        braces, frame, ledger = self.task.layout.braces, self.frame, self.ledger
        row, reactions = some.row, some.reactions
        thrust = np.where(self.diagonal & self.is_known[braces.post_index], reactions.thrust_n, 0.0)
        down = thrust * frame.slope
        holds = self.footing_capacity
        ledger.note(Check.FOOTING_PUSH, row, thrust, holds.push_n(down), of_brace=True)
        tips = thrust * holds.lever_m
        ledger.note(Check.FOOTING_TIPPING, row, tips, holds.tipping_n_m(down), of_brace=True)
        pressed = np.where(down > 0, down + holds.weight_n, 0.0)
        ledger.note(Check.FOOTING_BEARING, row, pressed, holds.down_n, of_brace=True)
        # a last bay's tie is asked to hold without the second upright; a first bay's shares with the second's
        tied = np.where(frame.behind >= 0, reactions.tied_n, reactions.thrust_n)
        tie = np.where(self.diagonal, 0.0, tied) * self.slant
        strength = np.full(len(braces), self.task.settings.strength.tie_n)
        ledger.note(Check.TIE, row, tie, strength, of_brace=True)

    def _members(self, some: Acting, factors: Sequence[Factors]) -> None:
        """Bending and shear of the posts."""
        task, members, frame, reactions = self.task, self.members, self.frame, some.reactions
        bending = free_bending_n_m(task, reactions, self.footing.is_concrete)
        shear = reactions.kick_n.copy()
        braced = frame.braced
        if len(braced):
            moment, across = braced_bending_n_m(
                task, frame, self._braced_pulls_n(some.cases, factors), some.loads, reactions
            )
            on = some.loads.applies[:, braced]
            bending[:, braced] = np.maximum(bending[:, braced], np.where(on, moment, 0.0))
            shear[:, braced] = np.maximum(shear[:, braced], np.where(on, across, 0.0))
        settings, steel = task.settings, members.is_steel
        for check, demand, holds, kind in (
            (Check.BENDING, bending, members.bending_n_m, "bending"),
            (Check.SHEAR, shear, members.shear_n, "shear"),
        ):
            resists = np.stack([member_resistance(case, settings, kind, steel) for case in some.cases])
            self.ledger.note(check, some.row, demand, holds * resists)

    def _braced_pulls_n(self, cases: Sequence[LoadCase], factors: Sequence[Factors]) -> Floats:
        """Rails' pulls at the braced posts, (cases, strands, braced, 2). [N]"""
        of: dict[tuple[str, str], Floats] = {}
        for case in cases:
            key = (case.pull, case.side)
            if key not in of:
                of[key] = rails_at_braced_n(self.task, self.around.rails, self.frame, *key)
        return np.stack(
            [own.pull * of[case.pull, case.side] for case, own in zip(cases, factors, strict=True)]
        )

    def _brace_members(self, some: Acting) -> None:
        """Compression along the braces."""
        along = np.where(self.diagonal, self.slant, 1.0)
        of: dict[tuple[float | None, float], Floats] = {}
        for case in some.cases:
            key = (case.duration, case.time_effect)
            if key not in of:
                of[key] = brace_capacity_n(self.task, self.frame, case, self.brace_diameter_m)
        capacity = np.stack([of[case.duration, case.time_effect] for case in some.cases])
        self.ledger.note(
            Check.BRACE_COMPRESSION, some.row, some.reactions.thrust_n * along, capacity, of_brace=True
        )


def note_frost(task: StrengthTask, footing: Footing, ledger: Ledger, case: int) -> None:
    """Frost of concreted holes and of brace footings' posts: depth of frost over depth of the hole."""
    frost = np.where(footing.is_concrete, task.settings.frost_m, 0.0)
    row = np.array([case])
    ledger.note(Check.FROST, row, frost[None], task.holes.depth_m)
    diagonal = ~task.layout.braces.is_horizontal
    frost = np.where(diagonal, task.settings.frost_m, 0.0)
    ledger.note(Check.FROST, row, frost[None], task.brace_holes.depth_m, of_brace=True)
