"""From a design to its programme: the work, what the concrete must hold, and which goods each activity needs."""

import datetime
from collections.abc import Mapping

import numpy as np

from fencewright.findings import Finding
from fencewright.job.filling import Filling
from fencewright.job.programme_settings import ProgrammeSettings, fill_programme
from fencewright.job.record import Job
from fencewright.mechanics.concrete_strength import post_pressure_pa
from fencewright.pipeline.record import Design
from fencewright.pipeline.work_efforts import fence_work
from fencewright.programme.stage import PlanTask, plan
from fencewright.quantity.show import UnitSystem
from fencewright.site.plane import Origin, to_geographic
from fencewright.tables.fence import OrderLine, Setting
from fencewright.tables.programme import OrderNeed, Programme
from fencewright.tables.strength import Check
from fencewright.takeoff.order import diameter_text

# Kind of activity that first needs a thing, by what the catalogue's hardware is counted by.
_KIND_BY_PER = {
    "pull": "anchor",
    "rail at turning post": "brackets",
    "rail at line post": "brackets",
    "rail at post": "brackets",
    "splice": "pay-out",
    "brace": "set-ends",
    "horizontal brace": "set-ends",
    "gate": "gates",
    "crossing": "water-gaps",
    "cut post": "treat",
}


def schedule(design: Design, holidays: Mapping[datetime.date, str]) -> Programme:
    """Plan the works of a design.

    Parameters
    ----------
    design : Design
        The whole design; one with a `stop` is planned too.
    holidays : mapping
        Name of each public holiday on which nobody works.

    Returns
    -------
    Programme
        A `stop` among its findings forbids digging.

    Raises
    ------
    InputError
        A calendar without a working day, a crew that cannot be, concrete that never gains its strength.

    Notes
    -----
    What the strength stage asks of the concrete is the pressure of each concreted post under its worst load case; where
    the trade's share of the 28-day strength is more, as nearly always, that share is asked.
    """
    job = design.job
    settings, said = programme_settings(job)
    share, why = concrete_share(design, settings)
    task = PlanTask(
        fence_work(design, settings),
        settings,
        holidays,
        design.tension.repull_days,
        share,
        why,
        order_needs(design),
        said,
    )
    return plan(task)


def programme_settings(job: Job) -> tuple[ProgrammeSettings, tuple[Finding, ...]]:
    """Resolve `[programme]` of a job with the latitude of its plane; findings as of `fill_programme`."""
    return fill_programme(Filling(job.asked, job.catalogue), _latitude_deg(job))


def _latitude_deg(job: Job) -> float | None:
    """Latitude of the site, None where its plane has no place on the Earth. [degree]"""
    plane, origin = job.site.plane, job.asked.site.origin
    if not plane.crs:
        return None if origin is None else float(origin[0])
    points = np.array([line.xy_m[0] for line in job.site.lines if len(line.xy_m)]).reshape(-1, 2)
    place = to_geographic(plane, points[:1] if len(points) else np.zeros((1, 2)), Origin(0.0, 0.0))
    return None if place is None or not np.isfinite(place).all() else float(place[0, 1])


def concrete_share(design: Design, settings: ProgrammeSettings) -> tuple[float, str]:
    """Share of its 28-day strength that concrete needs before a rail is drawn, and why that share.

    Parameters
    ----------
    design : Design
        With the strength stage's worst shear and moment of each post.
    settings : ProgrammeSettings
        The trade's share, the 28-day strength.

    Returns
    -------
    float, str
        The larger of the trade's share and of what the posts' pressure asks; at most 1. [-]
    """
    checks, cure = design.strength.checks, settings.cure
    count = len(design.layout.posts)
    worst = {kind: np.zeros(count) for kind in (Check.SHEAR, Check.BENDING)}
    for kind, values in worst.items():
        rows = np.flatnonzero((checks.check == int(kind)) & (checks.brace_index < 0))
        np.maximum.at(values, checks.post_index[rows], checks.demand[rows])
    held = np.flatnonzero(design.holes.set == int(Setting.CONCRETE))
    depth = design.holes.depth_m[held] - design.job.settings.holes.recess_m
    deep = held[depth > 0]
    pressure = post_pressure_pa(
        worst[Check.SHEAR][deep],
        worst[Check.BENDING][deep],
        depth[depth > 0],
        design.layout.posts.diameter_m[deep],
    )
    asked = float(pressure.max(initial=0.0)) / (cure.bearing_factor * cure.strength_pa)
    if asked > cure.share:
        return min(asked, 1.0), "what the posts' pressure asks of it"
    return cure.share, f"the trade's share; the posts' pressure asks for {asked:.0%}"


def order_needs(design: Design) -> tuple[OrderNeed, ...]:
    """Give each line of a design's order the kind of activity that first needs it."""
    kinds = {row.item: _KIND_BY_PER.get(row.per, "stake") for row in reversed(design.job.catalogue.hardware)}
    for strand in design.job.settings.strands:
        kinds[strand.rail.name] = "pay-out"
        kinds |= {strand.rail.tensioner: "anchor", strand.rail.fixing: "brackets"}
    kinds |= {"brace": "set-ends", "gate leaf": "gates", "bagged concrete": "set-ends"}
    early = _sizes_of_ends(design)
    return tuple(
        OrderNeed(line.id, line.item, line.size, line.order, line.unit, _kind(line, kinds, early))
        for line in design.order
    )


def _kind(line: OrderLine, kinds: Mapping[str, str], early: set[str]) -> str:
    if line.item == "round post":
        return "set-ends" if line.size in early else "set-line"
    return kinds.get(line.item, "stake")


def _sizes_of_ends(design: Design) -> set[str]:
    """Sizes of stock posts of which an end, corner or gate is made."""
    posts, show = design.layout.posts, UnitSystem(design.job.asked.job.sheets)
    rows = np.flatnonzero(posts.is_fixed & ~posts.is_built & np.isfinite(design.cuts.stock_length_m))
    stock = design.cuts.stock_length_m
    return {
        f"{diameter_text(float(posts.diameter_m[row]), show)} x {show.post(float(stock[row]))}"
        for row in rows
    }
