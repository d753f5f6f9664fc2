"""A job to everything that follows from it: design, price, programme, paper; what is left out is said."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fencewright.desk.paper_writing import paper_outputs
from fencewright.desk.price_writing import price_outputs
from fencewright.desk.pricing import price_read_job
from fencewright.desk.programme_writing import programme_outputs
from fencewright.desk.reading import read_job
from fencewright.desk.running import design as run_design
from fencewright.desk.scheduling import programme as run_programme
from fencewright.desk.writing import design_outputs, manifest_about
from fencewright.exchange.pocket_html import pocket_html
from fencewright.findings import InputError
from fencewright.pipeline.record import Design
from fencewright.store.files import write_whole
from fencewright.tables.price import Price
from fencewright.tables.programme import Programme

Progress = Callable[[str], None]
_NO_BOOK = "the job names no price book ([price] book)"
_NO_START = "the job states no first day ([programme] start)"
_NO_DAY = (
    "the job states neither a first day ([programme] start) nor the day of the hand-over ([paper] hand_over)"
)


@dataclass(frozen=True, slots=True)
class LeftOut:
    """What could not be made, in words, and the sentence that says why."""

    what: str
    sentence: str

    def __str__(self) -> str:
        return f"{self.what}: {self.sentence}"


@dataclass(frozen=True, slots=True, eq=False)
class Whole:
    """A design with its price and its programme, each None where it could not be made; `left_out` says what and why."""

    design: Design
    price: Price | None
    programme: Programme | None
    left_out: tuple[LeftOut, ...]


@dataclass(frozen=True, slots=True, eq=False)
class WholeSet:
    """Every file that follows from a job, and the record of its design.json; `left_out` says what is not among them."""

    files: Mapping[str, bytes]
    record: Mapping[str, Any]
    left_out: tuple[LeftOut, ...]


def run_whole(path: Path, progress: Progress) -> Whole:
    """Design a job, price it where it names a price book, and plan its works.

    Parameters
    ----------
    path : Path
        The job file; its price book lies beside it.
    progress : callable
        Called with the name of each stage as it is done.

    Returns
    -------
    Whole

    Raises
    ------
    InputError
        A job, a price book or a calendar that cannot be.
    """
    job = read_job(path)
    priced: Price | None = None
    if job.asked.price.book:
        made, priced = price_read_job(job, path.parent, progress)
    else:
        made = run_design(job, progress)
    planned = run_programme(made)
    progress("programme")
    return put_together(made, priced, planned)


def put_together(made: Design, priced: Price | InputError | None, planned: Programme | InputError) -> Whole:
    """Say what a design, its price and its programme leave out.

    Parameters
    ----------
    made : Design
        The design.
    priced : Price, InputError or None
        Its price; an error leaves the price out with the error's sentence, and None for want of a price book.
    planned : Programme or InputError
        Its programme; an error leaves it out with the error's sentence.
    """
    asked = made.job.asked
    left_out = []
    if not isinstance(priced, Price):
        left_out.append(LeftOut("the price and quote.pdf", str(priced or _NO_BOOK)))
    if not isinstance(planned, Programme):
        left_out.append(LeftOut("the programme and upkeep.ics", str(planned)))
    elif planned.start_date is None:
        left_out.append(LeftOut("programme.ics", _NO_START))
        if asked.paper.hand_over is None:
            left_out.append(LeftOut("upkeep.ics", _NO_DAY))
    return Whole(
        made,
        priced if isinstance(priced, Price) else None,
        planned if isinstance(planned, Programme) else None,
        tuple(left_out),
    )


def papers_of(whole: Whole, progress: Progress | None = None) -> dict[str, bytes]:
    """Give every paper by its file name; see `paper_outputs`."""
    return paper_outputs(whole.design, whole.price, whole.programme, progress)


def whole_set(whole: Whole, progress: Progress | None = None, *, refuses: bool = True) -> WholeSet:
    """Make every file that follows from a job, by file name, the manifest apart.

    Parameters
    ----------
    whole : Whole
        The design with what follows from it.
    progress : callable, optional
        Called with the name of each file before it is made.
    refuses : bool
        Whether papers that cannot be made are an error; else they are left out with its sentence.

    Returns
    -------
    WholeSet

    Raises
    ------
    InputError
        A logo that the typesetting engine cannot draw.
    """
    record, files = design_outputs(whole.design, progress)
    left_out = whole.left_out
    if whole.price is not None:
        files |= price_outputs(whole.design, whole.price, progress)
    if whole.programme is not None:
        files |= programme_outputs(whole.design, whole.programme)
    try:
        files |= papers_of(whole, progress)
    except InputError as error:
        if refuses:
            raise
        left_out = (*left_out, LeftOut("the papers", str(error)))
    files["fence.html"] = pocket_html(record, files)
    return WholeSet(files, record, left_out)


def write_set(made: WholeSet, folder: Path) -> None:
    """Write every file and the manifest into a folder, whole or not at all; errors as of `write_whole`."""
    write_whole(folder, made.files, manifest_about(made.record))
