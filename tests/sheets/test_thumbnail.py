"""The small picture of a job in the list."""

from pathlib import Path

from fencewright.desk.reading import read_job
from fencewright.sheets.look import CODE_COLOURS, INK
from fencewright.sheets.thumbnail import thumbnail_svg

JOB = """\
[job]
name = "Lane"
sheets = "metric"
[[line]]
name = "a"
points = [["0 m", "0 m"], ["60 m", "0 m"]]
"""
GAS = '[[obstacle]]\nkind = "buried gas"\npoints = [["20 m", "-9 m"], ["20 m", "9 m"]]\n'
TREE = '[[obstacle]]\nkind = "tree"\npoints = [["40 m", "3 m"]]\nradius = "0.3 m"\n'


def drawn(folder: Path, text: str) -> str:
    (folder / "job.toml").write_text(text)
    return thumbnail_svg(read_job(folder / "job.toml"))


def test_a_buried_service_has_the_colour_of_the_public_works_code(tmp_path: Path) -> None:
    """APWA uniform color code: gas is yellow. What is no service stays grey, and the fence ink."""
    picture = drawn(tmp_path, JOB + GAS)
    assert f'stroke="{CODE_COLOURS["yellow"]}"' in picture
    assert "stroke-dasharray" in picture
    assert f'stroke="{INK}"' in picture
    plain = drawn(tmp_path, JOB + TREE)
    assert f'stroke="{CODE_COLOURS["none"]}"' in plain
    assert CODE_COLOURS["yellow"] not in plain


def test_a_job_without_a_line_has_a_picture_too(tmp_path: Path) -> None:
    assert drawn(tmp_path, '[job]\nname = "Bare"\n').startswith("<svg ")
