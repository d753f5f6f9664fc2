"""Prices of a job: those that it is paid by, a price book to fill in, and one that was filled in."""

from typing import Literal

from fastapi import APIRouter, Query, Request, Response, UploadFile
from starlette.concurrency import run_in_threadpool

from fencewright.server.errors import Refused
from fencewright.server.intake import take_files
from fencewright.server.models import EditAnswer, PricesAnswer, RevisionNumber
from fencewright.server.price_keeping import use_book
from fencewright.server.routes.designs import media_type
from fencewright.server.routes.needs import ERRORS, At, JobId, Served
from fencewright.server.service import edit_answer
from fencewright.server.uploads import read_uploads

router = APIRouter(prefix="/api/jobs/{id}", tags=["prices"], responses=ERRORS)
_LARGEST_BOOK_BYTES = 20_000_000  # as its reader takes


@router.get("/prices", operation_id="getPrices")
def get_prices(service: Served, id: JobId, at: At = None) -> PricesAnswer:  # noqa: A002
    """Give every price that the job is paid by, and what has none yet."""
    return PricesAnswer.model_validate(service.task(service.store.state(id, at), "prices"))


@router.get("/price-book/{name}", operation_id="getPriceBook", response_class=Response)
def get_price_book(
    service: Served,
    id: JobId,  # noqa: A002
    name: Literal["prices.csv", "prices.xlsx"],
    at: At = None,
) -> Response:
    """Give a price book to be filled in: what the job's own has, and an empty price for each thing that has none."""
    content: bytes = service.task(service.store.state(id, at), "price book", name)
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(content, media_type=media_type(name), headers=headers)


@router.post("/price-book", operation_id="givePriceBook")
async def give_price_book(
    service: Served,
    id: JobId,  # noqa: A002
    request: Request,
    files: list[UploadFile],
    base: RevisionNumber,
    window: str = Query("", max_length=64),
) -> EditAnswer:
    """Give the job its price book, and name it in the job, as one revision."""
    given = await read_uploads(request, files, _LARGEST_BOOK_BYTES)

    def accepted() -> EditAnswer:
        taken = take_files(given)
        if len(taken) != 1:
            raise Refused("input", f"these are {len(taken)} files: a job has one price book, give that one")
        return edit_answer(service, use_book(service, id, base, window, next(iter(taken.items()))))

    return await run_in_threadpool(accepted)
