"""A design to its files: every output as bytes, then all of them into one folder."""

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

from fencewright.exchange.design_json import design_json, design_record
from fencewright.exchange.fence_geojson import write_geojson
from fencewright.exchange.fence_gpkg import write_gpkg
from fencewright.exchange.fence_layers import map_layers
from fencewright.exchange.fence_place import map_reference, place_findings, way_to_degrees, wkt_of
from fencewright.exchange.stakes_gpx import write_gpx
from fencewright.exchange.tables_csv import CSV_TABLES, csv_file
from fencewright.exchange.xlsx import order_xlsx
from fencewright.findings import InputError
from fencewright.pipeline.record import Design
from fencewright.store.files import manifest_of, write_whole

Progress = Callable[[str], object]


def write_design(
    design: Design,
    folder: Path | str,
    progress: Progress | None = None,
) -> dict[str, Any]:
    """Write every output of a design into a folder, the manifest last.

    Parameters
    ----------
    design : Design
        The whole design; one with a `stop` finding is written too, and every file says that it must not be built.
    folder : Path or str
        Where; made if it is not there.
    progress : callable, optional
        Called with the name of each file before it is made.

    Returns
    -------
    dict
        The manifest: `program`, `version`, `digest`, `may_be_built`, `files`.

    Raises
    ------
    InputError
        The folder is a file.
    InternalFault
        A fault of the disk; earlier results stand as they were.
    """
    record, files = design_outputs(design, progress)
    if progress:
        progress("manifest.json")
    return write_whole(Path(folder), files, manifest_about(record))


def write_beside(
    design: Design, files: Mapping[str, bytes], folder: Path | str, outdated: Collection[str] = ()
) -> dict[str, Any]:
    """Write what follows from a design (price, programme, paper) into a folder, beside the design's own files.

    Parameters
    ----------
    design : Design
        What the files were made from.
    files : mapping of str to bytes
        Content by plain file name.
    folder : Path or str
        Where; made if it is not there. Files of the same design that are there already stay.
    outdated : collection of str, optional
        Files that are drawn from these ones, and go where any of these changes.

    Returns
    -------
    dict
        The manifest: `program`, `version`, `digest` (of design.json), `may_be_built`, `files`.

    Raises
    ------
    InputError
        The folder is a file, or holds the design of another state of the job.
    InternalFault
        A fault of the disk; earlier results stand as they were.
    """
    place = Path(folder)
    record = design_record(_with_place(design))
    there = manifest_of(place) or {}
    holds_design = any(row.get("name") == "design.json" for row in there.get("files", []))
    if holds_design and any(there.get(key) != record[key] for key in ("version", "digest")):
        raise InputError(
            "holds the design of another state of this job, or of another job: write the design there again, "
            "or name another folder with --out",
            file=str(place),
        )
    return write_whole(place, files, manifest_about(record), outdated)


def manifest_about(record: Mapping[str, Any]) -> dict[str, Any]:
    """Give what the manifest says beside its list of files, from the record of design.json."""
    about = {key: record[key] for key in ("program", "version", "digest", "may_be_built")}
    return {**about, "job": record["job"]["name"]}


def outputs(design: Design, progress: Progress | None = None) -> dict[str, bytes]:
    """Give every output of a design by file name, the manifest apart; arguments as of `write_design`.

    Findings: `no-place` (note) is added where the job's plane has no place on the Earth.
    """
    return design_outputs(design, progress)[1]


def design_outputs(
    design: Design, progress: Progress | None = None
) -> tuple[dict[str, Any], dict[str, bytes]]:
    """Give the record of design.json, and every output as of `outputs`."""
    told = progress or (lambda _: None)
    whole = _with_place(design)
    told("design.json")
    record, content = design_json(whole)
    files = {"design.json": content}
    for makers in (_tables(record), _maps(record, whole), _drawings(whole)):
        for name, make in makers:
            told(name)
            files[name] = make()
    return record, files


Makers = Iterator[tuple[str, Callable[[], bytes]]]


def _with_place(design: Design) -> Design:
    """Give the design with a word on its place on the Earth, where it has none."""
    said = {finding.code for finding in design.findings}
    more = tuple(finding for finding in place_findings(design.job) if finding.code not in said)
    return replace(design, findings=(*design.findings, *more)) if more else design


def _tables(record: dict[str, Any]) -> Makers:
    for name in CSV_TABLES:
        yield name, partial(csv_file, name, record)
    yield "order.xlsx", lambda: order_xlsx(record)


def _maps(record: dict[str, Any], design: Design) -> Makers:
    job = design.job
    layers = map_layers(record, job.site.obstacles)
    lon_lat = way_to_degrees(job)
    about = {key: record[key] for key in ("program", "version", "digest", "may_be_built")}
    words = f"{record['program']} {record['version']}, design {record['digest'][:12]}, elevations in metres"
    if not record["may_be_built"]:
        words = f"NOT TO BE BUILT; {words}"
    yield "fence.geojson", lambda: write_geojson(layers, lon_lat, about)
    yield "fence.gpkg", lambda: write_gpkg(layers, map_reference(job), wkt_of(), words, job.site.plane.unit_m)
    yield "stakes.gpx", lambda: write_gpx(record, lon_lat)


def _drawings(design: Design) -> Makers:
    from fencewright.sheets.dxf import plan_dxf
    from fencewright.sheets.plan import draw_plan
    from fencewright.sheets.section import draw_section
    from fencewright.sheets.strength_sheet import draw_strength
    from fencewright.sheets.svg import write_svg
    from fencewright.sheets.tension_sheet import draw_tension

    yield "plan.svg", lambda: write_svg(draw_plan(design)).encode("utf-8", "replace")
    yield "section.svg", lambda: write_svg(draw_section(design)).encode("utf-8", "replace")
    yield "tension.svg", lambda: write_svg(draw_tension(design)).encode("utf-8", "replace")
    yield "strength.svg", lambda: write_svg(draw_strength(design)).encode("utf-8", "replace")
    yield "plan.dxf", lambda: plan_dxf(design)
