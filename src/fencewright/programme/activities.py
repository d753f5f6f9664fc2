"""From work to activities: what they are called, what each follows, how many people and half-hours it takes."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from fencewright.job.programme_settings import ProgrammeSettings
from fencewright.programme.calendar import SLOT_H
from fencewright.tables.programme import Effort, FenceWork

PLANT = ("auger", "mixer", "driver")
NOTICE, PRIVATE, STAND, CURE, CURE_LINE, DRY = (
    "notice",
    "private-services",
    "stand",
    "cure",
    "cure-line",
    "dry",
)
WAITS = (NOTICE, PRIVATE, STAND, CURE, CURE_LINE, DRY)
HAND_OVER, RE_PULL = "clear-up", "re-pull"
# Kinds that are done stretch after stretch: first the ends of all, so that they cure while line posts are set, then line
# posts, so that no hole stands open for long.
PHASES = (("stake", "dig-ends", "set-ends"), ("dig-line", "set-line"))

# What is done, in the order of work: its name, and the kinds that it follows in the same stretch or in the whole job.
ORDER: dict[str, tuple[str, tuple[str, ...]]] = {
    "white-line": ("Mark the route white, call the locating service", ()),
    NOTICE: ("Locating notice", ("white-line",)),
    PRIVATE: ("Private services: well, barn, septic", ("white-line",)),
    "contain-stock": ("Fence in the stock meanwhile", ()),
    "make-access": ("Make a way for the machines", ()),
    "clear-line": ("Clear the line", ()),
    "remove-old": ("Take the old fence down", (NOTICE, PRIVATE, "contain-stock", "make-access")),
    "stake": ("Stake out", (NOTICE, PRIVATE, "remove-old", "clear-line", "contain-stock", "make-access")),
    "dig-ends": ("Dig ends, corners, footings", ("stake",)),
    "set-ends": ("Set and concrete ends, corners", ("dig-ends",)),
    STAND: ("Ends stand before stringing", ("set-ends",)),
    CURE: ("Ends' concrete gains strength", ("set-ends",)),
    "dig-line": ("Dig line-post holes", ("stake",)),
    "set-line": ("Set line posts", ("dig-line", STAND)),
    CURE_LINE: ("Line posts' concrete gains strength", ("set-line",)),
    "string-cut": ("String the tops, mark and cut", ("set-line",)),
    "treat": ("Treat the cut ends", ("string-cut",)),
    "paint": ("Paint the tops", ("treat",)),
    DRY: ("Paint dries", ("paint",)),
    "brackets": ("Fasten brackets", (DRY,)),
    "pay-out": ("Pay out the rails", ("brackets",)),
    "anchor": ("Anchor the rails, mount tensioners", ("pay-out",)),
    "pull": ("Pull", ("anchor",)),
    "corners": ("Work rails round corners, pull up", ("pull",)),
    "gates": ("Hang gates", (CURE,)),
    "water-gaps": ("Hang water gaps", (CURE,)),
    "check": ("Prove every rail by push or beats", ("corners",)),
    HAND_OVER: ("Clear up and hand over", ("check", "gates", "water-gaps", "pull", "string-cut")),
}


@dataclass(frozen=True, slots=True)
class Step:
    """An activity before it has a date.

    `id`, `name`, `kind`, `place`, `quantity`, `unit` as of `Activities`; `slots` of work, 0 for a wait; `people` and
    `machines` (by `PLANT`) that it takes; `before` rows that it follows; `stretch` -1 for the whole job.
    """

    id: str
    name: str
    kind: str
    place: str
    quantity: float
    unit: str
    slots: int
    people: int
    machines: tuple[int, int, int]
    before: tuple[int, ...]
    stretch: int = -1

    @property
    def is_wait(self) -> bool:
        """Whether nobody works."""
        return self.kind in WAITS


def steps_of(work: FenceWork, settings: ProgrammeSettings) -> tuple[Step, ...]:
    """List a fence's activities in the order of work, each after those that it follows.

    Parameters
    ----------
    work : FenceWork
        Hours by kind and stretch.
    settings : ProgrammeSettings
        Crew, plant, weather, what is painted.

    Returns
    -------
    tuple of Step
        The hand-over is the last; the re-pull is not among them. Where a kind has nothing to do, what follows it follows
        what it would have followed.

    Notes
    -----
    O(efforts x links).
    """
    listed = _Listing(work, settings)
    for kind in ORDER:
        for stretch in _stretches_of(kind, work, settings):
            listed.add(kind, stretch)
    return tuple(listed.steps)


def _stretches_of(kind: str, work: FenceWork, settings: ProgrammeSettings) -> Iterator[int]:
    """Stretches in which a kind of activity is needed, -1 for the whole job."""
    if kind == NOTICE:
        yield -1
    elif kind == PRIVATE:
        if settings.private_services != "none":
            yield -1
    else:
        made_by = {STAND: "set-ends", DRY: "paint"}.get(kind, kind)
        yield from (effort.stretch for effort in work.efforts if effort.kind == made_by)


class _Listing:
    """Steps so far, and where each kind of each stretch stands."""

    def __init__(self, work: FenceWork, settings: ProgrammeSettings) -> None:
        self.work = work
        self.settings = settings
        self.steps: list[Step] = []
        self.row: dict[tuple[str, int], int] = {}
        self.effort = {(one.kind, one.stretch): one for one in work.efforts}

    def add(self, kind: str, stretch: int) -> None:
        name = ORDER[kind][0]
        place = self.work.places[stretch] if stretch >= 0 else ""
        if stretch >= 0 and len(self.work.places) > 1:
            name = f"{name}, stretch {stretch + 1}"
        effort = self.effort.get((kind, stretch))
        slots, people, machines = (
            (0, 0, (0, 0, 0)) if kind in WAITS or effort is None else gang(effort, self.settings)
        )
        counted = effort is not None and kind not in WAITS
        quantity, unit = (effort.quantity, effort.unit) if effort is not None and counted else (0.0, "")
        before = tuple(sorted(set(self._before(kind, stretch))))
        self.row[kind, stretch] = len(self.steps)
        label = kind if stretch < 0 else f"{kind}-{stretch + 1}"
        self.steps.append(
            Step(label, name, kind, place, quantity, unit, slots, people, machines, before, stretch)
        )

    def _before(self, kind: str, stretch: int) -> Iterator[int]:
        for one in ORDER[kind][1]:
            yield from self._found(one, stretch)
        if kind == "pull":
            for other in self.work.holds[stretch]:
                for wait in (CURE, CURE_LINE):
                    if (wait, other) in self.row:
                        yield self.row[wait, other]
        if kind in ("gates", "water-gaps"):
            for other in self.work.hangs[stretch]:
                yield from self._found("pull", other)

    def _found(self, kind: str, stretch: int) -> Iterator[int]:
        """Rows of a kind in a stretch, or in all where the asker is the whole job; else of what it follows."""
        places = [-1, stretch] if stretch >= 0 else [-1, *range(len(self.work.places))]
        for place in dict.fromkeys(places):
            if (kind, place) in self.row:
                yield self.row[kind, place]
        if stretch >= 0 and not any((kind, place) in self.row for place in places):
            for one in ORDER[kind][1]:
                yield from self._found(one, stretch)


def gang(effort: Effort, settings: ProgrammeSettings) -> tuple[int, int, tuple[int, int, int]]:
    """Half-hours, people and machines for a piece of work.

    Parameters
    ----------
    effort : Effort
        Hours of one person, and how many work together.
    settings : ProgrammeSettings
        `crew`, `people_most`, `weather`.

    Returns
    -------
    int, int, (int, int, int)
        Slots, at least 1; people, whole gangs as far as the crew and the machines go; machines by `PLANT`.
    """
    crew = settings.crew
    most = min(len(crew.people), settings.shares.people_most)
    hands = min(max(1, round(effort.hands)), most)
    gangs = 1 if effort.unit == "job" else most // hands
    limit = {"auger": crew.augers, "driver": crew.drivers}.get(effort.plant, gangs)
    gangs = max(1, min(gangs, limit))
    people = gangs * hands
    hours = effort.labour_h / people / (1.0 - settings.calendar.weather)
    slots = max(1, math.ceil(hours / SLOT_H - 1e-6))
    count = {"auger": gangs, "driver": gangs, "mixer": 1}.get(effort.plant, 0)
    has = {"auger": crew.augers, "mixer": crew.mixers, "driver": crew.drivers}
    auger, mixer, driver = (count if effort.plant == one and has[one] else 0 for one in PLANT)
    return slots, people, (auger, mixer, driver)
