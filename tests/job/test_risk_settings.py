"""`[risk]`: defaults, what a job states, and what cannot be."""

from collections.abc import Callable

import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.findings import InputError
from fencewright.job.filling import Filling
from fencewright.job.reading import parse_job
from fencewright.job.risk_settings import RiskSettings, fill_risk

Fill = Callable[[str], RiskSettings]


@pytest.fixture
def fill() -> Fill:
    def build(text: str) -> RiskSettings:
        return fill_risk(Filling(parse_job(f'[job]\nname = "a"\n{text}'), shipped_catalogue()))

    return build


def test_what_is_left_out_is_common_practice(fill: Fill) -> None:
    settings = fill("")
    assert (settings.runs, settings.seed, settings.is_triangular) == (100_000, 1, False)
    assert settings.rock_least == settings.rock_share == 0
    assert settings.rock_most == pytest.approx(0.1)
    assert settings.weather == pytest.approx(0.1)


def test_what_the_job_states_is_taken(fill: Fill) -> None:
    text = '[risk]\nruns = 5000\nseed = 7\nshape = "triangular"\nprice_rise = "30 %"\nrock_most = 0.5\nmarket = "100 %"'
    settings = fill(f'{text}\n[price]\nrock_share = "20 %"\n[programme]\nweather = "25 %"')
    assert (settings.runs, settings.seed, settings.is_triangular) == (5000, 7, True)
    assert (settings.price_rise, settings.rock_share, settings.rock_most) == pytest.approx((0.3, 0.2, 0.5))
    assert (settings.market, settings.weather) == pytest.approx((1.0, 0.25))


def test_a_default_never_contradicts_what_is_expected(fill: Fill) -> None:
    settings = fill('[price]\nrock_share = "60 %"\n[programme]\nweather = "45 %"')
    assert settings.rock_least <= settings.rock_share <= settings.rock_most == pytest.approx(0.6)
    assert settings.weather_most == pytest.approx(0.45)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[risk]\nmarket = 1.5", "1.5 is 150 %"),
        ('[risk]\nrock_most = "5 %"\n[price]\nrock_share = "20 %"', "in order"),
        ('[risk]\nweather_most = "5 %"', "expected in"),
        ("[risk]\nruns = 10", "10 is too small: write 1,000 or more"),
        ("[risk]\nseed = -1", "0"),
        ('[risk]\nshape = "normal"', "pert"),
        ("[risk]\nprice_rise = -0.1", "too small"),
        ("[risk]\nrisk = 3", "no key"),
    ],
)
def test_what_cannot_be_is_one_sentence(fill: Fill, text: str, said: str) -> None:
    with pytest.raises(InputError) as caught:
        fill(text)
    assert said in str(caught.value)
    assert "\n" not in str(caught.value)
