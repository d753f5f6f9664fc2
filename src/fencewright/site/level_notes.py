"""Tape-and-level notes: slope lengths, rises, bearings, diagonals between named points; how they close."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import InputError
from fencewright.site.survey_table import SurveyTable, parse_bearing, parse_survey_table, parse_turn

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Leg:
    """One row of the notes: what was measured from one point to another.

    Parameters
    ----------
    from_point, to_point : str
        Names of the points.
    slope_length_m : float
        Taped along the slope, above 0; NaN where only a rise was read. [m]
    rise_m : float
        Elevation of `to_point` above `from_point`; NaN where not read. [m]
    azimuth_rad : float
        Clockwise from north; NaN where not read. [rad]
    turn_rad : float
        Turned to the right from the way of the leg before; NaN where not read. [rad]
    is_fine : bool
        Whether the angle was read to minutes or finer.
    line : int
        Line number in the file.
    """

    from_point: str
    to_point: str
    slope_length_m: float
    rise_m: float = math.nan
    azimuth_rad: float = math.nan
    turn_rad: float = math.nan
    is_fine: bool = False
    line: int = 0

    @property
    def is_tie(self) -> bool:
        """Whether it holds a length alone: a diagonal or a tie, no part of the traverse."""
        return math.isnan(self.rise_m) and math.isnan(self.azimuth_rad) and math.isnan(self.turn_rad)

    @property
    def level_length_m(self) -> float:
        """Length in plan by the leg's own rise; the slope length where no rise was read. [m]."""
        rise_m = 0.0 if math.isnan(self.rise_m) else self.rise_m
        return math.sqrt(max(self.slope_length_m**2 - rise_m**2, 0.0))


@dataclass(frozen=True, slots=True)
class LevelNotes:
    """The notes of one survey.

    Parameters
    ----------
    file : str
        Name of the file.
    legs : tuple of Leg
        Rows in the order of the notes, ties included.
    known_m : dict of str to (float, float, float)
        Points whose place is given: x, y, and z (NaN where only the place is known). [m]
    """

    file: str
    legs: tuple[Leg, ...]
    known_m: dict[str, tuple[float, float, float]]


@dataclass(frozen=True, slots=True)
class Traverse:
    """The legs that follow each other, with their latitudes and departures, and how they close.

    Parameters
    ----------
    legs : tuple of Leg
        The legs in order, ties left out.
    latitude_m, departure_m : float array (legs,)
        Way north and way east of each leg; NaN where no direction is known. [m]
    length_m : float
        Sum of the legs' plan lengths. [m]
    horizontal_m, vertical_m : float
        Misclosure in plan and in height, 0 or more; NaN where the legs do not close or were not read. [m]
    """

    legs: tuple[Leg, ...]
    latitude_m: FloatArray
    departure_m: FloatArray
    length_m: float
    horizontal_m: float
    vertical_m: float

    @property
    def ratio(self) -> float:
        """The n of a misclosure of 1:n; infinite where it is zero, NaN where there is none."""
        return math.inf if self.horizontal_m == 0.0 else self.length_m / self.horizontal_m


def parse_level_notes(text: str, file: str) -> LevelNotes:
    """Read tape-and-level notes.

    Parameters
    ----------
    text : str
        A sheet with the columns `from`, `to`, `slope_length`, and any of `rise`, `bearing`
        (`N76E`, `N22-36-40W`, degrees) and `turned` (`42-30 R`, from the way of the leg before). Units
        stand in the heading (`slope_length_ft`) or in the cell. A row with a length alone is a diagonal
        or tie. A row with `from` alone and `x`, `y` (and `z`) gives a point's place.
    file : str
        Name of the file, for messages.

    Returns
    -------
    LevelNotes
        The rows in order.

    Raises
    ------
    InputError
        A column is missing, a cell cannot be read, or a row makes no sense; names file and line.
    """
    table = parse_survey_table(text, file)
    for name in ("from", "to", "slope_length"):
        if name not in table.columns:
            raise InputError(
                f'has no column "{name}": head the sheet from,to,slope_length_ft,rise_ft', file=file
            )
    known_m: dict[str, tuple[float, float, float]] = {}
    legs: list[Leg] = []
    for line, row in table.rows:
        name = table.text(row, "from")
        if name and not table.text(row, "to") and table.text(row, "x"):
            if name in known_m:
                raise InputError(f'gives the place of point "{name}" twice', file=file, item=f"line {line}")
            known_m[name] = _known_point(table, row, line)
        else:
            legs.append(_leg(table, row, line))
    if not legs:
        raise InputError("holds no legs: give a row for each leg", file=file)
    return LevelNotes(file, tuple(legs), known_m)


def _known_point(table: SurveyTable, row: list[str], line: int) -> tuple[float, float, float]:
    x_m, y_m, z_m = (table.length_m(row, name, line) for name in ("x", "y", "z"))
    if math.isnan(x_m) or math.isnan(y_m):
        raise InputError("a known point needs x and y", file=table.file, item=f"line {line}")
    return x_m, y_m, z_m


def _leg(table: SurveyTable, row: list[str], line: int) -> Leg:
    def refuse(what: str) -> InputError:
        return InputError(what, file=table.file, item=f"line {line}")

    start, stop = table.text(row, "from"), table.text(row, "to")
    if not start or not stop or start == stop:
        raise refuse("a leg needs two different points: fill in from and to")
    length_m = table.length_m(row, "slope_length", line)
    rise_m = table.length_m(row, "rise", line)
    if math.isnan(length_m) and math.isnan(rise_m):
        raise refuse("a leg needs a length or a rise")
    if length_m <= 0.0:
        raise refuse("a slope length must be more than zero")
    if abs(rise_m) >= length_m:
        raise refuse("the rise is not less than the slope length: check both, and their units")
    azimuth_rad, fine_bearing = _angle(table, row, "bearing", line)
    turn_rad, fine_turn = _angle(table, row, "turned", line)
    return Leg(start, stop, length_m, rise_m, azimuth_rad, turn_rad, fine_bearing or fine_turn, line)


def _angle(table: SurveyTable, row: list[str], name: str, line: int) -> tuple[float, bool]:
    text = table.text(row, name)
    if not text:
        return math.nan, False
    try:
        return parse_bearing(text) if name == "bearing" else parse_turn(text)
    except ValueError as error:
        example = "N76E, N22-36-40W or degrees from north" if name == "bearing" else "42-30 R or 15 L"
        raise InputError(
            f'{name} "{text[:30]}" is no angle: write {example}', file=table.file, item=f"line {line}"
        ) from error


def traverse(notes: LevelNotes) -> Traverse:
    """Follow the legs from point to point and see how they close.

    Parameters
    ----------
    notes : LevelNotes
        The notes. The traverse starts with the first leg that is no tie and goes on while each leg
        starts where the one before stopped.

    Returns
    -------
    Traverse
        Latitude = plan length x cos(azimuth), departure = plan length x sin(azimuth); the misclosure
        is the sum round a closed figure, or between two known points less what lies between them.

    References
    ----------
    Latitudes, departures and linear misclosure: register keys traverse-1, traverse-2 (examples).
    """
    legs = _chain(notes)
    azimuth_rad = _azimuths(legs)
    length_m = np.array([leg.level_length_m for leg in legs])
    latitude_m, departure_m = length_m * np.cos(azimuth_rad), length_m * np.sin(azimuth_rad)
    rises_m = float(sum(leg.rise_m for leg in legs))
    target_m = _closure_target(notes, legs)
    over_m = np.array([departure_m.sum(), latitude_m.sum(), rises_m]) - target_m
    return Traverse(
        legs,
        latitude_m,
        departure_m,
        float(length_m.sum()),
        float(np.hypot(over_m[0], over_m[1])),
        abs(over_m[2]),
    )


def _chain(notes: LevelNotes) -> tuple[Leg, ...]:
    chain: list[Leg] = []
    for leg in notes.legs:
        if leg.is_tie or math.isnan(leg.slope_length_m):
            continue
        if chain and leg.from_point != chain[-1].to_point:
            break
        chain.append(leg)
        if leg.to_point == chain[0].from_point:
            break
    return tuple(chain)


def _azimuths(legs: tuple[Leg, ...]) -> FloatArray:
    """Give each leg's azimuth: its bearing, or the one before turned on; NaN where neither is known."""
    azimuths: list[float] = []
    for leg in legs:
        before = azimuths[-1] if azimuths else math.nan
        azimuths.append(leg.azimuth_rad if not math.isnan(leg.azimuth_rad) else before + leg.turn_rad)
    return np.array(azimuths)


def _closure_target(notes: LevelNotes, legs: tuple[Leg, ...]) -> FloatArray:
    """Give what the legs should sum to (x, y, z); NaN where they end on a point not known."""
    if not legs:
        return np.full(3, np.nan)
    start, stop = legs[0].from_point, legs[-1].to_point
    if start == stop:
        return np.zeros(3)
    unknown = (math.nan, math.nan, math.nan)
    target = np.subtract(notes.known_m.get(stop, unknown), notes.known_m.get(start, unknown))
    return np.asarray(target, dtype=np.float64)
