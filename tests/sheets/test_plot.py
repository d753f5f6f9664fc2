"""Graphs: round ticks, values in their place."""

import pytest

from fencewright.sheets.picture import Polygon, Text
from fencewright.sheets.plot import Plot, draw_axes, round_ticks


@pytest.mark.parametrize(
    ("low", "high", "most", "ticks"),
    [
        (0.0, 530.0, 6, [0.0, 200.0, 400.0]),
        (0.0, 250.0, 6, [0.0, 50.0, 100.0, 150.0, 200.0, 250.0]),
        (-12.0, 50.0, 8, [-10.0, 0.0, 10.0, 20.0, 30.0, 40.0, 50.0]),
        (0.0, 1.0, 2, [0.0, 1.0]),
    ],
)
def test_ticks_are_round_and_within(low: float, high: float, most: int, ticks: list[float]) -> None:
    assert round_ticks(low, high, most) == pytest.approx(ticks)
    assert len(ticks) <= most


def test_values_lie_in_proportion_and_within_the_frame() -> None:
    plot = Plot((0.1, 0.2, 0.3, 0.4), (0.0, 10.0), (0.0, 100.0))
    assert [plot.x(5.0), plot.y(25.0)] == pytest.approx([0.2, 0.25])
    assert [plot.y(500.0), plot.y(-3.0)] == pytest.approx([0.4, 0.2])


def test_a_band_goes_out_along_the_top_and_back_along_the_bottom() -> None:
    band = Plot((0.0, 0.0, 1.0, 1.0), (0.0, 1.0), (0.0, 1.0)).band([0, 1], [0.2, 0.3], [0.8, 0.7], "window")
    assert isinstance(band, Polygon)
    assert band.rings == (((0.0, 0.8), (1.0, 0.7), (1.0, 0.3), (0.0, 0.2)),)


def test_axes_name_their_ticks() -> None:
    items = draw_axes(Plot((0.0, 0.0, 0.1, 0.05), (0.0, 1.0), (0.0, 1200.0)), "lbf")
    said = sorted(item.text for item in items if isinstance(item, Text))
    assert said == ["0", "1,000", "1,200", "200", "400", "600", "800", "lbf"]
