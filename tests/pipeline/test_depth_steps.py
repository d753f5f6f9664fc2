"""Holes are dug to whole steps: ground that freezes deeper never gives a shallower hole or footing."""

from pathlib import Path

import numpy as np

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design

JOB = (
    '[job]\nname="x"\n[site]\nfrost_depth="{frost} in"\nsoil="sand"\n'
    '[[line]]\nname="a"\npoints=[["0 ft","0 ft"],["130 ft","0 ft"],["130 ft","98 ft"],["0 ft","98 ft"]]\nclosed=true\n'
)


def test_deeper_frost_never_gives_a_shallower_hole(tmp_path: Path) -> None:
    """Depths went up and down by an inch with each inch of frost: their steps were counted from where frost began."""
    depths = []
    for frost in range(33, 53):
        made = design(job_from_text(JOB.format(frost=frost), tmp_path))
        depths.append(np.concatenate([made.holes.depth_m, made.brace_holes.depth_m]) / 0.0254)
    assert (np.diff(depths, axis=0) > -1e-6).all()
    deepened = np.array(depths[0])[np.array(depths[0]) > 36 + 1e-6]
    assert len(deepened)
    np.testing.assert_allclose(deepened / 2, np.round(deepened / 2), atol=1e-6)
