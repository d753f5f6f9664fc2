"""Lines as files draw them: an edit that moves one of their corners needs them as drawn."""

from collections import OrderedDict
from pathlib import Path
from threading import Lock

from fencewright.desk.warm_reading import WarmReader
from fencewright.edits.lines import Drawn, DrawnPoints
from fencewright.job.schema import JobFile

_MOST_KEPT = 16


class DrawnLines:
    """Lines as drawn by the text of the job and its folder; those used longest ago go first. For several threads."""

    def __init__(self, reader: WarmReader) -> None:
        self._reader = reader
        self._kept: OrderedDict[tuple[str, Path], Drawn] = OrderedDict()
        self._lock = Lock()

    def of(self, text: str, folder: Path, asked: JobFile) -> Drawn:
        """Give every line as drawn by its name; nothing where all of them stand in the text.

        Raises
        ------
        InputError
            The job cannot be read.
        """
        if not any(line.file for line in asked.line):
            return {}
        place = text, folder
        with self._lock:
            drawn = self._kept.get(place)
        if drawn is None:
            site = self._reader.read(text, folder, asked).site
            drawn = {
                line.name: DrawnPoints([(x, y) for x, y in line.xy_m.tolist()], line.is_closed)
                for line in site.lines
            }
        with self._lock:
            self._kept[place] = drawn
            self._kept.move_to_end(place)
            while len(self._kept) > _MOST_KEPT:
                self._kept.popitem(last=False)
        return drawn
