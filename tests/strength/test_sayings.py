"""What is said of what does not pass, and that the edits it offers do mend it."""

import json
import tomllib
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from fencewright.findings import Finding
from fencewright.strength.remedies import written
from fencewright.strength.stage import check_strength
from fencewright.strength.task import StrengthTask
from fencewright.tables.fence import Role

Tasks = Callable[..., StrengthTask]


def by_code(task: StrengthTask) -> dict[str, list[Finding]]:
    found: dict[str, list[Finding]] = {}
    for one in check_strength(task)[1]:
        found.setdefault(one.code, []).append(one)
    return found


def as_toml(finding: Finding, stated: str) -> str:
    """The job's tables with the edits of a finding made."""
    data = tomllib.loads(stated)
    for edit in finding.edits:
        section, key = edit["path"]
        data.setdefault(section, {})[key] = edit["value"]
    text = ""
    for section, rows in data.items():
        text += f"[{section}]\n" + "".join(f"{key} = {json.dumps(value)}\n" for key, value in rows.items())
    return text


@pytest.mark.parametrize(
    "stated",
    [
        '[holes]\nend_depth = "48 in"\nbrace_depth = "54 in"\n',
        '[holes]\nend_depth = "60 in"\nbrace_depth = "48 in"\n',
        '[holes]\nend_depth = "48 in"\nbrace_depth = "48 in"\n',
        '[brace]\nkind = "none"\n',
        '[brace]\ndiameter = "2 in"\n',
        '[posts]\nend_diameter = "3 in"\nline_diameter = "3 in"\n',
    ],
)
def test_the_edits_of_a_stop_mend_it(strength_task: Tasks, stated: str) -> None:
    """Each round makes the edits of the first stop; a few rounds leave none."""
    text, rounds = stated, 0
    while stops := by_code(strength_task(text, soil="clay")).get("over-capacity", []):
        assert rounds < 5
        assert stops[0].edits, stops[0].message
        text, rounds = as_toml(stops[0], text), rounds + 1
    assert rounds > 0


def test_a_stop_names_check_share_case_and_clause(strength_task: Tasks) -> None:
    stop = by_code(strength_task('[holes]\nend_depth = "47 in"\n', soil="clay"))["over-capacity"][0]
    for word in ("%", "lbf", "under cold pull", "ibc-1807", "embedment"):
        assert word in stop.message
    assert stop.where.kind == "post"
    assert stop.where.id.startswith("P")


def test_line_posts_that_a_storm_leans_are_a_stop(strength_task: Tasks) -> None:
    """Issue 4, item 10: what cannot pass is a stop, with the nearest change that would."""
    task = strength_task('[holes]\nline_depth = "30 in"\n[strength]\nwind_speed = "105 mph"\n')
    (stop,) = by_code(task)["over-capacity"]
    assert "wind" in stop.message
    assert stop.edits[0]["path"] == ["holes", "line_depth"]
    assert "[strength] wind_speed" in stop.remedy


def test_line_posts_that_sink_are_a_stop_that_concretes_them_alone(strength_task: Tasks) -> None:
    pin = '[[pin]]\nline = "paddock"\nat = "60 ft"\nheight = "72 in"\n'
    stop = next(
        one for one in by_code(strength_task(pin, soil="clay"))["over-capacity"] if "bearing" in one.message
    )
    assert stop.edits
    rows = "".join(
        "[[size]]\n" + "".join(f"{key} = {json.dumps(value)}\n" for key, value in edit["append"].items())
        for edit in stop.edits
    )
    left = by_code(strength_task(pin + rows, soil="clay")).get("over-capacity", [])
    assert not [one for one in left if "bearing" in one.message]


def test_left_to_the_program_line_posts_are_dug_for_the_storm(strength_task: Tasks) -> None:
    task = strength_task('[strength]\nwind_speed = "105 mph"\n')
    strength, findings = check_strength(task)
    assert not [one for one in findings if one.level == "stop"]
    line = task.layout.posts.role == int(Role.LINE)
    assert set(np.array(strength.sizes.governs)[line]) == {"embedment"}


def test_line_posts_are_dug_no_deeper_than_their_stock_reaches(strength_task: Tasks) -> None:
    more = '[posts]\nline_lengths = ["8 ft"]\n[strength]\nwind_speed = "105 mph"\n'
    task = strength_task(more)
    strength, _ = check_strength(task)
    line = task.layout.posts.role == int(Role.LINE)
    assert strength.sizes.depth_m[line].max() <= (96 - 54 - 2) * 0.0254 + 1e-9
    assert set(np.array(strength.sizes.governs)[line]) == {"stock length"}
    stop = by_code(task)["over-capacity"][0]
    assert stop.edits[0]["path"] == ["posts", "line_lengths"]
    assert "over-capacity" not in by_code(strength_task(as_toml(stop, more)))


def test_deeper_holes_are_noted_with_their_reason(strength_task: Tasks) -> None:
    notes = by_code(strength_task(soil="clay"))["footing-enlarged"]
    assert {one.level for one in notes} == {"note"}
    assert any("embedment" in one.message for one in notes)
    assert any("brace footings" in one.message for one in notes)


def test_rock_gets_its_ladder(strength_task: Tasks) -> None:
    rock = '[[rock]]\nline = "paddock"\nat = "60 ft"\ndepth = "20 in"\n'
    line = by_code(strength_task(rock))["rock-ladder"][0]
    for word in ("move it up to", "collar", "socket", "would pass"):
        assert word in line.message + line.remedy
    deep = by_code(strength_task(rock.replace("20 in", "29.8 in")))["rock-ladder"][0]
    assert "holds at the rock" in deep.message


@pytest.mark.parametrize(
    ("collar_most_m", "depth", "words", "missing"),
    [
        (0.9, "20 in", ("cast a collar", "drill a socket"), "engineer"),
        (0.9, "12 in", ("engineer", "another kind of post"), "wide"),
        (0.1, "20 in", ("drill a socket",), "collar"),
        (9.0, "12 in", ("cast a collar",), "socket"),
    ],
)
def test_only_what_one_builds_is_advised_on_rock(
    strength_task: Tasks, collar_most_m: float, depth: str, words: tuple[str, ...], missing: str
) -> None:
    """A collar of 33 in and a socket of 30 in at 20 in down; 135 in and 40 in at 12 in, where soil asks for 30 in."""
    task = strength_task(f'[[rock]]\nline = "paddock"\nat = "60 ft"\ndepth = "{depth}"\n')
    strength = task.settings.strength
    ground = replace(strength.ground, collar_most_m=collar_most_m)
    settings = replace(task.settings, strength=replace(strength, ground=ground))
    remedy = by_code(replace(task, settings=settings))["rock-ladder"][0].remedy
    assert all(word in remedy for word in words), remedy
    assert missing not in remedy


@pytest.mark.parametrize("table", ["rock", "built"])
@pytest.mark.parametrize("at", ["60 ft", "200 ft"])
def test_a_post_without_depth_is_held_by_nothing(strength_task: Tasks, table: str, at: str) -> None:
    found = by_code(strength_task(f'[[{table}]]\nline = "paddock"\nat = "{at}"\ndepth = "0 ft"\n'))
    (stop,) = found["post-not-held"]
    assert stop.level == "stop"
    assert "nothing holds the post" in stop.message
    assert "rock-ladder" not in found
    for one in found.get("over-capacity", []):
        assert not (one.where == stop.where and "of the hole" in one.message)


def test_a_corner_on_rock_cannot_move(strength_task: Tasks) -> None:
    rock = '[[rock]]\nline = "paddock"\nat = "200 ft"\ndepth = "20 in"\n'
    found = by_code(strength_task(rock))
    assert "cannot move" in found["rock-ladder"][0].remedy
    assert found["over-capacity"]


def test_the_lean_that_is_asked_for_ends_the_note(strength_task: Tasks) -> None:
    note = by_code(strength_task())["post-leans"][0]
    assert "post-leans" not in by_code(strength_task(as_toml(note, "")))


@pytest.mark.parametrize(("bays", "word"), [(1, "bays = 2"), (2, "shorter pulls")])
def test_no_lean_is_offered_that_nobody_sets(strength_task: Tasks, bays: int, word: str) -> None:
    """A top that moves further than 3 in is not leaned away: its brace does not hold it. Common practice, no source."""
    task = strength_task(f"[brace]\nbays = {bays}\n")
    brace = replace(task.settings.brace, lean_most_m=0.001, lean_m=0.0005)
    found = by_code(replace(task, settings=replace(task.settings, brace=brace)))["post-leans"][0]
    assert (found.level, found.edits) == ("caution", ())
    assert "does not hold" in found.remedy
    assert word in found.remedy
    assert "lean = " not in found.remedy


def test_lengths_are_written_to_what_a_person_digs() -> None:
    assert written(1.0, "us") == "40 in"
    assert written(40 * 0.0254, "us") == "40 in"
    assert written(1.0041, "metric") == "1050 mm"
    assert written(1.05, "metric") == "1050 mm"
    assert written(0.0311, "metric", 0.25) == "40 mm"
    assert written(0.0444, "us", 0.25) == "1.75 in"
