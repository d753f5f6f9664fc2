"""Loads keep their payload, hold everything once, and say what they could not weigh."""

import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.pipeline.record import Design
from fencewright.tables.load import STEPS

HEAD = '[job]\nname = "x"\nsheets = "metric"\n[site]\nsoil = "sand"\nfrost_depth = "30 in"\n'
LINE = '[[line]]\nname = "a"\npoints = [["0 m", "0 m"], ["300 m", "0 m"]]\n'
LINE += '[[gate]]\nline = "a"\nat = "40 m"\nopening = "12 ft"\n'
Make = Callable[[str], Design]


@pytest.fixture
def made(tmp_path: Path) -> Make:
    return lambda more: design(job_from_text(HEAD + LINE + more, tmp_path))


def test_every_line_of_the_order_is_on_the_truck_once(made: Make) -> None:
    plan = made('[rolls]\nremainders = ["40 m"]\n[load]\npayload = "700 kg"\n')
    items = plan.load.items
    for line in plan.order:
        own = [row for row, name in enumerate(items.order_id) if name == line.id]
        assert items.count[own].sum() == pytest.approx(line.order), line.id
    yard = [row for row, name in enumerate(items.order_id) if not name]
    used = sum(int(cut.cut_list.is_remainder.sum()) for cut in plan.cutting)
    assert items.count[yard].sum() == used


@pytest.mark.parametrize("payload", [100.0, 700.0, 900.0, 5000.0])
def test_no_load_passes_the_payload(made: Make, payload: float) -> None:
    load = made(f'[load]\npayload = "{payload} kg"\n').load
    items = load.items
    for number in range(len(load)):
        own = items.load_index == number
        mass = float(np.nansum(items.mass_kg[own]))
        assert load.load_mass_kg[number] == pytest.approx(mass)
        pieces = float(items.count[own & np.isfinite(items.mass_each_kg)].sum())
        assert mass <= payload * (1 + 1e-9) or pieces == 1
    assert load.load_mass_kg.sum() == pytest.approx(np.nansum(items.count * items.mass_each_kg))
    for number in range(len(load) - 1):  # a load ends only where the next piece would not fit
        after = np.flatnonzero((items.load_index == number + 1) & np.isfinite(items.mass_each_kg))
        assert load.load_mass_kg[number] + items.mass_each_kg[after[0]] > payload * (1 - 1e-9)


def test_the_truck_is_loaded_in_the_order_of_work(made: Make) -> None:
    items = made("").load.items
    assert (np.diff(items.load_index) >= 0).all()
    assert (np.diff(items.step) >= 0).all()
    assert {STEPS[step] for step in items.step.tolist()} == set(STEPS)


def test_posts_and_bags_weigh_what_a_hand_reckons(made: Make) -> None:
    """A 6 in post of 9 ft is 1.767 ft3; at 45 lb/ft3 and a quarter wetter 99.4 lb. A bag of 25 kg weighs 25 kg."""
    items = made('[posts]\nend_diameter = "6 in"\nend_lengths = ["9 ft"]\n').load.items
    each = dict(
        zip(zip(items.item, items.size, strict=True), (items.mass_each_kg / 0.45359237).tolist(), strict=True)
    )
    stout = [
        mass for (item, size), mass in each.items() if item == "round post" and size == "152 mm x 2.74 m"
    ]
    assert stout == [pytest.approx(math.pi / 4 * 0.5**2 * 9 * 45 * 1.25, rel=1e-9)]
    assert each["bagged concrete", "25 kg"] == pytest.approx(25 / 0.45359237)


def test_bags_of_concreted_line_posts_go_with_the_line_posts(made: Make) -> None:
    items = made('[fence]\nline_posts = "concrete"\n').load.items
    steps = {
        STEPS[step]
        for step, item in zip(items.step.tolist(), items.item, strict=True)
        if item == "bagged concrete"
    }
    assert steps == {"ends and corners", "line posts"}


def test_hardware_with_a_mass_on_its_sheet_is_weighed(made: Make, tmp_path: Path) -> None:
    plain = made("")
    rows = [row for row, item in enumerate(plain.load.items.item) if item == "strainer bar"]
    assert not rows
    assert plain.load.unknown_items.sum() > 0
    (tmp_path / "sheet.toml").write_text(
        '[[hardware]]\nitem = "strainer bar"\nfor = "fence"\nper = "brace"\ncount = 1\nmass = "2 kg"\nwhy = "a test"\n'
    )
    items = made('[catalogue]\nfiles = ["sheet.toml"]\n').load.items
    (row,) = [row for row, item in enumerate(items.item) if item == "strainer bar"]
    assert items.mass_kg[row] == pytest.approx(2.0 * items.count[row])
    assert items.weighed_by[row] == "catalogue row"


def test_steel_pipe_posts_weigh_as_steel(made: Make) -> None:
    """Schedule 40 of 4.5 in by 0.237 in weighs 10.79 lb/ft in every pipe table."""
    items = made('[strength]\nend_pipe = "4 in schedule 40"\n').load.items
    row = next(k for k, by in enumerate(items.weighed_by) if by.startswith("steel pipe"))
    length_ft = float(items.size[row].split(" x ")[1].removesuffix(" m")) / 0.3048
    assert items.mass_each_kg[row] / 0.45359237 / length_ft == pytest.approx(10.79, rel=0.01)
