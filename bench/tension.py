"""Time the tension stage from 1e2 to 1e5 posts: pulls, their chart, their site checks.

Run it with `python bench/tension.py [LARGEST]`. The fence is that of `design.py`, its ends those that the strength
stage gives. Figures are ratios within one run and a growth exponent, as in `strength.py`.
"""

import sys

from fencewright.pipeline.pulling import tension_task
from fencewright.strength.stage import check_strength
from fencewright.takeoff.pieces import span_vectors
from fencewright.tension.site_checks import site_checks
from fencewright.tension.stage import pull_tensions
from strength import MOST_GROWTH, best_s, fence_of, growth, peak_mb, sizes


def main(largest: int) -> None:
    """Print the table."""
    print("   posts   runs  pulls  task_s  pulls_s  checks_s   all_s  us a post  before_MB  peak_MB")
    rows: list[tuple[int, float]] = []
    for size in sizes(largest):
        fence = fence_of(size)
        settings, layout = fence.job.settings, fence.layout
        ends = check_strength(fence.task())[0].ends
        before = peak_mb()
        vector = span_vectors(layout.posts, layout.spans, fence.top_line.top_m)
        task = tension_task(layout, vector, ends)
        tensions, pulled, _ = pull_tensions(task, settings)
        laying = best_s(lambda: tension_task(layout, vector, ends))  # noqa: B023  # run now
        pulling = best_s(lambda: pull_tensions(task, settings))  # noqa: B023  # run now
        proving = best_s(lambda: site_checks(task, pulled, settings))  # noqa: B023  # run now
        posts, whole = len(layout.posts), laying + pulling + proving
        rows.append((posts, whole))
        print(
            f"{posts:8,} {len(layout.runs):6,} {len(tensions):6,} {laying:7.4f} {pulling:8.4f} {proving:9.4f} {whole:7.4f}"
            f" {whole / posts * 1e6:10.2f} {before:10.0f} {peak_mb():8.0f}"
        )
    if len(rows) > 1:
        print(f"growth exponent {growth(rows):.2f} (at most {MOST_GROWTH})")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 100_000)
