"""What `[strength]` states, else the trade default; what is assumed is said, what cannot be is refused."""

from collections.abc import Callable

import pytest

from fencewright.catalogue.loading import shipped_catalogue, with_data_sheets
from fencewright.findings import Finding, InputError
from fencewright.job.settings import Settings

Filled = Callable[[str], tuple[Settings, dict[str, Finding]]]


def test_defaults_are_the_trade_s_and_allowable_stress(filled: Filled) -> None:
    strength = filled("")[0].strength
    practice = shipped_catalogue().practice
    assert strength.method == "asd"
    assert strength.loads.wind_m_s == practice["strength.wind_speed"].value
    assert strength.timber.name == "southern pine"
    assert strength.end_pipe is None
    assert strength.cases[0].name == "cold pull"


@pytest.mark.parametrize(
    ("code", "key", "value"),
    [("assumed-half-inch", "half_inch", "true"), ("assumed-half-inch", "half_inch", "false"),
     ("assumed-wind", "wind_speed", '"105 mph"')],
)  # fmt: skip
def test_what_is_assumed_is_said_until_it_is_stated(filled: Filled, code: str, key: str, value: str) -> None:
    assert filled("")[1][code].level == "caution"
    assert code not in filled(f"[strength]\n{key} = {value}\n")[1]


def test_what_is_stated_is_taken(filled: Filled) -> None:
    text = (
        '[strength]\nmethod = "lrfd"\ntimber = "red pine"\nend_pipe = "4 in schedule 40"\nhalf_inch = false\n'
    )
    strength = filled(text)[0].strength
    assert (strength.method, strength.timber.name) == ("lrfd", "red pine")
    assert strength.end_pipe is not None
    assert strength.end_pipe.outer_m == pytest.approx(4.5 * 0.0254)
    assert not strength.ground.is_half_inch


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ('timber = "southern pin"', "did you mean 'southern pine'"),
        ('end_pipe = "4 in"', "there is no pipe"),
        ("cold_duration = 0", "load duration"),
        ('ice_thickness = "2 m"', "check its unit"),
        ('animal_height = "20 m"', "no animal is so tall"),
        ('deepest = "0 in"', "more than nothing"),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(filled: Filled, row: str, words: str) -> None:
    with pytest.raises(InputError, match=words) as raised:
        filled(f"[strength]\n{row}\n")
    assert "strength" in str(raised.value)


def test_a_supplier_s_timber_joins_the_shipped_rows() -> None:
    row = (
        'bending = "1500 psi"\nshear = "120 psi"\ncompression = "900 psi"\nmodulus = "1100 ksi"\n'
        'least_modulus = "400 ksi"\nwet_factor = 0.85\ndensity = "30 lb/ft3"\n'
    )
    joined = with_data_sheets(shipped_catalogue(), [("mill.toml", f'[timber."our cedar"]\n{row}')])
    assert joined.timbers["our cedar"].wet_factor == 0.85
    assert "southern pine" in joined.timbers
    with pytest.raises(InputError, match=r"modulus.*missing"):
        with_data_sheets(
            shipped_catalogue(), [("mill.toml", '[timber."bare"]\n' + row.replace("\nmodulus", "\nstiff"))]
        )


def test_a_load_case_of_unknown_words_is_refused() -> None:
    case = '[load_case."odd"]\npull = "warm"\nside = "all"\nwind = "none"\nextra = "none"\n'
    with pytest.raises(InputError, match="must be one of cold, set, hot"):
        with_data_sheets(shipped_catalogue(), [("odd.toml", case)])
