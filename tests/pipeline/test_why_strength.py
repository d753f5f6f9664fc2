"""Why, for strength and tension: utilisations, sizes and tensions computed again on one row are the design's own."""

import dataclasses
import math
from collections.abc import Callable
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from fencewright.desk.reading import read_job
from fencewright.desk.running import design
from fencewright.pipeline.record import Design, brace_id, post_id, pull_id
from fencewright.pipeline.why import Reason, explain
from fencewright.pipeline.why_check_words import FORMULAS
from fencewright.sources import all_sources
from fencewright.tables.strength import Check
from fencewright.tables.tension import GOVERNS_HIGH

EXAMPLES = Path(__file__).parents[2] / "examples"
Made = Callable[[str], Design]
HEAD = '[job]\nname = "x"\n[site]\nsoil = "sand"\nfrost_depth = "30 in"\n'
LINE = '[[line]]\nname = "a"\npoints = [["0 ft", "0 ft"], ["300 ft", "0 ft"], ["420 ft", "155 ft"]]\n'
EXTRA = {
    "gate": '[[gate]]\nline = "a"\nat = "40 ft"\nopening = "12 ft"\n',
    "crossing": '[[crossing]]\nline = "a"\nat = "120 ft"\nwidth = "20 ft"\n',
    "horizontal": '[brace]\nkind = "horizontal"\n',
    "two level bays": '[brace]\nkind = "horizontal"\nbays = 2\n',
    "two diagonals": "[brace]\nbays = 2\n",
    "no brace": '[brace]\nkind = "none"\n',
    "size": '[[size]]\nline = "a"\nat = "300 ft"\ndepth = "60 in"\nhole = "14 in"\n',
    "lrfd": '[strength]\nmethod = "lrfd"\n',
    "ice": '[strength]\nice_thickness = "0.5 in"\n',
    "clay": '[[soil_zone]]\nline = "a"\nfrom = "50 ft"\nto = "250 ft"\nsoil = "clay"\n',
    "strain": '[fence]\npull_length_limit = "200 ft"\n',
    "tee": '[[line]]\nname = "b"\npoints = [["150 ft", "0 ft"], ["150 ft", "120 ft"]]\n',
    "driven": '[fence]\nline_posts = "driven"\n',
    "wires": '[[strand]]\nrail = "coated wire"\nheight = "20 in"\n[[strand]]\nrail = "polymer rail"\nheight = "48 in"\n',
}


@pytest.fixture(scope="module", params=["small-paddock", "rolling-pasture"])
def example(request: pytest.FixtureRequest) -> Design:
    """One of the shipped jobs."""
    return design(read_job(EXAMPLES / request.param / "job.toml"))


@cache
def reasons_of(fence: Design, name: str) -> dict[str, Reason]:
    """Reasons by name; each thing of a design is asked for once."""
    return {reason.name: reason for reason in explain(fence, name).reasons}


def check_name(check: int) -> str:
    kind = Check(check).kind
    return f"{kind.label} ({kind.part})"


def assert_checks_agree(fence: Design, posts: list[int], braces: list[int]) -> None:
    """Every row of the checks of these posts and braces is explained with its own utilisation, and no other."""
    checks, names = fence.strength.checks, ("u = D / C",)
    for row, brace in [(row, -1) for row in posts] + [(-1, row) for row in braces]:
        found = reasons_of(fence, post_id(row) if brace < 0 else brace_id(brace))
        own = (
            (checks.post_index == row) & (checks.brace_index < 0)
            if brace < 0
            else checks.brace_index == brace
        )
        expected = {
            check_name(int(checks.check[k])): float(checks.utilisation[k]) for k in np.flatnonzero(own)
        }
        got = {name: one.result for name, one in found.items() if one.symbols.startswith(names)}
        assert got == pytest.approx(expected, rel=1e-9), (row, brace)
        for k in np.flatnonzero(own):
            one = found[check_name(int(checks.check[k]))]
            assert checks.cases[int(checks.case_index[k])] in one.says
            assert {x.symbol: x.value for x in one.inputs}["C"] == pytest.approx(float(checks.capacity[k]))


def some_posts(fence: Design) -> list[int]:
    """All fixed posts, and every sixth of the rest."""
    posts = fence.layout.posts
    return sorted({*np.flatnonzero(posts.is_fixed).tolist(), *range(0, len(posts), 6)})


def test_checks_of_posts_and_braces_are_the_designs(example: Design) -> None:
    assert_checks_agree(example, some_posts(example), list(range(0, len(example.layout.braces), 2)))


def test_utilisation_and_what_governs_it_are_the_designs(example: Design) -> None:
    for row in some_posts(example):
        used = reasons_of(example, post_id(row))["utilisation"]
        assert used.result == pytest.approx(float(example.strength.utilisation[row]), rel=1e-9)
        assert used.says.startswith(Check(int(example.strength.check[row])).label)
        moved = reasons_of(example, post_id(row))["movement of the top"].result
        assert moved == pytest.approx(float(example.strength.movement_m[row]), rel=1e-9)
        counted = [one.value for one in used.inputs]
        assert max(counted) == pytest.approx(used.result)


def test_joints_are_the_designs(example: Design) -> None:
    for row in range(len(example.layout.braces)):
        force = reasons_of(example, brace_id(row))["force of its joint"].result
        assert force == pytest.approx(float(example.strength.fastener_n[row]))


def test_tensions_of_every_pull_are_the_designs(example: Design) -> None:
    columns = {
        "set tension": "set_tension_n",
        "least set tension": "window_low_n",
        "greatest set tension": "window_high_n",
        "tension on the coldest day": "cold_n",
        "tension on the hottest day": "hot_n",
        "deepest sag on the hottest day": "sag_hot_m",
        "chart: tension to pull to": "chart_n",
        "give of ends and springs": "end_yield_m",
        "take-up": "take_up_m",
        "turns of the spool": "turns",
        "re-grips": "regrips",
        "extra rail": "extra_rail_m",
        "stretch of the marked length": "marked_stretch_m",
        "tension lost by the re-pull": "repull_loss_n",
    }
    tension, rails, pulls = example.tension, example.rail_models, example.pulls
    for row, (run, strand) in enumerate(zip(pulls.run_index.tolist(), pulls.strand.tolist(), strict=True)):
        found = reasons_of(example, pull_id(run, strand))
        for name, column in columns.items():
            expected = np.asarray(getattr(tension, column)[row]).tolist()
            assert found[name].result == pytest.approx(expected, rel=1e-7), (row, name)
        product = int(tension.product_index[row])
        assert found["stiffness of one rail"].result == pytest.approx(float(rails.stiffness_n[product]))
        assert found["rail on the hottest day"].result == pytest.approx(float(rails.hottest_c[product]))
        own = tension.posts_of(row)
        assert found["tension at each post while pulling"].result == pytest.approx(
            tension.pulling_n[own].tolist()
        )
        assert found["tension at each post once worked round"].result == pytest.approx(
            tension.worked_n[own].tolist()
        )
        assert post_id(int(tension.tensioner_post[row])) in str(found["tensioner"].result)


def test_the_window_says_what_governs_it(example: Design) -> None:
    words = {
        "breaking share": "breaking load",
        "cold allowed": "data sheet",
        "ends": "end assemblies",
        "corners": "weakest corner",
    }
    for run in range(len(example.layout.runs)):
        row = run * len(example.strands)
        governs = GOVERNS_HIGH[int(example.tension.governs_high[row])]
        assert words[governs] in reasons_of(example, pull_id(run, 0))["greatest set tension"].says


@pytest.mark.parametrize("case", EXTRA)
def test_every_kind_of_fence_is_explained_as_it_was_designed(made: Made, case: str) -> None:
    fence = made(HEAD + LINE + EXTRA[case])
    every = list(range(len(fence.layout.posts)))
    assert_checks_agree(fence, every[::3] + [len(every) - 1], list(range(len(fence.layout.braces))))
    for row in every[::4]:
        depth = reasons_of(fence, post_id(row))["hole depth"].result
        assert depth == pytest.approx(float(fence.holes.depth_m[row]))
    last = len(fence.pulls) - 1
    found = reasons_of(fence, pull_id(int(fence.pulls.run_index[last]), int(fence.pulls.strand[last])))
    assert found["set tension"].result == pytest.approx(float(fence.tension.set_tension_n[last]))


def test_every_check_has_its_formula_and_a_source_of_the_register() -> None:
    assert set(FORMULAS) == set(Check)
    assert all(one.kind.source in all_sources() for one in Check)


def test_formulas_use_the_inputs_that_are_given(example: Design) -> None:
    for reason in [
        *explain(example, "P3").reasons,
        *explain(example, "B1").reasons,
        *explain(example, "R1-1").reasons,
    ]:
        if reason.inputs:
            assert any(one.symbol in reason.symbols for one in reason.inputs), reason.name


def test_the_arithmetic_of_the_embedment_check_can_be_followed_by_hand(
    made: Made, small_job_text: str
) -> None:
    """IBC 1807.3.2.1, eq. 18-1 with its pressure at a third of the depth: from the printed inputs to the result."""
    one = reasons_of(made(small_job_text), "P9")["embedment (hole)"]
    value = {x.symbol: float(x.value) for x in one.inputs if not isinstance(x.value, str | tuple)}
    demand = value["P"] + 1.09 * value["M"] / value["d"]
    capacity = value["S"] * value["d"] / 3 * value["b"] * value["d"] / 2.34
    assert demand == pytest.approx(value["D"], rel=5e-3)
    assert capacity == pytest.approx(value["C"], rel=5e-3)
    assert one.result == pytest.approx(value["D"] / value["C"])


def test_the_arithmetic_of_the_marked_stretch_can_be_followed_by_hand(
    made: Made, small_job_text: str
) -> None:
    one = reasons_of(made(small_job_text), "R1-1")["stretch of the marked length"]
    value = {x.symbol: float(x.value) for x in one.inputs if not isinstance(x.value, str | tuple)}
    assert one.result == pytest.approx(value["T"] * value["l"] / value["EA"])


MIXED = """
[[strand]]
rail = "coated wire"
[[strand]]
rail = "polymer rail"
"""


@pytest.mark.parametrize("keeper", ["false", "true"])
def test_the_take_up_of_unlike_rails_can_be_followed_by_hand(made: Made, keeper: str) -> None:
    fence = made(HEAD + LINE + MIXED + f"[tension]\nspring_keeper = {keeper}\n")
    given = []
    for pull in ("R1-1", "R1-2"):
        found = reasons_of(fence, pull)
        ends, whole = (
            {x.symbol: float(x.value) for x in found[name].inputs if not isinstance(x.value, str | tuple)}
            for name in ("give of ends and springs", "take-up")
        )
        spring = ends.get("s", 0.0) * ends.get("T", 0.0) * ends.get("x_3", 0.0)
        given.append(ends["F"] * (ends["x_1"] / ends["K_1"] + ends["x_2"] / ends["K_2"]))
        assert whole["c"] == pytest.approx(given[-1] + spring)
        assert found["take-up"].result == pytest.approx(whole["a"] + whole["b"] + whole["c"])
        assert (spring > 0) == (keeper == "true")
    assert given[0] == pytest.approx(given[1])
    assert ends["F"] == pytest.approx(fence.tension.set_tension_n.sum())


def test_the_least_depth_that_passes_is_reached_by_stating_it(made: Made) -> None:
    """A line post dug as deep as `why` says still passes; two inches less and it does not."""
    fence = made(HEAD + LINE)
    row = int(np.flatnonzero(~fence.layout.posts.is_fixed)[3])
    least = float(fence.strength.sizes.least_depth_m[row])
    assert math.isfinite(least)

    def used(depth_m: float) -> float:
        again = made(HEAD + LINE + f'[holes]\nline_depth = "{depth_m!r} m"\n')
        found = reasons_of(again, post_id(row))["embedment (hole)"].result
        return float(found)  # type: ignore[arg-type]  # a number

    assert used(least) <= 1 + 1e-6
    assert used(least - 0.05) > 1


def test_a_hole_dug_deeper_says_for_what(example: Design) -> None:
    for row in some_posts(example):
        governs = example.holes.governs[row]
        depth = reasons_of(example, post_id(row))["hole depth"]
        assert depth.result == pytest.approx(float(example.holes.depth_m[row]))
        if governs in ("embedment", "uplift"):
            assert "hold" in depth.says
            assert "still passes" in depth.next_smaller


def test_what_does_not_pass_says_what_mends_it(made: Made) -> None:
    fence = made(HEAD + LINE + '[holes]\nline_depth = "10 in"\n')
    row = int(np.flatnonzero(~fence.layout.posts.is_fixed)[3])
    one = reasons_of(fence, post_id(row))["embedment (hole)"]
    assert isinstance(one.result, float)
    assert one.result > 1
    assert one.next_smaller.startswith("too small already: ")


def test_reasons_are_frozen(made: Made, small_job_text: str) -> None:
    one = explain(made(small_job_text), "P1").reasons[0]
    with pytest.raises(dataclasses.FrozenInstanceError):
        one.name = "x"  # type: ignore[misc]  # that is what is tried


@pytest.mark.parametrize(
    ("stated", "says"),
    [
        ("", "assumed to do no harm, the job does not say"),
        ("[strength]\nhalf_inch = true\n", "is accepted, [strength] half_inch"),
        ("[strength]\nhalf_inch = false\n", "not doubled"),
    ],
)
def test_why_says_who_accepted_the_doubling(made: Made, stated: str, says: str) -> None:
    """Source ibc-1806-3: the doubling is for posts that half an inch at grade does not harm; a person must see it."""
    fence = made(HEAD + LINE + stated)
    assert says in {one.symbol: one for one in reasons_of(fence, "P1")["embedment (hole)"].inputs}["S"].name
    assert (
        says
        in {one.symbol: one for one in reasons_of(fence, "B1")["footing sideways (brace footing)"].inputs}[
            "S"
        ].name
    )
    assert any(one.code == "assumed-half-inch" for one in fence.findings) == (not stated)
