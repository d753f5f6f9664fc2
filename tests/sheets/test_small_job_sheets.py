"""Sheets of the small example, designed in full: nothing left out, every post named."""

from io import StringIO
from pathlib import Path

import pytest
from defusedxml.ElementTree import fromstring
from ezdxf.filemanagement import read

from fencewright import design, read_job
from fencewright.pipeline.record import Design
from fencewright.sheets.dxf import plan_dxf
from fencewright.sheets.plan import draw_plan
from fencewright.sheets.section import draw_section
from fencewright.sheets.svg import write_svg

JOB = Path(__file__).parents[2] / "examples" / "small-paddock" / "job.toml"


@pytest.fixture(scope="module")
def small() -> Design:
    return design(read_job(JOB))


def test_plan_names_every_post(small: Design) -> None:
    picture = draw_plan(small)
    assert picture.dropped_labels == 0
    assert {f"P{k + 1}" for k in range(len(small.layout.posts))} <= set(picture.texts())
    fromstring(write_svg(picture).encode())


def test_section_gives_every_post_its_column(small: Design) -> None:
    picture = draw_section(small)
    assert picture.dropped_labels == 0
    assert {f"P{k + 1}" for k in range(len(small.layout.posts))} <= set(picture.texts())
    fromstring(write_svg(picture).encode())


def test_drawing_file_is_sound(small: Design) -> None:
    document = read(StringIO(plan_dxf(small).decode()))
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes
    assert len(document.modelspace().query('TEXT[layer=="POST-IDS"]')) == len(small.layout.posts)
