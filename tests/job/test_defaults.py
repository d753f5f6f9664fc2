"""What a job leaves out: trade defaults, assumptions said aloud, strands, stock, and what cannot be built."""

import math
import re
from collections.abc import Callable

import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.findings import CAUTION, NOTE, Finding, InputError
from fencewright.job.defaults import fill_defaults
from fencewright.job.reading import parse_job
from fencewright.job.settings import Settings

Filled = Callable[..., tuple[Settings, dict[str, Finding]]]
INCH, FOOT = 0.0254, 0.3048
ZONE = "[[soil_zone]]\nline='{}'\nfrom='{} ft'\nto='{} ft'\nsoil='{}'\n"
SAND = ZONE.format("a", 2, 9, "sand")


def test_soil_frost_and_temperatures_are_assumed_aloud(filled: Filled) -> None:
    settings, findings = filled()
    assert {"assumed-soil", "assumed-frost", "assumed-temperatures"} <= set(findings)
    assert {one.level for one in findings.values()} == {CAUTION}
    assert "clay" in findings["assumed-soil"].message
    assert "36 in" in findings["assumed-frost"].message
    assert settings.soil.name == "clay"
    assert settings.frost_m == pytest.approx(36 * INCH)


def test_what_is_stated_is_not_assumed(filled: Filled) -> None:
    settings, findings = filled(
        "[site]\nsoil='sand'\nfrost_depth='47 in'\ncoldest='-20 F'\nhottest='100 F'\n"
    )
    assert not {"assumed-soil", "assumed-frost", "assumed-temperatures"} & set(findings)
    assert (settings.soil.soil_class, settings.soil.heaves) == (4, False)


def test_what_is_assumed_is_told_in_the_units_of_the_sheets() -> None:
    text = '[job]\nname = "a"\nsheets = "metric"\n[[line]]\nname = "a"\npoints = [["0 m", "0 m"], ["50 m", "0 m"]]\n'
    _, findings = fill_defaults(parse_job(text), shipped_catalogue())
    said = {one.code: f"{one.message} {one.remedy}" for one in findings}
    assert "coldest -30 C and hottest 40 C" in said["assumed-temperatures"]
    assert "a gust of 26 m/s" in said["assumed-wind"]
    assert "m/s" in said["assumed-wind"].split("as ")[-1]
    assert not re.search(r"\d (mph|F|in|ft)\b", said["assumed-temperatures"] + said["assumed-wind"])


def test_one_temperature_is_not_enough(filled: Filled) -> None:
    assert "assumed-temperatures" in filled("[site]\ncoldest='-20 F'\n")[1]


def test_common_practice_fills_the_rest(filled: Filled) -> None:
    """Common practice, no source (issue 3, checks against the outside)."""
    settings, _ = filled("[site]\nfrost_depth='17 in'\n")
    inches = {
        "top": settings.top_height_m, "end post": settings.posts.end_diameter_m, "auger": settings.holes.auger_m,
        "reach": settings.brace.reach_m, "contact": settings.brace.contact_m, "lean": settings.brace.lean_m,
        "ends": settings.holes.end_depth_m, "recess": settings.holes.recess_m, "brace": settings.holes.brace_top_m,
        "trim": settings.posts.trim_m,
    }  # fmt: skip
    assert {name: round(value / INCH, 6) for name, value in inches.items()} == {
        "top": 54, "end post": 6, "auger": 12, "reach": 70, "contact": 40, "lean": 1, "ends": 36, "recess": 4,
        "brace": 18, "trim": 2,
    }  # fmt: skip
    assert len(settings.strands) == 4
    assert 4 <= settings.posts.line_diameter_m / INCH <= 5
    assert math.radians(5) <= settings.posts.bevel_rad <= math.radians(10)
    assert settings.layout.spacing_limit_m == pytest.approx(12 * FOOT)
    assert settings.layout.string_beyond_m == pytest.approx(6 * FOOT)


def test_one_pull_may_turn_round_three_corners(filled: Filled) -> None:
    """Common practice, no source: default friction and far-end share admit 270 degrees."""
    layout = filled()[0].layout
    assert math.exp(-layout.friction_worked * math.radians(270)) >= layout.far_end_share


@pytest.mark.parametrize(("frost", "end", "why"), [("17 in", 36, "practice"), ("47 in", 48, "frost")])
def test_concreted_holes_reach_below_frost(filled: Filled, frost: str, end: float, why: str) -> None:
    holes = filled(f"[site]\nfrost_depth='{frost}'\n")[0].holes
    assert holes.end_depth_m == pytest.approx(end * INCH)
    assert (holes.end_governs, holes.line_governs) == (why, "practice")
    assert holes.line_depth_m == pytest.approx(30 * INCH)


def test_a_stated_depth_is_kept_and_checked(filled: Filled) -> None:
    settings, findings = filled("[site]\nfrost_depth='47 in'\n[holes]\nend_depth='36 in'\n")
    assert settings.holes.end_depth_m == pytest.approx(36 * INCH)
    assert settings.holes.end_governs == "stated"
    assert "11 in above the frost line" in findings["above-frost"].message


@pytest.mark.parametrize(
    ("kept", "rails", "top", "gap"),
    [("'horses'", 4, 54, 12), ("'foals'", 5, 54, 8), ("'stallions'", 5, 60, 12),
     ("'cattle'", 4, 54, 16), ("'sheep'", 6, 42, 6),
     ("'sheep', 'stallions'", 6, 60, 6)],
)  # fmt: skip
def test_stock_proposes(filled: Filled, kept: str, rails: int, top: float, gap: float) -> None:
    """Rows of stock.toml name their sources; two kinds take the harder of each."""
    settings, findings = filled(f"[stock]\nkept=[{kept}]\n")
    assert len(settings.strands) == rails
    assert settings.top_height_m == pytest.approx(top * INCH)
    assert settings.bottom_gap_m == pytest.approx(gap * INCH)
    proposal = findings["stock-proposes"]
    assert proposal.level == NOTE
    assert f"{rails} rails" in proposal.message


def test_a_top_lower_than_the_stock_asks_for(filled: Filled) -> None:
    settings, findings = filled("[stock]\nkept=['stallions']\n[fence]\ntop_height='54 in'\n")
    assert settings.top_height_m == pytest.approx(54 * INCH)
    assert "6 in lower" in findings["stock-height"].message
    assert 'top_height = "60 in"' in findings["stock-height"].remedy


def test_four_equal_rails_spread_evenly(filled: Filled) -> None:
    settings, _ = filled("[fence]\nrails=4\ntop_height='54 in'\nbottom_gap='12 in'\n")
    heights = [strand.height_m / INCH for strand in settings.strands]
    assert heights[0] == pytest.approx(12 + 2.5)  # a 5 in face over the gap
    assert heights[-1] == pytest.approx(54 - 1 - 2.5)  # under the reveal
    assert heights[1] - heights[0] == pytest.approx(heights[3] - heights[2])


def test_a_rail_over_wires_with_one_stated(filled: Filled) -> None:
    strands = "[[strand]]\nrail='coated wire'\nheight='14 in'\n[[strand]]\nrail='coated wire'\n" \
        "[[strand]]\nrail='coated wire'\n[[strand]]\nrail='polymer rail'\n"  # fmt: skip
    settings, _ = filled(strands)
    heights = [strand.height_m / INCH for strand in settings.strands]
    assert heights == pytest.approx([14, 26.1666667, 38.3333333, 50.5])
    assert settings.bottom_gap_m / INCH == pytest.approx(14 - 0.16)
    assert [strand.rail.is_wire for strand in settings.strands] == [True, True, True, False]


def test_one_rail_hangs_under_the_top(filled: Filled) -> None:
    settings, _ = filled("[fence]\nrails=1\n")
    assert settings.strands[0].height_m / INCH == pytest.approx(50.5)


@pytest.mark.parametrize(
    ("more", "item", "sentence"),
    [
        ("[site]\nsoil='snad'\n", "site, soil", "did you mean 'sand'?"),
        ("[stock]\nkept=['horse']\n", "stock, kept", "did you mean 'horses'?"),
        ("[fence]\nrail='steel'\n", "fence, rail", "there is no rail 'steel'"),
        ("[holes]\nbag='81 lb'\n", "holes, bag", "did you mean '80 lb'?"),
        ("[fence]\nrails=9\n", "strand", "overlap"),
        ("[fence]\nrails=3\n[[strand]]\nrail='coated wire'\n", "fence", "leave rails out"),
        ("[[strand]]\nrail='polymer rail'\nheight='56 in'\n", "strand", "above the cut top"),
        ("[[strand]]\nrail='polymer rail'\nheight='1 in'\n[[strand]]\nrail='polymer rail'\n", "strand", "in the ground"),
        ("[site]\ncoldest='20 C'\nhottest='10 C'\n", "site, coldest", "not below hottest"),
        ("[fence]\nspacing_limit='1 ft'\n", "fence, spacing_limit", "cannot be dug"),
        ("[fence]\nspacing_limit='12 mm'\n", "fence, spacing_limit", "check its unit"),
        ("[fence]\nfar_end_share=1.0\n", "fence, far_end_share", "between 0 and 1"),
        ("[fence]\ncorner_angle='-20 deg'\n", "fence, corner_angle", "between 2 and 180 deg"),
        ("[fence]\npull_length_limit='1 ft'\n", "fence, pull_length_limit", "no room between its end posts"),
        ("[holes]\nauger='6 in'\n", "holes, auger", "no wider than the post"),
        ("[holes]\nline_depth='0 in'\n", "holes", "depth must be more than nothing"),
        ("[posts]\nend_lengths=[]\n", "posts, end_lengths", "at least one stock length"),
        ("[posts]\nline_diameter='0 in'\n", "posts", "diameter must be more than nothing"),
        ("[brace]\nreach='6 in'\n", "brace, reach", "break into its post's"),
        ("[brace]\ncontact='5 ft'\n", "brace, contact", "below its cut top"),
        ("[rolls]\nlength='1 ft'\n", "rolls, length", "no longer than two splices"),
        ("[rolls]\nremainders=['0 ft']\n", "rolls, remainders", "longer than nothing"),
        ("[[soil_zone]]\nline='a'\nfrom='1 m'\nto='2 m'\nsoil='sannd'\n", "soil_zone 1, soil", "did you mean 'sand'?"),
        ("[[soil_zone]]\nline='a'\nfrom='9 m'\nto='2 m'\nsoil='sand'\n", "soil_zone 1", "not before"),
        (SAND + ZONE.format("a", 8, 20, "clay"), "soil_zone 2", "soil_zone 1 (sand), from 8.0 ft to 9.0 ft"),
        (SAND + ZONE.format("a", 1, 3, "clay"), "soil_zone 2", "soil_zone 1 (sand), from 2.0 ft to 3.0 ft"),
    ],
)  # fmt: skip
def test_what_cannot_be_built_is_refused(filled: Filled, more: str, item: str, sentence: str) -> None:
    with pytest.raises(InputError) as refused:
        filled(more)
    assert refused.value.item == item
    assert sentence in refused.value.what


def test_zones_may_meet_and_share_stations_of_other_lines(filled: Filled) -> None:
    filled(SAND + ZONE.format("a", 9, 20, "clay") + ZONE.format("b", 2, 9, "clay"))


@pytest.mark.parametrize(
    ("kept", "top", "gap"),
    [
        ("horses", 1.4, 0.3),
        ("foals", 1.4, 0.2),
        ("stallions", 1.55, 0.3),
        ("cattle", 1.35, 0.45),
        ("sheep", 1.1, 0.15),
    ],
)
def test_what_stock_asks_for_is_round_on_metric_sheets(kept: str, top: float, gap: float) -> None:
    text = f'[job]\nname = "a"\nsheets = "metric"\n[stock]\nkept = ["{kept}"]\n'
    text += '[[line]]\nname = "a"\npoints = [["0 m", "0 m"], ["50 m", "0 m"]]\n'
    settings, _ = fill_defaults(parse_job(text), shipped_catalogue())
    assert settings.top_height_m == pytest.approx(top)
    assert settings.bottom_gap_m == pytest.approx(gap)


def test_a_metric_top_is_held_to_the_source_and_not_to_its_round_twin() -> None:
    """Horses: 54 in = 1,372 mm at least; 1.4 m is proposed, 1.38 m is no fault."""
    text = '[job]\nname = "a"\nsheets = "metric"\n[stock]\nkept = ["horses"]\n[fence]\ntop_height = "{}"\n'
    text += '[[line]]\nname = "a"\npoints = [["0 m", "0 m"], ["50 m", "0 m"]]\n'
    codes = [
        {one.code for one in fill_defaults(parse_job(text.format(top)), shipped_catalogue())[1]}
        for top in ("1.38 m", "1.36 m")
    ]
    assert ["stock-height" in one for one in codes] == [False, True]


def test_a_soil_without_values_says_so(filled: Filled) -> None:
    settings, findings = filled("[site]\nsoil='peat'\n")
    assert math.isnan(settings.soil.bearing_pa)
    assert findings["soil-without-values"].level == CAUTION


def test_unstable_ground_is_concreted(filled: Filled) -> None:
    assert filled("[site]\nunstable=true\n")[0].holes.line_set == "concrete"
    assert filled("[site]\nunstable=true\n[fence]\nline_posts='driven'\n")[0].holes.line_set == "driven"


def test_every_default_of_the_layout_comes_from_practice(filled: Filled) -> None:
    practice = shipped_catalogue().practice
    layout = filled()[0].layout
    assert layout.friction_worked == practice["layout.friction_worked"].value
    assert layout.pull_length_limit_m == practice["layout.pull_length_limit"].value
    assert filled("[fence]\nfriction=0.3\n")[0].layout.friction_worked == 0.3


def test_posts_and_braces_are_sold_in_round_lengths_of_the_sheets() -> None:
    """Whole feet on US sheets, steps of 300 mm on metric ones; what the job states is taken as it is."""
    head = (
        '[job]\nname = "a"\nsheets = "{}"\n[[line]]\nname = "a"\npoints = [["0 m", "0 m"], ["50 m", "0 m"]]\n'
    )
    for sheets, step_m in (("us", 0.3048), ("metric", 0.3)):
        settings, _ = fill_defaults(parse_job(head.format(sheets)), shipped_catalogue())
        posts, brace = settings.posts, settings.brace
        for lengths in (posts.line_lengths_m, posts.end_lengths_m, brace.lengths_m):
            assert len(lengths) >= 3
            assert [one / step_m for one in lengths] == pytest.approx(
                [round(one / step_m) for one in lengths]
            )
    stated = '[posts]\nline_lengths = ["7 ft"]\nend_lengths = ["8 ft"]\n[brace]\nlengths = ["9 ft"]\n'
    settings, _ = fill_defaults(parse_job(head.format("metric") + stated), shipped_catalogue())
    assert settings.posts.line_lengths_m == pytest.approx((7 * 0.3048,))
    assert settings.posts.end_lengths_m == pytest.approx((8 * 0.3048,))
    assert settings.brace.lengths_m == pytest.approx((9 * 0.3048,))
