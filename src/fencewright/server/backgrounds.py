"""What the files of a job show under its plan: pictures laid on the plane, and the features of any site file."""

import hashlib
import math
from collections import OrderedDict
from collections.abc import Hashable
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from threading import Lock
from typing import Any, Literal
from urllib.parse import quote

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.crs_text import FileCrs
from fencewright.exchange.picture_encoding import encode_picture
from fencewright.exchange.picture_file import KINDS as PICTURE_KINDS
from fencewright.exchange.picture_file import PictureFrame, read_frame
from fencewright.exchange.picture_warp import Bounds, Placing, lay_picture, place_picture
from fencewright.exchange.plane_ways import plane_ways
from fencewright.exchange.records import SiteFile
from fencewright.exchange.site_files import read_site_file
from fencewright.findings import InputError
from fencewright.job.record import Job
from fencewright.quantity.show import UnitSystem, counted
from fencewright.server.importing import PRICE_BOOK, SITE_KINDS
from fencewright.server.models import BackdropFeature, BackgroundAnswer
from fencewright.site.plane import WGS84, Origin, Plane, to_plane
from fencewright.site.plane_choice import suggest_plane
from fencewright.site.survey_table import UNIT_M
from fencewright.store.records import State

Floats = NDArray[np.float64]
Encoded = tuple[bytes, str]

WHOLE_CELLS = 2048
MOST_CELLS = 4096
MOST_POINTS = 300_000
_KEPT_BYTES = 100_000_000
_KEPT_ANSWERS = 32
FAR_M = 10_000.0
NO_UNIT = 'the file does not say in which unit its coordinates are: set [site] file_unit = "ft" or "m"'
_DEGREES = Plane("", WGS84)


@dataclass(frozen=True, slots=True)
class Asked:
    """A file of a job, and all on which its place in the job's plane hangs."""

    job: str
    path: str
    file: Path
    digests: tuple[tuple[str, str], ...]
    plane: Plane
    origin: Origin | None
    file_unit_m: float

    @property
    def key(self) -> str:
        """Short text that changes with anything that the picture hangs on."""
        told = repr((self.path, self.digests, self.plane, self.origin, self.file_unit_m))
        return hashlib.sha256(told.encode()).hexdigest()[:16]


def asked_of(state: State, job: Job, folder: Path, path: str) -> Asked:
    """Gather what the place of a file hangs on: its own bytes, those beside it, and the job's plane."""
    stem = PurePosixPath(path).with_suffix("").as_posix().casefold()
    beside = ((name, digest) for name, digest in sorted(state.files.items()))
    site = job.asked.site
    bare = (
        None if job.site.plane.crs or site.origin is None else Origin(*site.origin, math.degrees(site.north))
    )
    return Asked(
        state.job.id, path, folder / path,
        tuple(one for one in beside if PurePosixPath(one[0]).with_suffix("").as_posix().casefold() == stem),
        job.site.plane, bare, UNIT_M[site.file_unit] if site.file_unit else math.nan,
    )  # fmt: skip


@dataclass
class Backgrounds:
    """Backgrounds made so far: the last few answers, and encoded pictures up to a bound of memory.

    Pictures are made one at a time, in a thread of the server's own process: never in a forked child, and
    never where the event loop runs.
    """

    placings: OrderedDict[str, Placing] = field(default_factory=OrderedDict)
    features: OrderedDict[str, list[BackdropFeature]] = field(default_factory=OrderedDict)
    pictures: OrderedDict[Hashable, Encoded] = field(default_factory=OrderedDict)
    lock: Lock = field(default_factory=Lock)

    def answer(self, asked: Asked, job: Job) -> BackgroundAnswer:
        """Say what a file shows under the plan; the picture is made with it, so that its faults are told here."""
        kind = PurePosixPath(asked.path).suffix.lower()
        if asked.path == job.asked.price.book:
            return _answer(asked, "none", sentence=PRICE_BOOK)
        try:
            if kind in PICTURE_KINDS:
                return self._picture_answer(asked, job)
            if kind in SITE_KINDS:
                return self._features_answer(asked, job)
        except InputError as error:
            return _answer(asked, "none", sentence=error.what)
        return _answer(asked, "none", sentence="a file of this kind has nothing to show under the plan")

    def picture(self, asked: Asked, bounds_m: Bounds | None, most_cells: int) -> Encoded:
        """Give a picture, or a part of it, as it lies on the job's plane.

        Raises
        ------
        InputError
            It cannot be read or placed, or it does not reach the part.
        """
        key = (asked.key, bounds_m, most_cells)
        with self.lock:
            if key in self.pictures:
                self.pictures.move_to_end(key)
                return self.pictures[key]
            laid = lay_picture(self._placing(asked), most_cells, bounds_m)
            if laid is None:
                raise InputError("the picture does not reach this place", file=asked.path)
            made = self.pictures[key] = encode_picture(laid.colours)
            while len(self.pictures) > 1 and sum(len(one) for one, _ in self.pictures.values()) > _KEPT_BYTES:
                self.pictures.popitem(last=False)
            return made

    def _placing(self, asked: Asked, frame: PictureFrame | None = None) -> Placing:
        found = self.placings.get(asked.key)
        if found is None:
            frame = read_frame(asked.file) if frame is None else frame
            found = place_picture(frame, asked.plane, asked.origin, asked.file_unit_m)
            _keep(self.placings, asked.key, found)
        return found

    def _picture_answer(self, asked: Asked, job: Job) -> BackgroundAnswer:
        with self.lock:
            placed = self.placings.get(asked.key)
            frame = read_frame(asked.file) if placed is None else placed.frame
            try:
                placing = self._placing(asked, frame)
            except InputError as error:
                middle = np.array([[frame.columns / 2, frame.rows / 2, 1.0]]) @ frame.to_file.T
                refused = _answer(asked, "none", sentence=error.what)
                refused.plane = _plane_for(asked, job, frame.crs, middle[:, :2])
                return refused
        self.picture(asked, None, WHOLE_CELLS)
        west, south, east, north = placing.bounds_m
        answer = _answer(asked, "picture", placing.bounds_m, _far(placing.bounds_m, job))
        answer.cell_m = placing.cell_m
        answer.shown_cell_m = max(placing.cell_m, (east - west) / WHOLE_CELLS, (north - south) / WHOLE_CELLS)
        answer.address = f"/api/jobs/{quote(asked.job)}/pictures/{quote(asked.path)}?key={asked.key}"
        return answer

    def _features_answer(self, asked: Asked, job: Job) -> BackgroundAnswer:
        found = self.features.get(asked.key)
        if found is None:
            file = read_site_file(asked.file)
            try:
                found = _drawn(asked, file)
            except InputError as error:
                refused = _answer(asked, "none", sentence=error.what)
                west, south, east, north = file.bounds
                middle = np.array([[(west + east) / 2, (south + north) / 2]])
                refused.plane = _plane_for(asked, job, file.crs, middle)
                refused.needs_unit = _lacks_unit(asked, file)
                return refused
            _keep(self.features, asked.key, found)
        every = np.concatenate([np.array(one.points_m).reshape(-1, 2) for one in found])
        (west, south), (east, north) = every.min(axis=0).tolist(), every.max(axis=0).tolist()
        answer = _answer(asked, "features", (west, south, east, north), _far((west, south, east, north), job))
        answer.features = found
        return answer


def _keep(kept: OrderedDict[str, Any], key: str, made: object) -> None:
    kept[key] = made
    while len(kept) > _KEPT_ANSWERS:
        kept.popitem(last=False)


def _answer(
    asked: Asked,
    kind: Literal["picture", "features", "none"],
    bounds_m: Bounds | None = None,
    sentence: str = "",
) -> BackgroundAnswer:
    return BackgroundAnswer(
        path=asked.path, kind=kind, bounds_m=list(bounds_m or ()), cell_m=0.0, shown_cell_m=0.0, address="",
        features=[], sentence=sentence, plane="", needs_unit=False,
    )  # fmt: skip


def _drawn(asked: Asked, file: SiteFile) -> list[BackdropFeature]:
    """Give every feature of a site file in the job's plane, to the millimetre."""
    sizes = [len(feature.points) for feature in file.features]
    if sum(sizes) > MOST_POINTS:
        raise InputError(
            f"it has {counted(sum(sizes), 'point')}, more than the {MOST_POINTS:,} that are drawn: cut it to the site"
        )
    if _lacks_unit(asked, file):
        raise InputError(NO_UNIT)
    crs = FileCrs(file.crs, file.is_geographic, file.unit_m, file.elevation_unit_m)
    _, from_file = plane_ways(crs, asked.plane, asked.origin, asked.file_unit_m)
    every = np.round(from_file(np.concatenate([feature.points for feature in file.features])), 3)
    parts = np.split(every, np.cumsum(sizes)[:-1])
    return [
        BackdropFeature(
            name=one.name, geometry=one.geometry, points_m=part.ravel().tolist(), closed=one.is_closed
        )
        for one, part in zip(file.features, parts, strict=True)
    ]


def _lacks_unit(asked: Asked, file: SiteFile) -> bool:
    has_unit = bool(file.crs) or file.is_geographic or math.isfinite(file.unit_m)
    return not has_unit and math.isnan(asked.file_unit_m)


def _plane_for(asked: Asked, job: Job, crs: str, middle: Floats) -> str:
    """EPSG code by which a file could be placed; empty where the job has a place, or points that would lose theirs."""
    rows = [*job.asked.line, *job.asked.obstacle]
    if (
        not crs
        or asked.plane.crs
        or asked.origin is not None
        or any(getattr(row, "points", None) for row in rows)
    ):
        return ""
    try:
        lon_deg, lat_deg = to_plane(_DEGREES, middle, crs)[0].tolist()
        return suggest_plane(crs, lon_deg, lat_deg)
    except InputError:
        return ""


def _far(bounds_m: Bounds, job: Job) -> str:
    """Say that a background lies far from the job's lines; empty where it does not."""
    drawn = [line.xy_m for line in job.site.lines if len(line.xy_m)]
    if not drawn:
        return ""
    every = np.vstack(drawn)
    (west, south), (east, north) = every.min(axis=0).tolist(), every.max(axis=0).tolist()
    across = max(bounds_m[0] - east, west - bounds_m[2], 0.0)
    along = max(bounds_m[1] - north, south - bounds_m[3], 0.0)
    apart_m = math.hypot(across, along)
    if apart_m < FAR_M:
        return ""
    far = UnitSystem(job.asked.job.sheets).far(apart_m)
    return f"it lies {far} from the lines: check its coordinates and [site] crs"
