"""The design workers as the server sees them: tasks in, answers by callback."""

import itertools
import multiprocessing
import os
import pickle
import signal
import threading
from collections.abc import Callable
from concurrent.futures import Future
from contextlib import suppress
from multiprocessing.connection import Connection
from typing import Any

from fencewright.findings import InternalFault

Heard = Callable[[str, Any], None]
"""Called with the kind of an answer and its content, from a thread of the pool."""


class _Process:
    """One worker process with its pipes."""

    def __init__(self, heard: Callable[[int, str, Any], None], lost: Callable[["_Process"], None]) -> None:
        from fencewright.server.design_worker import work

        ways = multiprocessing.get_context("spawn")
        tasks, self.tasks = ways.Pipe(duplex=False)
        self.answers, answers = ways.Pipe(duplex=False)
        self.process = ways.Process(target=work, args=(tasks, answers), daemon=True)
        self.process.start()
        tasks.close()
        answers.close()
        self.lock = threading.Lock()
        threading.Thread(target=self._listen, args=(self.answers, heard, lost), daemon=True).start()

    def _listen(
        self,
        answers: Connection,
        heard: Callable[[int, str, Any], None],
        lost: Callable[["_Process"], None],
    ) -> None:
        try:
            while True:
                ticket, kind, content = pickle.loads(answers.recv_bytes())
                heard(ticket, kind, content)
        except (EOFError, OSError):
            lost(self)

    def send(self, task: dict[str, Any]) -> None:
        with self.lock:
            self.tasks.send(task)

    def end(self) -> None:
        """End the process and whatever it still computes in children of its own."""
        if hasattr(os, "killpg") and self.process.pid is not None:
            with suppress(OSError):  # all of them have ended
                os.killpg(self.process.pid, signal.SIGKILL)
        elif self.process.is_alive():
            self.process.kill()


class WorkerPool:
    """A few worker processes; the tasks of one job go to one of them, so that it stays warm."""

    def __init__(self, size: int | None = None) -> None:
        self.size = size or max(1, min(2, os.cpu_count() or 1))
        self._tickets = itertools.count(1)
        self._heard: dict[int, Heard] = {}
        self._owners: dict[int, _Process] = {}
        self._lock = threading.Lock()
        self._processes: list[_Process | None] = [None] * self.size

    def start(self) -> None:
        """Start every process now rather than with the first task."""
        for place in range(self.size):
            self._process(place)

    def _process(self, place: int) -> _Process:
        with self._lock:
            found = self._processes[place]
            if found is None:
                found = self._processes[place] = _Process(self._answer, self._lost)
            return found

    def submit(self, job: str, task: dict[str, Any], heard: Heard) -> int:
        """Give a task to the worker of a job; `heard` is told its answers. Gives its ticket."""
        ticket = next(self._tickets)
        process = self._process(sum(job.encode()) % self.size)
        self._heard[ticket] = heard
        self._owners[ticket] = process
        try:
            process.send({"key": f"call {ticket}", "with": (), **task, "ticket": ticket})
        except OSError:
            self._lost(process)
        return ticket

    def call(self, job: str, task: dict[str, Any]) -> Any:
        """Give a task to the worker of a job, and wait for its one answer.

        Raises
        ------
        FencewrightError
            As the task raises it.
        InternalFault
            The worker was lost.
        """
        answer: Future[Any] = Future()

        def heard(kind: str, content: Any) -> None:
            if kind == "last":
                answer.set_result(content)
            elif kind == "refused":
                answer.set_exception(content)
            elif kind in ("fault", "dropped"):
                answer.set_exception(
                    InternalFault(f"a fault of the program ({content}): nothing was changed")
                )

        self.submit(job, task, heard)
        return answer.result()

    def stop(self, job: str, key: str) -> None:
        """End what is computed for a key."""
        self.submit(job, {"do": "stop", "key": key}, lambda kind, content: None)

    def _answer(self, ticket: int, kind: str, content: Any) -> None:
        heard = self._heard.get(ticket) if kind == "stage" else self._heard.pop(ticket, None)
        if kind != "stage":
            self._owners.pop(ticket, None)
        if heard is not None:
            heard(kind, content)

    def _lost(self, process: _Process) -> None:
        """Tell everyone who waits for a process that is gone, and let the next task start another."""
        with self._lock:
            if process in self._processes:
                self._processes[self._processes.index(process)] = None
        for ticket in [ticket for ticket, owner in list(self._owners.items()) if owner is process]:
            heard = self._heard.pop(ticket, None)
            if heard is not None:  # also while the server ends: a thread that waits would keep it alive
                heard("fault", "the process that designs has ended")

    def close(self) -> None:
        """End every process."""
        running = [process for process in self._processes if process is not None]
        for process in running:
            process.tasks.close()
        for process in running:
            process.process.join(timeout=2)
            process.end()
            self._lost(process)
