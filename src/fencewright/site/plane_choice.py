"""Choosing the job's plane from what the job says and from the systems of its files."""

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from fencewright.findings import NOTE, Finding, InputError, Place
from fencewright.site.plane import Plane, crs_title, local_mercator, parse_crs

if TYPE_CHECKING:
    from pyproj import CRS

_ITEM = "[site] crs"
_LOCAL = "local"
_WIDEST_DEG = 20.0
_UTM_ZONE_DEG = 6.0
_UTM_LIMIT_DEG = 84.0
_PSEUDO = "Pseudo-Mercator"  # its metres are longer on the map than on the ground

Bounds = tuple[float, float, float, float]
Choice = tuple[Plane, tuple[Finding, ...]]


class PlaneSource(NamedTuple):
    """What one file, or the points of the job itself, says of its coordinates.

    Parameters
    ----------
    crs : str
        Its system; empty where it names none.
    is_geographic : bool
        Whether it is longitude and latitude.
    bounds : tuple of 4 float
        West, south, east and north limit, in its own unit.
    file : str
        Its name, for messages.
    """

    crs: str
    is_geographic: bool
    bounds: Bounds
    file: str = ""


def choose_plane(declared: str | None, sources: Sequence[PlaneSource]) -> Choice:
    """Choose the plane that everything is computed on.

    Parameters
    ----------
    declared : str or None
        What the job says: `local`, an EPSG code of a projected system, or nothing.
    sources : sequence of PlaneSource
        Files, and one with an empty `crs` for points that stand in the job itself; may be empty.

    Returns
    -------
    plane : Plane
        The plane.
    findings : tuple of Finding
        `plane-chosen` (note) where the program chose.

    Raises
    ------
    InputError
        The systems do not go together, or the declared one is no plane; says what to write.

    Notes
    -----
    Nothing declared: only degrees give a local transverse Mercator in the middle of the files, scale 1 there;
    only plane coordinates without a system give a bare local plane; one projected system in every file is
    used. Anything mixed must be settled by an EPSG code.
    """
    sources = tuple(PlaneSource(*source) for source in sources)
    if declared is None or not declared.strip():
        return _choose(sources)
    if declared.strip().casefold() == _LOCAL:
        return _bare(sources), ()
    return _declared_plane(declared.strip(), sources), ()


def suggest_plane(crs: str, lon_deg: float, lat_deg: float) -> str:
    """EPSG code that a job may name as its plane, so that a file lies on it.

    Parameters
    ----------
    crs : str
        The file's system.
    lon_deg, lat_deg : float
        A place in the file. [degree]

    Returns
    -------
    str
        The file's own where it is a plane that keeps lengths, else that of the UTM zone of the place; empty near
        a pole, where no zone is.
    """
    system = parse_crs(crs).to_2d()
    code = system.to_epsg(min_confidence=90)
    if code is not None and not _refusal(system, system) and _PSEUDO not in system.name:
        return f"EPSG:{code}"
    if abs(lat_deg) > _UTM_LIMIT_DEG:
        return ""
    return _example((PlaneSource(crs, True, (lon_deg, lat_deg, lon_deg, lat_deg)),))


def _bare(sources: Sequence[PlaneSource]) -> Plane:
    named = next((source for source in sources if source.crs or source.is_geographic), None)
    if named is None:
        return Plane()
    system = "longitude and latitude" if named.is_geographic else crs_title(named.crs)
    example = _example(sources)
    what = f'it is in {system}, but crs = "local": name an EPSG code such as {example}, or leave crs out'
    raise InputError(what, file=named.file, item=_ITEM)


def _declared_plane(declared: str, sources: Sequence[PlaneSource]) -> Plane:
    try:
        system = parse_crs(declared)
    except InputError as error:
        raise error.within(item=_ITEM) from error
    title = crs_title(declared)
    flat = next((part for part in system.sub_crs_list if not part.is_vertical), system)
    reason = _refusal(flat, system)
    if reason:
        what = f"{title} {reason}: name a projected one such as {_example(sources)}, or leave crs out"
        raise InputError(what, item=_ITEM)
    return Plane(title, declared, float(flat.axis_info[0].unit_conversion_factor))


def _refusal(flat: "CRS", system: "CRS") -> str:
    """Why a system is no plane to work on; empty where it is one."""
    if system.is_geocentric:
        return "is geocentric, no plane"
    if system.is_vertical and not system.is_compound:
        return "holds heights only, no plane"
    if flat.is_geographic:
        return "is in degrees, no plane"
    if not flat.is_projected:
        return "is no projected system"
    if {axis.direction for axis in flat.axis_info[:2]} != {"east", "north"}:
        return "does not count east and north"
    return ""


def _choose(sources: Sequence[PlaneSource]) -> Choice:
    geographic = [source for source in sources if source.is_geographic]
    systems = {source.crs for source in sources if not source.is_geographic}
    if geographic and not systems:
        return _local_mercator(geographic)
    if geographic or len({_same_key(crs) for crs in systems}) > 1:
        what = (
            f"{_told(sources)} are in different coordinates: the job must name an EPSG code, such as "
            f'crs = "{_example(sources)}"'
        )
        raise InputError(what, item=_ITEM)
    crs = next(iter(sorted(systems)), "")
    if not crs:
        return Plane(), ()
    plane = _declared_plane(crs, sources)
    return plane, (_chosen(f"the plane is {plane.name}, that of the files"),)


def _local_mercator(sources: Sequence[PlaneSource]) -> Choice:
    west, south, east, north = _union(sources)
    if east - west > _WIDEST_DEG or north - south > _WIDEST_DEG:
        what = (
            f"the files reach over {max(east - west, north - south):.0f} degrees, no single site: "
            "check their coordinates, or name an EPSG code"
        )
        raise InputError(what, item=_ITEM)
    lat_deg = round((south + north) / 2, 4)
    lon_deg = round(_wrapped((west + east) / 2), 4)
    name = f"local transverse Mercator at {_degrees(lat_deg, 'NS')} {_degrees(lon_deg, 'EW')}"
    plane = Plane(name, local_mercator(lat_deg, lon_deg))
    return plane, (_chosen(f"the files are in degrees, so the plane is a {name}, in metres"),)


def _chosen(message: str) -> Finding:
    return Finding(NOTE, "plane-chosen", Place(), message, "name an EPSG code as crs to use another")


def _union(sources: Sequence[PlaneSource]) -> Bounds:
    """Limits of all sources in degrees; east of 180 where they lie across that meridian."""
    west = [source.bounds[0] for source in sources]
    east = [source.bounds[2] for source in sources]
    if max(east) - min(west) > 180:
        turned = [value + 360 if value < 0 else value for value in (*west, *east)]
        west = east = turned
    return min(west), min(s.bounds[1] for s in sources), max(east), max(s.bounds[3] for s in sources)


def _example(sources: Sequence[PlaneSource]) -> str:
    """EPSG code of the UTM zone of the first file in degrees; any zone where there is none."""
    first = next((source for source in sources if source.is_geographic), None)
    if first is None:
        return "EPSG:26916"
    lon_deg = _wrapped((first.bounds[0] + first.bounds[2]) / 2)
    lat_deg = (first.bounds[1] + first.bounds[3]) / 2
    if abs(lat_deg) > _UTM_LIMIT_DEG:
        return "EPSG:3413" if lat_deg > 0 else "EPSG:3031"
    zone = min(int((lon_deg + 180) // _UTM_ZONE_DEG) + 1, 60)
    return f"EPSG:{(32600 if lat_deg >= 0 else 32700) + zone}"


def _told(sources: Sequence[PlaneSource]) -> str:
    """Files and their kinds of coordinates, for a message; at most four."""
    parts = []
    for source in dict.fromkeys(sources):
        kind = (
            "degrees"
            if source.is_geographic
            else crs_title(source.crs)
            if source.crs
            else "a plane without a code"
        )
        parts.append(f"{source.file or 'points of the job'} ({kind})")
    return ", ".join(parts[:4]) + (f" and {len(parts) - 4} more" if len(parts) > 4 else "")


def _same_key(crs: str) -> str:
    return crs_title(crs) if crs else ""


def _wrapped(lon_deg: float) -> float:
    return (lon_deg + 180) % 360 - 180 if not -180 <= lon_deg <= 180 else lon_deg


def _degrees(value: float, letters: str) -> str:
    return f"{math.fabs(value):.4f} {letters[0] if value >= 0 else letters[1]}"
