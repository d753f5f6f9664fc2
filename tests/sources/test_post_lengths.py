"""Post length is embedment and height: tas-deer-2012 and sask-2005 (sources-fence.md A8, READ; arithmetic DERIVED).

Tasmania: 3.0 m posts, 1.0 m buried, 2.0 m of fence, at most 10 m apart. Saskatchewan: 12 ft posts in holes of 3.5 ft leave
8.5 ft; the fence is 8 ft, at least 7 ft.
"""

from collections.abc import Callable

import pytest

from fencewright.pipeline.record import Design

FOOT = 0.3048
DEER = '[fence]\nspacing_limit = "{spacing}"\ntop_height = "{top}"\n[holes]\nend_depth = "{deep}"\nline_depth = "{deep}"\n' \
    '[posts]\ntrim = "0 m"\nline_lengths = ["{stock}"]\nend_lengths = ["{stock}"]\n'  # fmt: skip


def test_tas_deer_2012(straight: Callable[[float, str], Design]) -> None:
    made = straight(1000, DEER.format(spacing="10 m", top="2.0 m", deep="1.0 m", stock="3.0 m"))
    assert made.cuts.cut_m == pytest.approx([0.0] * len(made.layout.posts), abs=1e-9)
    assert "no-stock-length" not in [one.code for one in made.findings]
    short = straight(1000, DEER.format(spacing="10 m", top="2.0 m", deep="1.0 m", stock="2.9 m"))
    assert "no-stock-length" in [one.code for one in short.findings]


def test_sask_2005(straight: Callable[[float, str], Design]) -> None:
    made = straight(1000, DEER.format(spacing="24 ft", top="8 ft", deep="3.5 ft", stock="12 ft"))
    assert made.cuts.cut_m / FOOT == pytest.approx([0.5] * len(made.layout.posts), abs=1e-6)
    assert len(made.layout.posts) == 43  # 1,000 / 24 = 41.7
