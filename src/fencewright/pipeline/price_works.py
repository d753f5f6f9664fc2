"""The work of a design, measured: what is counted, how fast a gang does it, and where."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.work_rows import WorkRow
from fencewright.job.price_settings import PriceSettings
from fencewright.pipeline.price_counts import DugHoles, dug_holes, fence_counts, rail_counts
from fencewright.pipeline.record import Design
from fencewright.quantity.parse import FOOT_M, UNITS
from fencewright.quantity.show import UnitSystem, few_figures
from fencewright.tables.price_task import Work

Floats = NDArray[np.float64]
_US_UNITS = {"m": (FOOT_M, "ft"), "m3": (UNITS["volume"]["yd3"], "yd3")}


@dataclass(frozen=True, slots=True, eq=False)
class Counted:
    """Quantities by what the work rows count, each by line. (lines,)"""

    design: Design
    settings: PriceSettings
    holes: DugHoles
    by_per: Mapping[str, Floats]


def counted_works(design: Design, settings: PriceSettings) -> Counted:
    """Count everything that is worked on."""
    lines = design.layout.lines
    length = np.array([line.length_m for line in lines])
    holes = dug_holes(design)
    wires = [row.rail.name for row in design.job.settings.strands if row.rail.is_wire]
    rails = {name: rail_counts(design, name) for name in dict.fromkeys(design.strands.rail)}
    nought = np.zeros(len(lines))

    def of_rails(per: str, *, wire: bool) -> Floats:
        return sum((own[per] for name, own in rails.items() if (name in wires) == wire), nought)

    bulk = float(str(design.job.catalogue.practice["price.bulking"].value))
    spoil = np.bincount(holes.line_index, holes.spoil_m3, minlength=len(lines)) * bulk
    share = length / length.sum() if length.sum() > 0 else nought
    before = settings.preparation
    by_per = {
        **fence_counts(design),
        "job": share,
        "fence": length,
        "old fence": share * before.old_fence,
        "clearing": share * before.clearing,
        "containment": share * before.containment,
        "access": share * before.access,
        "belled hole": np.bincount(holes.line_index[holes.is_belled], minlength=len(lines)).astype(float),
        "rail bracket": of_rails("rail at line post", wire=False),
        "corner bracket": of_rails("rail at turning post", wire=False),
        "wire fixing": of_rails("rail at post", wire=True),
        "rail": of_rails("rail m", wire=False),
        "wire": of_rails("rail m", wire=True),
        "pull": of_rails("pull", wire=False) + of_rails("pull", wire=True),
        "splice": of_rails("splice", wire=False) + of_rails("splice", wire=True),
        "spoil spread": spoil if settings.spoil == "spread" else nought,
        "spoil hauled": spoil if settings.spoil == "haul" else nought,
    }
    return Counted(design, settings, holes, by_per)


def design_works(counted: Counted) -> tuple[Work, ...]:
    """Give every work of a design but that of concrete, in the order of the catalogue."""
    show = UnitSystem(counted.design.job.asked.job.sheets)
    works = []
    for row in counted.settings.works.values():
        if row.per == "auger hole":
            works += list(_auger_work(row, counted, show))
        elif row.per in counted.by_per and counted.by_per[row.per].sum() > 0:
            works.append(work_of(row, counted.by_per[row.per], show))
    return tuple(works)


def work_of(row: WorkRow, by_line: Floats, show: UnitSystem, more: str = "", effort: float = 1.0) -> Work:
    """Work of one row: lengths in the units of the sheets; `effort` how many usual ones each is."""
    factor, unit = _US_UNITS.get(row.unit, (1.0, row.unit)) if show.name == "us" else (1.0, row.unit)
    rates = [rate / factor / effort for rate in (row.per_hour, row.slow, row.quick)]
    gang = "one hand" if row.hands == 1 else f"a gang of {row.hands:g}"
    told = row.per_hour / factor
    words = f"{few_figures(told)} an hour by {gang}" + (f" {more}" if more else "")
    return Work(
        id="work-" + "-".join("".join(c if c.isalnum() else " " for c in row.name).split()),
        item=row.name,
        activity=row.activity,
        quantity=float(by_line.sum()) / factor,
        unit=unit,
        per_hour=rates[0],
        slow_per_hour=rates[1],
        quick_per_hour=rates[2],
        trade=row.trade,
        plant=row.plant,
        hands=row.hands,
        rate_words=words,
        source="common practice, no source" if row.source == "practice" else row.source,
        driver=row.driver,
        weights=tuple(float(one) for one in by_line),
    )


def _auger_work(row: WorkRow, counted: Counted, show: UnitSystem) -> Iterator[Work]:
    """Holes of one ground and one auger; hours grow with depth."""
    holes = counted.holes
    own = _augers(counted) == row.name
    if not own.any():
        return
    by_line = np.bincount(holes.line_index[own], minlength=len(counted.design.layout.lines)).astype(float)
    effort = float(holes.depth_m[own].mean()) / (row.depth_m or 1.0)
    deep = f"at {show.small(row.depth_m or 0.0)} deep, these are {show.small(float(holes.depth_m[own].mean()))} on average"
    yield work_of(row, by_line, show, deep, effort)


def _augers(counted: Counted) -> NDArray[np.object_]:
    """Name of the row by which each hole is dug: that of its ground, and the smallest auger that makes it. (holes,)

    Known rock has no auger: it is paid by the hole.
    """
    holes = counted.holes
    rows = sorted(
        (row for row in counted.settings.works.values() if row.per == "auger hole"),
        key=lambda row: row.auger_m or 0.0,
    )
    names = np.full(len(holes), "", object)
    for soil_class in np.unique(holes.soil_class).tolist():
        fitting = [row for row in rows if not row.soil_classes or soil_class in row.soil_classes]
        if not fitting:
            continue
        width = np.array([row.auger_m or 0.0 for row in fitting])
        own = holes.soil_class == soil_class
        place = np.minimum(np.searchsorted(width, holes.diameter_m[own] - 1e-6), len(fitting) - 1)
        names[own] = np.array([row.name for row in fitting], object)[place]
    return names


def rock_holes(counted: Counted) -> Floats:
    """Holes paid as rock: those known, and the expected share of the rest. (lines,)"""
    holes, lines = counted.holes, len(counted.design.layout.lines)
    known = np.bincount(holes.line_index[holes.is_rock], minlength=lines).astype(float)
    rest = np.bincount(holes.line_index[~holes.is_rock], minlength=lines) * counted.settings.rock_share
    return np.asarray(known + rest, np.float64)
