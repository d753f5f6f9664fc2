"""Every check of every post and brace in every case, at the depths that the task has."""

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import LoadCase
from fencewright.strength.braces import (
    BraceFrame,
    brace_capacity_n,
    footing_capacity,
)
from fencewright.strength.footings import (
    UPLIFT_MODELS,
    bearing_of_post_n,
    broms_capacity_n,
    embedment_terms,
    hold_down_n,
    hole_shape,
)
from fencewright.strength.ledger import Ledger
from fencewright.strength.load_cases import member_factors, member_resistance, soil_factors
from fencewright.strength.post_loads import PostForces, Surroundings, forces_of
from fencewright.strength.posts import Reactions, braced_bending_n_m, free_bending_n_m
from fencewright.strength.reactions import reactions_of
from fencewright.strength.task import Footing, Members, StrengthTask
from fencewright.tables.strength import Check

Floats = NDArray[np.float64]


class Checker:
    """One task with its columns, ready to be checked case by case.

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
        self.rows = np.arange(len(task.layout.posts))
        self.bearing_n = bearing_of_post_n(task, footing)
        self.brace_diameter_m = np.full(len(task.layout.braces), task.settings.brace.diameter_m)
        shape = hole_shape(task, footing, members, self.rows)
        self.hold_n = {model: hold_down_n(task, shape, task.holes.depth_m, model) for model in UPLIFT_MODELS}
        self.footing_capacity = footing_capacity(task, footing, task.brace_holes.depth_m)

    def check_case(self, index: int, case: LoadCase) -> None:
        """Add one case to the ledger."""
        task = self.task
        factors = soil_factors(case)
        loads = forces_of(task, self.around, case, factors)
        reactions = reactions_of(task, self.members, self.frame, loads)
        self._soil(index, reactions)
        self._brace_footings(index, reactions)
        own = member_factors(case, task.settings.strength.method)
        if own != factors:
            loads = forces_of(task, self.around, case, own)
            reactions = reactions_of(task, self.members, self.frame, loads)
        self._members(index, case, own.pull, loads, reactions)
        self._brace_members(index, case, reactions)

    def finish(self) -> Ledger:
        """Add the second opinions on uplift, whose worst case is that of the first, and give the ledger."""
        for name, check in UPLIFT_MODELS.items():
            self.ledger.repeat(Check.UPLIFT, check, self.footing.is_concrete, self.hold_n[name])
        return self.ledger

    def _soil(self, index: int, reactions: Reactions) -> None:
        """Embedment, uplift and bearing of the posts' holes."""
        task, footing, ledger = self.task, self.footing, self.ledger
        depth = task.holes.depth_m
        known = self.is_known
        force, moment = known * reactions.kick_n, known * reactions.turn_n_m
        uplift, pressed = known * reactions.uplift_n, known * reactions.down_n
        demand, capacity = embedment_terms(force, moment, depth, footing.width_m, footing.lateral_pa_m)
        ledger.note(Check.EMBEDMENT, index, demand, capacity)
        ledger.note(
            Check.EMBEDMENT_BROMS, index, force, broms_capacity_n(task, footing, force, moment, depth)
        )
        model = task.settings.strength.ground.uplift_model
        ledger.note(Check.UPLIFT, index, uplift, self.hold_n[model])
        down = np.where(pressed > 0, pressed + self.weight_n, 0.0)
        ledger.note(Check.BEARING, index, down, self.bearing_n)

    def _brace_footings(self, index: int, reactions: Reactions) -> None:
        """Push, tipping and bearing of the diagonal braces' footings, and the tie of the horizontal ones."""
        braces, frame, ledger = self.task.layout.braces, self.frame, self.ledger
        diagonal = ~braces.is_horizontal
        thrust = np.where(diagonal & self.is_known[braces.post_index], reactions.thrust_n, 0.0)
        down = thrust * frame.slope
        holds = self.footing_capacity
        ledger.note(Check.FOOTING_PUSH, index, thrust, holds.push_n(down), of_brace=True)
        tips = thrust * holds.lever_m
        ledger.note(Check.FOOTING_TIPPING, index, tips, holds.tipping_n_m(down), of_brace=True)
        pressed = np.where(down > 0, down + holds.weight_n, 0.0)
        ledger.note(Check.FOOTING_BEARING, index, pressed, holds.down_n, of_brace=True)
        # a last bay's tie is asked to hold without the second upright; a first bay's shares with the second's
        tied = np.where(frame.behind >= 0, reactions.tied_n, reactions.thrust_n)
        tie = np.where(diagonal, 0.0, tied) * np.hypot(frame.drop_m, frame.reach_m) / frame.reach_m
        strength = np.full(len(braces), self.task.settings.strength.tie_n)
        ledger.note(Check.TIE, index, tie, strength, of_brace=True)

    def _members(
        self, index: int, case: LoadCase, pull_factor: float, loads: PostForces, reactions: Reactions
    ) -> None:
        """Bending and shear of the posts."""
        task, members, frame = self.task, self.members, self.frame
        bending = free_bending_n_m(task, reactions, self.footing.is_concrete)
        shear = reactions.kick_n.copy()
        if len(frame.braced):
            moment, across = braced_bending_n_m(task, self.around, case, pull_factor, frame, loads, reactions)
            on = loads.applies[frame.braced]
            bending[frame.braced] = np.maximum(bending[frame.braced], np.where(on, moment, 0.0))
            shear[frame.braced] = np.maximum(shear[frame.braced], np.where(on, across, 0.0))
        settings = task.settings
        holds = members.bending_n_m * member_resistance(case, settings, "bending", members.is_steel)
        self.ledger.note(Check.BENDING, index, bending, holds)
        holds = members.shear_n * member_resistance(case, settings, "shear", members.is_steel)
        self.ledger.note(Check.SHEAR, index, shear, holds)

    def _brace_members(self, index: int, case: LoadCase, reactions: Reactions) -> None:
        """Compression along the braces."""
        frame, braces = self.frame, self.task.layout.braces
        along = np.where(braces.is_horizontal, 1.0, np.hypot(frame.drop_m, frame.reach_m) / frame.reach_m)
        capacity = brace_capacity_n(self.task, frame, case, self.brace_diameter_m)
        self.ledger.note(Check.BRACE_COMPRESSION, index, reactions.thrust_n * along, capacity, of_brace=True)


def note_frost(task: StrengthTask, footing: Footing, ledger: Ledger, case: int) -> None:
    """Frost of concreted holes and of brace footings' posts: depth of frost over depth of the hole."""
    frost = np.where(footing.is_concrete, task.settings.frost_m, 0.0)
    ledger.note(Check.FROST, case, frost, task.holes.depth_m)
    diagonal = ~task.layout.braces.is_horizontal
    frost = np.where(diagonal, task.settings.frost_m, 0.0)
    ledger.note(Check.FROST, case, frost, task.brace_holes.depth_m, of_brace=True)
