"""An edit whose answer was lost is sent again as it was: it is accepted once, merged, clashed or with files."""

from typing import Any

import pytest

from fencewright.edits.applying import apply_edit
from fencewright.store.jobs import JobStore
from fencewright.store.records import Accepted, Clash, Made, State

TEXT = (
    '[job]\nname = "Home"\n[[line]]\nname = "a"\n'
    'points = [["0 m", "0 m"], ["50 m", "0 m"], ["50 m", "50 m"]]\n[fence]\nrails = 4\n'
)
ROCK = {"kind": "add", "table": "rock", "values": {"line": "a", "at": "5 m", "depth": "0.5 m"}}


def edit(store: JobStore, id: str, base: int, record: dict[str, Any], window: str = "one") -> Accepted:  # noqa: A002
    made = apply_edit(store.state(id, base).text, record)
    return store.accept(id, Made(base, made.text, made.label, made.asked.job.name, window))


def rails(number: int) -> dict[str, Any]:
    return {"kind": "set", "path": ["fence", "rails"], "value": number}


@pytest.fixture
def job(store: JobStore) -> State:
    return store.new_job("Home", TEXT, {"walk.gpx": b"<gpx/>"}, window="one")


def test_a_merged_edit_sent_again_is_made_once(store: JobStore, job: State) -> None:
    id = job.job.id  # noqa: A001
    edit(store, id, 1, rails(3), "two")
    first = edit(store, id, 1, ROCK)
    again = edit(store, id, 1, ROCK)
    assert (first.state.revision.merged, first.state.job.head) == (True, 3)
    assert (again.state.job.head, again.state.job.latest, again.state.text.count("[[rock]]")) == (3, 3, 1)
    assert again.merged_with == first.merged_with == ("set rails of fence",)


def test_a_merged_edit_sent_again_after_yet_another_edit_is_made_once(store: JobStore, job: State) -> None:
    id = job.job.id  # noqa: A001
    edit(store, id, 1, rails(3), "two")
    edit(store, id, 1, ROCK)
    edit(store, id, 3, rails(6), "two")
    again = edit(store, id, 1, ROCK)
    assert (again.state.job.head, again.state.text.count("[[rock]]")) == (4, 1)
    assert "rails = 6" in again.state.text
    assert again.merged_with == ("set rails of fence",)


def test_the_same_edit_by_another_window_is_another_edit(store: JobStore, job: State) -> None:
    id = job.job.id  # noqa: A001
    edit(store, id, 1, rails(3), "two")
    edit(store, id, 1, ROCK, "one")
    assert edit(store, id, 1, ROCK, "three").state.text.count("[[rock]]") == 2


def test_another_edit_of_the_window_on_the_old_revision_is_merged_as_well(
    store: JobStore, job: State
) -> None:
    id = job.job.id  # noqa: A001
    edit(store, id, 1, rails(3), "two")
    edit(store, id, 1, ROCK)
    other = {**ROCK, "values": {**ROCK["values"], "at": "9 m"}}  # type: ignore[dict-item]
    assert edit(store, id, 1, other).state.text.count("[[rock]]") == 2


def test_a_clash_sent_again_is_kept_aside_once(store: JobStore, job: State) -> None:
    id = job.job.id  # noqa: A001
    edit(store, id, 1, rails(3), "two")
    kept = []
    for _ in range(2):
        with pytest.raises(Clash) as clash:
            edit(store, id, 1, rails(6))
        kept.append((clash.value.kept, clash.value.head, str(clash.value)))
    assert kept[0] == kept[1]
    assert kept[0][:2] == (3, 2)
    assert len(store.history(id)) == 3


def test_files_given_again_are_given_once_and_other_files_are_not_taken_for_them(
    store: JobStore, job: State
) -> None:
    id = job.job.id  # noqa: A001

    def give(name: str) -> State:
        return store.accept(id, Made(1, TEXT, f"give {name}", "Home", "one", {name: name.encode()})).state

    give("a.csv")
    assert give("a.csv").job.head == 2
    edit(store, id, 2, rails(3), "two")
    assert give("a.csv").job.head == 3
    other = give("b.csv")  # the same text, on the same revision, by the same window
    assert sorted(other.files) == ["a.csv", "b.csv", "walk.gpx"]
    assert give("b.csv").job.head == other.job.head
    assert "rails = 3" in other.text


def test_an_edit_that_was_undone_since_is_made_again(store: JobStore, job: State) -> None:
    id = job.job.id  # noqa: A001
    edit(store, id, 1, ROCK)
    store.undo(id, 2)
    edit(store, id, 1, rails(3), "two")
    again = edit(store, id, 1, ROCK)
    assert (again.state.text.count("[[rock]]"), again.state.revision.merged) == (1, True)
