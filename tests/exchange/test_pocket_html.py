"""The one file for a phone by the fence: every post and cut in it, nothing that runs, nothing that is fetched."""

import re
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.exchange.design_json import design_json
from fencewright.exchange.pocket_html import pocket_html
from fencewright.findings.cautions import DESIGN_CAUTIONS

JOB = """
[job]
name = '''{name}'''
sheets = "us"
[[line]]
name = "lane"
points = [["0 ft", "0 ft"], ["90 ft", "0 ft"], ["90 ft", "60 ft"]]
"""


def _record(name: str = "Lane end") -> dict[str, Any]:
    return design_json(design(job_from_text(JOB.format(name=name), Path())))[0]


class _Reader(HTMLParser):
    """Gathers tags, attributes and text."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str]] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += [(name, value or "") for name, value in attrs]

    def handle_data(self, data: str) -> None:
        self.text += f" {data}"


def _read(content: bytes) -> _Reader:
    reader = _Reader()
    reader.feed(content.decode("utf-8"))
    return reader


def test_its_cautions_are_those_of_every_paper() -> None:
    text = _read(pocket_html(_record(), {})).text
    for caution in DESIGN_CAUTIONS:
        assert caution in text


def test_a_drawing_says_how_wide_its_paper_is() -> None:
    drawn = b'<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" width="279.4mm" height="215.9mm"/>'
    assert ("style", "--paper:279.4mm") in _read(pocket_html(_record(), {"plan.svg": drawn})).attributes


def test_every_post_its_cut_and_every_pull_are_in_it() -> None:
    record = _record()
    text = _read(pocket_html(record, {})).text
    for post in record["posts"]:
        assert re.search(rf"\b{post['id']}\b", text)
        assert f"{post['cut_m'] / 0.0254:.2f}" in text
    for pull in record["pulls"]:
        assert pull["id"] in text
    assert record["digest"][:12] in text
    assert "A wire under tension can kill" in text


def test_nothing_runs_and_nothing_is_fetched() -> None:
    reader = _read(pocket_html(_record(), {"plan.svg": b"<svg xmlns='http://www.w3.org/2000/svg'/>"}))
    assert not {"script", "iframe", "link", "object", "form"} & set(reader.tags)
    for name, value in reader.attributes:
        assert not name.startswith("on")
        if name in ("src", "href"):
            assert value.startswith("data:image/svg+xml;base64,")


@pytest.mark.parametrize(
    "name", ["<script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "\U0001f40e " + "x" * 290]
)
def test_a_name_with_markup_is_only_text(name: str) -> None:
    reader = _read(pocket_html(_record(name), {}))
    assert "script" not in reader.tags
    assert "img" not in reader.tags
    assert name in reader.text


def test_what_must_not_be_built_says_so() -> None:
    record = {**_record(), "may_be_built": False}
    assert "NOT TO BE BUILT" in _read(pocket_html(record, {})).text
    assert "NOT TO BE BUILT" not in _read(pocket_html(_record(), {})).text


def test_a_finding_names_its_place_once_and_its_remedy_in_a_row_of_its_own() -> None:
    record = _record()
    line = {"kind": "line", "id": "lane", "line": "lane", "station_m": 0.0}
    post = {"kind": "post", "id": "P2", "line": "lane", "station_m": 0.0}
    said = {"level": "stop", "code": "x", "message": "Too short.", "remedy": "Lengthen it."}
    record["findings"] = [{**said, "where": line}, {**said, "where": post, "remedy": ""}]
    page = pocket_html(record, {}).decode()
    assert "<li><b>Stop: lane</b><br>Too short.<br>Lengthen it.</li>" in page
    assert "<li><b>Stop: P2, lane</b><br>Too short.</li>" in page


def test_what_is_bought_stands_first_and_what_is_wide_says_so() -> None:
    page = pocket_html(_record(), {"plan.svg": b"<svg xmlns='http://www.w3.org/2000/svg'/>"}).decode()
    order = page[page.index("<summary>Order") :]
    assert "<thead><tr><th>item</th><th>size</th>" in order
    assert page.count("drag it sideways") == page.count('<div class="frame">')
