"""Berggren's coefficient against an enthalpy finite-difference run of the freezing ground.

Heat is carried through cells; each holds its enthalpy, and its temperature stands still while its water
freezes. Nothing of Neumann's solution is in it. In units of k = C = vs = 1 the fusion number alone sets
the latent heat: L = 1 / mu.
"""

import numpy as np
import pytest

from fencewright.mechanics import frost


def frozen_depth(alpha: float, fusion: float, cell: float, ground: float = 8.0) -> float:
    """Depth of frost at time 1 under a surface at -1, the ground at first at +alpha."""
    latent, count = 1.0 / fusion, round(ground / cell)
    steps = int(np.ceil(1.0 / (0.4 * cell**2)))
    step = 1.0 / steps
    enthalpy = np.full(count, latent + alpha)
    flow = np.zeros(count + 1)
    for _ in range(steps):
        warmth = np.where(enthalpy > latent, enthalpy - latent, np.minimum(enthalpy, 0.0))
        flow[0] = -(warmth[0] + 1.0) / (cell / 2)
        flow[1:-1] = -(warmth[1:] - warmth[:-1]) / cell
        enthalpy -= step / cell * np.diff(flow)
    thawed = np.clip(enthalpy / latent, 0.0, 1.0)
    return float(((1.0 - thawed) * cell).sum())


@pytest.mark.parametrize(("alpha", "fusion"), [(0.3328, 0.2044), (0.0, 0.5), (1.5, 0.3)])
def test_exact_coefficient_is_where_the_front_comes_to_stand(alpha: float, fusion: float) -> None:
    by_run = frozen_depth(alpha, fusion, 0.0125) / np.sqrt(2.0 * fusion)
    assert float(frost.berggren_exact(alpha, fusion)) == pytest.approx(by_run, abs=4e-4)


def test_the_run_closes_in_on_the_exact_coefficient_with_finer_cells() -> None:
    exact = float(frost.berggren_exact(0.3328, 0.2044))
    off = [abs(frozen_depth(0.3328, 0.2044, cell) / np.sqrt(2 * 0.2044) - exact) for cell in (0.1, 0.025)]
    assert off[1] < off[0] / 3


def test_the_short_formula_goes_too_deep_in_mild_ground() -> None:
    """Said of it by the source of the formula (aldrich-1953); the run confirms by how much."""
    by_run = frozen_depth(1.5, 0.3, 0.025) / np.sqrt(0.6)
    assert float(frost.berggren_simple(1.5, 0.3)) > by_run + 0.03
