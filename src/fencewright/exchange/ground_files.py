"""Ground from any file: the reader chosen by the file's name and what stands in it."""

import re
from pathlib import Path

from fencewright.exchange.ground_request import GroundRequest, need_file, read_text
from fencewright.exchange.height_datum import plane_name
from fencewright.findings import Finding, InputError
from fencewright.site.ground import Ground
from fencewright.site.survey_table import parse_survey_table

_RASTER = (".tif", ".tiff", ".asc")
_CLOUD = (".las", ".laz")
_SHEET = (".csv", ".txt")
LAND_KINDS = (".xml", ".landxml")  # LandXML: its surface is ground, its paths are lines
KINDS = (*_RASTER, *_CLOUD, *_SHEET, ".gpx", *LAND_KINDS)
_DEGREES = "EPSG:4326"


def ground_crs(path: Path) -> str | None:
    """Coordinate system of a ground file's places, heights left out.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    str or None
        An EPSG code where it is exactly one, else well-known text; None where the file names none.

    Raises
    ------
    InputError
        The file cannot be read, or is of a kind that holds no ground.
    """
    kind = _kind(path)
    if kind in _RASTER:
        from fencewright.exchange.geotiff import raster_crs

        return plane_name(raster_crs(path))
    if kind in _CLOUD:
        from fencewright.exchange.las import las_crs

        return plane_name(las_crs(path))
    if kind == ".gpx":
        return _DEGREES
    if kind in LAND_KINDS:
        from fencewright.exchange.landxml_ground import landxml_crs

        return landxml_crs(path)
    from fencewright.exchange.spots import spots_in_degrees

    return _DEGREES if spots_in_degrees(path) else None


def is_read_in_metres(path: Path) -> bool:
    """Tell whether a file without a coordinate system has its reader turn its places into metres.

    Rasters and clouds stay in the unit that they are in, which nothing in them names then.

    Raises
    ------
    InputError
        It is of a kind that holds no ground.
    """
    return _kind(path) not in (*_RASTER, *_CLOUD)


def read_ground(path: Path, request: GroundRequest) -> tuple[Ground, list[Finding]]:
    """Read ground from a file.

    Parameters
    ----------
    path : Path
        A raster (`.tif`, `.asc`), a point cloud (`.las`, `.laz`), spot heights or tape-and-level notes
        (`.csv`), a track (`.gpx`), or a surface (LandXML: `.xml`, `.landxml`).
    request : GroundRequest
        What is wanted of it: `to_file` is asked by rasters and clouds, `from_file` by spot heights, surfaces
        and tracks (degrees for `lon,lat` and GPX), `source_sd_m` not by tape-and-level notes.

    Returns
    -------
    ground : Ground
        In the job's plane, heights in metres.
    findings : list of Finding
        What the reader has to say; codes in the readers' own docstrings.

    Raises
    ------
    InputError
        The file cannot be read, or holds no ground for the line.
    """
    kind = _kind(path)
    if kind in _RASTER:
        from fencewright.exchange.geotiff import read_raster_ground

        return read_raster_ground(path, request)
    if kind in _CLOUD:
        from fencewright.exchange.las import read_las_ground

        return read_las_ground(path, request)
    if kind == ".gpx":
        from fencewright.exchange.gpx_heights import read_track_ground

        return read_track_ground(path, request)
    if kind in LAND_KINDS:
        from fencewright.exchange.landxml_ground import read_landxml_ground

        return read_landxml_ground(path, request)
    return _read_sheet(path, request)


def check_ground(path: Path) -> None:
    """See that a file can be ground, before any job says in which plane: a raster or cloud is only opened.

    Raises
    ------
    InputError
        It cannot; the sentence is that of its reader.
    """
    kind = _kind(path)
    if kind == ".gpx":
        from fencewright.exchange.gpx_heights import read_track_points

        if not read_track_points(path):
            raise InputError("holds no track with heights: give one that a receiver recorded", file=path.name)
    elif kind in LAND_KINDS:
        from fencewright.exchange.landxml_ground import check_landxml_ground

        check_landxml_ground(path)
    elif kind not in _SHEET:
        ground_crs(path)
    elif _is_level_notes(text := read_text(path), path):
        from fencewright.site.level_notes import parse_level_notes

        parse_level_notes(text, path.name)
    else:
        from fencewright.exchange.spots import parse_spots

        parse_spots(text, path.name, 1.0, 1.0)  # where the heading gives no unit, [site] may


def is_meant_as_ground(path: Path) -> bool:
    """Tell whether a sheet has a column of heights, or of legs: what is wrong with it is then told of those."""
    from fencewright.exchange.spots import HEIGHTS

    try:
        columns = parse_survey_table(read_text(path), path.name).columns
    except InputError:
        return False
    return "from" in columns or any(re.split(r"[\W_]", name)[0] in HEIGHTS for name in columns)


def _is_level_notes(text: str, path: Path) -> bool:
    return "from" in parse_survey_table(text, path.name).columns


def _read_sheet(path: Path, request: GroundRequest) -> tuple[Ground, list[Finding]]:
    """Spot heights or tape-and-level notes, by the sheet's own columns."""
    text = read_text(path)
    if not _is_level_notes(text, path):
        from fencewright.exchange.spots import read_spots

        return read_spots(path, request)
    from fencewright.site.level_adjustment import adjust_level_notes
    from fencewright.site.level_ground import level_findings, level_ground
    from fencewright.site.level_notes import parse_level_notes

    adjusted = adjust_level_notes(parse_level_notes(text, path.name), request.precision)
    return level_ground(adjusted, request.precision), list(level_findings(adjusted, request.show))


def _kind(path: Path) -> str:
    need_file(path)
    kind = path.suffix.lower()
    if kind not in KINDS:
        raise InputError(
            f'"{kind or path.name}" is no kind of ground file: give one of {", ".join(KINDS)}', file=path.name
        )
    return kind
