"""Jobs read again and again: the same as a first reading, from files that are read once."""

import shutil
from pathlib import Path

import numpy as np
import pytest

from fencewright.desk.reading import read_job
from fencewright.desk.warm_reading import WarmReader, named_files
from fencewright.findings import InputError
from fencewright.job.reading import parse_job

EXAMPLE = Path(__file__).parents[2] / "examples" / "rolling-pasture"


def test_a_warm_reading_equals_a_first_one(monkeypatch: pytest.MonkeyPatch) -> None:
    text = (EXAMPLE / "job.toml").read_text("utf-8")
    reader = WarmReader()
    reader.read(text, EXAMPLE)
    monkeypatch.setattr("fencewright.desk.site_reading.read_site_file", None)  # nothing is read again
    monkeypatch.setattr("fencewright.desk.site_reading.read_ground", None)
    warm = reader.read(text, EXAMPLE)
    monkeypatch.undo()
    cold = read_job(EXAMPLE / "job.toml")
    assert warm.findings == cold.findings
    assert warm.site.plane == cold.site.plane
    for one, other in zip(warm.site.lines, cold.site.lines, strict=True):
        assert np.array_equal(one.xy_m, other.xy_m)
        x, y = one.xy_m.T
        assert np.array_equal(warm.site.ground.elevation_m(x, y), cold.site.ground.elevation_m(x, y))


def test_a_job_that_no_longer_names_a_file_hears_nothing_of_it() -> None:
    text = (EXAMPLE / "job.toml").read_text("utf-8")
    reader = WarmReader()
    reader.read(text, EXAMPLE)
    bare = '[job]\nname = "B"\n[site]\ncrs = "local"\n[[line]]\nname = "b"\npoints = [["0 m", "0 m"], ["40 m", "0 m"]]\n'
    assert reader.read(bare, EXAMPLE).site.plane.crs == ""


def test_files_outside_the_folder_or_not_there_are_refused(tmp_path: Path) -> None:
    shutil.copy(EXAMPLE / "corners.csv", tmp_path / "corners.csv")
    (tmp_path / "in").mkdir()
    text = '[job]\nname = "B"\n[site]\nfile_unit = "m"\n[[line]]\nname = "b"\nfile = "{}"\nfeature = "west"\n'
    for name, said in (
        ("../corners.csv", "leaves the job's folder"),
        ("corners.csv", "there is no such file"),
    ):
        with pytest.raises(InputError, match=said) as refused:
            WarmReader().read(text.format(name), tmp_path / "in")
        assert (refused.value.file, refused.value.field) == (name, ("line", 0, "file"))


def test_every_file_that_a_job_names_is_known() -> None:
    text = (
        '[job]\nname = "B"\n[site]\nground = "a.tif"\n[[line]]\nname = "b"\nfile = "b.csv"\n'
        '[[obstacle]]\nkind = "tree"\nfile = "c.csv"\n[catalogue]\nfiles = ["d.toml"]\n'
        '[paper]\nlogo = "e.png"\n[price]\nbook = "f.toml"\n'
    )
    named = named_files(parse_job(text))
    assert sorted(name for name, _, _ in named) == ["a.tif", "b.csv", "c.csv", "d.toml", "e.png", "f.toml"]
