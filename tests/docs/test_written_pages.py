"""Written pages are true where a machine can tell: links lead somewhere, files named are there, README's words run."""

import re
from pathlib import Path

import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.cli.main import app

ROOT = Path(__file__).parents[2]
PAGES = [ROOT / "README.md", ROOT / "CHANGELOG.md", *sorted((ROOT / "docs").rglob("*.md"))]


def text_of(page: Path) -> str:
    return page.read_text("utf-8")


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.relative_to(ROOT).as_posix())
def test_links_lead_somewhere(page: Path) -> None:
    links = re.findall(r"\]\(([^)#]+)\)", text_of(page))
    assert not [link for link in links if "//" not in link and not (page.parent / link).exists()]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.relative_to(ROOT).as_posix())
def test_files_named_are_there(page: Path) -> None:
    named = re.findall(r"`((?:tests|examples|docs)/[\w./-]+)`", text_of(page))
    named += [
        f"src/fencewright/{name}"
        for name in re.findall(r"`(\w+/\w+\.py)`", text_of(page))
        if "tests/" not in name
    ]
    assert not [name for name in named if not (ROOT / name).exists()]


@pytest.mark.parametrize("page", sorted((ROOT / "docs" / "methods").glob("*.md")), ids=lambda page: page.stem)
def test_trade_defaults_named_are_there(page: Path) -> None:
    rows = shipped_catalogue().practice
    tables = {name.split(".")[0] for name in rows}
    named = {one for one in re.findall(r"`([a-z_]+\.[a-z_]+)`", text_of(page)) if one.split(".")[0] in tables}
    assert not named - set(rows)


def test_the_readme_opens_with_the_job_and_the_two_commands() -> None:
    opening = text_of(ROOT / "README.md").split("\n## ")[0]
    paragraphs = [part for part in opening.split("\n\n") if part.strip() and not part.startswith("# ")]
    assert len(paragraphs[0].splitlines()) > 2
    assert "make demo" in paragraphs[1]
    assert "make test" in paragraphs[1]


def test_commands_of_the_readme_are_commands() -> None:
    known = {
        command.name or command.callback.__name__ for command in app.registered_commands if command.callback
    }
    used = set(re.findall(r"^\s+fencewright (\w+)", text_of(ROOT / "README.md"), re.MULTILINE))
    assert used
    assert used <= known


def test_make_targets_of_the_readme_are_in_the_makefile() -> None:
    targets = set(re.findall(r"^(\w+):", text_of(ROOT / "Makefile"), re.MULTILINE))
    used = set(re.findall(r"(?:`|^ +)make (\w+)", text_of(ROOT / "README.md"), re.MULTILINE))
    assert {"demo", "test"} <= used <= targets


def test_python_of_the_readme_runs(
    small_job_path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (code,) = re.findall(r"```python\n(.*?)```", text_of(ROOT / "README.md"), re.DOTALL)
    code = code.replace("paddock/job.toml", small_job_path.as_posix()).replace(
        "paddock/fence", f"{tmp_path}/fence"
    )
    exec(compile(code, "README.md", "exec"), {})
    assert capsys.readouterr().out.startswith("True ")
    assert (tmp_path / "fence" / "manifest.json").is_file()


def test_production_rates_of_the_page_are_those_that_are_shipped() -> None:
    rows = re.findall(
        r"^\| ([a-z][^|]*) \| [a-z -]+ \| ([0-9.]+) \w+ \| ",
        text_of(ROOT / "docs/methods/price.md"),
        re.MULTILINE,
    )
    assert {name: float(rate) for name, rate in rows} == {
        work.name: work.per_hour for work in shipped_catalogue().works.values()
    }


def test_decisions_say_their_status_and_what_follows() -> None:
    for page in sorted((ROOT / "docs" / "decisions").glob("*.md")):
        text = text_of(page)
        parts = ("Status: ", "## Context", "## Decision", "## Consequences")
        assert not [part for part in parts if part not in text], page.name
