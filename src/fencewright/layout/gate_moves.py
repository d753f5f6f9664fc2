"""Where a gate could stand instead: the nearest station at which the holes of both its posts are clear."""

import numpy as np

from fencewright.job.record import Job
from fencewright.quantity.parse import FOOT_M
from fencewright.site.clearances import trespass_m
from fencewright.tables.fence import Layout, Role

_MOST_M = 15.0  # farther away it is another gate
_STEP_M = {"us": FOOT_M / 2, "metric": 0.1}


def clear_station_m(job: Job, layout: Layout, number: int, hole_radius_m: float) -> float | None:
    """Find the nearest station to which a gate can be moved so that it keeps out of every clearance.

    Parameters
    ----------
    job : Job
        The obstacles, and the unit of its sheets: stations are whole half feet or tenths of a metre.
    layout : Layout
        The fence as laid out; gates are its first openings.
    number : int
        Row of the gate in the job.
    hole_radius_m : float
        Half the widest width of its posts' holes. [m]

    Returns
    -------
    float or None
        Station for the gate's `at`; None where both its posts are not gate posts alone, or nothing within 15 m
        on this straight is clear, a full bay from the next fixed post. [m]
    """
    openings, posts = layout.openings, layout.posts
    near, far = int(openings.from_post[number]), int(openings.to_post[number])
    if int(posts.role[near]) != int(Role.GATE) or int(posts.role[far]) != int(Role.GATE):
        return None
    start, end = float(posts.station_m[near]), float(posts.station_m[far])
    on = posts.is_fixed & (posts.line_index == posts.line_index[near])
    on[[near, far]] = False
    stations = posts.station_m[on]
    before, after = stations[stations < start], stations[stations > end]
    if end <= start or not len(before) or not len(after):
        return None
    bay_m = job.settings.layout.spacing_limit_m
    step_m = _STEP_M[job.asked.job.sheets]
    asked_m = float(job.asked.gate[number].at)
    at_m = (
        np.arange(np.ceil((asked_m - _MOST_M) / step_m), np.floor((asked_m + _MOST_M) / step_m) + 1) * step_m
    )
    by_m = at_m - asked_m
    at_m = at_m[(start + by_m >= before.max() + bay_m) & (end + by_m <= after.min() - bay_m)]
    at_m = at_m[np.argsort(np.abs(at_m - asked_m), kind="stable")]
    ends = np.array([[posts.x_m[near], posts.y_m[near]], [posts.x_m[far], posts.y_m[far]]])
    way = (ends[1] - ends[0]) / np.hypot(*(ends[1] - ends[0]))
    clear = np.ones(len(at_m), bool)
    for obstacle in (one for one in job.site.obstacles if not one.is_overhead):
        for place in ends:
            x_m, y_m = place[:, None] + way[:, None] * (at_m - asked_m)
            clear &= trespass_m(obstacle, x_m, y_m, hole_radius_m) <= 0
    found = at_m[clear]
    return float(found[0]) if len(found) else None


def station_text(station_m: float, sheets: str) -> str:
    """Write a station as the job file has it: `14.5 ft` or `4.4 m`."""
    return f"{station_m / FOOT_M:.1f} ft" if sheets == "us" else f"{station_m:.1f} m"
