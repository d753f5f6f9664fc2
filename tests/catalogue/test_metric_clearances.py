"""Clearances, reasons and names of works that no job states are round in the units of its sheets."""

import re

import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.catalogue.work_rows import work_key

INCHES = re.compile(r"\d (in|ft|lb)\b")


@pytest.mark.parametrize(
    ("kind", "us_m", "metric_m"),
    [("stream", 1.2192, 1.2), ("pond", 1.8288, 1.8), ("tree", 0.9144, 0.9), ("septic field", 3.048, 3.0)],
)
def test_a_clearance_is_round_on_its_sheets(kind: str, us_m: float, metric_m: float) -> None:
    catalogue = shipped_catalogue()
    assert catalogue.on_sheets("us").obstacles[kind].clearance_m == pytest.approx(us_m)
    assert catalogue.on_sheets("metric").obstacles[kind].clearance_m == pytest.approx(metric_m)


def test_a_buried_service_keeps_at_least_what_its_code_of_practice_asks() -> None:
    services = [row for row in shipped_catalogue().on_sheets("metric").obstacles.values() if row.is_service]
    buried = [row for row in services if not row.is_overhead]
    assert len(buried) > 4
    assert {row.clearance_m for row in buried} == {0.65}  # 24 in is 609.6 mm


def test_reasons_and_works_of_metric_sheets_have_no_inches() -> None:
    us, metric = (shipped_catalogue().on_sheets(sheets) for sheets in ("us", "metric"))
    said = [row.why for row in metric.kept.values()]
    said += [f"{row.name}: {row.why}" for row in metric.works.values()]
    assert len(said) > 40
    assert not [text for text in said if INCHES.search(text)]
    assert [text for text in (row.why for row in us.kept.values()) if INCHES.search(text)]
    dug = metric.works["auger holes, sand, to 300 mm"]
    assert dug.depth_m == 0.9
    assert dug.auger_m == pytest.approx(0.3048)


@pytest.mark.parametrize("name", ["auger holes, sand, to 12 in", "auger holes, sand, to 300 mm"])
def test_a_work_is_found_by_either_name_on_metric_sheets(name: str) -> None:
    works = shipped_catalogue().on_sheets("metric").works
    assert work_key(works, name) == "auger holes, sand, to 300 mm"
    assert work_key(works, "no such work") == "no such work"
