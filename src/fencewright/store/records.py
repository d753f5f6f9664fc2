"""What the job store hands out and takes in."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from fencewright.findings import InputError


@dataclass(frozen=True, slots=True)
class JobRow:
    """A job in the list: its name, the number of its present revision, and when it changed (ms since 1970)."""

    id: str
    name: str
    head: int
    latest: int
    made_ms: int
    changed_ms: int
    deleted_ms: int | None


@dataclass(frozen=True, slots=True)
class Revision:
    """One accepted state of a job, without its text.

    Attributes
    ----------
    number : int
        1 for the first; never used again.
    parent : int or None
        What it was made from.
    redo : int or None
        Where redo leads from here.
    label, name : str
        What was done, and what a person called it.
    window : str
        Which window made it.
    aside : bool
        Kept beside the job: it touched what another window had changed.
    merged : bool
        It was made on an older revision and merged.
    text, files : str
        Digests of the job file's text and of its set of files.
    made_ms : int
        When, in milliseconds since 1970.
    """

    number: int
    parent: int | None
    redo: int | None
    label: str
    name: str
    window: str
    aside: bool
    merged: bool
    text: str
    files: str
    made_ms: int


@dataclass(frozen=True, slots=True)
class State:
    """A job at one revision: its row, the revision, the text, and the digest of each file by its path."""

    job: JobRow
    revision: Revision
    text: str
    files: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Made:
    """An edit to be accepted: the revision that it was made on, and the job after it.

    `add` holds new files by path; `name` is the job's name after it.
    """

    base: int
    text: str
    label: str
    name: str
    window: str = ""
    add: Mapping[str, bytes] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Accepted:
    """What became of an edit: the state after it, and the labels of what it was merged with."""

    state: State
    merged_with: tuple[str, ...] = ()


class Moved(InputError):
    """The job is no longer at the revision that was named; `head` is where it is."""

    def __init__(self, what: str, head: int) -> None:
        self.head = head
        super().__init__(what)


class Clash(InputError):
    """Two windows changed the same thing; the later edit is kept aside as revision `kept`."""

    def __init__(self, what: str, head: int, kept: int, clashes: tuple[str, ...]) -> None:
        self.head, self.kept, self.clashes = head, kept, clashes
        super().__init__(what)


class Missing(InputError):
    """There is no such job, revision or file."""


class NewerJob(InputError):
    """A newer version of the program wrote the job."""
