"""Strength and tension together: holes sized, pulls drawn, and all checked once at the tension chosen.

Nothing loops: ends are sized for the greatest tension allowed; what they carry and how they give goes to the
tension; then every check is made at the tension chosen. Sizing only enlarges.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import Finding
from fencewright.job.record import Job
from fencewright.pipeline.bridges import soils_of
from fencewright.pipeline.pulling import chosen_tensions, greatest_tensions, tension_task
from fencewright.quantity.show import UnitSystem
from fencewright.strength.stage import check_strength
from fencewright.strength.task import StrengthTask
from fencewright.tables.fence import Holes, Layout, Strands
from fencewright.tables.strength import Strength
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
        Findings of the last check alone, and of the tension.
    """
    sizing = strength_task(
        job, layout, strands, top_line, (holes, brace_holes), greatest_tensions(layout, strands, job)
    )
    sized, _ = check_strength(sizing)
    posts, settings = layout.posts, job.settings
    final = holes_at(posts, settings, holes.set, sized.sizes.depth_m, sized.sizes.governs)
    final_braces = footings_at(layout.braces, settings, sized.brace_sizes.depth_m, sized.brace_sizes.governs)
    show = UnitSystem(job.asked.job.sheets)
    task = tension_task(layout, top_line.top_m, sized.ends)
    tension, pulled, said = pull_tensions(task, settings, show)
    chosen = chosen_tensions(layout, strands, tension)
    checking = replace(sizing, holes=final, brace_holes=final_braces, tension_n=chosen)
    strength, more = check_strength(checking)
    checks, few = site_checks(task, pulled, settings)
    return Holding(final, final_braces, pulled.rails, tension, checks, strength, (*said, *few, *more))


def strength_task(
    job: Job,
    layout: Layout,
    strands: Strands,
    top_line: TopLine,
    holes: tuple[Holes, Holes],
    tension_n: Mapping[str, Floats],
) -> StrengthTask:
    """Lay out what the strength stage asks for: `holes` of the posts and of the braces."""
    vector = span_vectors(layout.posts, layout.spans, top_line.top_m)
    return StrengthTask(
        layout, strands, top_line.height_m, vector, holes[0], holes[1], job.settings, soils_of(job, layout),
        tension_n, job.asked.job.sheets,
    )  # fmt: skip
