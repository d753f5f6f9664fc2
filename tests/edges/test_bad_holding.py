"""What strength and tension cannot be designed from: one sentence that says what to enter, exit 2, or a `stop`."""

import csv
import math
from collections.abc import Callable
from pathlib import Path

import pytest

Cli = Callable[..., tuple[int, str, str]]
SITE = '[site]\nsoil = "sand"\nfrost_depth = "30 in"\ncoldest = "-20 F"\nhottest = "95 F"\n'
LINE = '[[line]]\nname = "a"\npoints = [["0 ft", "0 ft"], ["300 ft", "0 ft"], ["300 ft", "155 ft"]]\n'
SHEET = """
[rail."sheet rail"]
face_height = "125 mm"
wire_diameter = "2.5 mm"
line_mass = "0.33 kg/m"
roll_length = "200 m"
set_tension = "1.1 kN"
cold_tension = "2.8 kN"
wires = 3
"""


def job(folder: Path, *parts: str) -> Path:
    path = folder / "job.toml"
    path.write_text('[job]\nname = "x"\n' + "".join(parts), encoding="utf-8")
    return path


def one_sentence(told: tuple[int, str, str]) -> str:
    """Give the sentence of a refusal: exit 2, one line, nothing else printed."""
    code, out, err = told
    lines = [line for line in err.splitlines() if not line.endswith(" done")]
    assert (code, out, len(lines)) == (2, "", 1)
    return lines[0]


@pytest.mark.parametrize(
    ("parts", "words"),
    [
        ((SITE.replace("-20 F", "99 F"), LINE), ("site, coldest", "hottest")),
        ((SITE, LINE, "[fence]\nfriction = -0.1\n"), ("fence, friction", "too small")),
        ((SITE, LINE, "[tension]\nfriction_pulling = -0.1\n"), ("tension, friction_pulling", "too small")),
        ((SITE, LINE, "[tension]\npush = '10 lb ft'\n"), ("tension, push", "force")),
        (
            (SITE, LINE, "[tension]\nreference_temperature = '20 m'\n"),
            ("reference_temperature", "temperature"),
        ),
        ((SITE, LINE, "[strength]\nwind_speed = '90 F'\n"), ("strength, wind_speed", "speed")),
    ],
)
def test_a_job_that_cannot_be(
    cli: Cli, tmp_path: Path, parts: tuple[str, ...], words: tuple[str, ...]
) -> None:
    said = one_sentence(cli("design", job(tmp_path, *parts), "--out", tmp_path / "out"))
    assert all(word in said for word in words)
    assert not (tmp_path / "out").exists()


def test_a_data_sheet_without_a_breaking_load(cli: Cli, tmp_path: Path) -> None:
    (tmp_path / "sheet.toml").write_text(SHEET, encoding="utf-8")
    path = job(tmp_path, SITE, LINE, '[catalogue]\nfiles = ["sheet.toml"]\n')
    said = one_sentence(cli("check", path))
    assert "sheet.toml" in said
    assert "`breaking_load` is missing: add it from the data sheet" in said


@pytest.mark.parametrize("soil", ["peat", "fill"])
def test_ground_without_presumptive_values_is_a_stop(cli: Cli, tmp_path: Path, soil: str) -> None:
    code, out, _ = cli("design", job(tmp_path, SITE.replace("sand", soil), LINE), "--out", tmp_path / "out")
    assert code == 1
    assert "STOP    soil-has-no-values" in out
    for name in ("checks.csv", "posts.csv", "tension.csv"):
        rows = list(csv.DictReader((tmp_path / "out" / name).read_text("utf-8").splitlines()))
        assert rows
        cells = [cell for row in rows for cell in row.values()]
        assert not any(cell.casefold() in ("nan", "inf", "-inf") for cell in cells)
    checks = list(csv.DictReader((tmp_path / "out" / "checks.csv").read_text("utf-8").splitlines()))
    assert all(row["case"] and row["check"] for row in checks)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("R9-9", "--temperature", "68 F", "--beats", "300"), "there is no pull R9-9"),
        (("R1-1", "--post", "P999", "--temperature", "68 F", "--beats", "300"), "does not pass P999"),
        (("R1-1", "--temperature", "68 F", "--push", "10 lbf", "--deflection", "1.5"), "length with a unit"),
        (("R1-1", "--temperature", "68 F", "--push", "10 lbf", "--deflection", "1.5 lbf"), "length"),
        (("R1-1", "--temperature", "68 F", "--push", "10 in", "--deflection", "1.5 in"), "force"),
        (("R1-1", "--temperature", "68", "--beats", "300"), "temperature with a unit"),
        (("R1-1", "--temperature", "68 F", "--beats", "5"), "beats in a minute, not in a second"),
        (
            ("R1-1", "--temperature", "68 F", "--push", "0.001 lbf", "--deflection", "12 in"),
            "no tension explains",
        ),
        (("R1-1", "--temperature", "68 F", "--push", "10 lbf", "--deflection", "38 in"), "check"),
        (("R1-1", "--temperature", "500 F", "--beats", "300"), "off the chart"),
        (("R1-1", "--temperature", "68 F"), "either --push with --deflection, or --beats"),
        (
            ("R1-1", "--temperature", "68 F", "--push", "10 lbf"),
            "either --push with --deflection, or --beats",
        ),
    ],
)
def test_readings_that_cannot_be(cli: Cli, tmp_path: Path, words: tuple[str, ...], says: str) -> None:
    assert says in one_sentence(cli("measured", job(tmp_path, SITE, LINE), *words))


def test_a_reading_is_judged_with_its_cautions(cli: Cli, tmp_path: Path) -> None:
    path = job(tmp_path, SITE, LINE)
    code, out, _ = cli(
        "measured", path, "R1-1", "--temperature", "68 F", "--push", "10 lbf", "--deflection", "1.5 in"
    )
    assert code == 0
    assert "not an engineer's seal" in out
    assert "never cut a tight rail" in out
    assert not math.isnan(float(out.split("measured")[1].split("lbf")[0].replace(",", "").strip()))


def test_the_summary_says_what_it_is_not_and_what_can_hurt(cli: Cli, tmp_path: Path) -> None:
    _, out, _ = cli("design", job(tmp_path, SITE, LINE), "--out", tmp_path / "out")
    for words in ("licensed practice decide", "stand clear, wear eye protection", "dig by hand near a mark"):
        assert words in out


def test_a_rough_reading_says_what_would_be_surer(cli: Cli, tmp_path: Path) -> None:
    """Between sliding and pinned a push leaves much open: beats tell one tension."""
    path = job(tmp_path, SITE, LINE)
    words = ("--temperature", "68 F", "--push", "10 lbf", "--deflection", "3 in")
    code, out, _ = cli("measured", path, "R1-1", *words)
    assert code == 0
    assert "leave for now" in out
    assert "count beats" in out
