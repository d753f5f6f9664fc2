"""The pages of a paper, for the page to show: a browser shows no PDF within a page."""

from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Query, Response

from fencewright.exchange.pdf_pages import page_sizes_mm
from fencewright.findings import InputError
from fencewright.server.paper_pages import NARROWEST_PX, USUAL_PX, WIDEST_PX, PageInfo, PagesAnswer, key_of
from fencewright.server.routes.needs import ERRORS, At, JobId, Served
from fencewright.server.service import Service
from fencewright.store.records import Missing, State

router = APIRouter(prefix="/api/jobs/{id}", tags=["designs"], responses=ERRORS)
_PAPER = ".pdf"


@router.get("/outputs/{name}/pages", operation_id="listPages")
def list_pages(service: Served, id: JobId, name: str, at: At = None) -> PagesAnswer:  # noqa: A002
    """Say how many pages a paper has, and how large each is."""
    state = service.store.state(id, at)
    content = _paper(service, state, name)
    start = f"/api/jobs/{quote(id)}/outputs/{quote(name)}/pages"
    end = f".png?at={state.revision.number}&key={key_of(content)}"
    pages = [
        PageInfo(width_mm=width, height_mm=height, address=f"{start}/{number}{end}")
        for number, (width, height) in enumerate(page_sizes_mm(content), 1)
    ]
    return PagesAnswer(name=name, pages=pages, widest_px=WIDEST_PX)


@router.get(
    "/outputs/{name}/pages/{number}.png",
    operation_id="getPagePicture",
    response_class=Response,
    responses={200: {"content": {"image/png": {}}}},
)
def get_page_picture(
    service: Served,
    id: JobId,  # noqa: A002
    name: str,
    number: int,
    at: At = None,
    width: Annotated[
        int, Query(ge=NARROWEST_PX, le=WIDEST_PX, description="Of the picture. [px]")
    ] = USUAL_PX,
    key: Annotated[str, Query(max_length=64, description="As `address` gives it: it may then be kept.")] = "",
) -> Response:
    """Give one page of a paper, the first is 1, as a PNG picture."""
    content = _paper(service, service.store.state(id, at), name)
    try:
        picture = service.papers.picture(content, number, width)
    except InputError as error:
        raise Missing(error.what, file=name) from error
    keep = "private, max-age=31536000, immutable" if key == key_of(content) else "no-cache"
    return Response(picture, media_type="image/png", headers={"Cache-Control": keep})


def _paper(service: Service, state: State, name: str) -> bytes:
    files = service.outputs(state).files
    papers = [one for one in files if one.endswith(_PAPER)]
    if name not in papers:
        raise Missing(f"there is no paper of that name: there are {', '.join(papers) or 'none'}")
    return files[name]
