"""The work of a design: everything counted once, in some stretch, by rates that are there; plain cases by hand."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.pipeline.record import Design
from fencewright.pipeline.scheduling import programme_settings, schedule
from fencewright.pipeline.work_efforts import fence_work
from fencewright.pipeline.work_stretches import work_stretches
from fencewright.tables.programme import FenceWork

HEAD = '[job]\nname = "x"\n[site]\nsoil = "sand"\nfrost_depth = "20 in"\n'
Build = Callable[[str], Design]


@pytest.fixture
def build(tmp_path: Path) -> Build:
    return lambda text: design(job_from_text(HEAD + text, tmp_path))


def line(name: str, *points: tuple[float, float], more: str = "") -> str:
    drawn = ", ".join(f'["{x} m", "{y} m"]' for x, y in points)
    return f'[[line]]\nname = "{name}"\npoints = [{drawn}]\n{more}'


def work_of(made: Design) -> FenceWork:
    return fence_work(made, programme_settings(made.job)[0])


def total(work: FenceWork, kind: str) -> float:
    return sum(one.quantity for one in work.efforts if one.kind == kind)


LONG = line("a", (0, 0), (1500, 0), (1500, 900), (0, 900))


def test_every_post_run_and_brace_lies_in_one_stretch(build: Build) -> None:
    made = build(LONG)
    cut = work_stretches(made, 400.0)
    assert len(cut) > 3
    assert set(cut.of_post.tolist()) == set(range(len(cut))) == set(cut.of_run.tolist())
    assert (cut.of_brace == cut.of_post[made.layout.braces.post_index]).all()
    lengths = made.layout.spans.length_m
    per = np.bincount(cut.of_run[made.layout.spans.run_index], weights=lengths, minlength=len(cut))
    assert per.max() <= 2 * 400 + 402  # a run is never divided


def test_a_short_fence_is_one_stretch(build: Build) -> None:
    assert work_stretches(build(line("a", (0, 0), (60, 0))), 400.0).places == ("a P1 to P18",)


def test_everything_is_counted_once(build: Build) -> None:
    made = build(LONG)
    work = work_of(made)
    posts = len(made.layout.posts)
    assert total(work, "stake") == total(work, "string-cut") == total(work, "treat") == posts
    assert total(work, "set-ends") + total(work, "set-line") == posts
    assert total(work, "dig-ends") + total(work, "dig-line") == posts + len(made.layout.braces)
    assert total(work, "pull") == total(work, "anchor") == total(work, "check") == len(made.pulls)
    assert total(work, "pay-out") == pytest.approx(float(made.pulls.rail_m.sum()))


def test_brackets_are_those_of_the_order(build: Build) -> None:
    made = build(LONG)
    ordered = sum(one.net for one in made.order if one.item in ("line bracket", "corner bracket"))
    assert total(work_of(made), "brackets") == ordered


def test_posts_that_stand_ask_for_nothing(build: Build) -> None:
    fence = line("a", (0, 0), (30, 0))
    new, stands = (
        build(fence),
        build(fence + '[[built]]\nline = "a"\nat = "0 m"\ndepth = "1 m"\nheight = "54 in"\n'),
    )
    for kind in ("stake", "set-ends", "string-cut"):
        assert total(work_of(stands), kind) == total(work_of(new), kind) - 1


def test_hours_of_a_hole_grow_with_its_depth(build: Build) -> None:
    shallow, deep = (
        work_of(build(line("a", (0, 0), (60, 0)) + f'[holes]\nline_depth = "{depth} in"\nbell = "0 in"\n'))
        for depth in (24, 36)
    )
    hours = [sum(one.labour_h for one in work.efforts if one.kind == "dig-line") for work in (shallow, deep)]
    assert hours[1] / hours[0] == pytest.approx(1.5)


def test_tamping_by_hand_is_the_rate_s(build: Build) -> None:
    """16 line posts, so many an hour for one person."""
    work = work_of(build(line("a", (0, 0), (60, 0))))
    effort = next(one for one in work.efforts if one.kind == "set-line")
    rate = shipped_catalogue().works["set and tamp posts"]
    assert effort.quantity == 16
    assert effort.labour_h == pytest.approx(16 / rate.per_hour * rate.hands)


def test_a_pull_waits_for_every_post_that_it_loads(build: Build) -> None:
    """Two stretches share the strain post between their runs: both pulls load its concrete."""
    work = work_of(build(LONG))
    for stretch, held in enumerate(work.holds):
        assert stretch in held
    assert any(len(held) > 1 for held in work.holds)


CASES = {
    "driven": line("a", (0, 0), (80, 0)) + '[fence]\nline_posts = "driven"\n',
    "unbraced": line("a", (0, 0), (80, 0)) + '[brace]\nkind = "none"\n',
    "horizontal": line("a", (0, 0), (80, 0), (80, 50)) + '[brace]\nkind = "horizontal"\n',
    "closed, no gate": line("a", (0, 0), (40, 0), (40, 40), (0, 40), more="closed = true\n"),
    "wires": line("a", (0, 0), (80, 0)) + '[[strand]]\nrail = "coated wire"\nheight = "40 in"\n' * 1,
    "concrete line posts": line("a", (0, 0), (80, 0)) + '[fence]\nline_posts = "concrete"\n',
    "two lines": line("a", (0, 0), (80, 0)) + line("b", (0, 30), (80, 30)),
    "short": line("a", (0, 0), (8, 0)),
}


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("crew", [1, 3])
def test_every_kind_of_fence_has_its_programme(build: Build, case: str, crew: int) -> None:
    made = build(
        CASES[case]
        + f'[programme]\nstart = "2026-04-06"\ncrew = {crew}\nprivate_services = "none"\npaint = {str(crew == 1).lower()}\n'
    )
    planned = schedule(made, {})
    table = planned.activities
    assert table.kind[-1] == "re-pull"
    assert planned.finish_h == table.finish_h[:-1].max()
    assert ("paint" in table.kind) == (crew == 1)
    assert ("driver" in {name for many in table.plant for name in many}) == (case == "driven")
    assert ("cure-line" in table.kind) == (case == "concrete line posts")
