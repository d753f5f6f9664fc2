"""The process that answers for whole designs: it makes each once, and keeps the last few with what follows from them."""

import os
import pickle
import signal
import sys
import threading
import traceback
from collections import OrderedDict
from contextlib import suppress
from multiprocessing.connection import Connection
from pathlib import Path
from queue import LifoQueue
from typing import TYPE_CHECKING, Any

from fencewright.findings import FencewrightError

if TYPE_CHECKING:
    from fencewright.server.whole_answers import KeptWhole

_GIVES_WAY_BY = 10  # by so much it gives way to the process that follows the hand
_THREADS = 3  # a why is answered while files are written
_MOST_KEPT = 4  # whole designs, some tens of megabytes each


class WholeWorker:
    """Takes tasks from a pipe, the newest first, and answers each by its ticket.

    A task is a mapping: `do` (a name of `CALLS`), `ticket`, `text`, `folder`, and `with` as it needs. An answer is a
    ticket, a kind (`last`, `refused`, `fault`) and its content.
    """

    def __init__(self, tasks: Connection, answers: Connection) -> None:
        from fencewright.desk.warm_reading import WarmReader

        self.tasks, self.answers = tasks, answers
        self.reader = WarmReader()
        self.kept: OrderedDict[tuple[str, str], KeptWhole] = OrderedDict()
        self.computing, self.answering, self.keeping = threading.Lock(), threading.Lock(), threading.Lock()
        self.waiting: LifoQueue[dict[str, Any]] = LifoQueue()

    def run(self) -> None:
        """Serve until the pipe is closed."""
        for _ in range(_THREADS):
            threading.Thread(target=self._serve, daemon=True).start()
        with suppress(EOFError, OSError):
            while True:
                self.waiting.put(self.tasks.recv())

    def _serve(self) -> None:
        with suppress(BrokenPipeError):
            while True:
                task = self.waiting.get()
                kind, content = self._answer(task)
                answer = pickle.dumps((task["ticket"], kind, content), protocol=pickle.HIGHEST_PROTOCOL)
                with self.answering:
                    self.answers.send_bytes(answer)

    def _answer(self, task: dict[str, Any]) -> tuple[str, Any]:
        from fencewright.server.whole_answers import CALLS

        try:
            return "last", CALLS[task["do"]](self._kept(task["text"], task["folder"]), *task["with"])
        except FencewrightError as error:
            return "refused", error
        except Exception as error:
            traceback.print_exc()  # for whoever reports it; the page has the one sentence
            return "fault", f"{type(error).__name__}: {error}"

    def _kept(self, text: str, folder: str) -> "KeptWhole":
        from fencewright.server.whole_answers import KeptWhole

        key, place = (text, folder), Path(folder)
        with self.keeping:
            if key not in self.kept:
                self.kept[key] = KeptWhole(lambda: self.reader.read(text, place), place, self.computing)
            self.kept.move_to_end(key)
            while len(self.kept) > _MOST_KEPT:
                self.kept.popitem(last=False)
            return self.kept[key]


def work_on_wholes(tasks: Connection, answers: Connection) -> None:
    """Run a worker: the target of its process."""
    if hasattr(os, "setsid"):
        os.setsid()
    if hasattr(os, "nice"):
        os.nice(_GIVES_WAY_BY)  # before the libraries are read in: a page may be opening
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the server ends it by closing its pipe
    sys.setswitchinterval(0.02)  # its threads compute; few changes between them
    import holidays  # noqa: F401  # slow, and read in now rather than while somebody waits

    import fencewright.server.whole_answers  # noqa: F401

    WholeWorker(tasks, answers).run()
