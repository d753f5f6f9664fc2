"""Corner and bend figures of sources-fence B (DERIVED): tension left, inward force for 250 lbf."""

import numpy as np
import pytest

from fencewright.mechanics.belt_friction import FIRST_END, share_in_pieces


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
