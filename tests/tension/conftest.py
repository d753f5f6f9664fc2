"""Hand-written runs for the tension stage, and settings to change."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.catalogue.rows import Rail
from fencewright.job.defaults import fill_defaults
from fencewright.job.reading import parse_job
from fencewright.job.settings import Settings
from fencewright.tables.tension import TensionTask

Build = Callable[..., TensionTask]


def build_task(
    runs: Sequence[Sequence[float]],
    turns: Sequence[Sequence[float]] | None = None,
    stiffness_n_m: float = np.inf,
    capacity_n: float = np.inf,
    turn_capacity_n: float = np.inf,
) -> TensionTask:
    """Runs from their spans, with the turning between them; straight unless given."""
    count = [len(spans) for spans in runs]
    bends = turns if turns is not None else [[0.0] * (len(spans) - 1) for spans in runs]
    start = np.concatenate([[0], np.cumsum(count)]).astype(np.int64)
    return TensionTask(
        start,
        np.concatenate([np.asarray(spans, float) for spans in runs]),
        np.concatenate([np.asarray(one, float) for one in bends]),
        np.arange(start[-1] + len(runs)),
        np.full((len(runs), 2), stiffness_n_m),
        np.full((len(runs), 2), capacity_n),
        np.full(len(runs), turn_capacity_n),
        np.full(len(runs), 1),
    )


@pytest.fixture(scope="session")
def build() -> Build:
    return build_task


@pytest.fixture(scope="session")
def settings(small_job_text: str) -> Settings:
    """Settings of the small paddock, four polymer rails, -20 F to 100 F, with a sag limit of 2 in."""
    filled = fill_defaults(parse_job(small_job_text), shipped_catalogue())[0]
    return changed(filled, sag_limit_m=0.0508)


def changed(settings: Settings, rail: dict[str, Any] | None = None, **tension: Any) -> Settings:
    """Give the same settings with other tension numbers, or another rail on every strand."""
    strands = settings.strands
    if rail:
        strands = tuple(replace(one, rail=replace(one.rail, **rail)) for one in strands)
    return replace(settings, strands=strands, tension=replace(settings.tension, **tension))


@pytest.fixture(scope="session")
def change() -> Callable[..., Settings]:
    return changed


@pytest.fixture(scope="session")
def rails() -> dict[str, Rail]:
    return dict(shipped_catalogue().rails)
