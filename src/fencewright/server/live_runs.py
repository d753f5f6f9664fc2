"""Designs that are being made or were made lately, by the text of the job: who asks again is answered from here."""

import time
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Future
from contextlib import suppress
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from fencewright.findings import InputError
from fencewright.job.schema import JobFile

EXPECTED = -1
"""The trial of what is designed ahead: no window shows it."""
_MOST_CELLS = 3_000_000  # of all the runs that are over and kept: some 100 MB
_ENDS = ("last", "refused", "fault")
_TOLD = ("stage", *_ENDS)


@dataclass(frozen=True, slots=True)
class Question:
    """What is to be designed: the job, its revision, perhaps a trial of one window or what it expects, its text and folder.

    `asked` is what the text asks, where it was read already.
    """

    job: str
    revision: int
    text: str
    folder: str
    trial: int | None = None
    window: str = ""
    asked: JobFile | None = field(default=None, compare=False, repr=False)

    @property
    def key(self) -> str:
        """What it is for: a newer question of one key ends the older."""
        return f"{self.job} {self.window}" if self.trial is not None else self.job


class Beginning:
    """How a design began: whether its job could be read, and a fence laid out; any thread may wait for it."""

    def __init__(self) -> None:
        self._read: Future[bool] = Future()
        self._laid_out: Future[bool] = Future()

    def is_read(self, longest_s: float) -> bool:
        """Whether a worker has read the job; false where it has not come to it in that time.

        Raises
        ------
        InputError
            The job cannot be read.
        """
        return _known(self._read, longest_s)

    def is_laid_out(self, longest_s: float) -> bool:
        """Whether the fence has been laid out; false where that is not known in that time.

        Raises
        ------
        InputError
            No fence can be laid out.
        """
        return _known(self._laid_out, longest_s)

    def hear(self, kind: str, content: Any) -> None:
        """Take what a worker says of the design."""
        if kind == "read":
            _settle(self._read, result=True)
        elif kind == "refused" and isinstance(content, InputError):
            _settle(self._read, content)
            _settle(self._laid_out, content)
        elif kind != "stage":
            self.end(is_laid_out=kind in ("laid out", "last"))

    def end(self, *, is_laid_out: bool = False) -> None:
        """Nothing more will be heard: let nobody wait."""
        _settle(self._read, result=is_laid_out)
        _settle(self._laid_out, result=is_laid_out)


def _settle(future: Future[bool], error: InputError | None = None, *, result: bool = False) -> None:
    if future.done():
        return
    if error is None:
        future.set_result(result)
    else:
        future.set_exception(error)


def _known(future: Future[bool], longest_s: float) -> bool:
    with suppress(TimeoutError):
        return future.result(longest_s)
    return False


@dataclass(eq=False)
class Run:
    """One design in a worker: under which key it runs, how it began, what it has said, and who is told."""

    key: str
    beginning: Beginning
    said: list[tuple[str, Any]] = field(default_factory=list)
    asked_by: list[Question] = field(default_factory=list)

    @property
    def is_over(self) -> bool:
        """Whether nothing more will come."""
        return bool(self.said) and self.said[-1][0] in _ENDS

    @cached_property
    def cells(self) -> int:
        """How much it holds, asked once it is over: values of all the columns that it has told."""
        told = [content["tables"] for kind, content in self.said if kind in ("stage", "last")]
        tables = [table["columns"] for tables in told for table in tables.values()]
        return sum(len(cells) for columns in tables for cells in columns.values())


class Runs:
    """The runs by text and folder; a thing dragged and let go, an undo or a redo is designed once.

    Parameters
    ----------
    submit : callable
        Gives a question to a worker; its second argument is called with the kind and content of each answer. What runs
        under the same key ends.
    stop : callable
        Ends what runs under the key of a question.
    tell : callable
        Called with a question, the kind and the content of an answer to it.
    is_waited_for : callable
        Whether anybody still wants the answer to a question.
    """

    def __init__(
        self,
        submit: Callable[[Question, Callable[[str, Any], None]], None],
        stop: Callable[[Question], None],
        tell: Callable[[Question, str, Any], None],
        is_waited_for: Callable[[Question], bool],
    ) -> None:
        self._submit, self._stop, self._tell, self._is_waited_for = submit, stop, tell, is_waited_for
        self._runs: OrderedDict[tuple[str, str], Run] = OrderedDict()
        self._last_s = time.monotonic()

    def are_at_rest(self, for_s: float) -> bool:
        """Whether all are over, and nothing has been asked or heard for some time. [s]"""
        is_quiet = time.monotonic() - self._last_s >= for_s
        return is_quiet and all(run.is_over for run in self._runs.values())

    def ask(self, question: Question) -> Run:
        """Answer from a run of the same text, as far as it has come, or begin one; gives the run."""
        self._last_s = time.monotonic()
        place = (question.text, question.folder)
        run = self._runs.get(place)
        if run is None:
            left = self._drop(question.key)
            made = run = self._runs[place] = Run(question.key, Beginning(), [], [question])
            self._submit(question, lambda kind, content: self._hear(place, made, kind, content))
        else:
            self._runs.move_to_end(place)
            run.asked_by.append(question)
            left = self._drop(question.key, run)
            for kind, content in list(run.said):
                self._tell(question, kind, content)
        for one in left:
            self.ask(one)
        return run

    def has(self, question: Question) -> bool:
        """Whether a question's design is made, or being made."""
        return (question.text, question.folder) in self._runs

    def end(self, key: str) -> None:
        """Forget what still runs under a key that is stopped."""
        self._drop(key)

    def _drop(self, key: str, kept: Run | None = None) -> list[Question]:
        """Forget what still runs under a key, but for one run; gives those who wait for it under another key."""
        places = [
            place
            for place, run in self._runs.items()
            if run.key == key and not run.is_over and run is not kept
        ]
        left = []
        for place in places:
            run = self._runs.pop(place)
            left += [one for one in run.asked_by if one.key != key and self._is_waited_for(one)]
            if kept is not None:
                self._stop(run.asked_by[0])
            run.asked_by.clear()
            run.beginning.end()
        return left

    def _hear(self, place: tuple[str, str], run: Run, kind: str, content: Any) -> None:
        self._last_s = time.monotonic()
        run.beginning.hear(kind, content)
        if kind not in _TOLD:
            return  # a word of how it began; or a newer run of its key has taken its place
        run.said.append((kind, content))
        if kind == "fault" and self._runs.get(place) is run:
            del self._runs[place]  # it may go better another time
        for question in run.asked_by:
            self._tell(question, kind, content)
        if run.is_over:
            run.asked_by.clear()
            self._forget_oldest()

    def _forget_oldest(self) -> None:
        over = [(place, run.cells) for place, run in self._runs.items() if run.is_over]
        cells = sum(count for _, count in over)
        for place, count in over[:-1]:
            if cells <= _MOST_CELLS:
                break
            del self._runs[place]
            cells -= count
