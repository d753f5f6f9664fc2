"""Findings: levels, order, the limit on alike ones, and how an error names its file and item."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.findings import (
    CAUTION,
    NOTE,
    STOP,
    FencewrightError,
    Finding,
    InputError,
    InternalFault,
    Place,
    has_stop,
    limited,
    sorted_findings,
)


def finding(level: str, code: str, message: str = "m") -> Finding:
    return Finding(level, code, Place("post", "P1", "a", 3.0), message, "mend it")


MANY = st.lists(st.tuples(st.sampled_from([STOP, CAUTION, NOTE]), st.sampled_from("abc")), max_size=40).map(
    lambda rows: [finding(level, code, str(number)) for number, (level, code) in enumerate(rows)]
)


@given(MANY)
def test_stops_first_then_cautions_then_notes_each_in_its_order(rows: list[Finding]) -> None:
    ordered = sorted_findings(rows)
    levels = [one.level for one in ordered]
    assert levels == sorted(levels, key=[STOP, CAUTION, NOTE].index)
    for level in (STOP, CAUTION, NOTE):
        assert [one for one in ordered if one.level == level] == [one for one in rows if one.level == level]
    assert has_stop(rows) == (STOP in levels)


@given(MANY, st.integers(1, 5))
def test_alike_findings_are_counted_not_lost(rows: list[Finding], most: int) -> None:
    kept = limited(rows, most)
    for code in "abc":
        own = [one for one in rows if one.code == code]
        told = [one for one in kept if one.code == code]
        if len(own) <= most + 1:
            assert told == own
        else:
            assert told[:most] == own[:most]
            assert len(told) == most + 1
            assert told[-1].message.startswith(f"{len(own) - most} more findings like these")
            assert (told[-1].level, told[-1].where) == (own[most].level, Place("job"))


def test_an_error_names_file_item_and_what() -> None:
    assert str(InputError("it is wrong", file="job.toml", item="gate 1")) == "job.toml: gate 1: it is wrong"
    assert str(InputError("it is wrong")) == "it is wrong"


@given(st.text(max_size=20), st.text(max_size=20))
def test_an_error_is_one_line_that_can_be_written_whatever_it_quotes(name: str, item: str) -> None:
    error = InputError(f'there is no line "{name}"', file=item, item=item)
    assert len(f"{error}x".splitlines()) == 1
    assert "\0" not in str(error).encode().decode()
    assert InputError('no line "a\nb\0\ud83d"').what == 'no line "a b "'


def test_what_is_named_already_stays() -> None:
    error = InputError("w", item="gate 1").within(file="job.toml", item="line 1")
    assert (error.file, error.item, error.what) == ("job.toml", "gate 1", "w")


@pytest.mark.parametrize("kind", [InputError, InternalFault])
def test_one_root_for_every_error(kind: type[Exception]) -> None:
    assert issubclass(kind, FencewrightError)
