"""Time the strength stage, and strength with tension, from 1e2 to 1e5 posts; then the sizing of a 5 km fence.

Run it with `python bench/strength.py [LARGEST]`. The fence is that of `design.py`. Figures are ratios within one run
and a growth exponent; seconds and the peak of memory are printed to read them by.
"""

import math
import resource
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from design import bench_job

from fencewright.job.record import Job
from fencewright.layout.stage import lay_out
from fencewright.pipeline.bridges import rails_of, shape, unstable_posts
from fencewright.pipeline.holding import hold, strength_task
from fencewright.pipeline.pulling import greatest_tensions
from fencewright.strength.fence import fence_of as columns_of
from fencewright.strength.sizing import (
    least_of_braces,
    least_of_posts,
    needs_of,
    size_braces,
    size_posts,
)
from fencewright.strength.stage import check_strength
from fencewright.strength.task import StrengthTask
from fencewright.tables.fence import Holes, Layout, Strands
from fencewright.tables.top_line import TopLine
from fencewright.takeoff.holes import brace_footings, post_holes

POSTS_A_KM = 275.6
MOST_SECONDS, MOST_MB, MOST_GROWTH, MOST_SIZING_S = 2.0, 500.0, 1.1, 0.050
"""What 1e5 posts, growth, and the sizing of 5 km may take."""


@dataclass(frozen=True)
class Fence:
    """What the stages before strength gave."""

    job: Job
    layout: Layout
    strands: Strands
    top_line: TopLine
    holes: Holes
    brace_holes: Holes

    @property
    def held(self) -> tuple[Job, Layout, Strands, TopLine, Holes, Holes]:
        """Give what `hold` asks for."""
        return self.job, self.layout, self.strands, self.top_line, self.holes, self.brace_holes

    def task(self) -> StrengthTask:
        """Give the strength stage's task at the greatest tension."""
        most = greatest_tensions(self.layout, self.strands, self.job)
        holes = (self.holes, self.brace_holes)
        return strength_task(self.job, self.layout, self.strands, self.top_line, holes, most)


def fence_of(posts: int) -> Fence:
    """Build a fence of about so many posts up to its top line."""
    job = bench_job(posts / POSTS_A_KM)
    layout, _ = lay_out(job)
    strands = rails_of(job.settings)
    unstable = unstable_posts(job, layout)
    top_line = shape(job, layout, strands, unstable)
    holes = post_holes(layout.posts, job.settings, unstable, top_line.needs_concrete)
    return Fence(job, layout, strands, top_line, holes, brace_footings(layout.braces, job.settings))


def best_s(run: Callable[[], Any], repeats: int = 3) -> float:
    """Least processor seconds of some runs: what else the machine does counts little."""
    seconds = []
    for _ in range(repeats):
        start = time.process_time()
        run()
        seconds.append(time.process_time() - start)
    return min(seconds)


def size(task: StrengthTask) -> None:
    """Size the holes of a fence, as the stage does, and check nothing."""
    fence = columns_of(task)
    needs = needs_of(fence)
    size_posts(task, least_of_posts(fence, needs))
    size_braces(task, least_of_braces(fence, needs))


def peak_mb() -> float:
    """Most memory that the process has held. [MB]."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def growth(rows: list[tuple[int, float]]) -> float:
    """Exponent of time over posts in the last decade of sizes: below it fixed costs rule."""
    (a, t_a), (b, t_b) = rows[-2], rows[-1]
    return math.log(t_b / t_a) / math.log(b / a)


def sizes(largest: int) -> list[int]:
    """Decades from 100 up to the largest."""
    return [size for size in (100, 1_000, 10_000, 100_000, 1_000_000) if size <= largest]


def main(largest: int) -> None:
    """Print the table."""
    hold(*fence_of(100).held)
    print("   posts  braces  pulls  strength_s  both_s  strength/both  us a post  before_MB  peak_MB")
    rows: list[tuple[int, float]] = []
    for count in sizes(largest):
        fence = fence_of(count)
        posts, before = len(fence.layout.posts), peak_mb()
        both = best_s(lambda fence=fence: hold(*fence.held))  # type: ignore[misc]  # bound now
        task = fence.task()
        strength = best_s(lambda task=task: check_strength(task))  # type: ignore[misc]  # bound now
        rows.append((posts, both))
        pulls = len(fence.layout.runs) * len(fence.strands)
        print(
            f"{posts:8,} {len(fence.layout.braces):7,} {pulls:6,} {strength:11.3f} {both:7.3f} {strength / both:14.0%}"
            f" {both / posts * 1e6:10.1f} {before:10.0f} {peak_mb():8.0f}"
        )
    if len(rows) > 1:
        print(f"growth exponent {growth(rows):.2f} (at most {MOST_GROWTH})")
    posts, both = rows[-1]
    print(
        f"1e5 posts: {both * 1e5 / posts:.2f} s (at most {MOST_SECONDS}), {peak_mb():.0f} MB (at most {MOST_MB:.0f})"
    )
    task = fence_of(round(5 * POSTS_A_KM)).task()
    sizing = best_s(lambda: size(task), 10)
    print(f"sizing of 5 km: {sizing * 1e3:.1f} ms (at most {MOST_SIZING_S * 1e3:.0f})")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 100_000)
