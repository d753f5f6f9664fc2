"""A job made of what was uploaded: a job file with its site files, or site files alone."""

import re
import tempfile
from collections.abc import Mapping
from importlib import resources
from pathlib import Path, PurePosixPath
from typing import Any

from fencewright.desk.warm_reading import named_files, refuse_strange_files
from fencewright.edits.applying import apply_edit
from fencewright.exchange.csv import is_line_by_default
from fencewright.exchange.ground_files import KINDS as GROUND_KINDS
from fencewright.exchange.ground_files import LAND_KINDS, check_ground, is_meant_as_ground
from fencewright.exchange.picture_file import KINDS as PICTURE_KINDS
from fencewright.exchange.picture_file import look_at_raster
from fencewright.exchange.price_book import read_price_book
from fencewright.exchange.records import LINE, POINT, POLYGON
from fencewright.exchange.site_files import read_site_file
from fencewright.exchange.world_file import KINDS as WORLD_KINDS
from fencewright.findings import InputError
from fencewright.job.reading import decode_job, parse_job
from fencewright.server.errors import Refused
from fencewright.server.models import FileGiven, LayerInfo

SITE_KINDS = (".geojson", ".json", ".gpx", ".kml", ".shp", ".gpkg", ".dxf", ".csv", *LAND_KINDS)
_ONLY_GROUND = (".asc", ".las", ".laz")
PRICE_BOOK = "it is a price book: give it to the job under Price"
_WITH_SHAPEFILE = (".shx", ".dbf", ".cpg", ".prj")
_MARKS = b"\xef\xbb\xbf\xff\xfe"  # of encodings, at the start of a text
_EMPTY = '[job]\nname = "New job"\nsheets = "us"\n\n[site]\ncrs = "local"\n\n[fence]\nrails = 4\n'


def new_job_text(name: str, sheets: str, *, example: bool = False) -> str:
    """Give the text of a new job: nothing drawn yet, or the commented example of `fencewright new`."""
    packaged = resources.files("fencewright").joinpath("data").joinpath("new-job.toml")
    text = packaged.read_text("utf-8").replace("#:schema ./job.schema.json\n", "") if example else _EMPTY
    for key, value in (("name", name), ("sheets", sheets)):
        text = apply_edit(text, {"kind": "set", "path": ["job", key], "value": value}).text
    return text


def job_from_upload(files: Mapping[str, bytes]) -> tuple[str, str, dict[str, bytes]]:
    """Make a job of uploaded files.

    Parameters
    ----------
    files : mapping of str to bytes
        From `take_files`.

    Returns
    -------
    name : str
        Of the job.
    text : str
        Its job file: the one that was uploaded, or one made for the site files.
    kept : dict
        The files that it names, and those of the same stem (a shapefile's parts).

    Raises
    ------
    InputError
        No job can be made of it.
    """
    jobs = [name for name in files if PurePosixPath(name).suffix.lower() == ".toml" and _is_job(files[name])]
    if len(jobs) > 1:
        raise Refused("input", f"these are {len(jobs)} job files: import them one by one", file=jobs[1])
    if not jobs:
        return _job_of_site_files(files)
    text = decode_job(files[jobs[0]], jobs[0])
    asked = parse_job(text, jobs[0])
    folder = PurePosixPath(jobs[0]).parent
    kept = {name: content for name, content in files.items() if name != jobs[0]}
    if str(folder) != ".":  # the job lies in a folder of the archive: its files are named from there
        kept = {
            str(PurePosixPath(name).relative_to(folder)): content
            for name, content in kept.items()
            if PurePosixPath(name).is_relative_to(folder)
        }
    with tempfile.TemporaryDirectory(prefix="fencewright-") as home:
        lay_out_files(Path(home), kept)
        for name, item, field in named_files(asked):
            if name not in kept:
                raise InputError(
                    "the job names this file: give it together with the job file, or an archive of both",
                    file=name, item=item, field=field,
                )  # fmt: skip
        refuse_strange_files(asked, Path(home))
    stems = {PurePosixPath(name).with_suffix("") for name, _, _ in named_files(asked)}
    return (
        asked.job.name,
        text,
        {name: content for name, content in kept.items() if PurePosixPath(name).with_suffix("") in stems},
    )


def _is_job(content: bytes) -> bool:
    """Tell a job file from a data sheet of the catalogue or a price book, in whatever encoding it was saved."""
    return (
        re.search(rb"(?m)^\s*\[+\s*(job|line|fence)\s*\]", content.replace(b"\0", b"").lstrip(_MARKS))
        is not None
    )


def _job_of_site_files(files: Mapping[str, bytes]) -> tuple[str, str, dict[str, bytes]]:
    """Make a job of site files: a line for each line that they hold, the first ground file as ground."""
    given = look_at(files)
    lines = [one for one in given if any(layer.lines or layer.polygons for layer in one.layers)]
    drawn = [one for one in lines if not _may_be_spots(one, files[one.path])]
    lines = drawn or lines  # a sheet of heights beside a line is no second line through all of them
    grounds = [one for one in given if one.is_ground and not one.is_picture and one not in lines]
    grounds += [
        one for one in lines if one.is_ground and PurePosixPath(one.path).suffix.lower() in LAND_KINDS
    ]
    held = lines or grounds or [one for one in given if one.is_picture]
    if not held:
        first = next(iter(files), "")
        raise Refused(
            "input", "it holds no line, ground or picture: give a job file or a site file", file=first
        )
    name = PurePosixPath(held[0].path).stem
    text = new_job_text(name, "us")
    text = apply_edit(text, {"kind": "set", "path": ["site", "crs"], "value": None}).text if lines else text
    several = sum(len(layer.lines) + len(layer.polygons) for one in lines for layer in one.layers)
    for one in lines:
        for layer in one.layers:
            for feature in [*layer.lines, *layer.polygons]:
                edit: dict[str, Any] = {"kind": "import_file", "use": "line", "file": one.path}
                named = {"layer": layer.layer} if len(one.layers) > 1 else {}
                edit |= {**named, "feature": feature, "name": feature} if several > 1 else {"name": feature}
                text = apply_edit(text, edit).text
    if grounds:
        text = apply_edit(text, {"kind": "import_file", "use": "ground", "file": grounds[0].path}).text
    return name, text, dict(files)


def _may_be_spots(one: FileGiven, content: bytes) -> bool:
    """Tell a sheet whose rows, each with a height, would be a line only because nothing says that they are not."""
    if not one.is_ground or PurePosixPath(one.path).suffix.lower() != ".csv":
        return False
    with tempfile.TemporaryDirectory(prefix="fencewright-") as home:
        lay_out_files(Path(home), {one.path: content})
        return is_line_by_default(Path(home) / one.path)


def look_at(files: Mapping[str, bytes], only: Mapping[str, bytes] | None = None) -> list[FileGiven]:
    """Say what site files hold: layers, and the names of their points, lines and polygons.

    Raises
    ------
    InputError
        One of them cannot be read.
    """
    with tempfile.TemporaryDirectory(prefix="fencewright-") as home:
        lay_out_files(Path(home), files)
        return [_look(Path(home), path) for path in (files if only is None else only)]


def look_again(files: Mapping[str, bytes]) -> list[FileGiven]:
    """Say the same of files that a job holds: one that cannot be read is told so, and hides no other."""

    def seen(home: Path, path: str) -> FileGiven:
        try:
            return _look(home, path)
        except InputError as error:
            return FileGiven(path=path, layers=[], is_ground=False, sentence=error.what)

    with tempfile.TemporaryDirectory(prefix="fencewright-") as home:
        lay_out_files(Path(home), files)
        return [seen(Path(home), path) for path in files]


def lay_out_files(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write files into a folder for readers to open; names are plain by now."""
    from fencewright.store.files import write_files

    for path, content in files.items():
        target = folder / path
        write_files(target.parent, {target.name: content})


def _look(folder: Path, path: str) -> FileGiven:
    kind = PurePosixPath(path).suffix.lower()
    is_ground = kind in GROUND_KINDS
    if kind in PICTURE_KINDS:
        shows, is_ground = look_at_raster(folder / path)
        return FileGiven(path=path, layers=[], is_ground=is_ground, is_picture=shows)
    if kind in _ONLY_GROUND:
        check_ground(folder / path)
    if kind == ".txt" or kind in LAND_KINDS:  # a sheet of heights or a note; a survey with or without heights
        is_ground = _can_be_ground(folder / path)
    if kind not in SITE_KINDS:
        sentence = "" if is_ground else _said_of(folder, path)
        return FileGiven(path=path, layers=[], is_ground=is_ground, sentence=sentence)
    if kind == ".csv" and _is_price_book(folder / path):
        return FileGiven(path=path, layers=[], is_ground=False, sentence=PRICE_BOOK)
    try:
        file = read_site_file(folder / path)
    except InputError as error:
        # a sheet of spot heights or of level notes, a track of which no line can be made
        if is_ground and (kind != ".csv" or is_meant_as_ground(folder / path)):
            check_ground(folder / path)
            return FileGiven(path=path, layers=[], is_ground=True)
        raise InputError(error.what, file=path, item=error.item) from error
    layers = []
    for layer in file.layers:
        held = [feature for feature in file.features if feature.layer == layer]
        names = {
            kind: [feature.name for feature in held if feature.geometry == kind]
            for kind in (POINT, LINE, POLYGON)
        }
        layers.append(LayerInfo(layer=layer, points=names[POINT], lines=names[LINE], polygons=names[POLYGON]))
    if kind == ".csv":
        is_ground = _can_be_ground(folder / path)
    return FileGiven(path=path, layers=layers, is_ground=is_ground)


def _can_be_ground(file: Path) -> bool:
    try:
        check_ground(file)
    except InputError:
        return False
    return True


def _is_price_book(file: Path) -> bool:
    """Tell whether a file can price a job."""
    try:
        read_price_book(file)
    except InputError:
        return False
    return True


def _said_of(folder: Path, path: str) -> str:
    """Say what a file is good for that is neither ground, picture nor features; empty where another holds it."""
    kind = PurePosixPath(path).suffix.lower()
    file = folder / path
    if _is_price_book(file):
        return PRICE_BOOK
    beside = {
        one.suffix.lower() for one in file.parent.iterdir() if one.stem.casefold() == file.stem.casefold()
    }
    wanted = {
        **dict.fromkeys(WORLD_KINDS, (PICTURE_KINDS, "it places the picture of its name: give that too")),
        **dict.fromkeys(_WITH_SHAPEFILE, ((".shp",), "it is a part of a Shapefile: give its .shp too")),
        ".prj": ((".shp", *PICTURE_KINDS), "it names the coordinates of the file of its name: give that too"),
        ".toml": ((), "it is kept with the job: a data sheet is named under Catalogue in the job file"),
        ".svg": ((), "it is kept with the job: a logo is named under Paper in the job file"),
    }
    holders, sentence = wanted.get(kind, ((), "it is kept with the job, which makes no use of it"))
    return "" if beside.intersection(holders) else sentence
