"""Numbers from which no fence can be built, refused before anything is computed."""

import math

from fencewright.findings import InputError
from fencewright.job.settings import Settings
from fencewright.quantity.show import UnitSystem


def refuse_impossible(settings: Settings, show: UnitSystem) -> None:
    """Refuse settings that contradict each other or the ground.

    Parameters
    ----------
    settings : Settings
        Every number of the job.
    show : UnitSystem
        Units of the refusals.

    Raises
    ------
    InputError
        The first of them that cannot be: its key, why, and what to do.
    """
    for is_wrong, item, what in _faults(settings, show):
        if is_wrong:
            raise InputError(what, item=item)


def _faults(settings: Settings, show: UnitSystem) -> list[tuple[bool, str, str]]:
    """Give (is it wrong, key, sentence) for each limit."""
    layout, posts, holes, brace, rolls = (
        settings.layout,
        settings.posts,
        settings.holes,
        settings.brace,
        settings.rolls,
    )
    braced = brace.kind != "none"
    thinnest = min(posts.line_diameter_m, posts.end_diameter_m, brace.diameter_m if braced else math.inf)
    shallowest = min(holes.end_depth_m, holes.line_depth_m, holes.brace_depth_m if braced else math.inf)
    cuttable = rolls.length_m is None or rolls.length_m > 2 * rolls.splice_overlap_m
    shortest = 2 * brace.whole_reach_m if braced else layout.least_span_m
    return [
        (
            not layout.straight_angle_rad <= layout.corner_angle_rad <= math.pi,
            "fence, corner_angle",
            f"must lie between {math.degrees(layout.straight_angle_rad):.0f} and 180 deg",
        ),
        (
            thinnest <= 0,
            "posts",
            "a diameter must be more than nothing: check the diameters of posts and brace",
        ),
        (shallowest <= 0, "holes", "a depth must be more than nothing: check the depths of the holes"),
        (
            braced and brace.reach_m < holes.auger_m,
            "brace, reach",
            "the brace's hole would break into its post's: reach further than the auger is wide",
        ),
        (
            braced and not 0 < brace.contact_m <= settings.top_height_m,
            "brace, contact",
            "the brace must meet its post above ground and below its cut top",
        ),
        (
            layout.pull_length_limit_m <= shortest,
            "fence, pull_length_limit",
            f"a pull of {show.long(shortest)} has no room between its end posts: check its unit",
        ),
        (not cuttable, "rolls, length", "the roll is no longer than two splices: check its unit"),
        (
            any(length <= 0 for length in rolls.remainders_m),
            "rolls, remainders",
            "a remainder must be longer than nothing: leave it out",
        ),
    ]
