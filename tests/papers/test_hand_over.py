"""The hand-over as a reader of PDF finds it: what was built, measured and checked, tension, upkeep."""

import re
from collections.abc import Callable
from io import BytesIO
from typing import Any

import icalendar
import pytest
from pypdf import PdfReader

from fencewright.desk.paper_writing import paper_outputs
from fencewright.desk.scheduling import programme
from fencewright.exchange.design_json import design_record
from fencewright.exchange.programme_json import programme_json
from fencewright.papers.blocks import Table
from fencewright.papers.frame import room_mm
from fencewright.papers.hand_over import hand_over
from fencewright.papers.measures import Measures
from fencewright.pipeline.record import Design

MEASURED = """
[programme]
start = "2026-04-06"
private_services = "none"
latitude = 45.0
[paper]
builder_phone = "555 0100"
[[measured]]
post = "P5"
revision = "C"
what = "top"
value = "54 in"
by = "A. Builder"
when = 2026-06-02
[[measured]]
post = "P6"
revision = "C"
what = "plumb"
value = "1 in"
by = "A. Builder"
when = 2026-06-03
[[measured]]
post = "P7"
revision = "C"
what = "depth"
value = "50 in"
[[measured]]
pull = "R1-1"
what = "tension"
value = "20 lbf"
temperature = "68 F"
"""
Written = tuple[Design, dict[str, bytes], str]


def read_pdf(content: bytes) -> PdfReader:
    return PdfReader(BytesIO(content))


def flat(content: bytes) -> str:
    return " ".join(" ".join(page.extract_text() for page in read_pdf(content).pages).split())


@pytest.fixture(scope="module")
def measured(designed: Callable[..., Design]) -> Written:
    """Design, papers and the hand-over's text of a fence that was measured."""
    made = designed(more=MEASURED)
    files = paper_outputs(made, programme=programme(made))
    return made, files, flat(files["hand-over.pdf"])


@pytest.fixture(scope="module")
def bare(designed: Callable[..., Design]) -> Written:
    """The same without measures and days."""
    made = designed()
    files = paper_outputs(made, programme=programme(made))
    return made, files, flat(files["hand-over.pdf"])


def test_every_measured_row_stands_beside_the_design(measured: Written) -> None:
    made, _, text = measured
    record = design_record(made)
    told = Measures(record)
    table = text.split("Measured and checked")[-1]
    assert len(record["measured"]) == 4
    for row in record["measured"]:
        write = told.small if row["kind"] == "length" else told.force
        place = row["pull"] or row["post"]
        verdict = "in" if row["in_tolerance"] else "OUT"
        values = f"{re.escape(write(row['designed']))} {re.escape(write(row['measured']))}"
        pattern = rf"{place} .{{0,40}}{values} .{{0,40}}\b{verdict}\b"
        assert re.search(pattern, table), row
        assert row["by"] in table
        assert row["when"] in table
    assert "4 measures beside the design's: 2 out of tolerance." in text


def test_what_is_out_of_tolerance_is_to_be_mended(measured: Written) -> None:
    mends = measured[2].split("What is to be done")[1].split("Tension of the rails")[0]
    assert "Set it plumb again" in mends
    assert "Pull more." in mends


def test_where_nothing_was_measured_it_says_so_and_leaves_room(bare: Written) -> None:
    made, _, text = bare
    record = design_record(made)
    assert "Nothing that was measured on the finished fence is written in the job" in text
    assert "beside the design's" not in text
    room = text.split("Posts that hold the fence")[1].split("Tension of the rails")[0]
    for post in record["posts"]:
        assert (f" {post['id']} {post['role']} " in room) == (post["role"] not in ("line", "brace"))
    for row in record["tension"]:
        assert row["pull"] in room


def test_what_was_built_is_that_of_the_design(bare: Written) -> None:
    made, _, text = bare
    record = design_record(made)
    built = text.split("What was built")[1].split("Cautions")[0]
    for role, count in record["summary"]["posts"].items():
        if count:
            assert f"{count} {role}" in built
    assert f"Pulls {record['summary']['pulls']}," in built
    assert record["gates"][0]["name"] in built


def test_tension_of_every_run_by_temperature_with_push_and_pluck(bare: Written) -> None:
    made, _, text = bare
    record = design_record(made)
    told = Measures(record)
    part = text.split("Tension by design")[1].split("Calendar")[0]
    row = record["tension"][0]
    for value in (row["set_tension_n"], *row["window_n"], *(day["tension_n"] for day in row["chart"][::2])):
        assert told.bare_force(value) in part
    assert told.bare_small(row["repull_m"]) in part
    for check in record["site_checks"]:
        held, sliding = (told.bare_small(check[f"deflection_{one}_m"]) for one in ("pinned", "sliding"))
        give = held if held == sliding else f"{held} to {sliding}"
        assert give in part
        assert f"{check['frequency_hz']:.1f}" in part
        assert told.temperature(check["rail_temperature_c"]) in part


def test_cautions_stand_where_somebody_may_be_hurt(bare: Written) -> None:
    assert bare[2].count("A wire under tension can kill") == 3
    assert "have buried services located" in bare[2]


def test_re_pull_and_seasons_have_the_programmes_days(measured: Written) -> None:
    made, _, text = measured
    record = programme_json(made, programme(made))[0]
    calendar = text.split("Calendar")[1].split("When to call")[0]
    assert record["hand_over"] == record["finish"]
    visits = {one["id"]: one["date"] for one in record["upkeep"]}
    assert visits["re-pull"] == record["re_pull"]
    assert f"First re-pull {record['re_pull']}" in calendar
    assert f"Each autumn {visits['autumn']}" in calendar
    assert visits["autumn"].endswith("-10-01")
    assert visits["spring"] == "2027-04-01"
    assert "After a storm" in calendar
    assert "Call 555 0100:" in text


def test_upkeep_is_a_calendar_whose_seasons_come_again(measured: Written) -> None:
    made, files, _ = measured
    record = programme_json(made, programme(made))[0]
    calendar: Any = icalendar.Calendar.from_ical(files["upkeep.ics"])
    events = {str(one["UID"]).split(".")[0].removeprefix("upkeep-"): one for one in calendar.walk("VEVENT")}
    assert {name: one.decoded("DTSTART").isoformat() for name, one in events.items()} == {
        one["id"]: one["date"] for one in record["upkeep"]
    }
    assert "RRULE" not in events["re-pull"]
    assert events["autumn"]["RRULE"]["FREQ"] == ["YEARLY"]
    assert "draw every rail again" in str(events["re-pull"]["DESCRIPTION"])


def test_without_a_day_days_are_told_from_the_hand_over(bare: Written) -> None:
    made, files, text = bare
    record = programme_json(made, programme(made))[0]
    assert "upkeep.ics" not in files
    after = next(one["after_days"] for one in record["upkeep"] if one["id"] == "re-pull")
    assert f"First re-pull {after} days after the hand-over" in text
    assert re.search(r"\d{4}-\d{2}-\d{2}", text) is None


def test_without_a_programme_the_re_pull_counts_from_the_pull(designed: Callable[..., Design]) -> None:
    made = designed()
    days = design_record(made)["tension"][0]["repull_days"]
    assert f"First re-pull {days:.0f} days after the pull" in flat(paper_outputs(made)["hand-over.pdf"])


def test_a_stated_day_of_the_hand_over_moves_the_calendar(designed: Callable[..., Design]) -> None:
    made = designed(more='[paper]\nhand_over = "2026-08-20"')
    record = programme_json(made, programme(made))[0]
    visits = {one["id"]: one for one in record["upkeep"]}
    assert record["hand_over"] == "2026-08-20"
    assert visits["autumn"] == {"id": "autumn", "date": "2026-10-01", "after_days": 42, "yearly": True}
    text = flat(paper_outputs(made, programme=programme(made))["hand-over.pdf"])
    assert "Day of the hand-over 2026-08-20" in text
    assert f"First re-pull {visits['re-pull']['date']}" in text


def test_seasons_change_places_south_of_the_equator(designed: Callable[..., Design]) -> None:
    made = designed(more='[paper]\nhand_over = "2026-08-20"\n[programme]\nlatitude = -40.0')
    visits = {one["id"]: one["date"] for one in programme_json(made, programme(made))[0]["upkeep"]}
    assert visits["spring"] == "2026-10-01"
    assert visits["autumn"] == "2027-04-01"


def test_text_of_the_job_is_never_markup(designed: Callable[..., Design]) -> None:
    hostile = '#eval(\\"1\\") *b* $x$ [y](z) \\U0001F600'
    more = MEASURED.replace("A. Builder", hostile).replace("555 0100", hostile)
    made = designed(name=hostile + "w" * 150, more=more)
    text = flat(paper_outputs(made, programme=programme(made))["hand-over.pdf"])
    assert '#eval("1") *b* $x$ [y](z) □' in text


def test_metric_sheets_have_no_feet(designed: Callable[..., Design]) -> None:
    made = designed(sheets="metric")
    content = paper_outputs(made, programme=programme(made))["hand-over.pdf"]
    assert re.search(r"\d (ft|in|lbf|F)\b", flat(content)) is None
    assert [round(float(one)) for one in read_pdf(content).pages[0].mediabox[2:]] == [595, 842]


def test_every_page_says_what_it_was_made_from(measured: Written) -> None:
    made, files, _ = measured
    record = design_record(made)
    pdf = read_pdf(files["hand-over.pdf"])
    for number, page in enumerate(pdf.pages, start=1):
        text = page.extract_text()
        assert f"Page {number} of {len(pdf.pages)}" in text
        assert f"Revision C, design {record['digest'][:12]}, fencewright {record['version']}" in text
        assert "Ring" in text


def test_no_table_is_wider_than_a_page(measured: Written, bare: Written) -> None:
    narrow = room_mm("a4")[0]
    tables = [
        block
        for made, _, _ in (measured, bare)
        for section in hand_over(made, design_record(made)).sections
        for block in section.blocks
        if isinstance(block, Table)
    ]
    assert len(tables) > 8
    for table in tables:
        assert sum(column.width_mm for column in table.columns) <= narrow + 1e-9
