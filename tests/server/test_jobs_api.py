"""Jobs, edits and history over HTTP; every error has the one shape."""

import io
import json
import zipfile
from pathlib import Path
from typing import Any

import httpx
import pytest

from fencewright.server.errors import CODES, field_of

ROOT = Path(__file__).parents[2]
SHAPE = {"sentence", "file", "item", "field", "code", "head", "kept"}


def put(path: list[Any], value: Any) -> dict[str, Any]:
    return {"kind": "set", "path": path, "value": value}


def refused(answer: httpx.Response, code: str) -> dict[str, Any]:
    """See that an answer is an error of the one shape."""
    assert answer.status_code == CODES[code][0], answer.text
    assert set(answer.json()) == {"error"}
    error: dict[str, Any] = answer.json()["error"]
    assert set(error) == SHAPE
    assert error["code"] == code
    assert error["sentence"]
    assert "\n" not in error["sentence"]
    assert "Traceback" not in answer.text
    return error


def test_a_new_job_is_in_the_list_with_its_picture(client: httpx.Client, job: dict[str, Any]) -> None:
    row = next(one for one in client.get("/api/jobs").json() if one["id"] == job["id"])
    assert (row["name"], row["head"]) == (job["name"], 1)
    picture = client.get(row["picture"])
    assert picture.headers["content-type"] == "image/svg+xml"
    assert picture.text.count("<path") == 1
    assert picture.text.count("<circle") == 1


def test_an_edit_and_its_history(client: httpx.Client, job: dict[str, Any], edit: Any) -> None:
    answer = edit(job, 1, {"kind": "set", "path": ["fence", "rails"], "value": 3}).json()
    assert (answer["merged"], answer["state"]["head"], answer["state"]["undo"]) == (
        False,
        2,
        "set rails of fence",
    )
    assert answer["state"]["asked"]["fence"]["rails"] == 3
    at = f"/api/jobs/{job['id']}"
    undone = client.post(f"{at}/undo", json={"base": 2}).json()
    assert (undone["head"], undone["undo"], undone["redo"]) == (1, None, "set rails of fence")
    assert undone["text"] == job["text"]
    assert client.post(f"{at}/redo", json={"base": 1}).json()["head"] == 2
    assert client.put(f"{at}/history/2/name", json={"name": "as agreed"}).json()["name"] == "as agreed"
    assert [(one["number"], one["present"], one["done"]) for one in client.get(f"{at}/history").json()] == [
        (1, False, True), (2, True, True),
    ]  # fmt: skip
    change = client.get(f"{at}/changes", params={"before": 1, "after": 2}).json()
    assert [(one["item"], one["key"], one["before"], one["after"]) for one in change] == [
        ("fence", "rails", 4, 3)
    ]
    back = client.post(f"{at}/history/1/return", json={"base": 2}).json()
    assert (back["head"], back["text"]) == (3, job["text"])


def test_ten_edits_are_undone_one_by_one(client: httpx.Client, job: dict[str, Any], edit: Any) -> None:
    for base in range(1, 11):
        edit(job, base, {"kind": "set", "path": ["fence", "top_height"], "value": f"{44 + base} in"})
    for base in range(11, 1, -1):
        state = client.post(f"/api/jobs/{job['id']}/undo", json={"base": base}).json()
    assert state["text"] == job["text"]


def test_two_windows(client: httpx.Client, job: dict[str, Any], edit: Any) -> None:
    edit(job, 1, {"kind": "set", "path": ["fence", "rails"], "value": 3}, "one")
    merged = edit(job, 1, {"kind": "set", "path": ["site", "soil"], "value": "clay"}, "two").json()
    assert (merged["merged"], merged["merged_with"]) == (True, ["set rails of fence"])
    assert (merged["state"]["asked"]["fence"]["rails"], merged["state"]["asked"]["site"]["soil"]) == (
        3,
        "clay",
    )
    clash = refused(edit(job, 1, {"kind": "set", "path": ["fence", "rails"], "value": 5}, "two"), "clash")
    assert (clash["head"], clash["kept"]) == (3, 4)
    kept = client.get(f"/api/jobs/{job['id']}", params={"revision": 4}).json()
    assert kept["asked"]["fence"]["rails"] == 5
    moved = refused(client.post(f"/api/jobs/{job['id']}/undo", json={"base": 1}), "moved")
    assert moved["head"] == 3


@pytest.mark.parametrize(
    ("record", "code", "field", "sentence"),
    [
        (put(["gate", 0, "opening"], "12"), "input", ["gate", 0, "opening"], "no length with a unit"),
        (put(["site", "soil"], "sandd"), "input", None, "did you mean"),
        (put(["site", "ground"], "../../etc/passwd"), "input", ["site", "ground"], "leaves the job's folder"),
        (put(["site", "ground"], "/etc/passwd"), "input", ["site", "ground"], "leaves the job's folder"),
        ({"kind": "import_file", "use": "line", "file": "walk.gpx"}, "input", ["line", 1, "file"], "there is no such file"),
        ({"kind": "import_file", "use": "ground", "file": "/vsicurl/http://x/y.tif"}, "input", ["site", "ground"], "leaves"),
        ({"kind": "fly"}, "request", None, "cannot be read"),
        ({"kind": "close_line"}, "request", None, "cannot be read"),
        ({"kind": "replace_text", "text": "[job"}, "input", [], "not valid TOML"),
    ],
)  # fmt: skip
def test_what_the_command_line_refuses_is_refused_alike(
    client: httpx.Client, job: dict[str, Any], edit: Any, record: Any, code: str, field: Any, sentence: str
) -> None:
    error = refused(edit(job, 1, record), code)
    assert sentence in error["sentence"]
    assert field is None or error["field"] == field
    assert client.get(f"/api/jobs/{job['id']}").json()["head"] == 1


def test_the_sentence_is_the_command_lines_own(job: dict[str, Any], edit: Any, tmp_path: Path) -> None:
    from fencewright.desk.reading import read_job
    from fencewright.findings import InputError

    text = job["text"].replace('opening = "12 ft"', 'opening = "12 fathoms"')
    (tmp_path / "job.toml").write_text(text)
    with pytest.raises(InputError) as there:
        read_job(tmp_path / "job.toml")
    error = refused(
        edit(job, 1, {"kind": "set", "path": ["gate", 0, "opening"], "value": "12 fathoms"}), "input"
    )
    assert (error["sentence"], error["item"], error["file"]) == (
        there.value.what,
        there.value.item,
        there.value.file,
    )


def test_every_address_that_is_not_there_has_the_shape(client: httpx.Client, job: dict[str, Any]) -> None:
    at = f"/api/jobs/{job['id']}"
    for path in (
        "/api/nothing",
        "/api/jobs/0000",
        "/api/jobs/nix/history",
        f"{at}/files/x",
        f"{at}/outputs/x",
    ):
        refused(client.get(path), "missing")
    refused(client.get(f"{at}?revision=77"), "missing")
    refused(client.get(f"{at}/parts/poetry"), "missing")
    refused(client.get(f"{at}/changes"), "request")
    refused(client.patch(at), "method")
    refused(client.post(f"{at}/edits", content=b"{"), "request")
    refused(client.get(f"{at}/why/P999"), "input")


@pytest.mark.parametrize("number", [-5, 0, 2**31, 2**63, 10**30])
def test_a_number_that_no_revision_has_is_refused_everywhere_alike(
    client: httpx.Client, job: dict[str, Any], number: int
) -> None:
    at = f"/api/jobs/{job['id']}"
    for path in (
        f"?revision={number}", f"/changes?before=1&after={number}", f"/changes?before={number}&after=1",
        *(f"/{one}?at={number}" for one in (
            "design", "why/P1", "outputs", "outputs/plan.svg", "outputs/quote.pdf/pages", "archive.zip", "prices",
            "parts/price", "picture.svg", "price-book/prices.csv",
        )),
    ):  # fmt: skip
        refused(client.get(at + path), "request")
    edit = put(["fence", "rails"], 3)
    for path, more in (
        ("edits", {"edit": edit}),
        ("expected", {"edit": edit, "window": "one"}),
        ("trial", {"edit": edit, "window": "one", "trial": 1}),
        ("undo", {}), ("redo", {}), ("history/1/return", {}),
    ):  # fmt: skip
        refused(client.post(f"{at}/{path}", json={"base": number, **more}), "request")
    for path in ("files", "price-book"):
        files = [("files", ("prices.csv", b"item,unit,price\n"))]
        refused(client.post(f"{at}/{path}?base={number}", files=files), "request")
    refused(client.put(f"{at}/history/{number}/name", json={"name": "x"}), "request")
    refused(client.post(f"{at}/history/{number}/return", json={"base": 1}), "request")


def test_a_page_number_past_any_paper_is_missing(client: httpx.Client, job: dict[str, Any]) -> None:
    refused(client.get(f"/api/jobs/{job['id']}/outputs/quote.pdf/pages/{2**63}.png"), "missing")


def test_a_fault_of_the_program_has_the_shape(
    client: httpx.Client, job: dict[str, Any], running: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: Any) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(running.service.store, "history", broken)
    error = refused(client.get(f"/api/jobs/{job['id']}/history"), "fault")
    assert error["sentence"] == (
        "a fault of the program (ZeroDivisionError): the last accepted state is kept; undo the last edit or ask again, "
        "and report it"
    )


def test_delete_and_restore_and_copy(client: httpx.Client, job: dict[str, Any], edit: Any) -> None:
    at = f"/api/jobs/{job['id']}"
    assert client.delete(at).json()["deleted_ms"] is not None
    assert job["id"] not in [one["id"] for one in client.get("/api/jobs").json()]
    assert job["id"] in [one["id"] for one in client.get("/api/jobs", params={"deleted": True}).json()]
    refused(edit(job, 1, {"kind": "close_line", "line": 0}), "missing")
    client.post(f"{at}/restore")
    copy = client.post(f"{at}/copy", json={}).json()
    name = f"{job['name']} copy"
    assert (copy["name"], copy["asked"]["job"]["name"]) == (name, name)
    assert copy["id"] != job["id"]


def test_markup_in_a_job_name_stays_text(client: httpx.Client) -> None:
    name = "</script><script>alert(1)</script>"
    made = client.post("/api/jobs", json={"name": name, "start": "example"}).json()
    assert made["name"] == name
    assert "<script" not in client.get(f"/api/jobs/{made['id']}/picture.svg").text
    for output in ("plan.svg", "section.svg", "fence.html"):
        assert "<script" not in client.get(f"/api/jobs/{made['id']}/outputs/{output}").text


def test_everything_is_taken_away_and_comes_back(client: httpx.Client, job: dict[str, Any]) -> None:
    at = f"/api/jobs/{job['id']}"
    packed = client.get(f"{at}/archive.zip")
    assert client.get(f"{at}/archive.zip").content == packed.content  # the same job, the same bytes
    with zipfile.ZipFile(io.BytesIO(packed.content)) as archive:
        names = archive.namelist()
        assert archive.read("job.toml").decode() == job["text"]
        manifest = json.loads(archive.read("fence/manifest.json"))
    told = [one["name"] for one in client.get(f"{at}/outputs").json()["files"]]
    assert {f"fence/{name}" for name in told if name != "job.toml"} | {"job.toml"} == set(names)
    assert {row["name"] for row in manifest["files"]} | {"manifest.json", "job.toml"} == set(told)
    again = client.post("/api/jobs/import", files=[("files", ("home.zip", packed.content))])
    assert (again.status_code, again.json()["text"], again.json()["files"]) == (201, job["text"], [])


def test_outputs_are_the_command_lines_bytes(
    client: httpx.Client, job: dict[str, Any], tmp_path: Path
) -> None:
    from fencewright.desk.reading import read_job
    from fencewright.desk.running import design
    from fencewright.desk.writing import write_design

    (tmp_path / "job.toml").write_text(job["text"], "utf-8")
    write_design(design(read_job(tmp_path / "job.toml")), tmp_path / "fence")
    for name in ("design.json", "posts.csv", "order.xlsx", "plan.svg", "fence.gpkg"):
        there = client.get(f"/api/jobs/{job['id']}/outputs/{name}")
        assert there.content == (tmp_path / "fence" / name).read_bytes(), name
        assert "attachment" in there.headers["content-disposition"]
    assert (
        client.get(f"/api/jobs/{job['id']}/design").content
        == (tmp_path / "fence" / "design.json").read_bytes()
    )
    shown = client.get(f"/api/jobs/{job['id']}/outputs/plan.svg", params={"show": True})
    assert "content-disposition" not in shown.headers


def test_why_has_its_inputs_formula_and_source(client: httpx.Client, job: dict[str, Any]) -> None:
    why = client.get(f"/api/jobs/{job['id']}/why/P3").json()
    assert why["kind"] == "post"
    hole = next(one for one in why["reasons"] if "hole" in one["name"])
    assert hole["inputs"]
    assert hole["symbols"]
    assert hole["source_text"]


def test_why_of_order_price_and_programme(client: httpx.Client, job: dict[str, Any]) -> None:
    at = f"/api/jobs/{job['id']}"
    order = client.get(f"{at}/design").json()["order"][0]
    told = client.get(f"{at}/why/{order['id']}").json()
    assert [one["result"] for one in told["reasons"] if one["name"] == "to order"] == [order["order"]]
    activity = client.get(f"{at}/parts/programme").json()["activities"][3]
    told = client.get(f"{at}/why/programme:{activity['id']}").json()
    start = next(one["result"] for one in told["reasons"] if one["name"] == "start")
    assert start == f"{activity['start']} {activity['start_time']}"
    line = client.get(f"{at}/parts/price").json()["lines"][0]
    told = client.get(f"{at}/why/price:{line['item']}").json()
    assert next(one["result"] for one in told["reasons"] if one["name"] == "quantity") == line["quantity"]
    refused(client.get(f"{at}/why/price:nothing"), "input")


def test_ground_and_catalogue_and_schema(client: httpx.Client, job: dict[str, Any]) -> None:
    terrain = client.get(f"/api/jobs/{job['id']}/terrain", params={"most": 500}).json()
    assert len(terrain["elevation_m"]) == terrain["columns"] * terrain["rows"]
    assert set(terrain["elevation_m"]) == {0.0}  # flat ground
    catalogue = client.get(f"/api/jobs/{job['id']}/catalogue").json()
    assert "polymer rail" in catalogue["rails"]
    assert "buried water" in catalogue["obstacles"]
    assert "opening" in client.get("/api/job-schema").json()["$defs"]["Gate"]["properties"]


def test_a_kept_job_that_is_refused_now_can_be_opened_and_mended(
    client: httpx.Client, running: Any, open_page: Any, edit: Any
) -> None:
    """An older program took tax = 19 for 1,900 %; the page of such a job said so, and let nobody at its field."""
    text = '[job]\nname = "Kept"\n[[line]]\nname = "a"\npoints = [["0 ft", "0 ft"], ["90 ft", "0 ft"]]\n'
    kept = running.service.store.new_job("Kept", text + "[price]\ntax = 19\n", {}, label="new").job
    assert client.get(f"/api/jobs/{kept.id}").json()["asked"]["price"] == {"tax": 19}
    assert "rock" in client.get(f"/api/jobs/{kept.id}/catalogue").json()["obstacles"]
    window = open_page({"id": kept.id})
    told = window.wait(lambda name, _: name == "refused")["error"]
    assert (told["field"], told["sentence"]) == (["price", "tax"], "19 is 1,900 %: write 19 % or 0.19")
    mended = edit({"id": kept.id}, 1, {"kind": "set", "path": ["price", "tax"], "value": "19 %"})
    assert mended.status_code == 200
    window.wait(lambda name, data: name == "stage" and data["revision"] == 2 and not data["pending"])


def test_price_and_programme_are_there_or_say_that_they_are_missing(
    client: httpx.Client, job: dict[str, Any]
) -> None:
    missing = client.get("/api").json()["missing_parts"]
    for part in ("price", "programme", "papers"):
        answer = client.get(f"/api/jobs/{job['id']}/parts/{part}")
        if part in missing:
            refused(answer, "missing-part")
        else:
            assert answer.status_code == 200, answer.text


def test_openapi_names_every_operation_once_and_the_error_everywhere(client: httpx.Client) -> None:
    record = client.get("/openapi.json").json()
    names = [one["operationId"] for path in record["paths"].values() for one in path.values()]
    assert len(set(names)) == len(names)
    told = set()
    for path, methods in record["paths"].items():
        for one in methods.values():
            errors = {int(status) for status in one["responses"] if int(status) >= 400}
            assert {401, 403, 421, 500} <= errors, path  # the guard stands before every address
            assert not path.startswith("/api/jobs") or {404, 409, 413, 422, 503, 507} <= errors, path
            for status in errors:
                schema = one["responses"][str(status)]["content"]["application/json"]["schema"]
                assert schema["$ref"].endswith("ErrorAnswer")
            told |= errors
    assert told == {status for status, _ in CODES.values()} - {405}  # no operation is one that is not taken


@pytest.mark.parametrize(
    ("body", "sentence"),
    [
        (b"{", "the request is not valid JSON: expecting property name enclosed in double quotes, at character 2"),
        (b"\xff\xfe", "the request is not valid JSON: "),
        (b"", "the request needs a body: one JSON object"),
        (b"[]", "the request needs a body: one JSON object"),
        (b'{"base": 1, "edit": ' + b"[" * 100_000 + b"]" * 100_000 + b"}", "its body is neither JSON nor a form"),
    ],
)  # fmt: skip
def test_a_body_that_is_no_json_is_told_so(
    client: httpx.Client, job: dict[str, Any], body: bytes, sentence: str
) -> None:
    headers = {"content-type": "application/json"}
    answer = client.post(f"/api/jobs/{job['id']}/edits", content=body, headers=headers)
    error = refused(answer, "request")
    assert sentence in error["sentence"]
    assert (error["field"], error["item"]) == ([], "")


@pytest.mark.parametrize(
    ("item", "field"),
    [
        ('gate 1 "main"', ["gate", 0]),
        ("[[gate]] 2, opening", ["gate", 1, "opening"]),
        ("crossing 2", ["crossing", 1]),
        ('line "b", point 3', ["line", 1, "points", 2]),
        ('line "b"', ["line", 1]),
        ("[site] crs", ["site", "crs"]),
        ("fence, far_end_share", ["fence", "far_end_share"]),
        ("strand", ["strand"]),
        ("something else 5", []),
    ],
)
def test_an_item_is_found_in_the_job_file(item: str, field: list[Any]) -> None:
    assert field_of(item, {"line": [{"name": "a"}, {"name": "b"}]}) == field


def test_the_example_of_the_docs_runs(running: Any, capsys: pytest.CaptureFixture[str]) -> None:
    page = (ROOT / "docs" / "web-api.md").read_text("utf-8")
    code = page.split("```python\n")[1].split("```")[0]
    space: dict[str, Any] = {}
    exec(code.replace("http://127.0.0.1:8420", running.address), space)
    space["server"].close()
    out = capsys.readouterr().out
    assert out.startswith('2 move corner 2 of line "paddock"\n')
    assert "fence_length_m" in out
