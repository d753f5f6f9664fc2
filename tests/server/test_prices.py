"""Prices by the API: what is missing, set one by one or as a book; two windows; what is refused, and where."""

import io
from pathlib import Path
from typing import Any

import httpx
import openpyxl
import pytest

from fencewright.desk.pricing import price_job

EXAMPLE = Path(__file__).parents[2] / "examples" / "small-paddock"
TEXT = (EXAMPLE / "job.toml").read_text("utf-8")
BARE = "\n".join(line for line in TEXT.splitlines() if not line.startswith("book = "))
BOOK = (EXAMPLE / "prices.toml").read_bytes()
EUROS = b"item,unit,price,currency\npost,piece,1,EUR\n"
LABOURER = {"item": "labourer", "kind": "labour", "unit": "h", "price": "27"}


def new_job(client: httpx.Client, text: str, book: bytes | None = None) -> Any:
    files = [("files", ("job.toml", text.encode()))]
    if book is not None:
        files.append(("files", ("prices.toml", book)))
    answer = client.post("/api/jobs/import", files=files)
    assert answer.status_code == 201, answer.text
    return answer.json()


def keep(
    client: httpx.Client, job: Any, *prices: Any, base: int | None = None, window: str = "w"
) -> httpx.Response:
    edit = {"kind": "prices", "prices": list(prices)}
    body = {"base": base or job["head"], "window": window, "edit": edit}
    return client.post(f"/api/jobs/{job['id']}/edits", json=body)


def prices(client: httpx.Client, job: Any) -> Any:
    answer = client.get(f"/api/jobs/{job['id']}/prices")
    assert answer.status_code == 200, answer.text
    return answer.json()


def in_dollars(text: str) -> str:
    return text.replace("[price]\n", '[price]\ncurrency = "USD"\n')


def test_typed_prices_come_to_the_command_lines_total(client: httpx.Client, tmp_path: Path) -> None:
    job = new_job(client, in_dollars(BARE))
    asked = prices(client, job)
    assert asked["book"] == ""
    assert {one["price"] for one in asked["prices"]} == {None}
    typed = [
        {key: one[key] for key in ("item", "size", "kind", "unit")} | {"price": f"{place + 1}.25"}
        for place, one in enumerate(asked["prices"])
    ]
    first = keep(client, job, typed[0]).json()["state"]
    assert first["asked"]["price"]["book"] == "prices.csv"
    assert first["revision"]["label"] == f"set the price of {typed[0]['item']} {typed[0]['size']}"
    state = keep(client, first, *typed[1:]).json()["state"]
    after = prices(client, state)
    assert [one["price"] for one in after["prices"]] == [one["price"] for one in typed]
    assert after["left_out"] == 0
    (tmp_path / "job.toml").write_text(state["text"], "utf-8")
    content = client.get(f"/api/jobs/{job['id']}/files/prices.csv").content
    (tmp_path / "prices.csv").write_bytes(content)
    _, priced = price_job(tmp_path / "job.toml")
    assert client.get(f"/api/jobs/{job['id']}/parts/price").json()["total"] == float(priced.total or 0)
    assert priced.missing == ()


def test_the_chance_of_the_price_itself_is_told(client: httpx.Client) -> None:
    job = new_job(client, TEXT, BOOK)
    price = client.get(f"/api/jobs/{job['id']}/parts/price").json()
    assert 0 < price["risk"]["kept"] < 0.5
    assert price["p50"] > price["total"]


def test_a_toml_book_is_changed_in_place_and_undone(client: httpx.Client) -> None:
    job = new_job(client, TEXT, BOOK)
    state = keep(client, job, LABOURER | {"price": "30.5"}).json()["state"]
    after = client.get(f"/api/jobs/{job['id']}/files/prices.toml").content
    assert after == BOOK.replace(b"price = 27.00, low = 25.00", b"price = 30.5, low = 25.00")
    undone = client.post(f"/api/jobs/{job['id']}/undo", json={"base": state["head"]}).json()
    assert undone["head"] == job["head"]
    assert client.get(f"/api/jobs/{job['id']}/files/prices.toml").content == BOOK


@pytest.mark.parametrize(
    ("change", "sentence", "field"),
    [
        (
            {"price": "27,50"},
            "'27,50' is no price: write a plain number such as 12.50",
            ["prices", 1, "price"],
        ),
        ({"price": "-1"}, "'-1' is less than nothing: a price is 0 or more", ["prices", 1, "price"]),
        ({"pack": "some"}, "'some' is no number: write a plain number such as 12.50", ["prices", 1, "pack"]),
    ],
)
def test_a_refused_figure_is_named(client: httpx.Client, change: Any, sentence: str, field: Any) -> None:
    job = new_job(client, in_dollars(BARE))
    answer = keep(client, job, LABOURER, {**LABOURER, "item": "fence builder", **change})
    assert answer.status_code == 422
    told = answer.json()["error"]
    assert (told["sentence"], told["field"]) == (sentence, field)
    assert client.get(f"/api/jobs/{job['id']}").json()["head"] == job["head"]


def test_without_a_currency_nothing_is_kept_and_the_field_is_named(client: httpx.Client) -> None:
    told = keep(client, new_job(client, BARE), LABOURER).json()["error"]
    assert told["sentence"].endswith('says in which currency it is: set [price] currency, as "USD"')
    assert told["field"] == ["price", "currency"]


def test_a_range_that_a_price_leaves_is_refused_in_the_readers_words(client: httpx.Client) -> None:
    job = new_job(client, TEXT, BOOK)
    told = keep(client, job, LABOURER | {"price": "99"}).json()["error"]
    assert (told["sentence"], told["field"]) == ("low, price and high must rise", ["prices", 0, "price"])
    assert keep(client, job, LABOURER | {"price": "99", "high": "120"}).status_code == 200


def test_two_windows_keep_different_prices_and_are_told_of_one(client: httpx.Client) -> None:
    job = new_job(client, in_dollars(BARE))
    begun = keep(client, job, LABOURER | {"item": "auger", "kind": "plant"}).json()["state"]
    assert keep(client, begun, LABOURER, window="a").status_code == 200
    other = keep(client, begun, LABOURER | {"item": "fence builder", "price": "38"}, window="b")
    assert other.status_code == 200
    known = {one["item"]: one["price"] for one in prices(client, job)["prices"] if one["price"]}
    assert known == {"auger": "27.00", "labourer": "27.00", "fence builder": "38.00"}
    same = keep(client, begun, LABOURER | {"price": "31"}, window="b")
    assert (same.status_code, same.json()["error"]["code"]) == (409, "clash")
    assert {one["item"]: one["price"] for one in prices(client, job)["prices"] if one["price"]} == known


def test_an_edit_sent_twice_is_kept_once(client: httpx.Client) -> None:
    job = new_job(client, in_dollars(BARE))
    head = keep(client, job, LABOURER).json()["state"]["head"]
    again = keep(client, job, LABOURER)
    assert again.status_code == 200
    assert again.json()["state"]["head"] == head


@pytest.mark.parametrize("name", ["prices.csv", "prices.xlsx"])
def test_a_started_book_is_filled_in_elsewhere_and_given_back(client: httpx.Client, name: str) -> None:
    job = new_job(client, in_dollars(BARE))
    answer = client.get(f"/api/jobs/{job['id']}/price-book/{name}")
    assert answer.headers["content-disposition"] == f'attachment; filename="{name}"'
    filled = _filled(answer.content, name)
    given = client.post(
        f"/api/jobs/{job['id']}/price-book",
        params={"base": job["head"]},
        files=[("files", (f"my {name}", filled))],
    )
    assert given.status_code == 200, given.text
    state = given.json()["state"]
    assert state["asked"]["price"]["book"] == f"my {name}"
    assert state["revision"]["label"] == f"take the prices from my {name}"
    told = prices(client, state)
    assert told["left_out"] == 0
    assert {one["price"] for one in told["prices"]} == {"3.50"}
    nextone = new_job(client, in_dollars(BARE))  # the same book serves the next job
    content = client.get(f"/api/jobs/{job['id']}/files/my {name}").content
    assert content == filled
    posted = {"files": [("files", ("book" + name[6:], content))], "params": {"base": 1}}
    assert client.post(f"/api/jobs/{nextone['id']}/price-book", **posted).status_code == 200  # type: ignore[arg-type]
    assert prices(client, nextone)["left_out"] == 0


def _filled(content: bytes, name: str) -> bytes:
    if name.endswith("csv"):
        head, *rows = content.decode().splitlines()
        place = head.split(",").index("price")
        return "\n".join([head, *(_with(row.split(","), place) for row in rows)]).encode()
    book = openpyxl.load_workbook(io.BytesIO(content))
    sheet = book.active
    assert sheet is not None
    for row in range(4, sheet.max_row + 1):
        sheet.cell(row, 6).value = 3.5
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def _with(cells: list[str], place: int) -> str:
    return ",".join([*cells[:place], "3.5", *cells[place + 1 :]])


@pytest.mark.parametrize(
    ("name", "content", "sentence"),
    [
        ("p.csv", EUROS, "the job is reckoned in USD and p.csv in EUR: make them one"),
        ("p.csv", b"a,b\n1,2\n", "no row holds the headings `item`, `unit` and `price`: add them above the prices"),
        ("p.csv", b"item,unit,price\npost,piece,\n", "holds no prices"),
        ("p.xlsx", b"PK\x03\x04", "it is no .xlsx workbook: save it anew as .xlsx or CSV"),
        ("p.gpx", b"<gpx/>", "a price book ends in .toml, .csv or .xlsx, not in .gpx: save it as one of these"),
    ],
)  # fmt: skip
def test_a_book_that_cannot_price_the_job_is_refused(
    client: httpx.Client, name: str, content: bytes, sentence: str
) -> None:
    job = new_job(client, in_dollars(BARE))
    answer = client.post(
        f"/api/jobs/{job['id']}/price-book", params={"base": job["head"]}, files=[("files", (name, content))]
    )
    assert answer.status_code == 422
    assert answer.json()["error"]["sentence"] == sentence
    assert client.get(f"/api/jobs/{job['id']}").json()["head"] == job["head"]


def test_a_price_book_among_site_files_is_told_as_one(client: httpx.Client) -> None:
    job = new_job(client, BARE)
    files = [("files", ("p.csv", b"item,unit,price\npost,piece,1\n")), ("files", ("prices.toml", BOOK))]
    given = client.post(f"/api/jobs/{job['id']}/files", params={"base": job["head"]}, files=files).json()[
        "given"
    ]
    assert [one["sentence"] for one in given] == ["it is a price book: give it to the job under Price"] * 2


def test_prices_are_kept_not_tried(client: httpx.Client) -> None:
    job = new_job(client, in_dollars(BARE))
    body = {"base": 1, "window": "w", "trial": 1, "edit": {"kind": "prices", "prices": [LABOURER]}}
    answer = client.post(f"/api/jobs/{job['id']}/trial", json=body)
    assert (answer.status_code, answer.json()["error"]["code"]) == (422, "input")
