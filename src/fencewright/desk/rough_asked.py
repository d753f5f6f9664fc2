"""The words of a telephone call, as they are typed, to a fence in words; and what they leave open."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from fencewright.catalogue.rows import Catalogue
from fencewright.findings import InputError
from fencewright.job.filling import pick
from fencewright.job.rough_call import GROUNDS, RoughCall
from fencewright.quantity.parse import QuantityError, parse_quantity


@dataclass(frozen=True, slots=True)
class RoughAsked:
    """What was said, as text with units; None or empty: nothing was said about it.

    `length` of each line; `within` how well they are known; `is_closed` whether a line comes back to its start;
    `terms` of the price, by key of the job's `[price]`.
    """

    length: tuple[str, ...]
    corners: int | None = None
    gates: int | None = None
    gate_width: str = ""
    strands: int | None = None
    rail: str = ""
    is_closed: bool | None = None
    ground: str = ""
    soil: str = ""
    frost: str = ""
    within: str = ""
    terms: tuple[tuple[str, str], ...] = ()
    sheets: str = "us"

    def call(self, catalogue: Catalogue) -> RoughCall:
        """Give the fence that is taken as most likely; what was not said is common practice.

        Raises
        ------
        InputError
            A quantity without a unit, an unknown rail, soil or ground.
        """
        lengths = tuple(_quantity(one, "--length") for one in self.length)
        corners = self.corners if self.corners is not None else int(_usual(catalogue, "rough.corners"))
        enough = corners >= 3 * max(len(lengths), 1)
        if self.ground and self.ground not in GROUNDS:
            raise InputError(f"{self.ground[:40]!r} is not one of {', '.join(GROUNDS)}", item="--ground")
        soil, rail = self.soil or str(_usual(catalogue, "site.soil")), self.rail or "polymer rail"
        pick(catalogue.soils, soil, "soil", "--soil")
        pick(catalogue.rails, rail, "rail", "--rail")
        return RoughCall(
            length_m=lengths,
            corners=corners,
            gates=self.gates if self.gates is not None else int(_usual(catalogue, "rough.gates")),
            gate_m=_stated(self.gate_width, "--gate-width", catalogue, "rough.gate"),
            strands=self.strands if self.strands is not None else int(_usual(catalogue, "fence.rails")),
            rail=rail,
            is_closed=enough if self.is_closed is None else self.is_closed,
            soil=soil,
            frost_m=_stated(self.frost, "--frost", catalogue, "site.frost_depth"),
            ground=self.ground or GROUNDS[0],
            terms=self.terms,
            sheets=self.sheets,
        )

    def within_share(self, catalogue: Catalogue) -> float:
        """How well the lengths are known, as a part of them. Raises `InputError` where that is no share."""
        if not self.within:
            return float(_usual(catalogue, "rough.within"))
        share = _quantity(self.within, "--within", "ratio")
        if not 0 <= share < 1:
            raise InputError("must lie between 0 % and 100 %", item="--within")
        return share


@dataclass(frozen=True, slots=True)
class Unknown:
    """Something that the call leaves open: its name, what would settle it, and the fences at its ends."""

    name: str
    words: str
    remedy: str
    calls: tuple[RoughCall, ...]


def left_open(asked: RoughAsked, call: RoughCall, catalogue: Catalogue) -> Iterator[Unknown]:
    """What a call leaves open, with a fence that fits at each end of it."""
    yield from _open_lines(asked, call, catalogue)
    if asked.strands is None:
        calls = tuple(replace(call, strands=one) for one in (call.strands - 1, call.strands + 1))
        yield Unknown("strands", "Number of strands", "Ask how many, or for which animals.", calls)
    steps = (
        {"flat": (), "rolling": ("flat", "hilly"), "hilly": ("rolling",)}[call.ground]
        if asked.ground
        else ("rolling",)
    )
    calls = tuple(replace(call, ground=one) for one in steps)
    if calls:
        yield Unknown("ground", "How the ground lies", "Look at it, or have it levelled.", calls)
    if not asked.soil:
        calls = (replace(call, soil=str(_usual(catalogue, "rough.firm_soil"))),)
        yield Unknown("soil", "The soil", "Dig one hole, or ask a neighbour.", calls)
    if not asked.frost:
        ends = (float(_usual(catalogue, name)) for name in ("rough.frost_least", "rough.frost_most"))
        calls = tuple(replace(call, frost_m=one) for one in ends)
        yield Unknown("frost", "How deep it freezes", "Ask the building department.", calls)


def _open_lines(asked: RoughAsked, call: RoughCall, catalogue: Catalogue) -> Iterator[Unknown]:
    """Lengths, corners and gates."""
    share = asked.within_share(catalogue)
    if share:
        ends = (tuple(one * (1 + k * share) for one in call.length_m) for k in (-1, 1))
        calls = tuple(replace(call, length_m=one) for one in ends)
        yield Unknown(
            "length", "Length of the fence", "Measure it with a wheel, a track or a map to scale.", calls
        )
    more = 1 if asked.corners is not None else 2
    fewest = 3 * len(call.length_m) if call.is_closed else 0
    corners = {max(call.corners - (asked.corners is None), fewest), call.corners + more} - {call.corners}
    calls = tuple(replace(call, corners=one) for one in sorted(corners) if one <= 12 * len(call.length_m))
    if calls:
        yield Unknown("corners", "Number of corners", "Sketch the line, and count every turn.", calls)
    if asked.gates is None:
        calls = tuple(replace(call, gates=one) for one in (max(call.gates - 1, 0), call.gates + 1))
        yield Unknown("gates", "Number of gates", "Ask where one drives and rides through.", calls)
    if not asked.gate_width and call.gates:
        ends_m = (float(_usual(catalogue, name)) for name in ("rough.gate_least", "rough.gate_most"))
        calls = tuple(replace(call, gate_m=one) for one in ends_m)
        yield Unknown("gate width", "Width of the gates", "Ask for the widest machine.", calls)


def _usual(catalogue: Catalogue, name: str) -> Any:
    return catalogue.practice[name].value


def _stated(text: str, item: str, catalogue: Catalogue, usual: str) -> float:
    return _quantity(text, item) if text else float(_usual(catalogue, usual))


def _quantity(text: str, item: str, kind: str = "length") -> float:
    try:
        return parse_quantity(text, kind)
    except QuantityError as error:
        raise InputError(str(error), item=item) from error
