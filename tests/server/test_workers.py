"""Worker processes: none is waited for without end, and every fault is the one sentence."""

import importlib
import multiprocessing
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest

from fencewright.findings import InternalFault
from fencewright.server import design_worker, workers
from fencewright.server.workers import WorkerPool

OPEN = Callable[..., Any]
WAY_ON = ": the last accepted state is kept; undo the last edit or ask again, and report it"


@pytest.fixture
def odd(monkeypatch: pytest.MonkeyPatch) -> Any:
    """Module of workers that are not right; a process that is started finds it too."""
    monkeypatch.syspath_prepend(str(Path(__file__).parent / "processes"))
    return importlib.import_module("odd_workers")


@pytest.fixture
def pool(odd: Any, monkeypatch: pytest.MonkeyPatch) -> Iterator[WorkerPool]:
    """Pool of one worker that hangs when it is asked to."""
    monkeypatch.setattr(workers, "_LOOKS_EVERY_S", 0.05)
    made = WorkerPool(odd.work_on_some, 1)
    made.call("a", {"do": "echo", "text": ""})  # it has been started
    yield made
    made.close()


def echo(pool: WorkerPool, text: str) -> tuple[int, str]:
    answer: tuple[int, str] = pool.call("a", {"do": "echo", "text": text})
    return answer


def test_a_worker_that_never_answers_is_ended_and_the_next_task_finds_another(pool: WorkerPool) -> None:
    first, _ = echo(pool, "one")
    with pytest.raises(InternalFault) as told:
        pool.call("a", {"do": "hang"}, longest_s=1.0)
    named = "no answer within 1 seconds: what computed it was ended"
    assert str(told.value) == f"a fault of the program ({named}){WAY_ON}"
    second, said = echo(pool, "two")
    assert (second != first, said) == (True, "two")
    assert not Path(f"/proc/{first}").exists() or "Z" in Path(f"/proc/{first}/stat").read_text()


@pytest.mark.filterwarnings("ignore::pytest.PytestUnhandledThreadExceptionWarning")
def test_an_answer_that_cannot_be_taken_in_keeps_nobody_waiting(odd: Any) -> None:
    def take_in() -> Callable[[str, Any], Any]:
        def taken(kind: str, content: Any) -> Any:
            if content[1] == "odd":
                raise KeyError(kind)
            return content

        return taken

    pool = WorkerPool(odd.work_on_some, 1, take_in)
    first, _ = echo(pool, "one")
    with pytest.raises(InternalFault, match="the process that designs has ended"):
        echo(pool, "odd")
    assert echo(pool, "two")[0] != first
    pool.close()


def test_everyone_who_waits_for_it_is_told(pool: WorkerPool) -> None:
    told: list[str] = []

    def ask() -> None:
        try:
            echo(pool, "behind it")
        except InternalFault as error:
            told.append(str(error))

    pool.submit("a", {"do": "hang"}, lambda kind, content: told.append(f"{kind}: {content}"), longest_s=1.0)
    asking = threading.Thread(target=ask)
    asking.start()
    asking.join(20)
    assert len(told) == 2
    assert all("a fault of the program (no answer within 1 seconds" in one for one in told)


def test_a_task_that_a_newer_one_of_its_key_ends_is_not_waited_for(pool: WorkerPool) -> None:
    first, _ = echo(pool, "")
    heard: list[str] = []
    older = {"do": "lose", "key": "drag", "text": "older"}  # a worker that ends it says nothing of it
    pool.submit("a", older, lambda kind, _: heard.append(f"older {kind}"), 1.0)
    pool.submit("a", {"do": "echo", "key": "drag", "text": "newer"}, lambda kind, _: heard.append(kind))
    pool.submit("a", {"do": "lose", "key": "closed"}, lambda kind, _: heard.append(kind), 1.0)
    pool.stop("a", "closed")
    time.sleep(1.5)
    assert heard == ["last"]
    assert echo(pool, "still there")[0] == first
    assert pool._asked == {}


def test_a_worker_that_takes_nothing_in_holds_nobody_up(pool: WorkerPool) -> None:
    pool.submit("a", {"do": "hang"}, lambda *_: None)
    begun = time.monotonic()
    for _ in range(20):  # more than a pipe holds
        pool.submit("a", {"do": "echo", "text": "x" * 200_000}, lambda *_: None)
    assert time.monotonic() - begun < 5.0


def test_a_design_that_never_comes_is_told_in_the_stream_and_the_next_edit_is_designed(
    running: Any, odd: Any, job: dict[str, Any], open_page: OPEN, edit: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = open_page(job)
    page.stage(1)
    with monkeypatch.context() as patched:
        patched.setattr(workers, "LONGEST_ANSWER_S", 0.5)
        instead_of(running.service.pool, odd.work_without_end, patched)
        assert edit(job, 1, {"kind": "set", "path": ["fence", "rails"], "value": 3}).status_code == 200
        refused = page.wait(lambda name, one: name == "refused")
        assert (refused["revision"], refused["error"]["code"]) == (2, "fault")
        assert refused["error"]["sentence"].startswith("a fault of the program (no answer within")
        assert refused["error"]["sentence"].endswith(WAY_ON)
    assert edit(job, 2, {"kind": "set", "path": ["fence", "rails"], "value": 5}).json()["state"]["head"] == 3
    assert page.stage(3)["values"]["digest"]


def test_a_fault_while_designing_is_the_one_sentence_on_the_page_and_for_calls(
    client: httpx.Client,
    running: Any,
    odd: Any,
    job: dict[str, Any],
    open_page: OPEN,
    edit: Any,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    page = open_page(job)
    page.stage(1)
    with monkeypatch.context() as patched:
        instead_of(running.service.pool, odd.work_with_a_fault, patched)
        instead_of(running.service.wholes, odd.work_on_wholes_with_a_fault, patched)
        edit(job, 1, {"kind": "set", "path": ["fence", "rails"], "value": 3})
        refused = page.wait(lambda name, one: name == "refused")
        assert refused["error"]["sentence"] == (
            f"a fault of the program (TypeError: no stage of that kind){WAY_ON}"
        )
        at = f"/api/jobs/{job['id']}"
        for path in ("design", "outputs", "outputs/programme.svg", "why/P3", "parts/price", "archive.zip"):
            answer = client.get(f"{at}/{path}")
            assert (answer.status_code, answer.json()["error"]["code"]) == (500, "fault"), path
            assert answer.json()["error"]["sentence"] == (
                f"a fault of the program (TypeError: no design of that kind){WAY_ON}"
            )
    for one in (running.service.pool, running.service.wholes):
        end_processes(one)
    assert client.get(f"{at}/outputs").status_code == 200  # what could not be made was not kept
    assert client.post(f"{at}/undo", json={"base": 2}).json()["text"] == job["text"]


def end_processes(pool: WorkerPool) -> None:
    """End every process of a pool, and wait until the pool knows."""
    ended = [one for one in pool._processes if one is not None]
    for process in ended:
        process.end()
    while any(one in ended for one in pool._processes):
        time.sleep(0.01)


def instead_of(pool: WorkerPool, work: Any, patched: pytest.MonkeyPatch) -> None:
    """Let a pool of the server run other processes, looked after often."""
    patched.setattr(workers, "_LOOKS_EVERY_S", 0.05)
    patched.setattr(pool, "work", work)
    end_processes(pool)


def test_a_pool_starts_the_process_of_a_job_soon_and_none_once_it_is_closed(
    odd: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workers, "_SOON_S", 0.05)
    pool = WorkerPool(odd.work_on_some, 1)
    pool.start_soon("a")
    end_s = time.monotonic() + 20
    while not any(pool._processes) and time.monotonic() < end_s:
        time.sleep(0.01)
    assert any(pool._processes)
    pool.close()
    pool.start_soon("a")
    time.sleep(0.3)
    assert pool._processes == [None]


def test_a_design_that_waits_for_what_is_newer_holds_up_no_other(monkeypatch: pytest.MonkeyPatch) -> None:
    """It waited its 0.4 s for an edit of its own key, while an edit of another had come already."""
    tasks, sent = multiprocessing.Pipe(duplex=False)
    answers: list[tuple[int, str]] = []
    monkeypatch.setattr(design_worker, "CAN_FORK", False)
    worker = design_worker.DesignWorker(tasks, sent)
    monkeypatch.setattr(worker, "send", lambda ticket, kind, _: answers.append((ticket, kind)))
    waited: list[float] = []

    class Pipe:
        def poll(self, seconds: float) -> bool:
            waited.append(seconds)
            return False

    monkeypatch.setattr(worker, "tasks", Pipe())
    mine = {"key": "mine", "ticket": 1}
    assert not worker._is_overtaken(mine, 0.4)
    worker.waiting = [{"key": "another"}]
    assert not worker._is_overtaken(mine, 0.4)
    assert waited == [0.4, 0.0]
    worker.waiting.append({"key": "mine"})
    assert worker._is_overtaken(mine, 0.4)
    assert answers == [(1, "dropped")]
