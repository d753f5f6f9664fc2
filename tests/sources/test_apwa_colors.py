"""Uniform colour code of the public works association (apwa-colors; sources-fence.md G) and hand-dig zones (cga-bp).

Red electric, yellow gas, orange communication, blue water, green sewer; purple reclaimed water from memory. States split
between 18 and 24 in on each side: the default is the wider.
"""

import pytest

from fencewright.catalogue.loading import shipped_catalogue

COLOURS = {
    "buried electric": "red",
    "buried gas": "yellow",
    "buried telecom": "orange",
    "buried water": "blue",
    "buried sewer": "green",
    "buried reclaimed water": "purple",
}


@pytest.mark.parametrize("kind", COLOURS)
def test_colour_and_zone(kind: str) -> None:
    row = shipped_catalogue().obstacles[kind]
    assert row.colour == COLOURS[kind]
    assert row.is_service
    assert row.clearance_m == pytest.approx(24 * 0.0254)


def test_every_buried_service_is_here() -> None:
    assert {name for name, row in shipped_catalogue().obstacles.items() if row.is_service} == set(COLOURS)


@pytest.mark.parametrize(("diameter_in", "each_side_in", "width_in"), [(2, 18, 38), (24, 24, 72)])
def test_width_of_the_tolerance_zone(diameter_in: float, each_side_in: float, width_in: float) -> None:
    """sources-fence.md A7 (PRESS): W = D + 2 t; the zone barred to a hole of no width is as wide."""
    import numpy as np

    from fencewright.site.clearances import kept_out_shape, kept_out_stretches
    from fencewright.site.features import SiteObstacle

    inch = 0.0254
    pipe = SiteObstacle(
        "pipe", "buried gas", "line", np.array([[5.0, -9.0], [5.0, 9.0]]), each_side_in * inch, diameter_in / 2 * inch,
        "yellow", True, False, False, False,
    )  # fmt: skip
    start, end, _ = kept_out_stretches(
        np.array([[0.0, 0.0]]), np.array([[10.0, 0.0]]), np.array([0.0, 10.0]), [kept_out_shape(pipe, 0.0)]
    )
    assert float(end[0] - start[0]) / inch == pytest.approx(width_in, rel=1e-3)
