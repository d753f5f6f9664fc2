"""Fifty editors on one PostgreSQL, an edit each every five seconds: how long each edit takes, and that none is lost.

Starts a private PostgreSQL from the system's package and one server process; each editor is a thread with a job of its
own, and every fifth shares the job of the one before it. Ends after `--seconds` (60).
"""

import argparse
import contextlib
import random
import subprocess
import sys
import threading
import time
from pathlib import Path

import httpx

sys.path.append(str(Path(__file__).parents[1]))  # the database is started as the tests start it
from tests.store.private_postgresql import WHAT_TO_INSTALL, private_postgresql, server_programs

EDITORS, EVERY_S = 50, 5.0


def editor(number: int, base_url: str, job: dict, until: float, told: list) -> None:
    moments = random.Random(number)
    time.sleep(moments.random() * EVERY_S)
    with httpx.Client(base_url=base_url, timeout=60) as client:
        head = client.get(f"/api/jobs/{job['id']}").json()["head"]
        turn = 0
        while time.monotonic() < until:
            east = f"{1000 + number * 2}.{turn:03} ft"
            values = {"kind": "tree", "points": [[east, "900 ft"]]}
            edit = {"kind": "add", "table": "obstacle", "values": values}
            begun = time.perf_counter()
            answer = client.post(
                f"/api/jobs/{job['id']}/edits", json={"base": head, "window": f"w{number}", "edit": edit}
            )
            took_ms = 1000 * (time.perf_counter() - begun)
            answer.raise_for_status()
            head = answer.json()["state"]["head"]
            told.append((took_ms, job["id"], east))
            turn += 1
            time.sleep(max(0.0, EVERY_S - took_ms / 1000))


def follower(base_url: str, job: str, until: float) -> None:
    """Keep a window open on a job, so that every edit is designed as well."""
    with (
        contextlib.suppress(httpx.HTTPError),
        httpx.Client(base_url=base_url, timeout=60) as client,
        client.stream("GET", f"/api/jobs/{job}/live?window=f") as stream,
    ):
        for _ in stream.iter_bytes():
            if time.monotonic() > until:
                return


def main() -> None:
    asked = argparse.ArgumentParser()
    asked.add_argument("--seconds", type=float, default=60)
    asked.add_argument(
        "--followed", type=int, default=10, help="jobs that a window shows, so that they are designed"
    )
    options = asked.parse_args()
    programs = server_programs()
    if programs is None:
        print(WHAT_TO_INSTALL)
        return
    with private_postgresql(programs, is_safe=True) as url:
        start = "from fencewright.cli.main import run; run()"
        command = [sys.executable, "-c", start, "serve", "--no-browser", "--store", url]
        server = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
        try:
            assert server.stdout is not None
            base_url = server.stdout.readline().split()[-1]
            run(base_url, options.seconds, options.followed)
        finally:
            server.terminate()
            server.wait(20)


def run(base_url: str, seconds: float, followed: int) -> None:
    with httpx.Client(base_url=base_url, timeout=60) as client:
        jobs = []
        for number in range(EDITORS):
            if number % 5 == 4:
                jobs.append(jobs[-1])
            else:
                jobs.append(
                    client.post("/api/jobs", json={"name": f"Job {number}", "start": "example"}).json()
                )
        told: list[tuple[float, str, str]] = []
        until = time.monotonic() + seconds
        threads = [
            threading.Thread(target=editor, args=(n, base_url, job, until, told))
            for n, job in enumerate(jobs)
        ]
        ids = list(dict.fromkeys(job["id"] for job in jobs))[:followed]
        threads += [
            threading.Thread(target=follower, args=(base_url, job, until), daemon=True) for job in ids
        ]
        for one in threads:
            one.start()
        for one in threads[:EDITORS]:
            one.join()
        lost = [
            (job, east)
            for _, job, east in told
            if f'"{east}"' not in client.get(f"/api/jobs/{job}").json()["text"]
        ]
    times = sorted(took for took, _, _ in told)
    print(
        f"{EDITORS} editors, {len(times)} edits, {followed} jobs followed: median {times[len(times) // 2]:.0f} ms, "
        f"p95 {times[int(0.95 * len(times))]:.0f} ms, worst {times[-1]:.0f} ms, lost {len(lost)}"
    )


if __name__ == "__main__":
    main()
