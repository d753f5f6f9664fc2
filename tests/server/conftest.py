"""A real server on a free port of this machine, and a client that is one window of it."""

import itertools
import json
import socket
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
import uvicorn

import fencewright.server.live
from fencewright.server.app import make_app
from fencewright.server.service import Service, open_service
from fencewright.store.jobs import open_store

ROOT = Path(__file__).parents[2]


class Running:
    """A server in a thread of this process."""

    def __init__(self, home: Path, **about: Any) -> None:
        self.service: Service = open_service(open_store(str(home / "jobs.sqlite")), workers=1)
        app = make_app(self.service, page=home / "page", **about)
        self.listening = socket.create_server(("127.0.0.1", 0))
        config = uvicorn.Config(app, log_level="critical", access_log=False, timeout_graceful_shutdown=1)
        self.server = uvicorn.Server(config)
        self.thread = threading.Thread(target=self.server.run, kwargs={"sockets": [self.listening]})
        self.thread.start()
        self.address = f"http://127.0.0.1:{self.listening.getsockname()[1]}"
        while not self.server.started:
            time.sleep(0.01)

    def stop(self) -> None:
        """Stop it and wait."""
        self.service.board.close_soon()
        self.server.should_exit = True
        self.thread.join(20)
        self.listening.close()


@pytest.fixture(scope="session")
def running(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """Run one server for all tests of a process; each test makes jobs of its own."""
    home = tmp_path_factory.mktemp("server")
    fencewright.server.live.KEEP_ALIVE_S = 0.2
    one = Running(home)
    yield one
    one.stop()


@pytest.fixture
def client(running: Running) -> Iterator[httpx.Client]:
    """Ask the server."""
    with httpx.Client(base_url=running.address, timeout=60) as made:
        yield made


_NUMBERS = itertools.count(1)


@pytest.fixture
def job(client: httpx.Client) -> dict[str, Any]:
    """Make a job: the example of `fencewright new`, of a name of its own, so that no test finds another's designs kept."""
    made = client.post("/api/jobs", json={"name": f"Home paddock {next(_NUMBERS)}", "start": "example"})
    assert made.status_code == 201
    state: dict[str, Any] = made.json()
    return state


Edit = Callable[..., httpx.Response]


@pytest.fixture
def edit(client: httpx.Client) -> Edit:
    """Make an edit of a job: `edit(job, base, record)`."""

    def made(job: dict[str, Any], base: int, record: dict[str, Any], window: str = "one") -> httpx.Response:
        asked = {"base": base, "window": window, "edit": record}
        return client.post(f"/api/jobs/{job['id']}/edits", json=asked)

    return made


class Page:
    """One open window: it follows the live stream as the page does."""

    def __init__(self, address: str, job: str, window: str) -> None:
        self.events: list[tuple[str, dict[str, Any]]] = []
        self.tables: dict[str, dict[str, list[Any]]] = {}
        self.rows: dict[str, int] = {}
        self.heard = threading.Condition()
        self.closed = False
        self.is_still_here = False
        self.client = httpx.Client(base_url=address, timeout=60)
        self.thread = threading.Thread(target=self._follow, args=(f"/api/jobs/{job}/live?window={window}",))
        self.thread.start()

    def _follow(self, path: str) -> None:
        try:
            with self.client.stream("GET", path) as stream:
                name = ""
                for line in stream.iter_lines():
                    if self.closed:
                        return
                    if line.startswith("event: "):
                        name = line[7:]
                    elif line.startswith("data: "):
                        self._take(name, json.loads(line[6:]))
        except (httpx.HTTPError, RuntimeError, OSError):
            return  # closed

    def _take(self, name: str, data: dict[str, Any]) -> None:
        with self.heard:
            if name == "stage":
                for table, change in data["tables"].items():
                    columns = self.tables.setdefault(table, {})
                    self.rows[table] = change["rows"]
                    if not change["rows"]:
                        columns.clear()
                    for column, splice in change["columns"].items():
                        values = columns.setdefault(column, [])
                        start = splice["start"]
                        values[start : start + splice["remove"]] = splice["values"]
                        for row, value in zip(splice.get("rows", ()), splice.get("changed", ()), strict=True):
                            values[row] = value
            if name == "refused" and data["kept"] is not None:
                self.tables = {
                    table: {column: self.tables.get(table, {}).get(column, []) for column in columns}
                    for table, columns in data["kept"].items()
                }
                self.rows = {table: self.rows.get(table, 0) for table in data["kept"]}
            if name == "here":
                self.is_still_here = True
            else:
                self.events.append((name, data))
            self.heard.notify_all()

    def wait(self, wanted: Callable[[str, dict[str, Any]], bool], seconds: float = 60) -> dict[str, Any]:
        """Wait for an event, those that came already included."""
        end, seen = time.monotonic() + seconds, 0
        with self.heard:
            while True:
                for name, data in self.events[seen:]:
                    seen += 1
                    if wanted(name, data):
                        return data
                left = end - time.monotonic()
                assert left > 0, [(name, one.get("revision"), one.get("stage")) for name, one in self.events]
                self.heard.wait(left)

    def stage(self, revision: int, stage: str = "design", trial: int | None = None) -> dict[str, Any]:
        """Wait for a stage of a revision, or of a trial."""
        return self.wait(
            lambda name, one: (
                name == "stage" and (one["revision"], one["stage"], one["trial"]) == (revision, stage, trial)
            )
        )

    def close(self) -> None:
        """Close the window."""
        self.closed = True  # seen with the next sign of life
        self.thread.join(20)
        self.client.close()


@pytest.fixture
def open_page(running: Running) -> Iterator[Callable[..., Page]]:
    """Open windows on a job: `open_page(job, "one")`."""
    pages: list[Page] = []

    def opened(job: dict[str, Any], window: str = "one") -> Page:
        pages.append(Page(running.address, job["id"], window))
        return pages[-1]

    yield opened
    for page in pages:
        page.close()
