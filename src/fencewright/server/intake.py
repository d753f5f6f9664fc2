"""What is uploaded: names that stay in their folder, bounded sizes, archives that do not swell."""

import io
import zipfile
import zlib
from collections.abc import Mapping, Sequence
from pathlib import PurePosixPath

from fencewright.desk.warm_reading import is_plain_path
from fencewright.server.errors import Refused

LARGEST_UPLOAD_BYTES = 200_000_000
LARGEST_SET_BYTES = 500_000_000
MOST_FILES = 200
_MOST_SWELLING = 100  # times that a packed file may grow; text packs to a tenth or so
_HEAD_BYTES = 10_000
_WAYS_TO_PACK = (
    zipfile.ZIP_STORED,
    zipfile.ZIP_DEFLATED,
)  # the others take as much memory as the archive says
KINDS = (
    ".toml", ".geojson", ".json", ".gpx", ".kml", ".shp", ".shx", ".dbf", ".prj", ".cpg", ".gpkg", ".dxf", ".csv",
    ".txt", ".tif", ".tiff", ".tfw", ".asc", ".las", ".laz", ".png", ".pgw", ".jpg", ".jpeg", ".jgw", ".wld", ".svg",
    ".pngw", ".jpgw", ".tifw", ".tsv", ".xlsx", ".xlsm", ".xml", ".landxml",
)  # fmt: skip


def take_files(given: Mapping[str, bytes]) -> dict[str, bytes]:
    """Take what was uploaded: files as they are, archives unpacked.

    Parameters
    ----------
    given : mapping of str to bytes
        Content by the name that the browser gave.

    Returns
    -------
    dict
        Content by plain path.

    Raises
    ------
    Refused
        A name that leaves its folder, a kind that no job holds, too many or too large files, an archive that is
        damaged or expands beyond reason.
    """
    taken: dict[str, bytes] = {}
    for name, content in given.items():
        if name.lower().endswith(".zip"):
            room_bytes = LARGEST_SET_BYTES - sum(len(one) for one in taken.values())
            unpacked = unpack(content, name, room_bytes)
            wanted = {
                path: one
                for path, one in unpacked.items()
                if _is_kind(path) and not (path.lower().endswith(".xml") and _is_description(one))
            }
            if not wanted:
                raise Refused("input", "it holds no file of a kind that a job holds", file=name)
            _check_names_apart([*taken, *wanted])
            taken |= wanted
        elif name.lower().endswith(".kmz"):
            raise Refused("input", "unpack it first, and give the .kml file that it holds", file=name)
        else:
            _check_name(name)
            if not _is_kind(name):
                kinds = ", ".join(KINDS)
                raise Refused("input", f"a job holds no file of this kind: give one of {kinds}", file=name)
            taken[name] = content
    _check_sizes(taken)
    return taken


def _check_name(name: str) -> None:
    if not is_plain_path(name):
        raise Refused(
            "input", "this name leaves its folder or has odd characters: rename the file", file=name
        )


def _is_kind(name: str) -> bool:
    return PurePosixPath(name).suffix.lower() in KINDS


def _is_description(content: bytes) -> bool:
    """Tell XML that describes the files beside it, as archives of terrain and Shapefiles hold it, from a survey."""
    return b"LandXML" not in content[:_HEAD_BYTES].replace(b"\0", b"")


def _check_sizes(files: Mapping[str, bytes]) -> None:
    if len(files) > MOST_FILES:
        raise Refused("too-large", f"{len(files)} files are too many for one job: give at most {MOST_FILES}")
    total = sum(len(content) for content in files.values())
    if total > LARGEST_SET_BYTES:
        raise Refused(
            "too-large",
            f"{total / 1e6:,.0f} MB are too much for one job: give {LARGEST_SET_BYTES / 1e6:,.0f}",
        )
    _check_names_apart(list(files))


def _check_names_apart(names: Sequence[str]) -> None:
    """Refuse two files of one name, whatever the case of its letters, and a file that is the folder of another."""
    lower = [name.lower() for name in names]
    if len(set(lower)) != len(lower):
        raise Refused("input", "two files have one name: rename one of them")
    folders = {str(folder) for name in lower for folder in PurePosixPath(name).parents}
    both = next((name for name in names if name.lower() in folders), "")
    if both:
        raise Refused("input", "it is the name of a file and of a folder: rename one of them", file=both)


def unpack(content: bytes, name: str, room_bytes: int = LARGEST_SET_BYTES) -> dict[str, bytes]:
    """Unpack an archive in memory, within bounds; see `take_files`. One folder around everything is left out."""
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            infos = [info for info in archive.infolist() if not info.is_dir()]
            wanted = [info for info in infos if not _is_litter(info.filename)]
            _check_archive(wanted, name, room_bytes)
            files = {info.filename: _member(archive, info, name) for info in wanted}
    except (
        zipfile.BadZipFile,
        RuntimeError,
        EOFError,
        OSError,
        ValueError,
        OverflowError,
        zlib.error,
    ) as error:
        raise Refused("input", "the archive is damaged or locked: pack it again", file=name) from error
    return _unwrapped(files)


def _check_archive(wanted: list[zipfile.ZipInfo], name: str, room_bytes: int) -> None:
    if len(wanted) > MOST_FILES:
        raise Refused("too-large", f"it holds {len(wanted)} files: give at most {MOST_FILES}", file=name)
    if sum(info.file_size for info in wanted) > room_bytes:
        raise Refused("too-large", "unpacked it is too large for one job", file=name)
    for info in wanted:
        if info.compress_type not in _WAYS_TO_PACK:
            raise Refused("input", "it is packed in an unusual way: pack it again as a plain zip", file=name)
        if info.file_size > 1_000_000 and info.file_size > _MOST_SWELLING * max(info.compress_size, 1):
            raise Refused("too-large", "a file in it expands beyond reason: give it unpacked", file=name)
        if (info.external_attr >> 16) & 0o170000 == 0o120000:
            raise Refused("input", "it holds a link: give the file itself", file=info.filename)
        _check_name(info.filename)


def _member(archive: zipfile.ZipFile, info: zipfile.ZipInfo, name: str) -> bytes:
    """Read one file of an archive, never more than it said."""
    with archive.open(info) as stream:
        content = stream.read(info.file_size + 1)
    if len(content) > info.file_size:
        raise Refused("too-large", "a file in it is larger than the archive says", file=name)
    return content


def _is_litter(path: str) -> bool:
    """Tell what systems leave in archives unasked."""
    return path.startswith("__MACOSX/") or PurePosixPath(path).name in (".DS_Store", "Thumbs.db")


def _unwrapped(files: Mapping[str, bytes]) -> dict[str, bytes]:
    heads = {name.split("/", 1)[0] for name in files}
    wrapped = len(heads) == 1 and all("/" in name for name in files)
    return {name.split("/", 1)[1] if wrapped else name: content for name, content in files.items()}
