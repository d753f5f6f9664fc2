"""Fences of a few posts, laid out by the program itself and pulled as a test asks."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from fencewright.desk.reading import job_from_text
from fencewright.layout.stage import lay_out
from fencewright.pipeline.bridges import rails_of, shape, soils_of, unstable_posts
from fencewright.pipeline.sizes import holes_asked, stated_sizes
from fencewright.quantity.parse import POUND_FORCE_N
from fencewright.strength.task import StrengthTask
from fencewright.takeoff.pieces import span_vectors

StrengthTasks = Callable[..., StrengthTask]

HEAD = """[job]
name = "Strength"
[site]
crs = "local"
ground = "flat"
frost_depth = "47 in"
soil = "{soil}"
coldest = "-20 F"
hottest = "100 F"
[[line]]
name = "paddock"
points = {points}
"""
PADDOCK = '[["0 ft", "0 ft"], ["200 ft", "0 ft"], ["200 ft", "120 ft"], ["0 ft", "120 ft"]]\nclosed = true'
GATE = '[[gate]]\nline = "paddock"\nat = "0 ft"\nopening = "12 ft"\n'
FENCE = '[fence]\nrails = 4\nspacing_limit = "12 ft"\ntop_height = "54 in"\n'


@pytest.fixture(scope="session")
def strength_task() -> StrengthTasks:
    """Build the small paddock's task, or that of other points; tensions of one rail in pounds."""

    def build(
        more: str = "",
        *,
        points: str = PADDOCK,
        soil: str = "sand",
        gate: str = GATE,
        cold_lbf: float = 640.0,
        fence: str = FENCE,
    ) -> StrengthTask:
        job = job_from_text(HEAD.format(soil=soil, points=points) + gate + fence + more, Path())
        layout, _ = lay_out(job)
        strands = rails_of(job.settings)
        cold = cold_lbf * POUND_FORCE_N
        strands = replace(strands, cold_pull_n=np.full(len(strands), cold))
        is_unstable = unstable_posts(job, layout)
        top = shape(job, layout, strands, is_unstable)
        every = np.ones((len(layout.runs), len(strands)))
        return StrengthTask(
            layout,
            strands,
            top.height_m,
            span_vectors(layout, top.top_m),
            *holes_asked(job, layout, stated_sizes(job, layout)[0], is_unstable, top.needs_concrete),
            job.settings,
            soils_of(job, layout),
            {"cold": every * cold, "set": every * cold * 0.4, "hot": every * cold * 0.15},
            "us",
        )

    return build
