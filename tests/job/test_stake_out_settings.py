"""`[stake_out]`, `[load]` and `[[reference]]`: what the job states, and what cannot be."""

import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.findings import InputError
from fencewright.job.defaults import fill_defaults
from fencewright.job.reading import parse_job
from fencewright.job.settings import Settings

HEAD = '[job]\nname = "x"\nsheets = "us"\n'
HEAD += '[site]\nfrost_depth = "40 in"\nsoil = "sand"\ncoldest = "-20 F"\nhottest = "95 F"\n'


def filled(text: str) -> Settings:
    return fill_defaults(parse_job(HEAD + text), shipped_catalogue())[0]


def test_stated_is_kept_and_the_rest_is_practice() -> None:
    made = filled('[stake_out]\ntape_length = "200 ft"\npeg_beyond = "4 ft"\n[load]\npayload = "5000 lb"\n')
    assert made.stake_out.tape_length_m == pytest.approx(60.96)
    assert made.stake_out.peg_beyond_m == pytest.approx(1.2192)
    assert made.stake_out.tape_sd_m == pytest.approx(0.005)
    assert made.load.payload_kg == pytest.approx(5000 * 0.45359237)
    assert filled("").stake_out.peg_beyond_m == pytest.approx(1.8288)


@pytest.mark.parametrize(("sheets", "leg", "unit"), [("us", 9.144, 0.3048), ("metric", 10.0, 0.5)])
def test_check_triangles_are_whole_in_the_units_of_the_sheets(sheets: str, leg: float, unit: float) -> None:
    text = HEAD.replace('sheets = "us"', f'sheets = "{sheets}"')
    made = fill_defaults(parse_job(text), shipped_catalogue())[0].stake_out
    assert (made.check_leg_m, made.sheet_unit_m) == pytest.approx((leg, unit))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('[stake_out]\ntape_length = "0 ft"', "stake_out, tape_length: must be more than nothing"),
        ('[stake_out]\ntape_sd = "0 in"', "stake_out, tape_sd: must be more than nothing"),
        ('[stake_out]\ntape_sd = "-1 in"', "too small"),
        ('[load]\npayload = "0 lb"', "load, payload: must lie above nothing"),
        ('[load]\npayload = "900 t"', "load, payload: must lie above nothing"),
        ('[load]\npayload = "2000"', "is no mass with a unit"),
        ('[[reference]]\nname = ""\nat = ["0 m", "0 m"]', "reference"),
        ('[[reference]]\nname = "a"\nat = ["0 m"]', "reference"),
        ('[[reference]]\nname = "a"\nlat_lon = [95.0, 0.0]', "95.0 is too large: write 90 or less"),
    ],
)
def test_what_cannot_be_is_one_sentence(text: str, says: str) -> None:
    with pytest.raises(InputError) as refused:
        filled(text)
    assert says in str(refused.value)
    assert "\n" not in str(refused.value)
