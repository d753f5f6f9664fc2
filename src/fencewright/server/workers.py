"""The worker processes as the server sees them: tasks in, answers by callback, none waited for without end."""

import itertools
import multiprocessing
import os
import pickle
import signal
import threading
import time
from collections.abc import Callable, Iterable
from concurrent.futures import Future
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection
from queue import SimpleQueue
from typing import Any

from fencewright.server.errors import fault_of

Heard = Callable[[str, Any], None]
"""Called with the kind of an answer and its content, from a thread of the pool; that of a `fault` is an InternalFault."""
Work = Callable[[Connection, Connection], None]
"""What a worker process runs: it takes tasks from the one pipe and answers through the other."""
TakeIn = Callable[[], Callable[[str, Any], Any]]
"""Gives what takes in the answers of one process in their order: kind and content to what is told."""

UNDER_WAY = ("read", "laid out", "stage")
"""Kinds of answers after which more will come."""
LONGEST_ANSWER_S = 300.0
"""How long an answer may take: a design of 30 km takes 5 s on a busy machine; what takes five minutes hangs. [s]"""
LONGEST_SET_S = 1200.0
"""How long every file of a design may take: those of 30 km take two minutes there. [s]"""
_LOOKS_EVERY_S = 1.0
_SOON_S = 3.0  # a page is shown and its first design drawn by then
_ENDED = "the process that designs has ended"


def _as_it_is(kind: str, content: Any) -> Any:
    return content


class _Process:
    """One worker process with its pipes."""

    def __init__(
        self,
        work: Work,
        take_in: TakeIn,
        heard: Callable[[int, str, Any], None],
        lost: Callable[["_Process"], None],
    ) -> None:
        ways = multiprocessing.get_context("spawn")
        tasks, self.tasks = ways.Pipe(duplex=False)
        self.answers, answers = ways.Pipe(duplex=False)
        self.process = ways.Process(target=work, args=(tasks, answers), daemon=True)
        self.process.start()
        tasks.close()
        answers.close()
        self.said = _ENDED  # to those who wait for it when it is lost
        self.lost = lost
        self.waiting: SimpleQueue[dict[str, Any] | None] = SimpleQueue()
        threading.Thread(target=self._listen, args=(self.answers, take_in(), heard), daemon=True).start()
        threading.Thread(target=self._send, daemon=True).start()

    def _listen(
        self,
        answers: Connection,
        taken: Callable[[str, Any], Any],
        heard: Callable[[int, str, Any], None],
    ) -> None:
        try:
            while True:
                ticket, kind, content = pickle.loads(answers.recv_bytes())
                heard(ticket, kind, taken(kind, content))
        except (EOFError, OSError):
            pass  # it has ended
        finally:  # so too where an answer cannot be taken in: nobody may wait for what is no longer heard
            self.lost(self)

    def send(self, task: dict[str, Any]) -> None:
        """Give it a task; never waits, as a pipe does whose other end is busy."""
        self.waiting.put(task)

    def _send(self) -> None:
        with self.tasks:
            while (task := self.waiting.get()) is not None:
                try:
                    self.tasks.send(task)
                except OSError:
                    self.lost(self)
                    return

    def close(self) -> None:
        """Let it end once it has done what it was given."""
        self.waiting.put(None)

    def end(self) -> None:
        """End the process and whatever it still computes in children of its own."""
        if hasattr(os, "killpg") and self.process.pid is not None:
            with suppress(OSError):  # all of them have ended
                os.killpg(self.process.pid, signal.SIGKILL)
        elif self.process.is_alive():
            self.process.kill()


@dataclass
class _Asked:
    """What somebody waits for: of whom, for what, and until when; a newer task of one key is waited for instead."""

    heard: Heard
    process: _Process
    key: str
    longest_s: float
    until_s: float


class WorkerPool:
    """A few worker processes; the tasks of one job go to one of them, so that it stays warm."""

    def __init__(self, work: Work, size: int | None = None, take_in: TakeIn = lambda: _as_it_is) -> None:
        self.work, self.take_in = work, take_in
        self.size = size or max(1, min(2, os.cpu_count() or 1))
        self._tickets = itertools.count(1)
        self._asked: dict[int, _Asked] = {}
        self._lock = threading.Lock()
        self._processes: list[_Process | None] = [None] * self.size
        self._closed = threading.Event()
        self._watch: threading.Thread | None = None

    def start(self) -> None:
        """Start every process now rather than with the first task."""
        for place in range(self.size):
            self._process(place)

    def start_soon(self, job: str) -> None:
        """Start the process of a job once its page has been shown, before anybody asks for more."""
        later = threading.Timer(_SOON_S, self._start_one, [job])
        later.daemon = True
        later.start()

    def _start_one(self, job: str) -> None:
        if not self._closed.is_set():
            self._process(self._place(job))

    def _process(self, place: int) -> _Process:
        with self._lock:
            found = self._processes[place]
            if found is None:
                found = self._processes[place] = _Process(self.work, self.take_in, self._answer, self._lost)
            if self._watch is None:
                self._watch = threading.Thread(target=self._look_after, daemon=True)
                self._watch.start()
            return found

    def _place(self, job: str) -> int:
        return sum(job.encode()) % self.size

    def submit(self, job: str, task: dict[str, Any], heard: Heard, longest_s: float | None = None) -> int:
        """Give a task to the worker of a job; `heard` is told its answers. Gives its ticket."""
        longest_s = LONGEST_ANSWER_S if longest_s is None else longest_s
        ticket = next(self._tickets)
        if self._closed.is_set():
            heard("fault", fault_of("the server is ending"))
            return ticket
        process = self._process(self._place(job))
        key = task.get("key", f"call {ticket}")
        with self._lock:
            for older in self._asked.values():
                if older.key == key:
                    older.until_s = float("inf")  # it may never be answered
            self._asked[ticket] = _Asked(heard, process, key, longest_s, time.monotonic() + longest_s)
        process.send({"with": (), **task, "key": key, "ticket": ticket})
        return ticket

    def call(self, job: str, task: dict[str, Any], longest_s: float | None = None) -> Any:
        """Give a task to the worker of a job, and wait for its one answer.

        Raises
        ------
        FencewrightError
            As the task raises it.
        InternalFault
            The worker was lost, or did not answer in time.
        """
        answer: Future[Any] = Future()

        def heard(kind: str, content: Any) -> None:
            if kind == "last":
                answer.set_result(content)
            elif kind in ("refused", "fault"):
                answer.set_exception(content)
            elif kind == "dropped":
                answer.set_exception(fault_of("the answer was dropped"))

        self.submit(job, task, heard, longest_s)
        return answer.result()

    def stop(self, job: str, key: str) -> None:
        """End what is computed for a key."""
        with self._lock:
            self._forget(ticket for ticket, one in self._asked.items() if one.key == key)
            process = self._processes[self._place(job)]
        if process is not None:
            process.send({"do": "stop", "key": key, "ticket": next(self._tickets)})

    def _forget(self, tickets: Iterable[int]) -> None:
        for ticket in list(tickets):
            del self._asked[ticket]

    def _answer(self, ticket: int, kind: str, content: Any) -> None:
        with self._lock:
            asked = self._asked.get(ticket)
            if asked is None:
                return
            if kind not in UNDER_WAY:  # what was asked before under its key will never be answered
                self._forget(
                    other for other, one in self._asked.items() if one.key == asked.key and other <= ticket
                )
        asked.heard(kind, fault_of(str(content)) if kind == "fault" else content)

    def _look_after(self) -> None:
        """End a process that somebody has waited for too long; everyone who waits for it is told."""
        while not self._closed.wait(_LOOKS_EVERY_S):
            now = time.monotonic()
            with self._lock:
                late = [one for one in self._asked.values() if one.until_s < now]
            for one in late:
                one.process.said = f"no answer within {one.longest_s:.0f} seconds: what computed it was ended"
                one.process.end()
                self._lost(one.process)

    def _lost(self, process: _Process) -> None:
        """Tell everyone who waits for a process that is gone, and let the next task start another."""
        with self._lock:
            if process in self._processes:
                self._processes[self._processes.index(process)] = None
            waiting = [(ticket, one) for ticket, one in self._asked.items() if one.process is process]
            self._forget(ticket for ticket, _ in waiting)
        process.close()
        for _, one in waiting:  # also while the server ends: a thread that waits would keep it alive
            one.heard("fault", fault_of(process.said))

    def close(self) -> None:
        """End every process at once: they hold nothing that is not kept; who waits for one is told."""
        self._closed.set()
        running = [process for process in self._processes if process is not None]
        for process in running:
            process.end()
            self._lost(process)
        for process in running:
            process.process.join(timeout=2)
