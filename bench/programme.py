"""Time the programme of about 5 km of fence with crews of one to eight: laying out, sharing, proving.

Run it with `python bench/programme.py`. Three invented sites: one large paddock, eight, twenty-five; each must be planned
within a second whatever the crew.
"""

import dataclasses
from pathlib import Path

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.pipeline.scheduling import schedule
from strength import best_s

MOST_S = 1.0
HEAD = '[job]\nname = "bench"\n[site]\nsoil = "sand"\nfrost_depth = "30 in"\n'


def paddocks(count: int, side_m: float) -> str:
    """Give a job of square paddocks in a row, a gate to each."""
    text = HEAD
    for number in range(count):
        low, high = number * (side_m + 50), number * (side_m + 50) + side_m
        points = (
            f'["{low} m", "0 m"], ["{high} m", "0 m"], ["{high} m", "{side_m} m"], ["{low} m", "{side_m} m"]'
        )
        text += f'[[line]]\nname = "paddock {number + 1}"\nclosed = true\npoints = [{points}]\n'
        text += f'[[gate]]\nline = "paddock {number + 1}"\nat = "0 m"\nopening = "12 ft"\n'
    return text


def main() -> None:
    """Print the table."""
    print("paddocks   posts  crew  activities  seconds  working days too long  proven by")
    worst = 0.0
    for count, side in ((1, 1250.0), (8, 156.0), (25, 50.0)):
        text = paddocks(count, side)
        made = design(job_from_text(text, Path()))
        for crew in (1, 2, 3, 4, 8):
            table = f'[programme]\nstart = "2026-04-06"\ncrew = {crew}\nprivate_services = "none"\n'
            own = dataclasses.replace(made, job=job_from_text(text + table, Path()))
            planned = schedule(own, {})
            taken = best_s(lambda: schedule(own, {}))  # noqa: B023  # run now
            worst = max(worst, taken)
            proof = planned.bound.by if planned.bound.is_proven else "not proven"
            print(
                f"{count:8} {len(made.layout.posts):7,} {crew:5} {len(planned.activities):11} {taken:8.3f} "
                f"{planned.bound.gap_days:21.2f}  {proof}"
            )
    print(f"slowest {worst:.3f} s (at most {MOST_S} s)")


if __name__ == "__main__":
    main()
