"""The page itself, as it was built into the package; where it was not, how to build it."""

import gzip
import mimetypes
from functools import lru_cache
from importlib.resources import files
from pathlib import Path

from fastapi import FastAPI, Request
from fastapi.responses import FileResponse, PlainTextResponse, Response

from fencewright.store.records import Missing

HOW_TO_BUILD = (
    "The page of fencewright was not built into this package.\n\n"
    "From a source checkout: make page (or: cd web && npm ci && npm run build), then start the server again.\n"
    "The API is there all the same: /openapi.json describes it.\n"
)
_TEXTS = (".html", ".js", ".css", ".svg", ".json", ".webmanifest")


def page_folder() -> Path:
    """Where the built page lies."""
    return Path(str(files("fencewright"))) / "page"


def add_page(app: FastAPI, folder: Path | None = None) -> None:
    """Serve the built page at `/`, and its files beside it; every other address that is no API's is the page's own."""
    home = folder or page_folder()

    @app.get("/{path:path}", include_in_schema=False)
    def page(path: str, request: Request) -> Response:
        if path == "api" or path.startswith("api/"):
            raise Missing("there is nothing at this address")
        index = home / "index.html"
        if not index.is_file():
            return PlainTextResponse(HOW_TO_BUILD, status_code=503)
        wanted = (home / path).resolve()
        if path and wanted.is_file() and wanted.is_relative_to(home.resolve()):
            fixed = path.startswith("assets/")
            keep = "public, max-age=31536000, immutable" if fixed else "no-cache"
            return _sent(wanted, keep, request)
        return _sent(index, "no-cache", request)


def _sent(path: Path, keep: str, request: Request) -> Response:
    """Give a file of the page, packed where the browser takes it so and it is text."""
    headers = {"Cache-Control": keep}
    kind, _ = mimetypes.guess_type(path.name)
    takes = "gzip" in request.headers.get("accept-encoding", "")
    if not takes or path.suffix not in _TEXTS:
        return FileResponse(path, headers=headers)
    packed = _packed(path, path.stat().st_mtime_ns)
    return Response(
        packed, media_type=kind, headers={**headers, "Content-Encoding": "gzip", "Vary": "Accept-Encoding"}
    )


@lru_cache(maxsize=32)
def _packed(path: Path, changed_ns: int) -> bytes:  # a file that has changed is packed anew
    return gzip.compress(path.read_bytes(), mtime=0)
