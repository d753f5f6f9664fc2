"""Why of every row: each formula, reckoned again from its inputs, gives the number of the written record."""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from fencewright.desk.price_writing import price_record
from fencewright.desk.pricing import price_of, priced_alone
from fencewright.desk.reading import read_job
from fencewright.desk.running import design
from fencewright.desk.scheduling import programme
from fencewright.desk.why import explain_any
from fencewright.exchange.design_json import design_record
from fencewright.exchange.programme_json import programme_json
from fencewright.findings import InputError
from fencewright.pipeline.risking import model_of, risk_settings
from fencewright.pipeline.why import Explanation, Reason
from fencewright.pipeline.why_alternative import explain_alternative
from fencewright.pipeline.why_price import explain_price
from fencewright.pipeline.why_price_steps import STEPS
from fencewright.pipeline.why_sum import SUMS
from fencewright.price.draws import draw_uncertainties
from fencewright.tables.price import KINDS

EXAMPLES = Path(__file__).parents[2] / "examples"


@dataclass
class Example:
    """A shipped job with its three records."""

    path: Path

    @cached_property
    def design(self) -> Any:
        return design(read_job(self.path))

    @cached_property
    def priced(self) -> Any:
        return priced_alone(self.design, self.path.parent)

    @cached_property
    def programme(self) -> Any:
        return programme(self.design)

    @cached_property
    def record(self) -> dict[str, Any]:
        return design_record(self.design)

    @cached_property
    def price(self) -> dict[str, Any]:
        return price_record(self.design, price_of(self.design, self.path.parent))[0]

    @cached_property
    def plan(self) -> dict[str, Any]:
        return programme_json(self.design, self.programme)[0]

    def why(self, thing: str) -> Explanation:
        return explain_any(self.design, thing, self.path.parent, lambda: self.priced, lambda: self.programme)


@pytest.fixture(scope="module", params=["small-paddock", "rolling-pasture"])
def example(request: pytest.FixtureRequest) -> Example:
    return Example(EXAMPLES / request.param / "job.toml")


def reckoned(reason: Reason) -> float:
    """The formula of a reason, reckoned from its inputs alone; two terms side by side are multiplied."""
    right = reason.symbols.split("=", 1)[-1].strip()
    right = re.sub(r"(?<=[\w)]) (?=[\w(])", " * ", right)
    names: dict[str, Any] = {one.symbol: one.value for one in reason.inputs}
    known: dict[str, Callable[..., float]] = {
        "ceil": lambda value: math.ceil(value - 1e-6),
        "max": max,
        "round": lambda value: math.floor(value + 0.5),
        "sqrt": math.sqrt,
        "sum": math.fsum,
    }
    return float(eval(right, {"__builtins__": {}}, {**known, **names}))  # formulas of the program itself


def named(explanation: Explanation, name: str) -> Reason:
    found = [one for one in explanation.reasons if one.name == name]
    assert len(found) == 1, (explanation.id, name, [one.name for one in explanation.reasons])
    return found[0]


def gives(explanation: Explanation, name: str, wanted: float, tolerance: float) -> None:
    """The reason's result and its formula are both what the record has."""
    reason = named(explanation, name)
    assert reason.result == pytest.approx(wanted, abs=tolerance), (explanation.id, name)
    assert reckoned(reason) == pytest.approx(wanted, abs=tolerance), (explanation.id, name, reason.symbols)
    assert all(one.origin for one in reason.inputs)


def test_every_line_of_the_order(example: Example) -> None:
    for row in example.record["order"]:
        told = example.why(row["id"])
        gives(told, "net quantity", row["net"], 2e-3)
        gives(told, "waste", row["waste"], 2e-3)
        gives(told, "to order", row["order"], 1e-9)
        assert row["item"] in told.where


def test_every_roll(example: Example) -> None:
    for row in example.record["rolls"]:
        told = example.why(row["id"])
        gives(told, "length", row["length_m"], 1e-4)
        gives(told, "used", row["used_m"], 1e-4)
        gives(told, "off-cut", row["offcut_m"], 2e-4)
        for number, piece in enumerate(row["pieces"], 1):
            gives(told, f"piece {number}", piece["rail_m"], 2e-4)
            assert piece["pull"] in named(told, f"piece {number}").says
        gives(told, "splices", sum(piece["from_m"] > 0 for piece in row["pieces"]), 0)
    costs = {one["product"]: one["cost_m"] for one in example.record["certificate"]["rolls"]["products"]}
    gives(example.why("C1"), "cost of the cut list", costs[example.record["rolls"][0]["product"]], 1e-3)


def test_every_sum(example: Example) -> None:
    summary = example.record["summary"]
    wanted = {
        "fence length": summary["fence_length_m"],
        "rail length": summary["rail_length_m"],
        "posts": sum(summary["posts"].values()),
        "concrete": summary["concrete_m3"],
        **{name: summary[name] for name in ("rolls", "pulls", "bags", "braces", "splices")},
    }
    assert set(wanted) == set(SUMS)
    for name, value in wanted.items():
        gives(example.why(name), name, value, 2e-3)
    gives(example.why("bags"), "whole bags", math.ceil(summary["bags"] - 1e-6), 0)
    assert example.why("fence-length").id == example.why("FENCE_LENGTH").id == "fence length"


def test_every_rail_mark_of_each_kind_of_post(example: Example) -> None:
    for row in example.record["posts"][::7]:
        for strand, mark in enumerate(row["rail_marks_m"] or (), 1):
            told = example.why(f"{row['id']}-{strand}")
            if mark is None:
                assert math.isnan(float(named(told, "rail mark").result))  # type: ignore[arg-type]
            else:
                gives(told, "rail mark", mark, 2e-4)


def test_every_line_of_the_price(example: Example) -> None:
    direct = next(step["amount"] for step in example.price["steps"] if step["name"] == "direct")
    ids = [row["item"] for row in example.price["lines"]]
    for row in example.price["lines"]:
        told = example.why(f"price:{row['item']}")
        if ids.count(row["item"]) > 1:
            continue  # a machine for concrete and for the rest: seen below
        gives(told, "quantity", row["quantity"], 6e-3)
        gives(told, "packs", row["packs"], 6e-3)
        if row["amount"] is None:
            assert named(told, "amount").result == "missing"
            continue
        gives(told, "amount", row["amount"], 6e-3)
        gives(told, "share", row["amount"] / direct, 1e-6)
        assert named(told, "amount").source == row["source"]
        assert reckoned(named(told, "in the price before tax")) == pytest.approx(
            named(told, "in the price before tax").result
        )
        if len(row["paddocks"]) > 1:
            parts = named(told, "by line of the fence").result
            assert sum(parts) == pytest.approx(row["amount"])  # type: ignore[arg-type]


def test_a_machine_of_two_lines_has_the_reasons_of_both(example: Example) -> None:
    ids = [row["item"] for row in example.price["lines"]]
    for twice in {one for one in ids if ids.count(one) > 1}:
        amounts = [row["amount"] for row in example.price["lines"] if row["item"] == twice]
        told = [one for one in example.why(f"price:{twice}").reasons if one.name == "amount"]
        assert [one.result for one in told] == amounts
        assert [round(reckoned(one), 2) for one in told] == pytest.approx(amounts, abs=0.011)


def test_every_step_of_the_price(example: Example) -> None:
    steps = {step["name"]: step["amount"] for step in example.price["steps"]}
    assert set(steps) == set(STEPS) - {"per-foot", "per-metre"}
    for name, amount in steps.items():
        gives(example.why(f"price:{name}"), name, amount, 6e-3)
    gives(example.why("price:per-foot"), "per foot", example.price["per_foot"], 6e-3)
    gives(example.why("price:per-metre"), "per metre", example.price["per_metre"], 6e-3)


@pytest.mark.parametrize(("name", "part"), [("p50", 0.5), ("p80", 0.8), ("p95", 0.95)])
def test_quantiles_of_the_price_from_its_runs(example: Example, name: str, part: float) -> None:
    """Drawn again, summed again, and the quantile taken by numpy's own definition (linear, at p (n - 1))."""
    settings = risk_settings(example.design.job)
    model = model_of(example.design, example.priced.price, example.priced.book, settings)
    assert model is not None
    drawn = draw_uncertainties(model.rows, settings.runs, settings.seed)
    totals = np.zeros(settings.runs)
    for amount, factors in zip(model.terms.amount.tolist(), model.terms.factors, strict=True):
        totals += amount * np.prod(drawn[list(factors)], axis=0)
    wanted = float(np.quantile(totals, part))
    told = example.why(f"price:{name}")
    assert example.price[name] == pytest.approx(wanted, abs=6e-3)
    gives(told, name.upper(), wanted, 1e-6)
    known = {one.symbol: float(one.value) for one in named(told, name.upper()).inputs}  # type: ignore[arg-type]
    assert (known["n"], known["seed"]) == (settings.runs, settings.seed)
    assert np.count_nonzero(totals <= known["x_1"] + 1e-6) == known["j"] + 1
    error = named(told, "standard error")
    assert reckoned(error) == pytest.approx(error.result)
    moved = named(told, "what is uncertain")
    assert moved.result == len(moved.inputs) == len(model.rows)
    swings = [abs(one.value[1] - one.value[0]) for one in moved.inputs]  # type: ignore[index,operator]
    assert swings == sorted(swings, reverse=True)
    assert all(one.origin for one in moved.inputs)


def test_every_alternative(example: Example) -> None:
    """Its total and difference are those of price.json; steps and lines, reckoned from both prices, add up to them."""
    for number, row in enumerate(example.price["alternatives"], 1):
        told = example.why(f"price:Alternative-{number}")
        assert told.where == f"alternative: {row['name']}"
        gives(told, "total", row["total"], 6e-3)
        assert row["change"] in named(told, "total").says
        gives(told, "difference", row["difference"], 6e-3)
        gives(told, "difference by steps", row["difference"], 6e-3)
        lines = named(told, "lines that differ")
        assert lines.result == len(lines.inputs) > 0
        moved = [float(one.value[1]) - float(one.value[0]) for one in lines.inputs]  # type: ignore[index]
        steps = {one.name: one.value for one in named(told, "difference by steps").inputs}
        direct = math.fsum(float(steps[kind]) for kind in KINDS if kind in steps)  # type: ignore[arg-type]
        assert math.fsum(moved) == pytest.approx(direct, abs=6e-3)
        assert [abs(one) for one in moved] == sorted(map(abs, moved), reverse=True)
    count = len(example.price["alternatives"])
    with pytest.raises(InputError, match=f"there is no alternative {count + 1}: "):
        example.why(f"price:alternative-{count + 1}")


def test_an_alternative_of_nothing_is_refused(example: Example) -> None:
    bare = replace(example.priced, price=replace(example.priced.price, total=None))
    with pytest.raises(InputError, match="there is no total to explain of alternative 1: nothing"):
        explain_alternative(bare, bare, 1, "fence rails 3")


def test_a_quantile_of_nothing_is_refused(example: Example) -> None:
    bare = replace(example.priced, price=replace(example.priced.price, total=None))
    with pytest.raises(InputError, match='there is no "p80": nothing in the price is priced'):
        explain_price(bare, "P80")


def test_every_activity_of_the_programme(example: Example) -> None:
    rows = {row["id"]: row for row in example.plan["activities"]}
    hours = dict(zip(example.programme.activities.id, example.programme.activities.finish_h, strict=True))
    for row in rows.values():
        told = example.why(f"programme:{row['id']}")
        start, finish = named(told, "start"), named(told, "finish")
        assert start.result == f"{row['start']} {row['start_time']}"
        assert finish.result == f"{row['finish']} {row['finish_time']}"
        assert {one.origin.split(";")[0] for one in start.inputs if one.symbol != "d"} == {
            f"programme:{one}" for one in (*row["after"], *row["after_crew"])
        }
        for one in (*row["after"], *row["after_crew"]):
            before = next(each for each in start.inputs if each.origin.startswith(f"programme:{one};"))
            assert before.value == f"{rows[one]['finish']} {rows[one]['finish_time']}"
        if row["float_days"] is not None:
            assert named(told, "float").result == pytest.approx(row["float_days"], abs=1e-3)
        if row["crew"]:
            gives(told, "quantity", row["quantity"], 1e-3)
            gives(told, "crew", row["crew"], 0)
            gives(told, "work", row["work_hours"], 1e-6)
            labour = named(told, "labour hours")
            assert reckoned(labour) == pytest.approx(labour.result)
            assert set(row["people"]) <= set(named(told, "crew").says.split(", "))
        else:
            index = example.programme.activities.id.index(row["id"])
            wait = named(told, "wait")
            assert wait.result == pytest.approx(
                hours[row["id"]] - example.programme.activities.start_h[index], abs=1e-9
            )
            if wait.symbols:
                assert reckoned(wait) == pytest.approx(wait.result, rel=1e-6)


def test_concrete_waits_for_its_share_of_strength(example: Example) -> None:
    cure = example.plan["cure"]
    told = example.why("programme:cure-1")
    age = named(told, "age at the reference temperature")
    assert reckoned(age) == pytest.approx(age.result)
    assert age.inputs[0].value == pytest.approx(cure["share"])
    assert reckoned(named(told, "wait")) / 24 <= cure["longest_days"] + 1e-3


@pytest.mark.parametrize(
    ("thing", "sentence"),
    [
        ("C999", "there is no roll C999: the nearest is C"),
        ("P1-9", "there is no rail mark P1-9: strands are 1 to 4"),
        ("price:nothing", 'there is nothing called "nothing" in the price: there are lines '),
        ("programme:nothing", 'there is no activity "nothing" in the programme: there are white-line'),
        ("round posts", "sums: fence length, posts, rail length"),
    ],
)
def test_an_unknown_name_is_told_in_one_sentence(example: Example, thing: str, sentence: str) -> None:
    with pytest.raises(InputError, match=re.escape(sentence)):
        example.why(thing)


def test_a_price_is_made_only_where_it_is_asked_about() -> None:
    folder = EXAMPLES / "small-paddock"
    made = design(read_job(folder / "job.toml"))

    def refused() -> Any:
        raise AssertionError("made for nothing")

    assert explain_any(made, "posts", folder, refused, refused).kind == "sum"
    assert explain_any(made, "P1", folder, refused, refused).kind == "post"
