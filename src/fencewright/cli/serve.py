"""The command serve: the page and its API on this machine, or with a token beyond it."""

import secrets
import signal
import socket
import sys
import threading
import webbrowser
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING

from fencewright.findings import InputError

if TYPE_CHECKING:
    from fencewright.server.service import Service

_FIRST_PORT = 8420

_KEPT_OPEN_S = 75  # a line between two edits: one that is closed just as the next is sent would lose it


def serve(job: Path | None, port: int | None, *, browser: bool, store: str | None, host: str) -> None:
    """Serve until stopped; a job named is taken into the store once, and opened."""
    from fencewright.server.guard import is_loopback
    from fencewright.server.service import open_service
    from fencewright.store.jobs import open_store

    token = None if is_loopback(host) else secrets.token_urlsafe(24)
    service = open_service(open_store(store))
    try:
        with _listen(host, port) as listening:
            opened = "" if job is None else f"#/jobs/{_take_in(service, job)}"
            address = f"http://{_shown(host)}:{listening.getsockname()[1]}/"
            _say(address, opened, token, service.store.where)
            service.pool.start()
            if browser:
                threading.Timer(0.5, webbrowser.open, [_whole(address, opened, token)]).start()
            _run(service, listening, host, token)
    except KeyboardInterrupt:
        pass  # the way to stop it
    finally:
        service.close()


def _run(service: "Service", listening: socket.socket, host: str, token: str | None) -> None:
    """Run the server on a socket until a signal ends it."""
    import uvicorn

    from fencewright.server.app import make_app
    from fencewright.server.memory import put_off_garbage

    app = make_app(service, host=host, token=token)
    config = uvicorn.Config(
        app,
        log_level="warning",
        access_log=False,
        timeout_graceful_shutdown=2,
        timeout_keep_alive=_KEPT_OPEN_S,
    )
    server = uvicorn.Server(config)
    ended = server.handle_exit

    def end(sig: int, frame: FrameType | None) -> None:
        service.board.close_soon()  # an open page, or a paper being made, would otherwise keep the server waiting
        threading.Thread(target=service.end_work, daemon=True).start()
        ended(sig, frame)

    put_off_garbage()
    sys.setswitchinterval(0.0005)  # an edit goes from thread to thread: none holds up the next for long
    setattr(server, "handle_exit", end)  # noqa: B010  # one method of one server
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))  # uvicorn raises it again once it is done
    server.run(sockets=[listening])


def _whole(address: str, opened: str, token: str | None) -> str:
    return f"{address}?token={token}{opened}" if token else f"{address}{opened}"


def _say(address: str, opened: str, token: str | None, where: str) -> None:
    print(f"fencewright serves {_whole(address, opened, token)}", flush=True)
    print(f"Jobs are kept in {where}. Stop with Ctrl-C.", flush=True)
    if token:
        print(
            "It can be reached from other machines by whoever has that address; the token in it is printed this once. "
            "What is sent can be read on the way: put a server with TLS in front of it.",
            flush=True,
        )


def _listen(host: str, port: int | None) -> socket.socket:
    """Listen on a port: the one asked for, or the first free one from 8420 on."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    wanted = range(_FIRST_PORT, _FIRST_PORT + 50) if port is None else (port,)
    last: OSError | None = None
    for number in wanted:
        # named so, asyncio lets every answer go at once (TCP_NODELAY); else its last part may wait 40 ms for a receipt
        listening = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listening.bind((host, number))
        except (OSError, OverflowError) as error:
            listening.close()
            last = error if isinstance(error, OSError) else OSError(str(error))
            continue
        listening.listen(128)
        return listening
    said = last.strerror or last if last else "no port"
    raise InputError(
        f"cannot listen on {host} port {wanted[0]} ({said}): choose another with --port or --host"
    )


def _shown(host: str) -> str:
    if host in ("0.0.0.0", "::"):
        return socket.gethostname()
    return f"[{host}]" if ":" in host else host


def _take_in(service: "Service", path: Path) -> str:
    """Take a job file and what it names into the store, unless it is there as it is; gives its id."""
    from fencewright.desk.reading import read_job
    from fencewright.desk.warm_reading import named_files

    job = read_job(path)
    name = job.asked.job.name
    files = {}
    for named, _, _ in named_files(job.asked):
        for sibling in sorted((path.parent / named).parent.glob(f"{Path(named).stem}.*")):
            kept = str(Path(named).parent / sibling.name) if "/" in named else sibling.name
            files[kept] = sibling.read_bytes()
    for row in service.store.list_jobs():
        if row.name == name and service.store.state(row.id, 1).text == job.text:
            return row.id
    return service.store.new_job(name, job.text, files, label=f"import {path.name}").job.id
