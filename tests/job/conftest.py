"""Builders of jobs from text: the parsed file, and its settings with the findings of filling."""

from collections.abc import Callable

import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.findings import Finding
from fencewright.job.defaults import fill_defaults
from fencewright.job.reading import parse_job
from fencewright.job.schema import JobFile
from fencewright.job.settings import Settings

HEAD = '[job]\nname = "Test"\n'
LINE = '[[line]]\nname = "a"\npoints = [["0 m", "0 m"], ["50 m", "0 m"]]\n'


@pytest.fixture
def parsed() -> Callable[[str], JobFile]:
    """Parse a job of one line with more tables."""

    def build(more: str = "") -> JobFile:
        return parse_job(HEAD + LINE + more)

    return build


@pytest.fixture
def filled() -> Callable[[str], tuple[Settings, dict[str, Finding]]]:
    """Fill the defaults of such a job: settings, and findings by code."""

    def build(more: str = "") -> tuple[Settings, dict[str, Finding]]:
        settings, findings = fill_defaults(parse_job(HEAD + LINE + more), shipped_catalogue())
        return settings, {one.code: one for one in findings}

    return build
