"""The uncertain parts of a price: each moves what it should, as far as it should, and the whole holds together."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import numpy as np
import pytest
from scipy import stats

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.desk.pricing import price_job
from fencewright.job.filling import Filling
from fencewright.job.price_settings import Terms
from fencewright.job.reading import parse_job
from fencewright.job.risk_settings import RiskSettings, fill_risk
from fencewright.pipeline.risk_parts import RockCost, Uncertain
from fencewright.pipeline.risk_words import covered_words, named_swings, range_words, risk_text
from fencewright.pipeline.risking import price_risk, whole_per_direct
from fencewright.price.summing import price_steps
from fencewright.price.three_point import three_point_quantile
from fencewright.tables.price import Price, PriceLine
from fencewright.tables.risk import Risk, Shape

Still = Callable[..., RiskSettings]
NO_TERMS = Terms(Decimal(0), Decimal(0), Decimal(0), None, Decimal(0), True, Decimal(0))


def line(kind: str, amount: str, **more: object) -> PriceLine:
    """A priced line, one unit of it."""
    one = Decimal(1)
    values = {
        "id": f"{kind}-{amount}",
        "item": f"{kind} thing",
        "size": "",
        "activity": "posts",
        "unit": "piece",
        **more,
    }
    return PriceLine(
        kind=kind, quantity=one, pack=one, packs=one, pack_price=Decimal(amount), amount=Decimal(amount), **values  # type: ignore[arg-type]
    )  # fmt: skip


def work(amount: str, driver: str = "", low: str = "0.5", high: str = "2") -> PriceLine:
    """A line of labour whose hours may be half, or double."""
    spread = {"low_quantity": Decimal(low), "high_quantity": Decimal(high)}
    return line(
        "labour", amount, driver=driver, unit="h", size="fence builder", id=f"work-{driver}", **spread
    )


def price(*lines: PriceLine, terms: Terms = NO_TERMS) -> Price:
    steps = price_steps(lines, terms, 2)
    return Price(
        "USD", 2, "", "book", lines, steps, (), (), steps[-1].amount, (), 100.0, None, None, Decimal(0), 1
    )  # fmt: skip


@pytest.fixture
def still() -> Still:
    """Settings in which nothing moves but what is named."""

    def build(**moves: float) -> RiskSettings:
        settings = fill_risk(Filling(parse_job('[job]\nname = "a"'), shipped_catalogue()))
        none = dict.fromkeys(
            (
                "price_fall",
                "price_rise",
                "rock_most",
                "weather",
                "weather_most",
                "concrete_less",
                "concrete_more",
            ),
            0.0,
        )
        return replace(settings, runs=100_000, **{**none, **moves})  # type: ignore[arg-type]  # by name

    return build


def quantiles(risk: Risk | None, *chances: float) -> list[float]:
    assert risk is not None
    return [risk.quantile(one) for one in chances]


def test_nothing_that_moves_gives_the_estimate(still: Still) -> None:
    risk = price_risk(price(line("material", "100"), line("labour", "50")), still(), 10)
    assert quantiles(risk, 0.05, 0.5, 0.95) == pytest.approx([150.0] * 3)


def test_nothing_priced_has_no_risk(still: Still) -> None:
    assert price_risk(replace(price(), total=None), still(), 10) is None
    assert price_risk(price(), still(), 10) is None


def test_a_price_moves_as_the_job_says_and_the_book_says_better(still: Still) -> None:
    settings = still(price_fall=0.1, price_rise=0.5)
    chances = (0.1, 0.5, 0.9)
    one = price_risk(price(line("material", "100")), settings, 10)
    assert quantiles(one, *chances) == pytest.approx(
        three_point_quantile(90, 100, 150, Shape.PERT, chances), rel=0.004
    )
    own = line("material", "100", low_price=Decimal(80), high_price=Decimal(300))
    two = price_risk(price(own), settings, 10)
    assert quantiles(two, *chances) == pytest.approx(
        three_point_quantile(80, 100, 300, Shape.PERT, chances), rel=0.01
    )


def test_wages_and_other_costs_stand_unless_the_book_says_otherwise(still: Still) -> None:
    settings = still(price_fall=0.1, price_rise=0.5)
    one = price_risk(price(line("labour", "100", unit="h"), line("other", "100")), settings, 10)
    assert quantiles(one, 0.1, 0.9) == pytest.approx([200.0, 200.0])
    own = line("other", "100", high_price=Decimal(300))
    assert quantiles(price_risk(price(own), settings, 10), 0.9)[0] > 150


def test_one_price_moves_every_line_of_its_thing(still: Still) -> None:
    settings = still(price_rise=0.5, market=0.0)
    two = price(line("material", "50", id="a"), line("material", "50", id="b"))
    one = price(line("material", "100"))
    assert quantiles(price_risk(two, settings, 1), 0.9) == pytest.approx(
        quantiles(price_risk(one, settings, 1), 0.9)
    )
    apart = price(line("material", "50", item="post"), line("material", "50", item="rail"))
    assert quantiles(price_risk(apart, settings, 1), 0.9)[0] < quantiles(price_risk(one, settings, 1), 0.9)[0]


def test_small_things_are_taken_together(still: Still) -> None:
    things = [line("material", "1", item=f"screw {k}") for k in range(20)]
    risk = price_risk(price(line("material", "1000"), *things), still(price_rise=0.5), 1)
    assert risk is not None
    assert risk.uncertainties.name == ("price of material thing", "price of small things")


def test_hours_move_together_by_their_driver_and_machines_with_them(still: Still) -> None:
    settings = still(crew=0.0)
    chances = (0.1, 0.5, 0.9)
    expected = three_point_quantile(100, 200, 400, Shape.PERT, chances)
    both = price(work("100", "setting"), work("100", "setting"))
    assert quantiles(price_risk(both, settings, 1), *chances) == pytest.approx(expected, rel=0.01)
    machine = price(work("100", "setting"), line("plant", "100", driver="setting", unit="h"))
    assert quantiles(price_risk(machine, settings, 1), *chances) == pytest.approx(expected, rel=0.01)
    apart = price(work("100", "setting"), work("100", "rail work"))
    assert quantiles(price_risk(apart, settings, 1), 0.9)[0] < expected[2] * 0.98


def test_a_delivery_of_a_machine_moves_with_no_hours(still: Still) -> None:
    once = line("plant", "1000", driver="setting", unit="delivery")
    risk = price_risk(price(work("1", "setting"), once), still(), 1)
    assert quantiles(risk, 0.99)[0] < 1003


def test_hole_times_average_out_over_holes_but_for_the_ground(still: Still) -> None:
    def spread(holes: int, ground: float) -> float:
        risk = price_risk(price(work("100", "hole time")), still(ground=ground), holes)
        assert risk is not None
        return risk.sd

    assert spread(100, 0.0) == pytest.approx(spread(1, 0.0) / 10, rel=0.05)
    assert spread(100, 0.8) > 5 * spread(100, 0.0)


def test_weather_adds_paid_hours_of_lost_days(still: Still) -> None:
    settings = still(weather=0.1, weather_most=0.3, weather_paid=0.5)
    risk = price_risk(
        price(line("labour", "800", unit="h"), line("plant", "200", unit="h"), line("material", "500")),
        settings,
        1,
    )
    lost = three_point_quantile(0.0, 0.1, 0.3, Shape.PERT, (0.1, 0.5, 0.9))
    assert quantiles(risk, 0.1, 0.5, 0.9) == pytest.approx(1500 + 1000 * 0.5 * lost, rel=0.002)


def test_rock_costs_its_rate_in_the_holes_that_meet_it(still: Still) -> None:
    settings = still(rock_least=0.2, rock_share=0.2, rock_most=0.2000001, ground=0.0)
    base = price(line("other", "400", item="rock hole"))  # 4 of 20 holes at 100 are in the estimate
    risk = price_risk(base, settings, 20, RockCost(20, 2000.0))
    wanted = [100 * float(stats.binom.ppf(chance, 20, 0.2)) for chance in (0.1, 0.5, 0.9)]
    assert quantiles(risk, 0.1, 0.5, 0.9) == pytest.approx(wanted, abs=1.0)


def test_what_a_call_leaves_open_moves_every_line(still: Still) -> None:
    length = Uncertain("length", "Length", "Measure it.", 0.8, 1.0, 1.5, -1, 0.0)
    risk = price_risk(price(line("material", "60"), line("labour", "40")), still(), 1, more=[length])
    expected = three_point_quantile(80, 100, 150, Shape.PERT, (0.1, 0.9))
    assert quantiles(risk, 0.1, 0.9) == pytest.approx(expected, rel=0.004)


@pytest.mark.parametrize("markup", [None, Decimal("0.3")])
@pytest.mark.parametrize("taxes_all", [True, False])
def test_overhead_margin_and_tax_follow_the_direct_costs(
    still: Still, markup: Decimal | None, taxes_all: bool
) -> None:
    terms = Terms(
        Decimal("0.12"), Decimal("0"), Decimal("0.2"), markup, Decimal("0.07"), taxes_all, Decimal(0)
    )
    made = price(line("material", "600"), line("labour", "400"), terms=terms)
    assert made.total is not None
    of_material, of_the_rest = whole_per_direct(made)
    assert 600 * of_material + 400 * of_the_rest == pytest.approx(float(made.total), abs=0.011)
    assert quantiles(price_risk(made, still(), 1), 0.5)[0] == pytest.approx(float(made.total), abs=0.011)


def test_triangular_is_triangular(still: Still) -> None:
    settings = replace(still(price_fall=0.1, price_rise=0.5), is_triangular=True)
    risk = price_risk(price(line("material", "100")), settings, 10)
    expected = three_point_quantile(90, 100, 150, Shape.TRIANGULAR, (0.1, 0.9))
    assert quantiles(risk, 0.1, 0.9) == pytest.approx(expected, rel=0.004)


def job_with(folder: Path, source: Path, more: str) -> Path:
    (folder / "prices.toml").write_bytes((source.parent / "prices.toml").read_bytes())
    (folder / "job.toml").write_text(source.read_text("utf-8") + more, "utf-8")
    return folder / "job.toml"


def test_the_contingency_that_is_named_covers_p80(tmp_path: Path, small_job_path: Path) -> None:
    _, thin = price_job(job_with(tmp_path, small_job_path, "[risk]\nruns = 20000\n"))
    said = next(one for one in thin.findings if one.code == "price-thin")
    share = str(said.edits[0]["value"])
    text = (
        (tmp_path / "job.toml")
        .read_text("utf-8")
        .replace("[price]\n", f'[price]\ncontingency = "{share}"\n', 1)
    )
    (tmp_path / "job.toml").write_text(text, "utf-8")
    _, mended = price_job(tmp_path / "job.toml")
    assert mended.risk is not None
    assert mended.total is not None
    assert mended.risk.covered(float(mended.total)) == pytest.approx(0.8, abs=0.004)
    assert mended.risk.quantile(0.8) == pytest.approx(thin.risk.quantile(0.8) if thin.risk else 0)
    assert not [one for one in mended.findings if one.code == "price-thin"]


def test_a_book_without_a_rate_for_rock_says_so(tmp_path: Path, small_job_path: Path) -> None:
    path = job_with(tmp_path, small_job_path, "[risk]\nruns = 2000\n")
    book = (tmp_path / "prices.toml").read_text("utf-8").replace('item = "rock hole"', 'item = "other hole"')
    (tmp_path / "prices.toml").write_text(book, "utf-8")
    _, made = price_job(path)
    assert "rock-not-priced" in {one.code for one in made.findings}
    assert made.risk is not None
    assert "rock" not in made.risk.uncertainties.name


def test_words() -> None:
    assert covered_words(0.08) == "8 of 100 runs"
    assert covered_words(1.0) == "more than 99 of 100 runs"
    assert covered_words(0.0) == "none of 100 runs"


def test_what_moves_it_most_is_told_in_words(still: Still) -> None:
    risk = price_risk(price(line("material", "1000"), work("10", "setting")), still(price_rise=0.5), 1)
    assert risk is not None
    assert [risk.uncertainties.words[int(risk.swings.row[k])] for k in named_swings(risk)] == [
        "Price of material thing",
        "Setting posts and pouring concrete",
    ]
    assert range_words(risk.uncertainties, 0, 0.9, 1.25) == "-10 % to +25 %"
    told = risk_text(risk, 1010.0, "USD")
    assert f"P80 {risk.quantile(0.8):,.0f}" in told
    assert "Price of material thing" in told


def test_at_most_five_are_named(tmp_path: Path, small_job_path: Path) -> None:
    _, made = price_job(job_with(tmp_path, small_job_path, "[risk]\nruns = 2000\n"))
    assert made.risk is not None
    assert len(made.risk.uncertainties) > 5
    assert named_swings(made.risk) == [0, 1, 2, 3, 4]
    assert np.all(np.diff(np.abs(made.risk.swings.high_total - made.risk.swings.low_total)) <= 1e-9)
