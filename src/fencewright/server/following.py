"""The process beside a worker in which follows what nobody waits for at once: rolls, order, the whole record.

It is made before the worker has designed anything, and makes a child for each task, which can be ended at any moment. The
worker itself makes none: a process that has just made a child pays for each page of its memory that it writes to.
"""

import multiprocessing
import os
import pickle
import signal
import sys
import traceback
import warnings
from collections.abc import Callable
from contextlib import suppress
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

from fencewright.desk.warm_reading import WarmReader
from fencewright.findings import FencewrightError
from fencewright.pipeline.stages import following_stages
from fencewright.server.stage_answer import StageAnswer

CAN_FORK = hasattr(os, "fork") and sys.platform != "darwin"
"""Whether a process can be made so: on macOS a forked child may not use the system's libraries."""
_FOLLOWS_BY = 10  # by so much it gives way to what a person waits for
Send = Callable[[int, str, Any], None]
"""Answers a task: its ticket, a kind and the content."""


class Follower:
    """The worker's end: it hands designs over, and ends those that have a newer one."""

    def __init__(self, tasks: Connection) -> None:
        self._tasks = tasks

    def follow(self, task: dict[str, Any], answer: StageAnswer) -> None:
        """Hand over a design whose first stages are told; its last answer comes from the other process."""
        asked = {name: task[name] for name in ("ticket", "key", "text", "asked", "folder")}
        self._tasks.send({**asked, "begun_s": answer.begun_s})
        self._tasks.send_bytes(pickle.dumps(answer.gathered, protocol=pickle.HIGHEST_PROTOCOL))

    def stop(self, key: str) -> None:
        """End what is still computed for a key."""
        self._tasks.send({"key": key})

    def close(self) -> None:
        """Let the other process end, with all that it still computes."""
        self._tasks.close()


def start_follower(send: Send) -> Follower:
    """Make the process; `send` answers from it as from the worker."""
    tasks, handed = multiprocessing.get_context("fork").Pipe(duplex=False)
    if _fork():
        tasks.close()
        return Follower(handed)
    code = 1
    try:
        handed.close()
        _Following(tasks, send).run()
        code = 0
    finally:
        os._exit(code)


def _fork() -> int:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # no Python thread but this one runs here
        return os.fork()


class _Following:
    """The other end."""

    def __init__(self, tasks: Connection, send: Send) -> None:
        self.tasks, self.send = tasks, send
        self.reader = WarmReader()
        self.children: dict[int, str] = {}

    def run(self) -> None:
        """Serve until the worker is gone."""
        with suppress(EOFError, OSError):
            while True:
                task = self.tasks.recv()
                self._reap()
                if "ticket" not in task:
                    self._stop(task["key"])
                else:
                    self._begin(task, self.tasks.recv_bytes())
        for child in self.children:
            _end(child)

    def _begin(self, task: dict[str, Any], gathered: bytes) -> None:
        """Compute in a child; the job is read here, so that its ground is read once."""
        try:
            job = self.reader.read(task["text"], Path(task["folder"]), task["asked"])
        except Exception as error:  # the worker could read it
            self._fail(task, error)
            return
        child = _fork()
        if child:
            self.children[child] = task["key"]
            return
        code = 1
        try:
            os.nice(_FOLLOWS_BY)
            answer = StageAnswer(job, task["begun_s"], (), pickle.loads(gathered))
            answer.begun_elsewhere()
            try:
                told: tuple[str, Any] = ("last", answer.rest(following_stages(job, answer.gathered)))
            except FencewrightError as error:
                told = ("refused", error)
            signal.signal(signal.SIGTERM, signal.SIG_IGN)  # an answer begun is an answer ended
            self.send(task["ticket"], *told)
            code = 0
        except Exception as error:
            self._fail(task, error)
        finally:
            os._exit(code)

    def _fail(self, task: dict[str, Any], error: Exception) -> None:
        traceback.print_exception(error)
        self.send(task["ticket"], "fault", f"{type(error).__name__}: {error}")

    def _stop(self, key: str) -> None:
        for child, own in list(self.children.items()):
            if own == key:
                _end(child)
                del self.children[child]

    def _reap(self) -> None:
        for child in list(self.children):
            if os.waitpid(child, os.WNOHANG)[0]:
                del self.children[child]


def _end(child: int) -> None:
    os.kill(child, signal.SIGTERM)
    os.waitpid(child, 0)
