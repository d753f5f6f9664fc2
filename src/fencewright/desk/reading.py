"""A job file on disk to a job ready to be designed."""

from dataclasses import replace
from pathlib import Path

from fencewright.catalogue.loading import shipped_catalogue, with_data_sheets
from fencewright.desk.site_reading import read_site
from fencewright.exchange.fence_place import place_findings
from fencewright.findings import InputError
from fencewright.job.defaults import fill_defaults
from fencewright.job.reading import decode_job, parse_job
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


def job_from_text(text: str, folder: Path, file: str = "job.toml") -> Job:
    """Read a job from its text; other files are looked for in `folder`. See `read_job`."""
    asked = parse_job(text, file)
    try:
        return _job(asked, text, folder, file)
    except InputError as error:
        raise error.within(file=file) from error


def _job(asked: JobFile, text: str, folder: Path, file: str) -> Job:
    sheets = [(name, decode_job(_read_bytes(folder / name), name)) for name in asked.catalogue.files]
    catalogue = with_data_sheets(shipped_catalogue(), sheets)
    settings, findings = fill_defaults(asked, catalogue)
    site, said = read_site(asked, catalogue, folder)
    job = Job(asked, catalogue, settings, site, (*findings, *said), text, file)
    return replace(job, findings=(*job.findings, *place_findings(job)))


def _read_bytes(path: Path) -> bytes:
    try:
        if path.is_dir():
            raise InputError("this is a folder: name the job file in it", file=path.name)
        return path.read_bytes()
    except FileNotFoundError as error:
        raise InputError("there is no such file: check its name and folder", file=str(path)) from error
    except OSError as error:
        raise InputError(
            f"it cannot be read ({error.strerror}): check its permissions", file=str(path)
        ) from error
