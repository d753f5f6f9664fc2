"""What the programme of works hands on: activities with their dates, days, deliveries, and how good the plan is.

Hours run from midnight before the first day; day 0 is the first day. Without a start date in the job days are
numbered and no date is known.
"""

import datetime
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import Finding

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Activities:
    """One row an activity, in the order in which they start.

    Columns (activities,): `id` stable name, such as `set-ends-1`; `name` in words; `kind` (`set-ends`, `cure`, ...);
    `place` the line and its posts, empty for the whole job; `quantity` in `unit`, 0 and empty where nothing is
    counted; `is_wait` nobody works: notice, cure, drying; `start_h`, `finish_h` hours from midnight before the first
    day [h]; `work_h` working hours that it takes, 0 for a wait [h]; `float_days` by which it may slip before the
    hand-over slips, `free_float_days` before any other activity does, in working days, NaN after the hand-over;
    `is_critical` on the longest path; `after` rows that must be done first; `after_crew` rows that only free its
    people or plant; `crew` number of people; `people` their names; `plant` the machines.
    """

    id: tuple[str, ...]
    name: tuple[str, ...]
    kind: tuple[str, ...]
    place: tuple[str, ...]
    quantity: Floats
    unit: tuple[str, ...]
    is_wait: Flags
    start_h: Floats
    finish_h: Floats
    work_h: Floats
    float_days: Floats
    free_float_days: Floats
    is_critical: Flags
    after: tuple[tuple[int, ...], ...]
    after_crew: tuple[tuple[int, ...], ...]
    crew: Ints
    people: tuple[tuple[str, ...], ...]
    plant: tuple[tuple[str, ...], ...]

    def __len__(self) -> int:
        """Number of activities."""
        return len(self.id)

    @property
    def start_day(self) -> Ints:
        """Day on which each begins, 0 the first."""
        return np.floor(self.start_h / 24 + 1e-9).astype(np.int64)

    @property
    def finish_day(self) -> Ints:
        """Day on which each ends, 0 the first; one that ends at midnight ends on the day before."""
        last = np.ceil(self.finish_h / 24 - 1e-9).astype(np.int64) - 1
        return np.maximum(last, self.start_day)


@dataclass(frozen=True, slots=True, eq=False)
class Days:
    """One row a calendar day, from the first to the hand-over.

    Columns (days,): `is_working`; `hours` that are worked [h]; `said` holiday's name or `weekend`, empty on a working
    day; `active` rows of the activities that are worked on that day; `people` at work; `machines` in use.
    """

    is_working: Flags
    hours: Floats
    said: tuple[str, ...]
    active: tuple[tuple[int, ...], ...]
    people: tuple[tuple[str, ...], ...]
    machines: tuple[tuple[str, ...], ...]

    def __len__(self) -> int:
        """Number of days."""
        return len(self.hours)


@dataclass(frozen=True, slots=True)
class Delivery:
    """When a line of the order must be on site.

    `order_id`, `item`, `size`, `quantity`, `unit` as in the order; `day` by whose end it must be there, which may lie
    before day 0; `activity` id of the first that needs it.
    """

    order_id: str
    item: str
    size: str
    quantity: float
    unit: str
    day: int
    activity: str


@dataclass(frozen=True, slots=True)
class Ticket:
    """The locating ticket: days on which it is asked for, from which one may dig, and after which one may not.

    `dug_day` the last day of digging; `renew_day` by which it must be renewed, None where it outlasts the digging.
    """

    call_day: int
    dig_day: int
    expires_day: int
    dug_day: int
    renew_day: int | None


@dataclass(frozen=True, slots=True)
class Cure:
    """How strong the concrete must be before a rail is drawn, and how that is reckoned.

    `share` of its 28-day strength; `why` that share; `how` temperatures or table; `longest_days` of any cure [days].
    """

    share: float
    why: str
    how: str
    longest_days: float


@dataclass(frozen=True, slots=True)
class Bound:
    """How good the plan is: no plan of these activities, crew and plant ends before `finish_day`.

    `finish_h` hours from midnight before the first day [h]; `gap_days` working days between it and the plan's own
    finish; `is_proven` the plan is the shortest; `by` `critical path`, `crew and plant`, `search`;
    `unlimited_day` on which it would end with any number of people and machines.
    """

    finish_h: float
    finish_day: int
    gap_days: float
    is_proven: bool
    by: str
    unlimited_day: int


@dataclass(frozen=True, slots=True, eq=False)
class Programme:
    """The whole programme of works of a design.

    `start_date` of day 0, None where the job states none; `activities`; `days`; `deliveries` in order of need;
    `ticket`; `cure`; `bound`; `finish_h` of the hand-over [h]; `finish_day`; `basis` sentences that say what it
    rests on; `findings`, stops first.
    """

    start_date: datetime.date | None
    activities: Activities
    days: Days
    deliveries: tuple[Delivery, ...]
    ticket: Ticket
    cure: Cure
    bound: Bound
    finish_h: float
    finish_day: int
    basis: tuple[str, ...]
    findings: tuple[Finding, ...]

    def date_of(self, day: int) -> datetime.date | None:
        """Date of a day, None without a start date."""
        return None if self.start_date is None else self.start_date + datetime.timedelta(days=day)

    def day_text(self, day: int) -> str:
        """ISO date of a day, or `day 1` for day 0 without a start date."""
        date = self.date_of(day)
        return f"day {day + 1}" if date is None else date.isoformat()


@dataclass(frozen=True, slots=True)
class Effort:
    """Work of one kind in one stretch of the fence.

    `kind` as of `Activities`; `stretch` its number, -1 for the whole job; `quantity` in `unit`; `labour_h` hours of one
    person [h]; `hands` that work as one gang; `plant` `auger`, `mixer`, `driver` or empty.
    """

    kind: str
    stretch: int
    quantity: float
    unit: str
    labour_h: float
    hands: float
    plant: str = ""


@dataclass(frozen=True, slots=True)
class FenceWork:
    """All the work of a fence.

    `efforts`; `places` of the stretches; `holds` for each stretch those whose concrete its pulls load; `hangs` for each
    stretch those whose rails end at the posts of its gates and crossings.
    """

    efforts: tuple[Effort, ...]
    places: tuple[str, ...]
    holds: tuple[tuple[int, ...], ...]
    hangs: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class OrderNeed:
    """A line of the order, and the kind of activity that first needs it."""

    order_id: str
    item: str
    size: str
    quantity: float
    unit: str
    kind: str
