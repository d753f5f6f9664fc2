"""Calendar files, read again by an independent parser (icalendar), and by RFC 5545's own rules of lines and texts."""

import datetime
from typing import Any

import icalendar
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.exchange.ics import CalendarEvent, ics_text, write_ics

DAY = datetime.date(2026, 4, 6)
MORNING = datetime.datetime(2026, 4, 6, 8, 30)
NASTY = 'Dig; set, and "pull" \\ twice\nthen rest: é 漢 🐎'


def parsed(content: bytes) -> Any:
    """Give what the parser made of a file; its values are of many kinds."""
    return icalendar.Calendar.from_ical(content)


def events(content: bytes) -> list[Any]:
    return list(parsed(content).walk("VEVENT"))


def test_a_parser_reads_what_was_meant() -> None:
    timed = CalendarEvent(
        "a@x", NASTY, NASTY, MORNING, MORNING + datetime.timedelta(hours=2), "Field; 3", "work"
    )
    whole = CalendarEvent("b@x", "Cure", "", DAY, DAY + datetime.timedelta(days=3))
    one, two = events(write_ics("Job, one", [timed, whole]))
    assert str(one["SUMMARY"]) == str(one["DESCRIPTION"]) == NASTY
    assert str(one["LOCATION"]) == "Field; 3"
    assert one["DTSTART"].dt == MORNING
    assert one["DTEND"].dt == MORNING + datetime.timedelta(hours=2)
    assert one["DTSTART"].dt.tzinfo is None
    assert two["DTSTART"].dt == DAY
    assert two["DTEND"].dt == DAY + datetime.timedelta(days=3)
    assert "DESCRIPTION" not in two


def test_it_says_what_it_must() -> None:
    calendar = parsed(write_ics("x", [CalendarEvent("a", "t", "", DAY, DAY + datetime.timedelta(1))]))
    assert str(calendar["VERSION"]) == "2.0"
    assert "fencewright" in str(calendar["PRODID"])
    event = calendar.walk("VEVENT")[0]
    assert event["DTSTAMP"].dt == datetime.datetime(1970, 1, 1, tzinfo=datetime.UTC)
    assert str(event["UID"]) == "a"


@given(st.text(max_size=300))
def test_any_text_comes_back_and_no_line_is_too_long(text: str) -> None:
    content = write_ics(text, [CalendarEvent("a", text, text, DAY, DAY + datetime.timedelta(days=1), text)])
    lines = content.split(b"\r\n")
    assert lines[-1] == b""
    assert all(len(line) <= 75 for line in lines)
    assert all(b"\n" not in line and b"\r" not in line for line in lines)
    for line in lines:
        line.decode("utf-8")  # no character is torn
    event = events(content)[0]
    kept = "".join(
        c
        for c in text.replace("\r\n", "\n").replace("\r", "\n")
        if c in "\n\t" or (ord(c) >= 32 and ord(c) != 127 and not 0xD800 <= ord(c) <= 0xDFFF)
    )
    assert str(event["SUMMARY"]) == kept


def test_a_text_cannot_begin_an_event_of_its_own() -> None:
    content = write_ics(
        "x", [CalendarEvent("a", "x\r\nEND:VEVENT\r\nBEGIN:VEVENT", "", DAY, DAY + datetime.timedelta(1))]
    )
    assert len(events(content)) == 1


@pytest.mark.parametrize(
    ("text", "escaped"),
    [("a;b", "a\\;b"), ("a,b", "a\\,b"), ("a\\b", "a\\\\b"), ("a\nb", "a\\nb"), ("a\0b", "ab")],
)
def test_escapes(text: str, escaped: str) -> None:
    assert ics_text(text) == escaped
