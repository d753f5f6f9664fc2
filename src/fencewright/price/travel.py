"""The way to the site: vehicles by distance, and the crew's hours on the road."""

import math
from collections.abc import Sequence

from fencewright.job.price_settings import PriceSettings
from fencewright.price.lines import labour_hours, paddock_hours
from fencewright.quantity.parse import UNITS
from fencewright.quantity.show import counted
from fencewright.tables.price_task import PriceItem, Work

ACTIVITY = "travel"
DRIVER = "fence builder"  # trade whose hour is paid on the road


def crew_days(works: Sequence[Work], settings: PriceSettings) -> int:
    """Whole days of the crew on the site; none where there is no work."""
    hours = sum(labour_hours(work) for work in works)
    return math.ceil(hours / (settings.crew * float(settings.hours_a_day)) - 1e-9)


def travel_items(works: Sequence[Work], settings: PriceSettings, days: int) -> tuple[PriceItem, ...]:
    """What driving costs, for a price by the distance and a price by the hour.

    Parameters
    ----------
    works : sequence of Work
        What is done; travel is shared among the paddocks by its hours.
    settings : PriceSettings
        Distance one way, speed, vehicles, crew, visits beside the working days.
    days : int
        Days on the site.

    Returns
    -------
    tuple of PriceItem
        `travel-vehicle` (distance) and `travel-hours` (h, at the rate of `DRIVER`); none where the job states no
        distance, or none.
    """
    travel = settings.travel
    if not travel.distance_m or not days:
        return ()
    trips = days + travel.more_visits
    unit = "mi" if settings.sheets == "us" else "km"
    far = 2 * travel.distance_m * trips * travel.vehicles / UNITS["length"][unit]
    hours = 2 * travel.distance_m / travel.speed_m_s / 3600 * trips * settings.crew
    weights = paddock_hours(works, (0.0,) * len(works[0].weights)) if works[0].weights else ()
    there = f"{counted(trips, 'journey')} there and back"
    words = f"{there}: {counted(days, 'day')} on the site, {travel.more_visits} for the re-pull"
    more = f"{words}; {counted(travel.vehicles, 'vehicle')}"
    hands = f"{words}, a crew of {settings.crew}"
    return (
        PriceItem(
            "travel-vehicle", "vehicle", "", unit, far, 1.0, ACTIVITY, weights, "travel", None, False, more
        ),
        PriceItem(
            "travel-hours",
            "crew on the road",
            "",
            "h",
            hours,
            1.0,
            ACTIVITY,
            weights,
            "travel",
            None,
            False,
            hands,
            DRIVER,
        ),
    )
