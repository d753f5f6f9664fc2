"""Clearances that no job states are round in the units of its sheets."""

import pytest

from fencewright.catalogue.loading import shipped_catalogue


@pytest.mark.parametrize(
    ("kind", "us_m", "metric_m"),
    [("stream", 1.2192, 1.2), ("pond", 1.8288, 1.8), ("tree", 0.9144, 0.9), ("septic field", 3.048, 3.0)],
)
def test_a_clearance_is_round_on_its_sheets(kind: str, us_m: float, metric_m: float) -> None:
    catalogue = shipped_catalogue()
    assert catalogue.on_sheets("us").obstacles[kind].clearance_m == pytest.approx(us_m)
    assert catalogue.on_sheets("metric").obstacles[kind].clearance_m == pytest.approx(metric_m)
