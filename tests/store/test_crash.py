"""Kill -9 at any moment loses no accepted edit: a process that only stores edits, killed again and again.

Twenty times by default; FENCEWRIGHT_CRASHES=200 for the full check.
"""

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from sqlalchemy import select, text

from fencewright.store.jobs import JobStore, open_store
from fencewright.store.schema import blob, revision

TIMES = int(os.environ.get("FENCEWRIGHT_CRASHES", "20"))
pytestmark = pytest.mark.skipif(
    not hasattr(os, "fork"), reason="this system cannot fork the process to be killed"
)


def last_accepted(process: subprocess.Popen[str], moments: random.Random) -> int:
    """Kill the child at some moment; give the last edit that it said was accepted, 0 for none."""
    assert process.stdout is not None
    child = int(process.stdout.readline().split()[1])
    last = 0
    if moments.random() < 0.7:  # else while it is still opening the store
        last = int(process.stdout.readline())
    time.sleep(moments.random() * 0.03)
    os.kill(child, signal.SIGKILL)
    while (line := process.stdout.readline()) != "ended\n":
        last = int(line)
    return last


def wait_for_server(store: JobStore) -> None:
    """Let a server end what the killed process had already handed to it."""
    if store.engine.dialect.name == "sqlite":
        return
    running = text(
        "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() "
        "AND pid <> pg_backend_pid() AND (state <> 'idle' OR xact_start IS NOT NULL)"
    )
    while True:
        with store.engine.connect() as connection:
            if not connection.execute(running).scalar():
                return
        time.sleep(0.01)


def check(store: JobStore, id: str, last: int, before: int) -> int:  # noqa: A002
    """See that the job holds the last edit that was accepted, or the one after it, and all that came before."""
    wait_for_server(store)
    state = store.state(id)
    found = int(state.text.split("# edit ")[1]) if "# edit" in state.text else 0
    assert found in (max(last, before), max(last, before) + 1)
    numbers = [one.number for one in store.history(id)]
    assert numbers == list(range(1, len(numbers) + 1))
    assert state.job.head == state.job.latest == numbers[-1] == found + 1
    return found


def test_killed_at_any_moment_no_accepted_edit_is_lost(url: str) -> None:
    moments = random.Random(6)
    store = open_store(url)
    id = store.new_job("Home", '[job]\nname = "Home"\n').job.id  # noqa: A001
    script = Path(__file__).parent / "storing_process.py"
    with subprocess.Popen(
        [sys.executable, str(script)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as process:
        assert process.stdin is not None
        found = 0
        for _ in range(TIMES):
            process.stdin.write(f"{url} {id} {found + 1}\n")
            process.stdin.flush()
            found = check(store, id, last_accepted(process, moments), found)
        process.stdin.close()
    assert found > TIMES / 4  # it did store something before it was killed
    with store.engine.connect() as connection:
        asked = select(blob.c.content).join(revision, revision.c.text == blob.c.digest)
        held = [bytes(row[0]).decode() for row in connection.execute(asked.order_by(revision.c.number))]
    assert held[1:] == [f'[job]\nname = "Home"\n# edit {number}\n' for number in range(1, found + 1)]
    store.close()
