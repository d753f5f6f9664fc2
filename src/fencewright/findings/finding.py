"""A finding: level, code, place, what is wrong, by how much, and what would mend it."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

STOP = "stop"
CAUTION = "caution"
NOTE = "note"

_ORDER = {STOP: 0, CAUTION: 1, NOTE: 2}


@dataclass(frozen=True, slots=True)
class Place:
    """Where a finding is: a kind of thing, its id, and line and station where it has them.

    Parameters
    ----------
    kind : str
        `job`, `line`, `post`, `span`, `gate`, `obstacle`, `ground`, `pull`, `roll`, `order`, ...
    id : str
        Its name or number (`P17`, a line's name); empty for the whole job.
    line : str
        Name of the line, empty where none.
    station_m : float, optional
        Plan distance along the line. [m]
    """

    kind: str = "job"
    id: str = ""
    line: str = ""
    station_m: float | None = None


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that the program has to say.

    Parameters
    ----------
    level : str
        `stop` (this cannot be built as asked), `caution` (it can, but look) or `note`.
    code : str
        Stable short name, listed in docs/findings.md.
    where : Place
        The place.
    message : str
        What is wrong and by how much, one sentence.
    remedy : str
        What would mend it; empty where nothing is to be done.
    edits : tuple of mapping
        Changes to the job that do it: `{"path": ["gate", 0, "at"], "value": "14 ft"}`.
    """

    level: str
    code: str
    where: Place
    message: str
    remedy: str = ""
    edits: tuple[Mapping[str, Any], ...] = field(default=())


def has_stop(findings: Iterable[Finding]) -> bool:
    """Tell whether any finding forbids building."""
    return any(finding.level == STOP for finding in findings)


def sorted_findings(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Order findings: stops first, then cautions, then notes; given order within a level."""
    return tuple(sorted(findings, key=lambda finding: _ORDER[finding.level]))


def limited(findings: Iterable[Finding], most: int) -> tuple[Finding, ...]:
    """Keep the first `most` findings of each code, and count the rest of it in one more.

    Returns
    -------
    tuple of Finding
        In the given order; the count stands where the first one left out would.
    """
    rows = list(findings)
    totals = Counter(finding.code for finding in rows)
    seen: Counter[str] = Counter()
    kept = []
    for finding in rows:
        seen[finding.code] += 1
        number = seen[finding.code]
        if number <= most or (number == most + 1 and totals[finding.code] == most + 1):
            kept.append(finding)
        elif number == most + 1:
            message = (
                f"{totals[finding.code] - most} more findings like these, {finding.code}, are not listed."
            )
            kept.append(Finding(finding.level, finding.code, Place("job"), message, finding.remedy))
    return tuple(kept)
