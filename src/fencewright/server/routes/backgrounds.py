"""Backgrounds of the plan: what a file of the job shows there, and its picture as it lies in the job's plane."""

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Depends, Query, Response

from fencewright.exchange.picture_warp import Bounds
from fencewright.findings import InputError
from fencewright.job.record import Job
from fencewright.server.backgrounds import MOST_CELLS, WHOLE_CELLS, Asked, asked_of
from fencewright.server.models import BackgroundAnswer
from fencewright.server.routes.needs import ERRORS, JobId, Served
from fencewright.server.service import Service
from fencewright.store.records import Missing

router = APIRouter(prefix="/api/jobs/{id}", tags=["files"], responses=ERRORS)
Edge = Annotated[float | None, Query(allow_inf_nan=False, description="Edge of the part wanted. [m]")]
_PICTURE: dict[str, dict[str, str]] = {"image/png": {}, "image/jpeg": {}}


@dataclass(frozen=True, slots=True)
class PartWanted:
    """The part of a picture that is wanted, in the job's plane; nothing: all of it. [m]"""

    west: Edge = None
    south: Edge = None
    east: Edge = None
    north: Edge = None

    @property
    def bounds_m(self) -> Bounds | None:
        """West, south, east and north; None: all of it. [m]"""
        match self.west, self.south, self.east, self.north:
            case None, None, None, None:
                return None
            case float(west), float(south), float(east), float(north) if west < east and south < north:
                return west, south, east, north
        raise InputError("the part wanted needs west, south, east and north, in that order")


@router.get("/backgrounds/{path:path}", operation_id="getBackground")
def get_background(service: Served, id: JobId, path: str) -> BackgroundAnswer:  # noqa: A002
    """Say what a file of the job shows under the plan, and where; or in one sentence why it does not."""
    asked, job = _asked(service, id, path)
    return service.backgrounds.answer(asked, job)


@router.get(
    "/pictures/{path:path}",
    operation_id="getPlanPicture",
    response_class=Response,
    responses={200: {"content": _PICTURE}},
)
def get_plan_picture(
    service: Served,
    id: JobId,  # noqa: A002
    path: str,
    part: Annotated[PartWanted, Depends()],
    most: Annotated[int, Query(ge=16, le=MOST_CELLS, description="Most cells a side.")] = WHOLE_CELLS,
    key: Annotated[str, Query(max_length=64, description="As `address` gives it: it may then be kept.")] = "",
) -> Response:
    """Give a picture of the job as PNG or JPEG, north up in the job's plane, over its bounds or the part wanted."""
    asked, _ = _asked(service, id, path)
    content, media_type = service.backgrounds.picture(asked, part.bounds_m, most)
    keep = "private, max-age=31536000, immutable" if key == asked.key else "no-cache"
    return Response(content, media_type=media_type, headers={"Cache-Control": keep})


def _asked(service: Service, id: str, path: str) -> tuple[Asked, Job]:  # noqa: A002
    state = service.store.state(id)
    if path not in state.files:
        raise Missing("there is no such file in this job")
    job = service.read(state)
    return asked_of(state, job, service.folder(state), path), job
