"""The application: routes, guard, errors and page put together."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from fastapi import FastAPI

from fencewright import __version__
from fencewright.findings.cautions import DESIGN_CAUTIONS
from fencewright.pipeline.stages import STAGES
from fencewright.server.errors import add_error_handlers
from fencewright.server.guard import Guard
from fencewright.server.intake import KINDS, LARGEST_UPLOAD_BYTES
from fencewright.server.memory import AT_REST_S, Garbage
from fencewright.server.models import About
from fencewright.server.page import add_page
from fencewright.server.parts import missing_parts
from fencewright.server.routes import backgrounds, designs, editing, files, jobs, papers, prices
from fencewright.server.routes.needs import GUARD_ERRORS
from fencewright.server.service import Service
from fencewright.store.purging import DELETED_KEPT_DAYS


def make_app(
    service: Service, *, host: str = "127.0.0.1", token: str | None = None, page: Path | None = None
) -> FastAPI:
    """Put the application together.

    Parameters
    ----------
    service : Service
        The store and the workers; closed with the application.
    host : str
        Address on which it will listen; names of this machine alone are answered unless it lies beyond it.
    token : str, optional
        What a request must show; None only on this machine alone.
    page : Path, optional
        Folder of the built page; left out: the package's own.
    """

    @asynccontextmanager
    async def running(app: FastAPI) -> AsyncIterator[None]:
        service.board.loop = asyncio.get_running_loop()
        tidying = asyncio.create_task(_tidy(service))
        yield
        tidying.cancel()
        service.close()

    app = FastAPI(
        title="fencewright",
        version=__version__,
        summary="Jobs, edits and designs of tensioned fences.",
        lifespan=running,
        docs_url=None,
        redoc_url=None,
        openapi_url="/openapi.json",
    )
    app.state.service = service
    add_error_handlers(app)
    _add_about(app)
    for part in (jobs, editing, files, backgrounds, designs, prices, papers):
        app.include_router(part.router)
    add_page(app, page)
    app.add_middleware(Guard, host=host, token=token)
    return app


async def _tidy(service: Service) -> None:
    """Look for garbage whenever the designs are at rest, and not while somebody waits for one."""
    garbage = Garbage()
    while True:
        await asyncio.sleep(AT_REST_S)
        if service.board.runs.are_at_rest(AT_REST_S):
            garbage.look()


def _add_about(app: FastAPI) -> None:
    @app.get("/api", operation_id="about", tags=["about"], responses=GUARD_ERRORS)
    def about() -> About:
        """Say what the server is, and what it takes."""
        return About(
            program="fencewright", version=__version__, stages=list(STAGES),
            largest_upload_bytes=LARGEST_UPLOAD_BYTES, file_kinds=list(KINDS), missing_parts=missing_parts(),
            deleted_kept_days=DELETED_KEPT_DAYS, cautions=list(DESIGN_CAUTIONS),
        )  # fmt: skip


def openapi_record() -> dict[str, Any]:
    """Give the description of the API without a server: what the page's types are made from."""
    app = FastAPI(
        title="fencewright", version=__version__, summary="Jobs, edits and designs of tensioned fences."
    )
    _add_about(app)
    for part in (jobs, editing, files, backgrounds, designs, prices, papers):
        app.include_router(part.router)
    return app.openapi()
