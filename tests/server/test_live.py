"""The live answer: the command line's own numbers, stage by stage, as changes; the newest alone."""

import json
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import httpx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.desk.reading import read_job
from fencewright.desk.running import design
from fencewright.exchange.design_json import design_json
from fencewright.pipeline.stages import STAGES
from fencewright.server.live import splice_of

OPEN = Callable[..., Any]
ROOT = Path(__file__).parents[2]


def columns(rows: list[dict[str, Any]]) -> dict[str, list[Any]]:
    return {name: [row[name] for row in rows] for name in rows[0]} if rows else {}


def written(client: httpx.Client, job: dict[str, Any], folder: Path) -> dict[str, Any]:
    """What the command line writes for the job as it is."""
    state = client.get(f"/api/jobs/{job['id']}").json()
    folder.mkdir(exist_ok=True)
    (folder / "job.toml").write_text(state["text"], "utf-8")
    for file in state["files"]:
        content = client.get(f"/api/jobs/{job['id']}/files/{file['path']}").content
        (folder / file["path"]).write_bytes(content)
    record: dict[str, Any] = json.loads(design_json(design(read_job(folder / "job.toml")))[1])
    return record


def agrees(page: Any, record: dict[str, Any]) -> None:
    """See that what a window has put together from changes is the whole of design.json."""
    for table in (
        "lines",
        "gates",
        "posts",
        "spans",
        "braces",
        "pulls",
        "rolls",
        "order",
        "tension",
        "checks",
    ):
        for name, values in columns(record[table]).items():
            assert page.tables[table][name] == values, (table, name)
        assert page.rows[table] == len(record[table])


def test_the_stream_gives_the_numbers_of_the_command_line(
    client: httpx.Client, job: dict[str, Any], open_page: OPEN, tmp_path: Path
) -> None:
    page = open_page(job)
    last = page.stage(1)
    record = written(client, job, tmp_path)
    assert last["values"]["digest"] == record["digest"]
    assert last["values"]["findings"] == record["findings"]
    assert last["values"]["summary"] == record["summary"]
    assert last["pending"] == []
    agrees(page, record)


def test_stages_come_in_order_and_say_what_is_to_come(job: dict[str, Any], open_page: OPEN) -> None:
    page = open_page(job)
    page.stage(1)
    told = [(one["stage"], one["pending"]) for name, one in page.events if name == "stage"]
    assert [stage for stage, _ in told] == ["site", "layout", "top line", "pulls", "design"]
    assert told[0][1] == list(STAGES)
    assert told[2][1] == list(STAGES[2:])
    assert page.tables["drawn"]["name"] == ["paddock"]


def test_an_edit_sends_what_changed_and_the_whole_agrees(
    client: httpx.Client, job: dict[str, Any], open_page: OPEN, edit: Any, tmp_path: Path
) -> None:
    page = open_page(job)
    page.stage(1)
    edit(job, 1, {"kind": "pin_top", "line": "paddock", "at": "100 ft", "height": "55 in"})
    edit(job, 2, {"kind": "move_corner", "line": "paddock", "corner": 2, "to": ["230 ft", "130 ft"]})
    page.stage(3)
    edit(job, 3, {"kind": "set", "path": ["fence", "rails"], "value": 3})
    last = page.stage(4)
    record = written(client, job, tmp_path)
    assert last["values"]["digest"] == record["digest"]
    agrees(page, record)
    layout = page.stage(4, "layout")
    assert layout["tables"]["posts"]["columns"] == {}  # three rails move no post


def test_undo_is_followed_and_told(
    client: httpx.Client, job: dict[str, Any], open_page: OPEN, edit: Any
) -> None:
    one, two = open_page(job, "one"), open_page(job, "two")
    first = one.stage(1)["values"]["digest"]
    edit(job, 1, {"kind": "set", "path": ["fence", "rails"], "value": 3})
    assert two.stage(2)["values"]["digest"] != first
    client.post(f"/api/jobs/{job['id']}/undo", json={"base": 2, "window": "one"})
    head = two.wait(lambda name, one: name == "head" and one["revision"] == 1)
    assert (head["undo"], head["redo"]) == (None, "set rails of fence")
    two.wait(lambda name, data: name == "stage" and data["revision"] == 1 and data["stage"] == "design")


def test_an_older_answer_never_follows_a_newer_one(job: dict[str, Any], open_page: OPEN, edit: Any) -> None:
    page = open_page(job)
    page.stage(1)
    for base in range(1, 7):
        height = {"kind": "set", "path": ["fence", "top_height"], "value": f"{50 + base} in"}
        assert edit(job, base, height).status_code == 200
    page.stage(7)
    time.sleep(0.3)
    told = [one["revision"] for name, one in page.events if name == "stage"]
    assert told == sorted(told)
    whole = [one["revision"] for name, one in page.events if name == "stage" and one["stage"] == "design"]
    assert whole[-1] == 7


def test_a_design_that_cannot_be_is_told_at_its_field(
    job: dict[str, Any], open_page: OPEN, edit: Any
) -> None:
    page = open_page(job)
    page.stage(1)
    answer = edit(job, 1, {"kind": "set", "path": ["gate", 0, "at"], "value": "900 ft"})
    assert answer.status_code == 200  # kept as typed
    refused = page.wait(lambda name, one: name == "refused")
    assert refused["revision"] == 2
    assert refused["error"]["code"] == "input"
    assert refused["error"]["field"][:2] == ["gate", 0]


def test_a_job_with_nothing_drawn_says_so(client: httpx.Client, open_page: OPEN, edit: Any) -> None:
    empty = client.post("/api/jobs", json={"name": "Empty"}).json()
    page = open_page(empty)
    refused = page.wait(lambda name, one: name == "refused")
    assert refused["error"]["sentence"] == "the job has no [[line]]: draw one"
    edit(empty, 1, {"kind": "add_line", "points": [[0, 0], [30, 0], [30, 20]]})
    assert page.stage(2)["values"]["summary"]["posts"]["end"] == 2


def test_a_trial_is_shown_in_its_window_alone_and_not_kept(
    client: httpx.Client, job: dict[str, Any], open_page: OPEN, edit: Any, tmp_path: Path
) -> None:
    one, two = open_page(job, "one"), open_page(job, "two")
    one.stage(1)
    two.stage(1)
    record = {"kind": "move_corner", "line": "paddock", "corner": 1, "to": ["205 ft", "0 ft"]}
    for number in (1, 2, 3):
        asked = {"base": 1, "window": "one", "trial": number, "edit": record}
        assert client.post(f"/api/jobs/{job['id']}/trial", json=asked).status_code == 202
    one.stage(1, trial=3)
    assert client.get(f"/api/jobs/{job['id']}").json()["head"] == 1
    assert not [1 for name, event in two.events if name == "stage" and event["trial"] is not None]
    client.delete(f"/api/jobs/{job['id']}/trial", params={"window": "one"})
    edit(job, 1, {"kind": "set", "path": ["fence", "rails"], "value": 3})
    one.stage(2)
    agrees(one, written(client, job, tmp_path))


def test_a_lost_worker_is_told_and_the_next_edit_finds_another(
    running: Any, job: dict[str, Any], open_page: OPEN, edit: Any
) -> None:
    page = open_page(job)
    page.stage(1)
    for process in running.service.pool._processes:
        process.process.kill()
        process.process.join()
    time.sleep(0.2)
    edit(job, 1, {"kind": "set", "path": ["fence", "rails"], "value": 3})
    assert page.stage(2)["values"]["digest"]


@pytest.mark.parametrize("example", ["rolling-pasture"])
def test_an_example_with_files_gives_its_digest(
    client: httpx.Client, open_page: OPEN, example: str, tmp_path: Path
) -> None:
    folder = ROOT / "examples" / example
    names = sorted(path.name for path in folder.iterdir() if path.suffix in (".toml", ".csv", ".tif"))
    made = client.post(
        "/api/jobs/import", files=[("files", (name, (folder / name).read_bytes())) for name in names]
    )
    assert made.status_code == 201, made.text
    page = open_page(made.json())
    record: dict[str, Any] = json.loads(design_json(design(read_job(folder / "job.toml")))[1])
    assert page.stage(1)["values"]["digest"] == record["digest"]
    agrees(page, record)


lists = st.lists(st.one_of(st.integers(0, 3), st.none(), st.text("ab", max_size=1)), max_size=9)


@given(lists, lists)
def test_a_splice_turns_the_old_column_into_the_new(before: list[Any], after: list[Any]) -> None:
    splice = splice_of(before, after)
    if splice is None:
        assert before == after
        return
    made = list(before)
    made[splice["start"] : splice["start"] + splice["remove"]] = splice["values"]
    assert made == after


@given(st.integers(0, 1600), st.lists(st.tuples(st.integers(0, 1599), st.integers(0, 2)), max_size=3))
def test_a_splice_of_a_long_column_is_no_longer_than_what_changed(
    rows: int, marks: list[tuple[int, int]]
) -> None:
    before = [row % 7 for row in range(rows)]
    after = list(before)
    for row, what in marks:
        if what == 0:
            after.insert(min(row, len(after)), -1)
        elif row < len(after):
            after[row : row + 1] = [-2] if what == 1 else []
    splice = splice_of(before, after)
    if splice is None:
        assert before == after
        return
    start, end = splice["start"], splice["start"] + splice["remove"]
    assert before[:start] + splice["values"] + before[end:] == after
    for one, other in ((0, 0), (-1, -1)):  # neither its first nor its last row stands there already
        if splice["remove"] and splice["values"]:
            assert before[start:end][one] != splice["values"][other]
