"""Ground from a sheet of spot heights (CSV): x, y and z with their units in the heading."""

import math
import re
from collections.abc import Callable
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.ground_request import GroundRequest, read_text
from fencewright.exchange.height_datum import ellipsoidal_finding
from fencewright.findings import CAUTION, Finding, InputError, Place
from fencewright.quantity.show import UnitSystem, counted
from fencewright.site.ground import Ground
from fencewright.site.profile_ground import ProfileGround
from fencewright.site.spot_ground import SpotGround
from fencewright.site.survey_table import SurveyTable, parse_survey_table

FloatArray = NDArray[np.float64]

_X = ("x", "easting", "east", "e", "lon", "longitude")
_Y = ("y", "northing", "north", "n", "lat", "latitude")
HEIGHTS = ("z", "elevation", "height", "elev", "level", "rl", "ellipsoidal_height")
_DEGREES = ("lon", "longitude", "lat", "latitude")
_KEYS = ("file_unit", "file_unit", "ground_unit")  # of [site], each for x, y and z
_NAMES = ("name", "point", "id", "number", "no", "station")
_MOST_TRIANGULATED = 50_000
# A spot farther from what is asked for than so many of its diagonals and so far besides has a slip in its
# place; common practice, no source.
_FAR_DIAGONALS, _FAR_M = 10.0, 1000.0


def parse_spots(
    text: str, file: str, z_unit_m: float | None = None, xy_unit_m: float | None = None
) -> tuple[FloatArray, list[str]]:
    """Read spot heights.

    Parameters
    ----------
    text : str
        A sheet headed like `x_ft,y_ft,z_ft`, `easting_m,northing_m,elevation_m` or `lon,lat,z_m`.
    file : str
        Name of the file, for messages.
    z_unit_m : float, optional
        Metres in one unit of height where the heading gives none. [m]
    xy_unit_m : float, optional
        The same of x and y. [m]

    Returns
    -------
    spots : float array (spots, 3)
        Places in metres, or in degrees for `lon,lat`; heights in metres.
    columns : list of str
        Names of the three columns taken.

    Raises
    ------
    InputError
        A column is missing, a cell cannot be read, or the sheet holds no rows.
    """
    table = parse_survey_table(text, file)
    columns = [_column(table, names) for names in (_X, _Y, HEIGHTS)]
    if (columns[0] in _DEGREES) != (columns[1] in _DEGREES):
        raise InputError("mixes degrees with lengths: give lon and lat, or x and y", file=file)
    if not table.rows:
        raise InputError("holds a heading but no spot heights", file=file)
    units = [1.0 if columns[0] in _DEGREES else xy_unit_m] * 2 + [z_unit_m]
    spots = np.array(
        [
            [
                table.length_m(row, name, line, unit, key)
                for name, unit, key in zip(columns, units, _KEYS, strict=True)
            ]
            for line, row in table.rows
        ]
    )
    missing = np.flatnonzero(np.isnan(spots).any(axis=1))
    if len(missing):
        line, row = table.rows[missing[0]]
        name = columns[int(np.flatnonzero(np.isnan(spots[missing[0]]))[0])]
        raise InputError(table.lacking(row, name), file=file, item=f"line {line}")
    if columns[0] in _DEGREES and (np.abs(spots[:, 0]).max() > 360 or np.abs(spots[:, 1]).max() > 90):
        raise InputError("holds places that are no degrees of longitude and latitude", file=file)
    return spots, columns


def _column(table: SurveyTable, names: tuple[str, ...]) -> str:
    for name in names:
        if name in table.columns:
            return name
        unknown = next(
            (one for one in table.columns if re.fullmatch(rf"{name}(_|\W)+[a-z]{{1,6}}\W?", one)), ""
        )
        if unknown:
            raise InputError(
                f'column "{unknown}" has a unit that is not known: write m, ft or us-ft, like {name}_m',
                file=table.file,
            )
    raise InputError(
        f'has no column "{names[0]}": head the sheet x_m,y_m,z_m (or _ft), or lon,lat,z_m', file=table.file
    )


def spots_in_degrees(path: Path) -> bool:
    """Tell whether a sheet gives longitude and latitude.

    Raises
    ------
    InputError
        It cannot be read as a sheet.
    """
    columns = parse_survey_table(read_text(path), path.name).columns
    return any(name in columns for name in _DEGREES)


def read_spots(path: Path, request: GroundRequest) -> tuple[Ground, list[Finding]]:
    """Read ground from spot heights.

    Parameters
    ----------
    path : Path
        The sheet.
    request : GroundRequest
        What is wanted of it; `from_file` takes its places to the job's plane.

    Returns
    -------
    ground : SpotGround or ProfileGround
        Triangles between the spots; heights along the line where all spots stand within reach of one
        straight line.
    findings : list of Finding
        `spots-disagree`, `spot-far-off` and `ellipsoidal-heights` (cautions).

    Raises
    ------
    InputError
        As `parse_spots`; too few spots; places that the coordinate system cannot hold.
    """
    text = read_text(path)
    spots_m, columns = parse_spots(text, path.name, request.z_factor, request.xy_factor)
    spots_m[:, :2] = request.from_file(spots_m[:, :2])
    findings = [ellipsoidal_finding(path.name)] if "ellips" in columns[2] else []
    ground, said = ground_of_spots(spots_m, request, path.name, lambda spot: _row_of(text, path.name, spot))
    return ground, findings + said


def ground_of_spots(
    spots_m: FloatArray, request: GroundRequest, file: str, name_of: Callable[[int], str]
) -> tuple[Ground, list[Finding]]:
    """Make ground of spot heights.

    Parameters
    ----------
    spots_m : float array (spots, 3)
        Places in the job's plane and heights. [m]
    request : GroundRequest
        What is wanted.
    file : str
        Name of the file, for messages.
    name_of : callable
        How a message names a spot, by its row.

    Returns
    -------
    ground, findings
        As `read_spots`.

    Raises
    ------
    InputError
        Too few spots, or places that the coordinate system cannot hold.
    """
    precision = request.precision
    if not np.isfinite(spots_m).all():
        raise InputError("holds places that its coordinate system cannot hold", file=file)
    findings = _far_off(spots_m, request, file, name_of)
    spots_m = _near(spots_m, request)
    spot_sd_m = request.sd_m(precision.spots_sd_m)
    findings += _disagreements(spots_m, 3.0 * math.sqrt(2.0) * spot_sd_m, file, request.show)
    source = f"{file}, {len(spots_m):,} spot heights"
    along, width_m = _along_line(spots_m)
    try:
        if len(spots_m) >= 2 and width_m <= precision.spot_reach_m:
            line = ProfileGround(
                spots_m[np.argsort(along, kind="stable")],
                point_sd_m=spot_sd_m,
                reach_m=precision.profile_reach_m,
                cross_slope=precision.cross_slope,
                source=f"{source} along a line",
                is_coarse=bool(np.ptp(along) / (len(spots_m) - 1) > precision.coarse_spacing_m),
            )
            return line, findings
        return SpotGround(
            spots_m,
            spot_sd_m=spot_sd_m,
            reach_m=precision.spot_reach_m,
            source=source,
            coarse_spacing_m=precision.coarse_spacing_m,
        ), findings
    except InputError as error:
        raise error.within(file=file) from error


def _row_of(text: str, file: str, spot: int) -> str:
    """Name a spot by its line in the sheet, and its own name where it has one."""
    table = parse_survey_table(text, file)
    line, cells = table.rows[spot]
    name = next((said for column in _NAMES if (said := table.text(cells, column))), "")
    return f'line {line} ("{name[:30]}")' if name else f"line {line}"


def _near(spots_m: FloatArray, request: GroundRequest) -> FloatArray:
    """Keep the spots in and around the bounds where there are very many."""
    if request.bounds_m is None or len(spots_m) <= _MOST_TRIANGULATED:
        return spots_m
    x0, y0, x1, y1 = request.bounds_m
    margin_m = 0.1 * max(x1 - x0, y1 - y0) + request.precision.profile_reach_m
    low, high = np.array([x0, y0]) - margin_m, np.array([x1, y1]) + margin_m
    near = spots_m[((spots_m[:, :2] >= low) & (spots_m[:, :2] <= high)).all(axis=1)]
    return near if len(near) >= 3 else spots_m


def _far_off(
    spots_m: FloatArray, request: GroundRequest, file: str, name_of: Callable[[int], str]
) -> list[Finding]:
    """Name the farthest of a few spots that stand far off the site; where most do, the sheet is of a whole district."""
    if request.bounds_m is None:
        return []
    x0, y0, x1, y1 = request.bounds_m
    beyond = np.maximum(np.maximum([x0, y0] - spots_m[:, :2], spots_m[:, :2] - [x1, y1]), 0.0)
    away_m = np.hypot(beyond[:, 0], beyond[:, 1])
    count = int((away_m > _FAR_DIAGONALS * math.hypot(x1 - x0, y1 - y0) + _FAR_M).sum())
    if not 0 < count < len(spots_m) / 2:
        return []
    worst = int(np.argmax(away_m))
    spot = name_of(worst)
    away = request.show.far(float(away_m[worst]))
    return [
        Finding(
            CAUTION,
            "spot-far-off",
            Place("ground", file),
            f"{file} places {count:,} of {len(spots_m):,} spot heights far off the site, the farthest at {spot}, {away} "
            "away: the ground beside the others is drawn towards it",
            "correct its x and y, or remove it",
        )
    ]


def _along_line(spots_m: FloatArray) -> tuple[FloatArray, float]:
    """Give places along the line that fits the spots best, and the farthest one's distance from it. [m]."""
    centred = spots_m[:, :2] - spots_m[:, :2].mean(axis=0)
    directions = np.linalg.eigh(centred.T @ centred)[1]
    return centred @ directions[:, 1], float(np.abs(centred @ directions[:, 0]).max())


def _disagreements(spots_m: FloatArray, most_m: float, file: str, show: UnitSystem) -> list[Finding]:
    """Name places that have two heights."""
    order = np.lexsort((spots_m[:, 1].round(3), spots_m[:, 0].round(3)))
    ordered = spots_m[order]
    same = (np.abs(np.diff(ordered[:, :2], axis=0)) < 1e-3).all(axis=1)
    apart_m = np.where(same, np.abs(np.diff(ordered[:, 2])), 0.0)
    if not len(apart_m) or apart_m.max() <= most_m:
        return []
    worst = int(np.argmax(apart_m))
    x_m, y_m = ordered[worst, :2]
    count = int((apart_m > most_m).sum())
    apart, x, y = (show.long(float(one)) for one in (apart_m[worst], x_m, y_m))
    places = counted(count, "place")
    message = f"{file} gives {places} two heights, up to {apart} apart (x {x}, y {y}): their mean is used"
    return [
        Finding(
            CAUTION,
            "spots-disagree",
            Place("ground", file),
            message,
            "remove the wrong ones",
        )
    ]
