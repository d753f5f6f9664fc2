"""What the program has to say about a job: findings, and the errors that end a run."""

from fencewright.findings.errors import FencewrightError, InputError, InternalFault
from fencewright.findings.finding import (
    CAUTION,
    NOTE,
    STOP,
    Finding,
    Place,
    has_stop,
    limited,
    sorted_findings,
)

__all__ = [
    "CAUTION",
    "NOTE",
    "STOP",
    "FencewrightError",
    "Finding",
    "InputError",
    "InternalFault",
    "Place",
    "has_stop",
    "limited",
    "sorted_findings",
]
