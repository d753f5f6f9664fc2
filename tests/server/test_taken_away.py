"""What is taken away: the command line's own set, what is left out said with its reason, each set made once."""

import io
import json
import threading
import time
import zipfile
from pathlib import Path

import httpx
import pytest

from fencewright.cli.design import design_whole
from fencewright.desk.whole import run_whole
from fencewright.server.taken_away import KeptSets, TakenAway

PADDOCK = Path(__file__).parents[2] / "examples" / "small-paddock"
TEXT = (PADDOCK / "job.toml").read_text("utf-8")
BOOK = (PADDOCK / "prices.toml").read_bytes()


def taken_in(client: httpx.Client, text: str, book: bytes = BOOK) -> str:
    """Import the small paddock with its price book; gives the job's address."""
    files = [("files", ("job.toml", text.encode())), ("files", ("prices.toml", book))]
    made = client.post("/api/jobs/import", files=files)
    assert made.status_code == 201, made.text
    return f"/api/jobs/{made.json()['id']}"


def without(text: str, table: str) -> str:
    """Take the last table out of a job file."""
    return text.partition(f"\n[{table}]\n")[0]


@pytest.mark.parametrize("is_priced", [True, False])
def test_the_archive_is_the_set_that_the_command_line_writes(
    client: httpx.Client, tmp_path: Path, capsys: pytest.CaptureFixture[str], is_priced: bool
) -> None:
    text = TEXT if is_priced else without(TEXT, "price")
    assert ("[price]" in text) == is_priced
    (tmp_path / "job.toml").write_text(text, "utf-8")
    (tmp_path / "prices.toml").write_bytes(BOOK)
    assert design_whole(tmp_path / "job.toml", tmp_path / "fence") == 0
    said = capsys.readouterr().out
    at = taken_in(client, text)
    with zipfile.ZipFile(io.BytesIO(client.get(f"{at}/archive.zip").content)) as archive:
        packed = {name: archive.read(name) for name in archive.namelist() if name.startswith("fence/")}
    written = {f"fence/{path.name}": path.read_bytes() for path in (tmp_path / "fence").iterdir()}
    assert set(packed) == set(written)
    assert [name for name in packed if packed[name] != written[name]] == []  # manifest.json among them
    told = client.get(f"{at}/outputs").json()["left_out"]
    left_out = run_whole(tmp_path / "job.toml", lambda _: None).left_out
    assert [(one["what"], one["sentence"]) for one in told] == [(one.what, one.sentence) for one in left_out]
    assert all(f"Left out: {one['what']}: {one['sentence']}." in said for one in told)
    assert any("quote.pdf" in one["what"] for one in told) != is_priced


def test_a_price_that_cannot_be_made_is_left_out_with_its_sentence_and_the_rest_is_there(
    client: httpx.Client,
) -> None:
    at = taken_in(client, TEXT, BOOK.replace(b"[", b"[[", 1))
    refused = client.get(f"{at}/parts/price").json()["error"]
    answer = client.get(f"{at}/outputs").json()
    told = next(one for one in answer["left_out"] if one["what"] == "the price and quote.pdf")
    assert refused["sentence"] in told["sentence"]
    assert told["sentence"].startswith("prices.toml: ")
    names = {one["name"] for one in answer["files"]}
    assert {"design.json", "field-pack.pdf", "programme.json", "fence.html", "manifest.json"} <= names
    assert not names & {"price.json", "quote.pdf"}
    with zipfile.ZipFile(io.BytesIO(client.get(f"{at}/archive.zip").content)) as archive:
        manifest = json.loads(archive.read("fence/manifest.json"))
    assert {row["name"] for row in manifest["files"]} == names - {"manifest.json", "job.toml"}


def test_a_programme_that_cannot_be_made_is_left_out_with_its_sentence(client: httpx.Client) -> None:
    text = TEXT + '\n[programme]\nstart = "2026-04-06"\nwork_days = []\n'
    at = taken_in(client, text)
    answer = client.get(f"{at}/outputs").json()
    told = next(one for one in answer["left_out"] if one["what"] == "the programme and upkeep.ics")
    assert "no day of the week is a working day" in told["sentence"]
    names = {one["name"] for one in answer["files"]}
    assert {"quote.pdf", "price.json", "field-pack.pdf"} <= names
    assert not names & {"programme.json", "upkeep.ics"}


def test_the_bars_alone_are_those_of_the_whole_set(client: httpx.Client) -> None:
    at = taken_in(client, TEXT)
    alone = client.get(f"{at}/outputs/programme.svg").content
    client.get(f"{at}/outputs")
    assert client.get(f"{at}/outputs/programme.svg").content == alone
    assert b"<svg" in alone


def test_a_set_is_made_once_for_all_who_ask_and_one_that_fails_is_not_kept() -> None:
    sets, made = KeptSets(), 0
    got: list[TakenAway] = []

    def make() -> TakenAway:
        nonlocal made
        made += 1
        time.sleep(0.1)
        return TakenAway({"a": b"x"}, ())

    def fail() -> TakenAway:
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        sets.get(("text", "folder"), fail)
    assert not sets.has(("text", "folder"))
    asking = [
        threading.Thread(target=lambda: got.append(sets.get(("text", "folder"), make))) for _ in range(3)
    ]
    for one in asking:
        one.start()
    for one in asking:
        one.join()
    assert made == 1
    assert got[0] is got[1] is got[2]
    for number in range(4):
        sets.get((str(number), "folder"), make)
    assert not sets.has(("text", "folder"))
