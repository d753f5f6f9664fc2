"""The programme sheet: every activity named, critical ones told without colour, days off shaded, all on the sheet."""

from pathlib import Path

import pytest
from defusedxml.ElementTree import fromstring

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.desk.scheduling import programme
from fencewright.findings.cautions import DESIGN_CAUTIONS
from fencewright.pipeline.record import Design
from fencewright.sheets.labels import overlap, text_box
from fencewright.sheets.picture import Picture, Polygon, Polyline, Text
from fencewright.sheets.programme_bars import draw_programme
from fencewright.sheets.programme_chart import Chart
from fencewright.sheets.svg import write_svg
from fencewright.tables.programme import Programme

TABLE = '[programme]\nstart = "2026-04-06"\nprivate_services = "none"\ndays_off = ["2026-04-10"]\n'


@pytest.fixture(scope="module")
def planned(small_job_text: str, tmp_path_factory: pytest.TempPathFactory) -> tuple[Design, Programme]:
    made = design(job_from_text(small_job_text + TABLE, tmp_path_factory.mktemp("job")))
    return made, programme(made)


@pytest.fixture(scope="module")
def picture(planned: tuple[Design, Programme]) -> Picture:
    return draw_programme(*planned)


def both(picture: Picture) -> list[Picture]:
    return [picture, *([picture.phone] if picture.phone else [])]


def test_every_activity_is_named_and_has_its_bar(picture: Picture, planned: tuple[Design, Programme]) -> None:
    table = planned[1].activities
    for one in both(picture):
        said = " ".join(one.texts())
        assert all(
            name in said for name, kind in zip(table.name, table.kind, strict=True) if kind != "re-pull"
        )
    bars = [
        item
        for item in picture.items()
        if isinstance(item, Polygon) and item.style in ("mark", "mark-solid", "concrete")
    ]
    assert len(bars) == len(table) - 1 + 3  # the legend's three


def test_what_is_critical_is_filled(picture: Picture, planned: tuple[Design, Programme]) -> None:
    table = planned[1].activities
    filled = sum(isinstance(item, Polygon) and item.style == "mark-solid" for item in picture.items())
    assert filled == int((table.is_critical & ~table.is_wait).sum()) + 1
    under = sum(isinstance(item, Polyline) and item.style == "brace" for item in picture.items())
    assert under == int((table.is_critical & table.is_wait).sum())


def test_days_off_are_shaded(picture: Picture, planned: tuple[Design, Programme]) -> None:
    shaded = sum(isinstance(item, Polygon) and item.style == "ground-fill" for item in picture.items())
    assert shaded == int((~planned[1].days.is_working).sum()) + 1
    assert "H" in picture.texts()


def test_a_bar_lies_at_its_hours(planned: tuple[Design, Programme]) -> None:
    """Half-way through the second day's work is half-way across its column."""
    chart = Chart(planned[1], 0.0, 0.1, 0, 9)
    assert chart.x(24 + 12.0) == pytest.approx(0.015)
    assert chart.x(24 + 16.0) == pytest.approx(0.02)
    assert chart.x(4 * 24 + 12.0) == pytest.approx(0.045)  # a day off runs from midnight to midnight


def test_nothing_leaves_the_sheet_and_no_words_lie_on_words(picture: Picture) -> None:
    for one in both(picture):
        boxes = [text_box(item, 0.0) for item in one.items() if isinstance(item, Text)]
        assert all(box.x_m - box.half_width_m >= 0 for box in boxes)
        assert all(box.x_m + box.half_width_m <= one.width_m for box in boxes)
        clash = [(a, b) for k, a in enumerate(boxes) for b in boxes[k + 1 :] if overlap(a, b)]
        assert not clash


def test_cautions_deliveries_and_dates_stand_on_it(picture: Picture) -> None:
    for one in both(picture):
        said = " ".join(one.texts())
        assert DESIGN_CAUTIONS[0].split(".")[0] in said
        assert "On site by the end of" in said
        assert "Hand-over" in said


def test_a_measure_has_its_unit_and_a_piece_none(picture: Picture, planned: tuple[Design, Programme]) -> None:
    said = " ".join(picture.texts())
    litres = [one for one in planned[1].deliveries if one.unit == "L"]
    posts = [one for one in planned[1].deliveries if one.unit == "piece" and one.item == "round post"]
    assert litres
    assert posts
    assert all(f"{one.quantity:g} L {one.item}" in said for one in litres)
    assert all(f"{one.quantity:g} {one.item}" in said for one in posts)


def test_it_is_sound_svg(picture: Picture) -> None:
    fromstring(write_svg(picture).encode())


def test_a_stop_forbids_it(small_job_text: str, tmp_path: Path) -> None:
    made = design(job_from_text(small_job_text + '[programme]\nstart = "2026-04-06"\n', tmp_path))
    drawn = draw_programme(made, programme(made))
    assert drawn.description.startswith("NOT TO START")
    assert "Nobody has said" in " ".join(drawn.texts())
