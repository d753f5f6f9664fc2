"""A job file on disk to a job ready to be designed."""

from collections.abc import Collection, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from fencewright.catalogue.loading import shipped_catalogue, with_data_sheets
from fencewright.desk.site_reading import SiteKept, read_site
from fencewright.exchange.fence_place import place_findings
from fencewright.exchange.logo import LARGEST_LOGO_BYTES, read_logo
from fencewright.findings import InputError
from fencewright.findings.file_faults import cannot_be_read
from fencewright.job.defaults import fill_defaults
from fencewright.job.reading import check_job, decode_job, parse_job
from fencewright.job.record import Job
from fencewright.job.schema import JobFile


def read_job(path: str | Path) -> Job:
    """Read a job file and every file that it names.

    Parameters
    ----------
    path : str or Path
        The job file; other files are looked for beside it.

    Returns
    -------
    Job
        With the findings of reading.

    Raises
    ------
    InputError
        The first thing that is wrong: which file, which item, what, and what to do.
    """
    path = Path(path)
    text = decode_job(_read_bytes(path), path.name)
    return job_from_text(text, path.parent, path.name)


def job_from_text(text: str, folder: Path, file: str = "job.toml", kept: SiteKept | None = None) -> Job:
    """Read a job from its text; other files are looked for in `folder`. See `read_job`.

    With `kept`, files of that folder are read once and for all: it must be one whose files do not change.
    """
    return job_as_asked(parse_job(text, file), text, folder, file, kept)


def job_as_asked(
    asked: JobFile, text: str, folder: Path, file: str = "job.toml", kept: SiteKept | None = None
) -> Job:
    """Make a job of a job file that is parsed already; see `job_from_text`."""
    try:
        return _job(asked, text, folder, file, kept)
    except InputError as error:
        raise error.within(file=file) from error


def job_from_data(data: Mapping[str, Any], text: str, folder: Path, file: str = "job.toml") -> Job:
    """Make a job of tables that are read already (an alternative's); `text` is the file from which they come."""
    return job_as_asked(check_job(data, file), text, folder, file)


# of the site, and what says in which units it is built
_READ_AGAIN = frozenset(("job", "site", "line", "obstacle", "soil_zone", "reference", "catalogue", "paper"))


def job_beside(job: Job, data: Mapping[str, Any], changed: Collection[str], folder: Path) -> Job:
    """Make a job of tables that differ from a job's own in `changed` alone; files are read again only where need be."""
    if not _READ_AGAIN.isdisjoint(changed):
        return job_from_data(data, job.text, folder, job.file)
    asked = check_job(data, job.file)
    try:
        settings, findings = fill_defaults(asked, job.catalogue)
        own = fill_defaults(job.asked, job.catalogue)[1]
    except InputError as error:
        raise error.within(file=job.file) from error
    of_site = tuple(finding for finding in job.findings if finding not in own)
    return replace(job, asked=asked, settings=settings, findings=(*findings, *of_site))


def _job(asked: JobFile, text: str, folder: Path, file: str, kept: SiteKept | None) -> Job:
    sheets = [(name, decode_job(_read_bytes(folder / name), name)) for name in asked.catalogue.files]
    catalogue = with_data_sheets(shipped_catalogue(), sheets).on_sheets(asked.job.sheets)
    settings, findings = fill_defaults(asked, catalogue)
    site, said = read_site(asked, catalogue, folder, kept)
    logo = _logo(asked.paper.logo, folder)
    job = Job(asked, catalogue, settings, site, (*findings, *said), text, file, logo)
    return replace(job, findings=(*job.findings, *place_findings(job)))


def _logo(name: str | None, folder: Path) -> str:
    """Read the builder's logo; a file too large is refused before it is read."""
    if not name:
        return ""
    path = folder / name
    size = path.stat().st_size if path.is_file() else 0
    if size > LARGEST_LOGO_BYTES:
        raise InputError(
            f"{size / 1e6:,.1f} MB are too much for a logo: use a picture of at most 5 MB", file=name
        )
    return read_logo(_read_bytes(path), name)


def _read_bytes(path: Path) -> bytes:
    try:
        if path.is_dir():
            raise InputError("this is a folder: name the job file in it", file=path.name)
        return path.read_bytes()
    except (OSError, ValueError) as error:
        raise InputError(cannot_be_read(error), file=str(path)) from error
