"""A job to everything that follows from it: design, price, programme, paper; what is left out is said."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from fencewright.desk.paper_writing import paper_outputs
from fencewright.desk.price_writing import price_outputs
from fencewright.desk.pricing import price_read_job
from fencewright.desk.programme_writing import programme_outputs
from fencewright.desk.reading import read_job
from fencewright.desk.running import design as run_design
from fencewright.desk.scheduling import programme as run_programme
from fencewright.pipeline.record import Design
from fencewright.tables.price import Price
from fencewright.tables.programme import Programme

Progress = Callable[[str], None]
_NO_BOOK = "the job names no price book ([price] book)"
_NO_START = "the job states no first day ([programme] start)"
_NO_DAY = (
    "the job states neither a first day ([programme] start) nor the day of the hand-over ([paper] hand_over)"
)


@dataclass(frozen=True, slots=True, eq=False)
class Whole:
    """A design with its price, None without a price book, and its programme; `left_out` what could not be made, and why."""

    design: Design
    price: Price | None
    programme: Programme
    left_out: tuple[str, ...]


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
    left_out = []
    if priced is None:
        left_out.append(f"the price and quote.pdf: {_NO_BOOK}")
    if planned.start_date is None:
        left_out.append(f"programme.ics: {_NO_START}")
        if job.asked.paper.hand_over is None:
            left_out.append(f"upkeep.ics: {_NO_DAY}")
    return Whole(made, priced, planned, tuple(left_out))


def papers_of(whole: Whole, progress: Progress) -> dict[str, bytes]:
    """Give every paper by its file name; see `paper_outputs`."""
    return paper_outputs(whole.design, whole.price, whole.programme, progress)


def beside_outputs(whole: Whole, progress: Progress) -> dict[str, bytes]:
    """Give price, programme and papers by file name; the design's own outputs are not among them."""
    files: dict[str, bytes] = {}
    if whole.price is not None:
        files |= price_outputs(whole.design, whole.price, progress)
    files |= programme_outputs(whole.design, whole.programme)
    return files | papers_of(whole, progress)
