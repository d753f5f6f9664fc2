"""When somebody looks at the finished fence again."""

import datetime
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Visit:
    """One look at the fence.

    `id` `re-pull`, `spring` or `autumn`; `date` of the first, None where no day of hand-over is known; `after_days` from
    the hand-over to it, None where no date can be told without that day [days]; `is_yearly` it comes again each year.
    """

    id: str
    date: datetime.date | None
    after_days: int | None
    is_yearly: bool


@dataclass(frozen=True, slots=True)
class Upkeep:
    """Looks at the fence in order of their dates; `hand_over` the day of the hand-over, None where it is not known."""

    hand_over: datetime.date | None
    visits: tuple[Visit, ...]
