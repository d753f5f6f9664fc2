"""Corner and bend figures of sources-fence B (DERIVED): tension left, inward force for 250 lbf.

Register key: capstan.
"""

import numpy as np
import pytest

from fencewright.mechanics.belt_friction import FIRST_END, bend_force_n, share_in_pieces


@pytest.mark.parametrize(
    ("turn_deg", "printed"),
    [
        (30, (0.949, 0.901, 0.855)),
        (60, (0.901, 0.811, 0.730)),
        (90, (0.855, 0.730, 0.624)),
        (180, (0.730, 0.533, 0.390)),
    ],
)
def test_share_past_a_turn_made_in_three_bends(turn_deg: float, printed: tuple[float, ...]) -> None:
    """Printed to three digits, friction 0.1, 0.2, 0.3; one bend or three make no difference."""
    turning = np.radians(turn_deg) * np.array([0.2, 0.5, 0.3])
    for friction, share in zip((0.1, 0.2, 0.3), printed, strict=True):
        found = share_in_pieces(turning, np.array([0, 3]), friction, FIRST_END)
        assert found[-1] == pytest.approx(share, abs=5e-4)
        assert found[0] == 1.0


@pytest.mark.parametrize(
    ("turn_deg", "printed_lbf"),
    [(5, 21.8), (10, 43.6), (20, 86.8), (30, 129.4), (60, 250.0), (90, 353.6)],
)
def test_inward_force_of_250_pounds(turn_deg: float, printed_lbf: float) -> None:
    assert float(bend_force_n(250, 250, np.radians(turn_deg))) == pytest.approx(printed_lbf, abs=0.05)


def test_uplift_in_a_dip() -> None:
    """Wire 1 ft below its chord, 30 ft each side: 2 x 250 / sqrt(901) = 16.7 lbf."""
    assert float(bend_force_n(250, 250, 2 * np.arctan(1 / 30))) == pytest.approx(16.7, abs=0.05)
