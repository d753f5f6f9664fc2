"""A design to its programme: public holidays are looked up here, at the edge."""

import datetime

from fencewright.findings import InputError
from fencewright.job.holiday_places import known_subdivision
from fencewright.pipeline.record import Design
from fencewright.pipeline.scheduling import schedule
from fencewright.tables.programme import Programme

_YEARS = 6  # of holidays, from the year of the first day


def programme(design: Design) -> Programme:
    """Plan the works of a design.

    Parameters
    ----------
    design : Design
        From `desk.running.design`.

    Returns
    -------
    Programme
        With its findings; a `stop` among them means that nobody may dig yet.

    Raises
    ------
    InputError
        A calendar without a working day, a crew or a share that cannot be.
    """
    job = design.job
    asked = job.asked.programme
    try:
        return schedule(design, public_holidays(asked.start, asked.country or "", asked.subdivision or ""))
    except InputError as error:
        raise error.within(file=job.file) from error


def public_holidays(start: datetime.date | None, country: str, subdivision: str) -> dict[datetime.date, str]:
    """Public holidays of a place, by date, with their names.

    Parameters
    ----------
    start : date or None
        None: no dates are known, and none is a holiday.
    country, subdivision : str
        By their ISO 3166 codes; an empty country keeps none.

    Returns
    -------
    dict
        Of the year of the start and those that follow it.

    Notes
    -----
    The schema of the job has refused what is unknown.
    """
    if start is None or not country:
        return {}
    import holidays  # slow, and of use to this command alone

    own = known_subdivision(country, subdivision) if subdivision else None
    years = range(start.year, start.year + _YEARS)
    found = holidays.country_holidays(country.upper(), subdiv=own, years=years)
    return {day: str(name) for day, name in sorted(found.items()) if day >= start}
