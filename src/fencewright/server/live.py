"""The live answer: one stream a window, each told what changed since what it was told before."""

import asyncio
from collections.abc import AsyncIterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from pydantic_core import to_json

from fencewright.findings import FencewrightError, InternalFault
from fencewright.server.errors import error_text
from fencewright.server.workers import WorkerPool

KEEP_ALIVE_S = 15.0
_BLOCK = 512  # rows that are compared at one go
_MOST_WAITING = 64  # events that a slow window may be behind before it is told everything anew


@dataclass(frozen=True, slots=True)
class Question:
    """What is to be designed: the job, its revision, perhaps a trial of one window, its text and folder."""

    job: str
    revision: int
    text: str
    folder: str
    trial: int | None = None
    window: str = ""

    @property
    def key(self) -> str:
        """What it is for: a newer question of one key ends the older."""
        return f"{self.job} {self.window}" if self.trial is not None else self.job


@dataclass
class Window:
    """One open stream: what it has been told, by table and column, and what waits to be sent."""

    name: str
    told: dict[str, dict[str, list[Any]]] = field(default_factory=dict)
    waiting: asyncio.Queue[tuple[str, bytes] | None] = field(default_factory=asyncio.Queue)
    trial: int = 0


class LiveJob:
    """Windows open on one job, and the newest answer."""

    def __init__(self) -> None:
        self.windows: list[Window] = []
        self.question: Question | None = None
        self.answers: list[tuple[str, Any]] = []


class LiveBoard:
    """Asks the workers, and tells the windows; lives on the server's event loop."""

    def __init__(self, pool: WorkerPool) -> None:
        self.pool = pool
        self.jobs: dict[str, LiveJob] = {}
        self.loop: asyncio.AbstractEventLoop | None = None

    def ask(self, question: Question) -> None:
        """Design a revision, or a trial; called from any thread."""
        if self.loop is None:
            raise InternalFault("the server is not running yet")
        self.loop.call_soon_threadsafe(self._ask, question)

    def _ask(self, question: Question) -> None:
        live = self.jobs.get(question.job)
        if live is None:
            return
        if question.trial is None:
            if live.question is not None and live.question.revision == question.revision and live.answers:
                return
            live.question, live.answers = question, []
        else:
            for window in live.windows:
                if window.name == question.window:
                    window.trial = question.trial
        loop = self.loop

        def heard(kind: str, content: Any) -> None:
            if loop is not None and not loop.is_closed():
                loop.call_soon_threadsafe(self._hear, question, kind, content)

        self.pool.submit(
            question.job,
            {"do": "design", "key": question.key, "text": question.text, "folder": question.folder},
            heard,
        )

    def _hear(self, question: Question, kind: str, content: Any) -> None:
        """Take an answer: to the windows of the job, or of the trial; an older one is dropped."""
        live = self.jobs.get(question.job)
        if live is None or kind == "dropped":
            return
        if question.trial is None:
            if live.question is not question:
                return
            live.answers.append((kind, content))
            windows = [window for window in live.windows if not window.trial]
        else:
            windows = [
                one for one in live.windows if one.name == question.window and one.trial == question.trial
            ]
        for window in windows:
            _tell(window, question, kind, content)

    def end_trial(self, job: str, window_name: str) -> None:
        """Show a window the job itself again; called from any thread."""
        if self.loop is not None:
            self.loop.call_soon_threadsafe(self._end_trial, job, window_name)

    def _end_trial(self, job: str, window_name: str) -> None:
        live = self.jobs.get(job)
        for window in live.windows if live else ():
            if window.name == window_name and window.trial and live and live.question:
                window.trial = 0
                for kind, content in live.answers:
                    _tell(window, live.question, kind, content)

    def head(self, job: str, event: Mapping[str, Any]) -> None:
        """Tell every window of a job that it is at another revision; called from any thread."""
        if self.loop is not None:
            self.loop.call_soon_threadsafe(self._head, job, dict(event))

    def _head(self, job: str, event: dict[str, Any]) -> None:
        live = self.jobs.get(job)
        for window in live.windows if live else ():
            if window.name == event["window"]:
                window.trial = 0
            window.waiting.put_nowait(("head", to_json(event)))

    async def stream(self, question: Question, window_name: str) -> AsyncIterator[bytes]:
        """Give the events of a window until it is closed."""
        window = Window(window_name)
        live = self.jobs.setdefault(question.job, LiveJob())
        live.windows.append(window)
        try:
            for kind, content in live.answers:
                if live.question is not None:
                    _tell(window, live.question, kind, content)
            if live.question is None or live.question.revision != question.revision:
                self._ask(question)
            while True:
                try:
                    event = await asyncio.wait_for(window.waiting.get(), KEEP_ALIVE_S)
                except TimeoutError:
                    yield b": still here\n\n"
                    continue
                if event is None:
                    return
                yield b"event: " + event[0].encode() + b"\ndata: " + event[1] + b"\n\n"
        finally:
            live.windows.remove(window)
            if not live.windows:
                self.jobs.pop(question.job, None)
                self.pool.stop(question.job, question.job)

    def close_soon(self) -> None:
        """End every stream; called from any thread."""
        if self.loop is not None and not self.loop.is_closed():
            self.loop.call_soon_threadsafe(self.close)

    def close(self) -> None:
        """End every stream."""
        for live in self.jobs.values():
            for window in live.windows:
                window.waiting.put_nowait(None)


def _tell(window: Window, question: Question, kind: str, content: Any) -> None:
    """Put an answer into a window's stream, as changes to what it was told before."""
    about = {"revision": question.revision, "trial": question.trial}
    if kind in ("refused", "fault"):
        error = content if isinstance(content, FencewrightError) else InternalFault(str(content))
        text = error_text(error, _plain(question.text) if kind == "refused" else None)
        window.waiting.put_nowait(("refused", to_json({**about, "error": text.model_dump()})))
        return
    if window.waiting.qsize() > _MOST_WAITING:
        window.told = {}
    tables = {}
    for table, columns in content["tables"].items():
        rows = len(next(iter(columns.values()))) if columns else 0
        told = window.told.setdefault(table, {})
        splices = {}
        for name, values in columns.items():
            splice = splice_of(told.get(name, []), values)
            if splice is not None or name not in told:
                splices[name] = splice or {"start": 0, "remove": 0, "values": []}
            told[name] = values
        if not columns:
            told.clear()
        tables[table] = {"rows": rows, "columns": splices}
    told_now = {key: content[key] for key in ("stage", "pending", "elapsed_ms", "values")}
    window.waiting.put_nowait(
        ("stage", to_json({**about, **told_now, "tables": tables}, inf_nan_mode="null"))
    )


def _plain(text: str) -> Mapping[str, Any]:
    from fencewright.edits.changes import read_plain

    try:
        return read_plain(text)
    except FencewrightError:
        return {}


def splice_of(before: list[Any], after: list[Any]) -> dict[str, Any] | None:
    """Say how a column changes: the stretch between its equal beginning and its equal end; None: not at all.

    Notes
    -----
    O(rows), and one comparison where nothing changed.
    """
    if before is after or before == after:
        return None
    most = min(len(before), len(after))
    start = 0
    while start < most and before[start : start + _BLOCK] == after[start : start + _BLOCK]:
        start += _BLOCK
    start = min(start, most)
    start = next((row for row in range(start, min(start + _BLOCK, most)) if before[row] != after[row]), most)
    rest, end = most - start, 0
    old, new = len(before), len(after)
    while (
        end + _BLOCK <= rest
        and before[old - end - _BLOCK : old - end] == after[new - end - _BLOCK : new - end]
    ):
        end += _BLOCK
    end = next(
        (row for row in range(end, min(end + _BLOCK, rest)) if before[-1 - row] != after[-1 - row]), rest
    )
    return {
        "start": start,
        "remove": len(before) - start - end,
        "values": after[start : len(after) - end],
    }
