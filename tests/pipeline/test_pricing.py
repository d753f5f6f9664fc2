"""A design to its price: everything of the order and every kind of work is in it, where it belongs."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import numpy as np
import pytest

from fencewright.desk.reading import read_job
from fencewright.desk.running import design
from fencewright.pipeline.price_counts import dug_holes
from fencewright.pipeline.pricing import price_design, price_settings, price_task
from fencewright.pipeline.record import Design
from fencewright.tables.fence import Setting, SpanKind
from fencewright.tables.price import PriceBook, PriceRow
from fencewright.tables.price_task import Work

EXAMPLES = Path(__file__).parents[2] / "examples"
Make = Callable[[str], Design]


@pytest.fixture(scope="module", params=["small-paddock", "rolling-pasture"])
def example(request: pytest.FixtureRequest) -> Design:
    return design(read_job(EXAMPLES / request.param / "job.toml"))


def works_of(made: Design) -> dict[str, Work]:
    return {work.item: work for work in price_task(made, price_settings(made.job)[0]).works}


def flat_book(price: str = "1.00") -> PriceBook:
    """A price for every trade, and for nothing else."""
    rows = [PriceRow(trade, "h", Decimal(price), kind="labour") for trade in ("fence builder", "labourer")]
    return PriceBook("flat", tuple(rows), "USD")


def test_every_line_of_the_order_is_priced_once(example: Design) -> None:
    settings = replace(price_settings(example.job)[0], concrete="bags")
    task = price_task(example, settings)
    assert task.bags is not None
    items = [*task.items, *task.bags.items]
    order = {line.id: line.order for line in example.order}
    assert {item.id: item.order for item in items if item.id in order} == order
    assert len({item.id for item in items}) == len(items)


def test_what_goes_to_each_paddock_adds_up_to_the_order(example: Design) -> None:
    task = price_task(example, price_settings(example.job)[0])
    for item, line in ((item, line) for item in task.items for line in example.order if item.id == line.id):
        if line.item in ("round post", "brace", "gate leaf"):
            assert sum(item.weights) == line.order
        elif line.pack == 1 and line.unit == "piece":
            assert sum(item.weights) == pytest.approx(line.net)
        assert len(item.weights) == len(example.layout.lines)
        assert sum(item.weights) > 0


def test_the_work_is_counted_from_the_design(example: Design) -> None:
    works, posts, braces = works_of(example), example.layout.posts, example.layout.braces
    concreted = example.holes.set == int(Setting.CONCRETE)
    assert works["set posts in concrete"].quantity == concreted.sum()
    assert works["set and tamp posts"].quantity == len(posts) - concreted.sum()
    assert works["stake out"].quantity == len(posts) + len(braces)
    assert works["fit diagonal braces"].quantity == len(braces)
    assert works["anchor and pull"].quantity == len(example.pulls)
    assert works["hang gates"].quantity == (example.layout.spans.kind == int(SpanKind.GATE)).sum()
    assert works["mark and cut tops"].quantity == len(posts)
    assert works["pay out rails"].quantity == pytest.approx(example.pulls.rail_m.sum() / 0.3048)
    dug = sum(work.quantity for name, work in works.items() if name.startswith("auger"))
    assert dug == len(posts) + len(braces) == len(dug_holes(example))


def test_brackets_are_as_many_as_the_order_counts(example: Design) -> None:
    order = {line.item: line.net for line in example.order}
    works = works_of(example)
    assert works["fasten rail brackets"].quantity == order["line bracket"]
    assert works["fasten corner brackets"].quantity == order["corner bracket"]


def test_hours_of_holes_grow_with_their_depth(dry_job_text: str, made: Make) -> None:
    usual = made(dry_job_text)
    deeper = made(dry_job_text.replace('line_depth = "30 in"', 'line_depth = "33 in"'))
    before, after = (works_of(one)["auger holes, sand, to 12 in"] for one in (usual, deeper))
    hours = [work.quantity / work.per_hour for work in (before, after)]
    ratio = dug_holes(deeper).depth_m.sum() / dug_holes(usual).depth_m.sum()
    assert hours[1] / hours[0] == pytest.approx(ratio)


@pytest.mark.parametrize(
    ("auger", "name"), [("8 in", "to 9 in"), ("12 in", "to 12 in"), ("14 in", "to 18 in")]
)
def test_the_smallest_auger_that_makes_the_hole(dry_job_text: str, made: Make, auger: str, name: str) -> None:
    works = works_of(made(dry_job_text.replace('auger = "12 in"', f'auger = "{auger}"')))
    assert [one for one in works if one.startswith("auger")] == [f"auger holes, sand, {name}"]


def test_the_ground_of_a_soil_zone_has_its_own_rate(dry_job_text: str, made: Make) -> None:
    zone = '[[soil_zone]]\nline = "paddock"\nfrom = "0 ft"\nto = "100 ft"\nsoil = "gravel"\n'
    works = works_of(made(dry_job_text + zone))
    assert {"auger holes, gravel, to 12 in", "auger holes, sand, to 12 in"} <= set(works)


def test_driven_posts_are_driven_and_need_no_hole(dry_job_text: str, made: Make) -> None:
    text = dry_job_text.replace("rails = 4", 'rails = 4\nline_posts = "driven"')
    one = made(text)
    works = works_of(one)
    driven = (one.holes.set == int(Setting.DRIVEN)).sum()
    assert works["drive posts"].quantity == driven > 0
    assert works["drive posts"].plant == "post driver"
    assert len(dug_holes(one)) == len(one.layout.posts) - driven + len(one.layout.braces)


def test_rock_is_paid_by_the_hole(dry_job_text: str, made: Make) -> None:
    met = '[[rock]]\nline = "paddock"\nat = "60 ft"\ndepth = "20 in"\n'
    one = made(dry_job_text.replace("[price]", met + '[price]\nrock_share = "10 %"'))
    item = next(item for item in price_task(one, price_settings(one.job)[0]).items if item.id == "rock-hole")
    assert item.order == pytest.approx(1 + 0.1 * (len(dug_holes(one)) - 1))


def test_preparation_spoil_and_extras(dry_job_text: str, made: Make) -> None:
    more = (
        '[preparation]\nold_fence = "300 ft"\nclearing = "200 ft"\ncontainment = "100 ft"\naccess = "50 ft"\n'
        '[[extra]]\nname = "building permit"\nprice = 85\n'
    )
    one = made(dry_job_text.replace("[price]", '[price]\nspoil = "haul"') + more)
    task = price_task(one, price_settings(one.job)[0])
    works = {work.item: work.quantity for work in task.works}
    assert works["remove old fence"] == pytest.approx(300)
    assert works["clear the line"] == pytest.approx(200)
    assert works["contain the stock"] == pytest.approx(100)
    assert works["make access"] == pytest.approx(50)
    items = {item.id: item.order for item in task.items}
    assert items["old-fence-disposal"] == pytest.approx(300)
    assert items["temporary-fence"] == pytest.approx(100)
    assert items["extra-building-permit"] == 1
    loose_m3 = dug_holes(one).spoil_m3.sum() * 1.25
    assert items["spoil-disposal"] == pytest.approx(loose_m3 / 0.764554857984)
    assert "spread spoil" not in works


def test_soil_of_a_tamped_post_goes_back_but_for_the_post(dry_job_text: str, made: Make) -> None:
    one = made(dry_job_text)
    tamped = np.flatnonzero(one.holes.set == int(Setting.TAMPED))
    holes = dug_holes(one)
    post = np.pi / 4 * one.layout.posts.diameter_m[tamped] ** 2 * one.holes.depth_m[tamped]
    assert holes.spoil_m3[tamped] == pytest.approx(post)
    assert (holes.spoil_m3[tamped] < one.holes.spoil_m3[tamped]).all()


def test_posts_already_set_are_neither_bought_nor_dug(dry_job_text: str, made: Make) -> None:
    usual = works_of(made(dry_job_text))
    set_one = '[[built]]\nline = "paddock"\nat = "60 ft"\ndepth = "30 in"\n'
    fewer = works_of(made(dry_job_text.replace("[price]", set_one + "[price]")))
    for name in ("set and tamp posts", "mark and cut tops", "auger holes, sand, to 12 in", "stake out"):
        assert fewer[name].quantity == usual[name].quantity - 1


def test_a_wire_fence_is_stapled_and_paid_out_as_wire(dry_job_text: str, made: Make) -> None:
    works = works_of(made(dry_job_text.replace("rails = 4", 'rails = 4\nrail = "coated wire"')))
    assert {"staple wires", "pay out wires"} <= set(works)
    assert not {"fasten rail brackets", "pay out rails"} & set(works)


def test_labour_at_one_an_hour_is_the_hours(example: Design) -> None:
    priced = price_design(example, flat_book())
    step = priced.step("labour")
    assert step is not None
    assert step.amount == priced.labour_hours


def test_a_common_boundary_is_shared_by_its_length(dry_job_text: str, made: Make) -> None:
    shared = '[[neighbour]]\nname = "Bo"\nline = "paddock"\nfrom = "0 ft"\nto = "320 ft"\nshare = "50 %"\n'
    priced = price_design(made(dry_job_text + shared), flat_book("40.00"))
    assert priced.total is not None
    assert priced.customer_total is not None
    assert abs(priced.neighbours[0].amount - priced.total / 4) <= Decimal("0.01")
    assert priced.customer_total + priced.neighbours[0].amount == priced.total


def test_a_design_that_stops_is_priced_with_a_caution(dry_job_text: str, made: Make) -> None:
    one = made(dry_job_text.replace('line_depth = "30 in"', 'line_depth = "90 in"'))
    assert not one.may_be_built
    assert "price-of-no-build" in {finding.code for finding in price_design(one).findings}


def test_ready_mix_replaces_bags_and_their_mixing(dry_job_text: str, made: Make) -> None:
    text = dry_job_text.replace("[price]", '[price]\nconcrete = "ready-mix"\nready_mix_distance = "10 mi"')
    ids = {line.id: line for line in price_design(made(text)).lines}
    assert {"ready-mix-concrete", "ready-mix-delivery", "ready-mix-haul", "work-pour-ready-mix"} <= set(ids)
    assert not {"concrete-80-lb", "work-mix-and-pour-bags"} & set(ids)
    assert ids["ready-mix-haul"].quantity == 20
    assert "1 load" in ids["ready-mix-delivery"].basis
    assert "1 loads" not in ids["ready-mix-delivery"].basis
