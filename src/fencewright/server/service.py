"""What the routes share: the store, the folders of files, the workers, and a job as the page sees it."""

import tempfile
import tomllib
from collections import OrderedDict, defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock
from typing import Any

from fencewright.desk.warm_reading import WarmReader
from fencewright.edits.applying import Applied, apply_edit
from fencewright.findings import InputError
from fencewright.job.reading import parse_job
from fencewright.job.record import Job
from fencewright.server.archive import with_manifest
from fencewright.server.live import LiveBoard, Question
from fencewright.server.models import JobFileInfo, JobState, JobSummary, RevisionInfo
from fencewright.server.workers import WorkerPool
from fencewright.store.folders import FileFolders
from fencewright.store.jobs import JobStore
from fencewright.store.records import JobRow, Made, Revision, State

_MOST_SETS = 4  # of outputs that are kept, some megabytes each
_REDRAWN = {
    "move_line", "move_corner", "insert_corner", "remove_corner", "split_line", "join_lines", "own_points", "many",
}  # fmt: skip


@dataclass
class Service:
    """Everything that a request needs."""

    store: JobStore
    pool: WorkerPool
    board: LiveBoard
    folders: FileFolders
    reader: WarmReader
    made: OrderedDict[tuple[str, str], dict[str, bytes]] = field(default_factory=OrderedDict)
    locks: dict[str, Lock] = field(default_factory=lambda: defaultdict(Lock))

    def folder(self, state: State) -> Path:
        """Folder that holds a state's files."""
        return self.folders.folder_of(state.files, self.store.content)

    def read(self, state: State, made: Applied | None = None) -> Job:
        """Read a job as it is, or as an edit makes it.

        Raises
        ------
        InputError
            As the command line would say it.
        """
        if made is None:
            return self.reader.read(state.text, self.folder(state))
        return self.reader.read(made.text, self.folder(state), made.asked)

    def apply(self, state: State, edit: Any) -> Applied:
        """Apply an edit to a state, and see that the job can still be read.

        Raises
        ------
        InputError
            It cannot be made; the sentence is the command line's.
        """
        drawn = {}
        if edit.kind in _REDRAWN and any(line.file for line in parse_job(state.text).line):
            site = self.read(state).site
            drawn = {line.name: [(x, y) for x, y in line.xy_m.tolist()] for line in site.lines}
        made = apply_edit(state.text, edit, drawn)
        self.read(state, made)
        return made

    def edit(self, id: str, base: int, window: str, edit: Any) -> tuple[State, tuple[str, ...]]:  # noqa: A002
        """Make an edit on a revision, have it accepted, and let every window follow."""
        state = self.store.state(id, base)
        made = self.apply(state, edit)
        asked = Made(base, made.text, made.label, made.asked.job.name, window)
        with self.locks[id]:  # windows are told in the order in which edits were accepted
            accepted = self.store.accept(id, asked)
            self.follow(accepted.state, window)
        return accepted.state, accepted.merged_with

    def move(self, id: str, change: Callable[[], State], window: str) -> State:  # noqa: A002
        """Undo, redo or go back, and let every window follow."""
        with self.locks[id]:
            state = change()
            self.follow(state, window)
        return state

    def follow(self, state: State, window: str = "") -> None:
        """Let every window that shows a job follow it to a state."""
        undo, redo = self.ways(state)
        head = {"revision": state.job.head, "label": state.revision.label, "window": window}
        self.board.head(state.job.id, {**head, "undo": undo, "redo": redo})
        self.board.ask(self.question(state))

    def question(self, state: State) -> Question:
        """Ask for the design of a state."""
        return Question(state.job.id, state.job.head, state.text, str(self.folder(state)))

    def ways(self, state: State) -> tuple[str | None, str | None]:
        """What undo would undo, and what redo would do again."""
        redo = state.revision.redo
        undone = None if redo is None else self.store.state(state.job.id, redo).revision.label
        return (state.revision.label if state.revision.parent is not None else None), undone

    def task(self, state: State, do: str, *extra: Any) -> Any:
        """Ask the workers for something of a state's design, and wait."""
        work = {"do": do, "text": state.text, "folder": str(self.folder(state)), "with": extra}
        return self.pool.call(state.job.id, work)

    def outputs(self, state: State) -> dict[str, bytes]:
        """Give every file to take away with the manifest and the job file; the last few sets are kept."""
        folder = str(self.folder(state))
        key = (state.text, folder)
        if key not in self.made:
            self.made[key] = with_manifest(self.task(state, "outputs", folder), state.text)
            while len(self.made) > _MOST_SETS:
                self.made.popitem(last=False)
        return self.made[key]

    def close(self) -> None:
        """Let go of everything."""
        self.board.close()
        self.pool.close()
        self.store.close()
        self.folders.remove()


def open_service(store: JobStore, workers: int | None = None) -> Service:
    """Put a service together on an open store."""
    pool = WorkerPool(workers)
    folders = FileFolders(Path(tempfile.mkdtemp(prefix="fencewright-")))
    return Service(store, pool, LiveBoard(pool), folders, WarmReader())


def summary(row: JobRow) -> JobSummary:
    """Give a job as the list has it."""
    picture = f"/api/jobs/{row.id}/picture.svg?at={row.head}"
    return JobSummary(
        id=row.id, name=row.name, head=row.head, made_ms=row.made_ms, changed_ms=row.changed_ms,
        deleted_ms=row.deleted_ms, picture=picture,
    )  # fmt: skip


def job_state(service: Service, state: State) -> JobState:
    """Give a job as it is."""
    undo, redo = service.ways(state)
    return JobState(
        id=state.job.id,
        name=state.job.name,
        head=state.job.head,
        revision=revision_info(state.revision, state.job.head, {state.revision.number}),
        text=state.text,
        asked=plain_values(state.text),
        files=[JobFileInfo(path=path, digest=digest) for path, digest in sorted(state.files.items())],
        undo=undo,
        redo=redo,
    )


def plain_values(text: str) -> dict[str, Any]:
    """Values of a job's text as they stand there."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise InputError(f"not valid TOML: {error}", file="job.toml") from error


def revision_info(revision: Revision, head: int, done: set[int]) -> RevisionInfo:
    """Give a revision as the history has it."""
    return RevisionInfo(
        number=revision.number, parent=revision.parent, label=revision.label, name=revision.name,
        window=revision.window, aside=revision.aside, merged=revision.merged, made_ms=revision.made_ms,
        present=revision.number == head, done=revision.number in done,
    )  # fmt: skip


def history_infos(revisions: Sequence[Revision], head: int) -> list[RevisionInfo]:
    """Give a whole history; `done` are the present revision and all that led to it."""
    parents: Mapping[int, int | None] = {one.number: one.parent for one in revisions}
    done: set[int] = set()
    here: int | None = head
    while here is not None:
        done.add(here)
        here = parents.get(here)
    return [revision_info(one, head, done) for one in revisions]
