"""A design to its files: every one of the issue, marked where it must not be built, the same bytes each time."""

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from fencewright.desk.running import design
from fencewright.desk.writing import outputs, write_beside, write_design
from fencewright.exchange.design_json import design_json
from fencewright.findings import InputError
from fencewright.pipeline.record import Design
from fencewright.store.files import check_manifest

# Issue 3, item 11, and issues 4 and 5.
FILES = [
    "design.json", "posts.csv", "order.xlsx", "order.csv", "rolls.csv", "pulls.csv", "tension.csv", "checks.csv",
    "stake-out.csv", "load.csv",
    "plan.svg", "section.svg", "tension.svg", "strength.svg",
    "plan.dxf", "fence.geojson", "fence.gpkg", "stakes.gpx",
]  # fmt: skip
JOB = """
[job]
name = "Lane end"
sheets = "us"
[site]
frost_depth = "36 in"
soil = "sand"
{site}
[[line]]
name = "lane"
points = [["0 ft", "0 ft"], ["90 ft", "0 ft"], ["90 ft", "60 ft"]]
[fence]
rails = 3
top_height = "{height}"
[posts]
line_lengths = ["8 ft"]
"""


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., Design]:
    """Builder of a small design by the whole pipeline: `site` adds to [site], `height` of the top."""
    from fencewright.desk.reading import job_from_text

    folder = tmp_path_factory.mktemp("jobs")
    kept: dict[tuple[str, str], Design] = {}

    def build(site: str = "", height: str = "54 in") -> Design:
        if (site, height) not in kept:
            kept[site, height] = design(job_from_text(JOB.format(site=site, height=height), folder))
        return kept[site, height]

    return build


def test_every_file_of_the_issue_is_written(made: Callable[..., Design], tmp_path: Path) -> None:
    told: list[str] = []
    manifest = write_design(made(), tmp_path, told.append)
    assert {path.name for path in tmp_path.iterdir()} == {*FILES, "manifest.json"}
    assert sorted(told) == sorted([*FILES, "manifest.json"])
    assert check_manifest(tmp_path) == []
    written = json.loads((tmp_path / "design.json").read_bytes())
    assert (manifest["digest"], manifest["may_be_built"]) == (written["digest"], True)
    assert json.loads((tmp_path / "manifest.json").read_bytes()) == manifest


def test_outputs_are_what_is_written(made: Callable[..., Design], tmp_path: Path) -> None:
    write_design(made(), tmp_path)
    files = outputs(made())
    assert {name: (tmp_path / name).read_bytes() for name in files} == files


def test_other_processes_give_the_same_bytes(tmp_path: Path) -> None:
    """Whatever the order in which a process goes through its sets (the seeds differ)."""
    (tmp_path / "job.toml").write_text(JOB.format(site="", height="54 in"))
    code = (
        "import sys; from fencewright import design, read_job, write_design;"
        "write_design(design(read_job(sys.argv[1])), sys.argv[2])"
    )
    for seed in ("0", "4"):
        command = [sys.executable, "-c", code, str(tmp_path / "job.toml"), str(tmp_path / seed)]
        subprocess.run(command, check=True, env={**os.environ, "PYTHONHASHSEED": seed})
    unlike = [
        name for name in [*FILES, "manifest.json"]
        if (tmp_path / "0" / name).read_bytes() != (tmp_path / "4" / name).read_bytes()
    ]  # fmt: skip
    assert unlike == []


def test_a_stopped_design_is_marked_in_every_kind_of_file(made: Callable[..., Design]) -> None:
    """Tops of 90 in cannot be had from posts of 8 ft."""
    stopped = made(height="90 in")
    assert not stopped.may_be_built
    files = outputs(stopped)
    assert json.loads(files["design.json"])["may_be_built"] is False
    assert json.loads(files["fence.geojson"])["may_be_built"] is False
    for name in (
        "plan.svg",
        "section.svg",
        "tension.svg",
        "strength.svg",
        "plan.dxf",
        "stakes.gpx",
        "fence.gpkg",
    ):
        assert b"NOT TO BE BUILT" in files[name], name
    assert b"may_be_built" in files["posts.csv"]


def test_a_job_without_a_place_says_so_once(made: Callable[..., Design]) -> None:
    def codes(content: bytes) -> list[str]:
        return [finding["code"] for finding in json.loads(content)["findings"]]

    assert codes(outputs(made())["design.json"]).count("no-place") == 1
    placed: Any = made(site="origin = [46.5, -87.4]")
    files = outputs(placed)
    assert codes(files["design.json"]).count("no-place") == 0
    assert files["stakes.gpx"].count(b"<wpt ") == len(placed.layout.posts) + len(placed.layout.braces)


def test_the_record_is_valid_by_its_schema(made: Callable[..., Design]) -> None:
    import jsonschema

    from fencewright.exchange.design_schema import design_schema

    record, _ = design_json(made())
    jsonschema.Draft202012Validator(design_schema()).validate(record)


def test_what_follows_from_a_design_stands_beside_it(made: Callable[..., Design], tmp_path: Path) -> None:
    whole = made()
    write_design(whole, tmp_path)
    manifest = write_beside(whole, {"price.json": b"{}"}, tmp_path)
    assert {row["name"] for row in manifest["files"]} == {*FILES, "price.json"}
    assert check_manifest(tmp_path) == []
    write_design(whole, tmp_path)
    assert (tmp_path / "price.json").is_file()


def test_a_folder_with_another_design_is_left_alone(made: Callable[..., Design], tmp_path: Path) -> None:
    write_design(made(), tmp_path)
    with pytest.raises(InputError, match="another state of this job"):
        write_beside(made(height="50 in"), {"price.json": b"{}"}, tmp_path)
    assert not (tmp_path / "price.json").exists()
    assert check_manifest(tmp_path) == []


def test_a_price_alone_is_replaced_by_that_of_the_changed_design(
    made: Callable[..., Design], tmp_path: Path
) -> None:
    write_beside(made(), {"price.json": b"{}"}, tmp_path)
    write_beside(made(height="50 in"), {"price.csv": b""}, tmp_path)
    assert {path.name for path in tmp_path.iterdir()} == {"price.csv", "manifest.json"}
