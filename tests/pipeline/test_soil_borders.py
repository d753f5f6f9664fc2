"""A post where two soil zones meet, or that a zone's line shares, stands in the soil that holds less."""

import itertools
from pathlib import Path

import pytest

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.pipeline.bridges import soils_of, unstable_posts

HEAD = '[job]\nname="x"\n[site]\nfrost_depth="30 in"\nsoil="sand"\n'
LINE = '[[line]]\nname="a"\npoints=[["0 ft","0 ft"],["120 ft","0 ft"]]\n'
ZONES = (
    '[[soil_zone]]\nline="a"\nfrom="0 ft"\nto="60 ft"\nsoil="sandy gravel"\n',
    '[[soil_zone]]\nline="a"\nfrom="60 ft"\nto="120 ft"\nsoil="clay"\nunstable=true\n',
)


@pytest.mark.parametrize("zones", list(itertools.permutations(ZONES)))
def test_the_order_of_zones_means_nothing(tmp_path: Path, zones: tuple[str, ...]) -> None:
    """By IBC table 1806.2 clay holds 100 psf/ft sideways, sandy gravel 200: the weaker decides at 60 ft."""
    made = design(job_from_text(HEAD + LINE + "".join(zones), tmp_path))
    at = [round(one / 0.3048, 3) for one in made.layout.posts.station_m]
    soils = [soil.name for soil in soils_of(made.job, made.layout)]
    assert soils[at.index(60.0)] == "clay"
    assert {soil for soil, ft in zip(soils, at, strict=True) if ft < 60} == {"sandy gravel"}
    assert unstable_posts(made.job, made.layout)[at.index(60.0)]


def test_a_zone_reaches_the_post_that_its_line_shares(tmp_path: Path) -> None:
    other = '[[line]]\nname="b"\npoints=[["60 ft","0 ft"],["60 ft","60 ft"]]\n'
    zone = '[[soil_zone]]\nline="b"\nfrom="0 ft"\nto="60 ft"\nsoil="clay"\n'
    made = design(job_from_text(HEAD + LINE + other + zone, tmp_path))
    assert soils_of(made.job, made.layout)[int(made.layout.visits.post_index[0])].name == "clay"
