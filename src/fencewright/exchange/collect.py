"""Features of one file, checked as they are added: finite, in range, not too many, not degenerate."""

import math
from collections import Counter
from collections.abc import Mapping
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.intake import printable, shown
from fencewright.exchange.records import LINE, POINT, POLYGON, SiteFeature, SiteFile
from fencewright.findings import CAUTION, NOTE, Finding, InputError, Place
from fencewright.quantity.show import counted

MAX_POINTS = 2_000_000
MAX_FEATURES = 250_000
_MAX_PLANE = 1e10
_RING_POINTS = 3
_LIMITS = (("longitude", 180.0), ("latitude", 90.0))
_MAX_NAME = 200

Floats = NDArray[np.float64]


class FeatureCollector:
    """Takes the features of one file in turn, then gives the `SiteFile`.

    Parameters
    ----------
    path : Path
        The file, for messages.
    is_geographic : bool
        Whether points are longitude and latitude.
    file : str, optional
        What messages call the file; its path where left out.
    """

    def __init__(self, path: Path, *, is_geographic: bool, file: str = "") -> None:
        self.file = file or str(path)
        self.stem = path.stem
        self.is_geographic = is_geographic
        self._features: list[SiteFeature] = []
        self._points = 0
        self._doubled = 0
        self._left_out: Counter[str] = Counter()
        self._notes: list[Finding] = []

    def add(
        self,
        name: str,
        geometry: str,
        points: Floats,
        *,
        item: str,
        layer: str = "",
        attributes: Mapping[str, str] | None = None,
        is_closed: bool = False,
    ) -> None:
        """Add one feature.

        Parameters
        ----------
        name : str
            Its name; empty: `item` is its name.
        geometry : str
            `point`, `line` or `polygon`.
        points : float array (points, 2 or 3)
            Coordinates, and heights with NaN where there are none.
        item : str
            How a message names it (`track 2`).
        layer : str
            Its layer; empty: the file's stem.
        attributes : mapping of str to str, optional
            Its other fields.
        is_closed : bool
            Whether it closes though its first point is not repeated.

        Raises
        ------
        InputError
            A coordinate is not finite, out of range or absurd; too many points or features.
        """
        self.count(len(points))
        if len(self._features) >= MAX_FEATURES:
            raise InputError(
                f"it has more than {MAX_FEATURES:,} features: trim it to the site", file=self.file
            )
        self.check(points, item)
        points, closes = self._tidy(points, geometry)
        needed = {POINT: 1, LINE: 2, POLYGON: _RING_POINTS}[geometry]
        if len(points) < needed:
            self.leave_out(
                {POINT: "point without coordinates", LINE: "line of no length"}.get(
                    geometry, "polygon of no area"
                )
            )
            return
        closed = geometry == POLYGON or ((closes or is_closed) and len(points) >= _RING_POINTS)
        label = shown(name, _MAX_NAME) or item
        xy, elevation = _columns(points)
        self._features.append(
            SiteFeature(
                label, geometry, xy, elevation, closed, printable(layer) or self.stem, attributes or {}
            )
        )

    def count(self, points: int) -> None:
        """Count points towards the limit, before they are held."""
        self._points += points
        refuse_too_many(self._points, self.file)

    def leave_out(self, what: str, count: int = 1) -> None:
        """Count something in the file that is not read, to be said in a finding."""
        self._left_out[shown(what)] += count

    def leave_out_if(self, count: int, what: str) -> None:
        """Count what is left out, where there is any."""
        if count:
            self.leave_out(what, count)

    def note(self, code: str, message: str) -> None:
        """Add a note about how the file was read."""
        self._notes.append(Finding(NOTE, code, self._place(), f"{self.file}: {message}"))

    def finish(self, *, crs: str, unit_m: float = math.nan, elevation_unit_m: float = math.nan) -> SiteFile:
        """Give the file; refuse one without any usable feature."""
        if not self._features:
            parts = ", ".join(f"{count} x {what}" for what, count in self._left_out.items())
            told = f" (left out: {shown(parts, 200)})" if parts else ""
            raise InputError(f"it has no point, line or polygon that can be used{told}", file=self.file)
        return SiteFile(
            self.file,
            tuple(self._features),
            crs,
            self.is_geographic,
            unit_m,
            elevation_unit_m,
            self._findings(),
        )

    def _findings(self) -> tuple[Finding, ...]:
        findings = [
            Finding(
                CAUTION,
                "file-part-left-out",
                self._place(),
                f"{self.file}: {count} x {what} left out",
                "draw it as a point, line or polygon if the fence depends on it",
            )
            for what, count in self._left_out.items()
        ]
        if self._doubled:
            said = "repeats the one before it" if self._doubled == 1 else "repeat the one before them"
            message = f"{self.file}: {counted(self._doubled, 'point')} that {said} left out"
            findings.append(Finding(NOTE, "duplicate-points", self._place(), message))
        return tuple(findings + self._notes)

    def _place(self) -> Place:
        return Place("file", self.file)

    def _tidy(self, points: Floats, geometry: str) -> tuple[Floats, bool]:
        """Drop points that repeat the one before, and the closing point of a ring."""
        if geometry == POINT or len(points) < 2:
            return points, False
        fresh = np.ones(len(points), dtype=bool)
        fresh[1:] = (points[1:, :2] != points[:-1, :2]).any(axis=1)
        if not fresh.all():
            self._doubled += int((~fresh).sum())
            points = points[fresh]
        closes = len(points) > _RING_POINTS and bool((points[0, :2] == points[-1, :2]).all())
        return (points[:-1], True) if closes else (points, False)

    def check(self, points: Floats, item: str) -> None:
        """Refuse points (points, 2 or 3) of which one is not finite, out of range or absurd."""
        if len(points) == 1 and self._is_plain(points[0].tolist()):
            return
        xy = points[:, :2]
        if not np.isfinite(xy).all() or np.isinf(points[:, 2:]).any():
            row = int(np.argmin(np.isfinite(xy).all(axis=1) & ~np.isinf(points[:, 2:]).any(axis=1)))
            self._refuse(item, row, len(points), "a coordinate is no finite number")
        limits = np.array([limit for _, limit in _LIMITS]) if self.is_geographic else np.full(2, _MAX_PLANE)
        outside = np.abs(xy) > limits
        if outside.any():
            row = int(np.argmax(outside.any(axis=1)))
            self._refuse(item, row, len(points), self._out_of_range(xy[row], outside[row]))
        if points.shape[1] > 2 and (np.abs(points[:, 2]) > _MAX_PLANE).any():
            row = int(np.argmax(np.abs(points[:, 2]) > _MAX_PLANE))
            self._refuse(item, row, len(points), f"a height of {points[row, 2]:.4g} is absurd")

    def _is_plain(self, point: list[float]) -> bool:
        """Tell quickly that a single point is in range."""
        limits = [limit for _, limit in _LIMITS] if self.is_geographic else [_MAX_PLANE, _MAX_PLANE]
        return abs(point[0]) <= limits[0] and abs(point[1]) <= limits[1] and not abs(point[-1]) > _MAX_PLANE

    def _out_of_range(self, point: Floats, outside: NDArray[np.bool_]) -> str:
        column = int(np.argmax(outside))
        if not self.is_geographic:
            return f"a coordinate of {point[column]:.4g} is absurd: check the number and its unit"
        name, limit = _LIMITS[column]
        swapped = abs(point[1]) <= _LIMITS[0][1] and abs(point[0]) <= _LIMITS[1][1]
        remedy = (
            "longitude comes before latitude"
            if swapped
            else "plane coordinates need a file that names their EPSG code"
        )
        return f"{name} {point[column]:.6g} lies outside -{limit:.0f} to {limit:.0f} degrees: {remedy}"

    def _refuse(self, item: str, row: int, count: int, what: str) -> None:
        place = item if count == 1 else f"{item}, point {row + 1}"
        raise InputError(what, file=self.file, item=place)


def refuse_too_many(points: int, file: str) -> None:
    """Refuse a file of more points than are read.

    Raises
    ------
    InputError
        It has so many.
    """
    if points > MAX_POINTS:
        what = f"it has {points:,} points or more, above the {MAX_POINTS:,} that are read: trim it"
        raise InputError(what, file=file)


def _columns(points: Floats) -> tuple[Floats, Floats]:
    """Split points into read-only plan coordinates and heights."""
    xy = np.array(points[:, :2], dtype=np.float64)
    elevation = (
        np.array(points[:, 2], dtype=np.float64) if points.shape[1] > 2 else np.full(len(points), math.nan)
    )
    xy.setflags(write=False)
    elevation.setflags(write=False)
    return xy, elevation
