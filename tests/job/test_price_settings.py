"""Terms of a price: the job's own, the trade's where it states none, and what cannot be."""

from collections.abc import Callable
from decimal import Decimal

import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.findings import InputError
from fencewright.job.filling import Filling
from fencewright.job.price_settings import PriceSettings, fill_price
from fencewright.job.schema import JobFile

Parsed = Callable[[str], JobFile]


def filled(asked: JobFile) -> tuple[PriceSettings, set[str]]:
    filling = Filling(asked, shipped_catalogue())
    return fill_price(filling), {one.code for one in filling.findings}


def test_terms_as_they_are_written(parsed: Parsed) -> None:
    text = (
        '[price]\noverhead = "12.5 %"\nmargin = 0.1\ntax = "7 %"\nrounding = 10\nday = 2026-10-01\nvalidity = "6 weeks"\n'
        'distance = "20 mi"\nlife = "20 years"\n'
    )
    settings, codes = filled(parsed(text))
    assert (settings.terms.overhead, settings.terms.margin) == (Decimal("0.125"), Decimal("0.1"))
    assert (settings.terms.rounding, settings.day, settings.valid_days) == (Decimal(10), "2026-10-01", 42)
    assert settings.life.years == 20
    assert not codes


def test_what_is_assumed_is_said(parsed: Parsed) -> None:
    assert filled(parsed(""))[1] == {"price-terms-assumed", "tax-not-stated", "travel-not-stated"}


def test_a_markup_stands_in_for_a_margin(parsed: Parsed) -> None:
    settings, _ = filled(parsed('[price]\nmarkup = "25 %"\n'))
    assert settings.terms.markup == Decimal("0.25")
    with pytest.raises(InputError, match="keep one"):
        filled(parsed('[price]\nmarkup = "25 %"\nmargin = "10 %"\n'))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('[price]\nmargin = "-5 %"\n', "too small"),
        ('[price]\nmargin = "100 %"\n', "leaves nothing"),
        ('[price]\ncurrency = "DOLLARS"\n', "no currency"),
        ("[price]\nrounding = -1\n", "less than nothing"),
        ('[price]\nday = "soon"\n', "date"),
        ('[price]\nrock_share = "120 %"\n', "at most 100 %"),
        ('[price]\nlife = "0 years"\n', "more than nothing"),
        ('[[payment]]\nstage = "first"\nshare = "30 %"\n', "add up to 30.0%"),
        ('[[neighbour]]\nname = "Bo"\nline = "b"\nshare = "50 %"\n', "no line 'b'"),
        ('[[neighbour]]\nname = "Bo"\nline = "a"\nshare = "50 %"\nfrom = "9 m"\nto = "3 m"\n', "beyond"),
        (
            '[[neighbour]]\nname = "Bo"\nline = "a"\nshare = "60 %"\n'
            '[[neighbour]]\nname = "Cy"\nline = "a"\nshare = "60 %"\nfrom = "9 m"\n',
            "pay 120%",
        ),
        ('[[extra]]\nname = "hay"\nline = "zz"\n', "no line 'zz'"),
        ('[[extra]]\nname = "hay"\nprice = "much"\n', "no price"),
        ('[[rate]]\nwork = "dancing"\nper_hour = 3\n', "no work 'dancing'"),
        ('[[rate]]\nwork = "stake out"\nper_hour = 0\n', "more than nothing"),
        ("[[alternative]]\n", "missing"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_one_sentence(parsed: Parsed, text: str, words: str) -> None:
    with pytest.raises(InputError, match=words) as said:
        filled(parsed(text))
    assert "\n" not in str(said.value)


def test_a_rate_of_the_job_keeps_its_spread(parsed: Parsed) -> None:
    shipped = shipped_catalogue().works["stake out"]
    own = filled(parsed('[[rate]]\nwork = "stake out"\nper_hour = 48\nhands = 3\n'))[0].works["stake out"]
    assert (own.per_hour, own.hands) == (48, 3)
    assert own.slow / own.per_hour == pytest.approx(shipped.slow / shipped.per_hour)


@pytest.mark.parametrize(
    ("text", "crew"), [("", 2), ("crew = 3\n", 3), ('names = ["Ana", "Ben", "Cy", "Di"]\n', 4)]
)
def test_the_crew_is_the_programmes(parsed: Parsed, text: str, crew: int) -> None:
    assert filled(parsed(f"[programme]\n{text}"))[0].crew == crew
