"""The commands check, design and demo."""

import sys
import time
from collections.abc import Iterable
from pathlib import Path

from fencewright.cli.report import findings_text, summary_text
from fencewright.desk.reading import read_job
from fencewright.desk.running import design
from fencewright.findings import Finding, InternalFault, has_stop, sorted_findings

_QUIET_S = 1.0  # progress is shown once a run takes longer


class Progress:
    """Stage names on stderr, once a run is long enough to wonder."""

    def __init__(self) -> None:
        self.start_s = time.monotonic()

    def __call__(self, name: str) -> None:
        """Tell that a stage is done."""
        if time.monotonic() - self.start_s > _QUIET_S:
            print(f"  {name} done", file=sys.stderr)


def check_job(path: Path) -> int:
    """Print a job's findings; 0 or 1 as its exit code."""
    made = design(read_job(path), Progress())
    print(findings_text(made.findings, made.job.asked.job.sheets))
    return exit_code(made.findings)


def design_job(path: Path, out: Path) -> int:
    """Design a job and write every output; 0 or 1 as its exit code."""
    from fencewright.desk.writing import write_design

    progress = Progress()
    made = design(read_job(path), progress)
    write_design(made, out, progress)
    print(findings_text(made.findings, made.job.asked.job.sheets))
    print(summary_text(made))
    print(f"Written to {out}/ (start with plan.svg, order.xlsx, posts.csv).")
    if has_stop(made.findings):
        print("NOT TO BE BUILT: mend the stops above first.")
    return exit_code(made.findings)


def design_whole(path: Path, out: Path) -> int:
    """Design a job and write everything that follows from it in one set; exit code as of `design_job`."""
    from fencewright.desk.whole import run_whole, whole_set, write_set

    progress = Progress()
    whole = run_whole(path, progress)
    made = whole.design
    write_set(whole_set(whole, progress), out)
    planned = whole.programme.findings if whole.programme else ()
    priced = whole.price.findings if whole.price else ()
    both = [*priced, *(one for one in planned if one not in priced)]  # what both say is printed once
    found = [*made.findings, *both]
    print(findings_text(sorted_findings(found), made.job.asked.job.sheets))
    print(summary_text(made))
    print(f"Written to {out}/ (start with plan.svg, order.xlsx, field-pack.pdf).")
    for words in whole.left_out:
        print(f"Left out: {words}.")
    if has_stop(made.findings):
        print("NOT TO BE BUILT: mend the stops above first.")
    elif has_stop(planned):
        print("NOT TO START: mend the stops of the programme first.")
    return exit_code(made.findings)


def design_demo(out: Path) -> int:
    """Design the demo's job, and say how to go on from there; exit code as of `design_job`."""
    job = demo_job()
    code = design_job(job, out)
    print(f"Price, programme and papers as well: fencewright design {_near(job)} --all --out {out}")
    print(f"The same job on the page, to draw and adjust: fencewright serve {_near(job)}")
    return code


def _near(path: Path) -> Path:
    """A path as typed from here, where that is shorter."""
    return path.relative_to(Path.cwd()) if path.is_relative_to(Path.cwd()) else path


def exit_code(findings: Iterable[Finding]) -> int:
    """Exit code of a design: 1 where a finding stops it."""
    return 1 if has_stop(findings) else 0


def demo_job() -> Path:
    """Where the demo's job lies: in the installed package, or beside a source checkout.

    Raises
    ------
    InternalFault
        Neither is there.
    """
    from importlib.resources import files

    packaged = Path(str(files("fencewright"))) / "data" / "demo" / "job.toml"
    checkout = Path(__file__).parents[3] / "examples" / "rolling-pasture" / "job.toml"
    found = next((path for path in (packaged, checkout) if path.is_file()), None)
    if found is None:
        raise InternalFault("the demo's job file is missing: install the program again")
    return found
