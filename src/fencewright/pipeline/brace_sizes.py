"""Braces as thick as the greatest pull asks for: the thinnest stock that passes, where the job states no diameter.

A brace's diameter moves no post, so it is chosen. That of a post moves the post's centre, or its gate, and is told as a
stop with the edit instead.
"""

from dataclasses import replace

import numpy as np

from fencewright.findings import NOTE, Finding, Place
from fencewright.job.record import Job
from fencewright.pipeline.holding import Holding, hold
from fencewright.pipeline.pulling import greatest_tensions
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import Holes, Layout, Strands
from fencewright.tables.strength import Check
from fencewright.tables.top_line import TopLine


def hold_with_braces(
    job: Job, layout: Layout, strands: Strands, top_line: TopLine, holes: Holes, brace_holes: Holes
) -> tuple[Job, Holding]:
    """Hold the fence, with thicker braces where those of practice are what limits it.

    Parameters
    ----------
    job, layout, strands, top_line, holes, brace_holes
        As of `hold`.

    Returns
    -------
    Job
        With the diameter chosen among its settings; the job itself where that of practice does.
    Holding
        With `brace-enlarged` (`note`) where it was enlarged.

    Notes
    -----
    As `hold`; once more for each stock diameter tried, which happens only where a brace is what limits a run. Where not
    even the thickest stock does, practice's stays and the findings name what would.
    """
    held = hold(job, layout, strands, top_line, holes, brace_holes)
    if job.asked.brace.diameter is not None or not _is_brace_short(job, layout, strands, held):
        return job, held
    usual_m = job.settings.brace.diameter_m
    for diameter_m in job.settings.strength.diameters_m:
        if not usual_m < diameter_m < job.settings.holes.auger_m:
            continue
        brace = replace(job.settings.brace, diameter_m=diameter_m)
        thicker = replace(job, settings=replace(job.settings, brace=brace))
        tried = hold(thicker, layout, strands, top_line, holes, brace_holes)
        if not _is_brace_short(thicker, layout, strands, tried):
            return thicker, replace(tried, findings=(*tried.findings, _enlarged(job, usual_m, diameter_m)))
    return job, held


def _is_brace_short(job: Job, layout: Layout, strands: Strands, held: Holding) -> bool:
    """Whether the compression of a brace keeps a run from its greatest pull, or does not pass."""
    checks, ends = held.strength.checks, held.strength.ends
    if (checks.utilisation[checks.check == int(Check.BRACE_COMPRESSION)] > 1 + 1e-6).any():
        return True
    greatest_n = greatest_tensions(layout, strands, job)["cold"].sum(axis=1)
    short = (ends.check == int(Check.BRACE_COMPRESSION)) & (ends.capacity_n < greatest_n[:, None])
    turns = (ends.turn_check == int(Check.BRACE_COMPRESSION)) & (ends.turn_capacity_n < greatest_n)
    return bool(np.any(short) or np.any(turns))


def _enlarged(job: Job, usual_m: float, diameter_m: float) -> Finding:
    show = UnitSystem(job.asked.job.sheets)
    message = (
        f"Braces are {show.small(diameter_m)} thick, not {show.small(usual_m)}: thinner ones would buckle under the "
        "greatest pull that the rails' data sheets allow."
    )
    return Finding(NOTE, "brace-enlarged", Place("job"), message)
