"""Pulls whose window leaves them far slacker than their data sheet's set tension: what limits them, and what mends it."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import CAUTION, Finding
from fencewright.tables.tension import GOVERNS_HIGH
from fencewright.tension.said import Said, first_rows
from fencewright.tension.state import held_change_n
from fencewright.tension.window import LIMITS

Floats = NDArray[np.float64]
_FIRST, _LAST = (row for row, governs in enumerate(LIMITS) if GOVERNS_HIGH[governs] == "ends")
_CORNER = next(row for row, governs in enumerate(LIMITS) if GOVERNS_HIGH[governs] == "corners")


def is_low(said: Said) -> NDArray[np.bool_]:
    """Pulls with a window that lie below the least part of their data sheet's set tension: (runs, products)."""
    least_n = said.settings.tension.low_share * said.pulled.rails.set_tension_n
    return np.asarray(said.pulled.window.is_open & (said.pulled.set_tension_n < least_n))


@dataclass(frozen=True, slots=True)
class _Limit:
    """What holds a pull down: `post` -1 where the rail itself does; what it carries of all rails, and would have to. [N]"""

    post: int
    is_corner: bool
    carried_n: float
    needed_n: float


def low_findings(said: Said) -> Iterator[Finding]:
    """Say of each such pull how slack it is, what limits it, and what would let it be drawn as its sheet has it.

    Yields
    ------
    Finding
        `tension-low`.

    Notes
    -----
    Such a rail still sags no more than it may: it is what leans on it or runs into it that it gives way to.
    """
    rows = np.argwhere(is_low(said))
    if not len(rows):
        return
    cold_n = _cold_at_limits_n(said)
    named, rest = first_rows(rows, CAUTION, "tension-low")
    show, pulled = said.show, said.pulled
    for run, product in named:
        asked, chosen = float(pulled.rails.set_tension_n[product]), float(pulled.set_tension_n[run, product])
        limit = _limit(said, cold_n, run, product)
        carried, needed = show.force(limit.carried_n), show.force(limit.needed_n)
        if limit.post < 0:
            why = f"more than {carried} is too much for the rail itself on the coldest day"
            is_fitted = said.settings.tension.spring_m_n > 0
            remedy = (
                f"Take a rail that may carry {needed} on the coldest day"
                f"{'.' if is_fitted else ', or set [tension] spring_keeper = true.'}"
            )
        else:
            name = f"P{limit.post + 1}"
            why = f"{name} carries no more than {carried} of all its rails on the coldest day"
            remedy = (
                f"Make {name} carry {needed} (a diagonal brace, a deeper or wider hole, a deeper brace footing), or take "
                f"fewer or lighter rails.{' Or end the rail there both ways with a [[strain]].' if limit.is_corner else ''}"
            )
        yield Finding(
            CAUTION,
            "tension-low",
            said.place(run, product),
            f"{said.name(run, product)} is drawn to {show.force(chosen)} at {said.reference}, {chosen / asked:.0%} of the "
            f"{show.force(asked)} of its data sheet, for {why}: so slack a rail gives way to stock.",
            remedy,
        )
    yield from rest


def _cold_at_limits_n(said: Said) -> Floats:
    """Tension of one rail where each limit is, drawn as its sheet has it: (runs, products, limits). [N]"""
    pulled, tension = said.pulled, said.settings.tension
    grown_m = pulled.states.expansion_m_per_c * (pulled.rails.coldest_c - tension.reference_c)
    gained = held_change_n(pulled.states, pulled.rails.set_tension_n, grown_m)
    return np.asarray(pulled.rails.set_tension_n[:, None] * pulled.limits.share + gained[..., None])


def _limit(said: Said, cold_n: Floats, run: int, product: int) -> _Limit:
    """What holds a pull down on the coldest day."""
    rails, most = said.pulled.rails, said.pulled.limits.most_cold_n[run]
    governs = int(said.pulled.window.governs_high[run, product])
    if GOVERNS_HIGH[governs] not in ("ends", "corners"):
        row = LIMITS.index(governs)
        return _Limit(-1, False, float(most[product, row]), float(cold_n[run, product, row]))
    row, post = _CORNER, int(said.task.turn_post[run])
    if GOVERNS_HIGH[governs] == "ends":
        row = max(_FIRST, _LAST, key=lambda at: float(cold_n[run, product, at] / most[product, at]))
        at = said.task.post_start[run] if row == _FIRST else said.task.post_start[run + 1] - 1
        post = int(said.task.post_index[at])
    carried_n = float(rails.strands @ most[:, row])
    return _Limit(
        post, row == _CORNER, carried_n, carried_n * float((cold_n[run, :, row] / most[:, row]).max())
    )
