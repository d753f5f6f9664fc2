"""Why, on jobs that bend every rule: what is said there, and still the design's own numbers."""

import math
from collections.abc import Callable

import numpy as np
import pytest

from fencewright.pipeline.record import Design, brace_id, post_id
from fencewright.pipeline.why import Reason, explain
from fencewright.tables.fence import Role

Made = Callable[[str], Design]
HEAD = '[job]\nname = "x"\n[site]\nsoil = "sand"\nfrost_depth = "30 in"\n'
LINE = '[[line]]\nname = "a"\npoints = [["0 ft", "0 ft"], ["300 ft", "0 ft"], ["420 ft", "155 ft"]]\n'
EXTRA = {
    "plain": "",
    "rock": '[[rock]]\nline = "a"\nat = "100 ft"\ndepth = "20 in"\n',
    "built": '[[built]]\nline = "a"\nat = "60 ft"\ndepth = "28 in"\nheight = "50 in"\n',
    "pin": '[[pin]]\nline = "a"\nat = "90 ft"\nheight = "55 in"\n',
    "tree": '[[obstacle]]\nkind = "tree"\npoints = [["100 ft", "1 ft"]]\n',
    "horizontal": '[brace]\nkind = "horizontal"\n',
    "driven": '[fence]\nline_posts = "driven"\n',
    "concrete": '[fence]\nline_posts = "concrete"\n',
    "strain": '[fence]\npull_length_limit = "200 ft"\n',
    "tee": '[[line]]\nname = "b"\npoints = [["150 ft", "0 ft"], ["150 ft", "120 ft"]]\n',
    "crossing": '[[crossing]]\nline = "a"\nat = "120 ft"\nwidth = "20 ft"\n',
    "zone": '[[soil_zone]]\nline = "a"\nfrom = "50 ft"\nto = "100 ft"\nsoil = "clay"\nunstable = true\n',
    "remainder": '[rolls]\nlength = "200 ft"\nremainders = ["150 ft"]\n',
    "two rails": '[[strand]]\nrail = "coated wire"\nheight = "20 in"\n[[strand]]\nrail = "polymer rail"\nheight = "48 in"\n',
    "two level bays": '[brace]\nkind = "horizontal"\nbays = 2\n',
    "two diagonals": "[brace]\nbays = 2\n",
    "no brace": '[brace]\nkind = "none"\n',
    "size": '[[size]]\nline = "a"\nat = "60 ft"\ndepth = "40 in"\nset = "concrete"\n',
}


def reasons_of(design: Design, name: str) -> dict[str, Reason]:
    return {reason.name: reason for reason in explain(design, name).reasons}


@pytest.mark.parametrize("case", EXTRA)
def test_every_number_is_the_designs(made: Made, case: str) -> None:
    fence = made(HEAD + LINE + EXTRA[case])
    posts = fence.layout.posts
    odd = (
        posts.is_fixed | posts.is_built | np.isfinite(posts.rock_depth_m) | np.isfinite(posts.pinned_height_m)
    )
    for row in np.flatnonzero(odd | (np.arange(len(posts)) % 5 == 0)).tolist():
        found = reasons_of(fence, post_id(row))
        expected = {
            "station": fence.layout.posts.station_m[row],
            "top above ground": fence.top_line.height_m[row],
            "hole depth": fence.holes.depth_m[row],
            "concrete": fence.holes.concrete_m3[row],
            "stock length": fence.cuts.stock_length_m[row],
            "cut": fence.cuts.cut_m[row],
            "uplift": fence.top_line.uplift_n[row],
        }
        got = {name: found[name].result for name in expected}
        assert got == pytest.approx(expected, abs=1e-6, nan_ok=True), (case, row)
    for row in range(len(fence.layout.braces)):
        assert reasons_of(fence, brace_id(row))["length"].result == pytest.approx(
            fence.layout.braces.length_m[row]
        )


def test_what_governs_a_hole_is_said(made: Made) -> None:
    fence = made(HEAD.replace("30 in", "47 in") + LINE + EXTRA["rock"] + EXTRA["built"])
    by_role = {Role(int(role)): row for row, role in enumerate(fence.layout.posts.role.tolist())}
    depth = reasons_of(fence, post_id(by_role[Role.END]))["hole depth"]
    assert "below frost" in depth.says
    assert depth.result == pytest.approx(48 * 0.0254)
    assert "frost_depth" in depth.next_smaller
    (rock,) = np.flatnonzero(np.isfinite(fence.layout.posts.rock_depth_m)).tolist()
    assert "rock" in reasons_of(fence, post_id(rock))["hole depth"].says
    (built,) = np.flatnonzero(fence.layout.posts.is_built).tolist()
    assert "already set" in reasons_of(fence, post_id(built))["stock length"].says
    assert reasons_of(fence, post_id(built))["top above ground"].says == "its height is pinned"


def test_origins_tell_the_job_from_a_trade_default(made: Made, small_job_text: str) -> None:
    small = made(small_job_text)
    depth = {one.symbol: one for one in reasons_of(small, "P1")["hole depth"].inputs}
    assert depth["d_p"].origin == "stated in the job, [holes] end_depth"
    assert depth["d_p"].value == pytest.approx(48 * 0.0254)
    assert depth["e"].origin.startswith("trade default holes.below_frost")
    lift = {one.symbol: one for one in reasons_of(small, "P9")["set"].inputs}
    assert "[btcv-590]" in lift["R_t"].origin
    bare = made(HEAD + LINE)
    spacing = {one.symbol: one for one in reasons_of(bare, "P3")["station"].inputs}
    assert "trade default layout.spacing_limit" in spacing["s_max"].origin


def test_the_next_shorter_stock_is_reached_by_what_is_said(made: Made, small_job_text: str) -> None:
    """86 in needed of 8 ft stock; 7 ft is 2 in short: common practice sizes, no source."""
    small = made(small_job_text)
    stock = reasons_of(small, "P9")["stock length"]
    assert stock.result == pytest.approx(8 * 0.3048)
    assert stock.next_smaller == "2 in less of hole depth, height and trim together"
    text = small_job_text.replace('line_depth = "30 in"', 'line_depth = "28 in"')
    assert reasons_of(made(text), "P9")["stock length"].result == pytest.approx(7 * 0.3048)


def test_one_post_fewer_in_a_bay_is_reached_by_what_is_said(made: Made) -> None:
    """300 ft at 12 ft is 25 bays; 24 need 12 ft less, or 12.5 ft spacing."""
    said = reasons_of(made(HEAD + LINE), "P3")["station"].next_smaller
    assert said.startswith("one post fewer in this bay: 12.0 ft less")
    assert "12.5 ft" in said
    wider = made(HEAD + LINE + '[fence]\nspacing_limit = "12.5 ft"\n')
    spans = {one.symbol: one.value for one in reasons_of(wider, "P3")["station"].inputs}
    assert spans["n"] == 24


def test_one_bag_fewer_is_reached_by_what_is_said(made: Made, small_job_text: str) -> None:
    said = reasons_of(made(small_job_text), "P1")["bags"].next_smaller
    assert said.startswith("the whole job's 49 bags become one fewer with 0.22 ft³ less")


def test_a_clearance_that_moves_a_post_is_named(made: Made) -> None:
    fence = made(HEAD + LINE + EXTRA["tree"])
    station = reasons_of(fence, "P9")["station"]
    barred = [one for one in station.inputs if one.name == "no post between these stations"]
    low, high = (value / 0.3048 for value in barred[1].value)  # type: ignore[union-attr,operator]  # a pair of stations
    assert low < 100 < high
    assert not any(
        barred[1].value[0] + 1e-6 < at < barred[1].value[1] - 1e-6  # type: ignore[index,operator]
        for at in fence.layout.posts.station_m.tolist()
    )


def test_a_strain_post_names_the_limits_of_a_pull(made: Made) -> None:
    fence = made(HEAD + LINE + EXTRA["strain"])
    row = int(np.flatnonzero(fence.layout.posts.role == int(Role.STRAIN))[0])
    station = reasons_of(fence, post_id(row))["station"]
    assert {one.symbol for one in station.inputs} == {"L_max", "mu", "q", "t_max"}
    limit = next(one.value for one in station.inputs if one.symbol == "t_max")
    assert limit == pytest.approx(-math.log(0.45) / 0.15)


def test_a_horizontal_brace_has_no_footing(made: Made) -> None:
    found = reasons_of(made(HEAD + LINE + EXTRA["horizontal"]), "B1")
    assert "footing depth" not in found
    assert found["length"].symbols == "l = r"


def test_the_sheets_units_are_those_of_the_text(made: Made) -> None:
    metric = made(HEAD.replace("[site]", 'sheets = "metric"\n[site]') + LINE)
    assert " m" in explain(metric, "P3").where
    assert "mm" in reasons_of(metric, "P3")["stock length"].next_smaller
