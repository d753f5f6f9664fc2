"""A newer job, a damaged store, a full disk, a server that is killed: one sentence, the last state kept, a way on."""

import contextlib
import errno
import os
import shutil
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from sqlalchemy import event, text

from fencewright.server.errors import CODES

RAILS = {"kind": "set", "path": ["fence", "rails"], "value": 3}


@pytest.fixture
def alone(tmp_path: Path, running: Any) -> Iterator[Any]:
    """Run a server on a store of its own: `alone.service`, `alone.address`."""
    one = type(running)(tmp_path)
    yield one
    one.stop()


@pytest.fixture
def asked(alone: Any) -> Iterator[httpx.Client]:
    """Ask that server."""
    with httpx.Client(base_url=alone.address, timeout=60) as made:
        yield made


def new_job(asked: httpx.Client, name: str = "Home") -> str:
    made = asked.post("/api/jobs", json={"name": name, "start": "example"})
    assert made.status_code == 201
    return f"/api/jobs/{made.json()['id']}"


def edit(asked: httpx.Client, at: str, base: int, record: dict[str, Any] = RAILS) -> httpx.Response:
    return asked.post(f"{at}/edits", json={"base": base, "window": "one", "edit": record})


def said(answer: httpx.Response, code: str) -> str:
    """See that an answer is an error of that code; gives its sentence."""
    assert (answer.status_code, answer.json()["error"]["code"]) == (CODES[code][0], code), answer.text
    sentence: str = answer.json()["error"]["sentence"]
    assert "\n" not in sentence
    return sentence


def test_a_job_that_a_newer_version_wrote_says_so_and_the_others_open(
    alone: Any, asked: httpx.Client
) -> None:
    other, newer = new_job(asked, "Other"), new_job(asked, "Newer")
    with alone.service.store.engine.begin() as connection:
        newest = {"id": newer.rsplit("/", 1)[1]}
        connection.execute(
            text("UPDATE job SET format = 99, program = 'fencewright 9.9' WHERE id = :id"), newest
        )
    wanted = '"Newer" was written by a newer fencewright (fencewright 9.9): open it with that version'
    for answer in (
        asked.get(newer), edit(asked, newer, 1), asked.post(f"{newer}/undo", json={"base": 1}), asked.delete(newer),
        asked.get(f"{newer}/history"), asked.get(f"{newer}/outputs"), asked.get(f"{newer}/live"),
        asked.post(f"{newer}/copy", json={}),
    ):  # fmt: skip
        assert said(answer, "newer-job") == wanted
    assert {one["name"] for one in asked.get("/api/jobs").json()} == {"Other", "Newer"}
    assert asked.get(f"{newer}/picture.svg").headers["content-type"] == "image/svg+xml"
    assert edit(asked, other, 1).status_code == 200


def test_a_store_damaged_while_it_is_served_says_so_and_a_copy_put_back_serves_again(
    alone: Any, asked: httpx.Client, tmp_path: Path
) -> None:
    at = new_job(asked)
    assert edit(asked, at, 1).json()["state"]["head"] == 2
    path = tmp_path / "jobs.sqlite"
    with sqlite3.connect(path) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()
    shutil.copy(path, tmp_path / "copy.sqlite")
    content = path.read_bytes()
    path.write_bytes(content[:100] + os.urandom(len(content) - 100))
    for answer in (asked.get(at), asked.get("/api/jobs"), edit(asked, at, 2), asked.get(f"{at}/live")):
        assert "the job store is damaged: put back a copy of it" in said(answer, "damaged-store")
    for beside in ("jobs.sqlite-wal", "jobs.sqlite-shm"):
        (tmp_path / beside).unlink(missing_ok=True)
    shutil.copy(tmp_path / "copy.sqlite", path)
    assert asked.get(at).json()["head"] == 2
    assert edit(asked, at, 2, {**RAILS, "value": 5}).json()["state"]["head"] == 3


def test_a_full_disk_keeps_the_last_accepted_edit_and_the_same_edit_is_taken_once_there_is_room(
    alone: Any, asked: httpx.Client
) -> None:
    at = new_job(asked)
    assert edit(asked, at, 1).json()["state"]["head"] == 2
    engine = alone.service.store.engine

    def small(connection: sqlite3.Connection, record: object) -> None:
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
        connection.execute(f"PRAGMA max_page_count = {pages}")

    long = {"kind": "replace_text", "text": asked.get(at).json()["text"] + "# " + "x" * 200_000}
    event.listen(engine, "connect", small)
    try:
        assert "the disk is full: the last accepted edit is kept; make room" in said(
            edit(asked, at, 2, long), "disk-full"
        )
        state = asked.get(at).json()
        assert (state["head"], state["asked"]["fence"]["rails"]) == (2, 3)
        assert asked.get(f"{at}/design").status_code == 200  # it can still be read and taken away
    finally:
        event.remove(engine, "connect", small)
    assert edit(asked, at, 2, long).json()["state"]["head"] == 3


def test_a_disk_that_is_full_where_files_are_laid_out_says_so(
    asked: httpx.Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    at = new_job(asked)

    def full(*_: Any, **__: Any) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    line = b"line,x,y\na,0,0\na,40,0\n"
    with monkeypatch.context() as patched:
        patched.setattr("fencewright.server.importing.tempfile.mkdtemp", full)
        given = asked.post(f"{at}/files", params={"base": 1}, files=[("files", ("a.csv", line))])
        assert "the disk is full: the last accepted edit is kept; make room" in said(given, "disk-full")
    assert asked.get(at).json()["head"] == 1
    again = asked.post(f"{at}/files", params={"base": 1}, files=[("files", ("a.csv", line))])
    assert again.json()["state"]["head"] == 2


def started(home: Path) -> tuple[subprocess.Popen[str], str]:
    """Start a server as a person does; gives its process and address."""
    command = [sys.executable, "-c", "from fencewright.cli.main import run; run()", "serve", "--no-browser"]
    process = subprocess.Popen(
        [*command, "--store", str(home / "jobs.sqlite")], stdout=subprocess.PIPE, text=True
    )
    assert process.stdout is not None
    return process, process.stdout.readline().removeprefix("fencewright serves ").strip().rstrip("/")


def tree(number: int) -> dict[str, Any]:
    """Edit that adds a tree far from the fence: there may be any number of them."""
    values = {"name": f"tree {number}", "kind": "tree", "points": [[f"{2000 + 10 * number} ft", "2000 ft"]]}
    return {"kind": "add", "table": "obstacle", "values": values}


def test_a_server_killed_in_mid_edit_loses_no_accepted_edit_and_the_edit_sent_again_is_made_once(
    tmp_path: Path,
) -> None:
    at, base, number = "", 1, 0
    for turn in range(3):
        process, address = started(tmp_path)
        try:
            with httpx.Client(base_url=address, timeout=60) as asked:
                if turn:  # the edit whose answer was lost, as it was
                    state = edit(asked, at, base, tree(number)).json()["state"]
                    trees = [one["name"] for one in state["asked"]["obstacle"] if one["kind"] == "tree"]
                    assert trees[-number - 1 :] == [f"tree {one}" for one in range(number + 1)]
                    base, number = state["head"], number + 1
                at = at or new_job(asked)
                threading.Timer(0.5 + 0.03 * turn, process.kill).start()
                with contextlib.suppress(httpx.TransportError):  # it is killed between two edits or in one
                    while True:
                        base, number = edit(asked, at, base, tree(number)).json()["state"]["head"], number + 1
        finally:
            process.kill()
            process.communicate()
    assert number >= 3
    process, address = started(tmp_path)
    try:
        with httpx.Client(base_url=address, timeout=60) as asked:
            assert asked.get(at).json()["head"] in (base, base + 1)
            state = edit(asked, at, base, tree(number)).json()["state"]
            assert (state["head"], state["asked"]["obstacle"][-1]["name"]) == (base + 1, f"tree {number}")
            assert asked.post(f"{at}/undo", json={"base": base + 1}).json()["head"] == base
    finally:
        process.terminate()
        process.communicate(timeout=30)
