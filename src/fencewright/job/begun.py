"""What both the price and the programme say of their dates: the works begin before the day of their price."""

from fencewright.findings import CAUTION
from fencewright.job.filling import Filling


def say_begun(filling: Filling) -> None:
    """Say that the works begin before the day of their price, where the job states both: `price-after-start`."""
    start, day = filling.asked.programme.start, filling.asked.price.day
    if start is None or not day or start >= day:
        return
    filling.say(
        CAUTION,
        "price-after-start",
        f"The works begin on {start.isoformat()}, before the day of their price, {day.isoformat()}.",
        "Check [programme] start and [price] day, and correct the one that is wrong.",
    )
