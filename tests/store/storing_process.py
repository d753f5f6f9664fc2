"""A process that only stores edits, to be killed: `python storing_process.py`, then one round a line on its input.

Each line names a store, a job and a number; a child is forked that makes edits on the job one after another, and writes
the number of each to its output once it was accepted. The child's id comes first.
"""

import os
import sys

from fencewright.store.database import open_engine, store_url
from fencewright.store.jobs import open_store
from fencewright.store.records import Made


def store_edits(url: str, id: str, first: int) -> None:  # noqa: A002
    """Make edits until killed: each writes its own number into the job."""
    store = open_store(url)
    base = store.state(id).job.head
    number = first
    while True:
        text = f'[job]\nname = "Home"\n# edit {number}\n'
        base = store.accept(id, Made(base, text, f"edit {number}", "Home")).state.job.head
        os.write(1, f"{number}\n".encode())
        number += 1


def main() -> None:
    """Fork a child for each round."""
    for line in sys.stdin:
        url, id, first = line.split()  # noqa: A001
        open_engine(store_url(url))  # its driver is imported once, here, and no connection is made
        child = os.fork()
        if child == 0:
            try:
                store_edits(url, id, int(first))
            finally:
                os._exit(1)
        os.write(1, f"child {child}\n".encode())
        os.waitpid(child, 0)
        os.write(1, b"ended\n")


if __name__ == "__main__":
    main()
