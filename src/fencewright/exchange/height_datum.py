"""What a file's coordinate system says of its heights: their unit, and whether they are ellipsoidal."""

from fencewright.findings import CAUTION, NOTE, Finding, Place
from fencewright.site.survey_table import UNIT_M

_UNIT_NAMES = {
    "us survey foot": "us-ft",
    "ftus": "us-ft",
    "us survey feet": "us-ft",
    "international foot": "ft",
}


def unit_by_name(name: str | None) -> float | None:
    """Metres in a unit of height by the name that a file gives it; None where unknown or not given. [m]."""
    key = (name or "").strip().lower()
    return UNIT_M.get(_UNIT_NAMES.get(key, key))


def heights_by_crs(wkt: str | None) -> tuple[float | None, float | None, bool, bool]:
    """Read what a coordinate system says.

    Parameters
    ----------
    wkt : str, optional
        The coordinate system as well-known text.

    Returns
    -------
    height_unit_m : float or None
        Metres in one unit of height, where it has a height axis. [m]
    plane_unit_m : float or None
        Metres in one unit of its plane; None for degrees or no system. [m]
    is_ellipsoidal : bool
        Whether heights are above the ellipsoid.
    is_geographic : bool
        Whether its plane is in degrees.
    """
    if not wkt:
        return None, None, False, False
    from pyproj import CRS
    from pyproj.exceptions import CRSError

    try:
        crs = CRS.from_wkt(wkt)
    except CRSError:
        return None, None, False, False
    parts = crs.sub_crs_list if crs.is_compound else [crs]
    flat = [axis for axis in parts[0].axis_info if axis.direction in ("east", "west", "north", "south")]
    upward = [axis for part in parts for axis in part.axis_info if axis.direction == "up"]
    geographic = bool(parts[0].is_geographic)
    return (
        upward[0].unit_conversion_factor if upward else None,
        flat[0].unit_conversion_factor if flat and not geographic else None,
        any("ellipsoid" in axis.name.lower() for axis in upward),
        geographic,
    )


def plane_name(wkt: str | None) -> str | None:
    """Name the plane (or the degrees) of a coordinate system, without its heights.

    Parameters
    ----------
    wkt : str, optional
        The coordinate system as well-known text.

    Returns
    -------
    str or None
        `EPSG:26916` where it is exactly that, else well-known text; None where there is none.
    """
    if not wkt:
        return None
    from pyproj import CRS
    from pyproj.exceptions import CRSError

    try:
        crs = CRS.from_wkt(wkt)
        flat = (crs.sub_crs_list[0] if crs.is_compound else crs).to_2d()
        code = flat.to_epsg(min_confidence=100)
        return f"EPSG:{code}" if code is not None else str(flat.to_wkt())
    except CRSError:
        return wkt


def ellipsoidal_finding(file: str) -> Finding:
    """Warn that heights are above the ellipsoid (`ellipsoidal-heights`, caution)."""
    return Finding(
        CAUTION,
        "ellipsoidal-heights",
        Place("ground", file),
        f"heights in {file} are above the ellipsoid, tens of metres from heights above the sea, and are "
        "used as they stand: differences along the fence hold, levels do not",
        "export the ground with heights above the sea (a geoid or vertical datum)",
    )


def height_unit(
    file: str, asked_m: float | None, stated_m: float | None, wkt: str | None
) -> tuple[float, list[Finding]]:
    """Settle the unit of a file's heights.

    Parameters
    ----------
    file : str
        Name of the file.
    asked_m : float, optional
        Metres in one unit, as the job says.
    stated_m : float, optional
        Metres in one unit, as the file says beside its coordinate system.
    wkt : str, optional
        Its coordinate system.

    Returns
    -------
    unit_m : float
        Metres in one unit of height: the job's word, the file's, its height axis, its plane's unit, or
        metres, in this order. [m]
    findings : list of Finding
        `ground-unit-assumed` (caution where the plane is not in metres, else note) and
        `ellipsoidal-heights`.
    """
    axis_m, plane_m, is_ellipsoidal, _ = heights_by_crs(wkt)
    findings = [ellipsoidal_finding(file)] if is_ellipsoidal else []
    for unit_m in (asked_m, stated_m, axis_m):
        if unit_m is not None:
            return unit_m, findings
    in_feet = plane_m is not None and abs(plane_m - 1.0) > 1e-3
    unit = "feet, like its plane" if in_feet else "metres"
    findings.append(
        Finding(
            CAUTION if in_feet else NOTE,
            "ground-unit-assumed",
            Place("ground", file),
            f"{file} does not say in which unit its heights are: {unit} are assumed",
            "state the unit of its heights in the job",
        )
    )
    return plane_m if in_feet and plane_m is not None else 1.0, findings
