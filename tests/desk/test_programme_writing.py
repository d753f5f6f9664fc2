"""The programme's files: what the record promises, tables safe to open, a calendar, the same bytes; and holidays."""

import csv
import datetime
import io
import json
from pathlib import Path
from typing import Any

import icalendar
import pytest

from fencewright.desk.programme_writing import programme_outputs
from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.desk.scheduling import programme, public_holidays

TABLE = (
    '[programme]\nstart = "2026-04-06"\nprivate_services = "none"\ncountry = "US"\nnames = ["Ana", "=Ben"]\n'
)


def files(text: str, folder: Path) -> dict[str, bytes]:
    made = design(job_from_text(text, folder))
    return programme_outputs(made, programme(made))


@pytest.fixture(scope="module")
def written(small_job_text: str, tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    return files(small_job_text + TABLE, tmp_path_factory.mktemp("job"))


@pytest.fixture(scope="module")
def record(written: dict[str, bytes]) -> dict[str, Any]:
    loaded: dict[str, Any] = json.loads(written["programme.json"])
    return loaded


def rows(content: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(content.decode(), newline="")))


def test_every_file_is_there(written: dict[str, bytes]) -> None:
    names = {
        "programme.json",
        "programme.csv",
        "programme-days.csv",
        "deliveries.csv",
        "programme.svg",
        "programme.ics",
    }
    assert set(written) == names


def test_without_a_first_day_there_is_no_calendar(small_job_text: str, tmp_path: Path) -> None:
    made = files(small_job_text + '[programme]\nprivate_services = "none"\n', tmp_path)
    assert "programme.ics" not in made
    assert json.loads(made["programme.json"])["start"] == "day 1"


def test_the_record_holds_what_is_promised(record: dict[str, Any]) -> None:
    for row in record["activities"]:
        assert {"id", "name", "start", "finish", "float_days", "critical", "after", "crew"} <= set(row)
    ids = [row["id"] for row in record["activities"]]
    assert len(set(ids)) == len(ids)
    assert all(one in ids for row in record["activities"] for one in row["after"])
    assert record["finish"] == next(row["finish"] for row in record["activities"] if row["id"] == "clear-up")
    assert record["bound"]["finish"] <= record["finish"]
    assert record["may_start"] is True
    assert len(record["design_digest"]) == 64


def test_dates_follow_what_they_are_after(record: dict[str, Any]) -> None:
    ends = {row["id"]: (row["finish"], row["finish_time"]) for row in record["activities"]}
    late = [
        (row["id"], one)
        for row in record["activities"]
        for one in [*row["after"], *row["after_crew"]]
        if ends[one] > (row["start"], row["start_time"])
    ]
    assert not late


def test_tables_say_the_same_as_the_record(written: dict[str, bytes], record: dict[str, Any]) -> None:
    table = rows(written["programme.csv"])
    assert [row["start"] for row in table] == [row["start"] for row in record["activities"]]
    assert {row["may_start"] for row in table} == {"yes"}
    assert [row["on_site_by"] for row in rows(written["deliveries.csv"])] == [
        row["on_site_by"] for row in record["deliveries"]
    ]
    days = rows(written["programme-days.csv"])
    assert days[0]["day"] == "2026-04-06"
    assert days[-1]["day"] == record["finish"]


def test_lengths_are_in_the_units_of_the_sheets(written: dict[str, bytes], record: dict[str, Any]) -> None:
    paid = next(row for row in record["activities"] if row["kind"] == "pay-out")
    row = next(row for row in rows(written["programme.csv"]) if row["id"] == "pay-out-1")
    assert (paid["unit"], row["unit"]) == ("m", "ft")
    assert float(row["quantity"]) == pytest.approx(paid["quantity"] / 0.3048, abs=0.01)


def test_a_wait_that_ends_at_midnight_ends_its_day(record: dict[str, Any]) -> None:
    notice = next(row for row in record["activities"] if row["id"] == "notice")
    assert (notice["finish"], notice["finish_time"]) == ("2026-04-09", "24:00")


def test_no_name_becomes_a_formula(written: dict[str, bytes]) -> None:
    for row in rows(written["programme.csv"]):
        assert not row["people"].startswith("=")
        assert ", =Ben" not in row["people"]


def test_the_calendar_has_every_activity_and_delivery_day(
    written: dict[str, bytes], record: dict[str, Any]
) -> None:
    calendar: Any = icalendar.Calendar.from_ical(written["programme.ics"])
    events = calendar.walk("VEVENT")
    days = {row["on_site_by"] for row in record["deliveries"]}
    assert len(events) == len(record["activities"]) + len(days)
    assert len({str(event["UID"]) for event in events}) == len(events)
    by_name = {str(event["SUMMARY"]): event for event in events}
    for row in record["activities"]:
        start = by_name[row["name"]]["DTSTART"].dt
        assert str(start)[:10] == row["start"]
    assert all(event["DTEND"].dt > event["DTSTART"].dt for event in events)
    pull = by_name["Pull"]
    assert "Crew: Ana, =Ben" in str(pull["DESCRIPTION"])
    assert "Plant: auger" in str(by_name["Dig line-post holes"]["DESCRIPTION"])


def test_same_job_same_bytes(written: dict[str, bytes], small_job_text: str, tmp_path: Path) -> None:
    assert files(small_job_text + TABLE, tmp_path) == written


def test_a_stop_is_on_every_file(small_job_text: str, tmp_path: Path) -> None:
    made = files(small_job_text + '[programme]\nstart = "2026-04-06"\n', tmp_path)
    assert json.loads(made["programme.json"])["may_start"] is False
    assert {row["may_start"] for row in rows(made["programme.csv"])} == {"no"}
    assert b"SUMMARY:NOT TO START" in made["programme.ics"]
    assert b"NOT TO BE BUILT" in made["programme.svg"] or b"NOT TO START" in made["programme.svg"]


def test_holidays_of_a_state_and_of_a_country() -> None:
    start = datetime.date(2026, 1, 1)
    assert public_holidays(start, "us", "")[datetime.date(2026, 11, 26)] == "Thanksgiving Day"
    bavaria, berlin = public_holidays(start, "DE", "BY"), public_holidays(start, "DE", "BE")
    assert datetime.date(2026, 6, 4) in bavaria  # Corpus Christi, 60 days after Easter, kept in Bavaria alone
    assert datetime.date(2026, 6, 4) not in berlin
    assert public_holidays(None, "US", "") == public_holidays(start, "", "") == {}
