"""The answer: the live stream, the whole design, why a number is what it is, and everything to take away."""

import mimetypes
from typing import Annotated, Any

from fastapi import APIRouter, Query, Response
from fastapi.responses import StreamingResponse
from starlette.concurrency import run_in_threadpool

from fencewright.pipeline.why_record import source_text
from fencewright.server.archive import archive_of
from fencewright.server.live_models import LiveEvents
from fencewright.server.live_runs import Question
from fencewright.server.models import LeftOutInfo, OutputInfo, OutputsAnswer, WhyAnswer
from fencewright.server.parts import part_answer
from fencewright.server.routes.needs import ERRORS, MISSING_PART, At, JobId, Served
from fencewright.store.records import Missing

router = APIRouter(prefix="/api/jobs/{id}", tags=["designs"], responses=ERRORS)
_TYPES = {
    ".gpkg": "application/geopackage+sqlite3",
    ".gpx": "application/gpx+xml",
    ".geojson": "application/geo+json",
    ".dxf": "image/vnd.dxf",
    ".csv": "text/csv; charset=utf-8",
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    ".toml": "application/toml",
    ".json": "application/json",
}
_STREAM: dict[int | str, dict[str, Any]] = {
    200: {
        "model": LiveEvents,
        "content": {"text/event-stream": {}},
        "description": "Server-sent events `stage`, `refused` and `head`; each one's data is the model of that name.",
    }
}


@router.get("/live", operation_id="live", responses=_STREAM, response_class=StreamingResponse)
async def live(service: Served, id: JobId, window: str = "") -> StreamingResponse:  # noqa: A002
    """Follow a job: the design of its present revision, stage by stage, and of every later one."""

    def present() -> Question:
        return service.question(service.store.state(id))

    # a job that is not there is refused before the stream begins
    await run_in_threadpool(service.store.state, id)
    service.wholes.start_soon(id)
    headers = {"Cache-Control": "no-store", "X-Accel-Buffering": "no"}
    return StreamingResponse(
        service.board.stream(id, window, present), media_type="text/event-stream", headers=headers
    )


@router.get("/design", operation_id="getDesign", response_class=Response)
def get_design(service: Served, id: JobId, at: At = None) -> Response:  # noqa: A002
    """Give design.json, byte for byte as the command line writes it."""
    return Response(
        service.task(service.store.state(id, at), "design.json"),
        media_type="application/json",
    )


@router.get("/why/{thing}", operation_id="getWhy")
def get_why(service: Served, id: JobId, thing: str, at: At = None) -> WhyAnswer:  # noqa: A002
    """Say why each number of a thing is what it is.

    By name: P17, P17-2, B3, R1-2, C4, a gate, a line of the order, a sum, price:ID, programme:ID.
    """
    record = service.task(service.store.state(id, at), "why", thing)
    for reason in record["reasons"]:
        reason["source_text"] = source_text(reason["source"])
    return WhyAnswer.model_validate(record)


@router.get("/outputs", operation_id="listOutputs")
def list_outputs(service: Served, id: JobId, at: At = None) -> OutputsAnswer:  # noqa: A002
    """List every file to take away, and what could not be made, with why."""
    made = service.outputs(service.store.state(id, at))
    return OutputsAnswer(
        files=[OutputInfo(name=name, media_type=media_type(name)) for name in made.files],
        left_out=[LeftOutInfo(what=what, sentence=sentence) for what, sentence in made.left_out],
    )


@router.get("/outputs/{name}", operation_id="getOutput", response_class=Response)
def get_output(service: Served, id: JobId, name: str, at: At = None, show: bool = False) -> Response:  # noqa: A002
    """Give one file to take away; `show` lets the page show a drawing rather than keep it."""
    content, names = service.output(service.store.state(id, at), name)
    if content is None:
        raise Missing(f"there is no output of that name: there are {', '.join(names)}")
    headers = {} if show else {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(content, media_type=media_type(name), headers=headers)


@router.get("/archive.zip", operation_id="getArchive", response_class=Response)
def get_archive(service: Served, id: JobId, at: At = None) -> Response:  # noqa: A002
    """Give one archive of everything: the job file and its files, and all outputs with their manifest."""
    state = service.store.state(id, at)
    held = {path: service.store.content(digest) for path, digest in state.files.items()}
    files = {"job.toml": state.text.encode(), **held}
    outputs = service.outputs(state).files
    files |= {f"fence/{name}": content for name, content in outputs.items() if name != "job.toml"}
    headers = {"Content-Disposition": 'attachment; filename="fence.zip"'}
    return Response(archive_of(files), media_type="application/zip", headers=headers)


@router.get("/parts/{part}", operation_id="getPart", responses=MISSING_PART)
def get_part(
    service: Served,
    id: JobId,  # noqa: A002
    part: str,
    at: At = None,
    alone: Annotated[
        bool, Query(description="The price without its alternatives, which take longer.")
    ] = False,
) -> dict[str, Any]:
    """Give the price, the programme or the papers of a job, where this version has that part."""
    return part_answer(service, service.store.state(id, at), part, is_alone=alone)


def media_type(name: str) -> str:
    """Media type of an output by its name."""
    kind = "." + name.rsplit(".", 1)[-1].lower()
    return _TYPES.get(kind) or mimetypes.guess_type(name)[0] or "application/octet-stream"
