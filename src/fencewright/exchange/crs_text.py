"""What a coordinate system named by a file means: degrees or a plane, and its units."""

import math
from dataclasses import dataclass
from typing import Any

from fencewright.exchange.intake import shown
from fencewright.findings import InputError

WGS84 = "EPSG:4326"
_DEGREE_RAD = math.pi / 180


@dataclass(frozen=True, slots=True)
class FileCrs:
    """Coordinate system of a file.

    Parameters
    ----------
    crs : str
        As pyproj reads it; empty where the file does not say, or names a bare local plane.
    is_geographic : bool
        Whether it is longitude and latitude.
    unit_m : float
        Metres in a unit of plan; NaN where geographic or unknown. [m]
    elevation_unit_m : float
        Metres in a unit of height; NaN where unknown. [m]
    """

    crs: str
    is_geographic: bool
    unit_m: float
    elevation_unit_m: float


GPS = FileCrs(WGS84, True, math.nan, 1.0)
UNKNOWN = FileCrs("", False, math.nan, math.nan)


def read_crs(text: str | None, file: str) -> FileCrs:
    """Tell what a coordinate system means; empty text is an unknown plane.

    Parameters
    ----------
    text : str or None
        EPSG code, URN, WKT or PROJ text.
    file : str
        File that names it, for messages.

    Raises
    ------
    InputError
        The text names no known system, or one that is neither a plane nor longitude and latitude in degrees.
    """
    if not text or not text.strip():
        return UNKNOWN
    import pyproj

    try:
        crs = pyproj.CRS.from_user_input(text)
    except (pyproj.exceptions.CRSError, UnicodeError, ValueError) as error:
        what = f'its coordinate system "{shown(text)}" is unknown: name it by an EPSG code'
        raise InputError(what, file=file) from error
    flat, height_unit_m = _plan_part(crs)
    if flat.is_geographic and math.isclose(
        flat.axis_info[0].unit_conversion_factor, _DEGREE_RAD, rel_tol=1e-9
    ):
        return FileCrs(text, True, math.nan, height_unit_m or 1.0)
    if flat.is_projected or (flat.is_engineering and len(flat.axis_info) >= 2):
        unit_m = float(flat.axis_info[0].unit_conversion_factor)
        return FileCrs(text if flat.is_projected else "", False, unit_m, height_unit_m or unit_m)
    what = (
        f'its coordinate system "{shown(crs.name)}" is neither a plane nor degrees: '
        "save the file in a projected one"
    )
    raise InputError(what, file=file)


def _plan_part(crs: Any) -> tuple[Any, float]:
    """Horizontal part of a system, and the metres in its unit of height (0 where it has no height)."""
    heights = [axis.unit_conversion_factor for axis in crs.axis_info if axis.direction in ("up", "down")]
    if crs.is_bound:
        return _plan_part(crs.source_crs)
    plan = next((part for part in crs.sub_crs_list if not part.is_vertical), crs)
    if plan.is_bound:
        plan = plan.source_crs
    return plan, float(heights[0]) if heights else 0.0
