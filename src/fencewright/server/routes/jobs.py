"""The list of jobs: new, copy, import, delete and restore, with a small picture of each."""

from fastapi import APIRouter, Request, Response, UploadFile

from fencewright.edits.applying import read_edit
from fencewright.findings import InputError
from fencewright.server.importing import job_from_upload, new_job_text
from fencewright.server.intake import LARGEST_UPLOAD_BYTES, take_files
from fencewright.server.models import CopyJob, JobState, JobSummary, NewJob
from fencewright.server.routes.needs import ERRORS, At, JobId, Served
from fencewright.server.service import job_state, summary
from fencewright.server.uploads import read_uploads
from fencewright.sheets.thumbnail import thumbnail_svg, unreadable_svg
from fencewright.store.records import Missing

router = APIRouter(prefix="/api/jobs", tags=["jobs"], responses=ERRORS)


@router.get("", operation_id="listJobs")
def list_jobs(service: Served, deleted: bool = False) -> list[JobSummary]:
    """List the jobs, the one changed last first; or those that were deleted."""
    return [summary(row) for row in service.store.list_jobs(deleted=deleted)]


@router.post("", operation_id="newJob", status_code=201)
def new_job(service: Served, asked: NewJob) -> JobState:
    """Start a job: empty, or with an example to change."""
    text = new_job_text(asked.name, asked.sheets, example=asked.start == "example")
    return job_state(service, service.store.new_job(asked.name, text, window=asked.window))


@router.post("/import", operation_id="importJob", status_code=201)
async def import_job(service: Served, request: Request, files: list[UploadFile]) -> JobState:
    """Make a job of what is uploaded: a job.toml with its files, an archive of them, or site files alone."""
    from starlette.concurrency import run_in_threadpool

    given = await read_uploads(request, files, LARGEST_UPLOAD_BYTES)

    def made() -> JobState:
        name, text, kept = job_from_upload(take_files(given))
        state = service.store.new_job(name, text, kept, label="import")
        return job_state(service, state)

    return await run_in_threadpool(made)


@router.get("/{id}", operation_id="getJob")
def get_job(service: Served, id: JobId, revision: At = None) -> JobState:  # noqa: A002
    """Give a job as it is, or as it was at a revision."""
    return job_state(service, service.store.state(id, revision))


@router.post("/{id}/copy", operation_id="copyJob", status_code=201)
def copy_job(service: Served, id: JobId, asked: CopyJob) -> JobState:  # noqa: A002
    """Copy a job as it is; the copy has a history of its own."""
    state = service.store.state(id)
    name = asked.name or f"{state.job.name} copy"[:300]
    edit = read_edit({"kind": "set", "path": ["job", "name"], "value": name})
    made = service.apply(state, edit)
    return job_state(service, service.store.copy_job(id, name, made.text, window=asked.window))


@router.delete("/{id}", operation_id="deleteJob")
def delete_job(service: Served, id: JobId) -> JobSummary:  # noqa: A002
    """Delete a job; restore brings it back."""
    return summary(service.store.delete(id))


@router.post("/{id}/restore", operation_id="restoreJob")
def restore_job(service: Served, id: JobId) -> JobSummary:  # noqa: A002
    """Bring a deleted job back."""
    return summary(service.store.restore(id))


@router.get("/{id}/picture.svg", operation_id="getPicture", response_class=Response)
def get_picture(
    service: Served,
    id: JobId,  # noqa: A002
    at: At = None,
) -> Response:
    """Give a small picture of a job: its lines, gates and what lies in the way."""
    try:
        picture = thumbnail_svg(service.read(service.store.state(id, at)))
    except Missing:
        raise
    except InputError:  # also a job that a newer version wrote
        picture = unreadable_svg()
    keep = "private, max-age=31536000, immutable" if at else "no-cache"
    return Response(picture, media_type="image/svg+xml", headers={"Cache-Control": keep})
