"""What is asked of a whole design: each part is made once, whoever asks, and the last few are kept."""

import multiprocessing
import pickle
import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from fencewright.desk.reading import read_job
from fencewright.findings import InputError
from fencewright.server import whole_answers, whole_worker
from fencewright.server.whole_answers import CALLS, KeptWhole
from fencewright.server.whole_worker import WholeWorker

EXAMPLES = Path(__file__).parents[2] / "examples"
PADDOCK = EXAMPLES / "small-paddock"


def counted(monkeypatch: pytest.MonkeyPatch, name: str) -> list[str]:
    """Count how often a function of the module is called."""
    calls: list[str] = []
    own: Callable[..., Any] = getattr(whole_answers, name)

    def called(*given: Any) -> Any:
        calls.append(name)
        return own(*given)

    monkeypatch.setattr(whole_answers, name, called)
    return calls


def test_price_programme_why_and_files_share_one_design(monkeypatch: pytest.MonkeyPatch) -> None:
    calls = {
        name: counted(monkeypatch, name)
        for name in ("design", "own_price_of", "with_alternatives", "programme")
    }
    kept = KeptWhole(lambda: read_job(PADDOCK / "job.toml"), PADDOCK, threading.Lock())
    asked: list[tuple[str, tuple[str, ...]]] = [
        ("price", ()),
        ("programme", ()),
        ("outputs", ()),
        ("own price", ()),
    ]
    asked += [("why", ("P3",)), ("design.json", ()), ("programme files", ())]
    threads = [
        threading.Thread(target=lambda do=do, given=given: CALLS[do](kept, *given)) for do, given in asked
    ]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert {name: len(made) for name, made in calls.items()} == dict.fromkeys(calls, 1)


def test_a_price_alone_designs_no_alternative_and_is_otherwise_the_price(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    folder = EXAMPLES / "rolling-pasture"
    designed = counted(monkeypatch, "with_alternatives")
    kept = KeptWhole(lambda: read_job(folder / "job.toml"), folder, threading.Lock())
    alone = CALLS["own price"](kept)
    assert CALLS["prices"](kept)["prices"]
    assert designed == []
    whole = CALLS["price"](kept)
    assert len(whole["alternatives"]) == 2
    about_all = {"alternatives": [], "digest": alone["digest"]}
    assert alone == whole | about_all


def test_what_cannot_be_is_refused_in_the_same_words_each_time(monkeypatch: pytest.MonkeyPatch) -> None:
    read: list[str] = []

    def refuse() -> Any:
        read.append("read")
        raise InputError("the job has no [[line]]: draw one", file="job.toml")

    kept = KeptWhole(refuse, PADDOCK, threading.Lock())
    for do in ("price", "outputs", "design.json"):
        with pytest.raises(InputError, match="the job has no") as told:
            CALLS[do](kept)
        assert len(told.traceback) < 12  # it does not grow with each time
    assert read == ["read"]


def test_a_fault_is_not_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    kept = KeptWhole(lambda: read_job(PADDOCK / "job.toml"), PADDOCK, threading.Lock())
    with monkeypatch.context() as patched:
        patched.setattr(whole_answers, "design", lambda job: 1 / 0)
        with pytest.raises(ZeroDivisionError):
            kept.design()
    assert kept.design().may_be_built


def test_the_worker_keeps_the_last_few_designs() -> None:
    worker = WholeWorker(*multiprocessing.Pipe(duplex=False))
    first = worker._kept("a", "folder")
    for text in "bcd":
        worker._kept(text, "folder")
    assert worker._kept("a", "folder") is first  # asked for again, it stays the longest
    for text in "efg":
        worker._kept(text, "folder")
    assert worker._kept("a", "folder") is first
    for text in "hijk":
        worker._kept(text, "folder")
    assert worker._kept("a", "folder") is not first
    assert len(worker.kept) == whole_worker._MOST_KEPT


def test_the_newest_task_is_answered_first(monkeypatch: pytest.MonkeyPatch) -> None:
    """A page that shows the price asks for it after each edit: the newest is what somebody waits for."""
    monkeypatch.setattr(whole_worker, "_THREADS", 1)
    given, tasks = multiprocessing.Pipe(duplex=False)
    answers, said = multiprocessing.Pipe(duplex=False)
    begun, go_on = threading.Event(), threading.Event()

    def slow(kept: Any) -> str:
        begun.set()
        go_on.wait(10)
        return "done"

    monkeypatch.setattr(whole_answers, "CALLS", {"slow": slow})
    worker = WholeWorker(given, said)
    running = threading.Thread(target=worker.run)
    running.start()
    tasks.send({"do": "slow", "ticket": 1, "text": "", "folder": "", "with": ()})
    assert begun.wait(10)
    for ticket in (2, 3, 4):
        tasks.send({"do": "slow", "ticket": ticket, "text": "", "folder": "", "with": ()})
    while worker.waiting.qsize() < 3:
        time.sleep(0.01)
    go_on.set()
    assert [pickle.loads(answers.recv_bytes())[0] for _ in range(4)] == [1, 4, 3, 2]
    tasks.close()
    running.join(10)
    assert not running.is_alive()
