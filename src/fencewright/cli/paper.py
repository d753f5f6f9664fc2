"""The command paper: a design's papers as PDF."""

from pathlib import Path

from fencewright.cli.design import Progress, exit_code
from fencewright.desk.whole import papers_of, run_whole
from fencewright.desk.writing import write_beside


def write_papers(path: Path, out: Path) -> int:
    """Design a job and write its papers; 0 or 1 as its exit code."""
    progress = Progress()
    whole = run_whole(path, progress)
    made = whole.design
    files = papers_of(whole, progress)
    write_beside(made, files, out)
    for name, content in files.items():
        print(f"{out / name}: {len(content):,} bytes")
    for words in whole.left_out:
        if words.what != "programme.ics":
            print(f"Left out: {words}.")
    if whole.price is not None and whole.price.missing:
        count = len(whole.price.missing)
        lines = "1 line has" if count == 1 else f"{count} lines have"
        print(f"quote.pdf is incomplete and says so: {lines} no price.")
    if not made.may_be_built:
        print("NOT TO BE BUILT: mend the stops first; every page says so.")
    return exit_code(made.findings)
