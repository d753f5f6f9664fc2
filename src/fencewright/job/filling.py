"""A job while its gaps are filled: what it states, the catalogue, and what there is to say."""

from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any

from fencewright.catalogue.rows import Catalogue
from fencewright.findings import Finding, InputError, Place
from fencewright.job.schema import JobFile


@dataclass
class Filling:
    """The job, its catalogue, and the findings gathered while filling."""

    asked: JobFile
    catalogue: Catalogue
    findings: list[Finding] = field(default_factory=list)

    def take(self, stated: Any, name: str) -> Any:
        """Give what the job states, else the trade default of that name."""
        return stated if stated is not None else self.catalogue.practice[name].value

    def take_name(self, stated: str | None, name: str) -> str:
        """Give the name that the job states, else that of the trade default, as it is written."""
        return stated if stated is not None else self.catalogue.practice[name].written

    def say(self, level: str, code: str, message: str, remedy: str = "") -> None:
        """Add a finding about the whole job."""
        self.findings.append(Finding(level, code, Place("job"), message, remedy))


def pick(table: Any, name: str, what: str, item: str) -> Any:
    """Find a catalogue row by name, or say which one is near.

    Raises
    ------
    InputError
        No row of that name.
    """
    if name in table:
        return table[name]
    near = get_close_matches(name, table, n=1, cutoff=0.3)
    known = f"did you mean {near[0]!r}?" if near else f"known: {', '.join(table)}"
    raise InputError(f"there is no {what} {name!r}; {known}", item=item)
