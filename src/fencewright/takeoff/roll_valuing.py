"""What a list of chains costs and leaves, and which of two is better."""

from __future__ import annotations

from dataclasses import dataclass

from fencewright.takeoff.roll_chain import roll_rooms
from fencewright.takeoff.roll_greedy import Chain
from fencewright.takeoff.roll_instance import Instance


@dataclass(frozen=True)
class Solution:
    """Chains that take every pull, their cost and what is known of the best. [um]"""

    chains: list[Chain]
    cost: int
    offcut: int
    bound: int
    is_offcut_proven: bool


def solution(instance: Instance, chains: list[Chain], bound: int, is_offcut_proven: bool) -> Solution:
    """Chains with their cost; an offcut that plainly could not be longer is called proven."""
    cost, offcut = cost_of(instance, chains), offcut_of(instance, chains)
    used = sum(len(roll_rooms(instance, *chain)) for chain in chains)
    # As many rolls as pulls and no splice: the shortest pull lies alone whatever the list.
    is_plain = used == instance.pulls == len(chains) and not any(last.splices for _, last in chains)
    is_plain = is_plain and not instance.remainders and cost == bound
    return Solution(chains, cost, offcut, min(bound, cost), is_offcut_proven or is_plain)


def cost_of(instance: Instance, chains: list[Chain]) -> int:
    """New rolls by their length, remainders and splices by their prices. [um]"""
    cost = 0
    for rolls, last in chains:
        cost += last.splices * instance.price
        for place in roll_rooms(instance, rolls, last) if rolls.rows else ():
            row = rolls.rows[place] if place < len(rolls.rows) else -1
            cost += instance.roll if row < 0 else instance.remainder_prices[row]
        if not rolls.rows:
            cost += last.rolls * instance.roll
    return cost


def offcut_of(instance: Instance, chains: list[Chain]) -> int:
    """Longest rail left on any roll of the chains. [um]"""
    return max((max(roll_rooms(instance, *chain).values()) for chain in chains), default=0)


def better(instance: Instance, first: list[Chain], second: list[Chain] | None) -> list[Chain]:
    """The cheaper of two lists, then the one with the longer offcut, then the first."""
    if second is None:
        return first
    costs = cost_of(instance, first), cost_of(instance, second)
    if costs[0] != costs[1]:
        return second if costs[1] < costs[0] else first
    return second if offcut_of(instance, second) > offcut_of(instance, first) else first
