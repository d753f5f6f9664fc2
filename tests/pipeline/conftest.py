"""Builder of whole designs from the text of a job."""

from collections.abc import Callable
from pathlib import Path

import pytest

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.pipeline.record import Design

_OBSTACLE = '[[obstacle]]\nkind = "buried water"'


@pytest.fixture
def made(tmp_path: Path) -> Callable[[str], Design]:
    """Design a job from its text."""
    return lambda text: design(job_from_text(text, tmp_path))


@pytest.fixture
def dry_job_text(small_job_text: str) -> str:
    """The small job without its water line."""
    start = small_job_text.index(_OBSTACLE)
    return small_job_text[:start] + small_job_text[small_job_text.index("[fence]") :]
