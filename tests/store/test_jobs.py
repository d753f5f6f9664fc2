"""The job store: revisions, undo and redo, two windows, delete and restore, on both databases."""

import json
import threading
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fencewright.edits.applying import apply_edit
from fencewright.store.jobs import JobStore, open_store
from fencewright.store.records import Accepted, Clash, Made, Missing, Moved, NewerJob, State

TEXT = (
    '# ours\n[job]\nname = "Home"\n[[line]]\nname = "a"\n'
    'points = [["0 m", "0 m"], ["50 m", "0 m"], ["50 m", "50 m"]]\n[fence]\nrails = 4\n'
)


def edit(store: JobStore, id: str, base: int, record: dict[str, Any], window: str = "one") -> Accepted:  # noqa: A002
    made = apply_edit(store.state(id, base).text, record)
    return store.accept(id, Made(base, made.text, made.label, made.asked.job.name, window))


def rails(number: int) -> dict[str, Any]:
    return {"kind": "set", "path": ["fence", "rails"], "value": number}


def corner(number: int, x: int) -> dict[str, Any]:
    return {"kind": "move_corner", "line": "a", "corner": number, "to": [f"{x} m", "0 m"]}


@pytest.fixture
def job(store: JobStore) -> State:
    return store.new_job("Home", TEXT, {"walk.gpx": b"<gpx/>"}, window="one")


def test_a_new_job_is_there_whole(store: JobStore, job: State) -> None:
    again = store.state(job.job.id)
    assert (again.text, again.revision.number, again.revision.label) == (TEXT, 1, "new job")
    assert store.content(again.files["walk.gpx"]) == b"<gpx/>"
    assert [row.name for row in store.list_jobs()] == ["Home"]


def test_names_that_a_database_cannot_hold_are_kept_as_well_as_it_can(store: JobStore) -> None:
    job = store.new_job("A\0B", TEXT, {}, label="new\0", window="w\0").job
    assert (store.state(job.id).job.name, store.history(job.id)[0].label) == ("A\ufffdB", "new\ufffd")
    made = edit(store, job.id, 1, rails(3), window="o\0e")
    again = edit(store, job.id, 1, rails(3), window="o\0e")  # sent again after a lost answer
    assert again.state.job.head == made.state.job.head == 2
    with pytest.raises(Missing):
        store.state(f"{job.id}\0")


def test_an_edit_is_a_revision_and_undo_and_redo_lead_along_them(store: JobStore, job: State) -> None:
    id = job.job.id  # noqa: A001
    texts = [TEXT]
    for number in (3, 5, 6):
        texts.append(edit(store, id, len(texts), rails(number)).state.text)
    assert [one.label for one in store.history(id)] == ["new job", *["set rails of fence"] * 3]
    assert [store.undo(id, base).text for base in (4, 3, 2)] == texts[2::-1]
    with pytest.raises(Moved, match="nothing to undo"):
        store.undo(id, 1)
    assert [store.redo(id, base).text for base in (1, 2, 3)] == texts[1:]
    with pytest.raises(Moved, match="nothing to redo"):
        store.redo(id, 4)


def test_an_edit_after_undo_starts_a_branch_and_the_old_one_is_still_there(
    store: JobStore, job: State
) -> None:
    id = job.job.id  # noqa: A001
    edit(store, id, 1, rails(3))
    store.undo(id, 2)
    branch = edit(store, id, 1, rails(6)).state
    assert (branch.revision.number, branch.revision.parent) == (3, 1)
    with pytest.raises(Moved):
        store.redo(id, 3)
    back = store.return_to(id, 3, 2)
    assert (back.revision.number, back.revision.parent, back.revision.label) == (4, 3, "back to revision 2")
    assert back.text == store.state(id, 2).text
    assert store.undo(id, 4).text == branch.text
    assert store.undo(id, 3).text == TEXT
    assert store.redo(id, 1).text == branch.text


def test_history_goes_through_a_restart(store: JobStore, job: State, url: str) -> None:
    id = job.job.id  # noqa: A001
    edit(store, id, 1, rails(3))
    store.undo(id, 2)
    store.close()
    again = open_store(url)
    assert again.state(id).text == TEXT
    assert "rails = 3" in again.redo(id, 1).text
    again.close()


def test_two_windows_on_different_things_are_merged_and_told(store: JobStore, job: State) -> None:
    id = job.job.id  # noqa: A001
    edit(store, id, 1, corner(0, 5))
    accepted = edit(store, id, 1, corner(2, 60), "two")
    assert accepted.merged_with == ('move corner 1 of line "a"',)
    assert accepted.state.revision.merged
    assert '["5 m", "0 m"], ["50 m", "0 m"], ["60 m", "0 m"]' in accepted.state.text
    assert accepted.state.text.startswith("# ours")


def test_two_windows_on_one_thing_are_refused_and_both_kept(store: JobStore, job: State) -> None:
    id = job.job.id  # noqa: A001
    edit(store, id, 1, rails(3))
    with pytest.raises(
        Clash, match=r"another window \(set rails of fence\) has changed rails of fence since"
    ) as clash:
        edit(store, id, 1, rails(6), "two")
    assert (clash.value.head, clash.value.kept) == (2, 3)
    assert "rails = 3" in store.state(id).text
    aside = store.state(id, 3)
    assert "rails = 6" in aside.text
    assert (aside.revision.aside, aside.revision.window, aside.revision.parent) == (True, "two", 1)
    assert "rails = 6" in store.return_to(id, 2, 3).text


def test_a_window_is_not_told_of_its_own_edits_as_of_anothers(store: JobStore, job: State) -> None:
    id = job.job.id  # noqa: A001
    edit(store, id, 1, rails(3))
    accepted = edit(store, id, 1, corner(2, 60))  # made before it saw what its first edit gave
    assert (accepted.state.revision.merged, accepted.merged_with) == (True, ())
    with pytest.raises(Clash, match=r"^this window itself \(set rails of fence; .*\) has changed rails"):
        edit(store, id, 1, rails(6))
    store.undo(id, 3)
    store.undo(id, 2)
    edit(store, id, 1, corner(0, 5), "two")
    assert edit(store, id, 1, corner(2, 60)).merged_with == ('move corner 1 of line "a"',)


def test_a_window_knows_its_own_edits_by_a_name_that_is_kept_otherwise(store: JobStore, job: State) -> None:
    id, window = job.job.id, "one\0" + 80 * "x"  # noqa: A001
    edit(store, id, 1, rails(3), window)
    assert edit(store, id, 1, corner(2, 60), window).merged_with == ()


def test_an_edit_sent_again_after_a_lost_answer_is_made_once(store: JobStore, job: State) -> None:
    id = job.job.id  # noqa: A001
    rock = {"kind": "add", "table": "rock", "values": {"line": "a", "at": "5 m", "depth": "0.5 m"}}
    edit(store, id, 1, rock)
    again = edit(store, id, 1, rock)
    assert (again.state.job.head, again.state.text.count("[[rock]]")) == (2, 1)
    other = edit(store, id, 1, rock, "two")  # another window means another hole
    assert other.state.text.count("[[rock]]") == 2


def test_undo_of_a_job_that_has_moved_is_refused(store: JobStore, job: State) -> None:
    edit(store, job.job.id, 1, rails(3))
    with pytest.raises(Moved, match="another window has changed the job since") as moved:
        store.undo(job.job.id, 1)
    assert moved.value.head == 2


def test_revisions_have_names_and_tell_what_changed(store: JobStore, job: State) -> None:
    id = job.job.id  # noqa: A001
    edit(store, id, 1, rails(3))
    edit(store, id, 2, corner(1, 70))
    assert store.name_revision(id, 2, " as agreed ").name == "as agreed"
    assert [one.name for one in store.history(id)] == ["", "as agreed", ""]
    assert store.name_revision(id, 2, "").name == ""
    assert [(one.item, one.key) for one in store.changes(id, 1, 3)] == [
        ('line "a"', "points"),
        ("fence", "rails"),
    ]


def test_delete_can_be_undone(store: JobStore, job: State) -> None:
    id = job.job.id  # noqa: A001
    store.delete(id)
    assert store.list_jobs() == []
    assert [row.id for row in store.list_jobs(deleted=True)] == [id]
    with pytest.raises(Missing, match='"Home" was deleted: restore it first'):
        edit(store, id, 1, rails(3))
    store.restore(id)
    assert edit(store, id, 1, rails(3)).state.revision.number == 2


def test_a_copy_has_the_files_and_a_history_of_its_own(store: JobStore, job: State) -> None:
    copy = store.copy_job(job.job.id, "Other", TEXT.replace("Home", "Other"))
    assert (copy.job.name, copy.files, copy.revision.number) == ("Other", job.files, 1)
    edit(store, copy.job.id, 1, rails(3))
    assert store.state(job.job.id).text == TEXT


def test_a_job_is_called_as_its_text_says(store: JobStore, job: State) -> None:
    id = job.job.id  # noqa: A001
    edit(store, id, 1, {"kind": "set", "path": ["job", "name"], "value": "Away"})
    assert store.list_jobs()[0].name == "Away"
    store.undo(id, 2)
    assert store.list_jobs()[0].name == "Home"


def test_what_is_not_there_is_said(store: JobStore, job: State) -> None:
    with pytest.raises(Missing, match="there is no such job"):
        store.state("0" * 16)
    with pytest.raises(Missing, match="there is no revision 9"):
        store.state(job.job.id, 9)
    with pytest.raises(Missing, match="there is no such file"):
        store.content("0" * 64)


def test_a_job_of_a_newer_version_is_one_sentence(store: JobStore, job: State) -> None:
    from sqlalchemy import text

    with store.engine.begin() as connection:
        connection.execute(text("UPDATE job SET format = 99, program = 'fencewright 9.9'"))
    with pytest.raises(NewerJob, match=r"was written by a newer fencewright \(fencewright 9.9\)"):
        store.state(job.job.id)


def test_windows_that_edit_at_once_lose_nothing(store: JobStore, job: State) -> None:
    """Four windows add posts on rock at their own stations, each on whatever revision it saw last."""
    id = job.job.id  # noqa: A001
    failed: list[BaseException] = []

    def window(number: int) -> None:
        base = 1
        try:
            for turn in range(5):
                record = {"kind": "met_rock", "line": "a", "at": f"{10 * number + turn} m", "depth": "0.5 m"}
                base = edit(store, id, base, record, f"w{number}").state.job.head
        except BaseException as error:
            failed.append(error)

    windows = [threading.Thread(target=window, args=(number,)) for number in range(4)]
    for one in windows:
        one.start()
    for one in windows:
        one.join()
    assert not failed
    text = store.state(id).text
    assert sorted(f"{10 * n + turn} m" for n in range(4) for turn in range(5)) == sorted(
        line.split('"')[1] for line in text.splitlines() if line.startswith("at = ")
    )
    assert [one.number for one in store.history(id)] == list(range(1, 22))


steps = st.lists(
    st.one_of(
        st.tuples(st.just("rails"), st.integers(1, 12)),
        st.tuples(st.just("corner"), st.integers(0, 2), st.integers(0, 99)),
        st.tuples(st.just("gate"), st.integers(0, 40)),
        st.tuples(st.just("undo")),
        st.tuples(st.just("redo")),
        st.tuples(st.just("restart")),
        st.tuples(st.just("back"), st.integers(1, 6)),
    ),
    max_size=14,
)


def record_of(step: tuple[Any, ...]) -> dict[str, Any]:
    if step[0] == "rails":
        return rails(step[1])
    if step[0] == "corner":
        return corner(step[1], step[2])
    return {"kind": "add", "table": "gate", "values": {"line": "a", "at": f"{step[1]} m", "opening": "3 m"}}


class Replay:
    """The same history kept as plain lists: what the store must agree with."""

    def __init__(self) -> None:
        self.texts, self.parents, self.redos, self.head = [TEXT], [0], [0], 1

    def add(self, text: str) -> None:
        self.texts.append(text)
        self.parents.append(self.head)
        self.redos.append(0)
        self.head = len(self.texts)

    def step(self, step: tuple[Any, ...]) -> None:
        here = self.head - 1
        if step[0] == "undo" and self.parents[here]:
            self.redos[self.parents[here] - 1] = self.head
            self.head = self.parents[here]
        elif step[0] == "redo" and self.redos[here]:
            self.head = self.redos[here]
        elif step[0] == "back" and step[1] <= len(self.texts):
            self.add(self.texts[step[1] - 1])
        elif step[0] in ("rails", "corner", "gate"):
            self.add(apply_edit(self.texts[here], record_of(step)).text)


def play(store: JobStore, id: str, step: tuple[Any, ...]) -> None:  # noqa: A002
    head = store.state(id).job.head
    try:
        if step[0] == "undo":
            store.undo(id, head)
        elif step[0] == "redo":
            store.redo(id, head)
        elif step[0] == "back":
            store.return_to(id, head, step[1])
        elif step[0] != "restart":
            edit(store, id, head, record_of(step))
    except (Moved, Missing):
        pass


def test_any_edits_undos_redos_and_restarts_equal_a_replay(new_url: Callable[[], str]) -> None:
    url = new_url()  # one database for all examples: each has a job of its own

    @settings(max_examples=40 if url.startswith("sqlite") else 25)
    @given(steps)
    def agrees(played: list[tuple[Any, ...]]) -> None:
        store = open_store(url)
        id = store.new_job("Home", TEXT).job.id  # noqa: A001
        replay = Replay()
        for step in played:
            if step[0] == "restart":
                store.close()
                store = open_store(url)
            play(store, id, step)
            replay.step(step)
            state = store.state(id)
            assert (state.job.head, state.text) == (replay.head, replay.texts[replay.head - 1])
        assert [store.state(id, number + 1).text for number in range(len(replay.texts))] == replay.texts
        store.close()

    agrees()


def test_labels_are_json(store: JobStore, job: State) -> None:
    """What a person types stays text, whatever it holds."""
    odd = 'x" \\ </script> \u2028 é'
    edit(store, job.job.id, 1, {"kind": "set", "path": ["job", "name"], "value": odd})
    row = store.list_jobs()[0]
    assert row.name == odd.strip()
    assert json.loads(json.dumps(row.name)) == row.name
