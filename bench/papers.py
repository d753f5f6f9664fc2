"""Time the field pack: run as `python bench/papers.py`; prints one row a size, start-up apart."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter, process_time

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.exchange.design_json import design_record
from fencewright.papers.field_pack import field_pack
from fencewright.papers.typeset import typeset
from fencewright.pipeline.record import Design

JOB = """
[job]
name = "A generated ring"
[site]
crs = "local"
frost_depth = "36 in"
soil = "sand"
coldest = "-10 F"
hottest = "95 F"
[[line]]
name = "ring"
points = [["0 ft", "0 ft"], ["{side} ft", "0 ft"], ["{side} ft", "{side} ft"], ["0 ft", "{side} ft"]]
closed = true
[[gate]]
line = "ring"
at = "0 ft"
opening = "12 ft"
[fence]
rails = 4
spacing_limit = "12 ft"
"""


def ring(side_ft: int, folder: Path) -> Design:
    """Design a square ring of fence."""
    return design(job_from_text(JOB.format(side=side_ft), folder))


def main() -> None:
    """Print posts, seconds of the wall clock and of all processors, seconds a thousand posts, megabytes."""
    print(f"{'posts':>6} {'wall s':>7} {'cpu s':>7} {'s a 1000':>9} {'MB':>6}")
    with TemporaryDirectory() as name:
        folder = Path(name)
        first = ring(60, folder)
        typeset(field_pack(first, design_record(first)))  # loads the engine and the fonts once
        for side_ft in (300, 1500, 6000, 15_000):
            made = ring(side_ft, folder)
            begin, spent = perf_counter(), process_time()
            content = typeset(field_pack(made, design_record(made)))
            wall, cpu = perf_counter() - begin, process_time() - spent
            posts = len(made.layout.posts)
            print(f"{posts:6d} {wall:7.2f} {cpu:7.2f} {1000 * wall / posts:9.2f} {len(content) / 1e6:6.1f}")


if __name__ == "__main__":
    main()
