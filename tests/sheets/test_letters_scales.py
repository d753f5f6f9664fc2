"""Words kept to a width, and standard scales with their bars."""

import pytest

from fencewright.quantity.show import UnitSystem
from fencewright.sheets.letters import one_line, shorten, text_width_em, wrap
from fencewright.sheets.scales import (
    nice_step,
    paper_for,
    scale_bar,
    show_scale,
    standard_scale,
    standard_scale_below,
)

US, METRIC = UnitSystem("us"), UnitSystem("metric")


def test_wrapped_lines_fit_and_lose_no_word() -> None:
    text = "one two three four five six seven eight nine ten"
    lines = wrap(text, 9.0)
    assert all(text_width_em(line) <= 9.0 for line in lines)
    assert " ".join(lines) == text


def test_last_line_says_that_something_was_cut() -> None:
    lines = wrap("word " * 50, 10.0, 2)
    assert len(lines) == 2
    assert lines[1].endswith("…")
    assert text_width_em(lines[1]) <= 10.0


def test_one_line_has_no_breaks_or_controls() -> None:
    assert one_line("a\nb\tc\x07 d\u2028e") == "a b c d e"


def test_a_word_longer_than_the_line_is_cut() -> None:
    assert text_width_em(shorten("m" * 100, 5.0)) <= 5.0
    assert wrap("m" * 100, 5.0)[0].endswith("…")


@pytest.mark.parametrize(
    ("least", "units", "scale"),
    [
        (1.0, US, 120.0),
        (120.0, US, 120.0),
        (120.1, US, 240.0),
        (500.0, US, 600.0),
        (721.0, US, 1200.0),
        (1201.0, US, 2400.0),
        (100.0, METRIC, 100.0),
        (101.0, METRIC, 200.0),
        (240.0, METRIC, 250.0),
        (501.0, METRIC, 750.0),
        (20_001.0, METRIC, 25_000.0),
    ],
)
def test_standard_scales(least: float, units: UnitSystem, scale: float) -> None:
    """Engineer's scales 1 in = 10, 20, 30, 40, 50, 60 ft and 1:100 to 1:750: common practice, no source."""
    assert standard_scale(least, units) == scale


def test_standard_scale_below_never_exceeds_what_is_asked() -> None:
    for units in (US, METRIC):
        for most in (1.0, 119.0, 120.0, 333.0, 480.0, 999.0, 12_345.0):
            found = standard_scale_below(most, units)
            assert found <= max(most, standard_scale(1.0, units))
            assert standard_scale(found, units) == found


def test_scales_are_written_as_the_trade_does() -> None:
    assert show_scale(480.0, US) == "1 in = 40 ft (1:480)"
    assert show_scale(500.0, METRIC) == "1:500"


def test_bar_is_round_and_fits() -> None:
    for units in (US, METRIC):
        for scale in (120.0, 250.0, 480.0, 12_000.0):
            bar = scale_bar(scale, units, 0.05)
            assert 0.015 <= bar.step_m * bar.steps / scale <= 0.0501
            assert len(bar.labels) == bar.steps + 1
    assert scale_bar(480.0, US, 0.05).labels == ("0", "10", "20", "30", "40 ft")


def test_steps_of_elevation_are_round() -> None:
    assert nice_step(0.7, METRIC) == pytest.approx(1.0)
    assert nice_step(0.7, US) == pytest.approx(5 * 0.3048)


def test_paper_by_units() -> None:
    """Letter is 8.5 by 11 in, A4 is 210 by 297 mm (ISO 216)."""
    assert paper_for(US).width_m == pytest.approx(0.2794)
    assert (paper_for(METRIC).width_m, paper_for(METRIC).height_m) == (0.297, 0.210)
