"""The field pack as a reader of PDF finds it: pages, marks, every post with its numbers, nothing run as markup."""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from fencewright.desk.paper_writing import paper_outputs
from fencewright.papers.measures import Measures
from fencewright.pipeline.record import Design

Pages = Callable[[PdfReader, str], range]
Pack = tuple[dict[str, Any], PdfReader]


def text_of(pdf: PdfReader, pages: range) -> str:
    return "\n".join(pdf.pages[page].extract_text() for page in pages)


def row_of(text: str, name: str) -> str:
    """What stands from the name of a row to the name of the next."""
    found = re.search(rf"^{name}\b\n?(.*?)(?=^[PB]\d+\b|\Z)", text, re.DOTALL | re.MULTILINE)
    assert found, name
    return " ".join(found.group(1).split())


def test_sections_stand_in_the_bookmarks_in_the_order_of_work(small: Pack) -> None:
    _, pdf = small
    titles = [str(one.title) for one in pdf.outline if not isinstance(one, list)]
    assert titles == [
        "Field pack", "What to look at", "Plan", "Long section", "Stake-out", "Hole schedule", "Brace setting",
        "Post sheet", "Rail-mark template", "Roll sheet", "Pull sheet", "Checklists", "Load list for the truck",
    ]  # fmt: skip


@pytest.mark.parametrize("pack", ["small", "large", "metric"])
def test_every_page_says_what_it_was_made_from(pack: str, request: pytest.FixtureRequest) -> None:
    record, pdf = request.getfixturevalue(pack)
    for number, page in enumerate(pdf.pages, start=1):
        text = page.extract_text()
        assert f"Page {number} of {len(pdf.pages)}" in text
        assert f"Revision C, design {record['digest'][:12]}, fencewright {record['version']}" in text
        assert "Ring" in text


def test_document_is_tagged_titled_and_has_a_language(small: Pack) -> None:
    _, pdf = small
    assert pdf.metadata is not None
    assert pdf.metadata.title == "Field pack: Ring"
    root: Any = pdf.trailer["/Root"]
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"]
    assert "/CreationDate" not in pdf.metadata


def test_every_drawing_has_words_for_those_who_cannot_see_it(small: Pack) -> None:
    _, pdf = small
    root: Any = pdf.trailer["/Root"]

    def figures(node: Any) -> list[Any]:
        node = node.get_object()
        if isinstance(node, list):
            return [one for kid in node for one in figures(kid)]
        if not isinstance(node, dict):
            return []
        own = [node] if node.get("/S") == "/Figure" else []
        return own + (figures(node["/K"]) if "/K" in node else [])

    found = figures(root["/StructTreeRoot"])
    assert len(found) >= 5
    assert all(len(str(one.get("/Alt", ""))) > 20 for one in found)


@pytest.mark.parametrize("pack", ["small", "large", "metric"])
def test_post_sheet_holds_every_post_and_its_numbers(
    pack: str, request: pytest.FixtureRequest, pages_of: Pages
) -> None:
    record, pdf = request.getfixturevalue(pack)
    told = Measures(record)
    text = text_of(pdf, pages_of(pdf, "Post sheet"))
    for post in record["posts"]:
        row = row_of(text, post["id"])
        for value in (post["above_ground_m"], post["cut_m"], *post["rail_marks_m"]):
            assert told.bare_small(value) in row, post["id"]
        assert post["bevel_falls"] in row


@pytest.mark.parametrize("pack", ["small", "large", "metric"])
def test_hole_schedule_holds_every_hole(pack: str, request: pytest.FixtureRequest, pages_of: Pages) -> None:
    record, pdf = request.getfixturevalue(pack)
    told = Measures(record)
    text = text_of(pdf, pages_of(pdf, "Hole schedule"))
    for post in record["posts"]:
        row = row_of(text, post["id"])
        assert told.bare_small(post["hole_depth_m"]) in row
        assert told.bare_small(post["hole_diameter_m"]) in row
        assert post["set"] in row
    for brace in record["braces"]:
        assert told.bare_small(brace["hole_depth_m"]) in row_of(text, brace["id"])


def test_ends_and_corners_are_dug_before_line_posts(small: Pack, pages_of: Pages) -> None:
    record, pdf = small
    text = text_of(pdf, pages_of(pdf, "Hole schedule"))
    order = re.findall(r"^(P\d+)\b", text, re.MULTILINE)
    role = {post["id"]: post["role"] for post in record["posts"]}
    kinds = [role[name] == "line" for name in order]
    assert sorted(kinds) == kinds
    assert len(order) == len(record["posts"])


def test_stake_out_holds_every_stake(large: Pack, pages_of: Pages) -> None:
    record, pdf = large
    told = Measures(record)
    text = text_of(pdf, pages_of(pdf, "Stake-out"))
    for stake in record["stake_out"]["stakes"]:
        assert told.bare_long(stake["station_m"]) in row_of(text, stake["id"])


def test_pull_sheet_says_where_it_is_held_and_how_the_spool_turns(small: Pack, pages_of: Pages) -> None:
    record, pdf = small
    told = Measures(record)
    text = text_of(pdf, pages_of(pdf, "Pull sheet"))
    row = record["tension"][0]
    for word in (row["tensioner_post"], row["anchor_post"], told.force(row["set_tension_n"]), "clockwise"):
        assert word in text
    for day in row["chart"]:
        assert told.bare_force(day["tension_n"]) in text
    for check in record["site_checks"]:
        assert f"{check['frequency_hz']:.1f}" in text


def test_roll_sheet_labels_every_piece(large: Pack, pages_of: Pages) -> None:
    record, pdf = large
    text = text_of(pdf, pages_of(pdf, "Roll sheet"))
    labels = [f"{roll['id']}/{n}" for roll in record["rolls"] for n in range(1, len(roll["pieces"]) + 1)]
    assert labels
    assert [label for label in labels if not re.search(rf"^{label}\b", text, re.MULTILINE)] == []


def test_what_nobody_stated_is_a_line_to_fill_in(small: Pack) -> None:
    _, pdf = small
    text = pdf.pages[0].extract_text()
    for name in ("Locating ticket", "Nearest hospital", "Dig from", "Runs out", "Private services"):
        assert name in text
    assert "never cut a tight rail" in text


HOSTILE = (
    r"#panic(\"x\") *bold* $x^2$ \U0001F600 \\#let [a](b) <lab> @ref // /* "
    + "y" * 200
    + r" = {{ `raw` \u202e #image(\"/etc/passwd\")"
)[:298]


def test_text_of_the_job_is_never_markup(designed: Callable[..., Design]) -> None:
    more = '[paper]\ncontacts = ["#sys.inputs *now*"]\nhospital = "St `Mary` #1"'
    made = designed(name=HOSTILE, more=more)
    pdf = PdfReader(_stream(paper_outputs(made)["field-pack.pdf"]))
    text = pdf.pages[0].extract_text()
    for word in ('#panic("x")', "*bold*", "$x^2$", "#sys.inputs *now*", "St `Mary` #1", "□"):
        assert word in text
    assert "Page 2 of" in pdf.pages[1].extract_text()


def test_a_design_not_to_be_built_says_so_on_every_page(designed: Callable[..., Design]) -> None:
    made = designed(more='[posts]\nline_lengths = ["6 ft"]')
    assert not made.may_be_built
    pdf = PdfReader(_stream(paper_outputs(made)["field-pack.pdf"]))
    assert all("NOT TO BE BUILT" in page.extract_text() for page in pdf.pages)


def test_paper_size_follows_the_sheets_or_the_job(
    small: Pack, metric: Pack, designed: Callable[..., Design]
) -> None:
    assert [round(float(one)) for one in small[1].pages[0].mediabox[2:]] == [612, 792]
    assert [round(float(one)) for one in metric[1].pages[0].mediabox[2:]] == [595, 842]
    made = designed(more='[paper]\nsize = "a4"')
    pdf = PdfReader(_stream(paper_outputs(made)["field-pack.pdf"]))
    assert [round(float(one)) for one in pdf.pages[0].mediabox[2:]] == [595, 842]


def test_logo_stands_on_the_cover(designed: Callable[..., Design], tmp_path: Path) -> None:
    (tmp_path / "logo.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 30 10"><text x="1" y="8" font-size="8">OURS</text></svg>'
    )
    made = designed(more='[paper]\nlogo = "logo.svg"', at=tmp_path)
    pdf = PdfReader(_stream(paper_outputs(made)["field-pack.pdf"]))
    assert "OURS" in pdf.pages[0].extract_text()


def _stream(content: bytes) -> Any:
    from io import BytesIO

    return BytesIO(content)
