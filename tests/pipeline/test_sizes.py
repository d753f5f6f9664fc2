"""Sizes stated post by post: what a design chose, stated, changes nothing; what is too small is kept and told."""

import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import fields
from pathlib import Path

import numpy as np
import pytest

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.findings import InputError
from fencewright.pipeline.record import Design
from fencewright.pipeline.why import explain
from fencewright.tables.fence import Role, Setting
from fencewright.tables.tension import GOVERNS_HIGH

EXAMPLES = Path(__file__).parents[2] / "examples"
Made = Callable[[str], Design]
HEAD = '[job]\nname = "x"\n[site]\nsoil = "clay"\nfrost_depth = "30 in"\n'
LINE = '[[line]]\nname = "a"\npoints = [["0 ft", "0 ft"], ["300 ft", "0 ft"], ["420 ft", "155 ft"]]\n'
GENERATED = (
    HEAD
    + LINE
    + '[[line]]\nname = "b"\nclosed = true\npoints = [["150 ft", "0 ft"], ["150 ft", "-120 ft"], ["260 ft", "-100 ft"]]\n'
    + '[[gate]]\nline = "a"\nat = "40 ft"\nopening = "12 ft"\n'
    + '[[soil_zone]]\nline = "a"\nfrom = "100 ft"\nto = "200 ft"\nsoil = "sand"\nunstable = true\n'
    + '[[rock]]\nline = "a"\nat = "80 ft"\ndepth = "20 in"\n'
    + '[[built]]\nline = "a"\nat = "250 ft"\ndepth = "28 in"\n'
)


def sizes_of(made: Design) -> str:
    """All that a design chose, as `[[size]]` tables."""
    layout, rows, ways = made.layout, [], []
    for row in range(len(layout.posts)):
        name = layout.lines[int(layout.posts.line_index[row])].name
        values = {
            "at": layout.posts.station_m[row],
            "diameter": layout.posts.diameter_m[row],
            "hole": made.holes.diameter_m[row],
            "bell": made.holes.bell_m[row] - made.holes.diameter_m[row],
            "depth": made.holes.depth_m[row],
        }
        rows.append((name, "post", values))
        ways.append(Setting(int(made.holes.set[row])).label)
    for row in np.flatnonzero(~layout.braces.is_horizontal).tolist():
        name = layout.lines[int(layout.braces.line_index[row])].name
        values = {
            "at": layout.braces.station_m[row],
            "hole": made.brace_holes.diameter_m[row],
            "depth": made.brace_holes.depth_m[row],
        }
        rows.append((name, "brace", values))
    text = ""
    for number, (name, part, values) in enumerate(rows):
        text += f'[[size]]\nline = "{name}"\npart = "{part}"\n'
        text += f'set = "{ways[number]}"\n' if number < len(ways) else ""
        text += "".join(f'{key} = "{float(value)!r} m"\n' for key, value in values.items())
    return text


def assert_same(one: object, other: object, but: tuple[str, ...] = ("governs",)) -> None:
    for field in fields(one):  # type: ignore[arg-type]  # every table is a dataclass
        if field.name in but:
            continue
        a, b = getattr(one, field.name), getattr(other, field.name)
        if isinstance(a, np.ndarray):
            assert a.shape == b.shape, field.name
            if np.issubdtype(a.dtype, np.floating):
                assert a == pytest.approx(b, rel=1e-9, abs=1e-9, nan_ok=True), field.name
            else:
                assert np.array_equal(a, b), field.name
        else:
            assert a == b, field.name


@pytest.mark.parametrize("name", ["small-paddock", "ridge-boundary", "generated"])
def test_the_sizes_chosen_stated_change_nothing(name: str, tmp_path: Path) -> None:
    if name == "generated":
        text = GENERATED
    else:
        source = EXAMPLES / name
        for file in (one for one in source.iterdir() if one.suffix not in (".py", ".toml")):
            shutil.copy(file, tmp_path / file.name)
        if (source / "terrain_maker.py").exists():
            subprocess.run([sys.executable, str(source / "terrain_maker.py"), str(tmp_path)], check=True)
        text = (source / "job.toml").read_text("utf-8")
    first = design(job_from_text(text, tmp_path))
    again = design(job_from_text(text + "\n" + sizes_of(first), tmp_path))
    assert_same(first.layout.posts, again.layout.posts)
    assert_same(first.holes, again.holes)
    assert_same(first.brace_holes, again.brace_holes)
    assert_same(first.tension, again.tension)
    for one, other in zip(first.order, again.order, strict=True):
        assert_same(one, other, ())
    assert_same(first.strength.checks, again.strength.checks)
    assert {one.code for one in first.findings} - {one.code for one in again.findings} <= {
            "footing-enlarged", "hole-meets-rock"  # a depth stated at the rock asks for no more
        }  # fmt: skip
    assert not {one.code for one in again.findings} - {one.code for one in first.findings}


def test_a_size_stays_with_its_post_when_others_are_added(made: Made) -> None:
    size = '[[size]]\nline = "a"\nat = "300 ft"\ndepth = "66 in"\nhole = "16 in"\nbell = "4 in"\n'
    for more in ("", '[[strain]]\nline = "a"\nat = "100 ft"\n'):
        fence = made(HEAD + LINE + more + size)
        (row,) = np.flatnonzero(fence.layout.posts.role == int(Role.CORNER)).tolist()
        assert fence.holes.depth_m[row] == pytest.approx(66 * 0.0254)
        assert fence.holes.diameter_m[row] == pytest.approx(16 * 0.0254)
        assert fence.holes.bell_m[row] == pytest.approx(20 * 0.0254)
        assert fence.holes.governs[row] == "stated post by post"
        others = np.arange(len(fence.layout.posts)) != row
        assert "stated post by post" not in np.array(fence.holes.governs)[others].tolist()


def test_one_that_is_too_small_is_kept_and_told(made: Made) -> None:
    plain = made(HEAD + LINE)
    row = int(np.flatnonzero(plain.layout.posts.role == int(Role.LINE))[4])
    size = f'[[size]]\nline = "a"\nat = "{float(plain.layout.posts.station_m[row])} m"\ndepth = "18 in"\n'
    fence = made(HEAD + LINE + size)
    assert fence.holes.depth_m[row] == pytest.approx(18 * 0.0254)
    assert fence.strength.utilisation[row] > 1
    (stop,) = [one for one in fence.findings if one.code == "over-capacity"]
    assert stop.where.id == f"P{row + 1}"
    assert f"{fence.strength.utilisation[row]:.0%}" in stop.message
    depth = stop.remedy.split('depth = "')[1].split('"')[0]
    mended = made(HEAD + LINE + size.replace("18 in", depth))
    assert mended.may_be_built
    assert 0.8 < mended.strength.utilisation[row] <= 1 + 1e-6


def test_a_weak_corner_lowers_the_tension_of_its_run(made: Made) -> None:
    """The window counts what the corner carries on the coldest day, so that the corner holds at the tension chosen."""
    fence = made(HEAD + LINE + '[[size]]\nline = "a"\nat = "300 ft"\ndepth = "30 in"\n')
    (row,) = np.flatnonzero(fence.layout.posts.role == int(Role.CORNER)).tolist()
    assert GOVERNS_HIGH[int(fence.tension.governs_high[0])] == "corners"
    assert fence.strength.ends.turn_post[0] == row
    assert 0.5 < fence.strength.utilisation[row] <= 1 + 1e-6
    assert 4 * fence.tension.cold_n.max() <= fence.strength.ends.turn_capacity_n[0] * (1 + 1e-6)
    plain = made(HEAD + LINE)
    assert fence.tension.window_high_n[0] < plain.tension.window_high_n[0]


def test_a_footing_is_found_by_the_station_of_its_foot(made: Made) -> None:
    plain = made(HEAD + LINE)
    foot = float(plain.layout.braces.station_m[1])
    more = f'[[size]]\nline = "a"\npart = "brace"\nat = "{foot} m"\ndepth = "70 in"\nhole = "14 in"\n'
    fence = made(HEAD + LINE + more)
    assert fence.brace_holes.depth_m[1] == pytest.approx(70 * 0.0254)
    assert fence.brace_holes.diameter_m[1] == pytest.approx(14 * 0.0254)
    assert (np.delete(fence.brace_holes.depth_m, 1) < 70 * 0.0254).all()


def test_a_thicker_line_post_keeps_its_face_on_the_string(made: Made) -> None:
    plain = made(HEAD + LINE)
    row = int(np.flatnonzero(plain.layout.posts.role == int(Role.LINE))[4])
    at = float(plain.layout.posts.station_m[row])
    fence = made(HEAD + LINE + f'[[size]]\nline = "a"\nat = "{at} m"\ndiameter = "6 in"\n')
    posts, before = fence.layout.posts, plain.layout.posts
    assert posts.diameter_m[row] == pytest.approx(6 * 0.0254)
    moved = np.hypot(posts.x_m[row] - before.x_m[row], posts.y_m[row] - before.y_m[row])
    assert moved == pytest.approx(0.75 * 0.0254)
    sides = [
        one.y_m[row] + one.rail_face[row] * one.diameter_m[row] / 2 for one in (posts, before)
    ]  # the first leg runs east
    assert sides[0] == pytest.approx(sides[1])
    sizes = {line.size for line in fence.order if line.item == "round post"}
    assert any(size.startswith("6 in") for size in sizes)
    checks = explain(fence, f"P{row + 1}").reasons
    assert any(one.name.startswith("bending") for one in checks)


def test_why_knows_what_is_stated_for_one_post(made: Made) -> None:
    fence = made(HEAD + LINE + '[[size]]\nline = "a"\nat = "300 ft"\ndepth = "66 in"\nhole = "16 in"\n')
    (row,) = np.flatnonzero(fence.layout.posts.role == int(Role.CORNER)).tolist()
    found = {one.name: one for one in explain(fence, f"P{row + 1}").reasons}
    assert found["hole depth"].result == pytest.approx(float(fence.holes.depth_m[row]))
    assert "[[size]]" in found["hole depth"].says
    assert found["concrete"].result == pytest.approx(float(fence.holes.concrete_m3[row]))


def test_a_row_that_meets_no_post_is_told(made: Made) -> None:
    fence = made(HEAD + LINE + '[[size]]\nline = "a"\nat = "299 ft"\ndepth = "66 in"\n')
    (one,) = [one for one in fence.findings if one.code == "size-without-post"]
    assert one.level == "caution"
    assert "The nearest is P" in one.remedy


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ('at = "300 ft"\ndepth = "0 in"\n', "more than nothing"),
        ('at = "300 ft"\nhole = "5 in"\n', "no wider than the post"),
        ('at = "40 ft"\ndiameter = "7 in"\n', "opening"),
        ('at = "300 ft"\npart = "brace"\n', ""),
        ('at = "5.833333 ft"\npart = "brace"\nbell = "4 in"\n', "a depth and a hole alone"),
    ],
)
def test_what_cannot_be_is_one_sentence(made: Made, row: str, says: str) -> None:
    text = HEAD + LINE + '[[gate]]\nline = "a"\nat = "40 ft"\nopening = "12 ft"\n[[size]]\nline = "a"\n' + row
    if not says:
        assert [one.code for one in made(text).findings if one.level == "caution"].count(
            "size-without-post"
        ) == 1
        return
    with pytest.raises(InputError, match=says) as caught:
        made(text)
    assert "size 1" in str(caught.value)


def test_a_driven_post_fills_its_hole(made: Made) -> None:
    fence = made(
        HEAD + LINE + '[fence]\nline_posts = "driven"\n[[size]]\nline = "a"\nat = "300 ft"\nhole = "16 in"\n'
    )
    driven = fence.holes.set == int(Setting.DRIVEN)
    assert fence.holes.diameter_m[driven] == pytest.approx(fence.layout.posts.diameter_m[driven])
