"""What holds a pull down on the coldest day: the rail itself, an end, or a corner; what that carries, and would have to."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.tables.tension import GOVERNS_HIGH
from fencewright.tension.said import Said
from fencewright.tension.state import held_change_n
from fencewright.tension.window import LIMITS

Floats = NDArray[np.float64]
_FIRST, _LAST = (row for row, governs in enumerate(LIMITS) if GOVERNS_HIGH[governs] == "ends")
_CORNER = next(row for row, governs in enumerate(LIMITS) if GOVERNS_HIGH[governs] == "corners")


@dataclass(frozen=True, slots=True)
class Governing:
    """What holds a pull down on the coldest day.

    Attributes
    ----------
    post : int
        Row of `Posts`; -1 where the rail itself does.
    is_corner : bool
        The post is a corner within the run, not an end of it.
    carried_n, needed_n : float
        What it carries, and what it would have to: a post of all its rails together, else of one rail. [N]
    """

    post: int
    is_corner: bool
    carried_n: float
    needed_n: float

    @property
    def name(self) -> str:
        """`the rail itself`, `its end P7` or `its corner P7`."""
        if self.post < 0:
            return "the rail itself"
        return f"its corner P{self.post + 1}" if self.is_corner else f"its end P{self.post + 1}"


def cold_at_limits_n(said: Said) -> Floats:
    """Tension of one rail where each limit is, drawn as its sheet has it: (runs, products, limits). [N]"""
    pulled, tension = said.pulled, said.settings.tension
    grown_m = pulled.states.expansion_m_per_c * (pulled.rails.coldest_c - tension.reference_c)
    gained = held_change_n(pulled.states, pulled.rails.set_tension_n, grown_m)
    return np.asarray(pulled.rails.set_tension_n[:, None] * pulled.limits.share + gained[..., None])


def governing(said: Said, cold_n: Floats, run: int, product: int) -> Governing:
    """Find what holds a pull down.

    Parameters
    ----------
    said : Said
        The stage's results.
    cold_n : float array (runs, products, limits)
        As `cold_at_limits_n` gives it. [N]
    run, product : int
        The pull.

    Returns
    -------
    Governing
        What governs the upper edge of its window; of two ends the one that lacks more.
    """
    rails, most = said.pulled.rails, said.pulled.limits.most_cold_n[run]
    governs = int(said.pulled.window.governs_high[run, product])
    if GOVERNS_HIGH[governs] not in ("ends", "corners"):
        row = LIMITS.index(governs)
        return Governing(-1, False, float(most[product, row]), float(cold_n[run, product, row]))
    row, post = _CORNER, int(said.task.turn_post[run])
    if GOVERNS_HIGH[governs] == "ends":
        row = max(_FIRST, _LAST, key=lambda at: float(cold_n[run, product, at] / most[product, at]))
        at = said.task.post_start[run] if row == _FIRST else said.task.post_start[run + 1] - 1
        post = int(said.task.post_index[at])
    carried_n = float(rails.strands @ most[:, row])
    needed_n = carried_n * float((cold_n[run, :, row] / most[:, row]).max())
    return Governing(post, row == _CORNER, carried_n, needed_n)
