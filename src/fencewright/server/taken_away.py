"""What is taken away: sets of files with their manifest, each made once, the last few kept."""

import json
from collections import OrderedDict
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import Future
from dataclasses import dataclass
from threading import Lock

from fencewright.desk.writing import manifest_about
from fencewright.store.files import MANIFEST, manifest_text

_MOST_KEPT = 4  # sets, some megabytes each


@dataclass(frozen=True, slots=True)
class TakenAway:
    """Files by name, the manifest and the job file among them; and what could not be made, each with why."""

    files: Mapping[str, bytes]
    left_out: Sequence[tuple[str, str]]

    @classmethod
    def of(cls, files: Mapping[str, bytes], left_out: Sequence[tuple[str, str]], *, text: str) -> "TakenAway":
        """Add the job file and the manifest, which is the command line's, to the files that follow from a job."""
        manifest = manifest_text(files, manifest_about(json.loads(files["design.json"])))
        return cls({**files, MANIFEST: manifest, "job.toml": text.encode()}, left_out)


class KeptSets:
    """The last few sets; who asks for one while it is being made waits for that."""

    def __init__(self) -> None:
        self._sets: OrderedDict[tuple[str, str], Future[TakenAway]] = OrderedDict()
        self._lock = Lock()

    def has(self, key: tuple[str, str]) -> bool:
        """Tell whether a set is made."""
        with self._lock:
            found = self._sets.get(key)
        return found is not None and found.done()

    def get(self, key: tuple[str, str], make: Callable[[], TakenAway]) -> TakenAway:
        """Give a set by the job's text and folder; a set that cannot be made is not kept."""
        with self._lock:
            found = self._sets.get(key)
            is_new = found is None
            if found is None:
                found = self._sets[key] = Future()
                while len(self._sets) > _MOST_KEPT:
                    self._sets.popitem(last=False)
            self._sets.move_to_end(key)
        if is_new:
            try:
                found.set_result(make())
            except BaseException as error:
                with self._lock:
                    if self._sets.get(key) is found:
                        del self._sets[key]
                found.set_exception(error)
        return found.result()
