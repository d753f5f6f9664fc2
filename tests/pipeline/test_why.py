"""Why: each number that `explain` computes again on one row is the design's own, for every thing of two jobs."""

import json
import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

import fencewright
from fencewright.desk.reading import read_job
from fencewright.desk.running import design
from fencewright.findings import InputError
from fencewright.pipeline.record import Design, brace_id, post_id, pull_id
from fencewright.pipeline.why import Explanation, explain, explanation_record, source_text
from fencewright.sources import all_sources
from fencewright.tables.fence import Role, Setting

EXAMPLES = Path(__file__).parents[2] / "examples"
Made = Callable[[str], Design]


@pytest.fixture(scope="module", params=["small-paddock", "rolling-pasture"])
def example(request: pytest.FixtureRequest) -> Design:
    """One of the shipped jobs."""
    return design(read_job(EXAMPLES / request.param / "job.toml"))


@pytest.fixture(scope="module")
def rows(example: Design) -> np.ndarray:
    """Every post of a small job; of a larger one every fixed post, and every fourth of the rest."""
    posts = example.layout.posts
    step = 1 if len(posts) < 100 else 4
    return np.flatnonzero(posts.is_fixed | (np.arange(len(posts)) % step == 0))


@pytest.fixture(scope="module")
def explained_posts(example: Design, rows: np.ndarray) -> list[Explanation]:
    return [explain(example, post_id(row)) for row in rows.tolist()]


def column(explanations: list[Explanation], name: str) -> list[object]:
    """Result of the reason of that name, NaN where there is none."""
    return [next((r.result for r in one.reasons if r.name == name), math.nan) for one in explanations]


def numbers(explanations: list[Explanation], name: str) -> np.ndarray:
    return np.array(column(explanations, name), np.float64)


def test_posts_stand_where_the_design_has_them(
    example: Design, rows: np.ndarray, explained_posts: list[Explanation]
) -> None:
    posts = example.layout.posts
    np.testing.assert_allclose(numbers(explained_posts, "station"), posts.station_m[rows], atol=1e-9)
    np.testing.assert_allclose(numbers(explained_posts, "diameter"), posts.diameter_m[rows])
    assert column(explained_posts, "role") == [Role(int(role)).label for role in posts.role[rows]]


def test_tops_uplift_and_precision_are_the_designs(
    example: Design, rows: np.ndarray, explained_posts: list[Explanation]
) -> None:
    np.testing.assert_allclose(numbers(explained_posts, "top above ground"), example.top_line.height_m[rows])
    np.testing.assert_allclose(
        numbers(explained_posts, "standard deviation of the top"), example.top_sd_m[rows]
    )
    np.testing.assert_allclose(
        numbers(explained_posts, "uplift"), example.top_line.uplift_n[rows], rtol=1e-9, atol=1e-6
    )


def test_holes_and_concrete_are_the_designs(
    example: Design, rows: np.ndarray, explained_posts: list[Explanation]
) -> None:
    holes = example.holes
    np.testing.assert_allclose(numbers(explained_posts, "hole depth"), holes.depth_m[rows])
    np.testing.assert_allclose(numbers(explained_posts, "concrete"), holes.concrete_m3[rows])
    np.testing.assert_allclose(np.nan_to_num(numbers(explained_posts, "bags")), example.bags[rows])
    widths = np.column_stack([holes.diameter_m, holes.bell_m])[rows]
    np.testing.assert_allclose(numbers(explained_posts, "hole width, top and bottom"), widths)
    assert column(explained_posts, "set") == [Setting(int(one)).label for one in holes.set[rows]]


def test_stock_cut_and_marks_are_the_designs(
    example: Design, rows: np.ndarray, explained_posts: list[Explanation]
) -> None:
    np.testing.assert_array_equal(numbers(explained_posts, "stock length"), example.cuts.stock_length_m[rows])
    np.testing.assert_allclose(numbers(explained_posts, "cut"), example.cuts.cut_m[rows], atol=1e-12)
    np.testing.assert_allclose(numbers(explained_posts, "rail marks"), example.rail_marks_m[rows])
    np.testing.assert_allclose(
        numbers(explained_posts, "hole centre, left of the string"), example.layout.posts.offset_m[rows]
    )


def test_braces_are_the_designs(example: Design) -> None:
    braces = example.layout.braces
    explained = [explain(example, brace_id(row)) for row in range(len(braces))]
    np.testing.assert_allclose(numbers(explained, "reach"), braces.reach_m)
    np.testing.assert_allclose(numbers(explained, "contact"), braces.contact_m)
    np.testing.assert_allclose(numbers(explained, "length"), braces.length_m, rtol=1e-12)
    np.testing.assert_allclose(numbers(explained, "footing depth"), example.brace_holes.depth_m)
    np.testing.assert_allclose(numbers(explained, "concrete"), example.brace_holes.concrete_m3)
    np.testing.assert_allclose(numbers(explained, "bags"), example.brace_bags)
    stock = [length for length in numbers(explained, "stock length").tolist() if math.isfinite(length)]
    ordered = sum(line.order for line in example.order if line.item == "brace")
    assert len(stock) == ordered


def test_pulls_and_their_pieces_are_the_designs(example: Design) -> None:
    pulls = example.pulls
    ids = [pull_id(int(r), int(s)) for r, s in zip(pulls.run_index, pulls.strand, strict=True)]
    explained = [explain(example, one) for one in ids]
    np.testing.assert_allclose(numbers(explained, "length"), pulls.length_m, rtol=1e-12)
    np.testing.assert_allclose(numbers(explained, "turning in space"), pulls.turning_3d_rad, atol=1e-9)
    np.testing.assert_allclose(numbers(explained, "rail to cut"), pulls.rail_m, rtol=1e-12)
    np.testing.assert_allclose(
        numbers(explained, "standard deviation of the length"), example.length_sd_m, rtol=1e-9, atol=1e-12
    )
    pieces = [r.result for one in explained for r in one.reasons if r.name == "piece"]
    cut = np.concatenate([one.cut_list.rail_m for one in example.cutting])
    np.testing.assert_allclose(np.sort(np.array(pieces, np.float64)), np.sort(cut))


def test_gates_and_crossings_are_the_designs(example: Design) -> None:
    table = example.layout.openings
    explained = [explain(example, name) for name in table.name]
    assert [one.kind == "crossing" for one in explained] == table.is_crossing.tolist()
    np.testing.assert_allclose(numbers(explained, "opening between post faces"), table.opening_m)
    np.testing.assert_allclose(numbers(explained, "leaf"), table.leaf_m)
    apart = example.layout.spans.length_m[table.span_index]
    np.testing.assert_allclose(numbers(explained, "distance between post centres"), apart, atol=1e-6)


def test_every_reason_is_whole(example: Design) -> None:
    """Each says what it is, its formula twice, where each input is from, and cites what the register has."""
    ids = ["P1", "P9", "B1", "R1-1", example.layout.openings.name[0]]
    for reason in [reason for one in ids for reason in explain(example, one).reasons]:
        assert reason.name
        assert reason.says
        assert reason.words
        assert reason.symbols
        assert not reason.source or reason.source in all_sources()
        assert all(one.symbol and one.name and one.origin for one in reason.inputs), reason.name
        assert any(one.symbol in reason.symbols for one in reason.inputs) or not reason.inputs, reason.name


def test_the_record_is_plain_json(example: Design) -> None:
    record = explanation_record(explain(example, "P3"))
    assert json.loads(json.dumps(record, allow_nan=False)) == record
    assert record["id"] == "P3"
    assert {"name", "says", "inputs", "words", "symbols", "result", "unit", "source", "next_smaller"} <= set(
        record["reasons"][0]
    )


def test_the_package_gives_explain() -> None:
    assert fencewright.explain is explain
    assert "explain" in fencewright.__all__


@pytest.mark.parametrize(
    ("wanted", "words"),
    [
        ("P55", "there is no post P55: the nearest is P54; posts are P1 to P54"),
        ("p0", "there is no post p0: the nearest is P1; posts are P1 to P54"),
        ("B99", "there is no brace B99: the nearest is B8; braces are B1 to B8"),
        ("R2-1", "there is no pull R2-1: the nearest is R1-1; pulls are R1-1 to R1-4"),
        ("R1-9", "there is no pull R1-9: the nearest is R1-4"),
        ("gate1", 'did you mean "gate 1"?'),
        ("", "posts P1 to P54; braces B1 to B8; pulls R1-1 to R1-4"),
    ],
)
def test_an_unknown_name_gives_the_nearest_and_the_range(
    made: Made, small_job_text: str, wanted: str, words: str
) -> None:
    with pytest.raises(InputError) as caught:
        explain(made(small_job_text), wanted)
    assert words in str(caught.value)


def test_case_and_blanks_do_not_matter(made: Made, small_job_text: str) -> None:
    small = made(small_job_text)
    assert explain(small, " p7 ") == explain(small, "P7")
    assert explain(small, "GATE 1").kind == "gate"


def test_a_source_is_written_with_its_title() -> None:
    assert source_text("btcv-590").startswith("TCV/BTCV, Fencing Handbook")
    assert source_text("") == "none: the job's own numbers, and geometry"
    assert source_text("no such key") == "no such key"
