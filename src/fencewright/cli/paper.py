"""The command paper: a design's papers as PDF."""

from pathlib import Path

from fencewright.cli.design import Progress, exit_code
from fencewright.desk.paper_writing import paper_outputs
from fencewright.desk.reading import read_job
from fencewright.desk.running import design
from fencewright.desk.scheduling import programme
from fencewright.desk.writing import write_beside


def write_papers(path: Path, out: Path) -> int:
    """Design a job and write its papers; 0 or 1 as its exit code."""
    progress = Progress()
    made = design(read_job(path), progress)
    planned = programme(made)
    progress("programme")
    files = paper_outputs(made, programme=planned, progress=progress)
    write_beside(made, files, out)
    for name, content in files.items():
        print(f"{out / name}: {len(content):,} bytes")
    if not made.may_be_built:
        print("NOT TO BE BUILT: mend the stops first; every page says so.")
    return exit_code(made.findings)
