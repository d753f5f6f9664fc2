"""The live answer: one stream a window, each told what changed since what it was told before."""

import asyncio
from collections.abc import AsyncIterator, Callable, Mapping
from concurrent.futures import Future
from dataclasses import dataclass, field, replace
from typing import Any

from pydantic_core import to_json
from starlette.concurrency import run_in_threadpool

from fencewright.exchange.column_change import splice_of
from fencewright.exchange.live_tables import Tables
from fencewright.findings import FencewrightError, InternalFault
from fencewright.server.errors import error_text
from fencewright.server.live_runs import EXPECTED, Beginning, Question, Runs
from fencewright.server.workers import WorkerPool

KEEP_ALIVE_S = 15.0
_READY_AFTER, _READY_IN_S = "pulls", 0.08
_MOST_WAITING = 64  # events that a window may be behind before its stream ends, to begin anew


@dataclass
class Window:
    """One open stream: what it has been told, by table and column, and what waits to be sent."""

    name: str
    told: Tables = field(default_factory=dict)
    waiting: asyncio.Queue[tuple[str, bytes] | None] = field(default_factory=asyncio.Queue)
    trial: int = 0


class LiveJob:
    """Windows open on one job, and the newest answer."""

    def __init__(self) -> None:
        self.windows: list[Window] = []
        self.question: Question | None = None
        self.answers: list[tuple[str, Any]] = []

    def kept(self, kind: str) -> dict[str, set[str]] | None:
        """What a window keeps that is told an answer of a kind: where it is refused, the columns that were told of it."""
        if kind != "refused":
            return None
        names: dict[str, set[str]] = {}
        for told, content in self.answers:
            for table, said in content["tables"].items() if told == "stage" else ():
                names.setdefault(table, set()).update(said["columns"])
        return names

    def tell_again(self, window: Window) -> None:
        """Tell a window the newest answer so far."""
        if self.question is None:
            return
        for kind, content in self.answers:
            _tell(window, self.question, kind, content, self.kept(kind))


class LiveBoard:
    """Asks the workers, and tells the windows; lives on the server's event loop."""

    def __init__(self, pool: WorkerPool) -> None:
        self.pool = pool
        self.jobs: dict[str, LiveJob] = {}
        self.loop: asyncio.AbstractEventLoop | None = None
        self.make_ready: Callable[[Question], None] = lambda _: None
        self.runs = Runs(self._submit, self._stop, self._hear, self._is_waited_for)

    def _soon(self, act: Callable[..., None], *given: Any) -> None:
        """Do something on the event loop; nothing before that runs."""
        if self.loop is not None:
            self.loop.call_soon_threadsafe(act, *given)

    def follow(self, question: Question, head: Mapping[str, Any]) -> None:
        """Tell every window of a job that it is at another revision, and design that; called from any thread."""
        self._soon(self._follow, question, dict(head))

    def _follow(self, question: Question, head: dict[str, Any]) -> None:
        live = self.jobs.get(question.job)
        if live is None:
            return
        for window in live.windows:
            if window.name == head["window"]:
                window.trial = 0
            window.waiting.put_nowait(("head", to_json(head)))
        self._ask(live, question)

    def _ask(self, live: LiveJob, question: Question) -> None:
        """Design a revision, where that is not made already."""
        is_same = live.question is not None and live.question.revision == question.revision
        if is_same and live.answers and live.answers[-1][0] != "fault":
            return
        live.question, live.answers = question, []
        self.runs.ask(question)

    def try_out(self, question: Question) -> None:
        """Show one window a trial; called from any thread.

        One of another revision than the job is at comes too late: its hand has let go, and that edit is what is shown.
        """
        self._soon(self._try_out, question)

    def _try_out(self, question: Question) -> None:
        live = self._present(question)
        if live is None:
            return
        for window in live.windows:
            if window.name == question.window:
                window.trial = question.trial or 0
        self.runs.ask(question)

    def _present(self, question: Question) -> LiveJob | None:
        """Give the job that a question is about; None where it is at another revision than the question, or not shown."""
        live = self.jobs.get(question.job)
        if live is None or live.question is None or live.question.revision != question.revision:
            return None
        return live

    def expect(self, question: Question) -> None:
        """Design ahead what a window will probably ask for; nobody is told until it is asked. Called from any thread."""
        self._soon(self._expect, question)

    def _expect(self, question: Question) -> None:
        live = self._present(question)
        if live is None:
            return
        is_trying = any(one.trial for one in live.windows if one.name == question.window)
        if not is_trying and not self.runs.has(question):  # what a hand holds goes before what it may do next
            self.runs.ask(question)

    def begin(self, question: Question) -> Future[Beginning | None]:
        """Begin to design what will probably be asked; nobody is told until it is. Called from any thread.

        Returns
        -------
        Future of Beginning or None
            How the design begins; None where no window shows the job, so that nothing is designed.
        """
        begun: Future[Beginning | None] = Future()
        if self.loop is None:
            begun.set_result(None)
        else:
            self.loop.call_soon_threadsafe(self._begin, question, begun)
        return begun

    def _begin(self, question: Question, begun: Future[Beginning | None]) -> None:
        begun.set_result(self.runs.ask(question).beginning if question.job in self.jobs else None)

    def go_on(self, job: str) -> None:
        """Go on with the design of the job as it is, where a beginning that led to nothing ended it."""
        self._soon(self._go_on, job)

    def _go_on(self, job: str) -> None:
        live = self.jobs.get(job)
        if live is not None and live.question is not None and not self.runs.has(live.question):
            live.answers = []
            self.runs.ask(live.question)

    def _submit(self, question: Question, hear: Callable[[str, Any], None]) -> None:
        loop = self.loop

        def heard(kind: str, content: Any) -> None:
            if loop is not None and not loop.is_closed():
                loop.call_soon_threadsafe(hear, kind, content)

        self.pool.submit(
            question.job,
            {
                "do": "design",
                "key": question.key,
                "text": question.text,
                "asked": question.asked,
                "folder": question.folder,
                "is_trial": question.trial not in (None, EXPECTED),
                "is_ahead": question.trial == EXPECTED,
            },
            heard,
        )

    def _is_waited_for(self, question: Question) -> bool:
        live = self.jobs.get(question.job)
        if live is None or question.trial is None:
            return live is not None and live.question is question
        return any((one.name, one.trial) == (question.window, question.trial) for one in live.windows)

    def _stop(self, question: Question) -> None:
        self.pool.stop(question.job, question.key)

    def _hear(self, question: Question, kind: str, content: Any) -> None:
        """Take an answer: to the windows of the job, or of the trial; an older one is dropped."""
        live = self.jobs.get(question.job)
        if live is None:
            return
        if question.trial is None:
            if live.question is not question:
                return
            live.answers.append((kind, content))
            if kind == "stage" and content["stage"] == _READY_AFTER and self.loop is not None:
                self.loop.call_later(_READY_IN_S, self._make_ready, question)
            windows = [window for window in live.windows if not window.trial]
        else:
            windows = [
                one for one in live.windows if one.name == question.window and one.trial == question.trial
            ]
        for window in windows:
            _tell(window, question, kind, content, live.kept(kind) if question.trial is None else None)

    def _make_ready(self, question: Question) -> None:
        """Make ready for the next edit of a job while its page draws, so that it need not wait."""
        live = self.jobs.get(question.job)
        if live is not None and live.question is question and self.loop is not None:
            self.loop.run_in_executor(None, self.make_ready, question)

    def end_trial(self, job: str, window_name: str) -> None:
        """Show a window the job itself again; called from any thread."""
        self._soon(self._end_trial, job, window_name)

    def _end_trial(self, job: str, window_name: str) -> None:
        live = self.jobs.get(job)
        for window in live.windows if live else ():
            if window.name == window_name and window.trial and live and live.question:
                window.trial = 0
                live.tell_again(window)

    async def stream(
        self, job: str, window_name: str, present: Callable[[], Question]
    ) -> AsyncIterator[bytes]:
        """Give the events of a window until it is closed.

        `present` asks for the job as it is. It is read once the window hears of every edit, so that none falls between.
        """
        window = Window(window_name)
        live = self.jobs.setdefault(job, LiveJob())
        live.windows.append(window)
        try:
            live.tell_again(window)
            question = await run_in_threadpool(present)
            if live.question is not None:  # of another window, or of an edit that came meanwhile
                question = replace(live.question)
            self._ask(live, question)
            while True:
                try:
                    event = await asyncio.wait_for(window.waiting.get(), KEEP_ALIVE_S)
                except TimeoutError:
                    # an event, not a comment: of comments a page learns nothing
                    yield b"event: here\ndata: {}\n\n"
                    continue
                if event is None:
                    return
                yield b"event: " + event[0].encode() + b"\ndata: " + event[1] + b"\n\n"
        finally:
            live.windows.remove(window)
            if not live.windows:
                self.jobs.pop(job, None)
                self.runs.end(job)
                self.pool.stop(job, job)

    def close_soon(self) -> None:
        """End every stream; called from any thread."""
        if self.loop is not None and not self.loop.is_closed():
            self.loop.call_soon_threadsafe(self.close)

    def close(self) -> None:
        """End every stream."""
        for live in self.jobs.values():
            for window in live.windows:
                window.waiting.put_nowait(None)


def _tell(
    window: Window, question: Question, kind: str, content: Any, kept: dict[str, set[str]] | None = None
) -> None:
    """Put an answer into a window's stream, as changes to what it was told before.

    `kept` are the columns by table that the window keeps with a refusal; None: all that it shows.
    """
    about = {"revision": question.revision, "trial": question.trial}
    if kind in ("refused", "fault"):
        error = content if isinstance(content, FencewrightError) else InternalFault(str(content))
        text = error_text(error, _plain(question.text) if kind == "refused" else None)
        if kept is not None:
            window.told = {
                table: {name: cells for name, cells in window.told.get(table, {}).items() if name in names}
                for table, names in kept.items()
            }
        window.waiting.put_nowait(("refused", to_json({**about, "error": text.model_dump(), "kept": kept})))
        return
    if window.waiting.qsize() > _MOST_WAITING:
        _begin_anew(window)
        return
    tables = {}
    for table, said in content["tables"].items():
        told = window.told.setdefault(table, {})
        splices = {}
        for name, cells in said["columns"].items():
            before, change = said.get("changes", {}).get(name, (None, None))
            is_known = change is not None and before is told.get(name)
            splice = change.splice() if is_known else splice_of(told.get(name, []), cells)
            if splice is not None or name not in told:
                splices[name] = splice or {"start": 0, "remove": 0, "values": []}
            told[name] = cells
        if said["rows"] == 0:
            told.clear()
        tables[table] = {"rows": said["rows"], "columns": splices}
    told_now = {key: content[key] for key in ("stage", "pending", "elapsed_ms", "values")}
    window.waiting.put_nowait(
        ("stage", to_json({**about, **told_now, "tables": tables}, inf_nan_mode="null"))
    )


def _begin_anew(window: Window) -> None:
    """End the stream of a window that takes its events too slowly: it opens another, and is told everything."""
    while not window.waiting.empty():
        window.waiting.get_nowait()
    window.waiting.put_nowait(None)


def _plain(text: str) -> Mapping[str, Any]:
    from fencewright.edits.changes import read_plain

    try:
        return read_plain(text)
    except FencewrightError:
        return {}
