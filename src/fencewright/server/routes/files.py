"""Files of a job: given, looked at, taken back; what its ground and the catalogue hold."""

from typing import Any

import numpy as np
from fastapi import APIRouter, Query, Request, Response, UploadFile
from starlette.concurrency import run_in_threadpool

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.exchange.design_rows import json_numbers
from fencewright.findings import InputError
from fencewright.job.schema import JobFile
from fencewright.server.importing import look_again, look_at
from fencewright.server.intake import LARGEST_UPLOAD_BYTES, take_files
from fencewright.server.models import CatalogueAnswer, FileGiven, FilesAnswer, RevisionNumber, TerrainAnswer
from fencewright.server.routes.needs import ERRORS, JobId, Served
from fencewright.server.service import job_state
from fencewright.server.uploads import read_uploads
from fencewright.store.records import Made, Missing

router = APIRouter(prefix="/api", tags=["files"], responses=ERRORS)
_MOST_CELLS = 250_000
_AROUND_M = 30.0


@router.post("/jobs/{id}/files", operation_id="giveFiles")
async def give_files(
    service: Served,
    id: JobId,  # noqa: A002
    request: Request,
    files: list[UploadFile],
    base: RevisionNumber,
    window: str = Query("", max_length=64),
) -> FilesAnswer:
    """Give files to a job, as one revision; an `import_file` edit then makes use of them."""
    given = await read_uploads(request, files, LARGEST_UPLOAD_BYTES)

    def accepted() -> FilesAnswer:
        taken = take_files(given)
        state = service.store.state(id, base)
        held = {path: service.store.content(digest) for path, digest in state.files.items()}
        seen = look_at({**held, **taken}, taken)
        label = f"give {', '.join(list(taken)[:3])}" + (" and more" if len(taken) > 3 else "")
        made = Made(base, state.text, label, state.job.name, window, taken)
        after = service.move(id, lambda: service.store.accept(id, made).state, window)
        return FilesAnswer(state=job_state(service, after), given=seen)

    return await run_in_threadpool(accepted)


@router.get("/jobs/{id}/files", operation_id="lookAtFiles")
def look_at_files(service: Served, id: JobId) -> list[FileGiven]:  # noqa: A002
    """Say of every file that the job holds what it can be: as the answer did when it was given."""
    state = service.store.state(id)
    return look_again({path: service.store.content(digest) for path, digest in sorted(state.files.items())})


@router.get("/jobs/{id}/files/{path:path}", operation_id="getFile", response_class=Response)
def get_file(service: Served, id: JobId, path: str) -> Response:  # noqa: A002
    """Give back a file that the job holds, as it was given."""
    state = service.store.state(id)
    if path not in state.files:
        raise Missing("there is no such file in this job")
    return Response(
        service.store.content(state.files[path]),
        media_type="application/octet-stream",
        headers={"Content-Disposition": "attachment"},
    )


@router.get("/jobs/{id}/terrain", operation_id="getTerrain")
def get_terrain(
    service: Served,
    id: JobId,  # noqa: A002
    most: int = Query(20_000, ge=100, le=_MOST_CELLS, description="Most cells."),
) -> TerrainAnswer:
    """Give elevations on a grid over the job's lines, for contours and shading."""
    site = service.read(service.store.state(id)).site
    drawn = [line.xy_m for line in site.lines if len(line.xy_m)]
    every = np.vstack(drawn) if drawn else np.zeros((1, 2))
    low, high = every.min(axis=0) - _AROUND_M, every.max(axis=0) + _AROUND_M
    step = max(float(np.sqrt(np.prod(high - low) / most)), 0.5)
    columns, rows = (int(np.ceil(one / step)) + 1 for one in (high - low))
    x, y = np.meshgrid(low[0] + step * np.arange(columns), low[1] + step * np.arange(rows))
    elevation = site.ground.elevation_m(x.ravel(), y.ravel())
    return TerrainAnswer(
        x_m=float(low[0]), y_m=float(low[1]), step_m=step, columns=columns, rows=rows,
        elevation_m=json_numbers(elevation, "length"), source=site.ground.source,
    )  # fmt: skip


@router.get("/jobs/{id}/catalogue", operation_id="getCatalogue")
def get_catalogue(service: Served, id: JobId) -> CatalogueAnswer:  # noqa: A002
    """Give the names that the job file may use: the shipped rows and the job's own data sheets.

    Of a job that cannot be read, the shipped ones alone: the live answer says why, and its forms mend it.
    """
    try:
        rows: Any = service.read(service.store.state(id)).catalogue
    except InputError:
        rows = shipped_catalogue()
    return CatalogueAnswer(
        rails=list(rows.rails), obstacles=list(rows.obstacles), soils=list(rows.soils), bags=list(rows.bags),
        timbers=list(rows.timbers), pipes=list(rows.pipes), stock=list(rows.kept),
    )  # fmt: skip


@router.get("/job-schema", operation_id="getJobSchema")
def get_job_schema() -> dict[str, Any]:
    """Give the JSON Schema of the job file: every table and key, with what it means."""
    return JobFile.model_json_schema(by_alias=True)
