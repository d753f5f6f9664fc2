"""Time a whole design without documents from 10 to 1,000 km: growth exponent, share of each stage, peak memory.

Run it with `python bench/design.py [LARGEST_KM]`. The fence is invented: closed lines of 10 km, each of sixteen legs,
on rolling analytic ground. Figures are ratios within one run; seconds are printed to read them by.
"""

import math
import resource
import sys
import time
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.job.defaults import fill_defaults
from fencewright.job.reading import check_job
from fencewright.job.record import Job
from fencewright.pipeline.stages import stages
from fencewright.site.features import DrawnLine, Site
from fencewright.site.plane import Plane

Floats = NDArray[np.float64]
SIDE_M = 625.0


@dataclass(frozen=True, slots=True)
class RollingGround:
    """Swells of 200 m, two metres high, with humps of 30 m and 10 cm on them."""

    source: str = "analytic swells"
    is_coarse: bool = False

    def elevation_m(self, x_m: Floats, y_m: Floats) -> Floats:
        """Give the elevation. [m]"""
        swell = 2.0 * np.sin(x_m / 32.0) * np.cos(y_m / 37.0)
        return np.asarray(300.0 + swell + 0.1 * np.sin(x_m / 4.8 + y_m / 5.1))

    def sd_m(self, x_m: Floats, y_m: Floats) -> Floats:
        """Give its standard deviation. [m]"""
        return np.full(len(x_m), 0.01)


def loop(number: int, side_m: float = SIDE_M) -> Floats:
    """Give a closed line of 16 legs, set apart from its neighbours."""
    column, row = number % 40, number // 40
    angle = np.arange(16) * (2 * math.pi / 16)
    radius = side_m / (2 * math.sin(math.pi / 16))
    return np.column_stack([np.cos(angle), np.sin(angle)]) * radius + np.array([column, row]) * 4 * radius


def bench_job(length_km: float) -> Job:
    """Build a job of so many kilometres: closed lines of 10 km, or one that is shorter."""
    names = [f"loop {number}" for number in range(max(round(length_km) // 10, 1))]
    side_m = min(SIDE_M, length_km * 1000 / 16)
    asked = check_job({
        "job": {"name": "bench"},
        "site": {"soil": "sand", "frost_depth": "40 in", "coldest": "-20 F", "hottest": "95 F"},
        "line": [{"name": name, "points": [["0 m", "0 m"], ["1 m", "0 m"]], "closed": True} for name in names],
        "gate": [{"line": name, "at": f"{0.48 * side_m:.2f} m", "opening": "12 ft"} for name in names],
    })  # fmt: skip
    settings, findings = fill_defaults(asked, shipped_catalogue())
    lines = tuple(DrawnLine(name, loop(number, side_m), True) for number, name in enumerate(names))
    return Job(asked, shipped_catalogue(), settings, Site(Plane(), RollingGround(), lines, ()), findings, "")


def run(length_km: int) -> tuple[float, dict[str, float], int]:
    """Time one design: seconds in all, seconds by stage, posts."""
    job = bench_job(length_km)
    shares: dict[str, float] = {}
    start = last = time.perf_counter()
    posts = 0
    for stage in stages(job):
        now = time.perf_counter()
        shares[stage.name] = now - last
        last = now
        if stage.name == "layout":
            posts = len(stage.tables["layout"].posts)
    return time.perf_counter() - start, shares, posts


def main(largest_km: int) -> None:
    """Print the table."""
    run(10)
    rows = []
    for length_km in (length for length in (10, 30, 100, 300, 1000) if length <= largest_km):
        total, shares, posts = run(length_km)
        peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        rows.append((length_km, total))
        parts = "  ".join(f"{name} {seconds / total:.0%}" for name, seconds in shares.items())
        print(f"{length_km:5} km {posts:8,} posts {total:7.2f} s {peak_mb:6.0f} MB   {parts}")
    if len(rows) > 1:
        (a, t_a), (b, t_b) = rows[0], rows[-1]
        print(f"growth exponent {math.log(t_b / t_a) / math.log(b / a):.2f} (at most 1.1)")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
