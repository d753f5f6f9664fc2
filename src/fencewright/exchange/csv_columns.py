"""Meaning of the headers of a CSV site file: which columns are coordinates, in which unit."""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

from fencewright.exchange.intake import shown
from fencewright.exchange.length_units import UNIT_M
from fencewright.findings import InputError

_PLACE = {
    "x": ("x", "east", "easting", "e"),
    "y": ("y", "north", "northing", "n"),
    "z": ("z", "elev", "elevation", "height", "ele", "altitude"),
    "lon": ("lon", "long", "longitude", "lng"),
    "lat": ("lat", "latitude"),
}
_WORDS = {
    "name": ("name", "station", "point", "label", "id"),
    "line": ("line",),
    "kind": ("kind",),
    "layer": ("layer",),
    "closed": ("closed",),
    "wkt": ("wkt", "geometry", "geom"),
}
_WITH_UNIT = re.compile(r"(?P<word>[a-z]+)\s*[_ (\[]\s*(?P<unit>[a-z][a-z _]*?)\s*[)\]]?")
_WANTED = '"x,y", "east,north", "lon,lat" (with "z" if known, and units like "x_ft") or "wkt"'


@dataclass(frozen=True, slots=True)
class Columns:
    """Columns of a CSV site file.

    Parameters
    ----------
    place : tuple of int
        Columns of x and y, or longitude and latitude; empty where shapes stand in `index["wkt"]`.
    height : int
        Column of heights, -1 where there is none.
    is_geographic : bool
        Whether `place` is longitude and latitude.
    unit_m, height_unit_m : float
        Metres in a unit of plan and of height; NaN where the headers do not say. [m]
    index : dict of str to int
        Columns of `name`, `line`, `kind`, `layer`, `closed` and `wkt` that are there.
    others : dict of str to int
        All columns that are no coordinates, by their header.
    """

    place: tuple[int, ...]
    height: int
    is_geographic: bool
    unit_m: float
    height_unit_m: float
    index: dict[str, int]
    others: dict[str, int]


def find_columns(headers: Sequence[str], file: str) -> Columns:
    """Tell the columns apart by their headers, whatever their case.

    Parameters
    ----------
    headers : sequence of str
        The first row.
    file : str
        Its file, for messages.

    Raises
    ------
    InputError
        No coordinates, two columns of one meaning, an unknown unit, or x and y in different units.
    """
    place, units = _place_columns(headers, file)
    index = {word: _only(headers, names, file) for word, names in _WORDS.items()}
    index = {word: column for word, column in index.items() if column >= 0}
    is_geographic = "lon" in place and "lat" in place
    pair = ("lon", "lat") if is_geographic else ("x", "y")
    if not set(pair) <= place.keys() and "wkt" not in index:
        raise InputError(f"its first row has no headers for coordinates: write {_WANTED} there", file=file)
    columns = tuple(place[axis] for axis in pair) if "wkt" not in index else ()
    if columns and not is_geographic and not _same(units["x"], units["y"]):
        raise InputError("its x and y are in different units: give both in one", file=file)
    taken = {*columns, place.get("z", -1), index.get("wkt", -1)}
    others = {
        name.strip(): number for number, name in enumerate(headers) if number not in taken and name.strip()
    }
    unit_m = units.get("x", math.nan) if columns and not is_geographic else math.nan
    height = place.get("z", -1) if columns else -1
    height_unit_m = units.get("z", math.nan)
    if math.isnan(height_unit_m):
        height_unit_m = 1.0 if is_geographic else unit_m
    return Columns(columns, height, is_geographic, unit_m, height_unit_m, index, others)


def _place_columns(headers: Sequence[str], file: str) -> tuple[dict[str, int], dict[str, float]]:
    """Columns of the coordinates, and the metres in the unit of each (NaN where not said)."""
    place: dict[str, int] = {}
    units: dict[str, float] = {}
    for number, header in enumerate(headers):
        word, unit = _split(header)
        axis = next((axis for axis, names in _PLACE.items() if word in names), "")
        if not axis:
            continue
        if axis in place:
            raise InputError(f'its headers have two columns for "{axis}": rename one', file=file)
        place[axis], units[axis] = number, _unit_m(unit, header, axis, file)
    return place, units


def _split(header: str) -> tuple[str, str]:
    """Word and unit of a header: `x_ft`, `x (ft)`, `Easting [m]`."""
    text = header.strip().casefold()
    match = _WITH_UNIT.fullmatch(text)
    return (match["word"], match["unit"]) if match else (text, "")


def _unit_m(unit: str, header: str, axis: str, file: str) -> float:
    key = re.sub(r"[_ ]", "", unit)
    if not key or (axis in ("lon", "lat") and key in ("deg", "degree", "degrees", "dd")):
        return math.nan
    if key not in UNIT_M or axis in ("lon", "lat"):
        told = "m, ft, usft" if axis not in ("lon", "lat") else "deg"
        raise InputError(f'the unit of its column "{shown(header)}" is unknown: write {told}', file=file)
    return UNIT_M[key]


def _only(headers: Sequence[str], names: tuple[str, ...], file: str) -> int:
    """Column whose header is the first of `names` that is there; -1 where none is."""
    folded = [header.strip().casefold() for header in headers]
    found = next((name for name in names if name in folded), None)
    if found is None:
        return -1
    if folded.count(found) > 1:
        raise InputError(f'its headers have two columns "{found}": rename one', file=file)
    return folded.index(found)


def _same(first: float, second: float) -> bool:
    return first == second or (math.isnan(first) and math.isnan(second))
