"""Networks and calendars that are small enough to see."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from fencewright.job.programme_settings import CalendarRules
from fencewright.programme.network import Network


@pytest.fixture
def week() -> CalendarRules:
    """Monday 6 April 2026, five days of eight hours, no place on the Earth."""
    import datetime

    return CalendarRules(
        start=datetime.date(2026, 4, 6),
        work_days=(0, 1, 2, 3, 4),
        hours=8.0,
        begins_h=8.0,
        weather=0.0,
        latitude_deg=None,
        daylight_spare_h=1.0,
        days_off=(),
        country="",
        subdivision="",
    )


@pytest.fixture
def psplib() -> Callable[[str], Network]:
    """Read an instance of tests/data/psplib-j30."""
    return read_psplib


def read_psplib(name: str) -> Network:
    text = (Path(__file__).parents[1] / "data" / "psplib-j30" / name).read_text("ascii")
    links = text.split("PRECEDENCE RELATIONS")[1].split("****")[0].splitlines()[2:]
    rows = [
        [int(one) for one in line.split()]
        for line in text.split("REQUESTS")[1].split("****")[0].splitlines()[3:]
        if line.strip()
    ]
    capacity = [int(one) for one in text.split("RESOURCEAVAILABILITIES")[1].splitlines()[2].split()]
    before: list[list[int]] = [[] for _ in rows]
    for line in links:
        first, *_ = numbers = [int(one) for one in line.split()] or [0]
        for after in numbers[3:]:
            before[after - 1].append(first - 1)
    need = np.array([row[3:] for row in rows], dtype=np.int64)
    return Network(tuple(row[2] for row in rows), tuple(map(tuple, before)), need, tuple(capacity))
