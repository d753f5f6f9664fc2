"""The cutting problem in whole micrometres, equal pulls counted by kind, kinds in a canonical order."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fencewright.takeoff.roll_records import RollPieces, RollStock, SpliceRule
from fencewright.takeoff.roll_windows import UM_PER_M, Ints, allowed_windows, whole_um


@dataclass(frozen=True)
class Instance:
    """What the solver works on; lengths in whole micrometres, kinds longest residue first.

    The residue of a pull is what is left of it once full rolls, each less one splice loss, are taken off:
    above the loss and at most one roll. Full rolls drop out of every trade, so residues decide the groups.
    """

    length: list[int]  # (kinds,)
    full_rolls: list[int]  # (kinds,) full rolls taken off
    residue: list[int]  # (kinds,)
    count: list[int]  # (kinds,)
    members: list[list[int]]  # (kinds,) pulls of each kind
    window_start: list[int]  # (kinds + 1,)
    window_from: list[int]
    window_to: list[int]
    roll: int
    loss: int
    price: int
    least: int
    remainders: list[int]  # longest first
    remainder_prices: list[int]
    remainder_rows: list[int]  # rows of the stock

    @property
    def further(self) -> int:
        """What each roll after the first adds to a chain: its length less a splice loss."""
        return self.roll - self.loss

    @property
    def pulls(self) -> int:
        """Number of pulls."""
        return sum(self.count)

    @property
    def total(self) -> int:
        """Length of all pulls."""
        return sum(length * count for length, count in zip(self.length, self.count, strict=True))

    def rolls_for(self, needed: int) -> int:
        """Fewest new rolls, spliced in a chain, that give a length; 0 for nothing."""
        return max(1, -((self.loss - needed) // self.further)) if needed > 0 else 0


def build_instance(pieces: RollPieces, stock: RollStock, rule: SpliceRule) -> Instance:
    """Sort the pulls into kinds: same length, same windows.

    Parameters
    ----------
    pieces, stock, rule : RollPieces, RollStock, SpliceRule
        The problem, already checked.

    Returns
    -------
    instance : Instance
        Does not depend on the order of the pulls or of the remainders, but for the rows it points to.
    """
    roll, loss, price, least = (
        round(value * UM_PER_M)
        for value in (stock.roll_length_m, rule.splice_loss_m, rule.splice_price_m, rule.least_fragment_m)
    )
    length = whole_um(pieces.length_m)
    start, window_from, window_to = allowed_windows(pieces, least)
    full = np.maximum(0, -((loss - length) // (roll - loss)) - 1)
    residue = length - full * (roll - loss)
    kinds = _kinds(length, residue, start, window_from, window_to)
    first = np.array([members[0] for members in kinds], dtype=np.int64)
    rows = np.concatenate([np.arange(start[i], start[i + 1]) for i in first]) if first.size else first
    lengths, prices, order = _sorted_remainders(stock, loss)
    return Instance(
        length=length[first].tolist(),
        full_rolls=full[first].tolist(),
        residue=residue[first].tolist(),
        count=[len(members) for members in kinds],
        members=kinds,
        window_start=np.concatenate([[0], np.cumsum((start[1:] - start[:-1])[first])]).tolist(),
        window_from=window_from[rows].tolist(),
        window_to=window_to[rows].tolist(),
        roll=roll,
        loss=loss,
        price=price,
        least=max(1, least),
        remainders=lengths,
        remainder_prices=prices,
        remainder_rows=order,
    )


def _kinds(length: Ints, residue: Ints, start: Ints, window_from: Ints, window_to: Ints) -> list[list[int]]:
    """Pulls by kind, in an order that depends on their lengths and windows alone."""
    kinds: dict[tuple[int, int, bytes], list[int]] = {}
    edges = start.tolist()
    for pull, (size, rest) in enumerate(zip(length.tolist(), residue.tolist(), strict=True)):
        rows = slice(edges[pull], edges[pull + 1])
        shape = window_from[rows].tobytes() + window_to[rows].tobytes()
        kinds.setdefault((-rest, -size, shape), []).append(pull)
    return [kinds[key] for key in sorted(kinds)]


def _sorted_remainders(stock: RollStock, loss: int) -> tuple[list[int], list[int], list[int]]:
    """Remainders longest first, then cheapest."""
    lengths = whole_um(stock.remainders_m).tolist()
    prices = whole_um(stock.remainder_prices_m).tolist() or [0] * len(lengths)
    order = sorted(range(len(lengths)), key=lambda i: (-lengths[i], prices[i], i))
    return [lengths[i] for i in order], [prices[i] for i in order], order
