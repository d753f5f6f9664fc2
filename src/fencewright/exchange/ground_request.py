"""What a reader of ground is asked for, and ground that lies in a file's own coordinates."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.intake import encoding_of
from fencewright.findings import InputError
from fencewright.findings.file_faults import cannot_be_read
from fencewright.quantity.show import UnitSystem
from fencewright.site.ground import Ground
from fencewright.site.ground_precision import GroundPrecision
from fencewright.site.survey_table import UNIT_M

FloatArray = NDArray[np.float64]
MovePoints = Callable[[FloatArray], FloatArray]
Bounds = tuple[float, float, float, float]

LARGEST_TEXT_BYTES = 200_000_000
METRIC = UnitSystem("metric")


def same_place(xy: FloatArray) -> FloatArray:
    """Leave points (n, 2) where they are: the file is in the job's own plane."""
    return xy


def _factor(unit: str | None, of: str) -> float | None:
    if unit is None:
        return None
    if unit not in UNIT_M:
        raise InputError(f'{of} unit "{unit}" is not known: write m, ft or us-ft')
    return UNIT_M[unit]


@dataclass(frozen=True, slots=True)
class GroundRequest:
    """What is asked of a ground file.

    Parameters
    ----------
    precision : GroundPrecision
        Standard deviations and limits by kind of survey.
    to_file, from_file : callable
        Points (n, 2) of the job's plane [m] to the file's coordinates, and back.
    z_unit : str, optional
        Unit of the heights (`m`, `ft`, `us-ft`), over whatever the file says.
    xy_unit : str, optional
        Unit of x and y (`m`, `ft`, `us-ft`) in a sheet whose heading gives none.
    bounds_m : (x least, y least, x most, y most), optional
        What of the plane is wanted; all of the file where left out. [m]
    source_sd_m : float, optional
        Standard deviation of one height, over the kind's own. [m]
    show : UnitSystem
        Units of what the reader says.
    """

    precision: GroundPrecision
    to_file: MovePoints = same_place
    from_file: MovePoints = same_place
    z_unit: str | None = None
    xy_unit: str | None = None
    bounds_m: Bounds | None = None
    source_sd_m: float | None = None
    show: UnitSystem = METRIC

    @property
    def z_factor(self) -> float | None:
        """Metres in one unit of height, where the job says which. [m]."""
        return _factor(self.z_unit, "height")

    @property
    def xy_factor(self) -> float | None:
        """Metres in one unit of x and y, where the job says which. [m]."""
        return _factor(self.xy_unit, "plane")

    def sd_m(self, usual_sd_m: float) -> float:
        """Give the standard deviation of one height: the job's own, or the usual one. [m]."""
        return usual_sd_m if self.source_sd_m is None else self.source_sd_m

    def file_bounds(self, file: str) -> Bounds | None:
        """Bounds of what is wanted in the file's coordinates.

        Parameters
        ----------
        file : str
            Name of the file, for messages.

        Returns
        -------
        (x least, y least, x most, y most) or None
            None where all is wanted.

        Raises
        ------
        InputError
            The place cannot be expressed in the file's coordinates.
        """
        if self.bounds_m is None:
            return None
        x0, y0, x1, y1 = self.bounds_m
        part = np.linspace(0.0, 1.0, 21)
        ends, along_x, along_y = np.ones(21), x0 + part * (x1 - x0), y0 + part * (y1 - y0)
        edge = np.concatenate(
            [
                np.column_stack([along_x, ends * y0]),
                np.column_stack([along_x, ends * y1]),
                np.column_stack([ends * x0, along_y]),
                np.column_stack([ends * x1, along_y]),
            ]
        )
        placed = self.to_file(edge)
        if not np.isfinite(placed).all():
            raise InputError("the line lies outside what the file's coordinate system can hold", file=file)
        low, high = placed.min(axis=0), placed.max(axis=0)
        return float(low[0]), float(low[1]), float(high[0]), float(high[1])

    def metres_per_unit(self, plane_unit_m: float = 1.0) -> tuple[float, float]:
        """Length of one of the file's units along its x and its y, at the middle of the bounds. [m].

        Parameters
        ----------
        plane_unit_m : float
            Taken for both where there are no bounds. [m]
        """
        if self.bounds_m is None:
            return plane_unit_m, plane_unit_m
        middle = np.array(
            [(self.bounds_m[0] + self.bounds_m[2]) / 2, (self.bounds_m[1] + self.bounds_m[3]) / 2]
        )
        places = self.to_file(middle + np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]]))
        change = places[1:] - places[0]
        along_x, along_y = math.hypot(*change[:, 0]), math.hypot(*change[:, 1])
        if not (0.0 < along_x < math.inf and 0.0 < along_y < math.inf):
            raise InputError("the line lies where the ground's coordinate system has no scale: name another")
        return 1.0 / along_x, 1.0 / along_y


@dataclass(frozen=True, slots=True)
class PlacedGround:
    """Ground whose heights lie in another plane than the job's.

    Parameters
    ----------
    ground : Ground
        Ground in the file's coordinates.
    to_file : callable
        Points (n, 2) of the job's plane to the file's coordinates.
    """

    ground: Ground
    to_file: MovePoints

    @property
    def source(self) -> str:
        """Where the heights come from, as printed."""
        return self.ground.source

    @property
    def is_coarse(self) -> bool:
        """Whether the heights are too far apart or too uncertain for cuts."""
        return self.ground.is_coarse

    def elevation_m(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        """Give the elevation at points (n,), NaN where unknown. [m]."""
        place = self.to_file(np.column_stack([x_m, y_m]))
        return self.ground.elevation_m(place[:, 0], place[:, 1])

    def sd_m(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        """Give the standard deviation at points (n,), NaN where unknown. [m]."""
        place = self.to_file(np.column_stack([x_m, y_m]))
        return self.ground.sd_m(place[:, 0], place[:, 1])


def placed(ground: Ground, request: GroundRequest) -> Ground:
    """Wrap ground that lies in the file's coordinates; ground in the job's own plane stays as it is."""
    return ground if request.to_file is same_place else PlacedGround(ground, request.to_file)


def need_file(path: Path) -> None:
    """Refuse a path that is no file, or an empty one.

    Raises
    ------
    InputError
        There is no such file, it is a folder, it is empty, or it cannot be opened.
    """
    try:
        if path.is_dir():
            raise InputError("is a folder: name the file in it", file=path.name)
        if path.stat().st_size == 0:
            raise InputError("is empty: export it again", file=path.name)
    except (OSError, ValueError) as error:
        raise InputError(cannot_be_read(error), file=path.name) from error


def read_text(path: Path) -> str:
    """Read a text file, UTF-8 (or UTF-16 with its mark, as spreadsheets write it), of bounded size.

    Raises
    ------
    InputError
        It is missing, empty, too large, or in another encoding.
    """
    need_file(path)
    try:
        if path.stat().st_size > LARGEST_TEXT_BYTES:
            raise InputError("is larger than 200 MB: cut it to the site", file=path.name)
        data = path.read_bytes()
        return data.decode(encoding_of(data)).replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = error.object.count(b"\n", 0, error.start) + 1
        raise InputError(f"line {line} is not UTF-8 text: save the file as UTF-8", file=path.name) from error
    except OSError as error:
        raise InputError(cannot_be_read(error), file=path.name) from error
