"""fencewright: from a site to a buildable, orderable tensioned fence.

`read_job` reads a job file, `design` computes the whole design from it, `explain` says why a
number of it is what it is. All load on first use, so that importing the package costs nothing.
"""

from typing import TYPE_CHECKING, Any

__version__ = "0.1.0"
__all__ = ["Design", "Finding", "Job", "design", "explain", "read_job", "write_design"]

if TYPE_CHECKING:
    from fencewright.desk.reading import read_job
    from fencewright.desk.running import design
    from fencewright.desk.writing import write_design
    from fencewright.findings import Finding
    from fencewright.job.record import Job
    from fencewright.pipeline.record import Design
    from fencewright.pipeline.why import explain

_HOMES = {
    "Design": "fencewright.pipeline.record",
    "Finding": "fencewright.findings",
    "Job": "fencewright.job.record",
    "design": "fencewright.desk.running",
    "explain": "fencewright.pipeline.why",
    "read_job": "fencewright.desk.reading",
    "write_design": "fencewright.desk.writing",
}


def __getattr__(name: str) -> Any:
    """Load a public name from its home on first use."""
    if name not in _HOMES:
        raise AttributeError(f"module 'fencewright' has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(_HOMES[name]), name)
