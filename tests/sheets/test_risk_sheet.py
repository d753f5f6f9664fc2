"""The risk sheet: the quantiles of the price in words, marks apart without colour, nothing over another or off the paper."""

import itertools
import re
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from fencewright.desk.pricing import price_job
from fencewright.pipeline.record import Design
from fencewright.pipeline.risking import contingency_to
from fencewright.sheets.labels import overlap, text_box
from fencewright.sheets.look import style_named
from fencewright.sheets.picture import Picture, Polygon, Symbol, Text
from fencewright.sheets.risk_graphs import money
from fencewright.sheets.risk_sheet import draw_risk
from fencewright.sheets.svg import write_svg
from fencewright.tables.price import Price

Made = tuple[Design, Price]


@pytest.fixture(scope="module")
def made(small_job_path: Path) -> Made:
    return price_job(small_job_path)


def views(made: Made) -> list[Picture]:
    picture = draw_risk(*made)
    assert picture.phone is not None
    return [picture, picture.phone]


def test_the_quantiles_and_the_price_stand_on_it_wide_and_narrow(made: Made) -> None:
    price = made[1]
    assert price.risk is not None
    assert price.total is not None
    for view in views(made):
        said = " ".join(view.texts())
        for chance in (0.5, 0.8, 0.95):
            assert f"P{100 * chance:.0f}  {money(price, price.risk.quantile(chance))}" in said
        assert f"this price: {100 * price.risk.covered(float(price.total)):.0f} %" in said
        assert f"{100 * contingency_to(price, 0.8):.1f} %" in said


def test_five_uncertainties_stand_on_it_with_what_would_narrow_them(made: Made) -> None:
    price = made[1]
    assert price.risk is not None
    rows = price.risk.swings.row[:5].tolist()
    for view in views(made):
        said = view.texts()
        assert [text for text in said if text in price.risk.uncertainties.words] == [
            price.risk.uncertainties.words[row] for row in rows
        ]
        for row in rows:
            assert price.risk.uncertainties.remedy[row].split()[0] in " ".join(said)


def test_marks_are_told_apart_without_colour(made: Made) -> None:
    for view in views(made):
        marks = [item for item in view.items() if isinstance(item, Symbol)]
        assert len({mark.name for mark in marks}) == len(marks) == 3
        bars = {item.style for item in view.items() if isinstance(item, Polygon)} & {"bar-dark", "bar-light"}
        assert {style_named(name).fill for name in bars} == {"#1c2126", "#ffffff"}


def test_no_text_covers_another_or_leaves_the_paper(made: Made) -> None:
    for view in views(made):
        boxes = [(item.text, text_box(item, 0.0)) for item in view.items() if isinstance(item, Text)]
        clashes = [(a[0], b[0]) for a, b in itertools.combinations(boxes, 2) if overlap(a[1], b[1])]
        assert clashes == []
        for text, box in boxes:
            reach = box.reach_m
            assert 0 <= box.x_m - reach[0] <= box.x_m + reach[0] <= view.width_m, text
            assert 0 <= box.y_m - reach[1] <= box.y_m + reach[1] <= view.height_m, text


def test_bars_lie_in_the_order_of_their_length(made: Made) -> None:
    for view in views(made):
        widths = []
        for first, second in itertools.pairwise(
            [i for i in view.items() if isinstance(i, Polygon) and "bar" in i.style]
        ):
            if (first.style, second.style) == ("bar-light", "bar-dark"):
                widths.append(second.rings[0][1][0] - first.rings[0][0][0])
        assert len(widths) == 5
        assert widths == sorted(widths, reverse=True)


def test_without_a_price_it_says_so(made: Made) -> None:
    design, price = made
    for view in views((design, replace(price, total=None, risk=None))):
        assert "No price is known" in " ".join(view.texts())


def test_a_price_above_everything_stands_in_the_graph_too(made: Made) -> None:
    design, price = made
    assert price.risk is not None
    for total in (Decimal(1), Decimal(10) ** 6):
        for view in views((design, replace(price, total=total))):
            marks = [
                item for item in view.items() if isinstance(item, Text) and item.text.startswith("this price")
            ]
            assert len(marks) == 1
            assert 0 < marks[0].x_m < view.width_m


def test_the_svg_is_the_same_each_time_and_names_itself(made: Made) -> None:
    text = write_svg(draw_risk(*made))
    assert text == write_svg(draw_risk(*made))
    assert re.search(r"<title[^>]*>Risk of the price of Small paddock</title>", text)
    assert "P80" in text.split("</desc>")[0]
