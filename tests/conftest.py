"""What every test shares: deterministic hypothesis runs, and the small job of the examples."""

import os
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, settings

from fencewright.catalogue.rows import Catalogue
from fencewright.tables.as_measured import AsMeasured
from fencewright.tables.fence import Layout
from fencewright.tables.load import LoadItems, LoadList
from fencewright.tables.stake_out import CornerChecks, Diagonals, Pegs, References, StakeOut, Stakes
from fencewright.tables.strength import Check, Checks, Sizes, Strength
from fencewright.tables.tension import RailModels, SiteChecks, Tensions

ROOT = Path(__file__).parents[1]
# `make test` says it in its last line: a check may show no more than that.
WHAT_FAILED = ROOT / "out" / "failed.txt"

settings.register_profile(
    "deterministic",
    derandomize=True,
    deadline=None,
    max_examples=60,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("deterministic")


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    """Keep the name of a test that failed, and the beginning of why."""
    if not report.failed or "PYTEST_XDIST_WORKER" in os.environ:
        return
    crash = getattr(report.longrepr, "reprcrash", None)
    why = (crash.message if crash else str(report.longrepr)).split()
    WHAT_FAILED.parent.mkdir(exist_ok=True)
    with WHAT_FAILED.open("a", encoding="utf-8") as kept:
        kept.write(f"{report.nodeid} ({report.when}): {' '.join(why)[:400]}\n")


@pytest.fixture(scope="session")
def small_job_path() -> Path:
    """Where the small paddock's job lies."""
    return ROOT / "examples" / "small-paddock" / "job.toml"


@pytest.fixture
def one_set_of_defaults(monkeypatch: pytest.MonkeyPatch) -> None:
    """Fill metric jobs from the rows by the inch too, so that the units of the sheets are all that differs."""
    monkeypatch.setattr(Catalogue, "on_sheets", lambda self, sheets: self)


@pytest.fixture(scope="session")
def small_job_text(small_job_path: Path) -> str:
    """The small paddock's job as text."""
    return small_job_path.read_text("utf-8")


def _rail_models(strands: int) -> RailModels:
    one = np.ones(1)
    return RailModels(
        ("polymer rail",), np.array([strands]), one * 2.4e5, one * 1e-5, one * 2.6, one * 1.8e4, one * 6e3, one * 2.7e3,
        one * 1112, one * 0.0, one * 55, one * -25, one * 1.2, one * 0.0025,
    )  # fmt: skip


def _tensions(runs: int, strands: int, post_index: np.ndarray, tensioner: int) -> Tensions:
    """Alike runs over one row of posts, drawn from its first post; a winter day on which no tension will do."""
    pulls, posts = runs * strands, len(post_index)
    one, whole = np.ones(pulls), np.zeros(pulls, np.int64)
    chart = np.array([2000.00004, 1100.0, 300.0])
    share = np.exp(-0.5 * np.arange(posts) / max(posts - 1, 1))
    return Tensions(
        product_index=whole, row_index=np.repeat(np.arange(runs), strands), reference_c=20.0,
        set_tension_n=1112.06 * one, window_low_n=311.4 * one, window_high_n=np.inf * one, governs_low=whole,
        governs_high=whole + 2, is_open=one > 0, cold_n=2500 * one, hot_n=220 * one, hot_loosest_n=130 * one,
        sag_hot_m=0.05 * one, drawn_from=whole, tensioner_post=whole + tensioner, anchor_post=whole + post_index[-1],
        far_share=one * share[-1], loosest_span=whole + posts - 2, stretch_m=0.051 * one, slack_m=0.19 * one,
        end_yield_m=0.01 * one, take_up_m=0.251 * one, turns=2.875 * one, regrips=whole, extra_rail_m=0.15 * one,
        marked_m=9.144, marked_stretch_m=0.0034 * one, repull_days=69.0, repull_loss_n=190 * one, repull_m=0.0114 * one,
        chart_c=np.array([-12.222, 20.0, 50.0]), chart_n=np.tile(chart, (pulls, 1)),
        chart_low_n=np.tile([2100.0, 311.4, 160.0], (pulls, 1)), chart_high_n=np.tile([2050.0, 1420.0, 520.0], (pulls, 1)),
        chart_is_open=np.tile([False, True, True], (pulls, 1)), post_start=np.arange(runs + 1) * posts,
        post_index=np.tile(post_index, runs), pulling_n=np.tile(1112.06 * share**2, runs),
        worked_n=np.tile(1112.06 * share, runs),
    )  # fmt: skip


def _site_checks(post: int, count: int) -> SiteChecks:
    one, nought = np.ones(count), np.zeros(count, np.int64)
    return SiteChecks(
        nought, nought, nought, nought + post, np.array([0, 2])[:count],
        np.array([-1.1, 21.1])[:count], one * 3.0, one * 9, one * 900,
        one * 44.5, one * 0.0381, one * 0.0279, one * 7.8765432,
    )  # fmt: skip


def _strength(layout: Layout) -> Strength:
    """Every post governed by embedment but the first, which has no check, and the last, which is over by uplift."""
    posts, braces = len(layout.posts), len(layout.braces)
    rows, feet = np.arange(1, posts), np.arange(braces)
    used = np.linspace(0.4, 1.2, posts - 1)
    kind = np.where(rows == posts - 1, int(Check.UPLIFT), int(Check.EMBEDMENT))
    checks = Checks(
        post_index=np.concatenate([rows, rows, layout.braces.post_index]),
        brace_index=np.concatenate([np.full(2 * len(rows), -1), feet]),
        check=np.concatenate(
            [kind, np.full(len(rows), int(Check.UPLIFT_CONE)), np.full(braces, int(Check.TIE))]
        ),
        case_index=np.arange(2 * len(rows) + braces) % 2,
        demand=np.concatenate([used * 3000, np.full(len(rows), 9000.0), np.full(braces, 500.0)]),
        capacity=np.concatenate(
            [np.full(len(rows), 3000.0), np.full(len(rows), 3000.0), np.full(braces, np.inf)]
        ),
        utilisation=np.concatenate([used, np.full(len(rows), 3.0), np.zeros(braces)]),
        cases=("cold pull", "cold pull, wind across"),
    )
    depth = np.full(posts, 1.2)
    sizes = Sizes(depth, np.where(np.arange(posts) == posts - 1, np.inf, 0.9), ("frost",) * posts)
    ends: Any = SimpleNamespace()  # no output reads them
    return Strength(
        np.concatenate([[0.0], used]), np.concatenate([[-1], kind]), np.full(posts, 0.02), np.full(braces, 0.73),
        np.full(braces, 1.0654e4), checks, sizes, Sizes(np.ones(braces), np.full(braces, 0.9), ("frost",) * braces), ends,
    )  # fmt: skip


def _stakes(layout: Layout) -> Stakes:
    """Every post, and the foot of every diagonal brace, tied to two points; the last tie has no position."""
    posts, braces = layout.posts, layout.braces
    feet = np.flatnonzero(~braces.is_horizontal)
    n = len(posts) + len(feet)
    sd = np.where(np.arange(n) == n - 1, np.inf, 0.02)
    return Stakes(
        post_index=np.concatenate([np.arange(len(posts)), braces.post_index[feet]]),
        brace_index=np.concatenate([np.full(len(posts), -1), feet]),
        line_index=np.concatenate([posts.line_index, braces.line_index[feet]]),
        station_m=np.concatenate([posts.station_m, braces.station_m[feet]]),
        slope_station_m=3.1 * np.arange(n, dtype=np.float64),
        x_m=np.concatenate([posts.x_m, braces.x_m[feet]]), y_m=np.concatenate([posts.y_m, braces.y_m[feet]]),
        ground_m=np.zeros(n), left_of_line_m=np.full(n, 0.01905), left_of_string_m=np.full(n, 0.0762),
        from_previous_m=np.where(np.arange(n) == 0, np.nan, 3.0), slope_from_previous_m=np.full(n, 3.1),
        tie_reference=np.tile([0, 1], (n, 1)), tie_m=np.tile([21.97941, 54.01], (n, 1)),
        slope_tie_m=np.tile([22.0, np.nan], (n, 1)), tie_side=np.ones(n, np.int64), tie_angle_rad=np.full(n, 0.7),
        tie_state=np.where(np.isinf(sd), 2, 1), position_sd_m=sd, major_sd_m=sd, minor_sd_m=np.full(n, 0.006),
        major_heading_rad=np.full(n, 0.75),
    )  # fmt: skip


def _in_the_field(layout: Layout, runs: int) -> dict[str, Any]:
    """Stake-out with a name that looks like a formula, two loads with something of unknown mass, two measurements."""
    one, nought, two = np.ones(1), np.zeros(1, np.int64), np.arange(2)
    references = References(
        ("=barn", "well"),
        np.array([1.0, 30.0]),
        np.array([-9.0, -8.0]),
        np.array([100.0, np.nan]),
        np.zeros(2),
    )
    corners = CornerChecks(
        nought, one * 12, nought + 4, one * 1.5708, one > 0, one * 5.4864, one * 7.3152, one * 9.144, one * 0.002,
        one * 0.05,
    )  # fmt: skip
    diagonals = Diagonals(nought, one * 0, one * 12, nought, nought + 4, one * 13.5, one * 13.6)
    pegs = Pegs(
        nought,
        one * 12,
        nought - 1,
        one > 0,
        one * 13.8,
        one * 0,
        one * 1.8288,
        one * 0.0762,
        one < 0,
        one < 0,
    )
    items = LoadItems(
        two, two, ("post-6", ""), ("round post", "=rail"), ("6 in x 9 ft", "roll"), ("piece", "roll"), np.array([5.0, 1.0]),
        np.array([45.0, np.nan]), np.array([225.0, np.nan]), np.array([0.25, np.nan]), ("southern pine", ""),
    )  # fmt: skip
    measured = AsMeasured(
        np.array([0, -1]), np.array([-1, 0 if runs else -1]), ("top", "tension"), ("length", "force"),
        np.array([1.37, 1000.0]), np.array([1.38, 1100.0]), np.array([0.01, 100.0]),
        np.array([1.36365, 900.0]), np.array([1.37635, np.inf]),
        np.array([False, True]), ("=crew", ""), ("2026-05-31", ""), ("Saw it.", ""),
    )  # fmt: skip
    return {
        "stake_out": StakeOut(references, _stakes(layout), corners, diagonals, pegs),
        "load": LoadList(900.0, items, np.array([225.0, 0.0]), np.array([0.25, 0.0]), np.array([0, 1])),
        "measured": measured,
    }


@pytest.fixture(scope="session")
def holding() -> Callable[..., dict[str, Any]]:
    """Builder of a design's tables of tension and strength, by hand: `layout`, `runs`, `strands`, `post_index`."""

    def build(layout: Layout, post_index: np.ndarray, runs: int = 1, strands: int = 2) -> dict[str, Any]:
        return {
            "rail_models": _rail_models(strands),
            "tension": _tensions(runs, strands, post_index, int(post_index[0])),
            "site_checks": _site_checks(int(post_index[0]), 2 if runs else 0),
            "strength": _strength(layout),
            **_in_the_field(layout, runs),
        }

    return build
