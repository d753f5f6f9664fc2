"""Unlike rails between the same two posts, against the linear equations of posts and rails solved together.

Unknown are how far each end moves and what each rail takes in, or gains; every rail pulls on the same two posts. Rails
are so light that they do not sag.
"""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from fencewright.catalogue.rows import Rail
from fencewright.job.settings import Settings
from fencewright.tables.tension import RailModels, Tensions, TensionTask
from fencewright.tension.stage import pull_tensions

Build = Callable[..., TensionTask]
Change = Callable[..., Settings]
Drawn = Callable[..., tuple[Tensions, RailModels]]
SPANS_M, STRAIGHT, TURNED = [3.0] * 20, [0.0] * 19, [0.0] * 9 + [0.9] + [0.0] * 9
STIFFNESS_N_M = np.array([2.4e5, 7.1e5])


@pytest.fixture
def drawn(build: Build, settings: Settings, change: Change, rails: dict[str, Rail]) -> Drawn:
    """Draw a wire, a slim rail and two rails between two unlike posts; keywords are numbers of `[tension]`."""
    names = ("coated wire", "slim polymer rail", "polymer rail", "polymer rail")
    light = [replace(rails[name], line_mass_kg_m=1e-6, allowed_share=1.0) for name in names]
    strands = tuple(replace(old, rail=rail) for old, rail in zip(settings.strands, light, strict=True))

    def draw(turns_rad: list[float], **tension: float) -> tuple[Tensions, RailModels]:
        task = replace(build([SPANS_M], [turns_rad]), end_stiffness_n_m=STIFFNESS_N_M[None])
        made, pulled, _ = pull_tensions(task, change(replace(settings, strands=strands), **tension))
        return made, pulled.rails

    return draw


@pytest.mark.parametrize("turns_rad", [STRAIGHT, TURNED])
@pytest.mark.parametrize("spring_m_n", [0.0, 2e-5])
def test_every_rail_takes_in_the_one_movement_of_each_end(
    drawn: Drawn, turns_rad: list[float], spring_m_n: float
) -> None:
    """K d = pull of all rails at that end; what a rail takes in less its stretch and spring is both movements."""
    made, rails = drawn(turns_rad, spring_m_n=spring_m_n)
    tension, stiffness, count = made.set_tension_n, rails.stiffness_n[made.product_index], 4
    shares = np.array([made.worked_n[made.posts_of(0)][at] for at in (0, -1)]) / tension[0]
    equations, right = np.zeros((2 + count, 2 + count)), np.zeros(2 + count)
    for end in (0, 1):
        equations[end, end], right[end] = STIFFNESS_N_M[end], (shares[end] * tension).sum()
    draws = np.array([made.drawn_from[0] != 1, made.drawn_from[0] != 0])
    stretched = tension / stiffness * 3.0 * (10 * shares.sum() if len(set(shares)) > 1 else 20)
    for rail in range(count):
        equations[2 + rail, [0, 1, 2 + rail]] = -1.0, -1.0, 1.0
        right[2 + rail] = stretched[rail] + spring_m_n * tension[rail] * (shares * draws).sum()
    taken = np.linalg.solve(equations, right)[2:]
    assert made.take_up_m - made.slack_m == pytest.approx(taken, rel=1e-9)


def test_cooling_moves_each_end_once(drawn: Drawn) -> None:
    """EA / L (alpha L dt - d) = gain of each rail, K d = gain of all: why ends are shared by EA alpha on other days."""
    made, rails = drawn(STRAIGHT)
    own, soft, length = made.product_index, (1.0 / STIFFNESS_N_M).sum(), 60.0
    spring = rails.stiffness_n[own] / length
    colder = made.reference_c - rails.coldest_c[own]
    equations = np.eye(4) + spring[:, None] * soft
    gain = np.linalg.solve(equations, spring * rails.expansion_per_c[own] * length * colder)
    assert made.cold_n - made.set_tension_n == pytest.approx(gain, rel=1e-4)
