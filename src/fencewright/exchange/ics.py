"""iCalendar (RFC 5545): events of a calendar as bytes, lines folded, text escaped, the same for the same events."""

import datetime
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

_LONGEST_OCTETS = 75  # RFC 5545, section 3.1: a line without its end
_STAMP = "19700101T000000Z"  # fixed: a calendar says nothing of when it was written
_ESCAPED = (("\\", "\\\\"), (";", "\\;"), (",", "\\,"), ("\r\n", "\\n"), ("\n", "\\n"), ("\r", "\\n"))


@dataclass(frozen=True, slots=True)
class CalendarEvent:
    """One event.

    `uid` stable from run to run; `title`; `text` more about it; `start`, `finish` both dates (the finish not counted),
    or both date-times of the place, without a zone; `place` text; `kind` one word, the category; `is_yearly` it comes
    again each year.
    """

    uid: str
    title: str
    text: str
    start: datetime.date
    finish: datetime.date
    place: str = ""
    kind: str = ""
    is_yearly: bool = False


def write_ics(name: str, events: Iterable[CalendarEvent]) -> bytes:
    """Write a calendar.

    Parameters
    ----------
    name : str
        Of the calendar, as programs show it.
    events : iterable of CalendarEvent
        In any order; date-times are of the place where they are read.

    Returns
    -------
    bytes
        UTF-8, lines end in CR LF and are folded to 75 octets, never within a character.

    References
    ----------
    .. [1] rfc-5545, sections 3.1 (folding), 3.3.11 (text), 3.6.1 (events), 3.8.5.3 (what repeats)
    """
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//fencewright//programme of works//EN",
        "CALSCALE:GREGORIAN",
    ]
    lines += ["METHOD:PUBLISH", f"X-WR-CALNAME:{ics_text(name)}"]
    for event in events:
        lines += _event(event)
    lines.append("END:VCALENDAR")
    return "".join(f"{folded}\r\n" for line in lines for folded in _folded(line)).encode("utf-8")


def _event(event: CalendarEvent) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{ics_text(event.uid)}"
    yield f"DTSTAMP:{_STAMP}"
    yield f"DTSTART{_when(event.start)}"
    yield f"DTEND{_when(event.finish)}"
    if event.is_yearly:
        yield "RRULE:FREQ=YEARLY"
    yield f"SUMMARY:{ics_text(event.title)}"
    for key, text in (("DESCRIPTION", event.text), ("LOCATION", event.place), ("CATEGORIES", event.kind)):
        if text:
            yield f"{key}:{ics_text(text)}"
    yield "TRANSP:OPAQUE"
    yield "END:VEVENT"


def _when(moment: datetime.date) -> str:
    if isinstance(moment, datetime.datetime):
        return f":{moment:%Y%m%dT%H%M%S}"
    return f";VALUE=DATE:{moment:%Y%m%d}"


def ics_text(text: str) -> str:
    """Escape a text as RFC 5545 asks; control characters and halves of characters are left out."""
    for plain, escaped in _ESCAPED:
        text = text.replace(plain, escaped)
    return "".join(
        c for c in text if (c == "\t" or ord(c) >= 32) and ord(c) != 127 and not 0xD800 <= ord(c) <= 0xDFFF
    )


def _folded(line: str) -> Iterator[str]:
    """Break a line into pieces of at most 75 octets; all but the first begin with a blank."""
    start, size, room = 0, 0, _LONGEST_OCTETS
    for index, letter in enumerate(line):
        octets = len(letter.encode("utf-8"))
        if size + octets > room:
            yield ("" if start == 0 else " ") + line[start:index]
            start, size, room = index, 0, _LONGEST_OCTETS - 1
        size += octets
    yield ("" if start == 0 else " ") + line[start:]
