"""Workers that do not do what they should; a pool starts them as processes of their own."""

import os
import pickle
import time
from collections.abc import Iterator
from multiprocessing.connection import Connection
from typing import Any


def work_on_some(tasks: Connection, answers: Connection) -> None:
    """Answer `echo` with the text, forget `lose`, and hang at `hang`."""
    os.setsid()
    while True:
        try:
            task = tasks.recv()
        except EOFError:
            return
        if task["do"] == "hang":
            time.sleep(3600)
        if task["do"] == "echo":
            answers.send_bytes(pickle.dumps((task["ticket"], "last", (os.getpid(), task["text"]))))


def work_without_end(tasks: Connection, answers: Connection) -> None:
    """Take every task, and never answer."""
    os.setsid()
    while True:
        try:
            tasks.recv()
        except EOFError:
            return


def work_with_a_fault(tasks: Connection, answers: Connection) -> None:
    """Design as always, with a stage that is not right."""
    from fencewright.server import design_worker

    def broken(job: Any) -> Iterator[Any]:
        raise TypeError("no stage\nof that kind")
        yield

    setattr(design_worker, "first_stages", broken)  # noqa: B010  # a name of another module's own
    design_worker.work(tasks, answers)


def work_on_wholes_with_a_fault(tasks: Connection, answers: Connection) -> None:
    """Answer for whole designs as always, with a design that is not right."""
    from fencewright.server import whole_answers, whole_worker

    def broken(job: Any) -> Any:
        raise TypeError("no design of that kind")

    setattr(whole_answers, "design", broken)  # noqa: B010
    whole_worker.work_on_wholes(tasks, answers)
