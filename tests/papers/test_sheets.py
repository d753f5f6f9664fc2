"""Words and rows of the single sheets."""

from typing import Any

import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.papers.blocks import Band, Column, Section, Table, Ticks, is_cut, paper_data
from fencewright.papers.blocks import Paper as PaperRecord
from fencewright.papers.check_sheets import check_section
from fencewright.papers.frame import room_mm
from fencewright.papers.hole_sheet import setting
from fencewright.papers.load_sheet import load_section
from fencewright.papers.measures import Measures
from fencewright.papers.post_sheet import post_section
from fencewright.papers.pull_sheet import pull_section, turning_words
from fencewright.papers.roll_sheet import roll_section
from fencewright.papers.stake_sheets import stake_section

US: dict[str, Any] = {"job": {"sheets": "us"}}


@pytest.mark.parametrize(
    ("face", "is_at_first", "way", "side"),
    [
        ("left", True, "anticlockwise", "left"),
        ("right", True, "clockwise", "right"),
        ("left", False, "clockwise", "right"),
        ("right", False, "anticlockwise", "left"),
    ],
)
def test_a_spool_turns_so_that_it_draws_the_rail_in(
    face: str, is_at_first: bool, way: str, side: str
) -> None:
    """Spool at the origin, anchor far along +x; a rail on its left (+y) is drawn towards -x there: anticlockwise."""
    assert turning_words(face, is_at_first).startswith(f"{way}, seen from above; the rail lies {side}")


def test_a_tensioner_on_either_face_is_told_both_ways() -> None:
    assert "anticlockwise from above with the rail left of it, else clockwise" in turning_words("both", True)


def test_bags_are_whole_and_none_is_not_told() -> None:
    assert setting("concrete", 4.01) == "concrete, 5 bags"
    assert setting("concrete", 4.0) == "concrete, 4 bags"
    assert setting("tamped", 0.0) == "tamped"


def test_unknown_numbers_are_dashes() -> None:
    told = Measures(US)
    assert [told.small(None), told.long(None), told.force(None), told.degrees(None), told.mass(None)] == [
        "–"
    ] * 5


def test_tolerances_are_those_of_practice() -> None:
    practice = shipped_catalogue().practice
    own = {
        name.removeprefix("measured."): row.value
        for name, row in practice.items()
        if name.startswith("measured.")
    }
    record = {**US, "tolerances": [{"what": what, "within_m": value} for what, value in own.items()]}
    section = check_section(record)
    rows = [row for block in section.blocks if isinstance(block, Ticks) for row in block.rows]
    assert ("Face on the string", "1/8 in off it") in rows
    assert ("Plumb both ways", "1/4 in at the top") in rows


def test_sections_without_matter_are_left_out() -> None:
    record = {**US, "pulls": [], "load": {"loads": []}, "stake_out": None}
    assert pull_section(record) is None
    assert load_section(record) is None
    assert stake_section(record) is None


def test_a_splice_is_told_by_the_posts_beside_it() -> None:
    spans = [
        {"run": "R1", "from_post": f"P{k}", "to_post": f"P{k + 1}", "slope_length_m": 10.0} for k in (1, 2, 3)
    ]
    pull = {"id": "R1-1", "run": "R1", "rail_m": 31.0, "tail_m": 0.5, "from_post": "P1", "to_post": "P4"}
    pieces = [
        {"pull": "R1-1", "from_m": 0.0, "to_m": 12.0, "rail_m": 12.1},
        {"pull": "R1-1", "from_m": 12.0, "to_m": 31.0, "rail_m": 19.0},
    ]
    roll = {
        "id": "C1",
        "product": "rail",
        "from_yard": True,
        "length_m": 40.0,
        "offcut_m": 8.9,
        "pieces": pieces,
    }
    record = {**US, "spans": spans, "pulls": [pull], "rolls": [roll]}
    table = roll_section(record).blocks[1]
    assert isinstance(table, Table)
    assert [row[6] for row in table.rows if isinstance(row, list)] == ["P2 to P3", "–"]


def test_a_cell_too_long_for_its_column_is_cut() -> None:
    table = Table([Column("a", 20.0)], [["a text that is much too long for it"]])
    paper = PaperRecord("t", "k", "a4", {}, [Section("s", [table])])
    assert paper_data(paper)["sections"][0]["blocks"][0]["rows"][0][0].endswith("…")


@pytest.mark.parametrize("pack", ["small", "metric"])
def test_no_table_is_wider_than_its_page(pack: str, request: pytest.FixtureRequest) -> None:
    record, _ = request.getfixturevalue(pack)
    for section in (stake_section(record), roll_section(record), pull_section(record), load_section(record)):
        assert section is not None
        for block in section.blocks:
            if isinstance(block, Table):
                assert sum(column.width_mm for column in block.columns) <= room_mm("a4")[0] + 1e-6


@pytest.mark.parametrize("sheets", ["us", "metric"])
@pytest.mark.parametrize("rails", [3, 5])
def test_no_cell_of_the_post_sheet_is_cut(sheets: str, rails: int) -> None:
    post = {
        "id": "P1234", "role": "crossing", "stock_length_m": 3.048, "control": True, "cut": True, "cut_m": 0.3366,
        "above_ground_m": 1.3716 + 0.0032, "rail_marks_m": [1.0 + 0.3 * k / rails for k in range(rails)],
        "bevel_falls": "right", "bevel_rad": 0.13, "line": "a",
    }  # fmt: skip
    section = post_section(
        {"job": {"sheets": sheets}, "posts": [post, {**post, "cut": False, "cut_m": None}]}
    )
    table = next(one for one in section.blocks if isinstance(one, Table))
    assert not section.is_landscape
    for row in table.rows:
        if not isinstance(row, Band):
            cut = [cell for cell, one in zip(row, table.columns, strict=True) if is_cut(cell, one)]
            assert not cut
