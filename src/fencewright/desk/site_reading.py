"""The files that a job names to its site: plane, lines, obstacles, ground."""

import math
from collections.abc import Callable
from dataclasses import dataclass, field, fields, replace
from difflib import get_close_matches
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import Catalogue
from fencewright.exchange.crs_text import read_crs
from fencewright.exchange.ground_files import ground_crs, is_read_in_metres, read_ground
from fencewright.exchange.ground_request import GroundRequest, same_place
from fencewright.exchange.records import LINE, POINT, POLYGON, SiteFeature, SiteFile
from fencewright.exchange.site_files import read_site_file
from fencewright.findings import Finding, InputError
from fencewright.job.filling import pick
from fencewright.job.schema import JobFile, Line, Obstacle
from fencewright.quantity.show import UnitSystem
from fencewright.site.features import DrawnLine, Site, SiteObstacle, SiteReference
from fencewright.site.ground import FlatGround, Ground
from fencewright.site.ground_precision import GroundPrecision
from fencewright.site.plane import Origin, Plane, from_plane, to_plane
from fencewright.site.plane_choice import PlaneSource, choose_plane
from fencewright.site.plane_findings import datum_findings, grid_scale_finding
from fencewright.site.reference_points import place_references
from fencewright.site.survey_table import UNIT_M

Floats = NDArray[np.float64]

_TAPED_M = 500.0  # no tie is taped from further away
_MARGIN_M = 50.0  # ground is read this far beyond the lines, for gates' arcs and brace feet


@dataclass(frozen=True, slots=True, eq=False)
class SiteKept:
    """What was read from one folder whose files do not change: site files by name and layer, grounds by request."""

    files: dict[tuple[str, str | None], SiteFile] = field(default_factory=dict)
    grounds: dict[tuple[object, ...], tuple[Ground, list[Finding]]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, eq=False)
class _Files:
    """Site files of a job, each read once, by path and layer."""

    folder: Path
    kept: SiteKept
    read: dict[tuple[str, str | None], SiteFile] = field(default_factory=dict)

    def get(self, name: str, layer: str | None, item: str) -> SiteFile:
        key = (name, layer)
        if key not in self.kept.files:
            try:
                self.kept.files[key] = _named(
                    read_site_file(self.folder / name, layer), str(self.folder / name), name
                )
            except InputError as error:
                raise error.within(file=name, item=item) from error
        return self.read.setdefault(key, self.kept.files[key])


def _named(file: SiteFile, path: str, name: str) -> SiteFile:
    """Call a file in its findings as the job does, so that a job moved to another folder says the same."""
    said = tuple(
        replace(
            one,
            where=replace(one.where, id=one.where.id.replace(path, name)),
            message=one.message.replace(path, name),
        )
        for one in file.findings
    )
    return replace(file, findings=said)


def read_site(
    asked: JobFile, catalogue: Catalogue, folder: Path, kept: SiteKept | None = None
) -> tuple[Site, tuple[Finding, ...]]:
    """Read every site file of a job onto its plane; what `kept` holds already is not read again.

    Returns
    -------
    site : Site
        Lines in job order, obstacles, ground.
    findings : tuple of Finding
        What the readers and the plane have to say.

    Raises
    ------
    InputError
        A file, layer or feature that is not there or cannot be used; coordinates that do not fit together.
    """
    kept = SiteKept() if kept is None else kept
    files = _Files(folder, kept)
    for line in asked.line:
        if line.file:
            files.get(line.file, line.layer, f'line "{line.name}"')
    for number, obstacle in enumerate(asked.obstacle):
        if obstacle.file:
            files.get(obstacle.file, obstacle.layer, f"obstacle {number + 1}")
    show = UnitSystem(asked.job.sheets)
    plane, said = _plane(asked, files)
    findings = [*said, *(finding for file in files.read.values() for finding in file.findings)]
    for (name, _), file in files.read.items():
        findings += [one for one in datum_findings(plane, file.crs, name, show) if one not in findings]
    lines = tuple(_line(line, files, plane, asked) for line in asked.line)
    obstacles = tuple(
        made
        for number, one in enumerate(asked.obstacle)
        for made in _obstacles(one, number, files, plane, asked, catalogue)
    )
    references = _references(asked, plane)
    ground, said = _ground(
        asked, catalogue, (folder, kept), plane, [*(line.xy_m for line in lines), *_near(references, lines)]
    )
    findings += said
    everything = np.vstack([line.xy_m for line in lines]) if lines else np.zeros((0, 2))
    scale = grid_scale_finding(plane, everything, show) if len(everything) else None
    findings += [scale] if scale else []
    return Site(plane, ground, lines, obstacles, references), tuple(findings)


def _references(asked: JobFile, plane: Plane) -> tuple[SiteReference, ...]:
    site = asked.site
    bare = None if plane.crs or site.origin is None else Origin(*site.origin, math.degrees(site.north))
    rows = [(one.name, one.at, one.lat_lon, one.elevation) for one in asked.reference]
    return place_references(rows, plane, bare)


def _near(references: tuple[SiteReference, ...], lines: tuple[DrawnLine, ...]) -> list[Floats]:
    """Reference points whose height the ground must give; one out of any tape's reach is left out."""
    every = np.vstack([np.zeros((0, 2)), *(line.xy_m for line in lines)])
    if not len(every):
        return []
    low, high = every.min(axis=0) - _TAPED_M, every.max(axis=0) + _TAPED_M
    places = [np.array([[one.x_m, one.y_m]]) for one in references if math.isnan(one.elevation_m)]
    return [place for place in places if ((place >= low) & (place <= high)).all()]


def _plane(asked: JobFile, files: _Files) -> tuple[Plane, list[Finding]]:
    sources = [
        PlaneSource(one.crs, one.is_geographic, one.bounds, Path(one.path).name)
        for one in files.read.values()
    ]
    rows: list[Line | Obstacle] = [*asked.line, *asked.obstacle]
    inline = [point for row in rows for point in row.points or ()]
    if inline:
        xy = np.array(inline)
        (west, south), (east, north) = xy.min(axis=0).tolist(), xy.max(axis=0).tolist()
        sources.append(PlaneSource("", False, (west, south, east, north)))
    plane, findings = choose_plane(asked.site.crs, sources)
    return plane, list(findings)


def _unit(file: SiteFile, asked: JobFile, item: str) -> float:
    """Metres in one unit of a plane file, from the file or the job."""
    if file.is_geographic or file.crs or np.isfinite(file.unit_m):
        return file.unit_m
    if asked.site.file_unit is None:
        raise InputError(
            'the file does not say in which unit its coordinates are: set [site] file_unit = "ft" or "m"',
            file=Path(file.path).name,
            item=item,
        )
    return UNIT_M[asked.site.file_unit]


def _features(
    row: Line | Obstacle, files: _Files, item: str, wanted: tuple[str, ...]
) -> tuple[SiteFile, list[SiteFeature]]:
    """Features of the row's file that it may mean."""
    file = files.get(str(row.file), row.layer, item)
    name = Path(str(row.file)).name
    found = [feature for feature in file.features if feature.geometry in wanted]
    if row.feature is not None:
        named = [feature for feature in found if feature.name == row.feature]
        if not named:
            names = [feature.name for feature in found]
            near = get_close_matches(row.feature, names, n=1, cutoff=0.3)
            hint = (
                f"did you mean {near[0]!r}?"
                if near
                else f"it holds {', '.join(names[:6]) or 'none of that kind'}"
            )
            raise InputError(f"there is no feature {row.feature!r}; {hint}", file=name, item=item)
        found = named
    if not found:
        kinds = " or ".join(wanted)
        raise InputError(f"it holds no {kinds}: name another file or layer", file=name, item=item)
    return file, found


def _line(row: Line, files: _Files, plane: Plane, asked: JobFile) -> DrawnLine:
    item = f'line "{row.name}"'
    if (row.points is None) == (row.file is None):
        raise InputError("give either points or a file", item=item)
    if row.points is not None:
        return DrawnLine(row.name, np.array(row.points, np.float64).reshape(-1, 2), bool(row.closed))
    file, found = _features(row, files, item, (LINE, POLYGON))
    if len(found) > 1:
        names = ", ".join(repr(feature.name) for feature in found[:6])
        raise InputError(
            f"it holds {len(found)} lines ({names}): name one with feature = ..., or its layer",
            file=Path(file.path).name,
            item=item,
        )
    xy = to_plane(plane, found[0].points, file.crs, _unit(file, asked, item))
    closed = found[0].is_closed if row.closed is None else row.closed
    if closed and len(xy) > 2 and np.hypot(*(xy[0] - xy[-1])) < 1e-3:
        xy = xy[:-1]
    return DrawnLine(row.name, xy, closed)


def _obstacles(
    row: Obstacle, number: int, files: _Files, plane: Plane, asked: JobFile, catalogue: Catalogue
) -> list[SiteObstacle]:
    item = f"obstacle {number + 1}" + (f' "{row.name}"' if row.name else "")
    kind = pick(catalogue.obstacles, row.kind, "kind of obstacle", item)
    if (row.points is None) == (row.file is None):
        raise InputError("give either points or a file", item=item)
    if row.points is not None:
        if not row.points:
            raise InputError("it has no points: give at least one", item=item)
        xy = np.array(row.points, np.float64).reshape(-1, 2)
        shapes = [(row.name, _shape(len(xy), row.closed), xy)]
    else:
        file, found = _features(row, files, item, (POINT, LINE, POLYGON))
        unit = _unit(file, asked, item)
        shapes = [
            (row.name or feature.name, POLYGON if row.closed or feature.is_closed else feature.geometry,
             to_plane(plane, feature.points, file.crs, unit))
            for feature in found
        ]  # fmt: skip
    clearance = kind.clearance_m if row.clearance is None else row.clearance
    return [
        SiteObstacle(
            name or f"{row.kind} {number + 1}", row.kind, geometry, xy, clearance, row.radius, kind.colour,
            kind.is_service, kind.is_water, kind.is_overhead, kind.bars_machines, kind.is_solid,
        )
        for name, geometry, xy in shapes
    ]  # fmt: skip


def _shape(count: int, closed: bool) -> str:
    if count == 1:
        return POINT
    return POLYGON if closed and count > 2 else LINE


def ground_precision(catalogue: Catalogue, survey: str) -> GroundPrecision:
    """Standard deviations of ground surveys from the practice rows."""
    rows = catalogue.practice
    names = {
        field.name: f"ground.{field.name.removesuffix('_m').removesuffix('_rad')}"
        for field in fields(GroundPrecision)
    }
    values = {field: float(str(rows[name].value)) for field, name in names.items()}
    if survey == "rtk":
        values["spots_sd_m"] = values["rtk_sd_m"]
    return GroundPrecision(**values)


def _ground(
    asked: JobFile, catalogue: Catalogue, source: tuple[Path, SiteKept], plane: Plane, places: list[Floats]
) -> tuple[Ground, list[Finding]]:
    site = asked.site
    if site.ground == "flat":
        usual = float(str(catalogue.practice["ground.flat_sd"].value))
        return FlatGround(level_sd_m=usual if site.ground_sd is None else site.ground_sd), []
    if not places:
        return FlatGround(), []
    folder, kept = source
    path = folder / site.ground
    every = np.vstack(places)
    low, high = every.min(axis=0) - _MARGIN_M, every.max(axis=0) + _MARGIN_M
    key = (
        site.ground,
        site.survey,
        site.ground_unit,
        site.file_unit,
        site.ground_sd,
        asked.job.sheets,
        plane,
        *low.tolist(),
        *high.tolist(),
    )
    if key in kept.grounds:
        return kept.grounds[key]
    try:
        to_file, from_file = _ways(path, plane, site.file_unit)
        request = GroundRequest(
            precision=ground_precision(catalogue, site.survey),
            to_file=to_file,
            from_file=from_file,
            z_unit=site.ground_unit,
            xy_unit=site.file_unit,
            bounds_m=(float(low[0]), float(low[1]), float(high[0]), float(high[1])),
            source_sd_m=site.ground_sd,
            show=UnitSystem(asked.job.sheets),
        )
        ground, findings = read_ground(path, request)
    except InputError as error:
        raise error.within(file=site.ground, item="site, ground") from error
    kept.grounds[key] = ground, list(findings)
    return kept.grounds[key]


def _ways(
    path: Path, plane: Plane, file_unit: str | None
) -> tuple[Callable[[Floats], Floats], Callable[[Floats], Floats]]:
    """Ways from the plane [m] to a ground file's coordinates and back."""
    crs = ground_crs(path)
    if crs is not None and plane.crs and crs != plane.crs:
        return (lambda xy: from_plane(plane, xy, crs)), (lambda xy: to_plane(plane, xy, crs))
    if crs is not None:
        unit_m = read_crs(crs, path.name).unit_m
    elif is_read_in_metres(path):
        unit_m = 1.0
    else:
        unit_m = plane.unit_m if file_unit is None else UNIT_M[file_unit]
    if math.isnan(unit_m) or unit_m == 1.0:
        return same_place, same_place
    return (lambda xy: xy / unit_m), (lambda xy: xy * unit_m)
