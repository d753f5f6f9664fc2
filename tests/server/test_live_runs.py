"""Runs by text: what was designed is told again at once, what ends takes nobody's answer away."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.findings import InputError
from fencewright.server import live_runs
from fencewright.server.live_runs import Question, Runs

Hear = Callable[[str, Any], None]


class Board:
    """Stands for the workers and the windows: what was submitted, stopped and told."""

    def __init__(self) -> None:
        self.submitted: list[tuple[Question, Hear]] = []
        self.stopped: list[str] = []
        self.told: list[tuple[int, int | None, str]] = []
        self.waited: set[Question] = set()
        self.runs = Runs(
            lambda question, hear: self.submitted.append((question, hear)),
            lambda question: self.stopped.append(question.key),
            lambda question, kind, content: self.told.append((question.revision, question.trial, kind)),
            lambda question: question in self.waited,
        )

    def ask(self, revision: int, text: str, trial: int | None = None) -> Question:
        question = Question("job", revision, text, "folder", trial, "" if trial is None else "window")
        self.waited.add(question)
        self.runs.ask(question)
        return question

    def say(self, *kinds: str, run: int = -1) -> None:
        for kind in kinds:
            self.submitted[run][1](kind, {"tables": {"posts": {"columns": {"x_m": np.zeros(100)}}}})


def test_a_thing_let_go_where_it_was_last_tried_is_designed_once() -> None:
    board = Board()
    board.ask(1, "a", trial=1)
    board.say("stage", "stage")
    board.ask(2, "a")
    assert len(board.submitted) == 1
    board.say("last")
    assert board.told[2:] == [(2, None, "stage"), (2, None, "stage"), (1, 1, "last"), (2, None, "last")]


def test_an_undo_is_told_at_once_and_stops_what_it_undoes() -> None:
    board = Board()
    board.ask(1, "a")
    board.say("stage", "last")
    board.ask(2, "b")
    board.say("stage")
    board.told.clear()
    board.ask(1, "a")
    assert board.told == [(1, None, "stage"), (1, None, "last")]
    assert board.stopped == ["job"]
    board.say("last")  # it was under way
    assert board.told[2:] == []
    board.ask(2, "b")  # redo: what was stopped is begun anew
    assert len(board.submitted) == 3


def test_an_edit_that_waits_for_a_trial_is_asked_again_where_the_next_trial_ends_that() -> None:
    board = Board()
    board.ask(1, "a", trial=1)
    board.ask(2, "a")
    board.ask(2, "b", trial=2)
    assert [(one.text, one.trial) for one, _ in board.submitted] == [("a", 1), ("b", 2), ("a", None)]
    board.say("dropped", run=0)
    board.say("last", run=2)
    assert board.told == [(2, None, "last")]


def test_how_a_design_begins_is_known_as_soon_as_a_worker_says_it() -> None:
    board = Board()
    beginning = board.runs.ask(Question("job", 1, "a", "folder")).beginning
    assert not beginning.is_read(0.0)
    board.say("read")
    assert (beginning.is_read(0.0), beginning.is_laid_out(0.0)) == (True, False)
    board.say("laid out", "stage", "last")
    assert beginning.is_laid_out(0.0)
    again = board.runs.ask(Question("job", 1, "a", "folder")).beginning
    assert (again.is_read(0.0), again.is_laid_out(0.0)) == (True, True)
    assert {kind for _, _, kind in board.told} == {"stage", "last"}  # how it began is told to no window


@pytest.mark.parametrize("said", [(), ("read",)])
def test_a_job_that_is_refused_or_given_up_keeps_nobody_waiting(said: tuple[str, ...]) -> None:
    board = Board()
    refused = board.runs.ask(Question("job", 1, "a", "folder")).beginning
    board.say(*said)
    board.submitted[-1][1]("refused", InputError("the gate is longer than its side"))
    for wait in (refused.is_read, refused.is_laid_out)[len(said) :]:
        with pytest.raises(InputError, match="longer than its side"):
            wait(0.0)
    given_up = board.runs.ask(Question("job", 2, "b", "folder")).beginning
    board.runs.ask(Question("job", 3, "c", "folder"))
    assert (given_up.is_read(60.0), given_up.is_laid_out(60.0)) == (False, False)
    fault = board.runs.ask(Question("job", 4, "d", "folder")).beginning
    board.say(*said, "fault")
    assert (fault.is_read(60.0), fault.is_laid_out(60.0)) == (bool(said), False)


def test_a_fault_is_not_kept_and_a_refusal_is() -> None:
    board = Board()
    for text, kind in (("a", "fault"), ("b", "refused")):
        board.ask(1, text)
        board.say(kind)
        board.ask(2, text)
    assert [one.text for one, _ in board.submitted] == ["a", "a", "b"]


def test_the_oldest_runs_are_forgotten(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(live_runs, "_MOST_CELLS", 450)
    board = Board()
    for revision, text in enumerate("abc", 1):
        board.ask(revision, text)
        board.say("stage", "last")
    board.ask(4, "c")
    board.ask(5, "b")
    assert len(board.submitted) == 3
    board.ask(6, "a")
    assert len(board.submitted) == 4


steps = st.lists(st.tuples(st.sampled_from("abc"), st.booleans(), st.integers(0, 3)), min_size=1, max_size=14)


@given(steps)
def test_whatever_is_asked_last_is_answered_whole_and_once(asked: list[tuple[str, bool, int]]) -> None:
    board = Board()
    live: dict[int, bool] = {}

    def say(run: int, kind: str) -> None:
        if run in live and not live[run]:
            board.say(kind, run=run)
            live[run] = kind == "last"

    for number, (text, is_trial, heard) in enumerate(asked, 1):
        before = len(board.submitted)
        board.waited = {
            one for one in board.waited if (one.trial is None) is is_trial
        }  # the newest of each kind
        board.ask(number, text, number if is_trial else None)
        for run in range(before, len(board.submitted)):
            key = board.submitted[run][0].key
            for older in list(live):
                if board.submitted[older][0].key == key and not live[older]:
                    del live[older]  # the worker ends it
            live[run] = False
        for key in board.stopped:
            live = {run: over for run, over in live.items() if over or board.submitted[run][0].key != key}
        board.stopped.clear()
        for run in list(live)[:heard]:
            say(run, "stage")
    for run in list(live):
        say(run, "last")
    text, is_trial, _ = asked[-1]
    mine = [kind for revision, _, kind in board.told if revision == len(asked)]
    assert mine.count("last") == 1
    assert mine[-1] == "last"


def test_runs_are_at_rest_when_all_are_over_and_nothing_was_asked_for_a_while() -> None:
    board = Board()
    assert board.runs.are_at_rest(0.0)
    board.ask(1, "a")
    board.say("stage")
    assert not board.runs.are_at_rest(0.0)
    board.say("last")
    assert board.runs.are_at_rest(0.0)
    assert not board.runs.are_at_rest(60.0)
