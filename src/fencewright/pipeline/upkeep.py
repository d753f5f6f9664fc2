"""From a design and its programme to the days on which somebody looks at the finished fence."""

import datetime

from fencewright.pipeline.record import Design
from fencewright.pipeline.scheduling import programme_settings
from fencewright.tables.programme import Programme
from fencewright.tables.upkeep import Upkeep, Visit

_SEASONS = ("spring", "autumn")
_MONTHS = {"spring": "upkeep.spring_month", "autumn": "upkeep.autumn_month"}


def plan_upkeep(design: Design, programme: Programme) -> Upkeep:
    """Give the days on which the finished fence is looked at.

    Parameters
    ----------
    design : Design
        What is built; its job may state the day of the hand-over.
    programme : Programme
        Of its works: days from the hand-over to the first re-pull.

    Returns
    -------
    Upkeep
        The first re-pull where a rail is pulled, then one look in spring and one in autumn, each year. Dates count from
        the day of the hand-over that the job states, else from the programme's last day, where that has dates; without
        either only the days to the re-pull are known.

    Notes
    -----
    South of the equator the months of spring and autumn change places; where no latitude is known those of the north
    are taken.

    References
    ----------
    .. [1] months: common practice, no source
    """
    day = design.job.asked.paper.hand_over or programme.date_of(programme.finish_day)
    visits = [*_re_pull(programme, day), *(_season(design, name, day) for name in _SEASONS)]
    return Upkeep(day, tuple(sorted(visits, key=lambda one: one.date or datetime.date.max)))


def _re_pull(programme: Programme, hand_over: datetime.date | None) -> list[Visit]:
    table = programme.activities
    rows = [row for row, kind in enumerate(table.kind) if kind == "re-pull"]
    if not rows:
        return []
    after = int(table.start_day[rows[0]]) - programme.finish_day
    date = None if hand_over is None else hand_over + datetime.timedelta(days=after)
    return [Visit("re-pull", date, after, False)]


def _season(design: Design, name: str, hand_over: datetime.date | None) -> Visit:
    """First day of a season's month after the hand-over."""
    if hand_over is None:
        return Visit(name, None, None, True)
    latitude = programme_settings(design.job)[0].calendar.latitude_deg
    is_south = latitude is not None and latitude < 0
    own = _SEASONS[1 - _SEASONS.index(name)] if is_south else name
    month = int(str(design.job.catalogue.practice[_MONTHS[own]].value))
    first = datetime.date(hand_over.year + (month <= hand_over.month), month, 1)
    return Visit(name, first, (first - hand_over).days, True)
