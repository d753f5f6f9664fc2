"""Records of roll cutting: pulls to cut, rolls to cut them from, the rule of a splice, the cut list."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]
Flags = NDArray[np.bool_]


class UncuttablePullError(ValueError):
    """A pull that no sequence of rolls can make under the rule of splices.

    Attributes
    ----------
    pull_index : int
        Row of the pull in `RollPieces`.
    length_m, roll_m : float
        Of the pull, and of a new roll. [m]
    """

    def __init__(self, pull_index: int, length_m: float, roll_m: float) -> None:
        super().__init__(f"pull {pull_index} of {length_m:.3f} m cannot be cut from rolls of {roll_m:.3f} m")
        self.pull_index, self.length_m, self.roll_m = pull_index, length_m, roll_m


def _no_floats() -> Floats:
    return np.zeros(0, dtype=np.float64)


@dataclass(frozen=True)
class RollPieces:
    """Pulls of one product, tails included, and where along them no splice may fall.

    Attributes
    ----------
    length_m : float array (pulls,)
        Rail from end to end of each pull, above 0. [m]
    forbidden_start : int array (pulls + 1,)
        Rows of the two next columns that belong to each pull; empty: no pull has any.
    forbidden_from_m, forbidden_to_m : float array (intervals,)
        A splice lies outside (from, to), its ends allowed; in any order, may overlap. [m along the pull]
    """

    length_m: Floats
    forbidden_start: Indices = field(default_factory=lambda: np.zeros(0, dtype=np.int64))
    forbidden_from_m: Floats = field(default_factory=_no_floats)
    forbidden_to_m: Floats = field(default_factory=_no_floats)


@dataclass(frozen=True)
class RollStock:
    """Rolls that may be cut: new ones without limit, and remainders in the yard, each once.

    Attributes
    ----------
    roll_length_m : float
        Length of a new roll and its cost. [m]
    remainders_m : float array (remainders,)
        Lengths in the yard, above 0. [m]
    remainder_prices_m : float array (remainders,)
        What using each one counts as; empty: nothing, they are owned. [m of rail]
    """

    roll_length_m: float
    remainders_m: Floats = field(default_factory=_no_floats)
    remainder_prices_m: Floats = field(default_factory=_no_floats)


@dataclass(frozen=True)
class SpliceRule:
    """What a splice takes, what it counts as, and the shortest fragment.

    Attributes
    ----------
    splice_loss_m : float
        Overlap that each splice consumes, 0 or more, below the roll. [m]
    splice_price_m : float
        What a splice counts as, 0 or more. [m of rail]
    least_fragment_m : float
        No fragment of a spliced pull covers less, so no splice is nearer an end. [m]
    """

    splice_loss_m: float
    splice_price_m: float
    least_fragment_m: float


@dataclass(frozen=True)
class CutList:
    """Which pull is cut from which roll, in the order of the rolls and along each roll.

    Attributes
    ----------
    roll_index, pull_index : int array (fragments,)
        Row of `roll_length_m` and of `RollPieces.length_m`.
    from_m, to_m : float array (fragments,)
        What the fragment covers along its pull; the fragments of a pull meet without a gap at its
        splices. [m]
    rail_m : float array (fragments,)
        Rail taken off the roll: to - from, and `splice_loss_m` more where from is not 0. [m]
    at_m : float array (fragments,)
        Where the fragment begins on its roll. [m]
    roll_length_m, used_m, offcut_m : float array (rolls,)
        Length of each roll used, rail taken off it, what is left in one length. [m]
    is_remainder : bool array (rolls,)
        Whether the roll is one of the yard.
    remainder_index : int array (rolls,)
        Row of `RollStock.remainders_m`; -1 for a new roll.
    splices : int
        Fragments less pulls.
    cost_m : float
        New rolls by their length, remainders by their price, splices by theirs. [m of rail]
    bound_m : float
        No cut list under any placing of splices costs less. [m of rail]
    is_proven : bool
        Whether the cost is the least: cost and bound agree to rounding.
    longest_offcut_m : float
        Longest single remainder left. [m]
    is_offcut_proven : bool
        Whether no list of the same cost leaves a longer one.
    """

    roll_index: Indices
    pull_index: Indices
    from_m: Floats
    to_m: Floats
    rail_m: Floats
    at_m: Floats
    roll_length_m: Floats
    used_m: Floats
    offcut_m: Floats
    is_remainder: Flags
    remainder_index: Indices
    splices: int
    cost_m: float
    bound_m: float
    is_proven: bool
    longest_offcut_m: float
    is_offcut_proven: bool

    @property
    def gap_m(self) -> float:
        """Most that a better list could save; 0 where proven. [m of rail]"""
        return max(0.0, self.cost_m - self.bound_m)

    @property
    def gap(self) -> float:
        """The same as a part of the cost; 0 where proven or where nothing is paid. [-]"""
        return self.gap_m / self.cost_m if self.cost_m > 0.0 else 0.0


@dataclass(frozen=True)
class NearMiss:
    """A small change of length that saves rolls.

    Attributes
    ----------
    kind : str
        "equal pulls": all pulls of one length; "one group": the longest of some pulls that
        share rolls, or would then;
        "all pulls": the longest of all.
    pull_index : int array (pulls changed,)
        Pulls to shorten, each by `by_m`.
    by_m : float
        How much shorter. [m]
    saves_rolls : int
        New rolls saved, found by cutting the shorter pulls again.
    saves_m : float
        Cost saved, splices included. [m of rail]
    """

    kind: str
    pull_index: Indices
    by_m: float
    saves_rolls: int
    saves_m: float
