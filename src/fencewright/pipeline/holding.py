"""Strength and tension together: holes sized, pulls drawn, and all checked once at the tension chosen.

Nothing loops: ends are sized for the greatest tension allowed; what ends and corners carry and how they give goes to
the tension; then every check is made at the tension chosen. Sizing only enlarges.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import Finding
from fencewright.job.record import Job
from fencewright.job.settings import Settings
from fencewright.pipeline.bridges import soils_of
from fencewright.pipeline.pulling import chosen_tensions, greatest_tensions, tension_task
from fencewright.quantity.show import UnitSystem
from fencewright.strength.sayings import enlarged_findings
from fencewright.strength.stage import check_strength, size_holes
from fencewright.strength.task import StrengthTask
from fencewright.tables.fence import Holes, Layout, Strands
from fencewright.tables.strength import Sizes, Strength
from fencewright.tables.tension import RailModels, SiteChecks, Tensions
from fencewright.tables.top_line import TopLine
from fencewright.takeoff.holes import footings_at, holes_at
from fencewright.takeoff.pieces import span_vectors
from fencewright.tension.site_checks import site_checks
from fencewright.tension.stage import pull_tensions

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Holding:
    """Holes as sized, the tension of every pull, its site checks, and every check of strength."""

    holes: Holes
    brace_holes: Holes
    rail_models: RailModels
    tension: Tensions
    site_checks: SiteChecks
    strength: Strength
    findings: tuple[Finding, ...]


def hold(
    job: Job, layout: Layout, strands: Strands, top_line: TopLine, holes: Holes, brace_holes: Holes
) -> Holding:
    """Size the holes, draw the pulls, check everything.

    Parameters
    ----------
    job, layout, strands, top_line
        As the stages before gave them.
    holes, brace_holes : Holes
        As practice, frost or the job would have them.

    Returns
    -------
    Holding
        Findings of the tension and of the last check; why a hole was enlarged is told against the holes as they came.

    Notes
    -----
    `strength.ends` are those that the tension was drawn between: of the holes as first sized, at the greatest tension.
    The last check digs nothing deeper: a hole that no depth made strong enough for the greatest tension stays as it
    was, and what it lacks at the tension that its run is then drawn to is a stop that names the depth.
    """
    sizing = strength_task(
        job, layout, strands, top_line, (holes, brace_holes), greatest_tensions(layout, strands, job)
    )
    sized = size_holes(sizing)
    settings = job.settings
    final, final_braces = _dug(layout, settings, (holes, brace_holes), (sized.sizes, sized.brace_sizes))
    show = UnitSystem(job.asked.job.sheets)
    task = tension_task(layout, sizing.span_vector_m, sized.ends)
    tension, pulled, said = pull_tensions(task, settings, show)
    chosen = chosen_tensions(layout, strands, tension)
    checking = replace(sizing, holes=final, brace_holes=final_braces, tension_n=chosen)
    strength, more = check_strength(checking, sized=sized)
    checks, few = site_checks(task, pulled, settings)
    findings = (*said, *few, *more, *enlarged_findings(sizing, sized.sizes, sized.brace_sizes))
    return Holding(final, final_braces, pulled.rails, tension, checks, strength, findings)


def _dug(
    layout: Layout, settings: Settings, holes: tuple[Holes, Holes], chosen: tuple[Sizes, Sizes]
) -> tuple[Holes, Holes]:
    """Holes of posts and braces at the depths chosen."""
    sizes, feet = chosen
    return (
        holes_at(
            layout.posts,
            settings,
            holes[0].set,
            sizes.depth_m,
            sizes.governs,
            (holes[0].diameter_m, holes[0].bell_m),
        ),
        footings_at(layout.braces, settings, feet.depth_m, feet.governs, holes[1].diameter_m),
    )


def strength_task(
    job: Job,
    layout: Layout,
    strands: Strands,
    top_line: TopLine,
    holes: tuple[Holes, Holes],
    tension_n: Mapping[str, Floats],
) -> StrengthTask:
    """Lay out what the strength stage asks for: `holes` of the posts and of the braces."""
    vector = span_vectors(layout, top_line.top_m)
    return StrengthTask(
        layout, strands, top_line.height_m, vector, holes[0], holes[1], job.settings, soils_of(job, layout),
        tension_n, job.asked.job.sheets,
    )  # fmt: skip
