"""What a customer says on the telephone, and a job file of a fence that fits it, before any line is drawn."""

import json
import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from fencewright.findings import InputError
from fencewright.quantity.show import UnitSystem

XY = tuple[float, float]

_MOST_LENGTH_M = 20_000.0  # further than anyone fences by telephone
_LEAST_SIDE_M = 2.0  # two posts and their braces need as much
_MOST_CORNERS = 12  # more would each turn less than a corner does
_MOST_GATES = 50
_LEAST_GATE_M, _MOST_GATE_M = 0.5, 15.0  # outside them it is no gate, but a slip of the unit
_OPEN_TURNING_RAD = math.radians(240)  # an open line turns no further in all, so that it never crosses itself
GROUNDS = ("flat", "rolling", "hilly")
_APART_M = 100.0  # between lines that have nothing to do with one another
_STRETCH = 2.0  # a paddock is drawn about this much longer than wide


@dataclass(frozen=True, slots=True)
class RoughCall:
    """A fence in words.

    `length_m` of each line, gates included [m]; `corners`, `gates` of all lines together; `gate_m` opening [m];
    `strands`; `rail` catalogue name; `is_closed` whether a line of three corners or more comes back to its start;
    `soil` catalogue name; `frost_m` depth [m]; `ground` one of `GROUNDS`; `terms` of the price as the job file writes
    them, by key; `sheets` units.
    """

    length_m: tuple[float, ...]
    corners: int
    gates: int
    gate_m: float
    strands: int
    rail: str
    is_closed: bool
    soil: str
    frost_m: float
    ground: str = "flat"
    terms: tuple[tuple[str, str], ...] = ()
    sheets: str = "us"


def check_call(call: RoughCall) -> None:
    """Refuse what no fence can be.

    Raises
    ------
    InputError
        No length or an absurd one, too many corners or gates, a closed line of fewer than three corners.
    """
    show = UnitSystem(call.sheets)
    if not call.length_m or min(call.length_m) <= 0 or not math.isfinite(sum(call.length_m)):
        raise InputError("a fence needs a length above nothing", item="--length")
    if sum(call.length_m) > _MOST_LENGTH_M:
        raise InputError(
            f"{show.far(sum(call.length_m))} is more than is priced by telephone: draw the line",
            item="--length",
        )
    most = _MOST_CORNERS * len(call.length_m)
    if not 0 <= call.corners <= most:
        raise InputError(
            f"{call.corners} is not between 0 and {most} corners: draw the line", item="--corners"
        )
    if not 0 <= call.gates <= _MOST_GATES:
        raise InputError(f"{call.gates} is not between 0 and {_MOST_GATES} gates", item="--gates")
    if call.gates and not _LEAST_GATE_M <= call.gate_m <= _MOST_GATE_M:
        raise InputError(
            f"must lie between {show.long(_LEAST_GATE_M)} and {show.long(_MOST_GATE_M)}", item="--gate-width"
        )
    if not 1 <= call.strands <= 12:
        raise InputError(f"{call.strands} is not between 1 and 12 strands", item="--strands")
    if call.is_closed and call.corners < 3 * len(call.length_m):
        raise InputError(
            "a line that closes has three corners or more: state more corners, or an open line",
            item="--corners",
        )
    sides = [one + 1 - call.is_closed for one in corners_by_line(call)]
    if min(length / count for length, count in zip(call.length_m, sides, strict=True)) < _LEAST_SIDE_M:
        raise InputError(
            f"sides of less than {show.long(_LEAST_SIDE_M)} cannot be fenced: state fewer corners or more length",
            item="--length",
        )


def corners_by_line(call: RoughCall) -> list[int]:
    """Corners of each line: three for each that closes, the rest shared out by length."""
    least = 3 if call.is_closed else 0
    rest = shared_out(call.corners - least * len(call.length_m), call.length_m)
    return [least + one for one in rest]


def shared_out(count: int, length_m: tuple[float, ...]) -> list[int]:
    """Share a count out among lines by their length, the largest remainder first."""
    exact = [count * one / sum(length_m) for one in length_m]
    shares = [math.floor(one + 1e-9) for one in exact]
    order = sorted(range(len(exact)), key=lambda k: (shares[k] - exact[k], k))
    for k in order[: count - sum(shares)]:
        shares[k] += 1
    return shares


def outline(length_m: float, corners: int, is_closed: bool) -> list[XY]:
    """Points of a line of a length with so many corners; first not repeated where it closes. [m].

    Notes
    -----
    Closed: a polygon of equal turns, drawn longer than wide where it has four corners. Open: equal sides with equal
    turns the same way, a right angle at most and 240 degrees in all, which cannot cross itself.
    """
    if not is_closed:
        turn = min(math.pi / 2, _OPEN_TURNING_RAD / max(corners, 1))
        return _walk(length_m, corners + 1, turn, corners + 2)
    points = _walk(1.0, corners, 2 * math.pi / corners, corners)
    if corners == 4:
        points = [(x * _STRETCH, y) for x, y in points]
    around = sum(math.dist(a, b) for a, b in pairwise([*points, points[0]]))
    return [(x * length_m / around, y * length_m / around) for x, y in points]


def _walk(length_m: float, sides: int, turn_rad: float, points: int) -> list[XY]:
    """Points of a walk of equal sides and turns."""
    x = y = 0.0
    walked = [(x, y)]
    for k in range(points - 1):
        x += length_m / sides * math.cos(k * turn_rad)
        y += length_m / sides * math.sin(k * turn_rad)
        walked.append((x, y))
    return walked


def gate_stations(points: list[XY], is_closed: bool, gates: int, gate_m: float) -> list[float]:
    """Station of each gate's nearer post: on the longest sides in turn, spread evenly along each. [m].

    Raises
    ------
    InputError
        A side has no room for its gates.
    """
    ends = [*points, points[0]] if is_closed else points
    sides = [math.dist(a, b) for a, b in pairwise(ends)]
    order = sorted(range(len(sides)), key=lambda k: (-round(sides[k], 6), k))
    counts = [0] * len(sides)
    for gate in range(gates):
        counts[order[gate % len(order)]] += 1
    stations: list[float] = []
    start = 0.0
    for side, count in zip(sides, counts, strict=True):
        if count and side / (count + 1) <= 1.5 * gate_m:
            raise InputError(f"{gates} do not fit on that length of fence: state fewer", item="--gates")
        stations += [start + side * (k + 1) / (count + 1) - gate_m / 2 for k in range(count)]
        start += side
    return stations


def rough_job_text(call: RoughCall) -> str:
    """Text of a job file of a fence that fits a call, on flat ground.

    Parameters
    ----------
    call : RoughCall
        Checked by `check_call`.

    Returns
    -------
    str
        TOML, for `parse_job`: everything that the call leaves open is left to the trade defaults.

    Raises
    ------
    InputError
        The gates do not fit.
    """
    return "\n".join(_text_lines(call)) + "\n"


def _text_lines(call: RoughCall) -> Iterator[str]:
    yield f'[job]\nname = "Rough price"\nsheets = {_text(call.sheets)}'
    yield f'[site]\ncrs = "local"\nsoil = {_text(call.soil)}\nfrost_depth = "{call.frost_m!r} m"'
    yield f"[fence]\nrails = {call.strands}\nrail = {_text(call.rail)}"
    yield "[price]\n" + "\n".join(f"{key} = {_text(value)}" for key, value in call.terms)
    corners, gates = corners_by_line(call), shared_out(call.gates, call.length_m)
    low = 0.0
    for number, length in enumerate(call.length_m, start=1):
        points = outline(length, corners[number - 1], call.is_closed)
        shift = low - min(y for _, y in points)
        low = shift + max(y for _, y in points) + _APART_M
        placed = ", ".join(f'["{x!r} m", "{y + shift!r} m"]' for x, y in points)
        yield f'[[line]]\nname = "line {number}"\npoints = [{placed}]\nclosed = {_text(call.is_closed)}'
        for at in gate_stations(points, call.is_closed, gates[number - 1], call.gate_m):
            yield f'[[gate]]\nline = "line {number}"\nat = "{at!r} m"\nopening = "{call.gate_m!r} m"'


def _text(value: object) -> str:
    """A value as TOML writes it; JSON's text is TOML's basic string."""
    return json.dumps(value)
