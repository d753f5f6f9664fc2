"""What a price is written as: every file is in the docs, and the same job gives the same bytes."""

from pathlib import Path

import pytest

from fencewright.desk.price_writing import price_outputs
from fencewright.desk.pricing import price_job

PAGE = Path(__file__).parents[2] / "docs" / "outputs.md"


@pytest.fixture(scope="module")
def files(small_job_path: Path) -> dict[str, bytes]:
    return price_outputs(*price_job(small_job_path))


def test_every_file_is_in_the_docs(files: dict[str, bytes]) -> None:
    assert list(files) == ["price.json", "price.csv", "estimate.xlsx", "risk.svg"]
    page = PAGE.read_text("utf-8")
    assert not [name for name in files if f"`{name}`" not in page]


def test_the_same_job_gives_the_same_bytes(files: dict[str, bytes], small_job_path: Path) -> None:
    again = price_outputs(*price_job(small_job_path))
    assert [name for name in files if files[name] != again[name]] == []


def test_each_is_told_before_it_is_made(small_job_path: Path) -> None:
    told: list[str] = []
    made = price_job(small_job_path)
    assert list(price_outputs(*made, told.append)) == told
