"""Holes: how each post is held, how deep, how much concrete, by hand."""

import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from fencewright.desk.reading import job_from_text
from fencewright.job.settings import HoleSettings, Settings
from fencewright.tables.fence import Braces, Holes, Posts, Role, Setting
from fencewright.takeoff.holes import brace_footings, post_holes

INCH, FOOT = 0.0254, 0.3048
ROLES = [Role.END, Role.LINE, Role.LINE, Role.CORNER, Role.BRACE]
JOB = '[job]\nname="x"\n[site]\nfrost_depth="30 in"\nsoil="sand"\n[[line]]\nname="a"\npoints=[["0 m","0 m"],["9 m","0 m"]]\n'


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return job_from_text(JOB, tmp_path).settings


@pytest.fixture
def table() -> Callable[..., Posts]:
    """Build a table of posts of the roles above, some columns given."""

    def build(**columns: Any) -> Posts:
        count = len(ROLES)
        zeros, unknown, at = np.zeros(count), np.full(count, np.nan), np.linspace(0.0, 12.0, count)
        role = np.array([int(one) for one in ROLES])
        behind = np.isin(role, (int(Role.LINE), int(Role.BRACE)))
        posts = Posts(
            np.zeros(count, np.int64), at, role, at, zeros, zeros, zeros, zeros,
            np.where(behind, 4.5 * INCH, 6 * INCH), zeros, np.ones(count, np.int64), ~behind, np.zeros(count, bool),
            unknown, unknown, unknown, zeros, ("",) * count,
        )  # fmt: skip
        return replace(posts, **columns)

    return build


def holed(
    posts: Posts, settings: Settings, unstable: list[bool] | None = None, lifted: list[bool] | None = None
) -> Holes:
    none = np.zeros(len(posts), bool)
    return post_holes(
        posts,
        settings,
        none if unstable is None else np.array(unstable),
        none if lifted is None else np.array(lifted),
    )


def with_holes(settings: Settings, **values: Any) -> Settings:
    holes: HoleSettings = replace(settings.holes, **values)
    return replace(settings, holes=holes)


def test_ends_corners_and_second_uprights_are_concreted(
    table: Callable[..., Posts], settings: Settings
) -> None:
    holes = holed(table(), settings)
    tamped, concrete = int(Setting.TAMPED), int(Setting.CONCRETE)
    assert holes.set.tolist() == [concrete, tamped, tamped, concrete, concrete]
    np.testing.assert_allclose(holes.depth_m / INCH, [36, 30, 30, 36, 36])
    np.testing.assert_allclose(holes.bell_m / INCH, [18, 12, 12, 18, 18])
    assert holes.governs == ("practice",) * 5


def test_concrete_net_of_the_post_by_hand(table: Callable[..., Posts], settings: Settings) -> None:
    """36 in deep, 12 in shaft, 18 in bell of 6 in height, filled to 4 in below grade, less a 6 in post."""
    cubic_inches = math.pi / 12 * 6 * (18**2 + 12**2 + 18 * 12) + math.pi / 4 * (144 * 26 - 36 * 32)
    holes = holed(table(), settings)
    assert holes.concrete_m3[0] == pytest.approx(cubic_inches * INCH**3)
    assert (holes.concrete_m3[[1, 2]] == 0).all()
    spoil = math.pi / 12 * 6 * (18**2 + 12**2 + 18 * 12) + math.pi / 4 * 144 * 30
    assert holes.spoil_m3[0] == pytest.approx(spoil * INCH**3)
    assert holes.spoil_m3[1] == pytest.approx(math.pi / 4 * 144 * 30 * INCH**3)


@pytest.mark.parametrize("which", ["unstable", "lifted"])
def test_a_line_post_that_tamped_soil_does_not_hold_is_concreted_below_frost(
    table: Callable[..., Posts], settings: Settings, which: str
) -> None:
    deep = replace(with_holes(settings, end_depth_m=48 * INCH), frost_m=47 * INCH)
    flags = [False, True, False, False, False]
    holes = holed(table(), deep, **{which: flags})
    assert holes.set[[1, 2]].tolist() == [int(Setting.CONCRETE), int(Setting.TAMPED)]
    assert holes.depth_m[1] == pytest.approx(48 * INCH)  # an inch below frost, as the ends
    assert holes.depth_m[2] == pytest.approx(30 * INCH)
    assert holes.governs[1] == "frost"
    assert holes.concrete_m3[1] > 0


def test_a_line_hole_is_never_made_shallower_by_concrete(
    table: Callable[..., Posts], settings: Settings
) -> None:
    holes = holed(table(), replace(settings, frost_m=10 * INCH), lifted=[False, True, False, False, False])
    assert holes.depth_m[1] == pytest.approx(30 * INCH)
    assert holes.governs[1] == "practice"


def test_rock_ends_a_hole(table: Callable[..., Posts], settings: Settings) -> None:
    rock = np.array([20 * INCH, np.nan, 50 * INCH, np.nan, 2 * INCH])
    holes = holed(table(rock_depth_m=rock), settings)
    np.testing.assert_allclose(holes.depth_m / INCH, [20, 30, 30, 36, 2])
    assert holes.governs == ("rock", "practice", "practice", "practice", "rock")
    assert holes.concrete_m3[4] == 0.0  # nothing below the recess


def test_a_post_already_set_takes_nothing(table: Callable[..., Posts], settings: Settings) -> None:
    built = np.array([True, True, False, False, False])
    depth = np.array([40 * INCH, np.nan, np.nan, np.nan, np.nan])
    holes = holed(table(is_built=built, built_depth_m=depth), settings)
    np.testing.assert_allclose(holes.depth_m[:2] / INCH, [40, 30])
    assert (holes.concrete_m3[:2] == 0).all()
    assert (holes.spoil_m3[:2] == 0).all()
    assert holes.governs[:2] == ("already set",) * 2


def test_a_driven_post_has_no_hole(table: Callable[..., Posts], settings: Settings) -> None:
    holes = holed(table(), with_holes(settings, line_set="driven"))
    np.testing.assert_allclose(holes.diameter_m[[1, 2]] / INCH, 4.5)
    assert (holes.spoil_m3[[1, 2]] == 0).all()
    assert holes.set[[1, 2]].tolist() == [int(Setting.DRIVEN)] * 2


def test_a_bell_or_a_wider_auger_takes_more_concrete_and_a_thicker_post_less(
    table: Callable[..., Posts], settings: Settings
) -> None:
    base = holed(table(), settings).concrete_m3[0]
    assert holed(table(), with_holes(settings, bell_m=0.0)).concrete_m3[0] < base
    assert holed(table(), with_holes(settings, auger_m=14 * INCH)).concrete_m3[0] > base
    assert holed(table(diameter_m=np.full(5, 8 * INCH)), settings).concrete_m3[0] < base


def braces(horizontal: list[bool]) -> Braces:
    count = len(horizontal)
    zeros = np.zeros(count)
    rows = np.zeros(count, np.int64)
    return Braces(
        rows, rows, np.array(horizontal, bool), zeros, zeros, zeros, zeros, zeros, zeros, zeros, rows
    )


@pytest.mark.parametrize(("depth", "height"), [(48, 30), (36, 18), (30, 18), (12, 12)])
def test_a_braces_footing(settings: Settings, depth: float, height: float) -> None:
    """Common practice, no source: concrete from the bottom up to 18 in below grade, at least 18 in of it."""
    made = brace_footings(braces([False, True]), with_holes(settings, brace_depth_m=depth * INCH))
    assert made.concrete_m3[0] == pytest.approx(math.pi / 4 * FOOT**2 * height * INCH)
    assert made.spoil_m3[0] == pytest.approx(math.pi / 4 * FOOT**2 * depth * INCH)
    assert (made.concrete_m3[1], made.depth_m[1], made.diameter_m[1]) == (0, 0, 0)
