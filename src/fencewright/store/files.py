"""Write a set of files whole or not at all, with a manifest that tells a whole set from a mixed one."""

import errno
import hashlib
import json
import os
import secrets
from collections.abc import Collection, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

from fencewright.findings import InputError, InternalFault

MANIFEST = "manifest.json"
_FULL = {errno.ENOSPC, errno.EDQUOT}
_DENIED = {errno.EACCES, errno.EPERM, errno.EROFS}


def write_whole(
    folder: Path,
    files: Mapping[str, bytes],
    about: Mapping[str, Any],
    outdated: Collection[str] = (),
) -> dict[str, Any]:
    """Write all files into a folder, the manifest last, beside what is already there of the same design.

    Parameters
    ----------
    folder : Path
        Where; made if it is not there.
    files : mapping of str to bytes
        Content by plain file name, `manifest.json` apart.
    about : mapping
        What the manifest says beside its list of files (program, version, digest, ...). An earlier set stays
        in the folder, and in the manifest, where it has the same `version` and `digest`; else it goes.
    outdated : collection of str, optional
        Files of an earlier set that are drawn from these ones: they go where any of these changes.

    Returns
    -------
    dict
        The manifest as written.

    Raises
    ------
    InputError
        The folder is a file, or part of its path is.
    InternalFault
        No permission, disk full, or another fault of the disk. Earlier results stand as they were.
    ValueError
        A name is no plain file name, or two differ by case alone.

    Notes
    -----
    First every file is written under a temporary name; only when all are on the disk are they renamed.
    The old manifest goes first and the new one comes last, so that a set broken off between has none.
    A rename that fails puts the earlier files back. Nothing is taken from the clock: the same files give
    the same bytes.
    """
    _check_names(files)
    earlier = _still_true(folder, files, about, outdated)
    manifest = _manifest(files, about, earlier)
    staged: dict[str, Path] = {}
    try:
        _make_folder(folder)
        stale = [name for name in _superseded(folder, files) if name not in earlier]
        for name, content in {**files, MANIFEST: _manifest_bytes(manifest)}.items():
            staged[name] = _stage(folder, name, content)
        _swap(folder, staged, stale)
    except OSError as error:
        raise _fault(folder, error) from error
    finally:
        for part in staged.values():
            part.unlink(missing_ok=True)
    return manifest


def manifest_text(files: Mapping[str, bytes], about: Mapping[str, Any]) -> bytes:
    """Give the manifest that `write_whole` would write with these files."""
    return _manifest_bytes(_manifest(files, about, {}))


def check_manifest(folder: Path) -> list[str]:
    """Tell what keeps a folder from being one whole set of results.

    Parameters
    ----------
    folder : Path
        A folder that `write_whole` wrote.

    Returns
    -------
    list of str
        One sentence a fault; empty where every file is there and as the manifest says.
    """
    rows = _listed(folder)
    if rows is None:
        return [f"{folder} has no readable {MANIFEST}: the set is not whole; run the design again"]
    faults = []
    for name, size, digest in rows:
        try:
            content = (folder / name).read_bytes()
        except OSError:
            faults.append(f"{name} is missing or cannot be read: run the design again")
            continue
        if len(content) != size or hashlib.sha256(content).hexdigest() != digest:
            faults.append(
                f"{name} is not the file that the manifest lists: it was changed, or is from another run"
            )
    return faults


def _check_names(files: Mapping[str, bytes]) -> None:
    seen = {MANIFEST}
    for name in files:
        plain = (
            name not in {"", ".", ".."} and not set(name) & set('/\\:*?"<>|\0') and not name.startswith(".")
        )
        if not plain or name.lower() in seen:
            raise ValueError(f"{name!r} cannot be the name of a result file")
        seen.add(name.lower())


def manifest_of(folder: Path) -> dict[str, Any] | None:
    """Read the manifest of a folder of results; None where there is none that can be read."""
    try:
        manifest = json.loads((folder / MANIFEST).read_bytes())
    except (OSError, ValueError):
        return None
    return manifest if isinstance(manifest, dict) else None


def _still_true(
    folder: Path, files: Mapping[str, bytes], about: Mapping[str, Any], outdated: Collection[str]
) -> dict[str, tuple[int, str]]:
    """Size and digest, by name, of what an earlier set holds of the same design and these files leave true."""
    manifest = manifest_of(folder)
    same = ((manifest or {}).get(key) == about.get(key, ...) for key in ("version", "digest"))
    if not all(same):
        return {}
    rows = {name: (size, digest) for name, size, digest in _listed(folder) or []}
    changed = any(
        name not in rows or rows[name][1] != hashlib.sha256(content).hexdigest()
        for name, content in files.items()
    )
    return {
        name: row
        for name, row in rows.items()
        if name not in files and not (changed and name in outdated) and _is_intact(folder / name, *row)
    }


def _is_intact(path: Path, size: int, digest: str) -> bool:
    """Whether a file is still as it was written."""
    try:
        return path.stat().st_size == size and hashlib.sha256(path.read_bytes()).hexdigest() == digest
    except OSError:
        return False


def _manifest(
    files: Mapping[str, bytes], about: Mapping[str, Any], earlier: Mapping[str, tuple[int, str]]
) -> dict[str, Any]:
    new = {name: (len(content), hashlib.sha256(content).hexdigest()) for name, content in files.items()}
    rows = [
        {"name": name, "bytes": size, "sha256": digest}
        for name, (size, digest) in sorted({**earlier, **new}.items())
    ]
    return {"format": "fencewright manifest 1", **about, "files": rows}


def _manifest_bytes(manifest: Mapping[str, Any]) -> bytes:
    return (json.dumps(manifest, indent=1) + "\n").encode("ascii")


def _listed(folder: Path) -> list[tuple[str, int, str]] | None:
    """Name, size and digest of each file that a folder's manifest lists; None where there is none."""
    try:
        manifest = manifest_of(folder) or {}
        rows = [(str(row["name"]), int(row["bytes"]), str(row["sha256"])) for row in manifest["files"]]
    except (ValueError, TypeError, KeyError):
        return None
    return None if any(Path(name).name != name for name, _, _ in rows) else rows


def _superseded(folder: Path, files: Mapping[str, bytes]) -> list[str]:
    """Files of the earlier set that the new one has not, unless a person has changed them since."""
    return [
        name
        for name, size, digest in _listed(folder) or []
        if name not in files and _is_intact(folder / name, size, digest)
    ]


def _make_folder(folder: Path) -> None:
    if folder.exists() and not folder.is_dir():
        raise InputError("is a file: name a folder for the results", file=str(folder))
    folder.mkdir(parents=True, exist_ok=True)


def _stage(folder: Path, name: str, content: bytes) -> Path:
    """Write content under a temporary name beside its place."""
    if (folder / name).is_dir():
        raise InputError("is a folder where a result file must go: move it away", file=str(folder / name))
    part = folder / f".{name}.{secrets.token_hex(4)}.part"
    try:
        with part.open("xb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
    except BaseException:
        part.unlink(missing_ok=True)
        raise
    return part


def _swap(folder: Path, staged: Mapping[str, Path], stale: list[str]) -> None:
    """Move the earlier set aside, its manifest first, and the new one in, its manifest last."""
    moved: list[tuple[Path, Path]] = []
    placed: list[Path] = []
    try:
        for name in [MANIFEST, *(name for name in staged if name != MANIFEST), *stale]:
            earlier = folder / name
            if earlier.exists():
                earlier.replace(folder / f".{name}.old")
                moved.append((folder / f".{name}.old", earlier))
            if name in staged and name != MANIFEST:
                staged[name].replace(earlier)
                placed.append(earlier)
        staged[MANIFEST].replace(folder / MANIFEST)
    except BaseException as error:
        _put_back(folder, moved, placed, error)
        raise
    for name in [*staged, *stale]:  # also what a run that was killed left behind
        with suppress(OSError):
            (folder / f".{name}.old").unlink(missing_ok=True)


def _put_back(folder: Path, moved: list[tuple[Path, Path]], placed: list[Path], cause: BaseException) -> None:
    """Undo a swap that broke off; the earlier manifest comes back last."""
    try:
        for target in placed:
            target.unlink(missing_ok=True)
        for old, earlier in reversed(moved):
            old.replace(earlier)
    except OSError:
        raise InternalFault(
            f"{folder}: a file could not be replaced ({cause}): the set there is not whole"
        ) from cause


def _fault(folder: Path, error: OSError) -> Exception:
    """Say a fault of the disk in one sentence."""
    place = str(error.filename or folder)
    if error.errno in _FULL:
        return InternalFault(
            f"{folder}: the disk is full: earlier results stand as they were; make room and run again"
        )
    if error.errno in _DENIED:
        return InternalFault(f"{place}: no permission to write there: choose another folder with --out")
    if error.errno in {errno.ENOTDIR, errno.EEXIST, errno.ENAMETOOLONG}:
        return InputError(
            "part of this path is a file, or it is too long: name another folder", file=str(folder)
        )
    return InternalFault(
        f"{place}: the disk refused it ({error.strerror or error}): earlier results stand as they were"
    )


def write_files(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write files into a folder without a manifest, each whole under a temporary name first.

    Raises
    ------
    InputError, InternalFault
        As `write_whole`; a fault leaves no part behind.
    """
    staged: dict[str, Path] = {}
    try:
        _make_folder(folder)
        for name, content in files.items():
            staged[name] = _stage(folder, name, content)
        for name, part in staged.items():
            part.replace(folder / name)
    except OSError as error:
        raise _fault(folder, error) from error
    finally:
        for part in staged.values():
            part.unlink(missing_ok=True)
