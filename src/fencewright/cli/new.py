"""The command new: a folder with a commented job file."""

import json
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
    from fencewright.job.schema import JobFile
    from fencewright.store.files import write_files

    target = folder / "job.toml"
    if target.exists():
        raise InputError("there is a job already: choose another folder", file=str(target))
    template = resources.files("fencewright").joinpath("data").joinpath("new-job.toml").read_bytes()
    schema = json.dumps(JobFile.model_json_schema(by_alias=True), indent=1, sort_keys=True) + "\n"
    write_files(folder, {"job.schema.json": schema.encode(), "job.toml": template})
    return f"Made {target}. Fill it in, then: fencewright check {target}"
