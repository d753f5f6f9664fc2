"""What the tension stage has to say: empty windows and what mends them, moved tensions, too much turning."""

from collections.abc import Iterable, Iterator

import numpy as np

from fencewright.findings import CAUTION, NOTE, STOP, Finding
from fencewright.job.settings import Settings
from fencewright.mechanics.belt_friction import BOTH_ENDS, turning_for_share
from fencewright.quantity.show import UnitSystem
from fencewright.tables.tension import TensionTask
from fencewright.tension.governing import cold_at_limits_n, governing
from fencewright.tension.pulled import PulledRuns
from fencewright.tension.remedies import Mending, mendings
from fencewright.tension.said import Said, first_rows
from fencewright.tension.slack import is_low, low_findings

ROUNDING = 1e-9


def tension_findings(
    task: TensionTask, pulled: PulledRuns, settings: Settings, show: UnitSystem
) -> list[Finding]:
    """Give the findings of all runs.

    Parameters
    ----------
    task, pulled, settings
        The stage's own.
    show : UnitSystem
        Units of the sheets.

    Returns
    -------
    list of Finding
        `tension-window-empty` (stop), `pull-turns-too-much`, `tension-low` (cautions), `tension-moved` (note). Of more
        than 20 alike only the first are put into words, and one more counts the rest.
    """
    said = Said(task, pulled, settings, show)
    return [*_empty(said), *_turning(said), *low_findings(said), *_moved(said)]


def _empty(said: Said) -> Iterable[Finding]:
    window = said.pulled.window
    rows = np.argwhere(~window.is_open)
    if not len(rows):
        return
    mending = mendings(said.task, said.pulled, said.settings)
    named, rest = first_rows(rows, STOP, "tension-window-empty")
    for run, product in named:
        yield Finding(
            STOP,
            "tension-window-empty",
            said.place(run, product),
            _empty_message(said, run, product),
            _empty_remedy(said, mending, run, product),
        )
    yield from rest


def _empty_message(said: Said, run: int, product: int) -> str:
    show, rails, tension = said.show, said.pulled.rails, said.settings.tension
    low, high = (float(side[run, product]) for side in (said.pulled.window.low_n, said.pulled.window.high_n))
    # of what is told, not of what it was rounded from: a person subtracts
    missing = _as_told_n(low, show) - _as_told_n(high, show)
    cold, hot = show.temperature(rails.coldest_c[product]), show.temperature(rails.hottest_c[product])
    why = (
        f"{tension_share(said, product)} of its breaking load",
        f"the {show.force(float(rails.cold_allowed_n[product]))} of its data sheet",
        "what its end posts carry",
        f"what its corner P{int(said.task.turn_post[run]) + 1} carries",
    )[int(said.pulled.window.governs_high[run, product])]
    short = f"{show.force(missing)} are missing" if missing > 0 else "a little is missing"
    return (
        f"{said.name(run, product)} has no tension that both summer and winter allow: at {said.reference} it needs "
        f"{show.force(low)} so as to sag no more than {show.small(tension.sag_limit_m)} at {hot} (rail in the sun), "
        f"and may have {show.force(high)} so as to stay within {why} at {cold}; "
        f"{short}."
    )


def _as_told_n(force_n: float, show: UnitSystem) -> float:
    """A force rounded as it is shown. [N]"""
    step_n = 10.0 if show.name == "metric" and force_n >= 1000 else show.force_factor
    return round(force_n / step_n) * step_n


def tension_share(said: Said, product: int) -> str:
    """Allowed share of the breaking load, as a percentage."""
    rails = said.pulled.rails
    return f"{rails.share_allowed_n[product] / rails.breaking_load_n[product]:.0%}"


def _empty_remedy(said: Said, mending: Mending, run: int, product: int) -> str:
    show, rails = said.show, said.pulled.rails
    needed = float(mending.cold_needed_n[run, product])
    whole = needed * int(rails.strands.sum())
    weakest = f"P{int(said.task.turn_post[run]) + 1}"
    carrier = ("a rail", "a rail", "ends", "a corner")[int(said.pulled.window.governs_high[run, product])]
    ways = []
    if mending.spring_opens[run, product]:
        ways.append("set [tension] spring_keeper = true, a spring-loaded keeper on each rail")
    if parts := int(mending.parts[run, product]):
        length = show.long(float(said.pulled.drawn.length_m[run]) / parts)
        ways.append(f"divide it by [[strain]] posts into {parts} straight pulls of about {length}")
    ways.append(
        {
            "ends": f"take ends that carry {show.force(whole)} in all on the coldest day",
            "a corner": f"make {weakest} carry {show.force(whole)} of all rails on the coldest day (a deeper or wider "
            "hole, a deeper brace footing), or end the rail there both ways with a [[strain]]",
        }.get(carrier, f"take {carrier} that may carry {show.force(needed)} on the coldest day")
    )
    ways.append(
        "take a lighter-coloured or lighter rail, a shorter [fence] spacing_limit, or a larger [tension] sag_limit"
    )
    return f"Any of: {'; '.join(ways)}."


def _turning(said: Said) -> Iterable[Finding]:
    asked = said.settings.layout
    rows = np.argwhere(said.pulled.drawn.least_share < asked.far_end_share * (1 - ROUNDING))
    named, rest = first_rows(rows, CAUTION, "pull-turns-too-much")
    limit = np.rad2deg(turning_for_share(asked.far_end_share, asked.friction_worked))
    for (run,) in named:
        share = float(said.pulled.drawn.least_share[run])
        turned = float(-np.log(share) / asked.friction_worked)
        is_both = said.pulled.drawn_from[run] == BOTH_ENDS
        message = (
            f"{said.name(run, 0)} turns {np.rad2deg(turned):.0f} deg in space from its tensioner to its loosest span, so "
            f"that {share:.0%} of the tension reaches it{' even when drawn from both ends' if is_both else ''}; "
            f"{asked.far_end_share:.0%} are asked for, {limit:.0f} deg."
        )
        yield Finding(
            CAUTION,
            "pull-turns-too-much",
            said.place(run, 0),
            message,
            "End the rail both ways at a [[strain]] within it, or ease the dips and crests of the top line.",
        )
    yield from rest


def _moved(said: Said) -> Iterator[Finding]:
    pulled, show = said.pulled, said.show
    wanted = pulled.rails.set_tension_n[None, :]
    moved = (
        pulled.window.is_open & (np.abs(pulled.set_tension_n - wanted) > ROUNDING * wanted) & ~is_low(said)
    )
    rows = np.argwhere(moved)
    if not len(rows):
        return
    cold_n = cold_at_limits_n(said)
    named, rest = first_rows(rows, NOTE, "tension-moved")
    for run, product in named:
        asked, chosen = float(wanted[0, product]), float(pulled.set_tension_n[run, product])
        low, high = (float(side[run, product]) for side in (pulled.window.low_n, pulled.window.high_n))
        why = (
            "would sag too much on the hottest day"
            if chosen > asked
            else f"would be too tight on the coldest day for {governing(said, cold_n, run, product).name}"
        )
        yield Finding(
            NOTE,
            "tension-moved",
            said.place(run, product),
            f"{said.name(run, product)} is drawn to {show.force(chosen)} at {said.reference}, not to the "
            f"{show.force(asked)} of its data sheet, with which it {why}; its window is {show.force(low)} to "
            f"{show.force(high)}.",
            "Nothing; or change what the window depends on (spacing, ends, rail).",
        )
    yield from rest
