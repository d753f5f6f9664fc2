"""The process that designs: it keeps what it has read, and follows the newest edit of each job."""

import multiprocessing
import os
import pickle
import signal
import threading
import time
import traceback
from collections import OrderedDict
from collections.abc import Callable
from contextlib import suppress
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.desk.warm_reading import WarmReader
from fencewright.exchange.live_tables import TOLD_AFTER, site_tables, stage_tables
from fencewright.exchange.sent_columns import ColumnReceiver, ColumnSender
from fencewright.findings import FencewrightError
from fencewright.job.record import Job
from fencewright.pipeline.stages import first_stages, following_stages
from fencewright.server.following import CAN_FORK, start_follower
from fencewright.server.memory import AT_REST_S, Garbage, keep_freed, put_off_garbage
from fencewright.server.stage_answer import FOLLOWED_SOON, StageAnswer

_DROP_AFTER = "top line"  # what a hand drags is seen so far, then the newer answer is begun
_FOLLOWS_IN_S = 0.04  # first let the page draw what was told: it wants every core
_AHEAD_FOLLOWS_IN_S = 0.4  # of what nobody has asked for: whoever asks for it soon finds a core free
_MOST_JOBS = 8


class DesignWorker:
    """Takes tasks from a pipe, and answers each by its ticket.

    A task is a mapping: `do` (`design` or `stop`), `key` (what it is for: a newer design of one key ends the older),
    `ticket`, and of a design `text`, `asked` (what it asks, where that was read already), `folder`, `is_trial` (a hand
    drags it) and `is_ahead` (nobody has asked for it yet). An answer is a ticket, a kind (`read`, `laid out`, `stage`,
    `last`, `refused`, `fault`, `dropped`) and its content.
    """

    def __init__(self, tasks: Connection, answers: Connection) -> None:
        self.tasks, self.answers = tasks, answers
        self.garbage = Garbage()
        self.turns = multiprocessing.get_context("fork").Lock() if CAN_FORK else threading.Lock()
        self.reader = WarmReader()
        self.columns = ColumnSender()
        self.jobs: OrderedDict[tuple[str, str], Job] = OrderedDict()
        self.follower = start_follower(self.send) if CAN_FORK else None
        self.waiting: list[dict[str, Any]] = []

    def run(self) -> None:
        """Serve until the pipe is closed."""
        while self._receive():
            task = self.waiting.pop(0)
            if task["do"] == "stop":
                self._stop(task["key"])
            elif self._has_newer(task["key"]):
                self.send(task["ticket"], "dropped", None)
            else:
                self._take(task)
        if self.follower is not None:
            self.follower.close()

    def _stop(self, key: str) -> None:
        """End what is still computed for a key that has a newer task."""
        if self.follower is not None:
            self.follower.stop(key)

    def _receive(self) -> bool:
        """Take in what the pipe holds, waiting for the first; false once it is closed."""
        try:
            if not self.waiting and not self.tasks.poll(AT_REST_S):
                self.garbage.look()
            while not self.waiting or self.tasks.poll():
                self.waiting.append(self.tasks.recv())
        except (EOFError, OSError):
            return False
        return True

    def _has_newer(self, key: str) -> bool:
        return any(task["key"] == key for task in self.waiting)

    def _take(self, task: dict[str, Any]) -> None:
        try:
            self._stop(task["key"])
            self._design(task)
        except FencewrightError as error:
            self.send(task["ticket"], "refused", error)
        except Exception as error:
            traceback.print_exc()
            self.send(task["ticket"], "fault", f"{type(error).__name__}: {error}")

    def send(self, ticket: int, kind: str, content: Any) -> None:
        """Answer a task."""
        answer = pickle.dumps((ticket, kind, content), protocol=pickle.HIGHEST_PROTOCOL)
        with self.turns:  # a child may be answering too
            self.answers.send_bytes(answer)

    def _job(self, task: dict[str, Any]) -> Job:
        key = (task["text"], task["folder"])
        if key not in self.jobs:
            self.jobs[key] = self.reader.read(task["text"], Path(task["folder"]), task["asked"])
        self.jobs.move_to_end(key)
        while len(self.jobs) > _MOST_JOBS:
            self.jobs.popitem(last=False)
        return self.jobs[key]

    def _design(self, task: dict[str, Any]) -> None:
        begun = time.perf_counter()
        job = self._job(task)
        self.send(task["ticket"], "read", None)
        # What a hand drags is seen at once, if only in part; an edit is drawn in one go.
        held = [stage for stage in FOLLOWED_SOON if not (task["is_trial"] and stage == _DROP_AFTER)]
        answer = StageAnswer(job, begun, held)
        try:
            self._follow(task, answer)
        except FencewrightError:
            self._tell(task, answer.held)  # the line as drawn is shown all the same
            raise

    def _follow(self, task: dict[str, Any], answer: StageAnswer) -> None:
        job = answer.job
        self._tell(task, answer.after("site", site_tables(job)))
        for stage in first_stages(job):
            answer.gathered |= stage.tables
            if stage.name == "layout":
                self.send(task["ticket"], "laid out", None)
            if stage.name in TOLD_AFTER:
                self._tell(task, answer.after(stage.name, stage_tables(stage.name, answer.gathered, job)))
            if stage.name == _DROP_AFTER and self._is_overtaken(task):
                return
        if self.follower is None:
            self.send(task["ticket"], "last", answer.rest(following_stages(job, answer.gathered)))
        elif not self._is_overtaken(task, _AHEAD_FOLLOWS_IN_S if task["is_ahead"] else _FOLLOWS_IN_S):
            self.follower.follow(task, answer)

    def _is_overtaken(self, task: dict[str, Any], within_s: float = 0.0) -> bool:
        """Whether a newer task of its key has come, or comes soon: then it is dropped. Another that waits is not held up."""
        if self.tasks.poll(0.0 if self.waiting else within_s):
            self._receive()
        if not self._has_newer(task["key"]):
            return False
        self.send(task["ticket"], "dropped", None)
        return True

    def _tell(self, task: dict[str, Any], content: dict[str, Any] | None) -> None:
        if content is not None:
            self.send(task["ticket"], "stage", content | {"tables": self.columns.pack(content["tables"])})


def take_in() -> Callable[[str, Any], Any]:
    """Give what takes in the answers of one worker, each by its kind and content, in their order: columns made whole."""
    columns = ColumnReceiver()

    def taken(kind: str, content: Any) -> Any:
        return content | {"tables": columns.unpack(content["tables"])} if kind == "stage" else content

    return taken


def work(tasks: Connection, answers: Connection) -> None:
    """Run a worker: the target of its process."""
    if hasattr(os, "setsid"):
        os.setsid()  # so that it is ended together with its children
    os.environ["GDAL_NUM_THREADS"] = "1"  # threads of a library are not there in the children
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the server ends it by closing its pipe
    keep_freed()
    shipped_catalogue()
    put_off_garbage()  # in what is forked too
    with suppress(BrokenPipeError):
        DesignWorker(tasks, answers).run()
