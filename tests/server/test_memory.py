"""Garbage is looked for at rest: in the middle of an edit of a long fence a look took up to 100 ms."""

import asyncio
import gc
import weakref
from collections.abc import Iterator
from types import SimpleNamespace
from typing import Any, cast

import pytest

from fencewright.server import app, design_worker
from fencewright.server.memory import Garbage, put_off_garbage
from fencewright.server.service import Service


class Knot:
    """An object that reaches itself: only a look for garbage frees it."""

    def __init__(self) -> None:
        self.itself = self


@pytest.fixture
def looks() -> Iterator[list[int]]:
    """Put off garbage in this process; gives the generation of every look since, and undoes it."""
    threshold = gc.get_threshold()
    made: list[int] = []

    def note(phase: str, about: dict[str, int]) -> None:
        if phase == "start":
            made.append(about["generation"])

    put_off_garbage()
    gc.callbacks.append(note)
    yield made
    gc.callbacks.remove(note)
    gc.set_threshold(*threshold)
    gc.unfreeze()


def test_what_is_made_is_looked_through_when_asked_and_not_before(looks: list[int]) -> None:
    knot = weakref.ref(Knot())
    kept = [[number] for number in range(100_000)]
    assert (looks, knot() is None, len(kept)) == ([], False, 100_000)
    assert Garbage().look()
    assert (looks, knot() is None) == ([0], True)


def test_little_is_not_looked_through_and_everything_now_and_then(looks: list[int]) -> None:
    garbage = Garbage()
    assert not garbage.look()
    old, kept = Knot(), []
    for _ in range(20):
        kept += [[number] for number in range(6_000)]
        assert garbage.look()
        if len(looks) == 1:
            gone = weakref.ref(old)
            del old  # it was there at the first look: only one at everything finds it
        assert (gone() is None) == (len(looks) == 20)
    assert (looks, len(kept)) == ([*[0] * 19, 2], 120_000)


def test_the_server_looks_when_its_designs_are_at_rest(monkeypatch: pytest.MonkeyPatch) -> None:
    rests = iter([False, False, True, False, True])
    looked: list[int] = []
    asked: list[bool] = []

    def are_at_rest(_: float) -> bool:
        asked.append(next(rests))
        return asked[-1]

    monkeypatch.setattr(app, "AT_REST_S", 0.001)
    monkeypatch.setattr(Garbage, "look", lambda _: looked.append(len(asked)))
    service: Any = SimpleNamespace(board=SimpleNamespace(runs=SimpleNamespace(are_at_rest=are_at_rest)))
    with pytest.raises(RuntimeError, match="StopIteration"):
        asyncio.run(app._tidy(cast(Service, service)))
    assert looked == [3, 5]


def test_a_worker_looks_when_no_task_has_come_for_a_while(monkeypatch: pytest.MonkeyPatch) -> None:
    looked: list[str] = []

    class Pipe:
        def __init__(self) -> None:
            self.tasks = ["soon", "", "late"]

        def poll(self, seconds: float = 0.0) -> bool:
            if seconds and not self.tasks[0]:
                self.tasks.pop(0)
                return False
            return seconds > 0

        def recv(self) -> dict[str, str]:
            return {"key": self.tasks.pop(0)}

    monkeypatch.setattr(design_worker, "CAN_FORK", False)
    worker = design_worker.DesignWorker(cast(Any, Pipe()), cast(Any, None))
    monkeypatch.setattr(worker.garbage, "look", lambda: looked.append("looked"))
    seen = []
    for _ in range(2):
        assert worker._receive()
        seen.append((worker.waiting.pop()["key"], len(looked)))
    assert seen == [("soon", 0), ("late", 1)]
