"""The work of an activity: what is counted, at which rate, and how many labour hours that makes."""

from fencewright.job.programme_settings import ProgrammeSettings
from fencewright.pipeline.record import Design
from fencewright.pipeline.why_origin import computed, practice
from fencewright.pipeline.why_record import Input, Reason
from fencewright.tables.programme import Effort

_ONE_RATE = {
    "remove-old": "remove old fence",
    "clear-line": "clear the line",
    "contain-stock": "contain the stock",
    "make-access": "make access",
    "white-line": "locating notice and white lines",
    "stake": "stake out",
    "string-cut": "mark and cut tops",
    "treat": "treat and paint tops",
    "paint": "treat and paint tops",
    "anchor": "anchor and pull",
    "check": "prove tensions",
    "gates": "hang gates",
    "water-gaps": "hang water gaps",
    "re-pull": "pull again",
}
_SEVERAL_RATES = {
    "clear-up": ("clear up", "spread spoil", "walk the fence and hand over"),
    "dig-ends": ("bell holes",),
    "dig-line": ("bell holes",),
    "set-ends": (
        "set posts in concrete",
        "set and tamp posts",
        "mix and pour bags",
        "fit diagonal braces",
        "fit horizontal braces",
    ),
    "set-line": ("set posts in concrete", "set and tamp posts", "drive posts", "mix and pour bags"),
    "brackets": ("fasten rail brackets", "fasten corner brackets", "staple wires"),
    "pay-out": ("pay out rails", "pay out wires", "splice"),
    "pull": ("anchor and pull",),
    "corners": ("anchor and pull",),
}


def has_work(kind: str) -> bool:
    """Whether a kind of activity has rates of work."""
    return kind in _ONE_RATE or kind in _SEVERAL_RATES


def work_reasons(design: Design, settings: ProgrammeSettings, effort: Effort, place: str) -> list[Reason]:
    """Say what is counted and how many labour hours it takes; `place` empty for the whole job."""
    counted = Reason(
        "quantity",
        f"counted in the design, {place}" if place else "counted in the design",
        (computed("n", "counted", effort.quantity, effort.unit),),
        "as counted",
        "q = n",
        effort.quantity,
        effort.unit,
    )
    one = _ONE_RATE.get(effort.kind)
    labour = _by_one_rate(design, settings, effort, one) if one else _by_several(settings, effort)
    return [counted, labour]


def _rate(settings: ProgrammeSettings, name: str, symbol: str) -> Input:
    row = settings.works[name]
    origin = "common practice, no source" if row.source == "practice" else row.source
    unit = f"{row.unit}/h"
    return computed(
        symbol,
        f"{name}: done in an hour by a gang of {row.hands:g}; {row.why}",
        row.per_hour,
        unit,
        f"[[rate]], or {origin}",
    )


def _by_one_rate(design: Design, settings: ProgrammeSettings, effort: Effort, name: str) -> Reason:
    row, job, shares = settings.works[name], design.job, settings.shares
    inputs = [
        computed("q", "quantity", effort.quantity, effort.unit),
        _rate(settings, name, "r"),
        computed("h", "hands of the gang", row.hands, "1"),
    ]
    symbols, words = "H = q h / r", "what is counted, over what the gang does in an hour, times its hands"
    if effort.kind in ("paint", "treat"):
        inputs.append(
            practice(job, "programme.paint_share", ("p", "share of it that is painting"), shares.paint, "%")
        )
        symbols = "H = q h p / r" if effort.kind == "paint" else "H = q h (1 - p) / r"
        words = f"{words}; a share of that row of work"
    elif effort.kind == "anchor":
        inputs.append(
            practice(
                job, "programme.anchor_share", ("p", "share of it that is anchoring"), shares.anchor, "%"
            )
        )
        words = f"{words}; a share of that row of work"
        symbols = "H = q h p / r"
    return Reason(
        "labour hours",
        "of one person, dry days",
        tuple(inputs),
        words,
        symbols,
        effort.labour_h,
        "h",
        row.source,
        "a quicker rate of your own: [[rate]]",
    )


def _by_several(settings: ProgrammeSettings, effort: Effort) -> Reason:
    """Hours that several rates make together: their average for one of what is counted."""
    names = list(_SEVERAL_RATES[effort.kind])
    if effort.kind.startswith("dig"):
        names += [name for name, row in settings.works.items() if row.per == "auger hole"]
    mean_h = effort.labour_h / (effort.quantity * effort.hands)
    inputs = (
        computed("q", "quantity", effort.quantity, effort.unit),
        computed("t", "hours of a gang for one, on average", mean_h, "h", "each by its own rate, see below"),
        computed("h", "hands of the gang", effort.hands, "1"),
        *(
            _rate(settings, name, f"r_{place}")
            for place, name in enumerate(names, 1)
            if name in settings.works
        ),
    )
    says = {
        "dig-ends": "by the auger that is wide enough in its ground, in proportion to depth, and bells",
        "dig-line": "by the auger that is wide enough in its ground, in proportion to depth, and bells",
        "set-ends": "posts by how they are held, their concrete mixed, and the braces",
        "set-line": "posts by how they are held, and their concrete mixed",
        "brackets": "at turning posts, at line posts, and wires",
        "pay-out": "rails, wires and splices",
        "pull": "what is left of it beside anchoring and corners",
        "corners": "the share of pulling that is spent at the corners",
        "clear-up": "the line walked and cleared, spoil spread",
    }[effort.kind]
    return Reason(
        "labour hours",
        says,
        inputs,
        "what is counted, times the hours for one, times the hands",
        "H = q t h",
        effort.labour_h,
        "h",
        "practice",
        "quicker rates of your own: [[rate]]",
    )
