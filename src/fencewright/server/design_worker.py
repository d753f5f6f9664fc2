"""The process that designs: it keeps what it has read, and follows the newest edit of each job."""

import gc
import multiprocessing
import os
import pickle
import signal
import sys
import threading
import time
import warnings
from collections import OrderedDict
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.desk.running import design
from fencewright.desk.warm_reading import WarmReader
from fencewright.exchange.design_json import design_json
from fencewright.exchange.live_tables import TOLD_AFTER, site_tables, stage_tables
from fencewright.exchange.pocket_html import pocket_html
from fencewright.findings import FencewrightError, InputError
from fencewright.job.record import Job
from fencewright.pipeline.record import Design
from fencewright.pipeline.stages import STAGES, Stage, stages
from fencewright.pipeline.why import explain, explanation_record

_DROP_AFTER = "top line"  # what a hand drags is seen so far, then the newer answer is begun
_SPLIT_AFTER = "pulls"  # what comes then follows in a child process of its own
_FOLLOWS_BY = 10  # by so much a child gives way to what a person waits for
_MOST_JOBS = 8
_FORKS = (
    hasattr(os, "fork") and sys.platform != "darwin"
)  # there a forked child may not use the system's libraries


class DesignWorker:
    """Takes tasks from a pipe, and answers each by its ticket.

    A task is a mapping: `do` (`design`, a name of `CALLS`, or `stop`), `key` (what it is for: a newer design of one
    key ends the older), `ticket`, and `text`, `folder`, `with` as it needs. An answer is a ticket, a kind (`stage`,
    `last`, `refused`, `fault`, `dropped`) and its content.
    """

    def __init__(self, tasks: Connection, answers: Connection) -> None:
        self.tasks, self.answers = tasks, answers
        self.turns = multiprocessing.get_context("fork").Lock() if _FORKS else threading.Lock()
        self.reader = WarmReader()
        self.jobs: OrderedDict[tuple[str, str], Job] = OrderedDict()
        self.children: dict[int, str] = {}
        self.waiting: list[dict[str, Any]] = []

    def run(self) -> None:
        """Serve until the pipe is closed."""
        while self._receive():
            self._reap()
            task = self.waiting.pop(0)
            if task["do"] == "stop":
                self._stop(task["key"])
            elif self._has_newer(task["key"]):
                self.send(task["ticket"], "dropped", None)
            else:
                self._take(task)
        for child in self.children:
            _end(child)

    def _receive(self) -> bool:
        """Take in what the pipe holds, waiting for the first; false once it is closed."""
        try:
            while not self.waiting or self.tasks.poll():
                self.waiting.append(self.tasks.recv())
        except (EOFError, OSError):
            return False
        return True

    def _has_newer(self, key: str) -> bool:
        return any(task["key"] == key for task in self.waiting)

    def _take(self, task: dict[str, Any]) -> None:
        try:
            if task["do"] == "design":
                self._stop(task["key"])
                self._design(task)
            else:
                job = self._job(task)
                self._aside(task, lambda: CALLS[task["do"]](design(job), *task["with"]))
        except FencewrightError as error:
            self.send(task["ticket"], "refused", error)
        except Exception as error:
            self.send(task["ticket"], "fault", f"{type(error).__name__}: {error}")

    def send(self, ticket: int, kind: str, content: Any) -> None:
        """Answer a task."""
        answer = pickle.dumps((ticket, kind, content), protocol=pickle.HIGHEST_PROTOCOL)
        with self.turns:  # a child may be answering too
            self.answers.send_bytes(answer)

    def _job(self, task: dict[str, Any]) -> Job:
        key = (task["text"], task["folder"])
        if key not in self.jobs:
            self.jobs[key] = self.reader.read(task["text"], Path(task["folder"]))
        self.jobs.move_to_end(key)
        while len(self.jobs) > _MOST_JOBS:
            self.jobs.popitem(last=False)
        return self.jobs[key]

    def _design(self, task: dict[str, Any]) -> None:
        begun = time.perf_counter()
        job = self._job(task)
        self._tell(task, "site", begun, site_tables(job))
        gathered: dict[str, Any] = {}
        following = stages(job)
        for stage in following:
            gathered |= stage.tables
            if stage.name in TOLD_AFTER:
                self._tell(task, stage.name, begun, stage_tables(stage.name, gathered, job))
            if stage.name == _SPLIT_AFTER:
                break
            if stage.name == _DROP_AFTER and self._receive_more() and self._has_newer(task["key"]):
                self.send(task["ticket"], "dropped", None)
                return
        self._aside(task, lambda: self._follow(task, begun, (job, gathered, following)))

    def _receive_more(self) -> bool:
        return not self.tasks.poll() or self._receive()

    def _follow(
        self, task: dict[str, Any], begun: float, rest: tuple[Job, dict[str, Any], Iterator[Stage]]
    ) -> Any:
        job, gathered, following = rest
        for stage in following:
            gathered |= stage.tables
        return self._stage_content("design", begun, stage_tables("design", gathered, job))

    def _tell(self, task: dict[str, Any], stage: str, begun: float, made: tuple[Any, Any]) -> None:
        self.send(task["ticket"], "stage", self._stage_content(stage, begun, made))

    def _stage_content(self, stage: str, begun: float, made: tuple[Any, Any]) -> dict[str, Any]:
        after = STAGES.index(stage) + 1 if stage in STAGES else 0
        return {
            "stage": stage,
            "pending": list(STAGES[after:]),
            "elapsed_ms": round((time.perf_counter() - begun) * 1000, 1),
            "tables": made[0],
            "values": made[1],
        }

    def _aside(self, task: dict[str, Any], compute: Any) -> None:
        """Compute in a child that can be ended at any moment, where the system can make one; else here."""
        if not _FORKS:
            self.send(task["ticket"], "last", compute())
            return
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", DeprecationWarning)  # no Python thread but this one runs here
            child = os.fork()
        if child:
            self.children[child] = task["key"]
            return
        code = 1
        try:
            os.nice(_FOLLOWS_BY)
            try:
                answer: tuple[str, Any] = ("last", compute())
            except FencewrightError as error:
                answer = ("refused", error)
            except BaseException as error:
                answer = ("fault", f"{type(error).__name__}: {error}")
            signal.signal(signal.SIGTERM, signal.SIG_IGN)  # an answer begun is an answer ended
            self.send(task["ticket"], *answer)
            code = 0
        finally:
            os._exit(code)

    def _stop(self, key: str) -> None:
        """End what is still computed for a key that has a newer task."""
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


def _why(made: Design, thing: str) -> dict[str, Any]:
    return explanation_record(explain(made, thing))


def _outputs(made: Design, folder: str) -> dict[str, bytes]:
    """Give every file of the command line; a price that cannot be made is left out, the rest is there."""
    from fencewright.desk.paper_writing import paper_outputs
    from fencewright.desk.price_writing import price_outputs
    from fencewright.desk.pricing import price_of
    from fencewright.desk.programme_writing import programme_outputs
    from fencewright.desk.scheduling import programme
    from fencewright.desk.writing import outputs

    files = outputs(made)
    priced = None
    with suppress(InputError):
        priced = price_of(made, Path(folder))
        files |= price_outputs(made, priced)
    planned = None
    with suppress(InputError):
        planned = programme(made)
        files |= programme_outputs(made, planned)
    with suppress(InputError):
        files |= paper_outputs(made, priced, planned)
    files["fence.html"] = pocket_html(design_json(made)[0], files)
    return files


def _price(made: Design, folder: str) -> dict[str, Any]:
    from fencewright.desk.price_writing import price_record
    from fencewright.desk.pricing import price_of

    return price_record(made, price_of(made, Path(folder)))[0]


def _programme(made: Design, folder: str) -> dict[str, Any]:
    from fencewright.desk.scheduling import programme
    from fencewright.exchange.programme_json import programme_json

    return programme_json(made, programme(made))[0]


def _design_json(made: Design) -> bytes:
    return design_json(made)[1]


CALLS: Mapping[str, Callable[..., Any]] = {
    "why": _why,
    "outputs": _outputs,
    "design.json": _design_json,
    "price": _price,
    "programme": _programme,
}
"""What may be asked of a whole design."""


def work(tasks: Connection, answers: Connection) -> None:
    """Run a worker: the target of its process."""
    if hasattr(os, "setsid"):
        os.setsid()  # so that it is ended together with its children
    os.environ["GDAL_NUM_THREADS"] = "1"  # threads of a library are not there in the children
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the server ends it by closing its pipe
    gc.set_threshold(200_000, 50, 50)  # a design builds much and drops little: look for cycles seldom
    shipped_catalogue()
    with suppress(BrokenPipeError):
        DesignWorker(tasks, answers).run()
