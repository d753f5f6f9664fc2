"""What every test shares: deterministic hypothesis runs, and the small job of the examples."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

ROOT = Path(__file__).parents[1]

settings.register_profile(
    "deterministic",
    derandomize=True,
    deadline=None,
    max_examples=60,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("deterministic")


@pytest.fixture(scope="session")
def small_job_path() -> Path:
    """Where the small paddock's job lies."""
    return ROOT / "examples" / "small-paddock" / "job.toml"


@pytest.fixture(scope="session")
def small_job_text(small_job_path: Path) -> str:
    """The small paddock's job as text."""
    return small_job_path.read_text("utf-8")
