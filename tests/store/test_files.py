"""A set of files is written whole or not at all."""

import errno
import os
from pathlib import Path

import pytest

from fencewright.findings import InputError, InternalFault
from fencewright.store.files import MANIFEST, _fault, check_manifest, write_whole

EARLIER = {"a.txt": b"earlier a", "b.txt": b"earlier b", "gone.txt": b"only earlier"}
LATER = {"a.txt": b"later a", "b.txt": b"later b", "c.txt": b"later c"}
ABOUT = {"program": "fencewright", "digest": "0" * 64}


def contents(folder: Path) -> dict[str, bytes]:
    """Every file of a folder, hidden ones too."""
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def break_replace_at(monkeypatch: pytest.MonkeyPatch, count: int, error: BaseException) -> list[Path]:
    """Let the rename of number `count` fail."""
    real, calls = Path.replace, []

    def broken(self: Path, target: Path) -> Path:
        calls.append(self)
        if len(calls) == count:
            raise error
        return real(self, target)

    monkeypatch.setattr(Path, "replace", broken)
    return calls


def test_writes_every_file_and_the_manifest_last(tmp_path: Path) -> None:
    manifest = write_whole(tmp_path / "new" / "out", LATER, ABOUT)
    folder = tmp_path / "new" / "out"
    assert set(contents(folder)) == {*LATER, MANIFEST}
    assert [row["name"] for row in manifest["files"]] == sorted(LATER)
    assert [row["bytes"] for row in manifest["files"]] == [7, 7, 7]
    assert manifest["digest"] == ABOUT["digest"]
    assert check_manifest(folder) == []


def test_same_files_give_the_same_bytes(tmp_path: Path) -> None:
    write_whole(tmp_path / "one", LATER, ABOUT)
    write_whole(tmp_path / "two", dict(reversed(LATER.items())), ABOUT)
    assert contents(tmp_path / "one") == contents(tmp_path / "two")


def test_a_new_set_takes_the_place_of_the_earlier_one(tmp_path: Path) -> None:
    write_whole(tmp_path, EARLIER, ABOUT)
    (tmp_path / "mine.txt").write_text("a person's own")
    write_whole(tmp_path, LATER, ABOUT)
    assert set(contents(tmp_path)) == {*LATER, MANIFEST, "mine.txt"}
    assert (tmp_path / "a.txt").read_bytes() == b"later a"


def test_a_superseded_file_that_a_person_changed_is_kept(tmp_path: Path) -> None:
    write_whole(tmp_path, EARLIER, ABOUT)
    (tmp_path / "gone.txt").write_bytes(b"kept by me!!")
    write_whole(tmp_path, LATER, ABOUT)
    assert (tmp_path / "gone.txt").read_bytes() == b"kept by me!!"


@pytest.mark.parametrize("count", range(1, 9))
def test_a_rename_that_fails_puts_the_earlier_set_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, count: int
) -> None:
    write_whole(tmp_path, EARLIER, ABOUT)
    before = contents(tmp_path)
    calls = break_replace_at(
        monkeypatch, count, PermissionError(errno.EACCES, "open elsewhere", "order.xlsx")
    )
    with pytest.raises(InternalFault, match="no permission to write there"):
        write_whole(tmp_path, LATER, ABOUT)
    assert len(calls) >= count
    assert contents(tmp_path) == before
    assert check_manifest(tmp_path) == []


def test_the_swap_has_eight_renames(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Four earlier files aside and four in: the cases above break every one."""
    write_whole(tmp_path, EARLIER, ABOUT)
    calls = break_replace_at(monkeypatch, 0, KeyboardInterrupt())
    write_whole(tmp_path, LATER, ABOUT)
    assert len(calls) == 8


class Killed(BaseException):
    """The process ends here and nothing is cleaned up."""


@pytest.mark.parametrize("count", range(1, 9))
def test_a_process_killed_between_renames_never_leaves_a_set_that_reads_as_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, count: int
) -> None:
    write_whole(tmp_path, EARLIER, ABOUT)
    monkeypatch.setattr("fencewright.store.files._put_back", lambda *_: None)
    break_replace_at(monkeypatch, count, Killed())
    with pytest.raises(Killed):
        write_whole(tmp_path, LATER, ABOUT)
    if count == 1:  # nothing has moved yet
        assert check_manifest(tmp_path) == []
    else:
        assert check_manifest(tmp_path) != []
    monkeypatch.undo()
    write_whole(tmp_path, LATER, ABOUT)
    assert check_manifest(tmp_path) == []
    assert set(contents(tmp_path)) - {"gone.txt", ".gone.txt.old"} == {*LATER, MANIFEST}


def test_a_full_disk_leaves_the_earlier_set(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_whole(tmp_path, EARLIER, ABOUT)
    before = contents(tmp_path)
    synced = []

    def full(handle: int) -> None:
        synced.append(handle)
        if len(synced) == 3:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(InternalFault, match="the disk is full"):
        write_whole(tmp_path, LATER, ABOUT)
    assert contents(tmp_path) == before


def test_a_real_full_disk_is_said_so(tmp_path: Path) -> None:
    full = Path("/dev/full")
    if not full.exists():
        pytest.skip("no /dev/full on this system")
    stream = full.open("wb", buffering=0)
    with pytest.raises(OSError, match="No space") as caught:
        stream.write(b"x")
    stream.close()
    assert "the disk is full" in str(_fault(tmp_path, caught.value))


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
def test_a_read_only_folder_is_a_fault_of_the_disk(tmp_path: Path) -> None:
    tmp_path.chmod(0o555)
    with pytest.raises(InternalFault, match="no permission"):
        write_whole(tmp_path / "out", LATER, ABOUT)
    tmp_path.chmod(0o755)


def test_no_permission_is_said_in_one_sentence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def denied(self: Path, mode: str = "r") -> None:
        raise PermissionError(errno.EACCES, "Permission denied", str(self))

    monkeypatch.setattr(Path, "open", denied)
    with pytest.raises(
        InternalFault, match=r"no permission to write there: choose another folder with --out$"
    ):
        write_whole(tmp_path, LATER, ABOUT)
    assert contents(tmp_path) == {}


def test_a_file_in_place_of_the_folder_is_bad_input(tmp_path: Path) -> None:
    (tmp_path / "out").write_bytes(b"mine")
    with pytest.raises(InputError, match="is a file: name a folder"):
        write_whole(tmp_path / "out", LATER, ABOUT)
    with pytest.raises(InputError, match="part of this path is a file"):
        write_whole(tmp_path / "out" / "deeper", LATER, ABOUT)
    assert (tmp_path / "out").read_bytes() == b"mine"


def test_a_folder_in_place_of_a_file_is_bad_input(tmp_path: Path) -> None:
    (tmp_path / "b.txt").mkdir()
    with pytest.raises(InputError, match="is a folder where a result file must go"):
        write_whole(tmp_path, LATER, ABOUT)
    assert {path.name for path in tmp_path.iterdir()} == {"b.txt"}


@pytest.mark.parametrize(
    "name", ["", "..", "a/b", "a\\b", "manifest.json", "MANIFEST.json", ".hidden", "a\0b", "c:d"]
)
def test_only_plain_names_are_written(tmp_path: Path, name: str) -> None:
    with pytest.raises(ValueError, match="cannot be the name"):
        write_whole(tmp_path, {name: b""}, ABOUT)


def test_names_that_differ_by_case_alone_collide(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match=r"'A\.txt' cannot be"):
        write_whole(tmp_path, {"a.txt": b"1", "A.txt": b"2"}, ABOUT)
    assert contents(tmp_path) == {}


@pytest.mark.parametrize(
    "bad", [b"", b"{", b"[]", b"\xff\xfe", b'{"files": [{"name": "../up"}]}', b'{"files": 3}']
)
def test_a_broken_manifest_is_no_whole_set(tmp_path: Path, bad: bytes) -> None:
    write_whole(tmp_path, LATER, ABOUT)
    (tmp_path / MANIFEST).write_bytes(bad)
    (fault,) = check_manifest(tmp_path)
    assert "no readable manifest.json" in fault


def test_each_changed_or_missing_file_is_named(tmp_path: Path) -> None:
    write_whole(tmp_path, LATER, ABOUT)
    (tmp_path / "a.txt").write_bytes(b"LATER A")
    (tmp_path / "b.txt").unlink()
    (tmp_path / "c.txt").write_bytes(b"cut sho")
    assert [fault.split()[0] for fault in check_manifest(tmp_path)] == ["a.txt", "b.txt", "c.txt"]


def test_files_of_the_same_design_stand_beside_each_other(tmp_path: Path) -> None:
    about = {"version": "1", "digest": "d1"}
    write_whole(tmp_path, {"design.json": b"design", "plan.svg": b"plan"}, about)
    write_whole(tmp_path, {"price.json": b"price", "plan.svg": b"plan 2"}, about)
    assert {path.name for path in tmp_path.iterdir()} == {
        "design.json",
        "plan.svg",
        "price.json",
        "manifest.json",
    }
    assert check_manifest(tmp_path) == []


def test_files_of_another_design_or_version_go(tmp_path: Path) -> None:
    write_whole(tmp_path, {"design.json": b"design"}, {"version": "1", "digest": "d1"})
    write_whole(tmp_path, {"price.json": b"price"}, {"version": "1", "digest": "d2"})
    assert {path.name for path in tmp_path.iterdir()} == {"price.json", "manifest.json"}
    write_whole(tmp_path, {"price.csv": b"price"}, {"version": "2", "digest": "d2"})
    assert {path.name for path in tmp_path.iterdir()} == {"price.csv", "manifest.json"}


def test_what_is_drawn_from_a_file_goes_when_that_file_changes(tmp_path: Path) -> None:
    about = {"version": "1", "digest": "d1"}
    write_whole(tmp_path, {"price.json": b"price", "quote.pdf": b"quote", "order.csv": b"order"}, about)
    write_whole(tmp_path, {"price.json": b"price"}, about, outdated=["quote.pdf"])
    assert (tmp_path / "quote.pdf").is_file()
    write_whole(tmp_path, {"price.json": b"dearer"}, about, outdated=["quote.pdf"])
    assert not (tmp_path / "quote.pdf").exists()
    assert (tmp_path / "order.csv").is_file()
    assert check_manifest(tmp_path) == []


def test_a_file_that_a_person_changed_is_no_longer_listed(tmp_path: Path) -> None:
    about = {"version": "1", "digest": "d1"}
    write_whole(tmp_path, {"design.json": b"design", "plan.svg": b"plan"}, about)
    (tmp_path / "plan.svg").write_bytes(b"my own notes")
    write_whole(tmp_path, {"price.json": b"price"}, about)
    assert (tmp_path / "plan.svg").read_bytes() == b"my own notes"
    assert check_manifest(tmp_path) == []
