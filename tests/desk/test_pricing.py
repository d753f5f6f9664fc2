"""A job file to its price and its alternatives."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from fencewright.desk.price_writing import price_outputs
from fencewright.desk.pricing import price_job
from fencewright.exchange.design_json import design_record
from fencewright.exchange.price_json import price_json
from fencewright.findings import InputError

Write = Callable[..., Path]
ALTERNATIVES = (
    '[[alternative]]\nname = "three rails"\n[alternative.fence]\nrails = 3\n'
    '[[alternative]]\nname = "wider, longer away"\n[alternative.fence]\nspacing_limit = "15 ft"\n'
    '[alternative.price]\ndistance = "40 mi"\n'
)


@pytest.fixture
def write(tmp_path: Path, small_job_path: Path, small_job_text: str) -> Write:
    """Write the small job beside its price book with more tables; or the text that is given whole."""
    shutil.copy(small_job_path.parent / "prices.toml", tmp_path / "prices.toml")

    def build(more: str, text: str = "") -> Path:
        path = tmp_path / "job.toml"
        path.write_text((text or small_job_text) + more, "utf-8")
        return path

    return build


def test_an_alternative_is_what_the_edited_job_comes_to(write: Write, small_job_text: str) -> None:
    _, priced = price_job(write(ALTERNATIVES))
    edited = small_job_text.replace("rails = 4", "rails = 3")
    _, three = price_job(write("", edited))
    wide = small_job_text.replace('spacing_limit = "12 ft"', 'spacing_limit = "15 ft"').replace(
        "18 mi", "40 mi"
    )
    _, wider = price_job(write("", wide))
    for alternative, alone in zip(priced.alternatives, (three, wider), strict=True):
        assert alternative.total == alone.total
        assert alternative.figures == alone.figures
        assert alternative.difference == alone.total - priced.total  # type: ignore[operator]  # both are priced


def test_an_alternative_says_what_differs(write: Write) -> None:
    _, priced = price_job(write(ALTERNATIVES))
    assert [one.change for one in priced.alternatives] == [
        "fence rails 3",
        "fence spacing_limit 15 ft; price distance 40 mi",
    ]


def test_a_list_takes_the_place_of_the_jobs_own(write: Write) -> None:
    strands = "".join(
        f'[[alternative.strand]]\nrail = "coated wire"\nheight = "{high} in"\n' for high in (20, 48)
    )
    _, priced = price_job(
        write(f'[[alternative]]\nname = "two wires"\n{strands}[alternative.fence]\nrails = 2\n')
    )
    assert priced.alternatives[0].figures.pulls == 2
    assert priced.alternatives[0].missing > 0  # the book has no prices of wires


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ('[[alternative]]\nname = "a"\n[alternative.fense]\nrails = 3\n', "no key `fense`"),
        ('[[alternative]]\nname = "a"\n[alternative.fence]\nrails = "many"\n', "rails"),
        ('[[alternative]]\nname = "a"\n', "changes nothing"),
        ('[[alternative]]\nname = "a"\n[alternative.job]\nname = "b"\n', "cannot differ"),
        ('[[alternative]]\nname = "a"\n[alternative.fence]\nrail = "gold"\n', "gold"),
        (ALTERNATIVES + ALTERNATIVES, "another alternative has this name"),
    ],
)
def test_an_alternative_that_cannot_be_is_named(write: Write, more: str, words: str) -> None:
    with pytest.raises(InputError, match=words) as said:
        price_job(write(more))
    assert "alternative" in str(said.value)
    assert "\n" not in str(said.value)


def test_the_price_names_the_design_and_both_are_the_same_bytes_again(write: Write) -> None:
    path = write(ALTERNATIVES)
    first, second = (price_outputs(*price_job(path)) for _ in range(2))
    assert first == second
    made, priced = price_job(path)
    record, content = price_json(
        priced,
        {
            "job": design_record(made)["job"],
            "design_digest": design_record(made)["digest"],
            "may_be_built": True,
        },
    )
    assert content == first["price.json"]
    assert record["design_digest"] == design_record(made)["digest"]


def test_the_price_leaves_the_design_alone(write: Write, small_job_text: str) -> None:
    """Terms of the price are no part of the design but for the digest of the job's text."""
    dearer = small_job_text.replace('margin = "15 %"', 'margin = "25 %"')
    records = [design_record(price_job(write("", text))[0]) for text in (small_job_text, dearer)]
    for record in records:
        record.pop("digest")
        record["job"].pop("text_sha256")
    assert records[0] == records[1]


@pytest.mark.usefixtures("one_set_of_defaults")
def test_sheets_in_metres_come_to_the_same_price(write: Write, small_job_text: str) -> None:
    """Of posts, holes and bags of the same sizes: a metric job would have its own, which its book does not have."""
    metric = small_job_text.replace('sheets = "us"', 'sheets = "metric"')
    assert metric != small_job_text
    first, second = (price_job(write("", text))[1] for text in (small_job_text, metric))
    assert not second.missing
    assert first.total == second.total
