"""The command new: a folder with a commented job file."""

from importlib import resources
from pathlib import Path

from fencewright.findings import InputError


def start_job(folder: Path) -> str:
    """Make a folder with `job.toml` and `job.schema.json`; returns what to do next.

    Raises
    ------
    InputError
        The folder holds a job already, or cannot be made.
    """
    from fencewright.job.schema import job_schema_text
    from fencewright.store.files import write_files

    target = folder / "job.toml"
    if target.exists():
        raise InputError("there is a job already: choose another folder", file=str(target))
    template = resources.files("fencewright").joinpath("data").joinpath("new-job.toml").read_bytes()
    write_files(folder, {"job.schema.json": job_schema_text().encode(), "job.toml": template})
    return f"Made {target}. Fill it in, then: fencewright check {target}"
