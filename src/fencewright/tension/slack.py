"""Pulls whose window leaves them far slacker than their data sheet's set tension: what limits them, and what mends it."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import CAUTION, Finding
from fencewright.tension.governing import cold_at_limits_n, governing
from fencewright.tension.said import Said, first_rows


def is_low(said: Said) -> NDArray[np.bool_]:
    """Pulls with a window that lie below the least part of their data sheet's set tension: (runs, products)."""
    least_n = said.settings.tension.low_share * said.pulled.rails.set_tension_n
    return np.asarray(said.pulled.window.is_open & (said.pulled.set_tension_n < least_n))


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
    cold_n = cold_at_limits_n(said)
    named, rest = first_rows(rows, CAUTION, "tension-low")
    show, pulled = said.show, said.pulled
    for run, product in named:
        asked, chosen = float(pulled.rails.set_tension_n[product]), float(pulled.set_tension_n[run, product])
        limit = governing(said, cold_n, run, product)
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
