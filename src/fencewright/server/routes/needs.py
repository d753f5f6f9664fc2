"""What every route asks of its request."""

from typing import Annotated, Any

from fastapi import Depends, Path, Query, Request

from fencewright.server.models import ErrorAnswer, RevisionNumber
from fencewright.server.service import Service


def service_of(request: Request) -> Service:
    """Give the service of the server that took the request."""
    service: Service = request.app.state.service
    return service


Served = Annotated[Service, Depends(service_of)]
JobId = Annotated[str, Path(max_length=64, description="The job.")]
At = Annotated[RevisionNumber | None, Query(description="Revision; left out: the present one.")]


def _told(*statuses: int) -> dict[int | str, dict[str, Any]]:
    return {status: {"model": ErrorAnswer} for status in statuses}


GUARD_ERRORS = _told(401, 403, 421, 500)
"""What any address may answer: the guard stands before all of them."""
ERRORS = GUARD_ERRORS | _told(404, 409, 413, 422, 503, 507)
"""What any address of the job store may answer."""
MISSING_PART = _told(501)
