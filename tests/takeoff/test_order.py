"""The order: net by geometry, waste apart, packs; nothing by a rule of thumb."""

import math
from collections.abc import Callable
from pathlib import Path

import pytest

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.pipeline.record import Design
from fencewright.tables.fence import OrderLine

FOOT = 0.3048
HEAD = (
    '[job]\nname="x"\nsheets="{sheets}"\n[site]\nfrost_depth="30 in"\nsoil="sand"\n'
    '[[line]]\nname="a"\npoints=[{points}]\n{more}'
)
ELL = [(0.0, 0.0), (40.0, 0.0), (40.0, 30.0)]


@pytest.fixture
def made(tmp_path: Path) -> Callable[..., Design]:
    """Design one line through points in metres."""

    def build(more: str = "", points: list[tuple[float, float]] = ELL, sheets: str = "us") -> Design:
        text = ", ".join(f'["{x} m", "{y} m"]' for x, y in points)
        return design(job_from_text(HEAD.format(points=text, more=more, sheets=sheets), tmp_path))

    return build


def lines(design: Design) -> dict[str, OrderLine]:
    return {line.item: line for line in design.order}


def test_hardware_by_assembly(made: Callable[..., Design]) -> None:
    """An end, a corner, an end: one run of four rails past one corner and 10 + 8 line posts."""
    order = lines(made())
    inner = 10 + 8
    assert order["tensioner"].net == order["end anchor"].net == 4
    assert order["corner bracket"].net == 4
    assert order["line bracket"].net == inner * 4
    assert order["bracket screw"].net == 3 * (inner + 1) * 4
    assert order["brace bolt"].net == 4
    assert "hinge and latch set" not in order
    assert "rail splice set" not in order


def test_packs_and_waste(made: Callable[..., Design]) -> None:
    bracket = lines(made())["line bracket"]
    assert bracket.waste == pytest.approx(0.03 * bracket.net)
    assert bracket.order == math.ceil((bracket.net + bracket.waste) / 25) * 25
    assert lines(made())["tensioner"].waste == 0


def test_every_order_covers_net_and_waste_within_a_pack(made: Callable[..., Design]) -> None:
    more = '[[gate]]\nline="a"\nat="10 m"\nopening="12 ft"\n[brace]\nkind="horizontal"\n'
    more += '[[crossing]]\nline="a"\nat="50 m"\nwidth="5 m"\n'
    design = made(more)
    for line in design.order:
        assert 0 <= line.order - line.net - line.waste < line.pack, line
        assert line.order / line.pack == pytest.approx(round(line.order / line.pack))
    assert len({line.id for line in design.order}) == len(design.order)
    order = lines(design)
    assert order["hung water gap"].order == order["hinge and latch set"].order == 1
    assert order["brace tie wire, 9 gauge"].order == len(design.layout.braces)
    assert order["gate leaf"].size == "11.5 ft"


def test_posts_count_by_size(made: Callable[..., Design]) -> None:
    design = made('[[pin]]\nline="a"\nat="20 m"\nheight="60 in"\n')
    sizes = {line.size: line.order for line in design.order if line.item == "round post"}
    assert sum(sizes.values()) == len(design.layout.posts)
    stock = {"4.5 in": {"7 ft", "8 ft", "9 ft"}, "6 in": {"8 ft", "9 ft", "10 ft", "12 ft"}}
    assert all(size.split(" x ")[1] in stock[size.split(" x ")[0]] for size in sizes)


def test_a_post_without_stock_is_not_ordered_as_some_other(made: Callable[..., Design]) -> None:
    design = made('[posts]\nline_lengths=["6 ft"]\n')
    assert sum(line.order for line in design.order if line.item == "round post") == 3


def test_wires_take_wire_hardware(made: Callable[..., Design]) -> None:
    strands = (
        "[[strand]]\nrail='coated wire'\n[[strand]]\nrail='coated wire'\n[[strand]]\nrail='polymer rail'\n"
    )
    design = made(strands)
    order = lines(design)
    assert (order["tensioner"].net, order["wire tensioner"].net) == (1, 2)
    assert order["line staple"].net == 2 * order["line bracket"].net == 2 * 18
    assert order["wire end crimp"].net == 4
    assert {one.rail for one in design.cutting} == {"coated wire", "polymer rail"}
    assert order["coated wire"].size == "roll of 1,320 ft"


def test_concrete_is_rounded_once_for_the_whole_job(made: Callable[..., Design]) -> None:
    design = made('[holes]\nbag="60 lb"\nwaste="10 %"\n')
    line = lines(design)["bagged concrete"]
    net = (design.holes.concrete_m3.sum() + design.brace_holes.concrete_m3.sum()) / (0.45 * FOOT**3)
    assert line.net == pytest.approx(net)
    assert line.waste == pytest.approx(0.1 * net)
    assert line.order == math.ceil(1.1 * net)
    assert line.size == "60 lb"


def test_rolls_and_what_is_left_of_them(made: Callable[..., Design]) -> None:
    design = made()
    line = lines(design)["polymer rail"]
    assert line.order == 2  # two pulls of 236 ft out of each roll of 660 ft
    assert line.net == pytest.approx(float(design.pulls.rail_m.sum()) / (660 * FOOT))
    assert line.net + line.waste == pytest.approx(line.order)


def test_remainders_in_the_yard_are_not_bought(made: Callable[..., Design]) -> None:
    design = made('[rolls]\nremainders=["300 ft", "250 ft", "280 ft", "240 ft"]\n')
    assert "polymer rail" not in lines(design)


def test_metric_sheets_name_metric_sizes(made: Callable[..., Design]) -> None:
    order = made(sheets="metric").order
    assert any(line.size.startswith("150 mm x 2.") for line in order)
    assert not [line for line in order if " ft" in line.size]
