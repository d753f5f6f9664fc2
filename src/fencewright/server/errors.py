"""One shape for every error: a sentence, the file, item and field that hold it, and a stable code."""

import errno
import re
from collections.abc import Mapping
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from starlette.exceptions import HTTPException

from fencewright.findings import InputError, InternalFault
from fencewright.job.wrong_values import wrong_value
from fencewright.server.models import ErrorAnswer, ErrorText
from fencewright.store.faults import StoreFault, full_disk
from fencewright.store.records import Clash, Missing, Moved, NewerJob

CODES: Mapping[str, tuple[int, str]] = {
    "input": (422, "The job or the edit cannot be used; the sentence is the command line's."),
    "request": (422, "The request itself has not the shape of /openapi.json."),
    "missing": (404, "There is no such job, revision, file or address."),
    "moved": (409, "Another window has changed the job since, or there is nothing to undo or redo."),
    "clash": (409, "Another window changed the same thing; the edit is kept aside as revision `kept`."),
    "newer-job": (409, "A newer version of the program wrote the job."),
    "method": (405, "This address does not take this method."),
    "too-large": (413, "The upload is larger than the server takes."),
    "host": (421, "The request names a host that this server is not."),
    "origin": (403, "The request comes from another site's page."),
    "token": (401, "The token is missing or wrong."),
    "missing-part": (501, "This version of the program has not this part."),
    "disk-full": (507, "The disk is full; the last accepted edit is kept."),
    "busy-store": (503, "Another program holds the job store."),
    "damaged-store": (503, "The job store is damaged."),
    "newer-store": (503, "A newer version of the program made the job store."),
    "no-store": (503, "The job store cannot be reached."),
    "fault": (500, "A fault of the program or of the disk."),
}
_LONGEST_NAME = 200  # characters of what a fault is called; the rest of it stands on the server's terminal
_OBJECT_WANTED = "the request needs a body: one JSON object, sent with `Content-Type: application/json`"
_UNPARSED = "the request cannot be read: its body is neither JSON nor a form that can be taken apart"
_BY_STATUS = {404: "missing", 405: "method", 413: "too-large", 422: "request"}


class Refused(InputError):
    """A request that is refused for a reason of its own: one of `CODES`."""

    def __init__(self, code: str, sentence: str, *, file: str = "") -> None:
        self.code = code
        super().__init__(sentence, file=file)


def code_of(error: Exception) -> str:
    """Give the code of an error."""
    if isinstance(error, Refused | StoreFault):
        return error.code
    kinds = ((Missing, "missing"), (Clash, "clash"), (Moved, "moved"), (NewerJob, "newer-job"))
    for kind, code in kinds:
        if isinstance(error, kind):
            return code
    return "input" if isinstance(error, InputError) else "fault"


def fault_of(said: str) -> InternalFault:
    """Give a fault of the program as everybody is told of it; `said` names it, on one line."""
    named = " ".join(said.split())[:_LONGEST_NAME]
    return InternalFault(
        f"a fault of the program ({named}): the last accepted state is kept; undo the last edit or ask again, "
        "and report it"
    )


def error_text(error: Exception, asked: Mapping[str, Any] | None = None) -> ErrorText:
    """Give an error as the page is told of it.

    Parameters
    ----------
    error : Exception
        Any.
    asked : mapping, optional
        The job's plain values, to find the row of a line that the error names.
    """
    if _is_full_disk(error):
        error = full_disk("this machine")  # where uploads and the files of jobs are laid out
    code = code_of(error)
    if isinstance(error, InputError):
        return ErrorText(
            sentence=error.what,
            file=error.file,
            item=error.item,
            field=list(error.field) or field_of(error.item, asked or {}),
            code=code,
            head=getattr(error, "head", None),
            kept=getattr(error, "kept", None),
        )
    spoken = error if isinstance(error, InternalFault) else fault_of(type(error).__name__)
    return ErrorText(sentence=str(spoken), code=code)


def _is_full_disk(error: Exception) -> bool:
    return isinstance(error, OSError) and error.errno in (errno.ENOSPC, errno.EDQUOT)


_TABLES = "gate|crossing|obstacle|strand|pin|strain|built|rock|soil_zone|size"
_MORE_TABLES = "reference|measured|payment|neighbour|extra|rate"
_ROW = re.compile(rf"^(?:\[\[)?({_TABLES}|{_MORE_TABLES})(?:\]\])? (\d+)")
_LINE = re.compile(r'^line "([^"]*)"(?:, point (\d+))?')
_KEY = re.compile(r"^\[?([a-z_]+)\]?,? ([a-z_]+)$")


def field_of(item: str, asked: Mapping[str, Any]) -> list[str | int]:
    """Find where an item, as errors name it, stands in the job file; empty where it is not known."""
    if match := _ROW.match(item):
        rest = item[match.end() :].rsplit(", ", 1)
        key = [rest[1]] if len(rest) == 2 and re.fullmatch("[a-z_]+", rest[1]) else []
        return [match[1], int(match[2]) - 1, *key]
    if match := _LINE.match(item):
        names = [str(row.get("name")) for row in asked.get("line", [])]
        row: list[str | int] = ["line", names.index(match[1])] if match[1] in names else ["line"]
        return [*row, "points", int(match[2]) - 1] if match[2] and len(row) == 2 else row
    if match := _KEY.match(item):
        return [match[1], match[2]]
    return [item] if re.fullmatch("[a-z_]+", item) else []


def answer(text: ErrorText) -> JSONResponse:
    """Give an error as an answer."""
    status = CODES[text.code][0]
    return JSONResponse(ErrorAnswer(error=text).model_dump(), status_code=status)


def _request_text(first: Mapping[str, Any]) -> ErrorText:
    """Give the first thing that is wrong with a request."""
    if first["type"] == "json_invalid":
        said = str(first["ctx"]["error"])
        sentence = f"the request is not valid JSON: {said[:1].lower()}{said[1:]}, at character {first['loc'][-1] + 1}"
        return ErrorText(sentence=sentence, code="request")
    where = [step for step in first["loc"] if step not in ("body", "query", "path")]
    if not where:
        return ErrorText(sentence=_OBJECT_WANTED, code="request")
    return ErrorText(
        sentence=f"the request cannot be read: {wrong_value(first)}",
        item=", ".join(str(step) for step in where),
        field=where,
        code="request",
    )


def add_error_handlers(app: FastAPI) -> None:
    """Let every error of the server have the one shape."""

    @app.exception_handler(InputError)
    @app.exception_handler(InternalFault)
    async def spoken(request: Request, error: Exception) -> JSONResponse:
        return answer(error_text(error, getattr(request.state, "asked", None)))

    @app.exception_handler(RequestValidationError)
    async def unread(request: Request, error: RequestValidationError) -> JSONResponse:
        return answer(_request_text(error.errors()[0]))

    @app.exception_handler(HTTPException)
    async def plain(request: Request, error: HTTPException) -> JSONResponse:
        code = _BY_STATUS.get(error.status_code, "request" if error.status_code < 500 else "fault")
        said = {400: _UNPARSED, 404: "there is nothing at this address"}
        sentence = said.get(error.status_code) or str(error.detail)
        return answer(ErrorText(sentence=sentence, code=code))

    @app.exception_handler(OSError)
    async def of_the_machine(request: Request, error: OSError) -> JSONResponse:
        if _is_full_disk(error):
            return answer(error_text(error))
        raise error  # a fault as any other

    @app.exception_handler(Exception)
    async def unexpected(request: Request, error: Exception) -> JSONResponse:
        told = answer(error_text(error))
        told.headers["connection"] = "close"  # as it will be: what is asked next begins another
        return told
