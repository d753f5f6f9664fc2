"""What the routes share: the store, the folders of files, the workers, and a job as the page sees it."""

import tempfile
from collections import OrderedDict, defaultdict
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock
from typing import Any

from fencewright.desk.warm_reading import WarmReader
from fencewright.edits.applying import Applied, apply_edit
from fencewright.edits.document import make_ready
from fencewright.edits.lines import Drawn
from fencewright.edits.requests import SetPrices
from fencewright.findings import InputError
from fencewright.findings.toml_faults import read_toml
from fencewright.job.reading import parse_job
from fencewright.job.record import Job
from fencewright.job.schema import JobFile
from fencewright.layout.stage import lay_out
from fencewright.server.backgrounds import Backgrounds
from fencewright.server.design_worker import take_in, work
from fencewright.server.drawn_lines import DrawnLines
from fencewright.server.live import LiveBoard
from fencewright.server.live_runs import EXPECTED, Beginning, Question
from fencewright.server.models import EditAnswer, JobFileInfo, JobState, JobSummary, RevisionInfo
from fencewright.server.paper_pages import PaperPages
from fencewright.server.price_keeping import keep_prices
from fencewright.server.taken_away import KeptSets, TakenAway
from fencewright.server.whole_worker import work_on_wholes
from fencewright.server.workers import LONGEST_SET_S, WorkerPool
from fencewright.store.faults import StoreFault
from fencewright.store.folders import FileFolders
from fencewright.store.jobs import JobStore
from fencewright.store.records import JobRow, Made, Revision, State
from fencewright.store.rows import now_ms

_REDRAWN = {
    "move_line", "move_corner", "insert_corner", "remove_corner", "split_line", "join_lines", "own_points", "many",
}  # fmt: skip
_BEGINS_WITHIN_S = 0.03
_LAID_OUT_WITHIN_S = 5.0
_MOST_LATEST = 64  # states of jobs edited lately


@dataclass
class Service:
    """Everything that a request needs."""

    store: JobStore
    pool: WorkerPool
    wholes: WorkerPool
    board: LiveBoard
    folders: FileFolders
    reader: WarmReader
    drawn: DrawnLines
    sets: KeptSets = field(default_factory=KeptSets)
    locks: dict[str, Lock] = field(default_factory=lambda: defaultdict(Lock))
    latest: OrderedDict[str, tuple[State, JobFile]] = field(default_factory=OrderedDict)
    backgrounds: Backgrounds = field(default_factory=Backgrounds)
    papers: PaperPages = field(default_factory=PaperPages)

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
        made = self._changed(state, edit)
        self.read(state, made)
        return made

    def _changed(self, state: State, edit: Any) -> Applied:
        drawn: Drawn = {}
        if edit.kind in _REDRAWN:
            drawn = self._drawn(state.job.id, state.text, self.folder(state))
        return apply_edit(state.text, edit, drawn)

    def _drawn(self, id: str, text: str, folder: Path) -> Drawn:  # noqa: A002
        if "file" not in text:  # a quick look: most jobs name none
            return {}
        kept = self.latest.get(id)  # what the text of the last edit asks is at hand
        asked = kept[1] if kept is not None and kept[0].text == text else parse_job(text)
        return self.drawn.of(text, folder, asked)

    def make_ready(self, question: Question) -> None:
        """Have at hand what the next edit of a job needs."""
        with suppress(InputError):
            make_ready(question.text)
            self._drawn(question.job, question.text, Path(question.folder))

    def _begin(self, question: Question) -> Beginning | None:
        with suppress(TimeoutError):
            return self.board.begin(question).result(_BEGINS_WITHIN_S)
        return None

    def _refuse_worse(self, state: State, made: Applied, beginning: Beginning | None) -> None:
        """Refuse an edit after which no fence could be laid out, where one could be before.

        What a worker finds is taken where it has begun at once; where it is busy, the fence is laid out here.

        Raises
        ------
        InputError
            As the command line would say it: at the field that holds it, not when the design comes to it.
        """
        is_read = beginning is not None and beginning.is_read(_BEGINS_WITHIN_S)
        if not made.asked.line:  # nothing is drawn yet, or any more
            if not is_read:
                self.read(state, made)
            return
        try:
            if not is_read or beginning is None or not beginning.is_laid_out(_LAID_OUT_WITHIN_S):
                job = self.read(state, made)
                is_read = True
                lay_out(job)
        except InputError:
            if not is_read or self._could_be_laid_out(state):
                raise

    def _could_be_laid_out(self, state: State) -> bool:
        try:
            lay_out(self.read(state))
        except InputError:
            return False
        return True

    def edit(self, id: str, base: int, window: str, edit: Any) -> tuple[State, tuple[str, ...]]:  # noqa: A002
        """Make an edit on a revision, have it accepted, and let every window follow."""
        if isinstance(edit, SetPrices):
            return keep_prices(self, id, base, window, edit)
        state = self._state(id, base)
        made = self._changed(state, edit)
        if made.text == state.text:
            state = self.store.state(id, base)
            if base == state.job.head and state.job.deleted_ms is None:
                return state, ()  # nothing was changed: there is nothing to undo
        beginning = None
        if base == state.job.head:  # it is designed while it is read and kept: as a rule it will be accepted
            question = Question(id, base, made.text, str(self.folder(state)), asked=made.asked)
            beginning = self._begin(question)
        try:
            self._refuse_worse(state, made, beginning)
            asked = Made(base, made.text, made.label, made.asked.job.name, window)
            with self.locks[id]:  # windows are told in the order in which edits were accepted
                accepted = self.store.accept(id, asked)
                if accepted.state.text == made.text:  # not merged with what another window did
                    self._keep(accepted.state, made.asked)
                self.follow(accepted.state, window)
        except BaseException:
            self.board.go_on(id)
            raise
        return accepted.state, accepted.merged_with

    def expect(self, id: str, base: int, window: str, edit: Any) -> bool:  # noqa: A002
        """Design ahead what an edit would give that will probably come; false where it can change nothing."""
        state = self._state(id, base)
        try:
            made = self._changed(state, edit)
        except InputError:
            return False  # whoever makes it is told why
        if made.text == state.text:
            return False
        folder = str(self.folder(state))
        self.board.expect(Question(id, base, made.text, folder, EXPECTED, window, made.asked))
        return True

    def _state(self, id: str, base: int) -> State:  # noqa: A002
        """Give a job at a revision; that of its last edit is at hand. Whether it still is the last, the store will say."""
        kept = self.latest.get(id)
        return kept[0] if kept is not None and kept[0].job.head == base else self.store.state(id, base)

    def _keep(self, state: State, asked: JobFile) -> None:
        self.latest[state.job.id] = state, asked
        if len(self.latest) > _MOST_LATEST:
            self.latest.popitem(last=False)

    def move(self, id: str, change: Callable[[], State], window: str, said: str = "") -> State:  # noqa: A002
        """Undo, redo or go back, and let every window follow; `said` is what it is, where its label does not say."""
        with self.locks[id]:
            before = self.store.state(id)
            state = change()
            what = before.revision.label if said == "undo" else state.revision.label
            self.follow(state, window, f"{said}: {what}" if said else what)
        return state

    def follow(self, state: State, window: str = "", label: str = "") -> None:
        """Let every window that shows a job follow it to a state."""
        undo, redo = self.ways(state)
        head = {"revision": state.job.head, "label": label or state.revision.label, "window": window}
        self.board.follow(self.question(state), {**head, "undo": undo, "redo": redo})

    def question(self, state: State) -> Question:
        """Ask for the design of a state."""
        return Question(state.job.id, state.job.head, state.text, str(self.folder(state)))

    def ways(self, state: State) -> tuple[str | None, str | None]:
        """What undo would undo, and what redo would do again."""
        redo = state.revision.redo
        undone = None if redo is None else self.store.state(state.job.id, redo).revision.label
        return (state.revision.label if state.revision.parent is not None else None), undone

    def task(self, state: State, do: str, *extra: Any, longest_s: float | None = None) -> Any:
        """Ask for something of a state's whole design, and wait."""
        asked = {"do": do, "text": state.text, "folder": str(self.folder(state)), "with": extra}
        return self.wholes.call(state.job.id, asked, longest_s)

    def outputs(self, state: State) -> TakenAway:
        """Give every file to take away with the manifest and the job file; the last few sets are kept."""

        def make() -> TakenAway:
            return TakenAway.of(*self.task(state, "outputs", longest_s=LONGEST_SET_S), text=state.text)

        return self.sets.get((state.text, str(self.folder(state))), make)

    def output(self, state: State, name: str) -> tuple[bytes | None, list[str]]:
        """Give one file to take away, None where there is none of that name, and the names of all that were made."""
        is_made = self.sets.has((state.text, str(self.folder(state))))
        if name == "programme.svg" and not is_made:  # the page shows its bars: no need to wait for the rest
            files: Mapping[str, bytes] = self.task(state, "programme files")
        else:
            files = self.outputs(state).files
        return files.get(name), list(files)

    def end_work(self) -> None:
        """End what is computed, so that nobody waits for it; whoever does is told. May be called from any thread."""
        self.pool.close()
        self.wholes.close()

    def close(self) -> None:
        """Let go of everything."""
        self.board.close()
        self.end_work()
        self.store.close()
        self.folders.remove()


def open_service(store: JobStore, workers: int | None = None) -> Service:
    """Put a service together on an open store, and clear that of jobs deleted long ago."""
    with suppress(StoreFault):  # a full disk, another program: the next start does it
        store.purge_deleted(now_ms())
    pool = WorkerPool(work, workers, take_in)
    folders = FileFolders(Path(tempfile.mkdtemp(prefix="fencewright-")))
    reader, board = WarmReader(), LiveBoard(pool)
    wholes = WorkerPool(work_on_wholes, workers)
    service = Service(store, pool, wholes, board, folders, reader, DrawnLines(reader))
    board.make_ready = service.make_ready
    return service


def summary(row: JobRow) -> JobSummary:
    """Give a job as the list has it."""
    picture = f"/api/jobs/{row.id}/picture.svg?at={row.head}"
    return JobSummary(
        id=row.id, name=row.name, head=row.head, made_ms=row.made_ms, changed_ms=row.changed_ms,
        deleted_ms=row.deleted_ms, picture=picture,
    )  # fmt: skip


def edit_answer(service: Service, accepted: tuple[State, tuple[str, ...]]) -> EditAnswer:
    """Give what an accepted edit made, as `Service.edit` gives it."""
    state, merged_with = accepted
    return EditAnswer(
        state=job_state(service, state), merged=state.revision.merged, merged_with=list(merged_with)
    )


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
    return read_toml(text, "job.toml")


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
