"""The three examples run as they are shipped, and give the same bytes in every process."""

import hashlib
import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from fencewright import design, read_job
from fencewright.desk.writing import outputs
from fencewright.pipeline.record import Design
from fencewright.tables.fence import Role

ROOT = Path(__file__).parents[2] / "examples"
HASHES = (
    "import sys, hashlib, json; from fencewright import design, read_job; from fencewright.desk.writing import outputs;"
    "files = outputs(design(read_job(sys.argv[1])));"
    "print(json.dumps({name: hashlib.sha256(content).hexdigest() for name, content in files.items()}))"
)


@pytest.fixture(scope="module")
def small() -> Design:
    return design(read_job(ROOT / "small-paddock" / "job.toml"))


@pytest.fixture(scope="module")
def pasture() -> Design:
    return design(read_job(ROOT / "rolling-pasture" / "job.toml"))


@pytest.fixture(scope="module")
def ridge_job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the ridge's job in a folder of its own, with the terrain that its maker writes there."""
    folder = tmp_path_factory.mktemp("ridge")
    source = ROOT / "ridge-boundary"
    for name in ("job.toml", "boundary.geojson"):
        shutil.copy(source / name, folder / name)
    subprocess.run([sys.executable, str(source / "terrain_maker.py"), str(folder)], check=True)
    return folder / "job.toml"


@pytest.fixture(scope="module")
def ridge(ridge_job: Path) -> Design:
    return design(read_job(ridge_job))


def codes(made: Design, level: str) -> list[str]:
    return [one.code for one in made.findings if one.level == level]


def test_the_small_paddock_may_be_built(small: Design) -> None:
    assert small.may_be_built
    assert len(small.layout.posts) == 54


def test_the_small_paddock_is_the_issues_own_job(small_job_text: str) -> None:
    """Issue 3, "A small job, which must run as it stands"."""
    assert 'points = [["95 ft", "-20 ft"], ["95 ft", "150 ft"]]' in small_job_text
    tables = re.findall(r"^\[+(\w+)\]+", small_job_text, re.MULTILINE)
    added = {"reference", "price"}  # points to tape from, and what a quote needs
    assert [name for name in tables if name not in added] == [
        "job",
        "site",
        "line",
        "gate",
        "obstacle",
        "fence",
        "holes",
    ]


def test_the_pasture_has_no_stop(pasture: Design) -> None:
    assert not codes(pasture, "stop")
    assert pasture.may_be_built


def test_the_pasture_holds_all_that_the_issue_asks_of_it(pasture: Design) -> None:
    """Issue 3, item 13: two paddocks with a lane, a stream, a swale, a crest, a water line, trees, an inside corner."""
    layout = pasture.layout
    assert [line.name for line in layout.lines] == ["west", "east", "lane south", "lane north"]
    assert len(layout.visits.post_index) >= 4
    assert layout.openings.is_crossing.sum() == 2
    assert (~layout.openings.is_crossing).sum() == 5
    kinds = {one.kind for one in pasture.job.site.obstacles}
    assert {"stream", "buried water", "tree"} <= kinds
    turning = layout.posts.turning_rad[layout.posts.role == int(Role.CORNER)]
    assert (turning > 0).any()
    assert (turning < 0).any()
    assert any(why.startswith(("crest", "dip")) for why in layout.posts.why)
    assert pasture.job.site.ground.source.startswith("terrain.tif")


def test_no_hole_of_the_pasture_is_in_a_clearance(pasture: Design) -> None:
    import shapely

    posts = pasture.layout.posts
    places = shapely.points(posts.x_m, posts.y_m)
    for one in pasture.job.site.obstacles:
        shape = shapely.Point(one.xy_m[0]) if len(one.xy_m) == 1 else shapely.LineString(one.xy_m)
        room = shapely.distance(shape, places) - one.radius_m - pasture.holes.bell_m / 2
        assert room.min() >= one.clearance_m - 1e-3, one.name


def test_yard_remainders_of_the_pasture_are_used(pasture: Design) -> None:
    cut = pasture.cutting[0].cut_list
    assert cut.is_remainder.any()


def test_the_ridge_prints_no_cut(ridge: Design) -> None:
    """Cells of 90 m are far too coarse: every post is set long, and control posts are named."""
    assert not ridge.cuts.is_cut.any()
    assert np.isnan(ridge.rail_marks_m).all()
    assert "ground-uncertain" in codes(ridge, "caution")
    assert ridge.is_control.any()
    assert not ridge.is_control.all()
    assert 5000 < ridge.layout.lines[0].length_m < 7000
    record = json.loads(outputs(ridge)["design.json"])
    assert not any(post["cut"] for post in record["posts"])


def test_the_ridge_may_be_built(ridge: Design) -> None:
    assert not codes(ridge, "stop")


def test_the_ridge_is_projected_to_a_metric_plane_that_a_note_names(ridge: Design) -> None:
    named = next(one for one in ridge.findings if one.code == "plane-chosen")
    assert named.level == "note"


@pytest.mark.parametrize("name", ["small-paddock", "rolling-pasture", "ridge-boundary"])
def test_the_same_bytes_in_two_processes(name: str, request: pytest.FixtureRequest) -> None:
    made = request.getfixturevalue(
        {"small-paddock": "small", "rolling-pasture": "pasture", "ridge-boundary": "ridge"}[name]
    )
    path = request.getfixturevalue("ridge_job") if name == "ridge-boundary" else ROOT / name / "job.toml"
    done = subprocess.run(
        [sys.executable, "-c", HASHES, str(path)], check=True, capture_output=True, text=True
    )
    here = {file: hashlib.sha256(content).hexdigest() for file, content in outputs(made).items()}
    assert json.loads(done.stdout) == here
