"""Jobs read again and again from folders whose files do not change: each file is read once."""

from collections import OrderedDict
from pathlib import Path

from fencewright.desk.reading import job_as_asked
from fencewright.desk.site_reading import SiteKept
from fencewright.findings import InputError
from fencewright.findings.file_faults import NO_FILE
from fencewright.job.reading import parse_job
from fencewright.job.record import Job
from fencewright.job.schema import JobFile

_MOST_FOLDERS = 16
_MOST_GROUNDS = 8


class WarmReader:
    """Reads jobs, and keeps what it has read of their site for the next time."""

    def __init__(self) -> None:
        self._kept: OrderedDict[Path, SiteKept] = OrderedDict()

    def read(self, text: str, folder: Path, asked: JobFile | None = None) -> Job:
        """Read a job from its text and from a folder that holds nothing but its files.

        Parameters
        ----------
        text : str
            The job file.
        folder : Path
            Its other files, which never change.
        asked : JobFile, optional
            What the text asks, where it was parsed already.

        Raises
        ------
        InputError
            As `read_job`; also where the job names a file that the folder has not.
        """
        asked = parse_job(text) if asked is None else asked
        refuse_strange_files(asked, folder)
        kept = self._kept.setdefault(folder, SiteKept())
        self._kept.move_to_end(folder)
        while len(self._kept) > _MOST_FOLDERS:
            self._kept.popitem(last=False)
        while len(kept.grounds) > _MOST_GROUNDS:
            kept.grounds.pop(next(iter(kept.grounds)), None)
        return job_as_asked(asked, text, folder, kept=kept)


def named_files(asked: JobFile) -> list[tuple[str, str, tuple[str | int, ...]]]:
    """List the files that a job names: name, item in words, and field."""
    site = asked.site.ground
    found: list[tuple[str, str, tuple[str | int, ...]]] = []
    if site != "flat":
        found.append((site, "site, ground", ("site", "ground")))
    for number, line in enumerate(asked.line):
        if line.file:
            found.append((line.file, f'line "{line.name}"', ("line", number, "file")))
    for number, obstacle in enumerate(asked.obstacle):
        if obstacle.file:
            found.append((obstacle.file, f"obstacle {number + 1}", ("obstacle", number, "file")))
    for number, name in enumerate(asked.catalogue.files):
        found.append((name, "catalogue, files", ("catalogue", "files", number)))
    if asked.paper.logo:
        found.append((asked.paper.logo, "paper, logo", ("paper", "logo")))
    if asked.price.book:
        found.append((asked.price.book, "price, book", ("price", "book")))
    return found


def refuse_strange_files(asked: JobFile, folder: Path) -> None:
    """Refuse a job that names a file outside its folder, or one that is not in it.

    Raises
    ------
    InputError
        The first such file.
    """
    for name, item, field in named_files(asked):
        if not is_plain_path(name):
            raise InputError(
                "this name leaves the job's folder: give the file to the job, and name it alone",
                file=name,
                item=item,
                field=field,
            )
        if not (folder / name).is_file():
            raise InputError(NO_FILE, file=name, item=item, field=field)


def is_plain_path(name: str) -> bool:
    """Tell whether a name stays in its folder on every system: relative, no way up, no odd characters."""
    parts = name.split("/")
    odd = set('\\:*?"<>|') | {chr(code) for code in range(32)} | {"\x7f"}
    return (
        0 < len(name) <= 300
        and not set(name) & odd
        and all(part not in ("", ".", "..") and not part.startswith(".") for part in parts)
        and all(part == part.strip(" .") for part in parts)
    )
