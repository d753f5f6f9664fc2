"""The live answer: the command line's own numbers, stage by stage, as changes; the newest alone."""

import json
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import httpx
import pytest

from fencewright.desk.reading import read_job
from fencewright.desk.running import design
from fencewright.exchange.design_json import design_json
from fencewright.pipeline.stages import STAGES
from fencewright.server import live
from fencewright.server.live import Window
from fencewright.server.live_runs import Question

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


def test_a_stream_that_has_nothing_to_tell_says_that_it_is_still_there(
    job: dict[str, Any], open_page: OPEN
) -> None:
    page = open_page(job)
    page.stage(1)
    with page.heard:
        assert page.heard.wait_for(lambda: page.is_still_here, timeout=20)


def test_stages_come_in_order_and_say_what_is_to_come(job: dict[str, Any], open_page: OPEN) -> None:
    page = open_page(job)
    page.stage(1)
    told = [(one["stage"], one["pending"]) for name, one in page.events if name == "stage"]
    stages = [stage for stage, _ in told]
    assert stages[-2:] == ["pulls", "design"]
    assert stages[:-2] == [
        one for one in ("site", "layout", "top line") if one in stages
    ]  # what is soon followed waits
    assert told[-2:] == [("pulls", list(STAGES[STAGES.index("pulls") + 1 :])), ("design", [])]
    assert page.tables["drawn"]["name"] == ["paddock"]


def test_what_a_hand_drags_is_told_before_its_strength(
    client: httpx.Client, job: dict[str, Any], open_page: OPEN
) -> None:
    page = open_page(job)
    page.stage(1)
    edit = {"kind": "move_corner", "line": "paddock", "corner": 2, "to": ["231 ft", "131 ft"]}
    asked = {"base": 1, "window": "one", "trial": 1, "edit": edit}
    assert client.post(f"/api/jobs/{job['id']}/trial", json=asked).is_success
    page.stage(1, "top line", trial=1)
    assert page.stage(1, trial=1)["pending"] == []


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
    told = [one for name, one in page.events if name == "stage" and one["revision"] == 4]
    moved = {key for one in told for key in one["tables"].get("posts", {"columns": {}})["columns"]}
    assert not moved & {"x_m", "y_m", "station_m", "id", "why"}  # three rails move no post


def test_undo_is_followed_and_told(
    client: httpx.Client, job: dict[str, Any], open_page: OPEN, edit: Any
) -> None:
    one, two = open_page(job, "one"), open_page(job, "two")
    first = one.stage(1)["values"]["digest"]
    edit(job, 1, {"kind": "set", "path": ["fence", "rails"], "value": 3})
    assert two.stage(2)["values"]["digest"] != first
    client.post(f"/api/jobs/{job['id']}/undo", json={"base": 2, "window": "one"})
    head = two.wait(lambda name, one: name == "head" and one["revision"] == 1)
    assert (head["undo"], head["redo"], head["label"]) == (
        None,
        "set rails of fence",
        "undo: set rails of fence",
    )
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
    assert answer.status_code == 422
    assert answer.json()["error"]["code"] == "input"
    assert answer.json()["error"]["field"][:2] == ["gate", 0]
    assert "lies beyond the end of line" in answer.json()["error"]["sentence"]
    assert edit(job, 1, {"kind": "set", "path": ["fence", "rails"], "value": 3}).status_code == 200


def test_a_job_that_cannot_be_designed_takes_edits_and_says_why(
    client: httpx.Client, open_page: OPEN, edit: Any, job: dict[str, Any]
) -> None:
    broken = job["text"].replace(f'at = "{job["asked"]["gate"][0]["at"]}"', 'at = "900 ft"', 1)
    assert broken != job["text"]
    made = client.post("/api/jobs/import", files={"files": ("job.toml", broken.encode())}).json()
    page = open_page(made)
    refused = page.wait(lambda name, one: name == "refused")
    assert refused["error"]["field"][:2] == ["gate", 0]
    assert edit(made, 1, {"kind": "set", "path": ["fence", "rails"], "value": 3}).status_code == 200
    assert edit(made, 2, {"kind": "set", "path": ["gate", 0, "at"], "value": "90 ft"}).status_code == 200
    assert page.stage(3)["values"]["may_be_built"] is not None


def test_an_edit_that_changes_nothing_is_no_revision(job: dict[str, Any], edit: Any) -> None:
    rails = job["asked"]["fence"]["rails"]
    same = edit(job, 1, {"kind": "set", "path": ["fence", "rails"], "value": rails}).json()
    assert (same["state"]["head"], same["state"]["undo"]) == (1, None)


def test_a_job_with_nothing_drawn_says_so(client: httpx.Client, open_page: OPEN, edit: Any) -> None:
    empty = client.post("/api/jobs", json={"name": "Empty"}).json()
    page = open_page(empty)
    refused = page.wait(lambda name, one: name == "refused")
    assert refused["error"]["sentence"] == "the job has no [[line]]: draw one"
    edit(empty, 1, {"kind": "add_line", "points": [[0, 0], [30, 0], [30, 20]]})
    assert page.stage(2)["values"]["summary"]["posts"]["end"] == 2


def test_a_table_that_lost_its_rows_has_them_again_after_undo(
    client: httpx.Client, job: dict[str, Any], open_page: OPEN, edit: Any, tmp_path: Path
) -> None:
    page = open_page(job)
    page.stage(1)
    for gate in range(len(job["asked"]["gate"]) - 1, -1, -1):
        revision = len(job["asked"]["gate"]) - gate
        remove = {"kind": "remove", "table": "gate", "item": gate}
        assert edit(job, revision, remove).status_code == 200
        page.stage(revision + 1)
    assert page.rows["gates"] == 0
    page.events.clear()
    for head in range(revision + 1, 1, -1):
        client.post(f"/api/jobs/{job['id']}/undo", json={"base": head, "window": "one"}).raise_for_status()
    page.stage(1)
    agrees(page, written(client, job, tmp_path))


def test_a_window_keeps_nothing_of_a_design_that_was_undone_to_no_design(
    client: httpx.Client, open_page: OPEN, edit: Any
) -> None:
    empty = client.post("/api/jobs", json={"name": "Undone"}).json()
    page = open_page(empty)
    page.wait(lambda name, one: name == "refused")
    edit(empty, 1, {"kind": "add_line", "points": [[0, 0], [30, 0], [30, 20]]})
    page.stage(2)
    asked = {"base": 2, "window": "one", "trial": 1}
    asked["edit"] = {"kind": "move_corner", "line": "line 1", "corner": 1, "to": ["90 ft", "0 ft"]}
    client.post(f"/api/jobs/{empty['id']}/trial", json=asked).raise_for_status()
    page.stage(2, "pulls", trial=1)
    page.events.clear()
    client.post(f"/api/jobs/{empty['id']}/undo", json={"base": 2, "window": "one"}).raise_for_status()
    page.wait(lambda name, one: name == "refused")
    fresh = open_page(empty, "two")
    fresh.wait(lambda name, one: name == "refused")
    assert page.tables == fresh.tables
    assert page.rows == fresh.rows
    page.events.clear()
    client.post(f"/api/jobs/{empty['id']}/redo", json={"base": 1, "window": "one"}).raise_for_status()
    whole = page.stage(2)
    again = open_page(empty, "three")
    assert again.stage(2)["values"]["digest"] == whole["values"]["digest"]
    assert page.tables == again.tables


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


def test_what_is_expected_is_designed_ahead_and_told_to_nobody_until_it_is_asked(
    client: httpx.Client,
    running: Any,
    job: dict[str, Any],
    open_page: OPEN,
    edit: Any,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    submit, designed = running.service.pool.submit, []

    def counted(job: str, task: dict[str, Any], *rest: Any) -> Any:
        designed.append(task)
        return submit(job, task, *rest)

    page = open_page(job)
    page.stage(1)
    monkeypatch.setattr(running.service.pool, "submit", counted)
    asked = {"kind": "pin_top", "line": "paddock", "at": "100 ft", "height": "55 in"}

    def expect(base: int, edit: Any) -> bool:
        sent = {"base": base, "window": "one", "edit": edit}
        answer = client.post(f"/api/jobs/{job['id']}/expected", json=sent)
        assert answer.status_code == 202
        return bool(answer.json()["begun"])

    told = len(page.events)
    assert expect(1, asked | {"height": "54 in"})
    assert expect(1, asked)  # the newest is designed to its end
    is_designed = False
    for _ in range(300):
        runs = dict(running.service.board.runs._runs)
        is_designed = any(run.is_over for (text, _), run in runs.items() if "55 in" in text)
        if is_designed:
            break
        time.sleep(0.05)
    assert is_designed
    assert len(page.events) == told
    assert client.get(f"/api/jobs/{job['id']}").json()["head"] == 1
    count = len(designed)
    assert count in (1, 2)
    edit(job, 1, asked)
    last = page.stage(2)
    assert len(designed) == count  # it is answered from what was designed
    record = written(client, job, tmp_path)
    assert last["values"]["digest"] == record["digest"]
    agrees(page, record)
    assert not [one for name, one in page.events if name == "stage" and one["trial"] is not None]

    # what cannot be made, changes nothing or comes too late is not designed, and no error: nobody asked for it
    for one in (asked | {"height": "5 furlongs"}, asked | {"line": "none"}, asked):
        assert not expect(2, one)
    expect(1, asked | {"height": "53 in"})
    time.sleep(0.3)
    assert len(designed) == count


def test_what_is_expected_does_not_end_what_a_hand_holds(
    client: httpx.Client, running: Any, job: dict[str, Any], open_page: OPEN
) -> None:
    page = open_page(job)
    page.stage(1)
    corner = {"kind": "move_corner", "line": "paddock", "corner": 1, "to": ["205 ft", "0 ft"]}
    tried = {"base": 1, "window": "one", "trial": 1, "edit": corner}
    assert client.post(f"/api/jobs/{job['id']}/trial", json=tried).status_code == 202
    pinned = {"kind": "pin_top", "line": "paddock", "at": "100 ft", "height": "52.25 in"}
    sent = {"base": 1, "window": "one", "edit": pinned}
    client.post(f"/api/jobs/{job['id']}/expected", json=sent).raise_for_status()
    page.stage(1, trial=1)  # to its end
    texts = [text for text, _ in running.service.board.runs._runs]
    assert not [text for text in texts if "52.25 in" in text]


def test_an_edit_that_was_expected_and_cannot_be_designed_is_refused_at_its_field(
    client: httpx.Client, job: dict[str, Any], open_page: OPEN, edit: Any
) -> None:
    page = open_page(job)
    page.stage(1)
    gate = {
        "kind": "add",
        "table": "gate",
        "values": {"line": "paddock", "at": "10 ft", "opening": "4000 ft"},
    }
    sent = {"base": 1, "window": "one", "edit": gate}
    assert client.post(f"/api/jobs/{job['id']}/expected", json=sent).json()["begun"]
    time.sleep(0.5)
    refused = edit(job, 1, gate)
    assert refused.status_code == 422
    assert "gate" in refused.json()["error"]["item"]
    assert client.get(f"/api/jobs/{job['id']}").json()["head"] == 1


def test_a_trial_that_comes_after_its_hand_let_go_is_not_shown(
    client: httpx.Client, job: dict[str, Any], open_page: OPEN, edit: Any
) -> None:
    """Requests overtake each other: the window had followed the late trial, and never heard the end of its edit."""
    page = open_page(job)
    page.stage(1)
    edit(job, 1, {"kind": "set", "path": ["fence", "rails"], "value": 3})
    record = {"kind": "move_corner", "line": "paddock", "corner": 1, "to": ["205 ft", "0 ft"]}
    late = {"base": 1, "window": "one", "trial": 1, "edit": record}
    assert client.post(f"/api/jobs/{job['id']}/trial", json=late).status_code == 202
    page.stage(2)
    edit(job, 2, {"kind": "set", "path": ["fence", "rails"], "value": 4})
    page.stage(3)
    assert not [1 for name, event in page.events if name == "stage" and event["trial"] is not None]


def test_an_edit_that_comes_while_a_window_opens_is_what_it_shows(
    running: Any, job: dict[str, Any], open_page: OPEN, edit: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The stream reads the job; an edit kept just then was told to nobody, and the window stayed with the one before."""
    service, asked = running.service, running.service.question
    overtaken: list[int] = []

    def read_late(state: Any) -> Any:
        question = asked(state)
        if service.board.jobs and not overtaken:  # the stream has begun, and reads the job
            overtaken.append(state.job.head)
            assert edit(job, 1, {"kind": "set", "path": ["fence", "rails"], "value": 3}).is_success
        return question

    monkeypatch.setattr(service, "question", read_late)
    page = open_page(job)
    assert page.stage(2)["values"]["may_be_built"] is not None
    assert overtaken == [1]
    whole = [one["revision"] for name, one in page.events if name == "stage" and one["stage"] == "design"]
    assert whole[-1] == 2


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


def test_a_refused_edit_takes_no_answer_away(job: dict[str, Any], open_page: OPEN, edit: Any) -> None:
    page = open_page(job)
    page.stage(1)
    assert edit(job, 1, {"kind": "set", "path": ["fence", "rails"], "value": 3}).status_code == 200
    strange = {"kind": "set", "path": ["site", "ground"], "value": "nowhere.tif"}
    assert edit(job, 2, strange).status_code == 422  # begun while the design of revision 2 was under way
    page.stage(2)
    told = [one for name, one in page.events if name in ("stage", "refused") and one["revision"] == 2]
    assert not [one for one in told if "error" in one]


def test_a_window_that_is_too_far_behind_begins_anew() -> None:
    window, question = Window("slow"), Question("job", 1, "", "")
    said = {"stage": "site", "pending": [], "elapsed_ms": 1.0, "values": {}, "tables": {}}
    for _ in range(65):
        live._tell(window, question, "stage", said)
    assert window.waiting.qsize() == 65
    live._tell(window, question, "stage", said)
    assert window.waiting.get_nowait() is None  # the stream ends; what was waiting is in the next one, whole
    assert window.waiting.empty()
