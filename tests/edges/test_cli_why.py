"""The command why: text for a builder, US or metric, and one sentence for an unknown name."""

from pathlib import Path

import pytest

from fencewright.cli import main
from fencewright.cli.why import input_text, value_text
from fencewright.findings.cautions import STRENGTH_CAUTIONS
from fencewright.quantity.show import UnitSystem


def run_why(monkeypatch: pytest.MonkeyPatch, job: Path, *rest: str) -> int:
    """Exit code of the command."""
    monkeypatch.setattr("sys.argv", ["fencewright", "why", str(job), *rest])
    try:
        main.run()
    except SystemExit as stop:
        return int(stop.code or 0)
    return 0


@pytest.mark.parametrize(
    ("thing", "opening"),
    [
        ("P7", 'P7: line post, line "paddock", station'),
        ("B3", "B3: diagonal brace of P"),
        ("R1-2", "R1-2: strand 2 from the ground"),
        ("gate 1", 'gate 1: line "paddock", station 0.0 ft, P1 to P2'),
        ("C1", "C1: new roll, polymer rail"),
        ("P7-2", "P7-2: strand 2 from the ground, polymer rail"),
        ("rail length", "rail length: of the whole design"),
        ("tensioner", "tensioner: line of the order: tensioner"),
        ("price:total", "price:total: how the price adds up"),
        ("programme:stake-1", "programme:stake-1: Stake out"),
    ],
)
def test_text_of_each_kind(
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    small_job_path: Path,
    thing: str,
    opening: str,
) -> None:
    assert run_why(monkeypatch, small_job_path, thing) == 0
    text = capsys.readouterr().out
    assert text.startswith(opening)
    assert text.rstrip().endswith("\n".join(STRENGTH_CAUTIONS))
    assert "never cut a tight rail" in text
    assert "not an engineer's seal" in text
    assert max(map(len, text.splitlines())) <= 110


def test_inputs_results_and_sources_are_printed(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], small_job_path: Path
) -> None:
    run_why(monkeypatch, small_job_path, "P7")
    text = capsys.readouterr().out
    assert "stock length: 8' 0\"" in text
    assert "t = 2 in: least length to saw off (trade default posts.trim" in text
    assert "d_p = 30 in: depth as stated or by practice (stated in the job, [holes] line_depth)" in text
    assert "source   [statics] Statics of braces" in text
    assert "smaller  2 in less of hole depth" in text


def test_metric_sheets_print_metric(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], small_job_text: str, tmp_path: Path
) -> None:
    job = tmp_path / "job.toml"
    job.write_text(small_job_text.replace('sheets = "us"', 'sheets = "metric"'), "utf-8")
    assert run_why(monkeypatch, job, "P7") == 0
    text = capsys.readouterr().out
    assert "hole depth: 762 mm" in text
    assert "stock length: 2,400 mm" in text
    assert " lbf" not in text


def test_an_unknown_name_is_one_sentence_and_exit_2(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], small_job_path: Path
) -> None:
    assert run_why(monkeypatch, small_job_path, "P99") == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.strip() == "fencewright: there is no post P99: the nearest is P54; posts are P1 to P54"


@pytest.mark.parametrize(
    ("value", "unit", "us", "metric"),
    [
        (0.762, "m", "30 in", "762 mm"),
        (2.4384, "m", "8' 0\"", "2,438 mm"),
        (60.96, "m", "200.0 ft", "60.96 m"),
        (0.001, "m", "0.0394 in", "1 mm"),
        (1112.0, "N", "250 lbf", "1.11 kN"),
        (1355.818, "N m", "1,000.0 lbf ft", "1.356 kN m"),
        (20.0, "C", "68 F", "20 C"),
        (7182.0, "Pa", "150 psf", "7.2 kPa"),
        (10e6, "Pa", "1,450 psi", "10.00 MPa"),
        (1.0, "rad", "57.3 deg", "57.3 deg"),
        (0.5, "1", "0.5", "0.5"),
        ((0.0254, 0.0508), "m", "1 in, 2 in", "25 mm, 51 mm"),
        (float("nan"), "m", "–", "–"),
        (float("inf"), "N", "no limit", "no limit"),
        ("tamped", "", "tamped", "tamped"),
    ],
)
def test_values_in_both_systems(
    value: float | str | tuple[float, ...], unit: str, us: str, metric: str
) -> None:
    assert value_text(value, unit, UnitSystem("us")) == us
    assert value_text(value, unit, UnitSystem("metric")) == metric


def test_an_input_has_figures_enough_for_its_formula() -> None:
    """Of 0.0858 m³ by bags of 0.0117 m³: 7.33; with a digit less of each the formula gave 7.17."""
    metric, us = UnitSystem("metric"), UnitSystem("us")
    assert input_text(0.08583, "m3", metric) == "0.08583 m³"
    assert input_text(0.011717, "m3", metric) == "0.01172 m³"
    assert input_text(0.01699, "m3", us) == "0.6 ft³"
    assert input_text(25.0, "kg", metric) == "25 kg"
    assert input_text(0.3048, "m", us) == value_text(0.3048, "m", us)
