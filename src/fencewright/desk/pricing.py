"""A job file to its design and its price, with the alternatives that it names."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from fencewright.desk.alternatives import price_alternatives
from fencewright.desk.reading import read_job
from fencewright.desk.running import design as run_design
from fencewright.exchange.price_book import read_price_book
from fencewright.findings import InputError
from fencewright.job.record import Job
from fencewright.pipeline.key_figures import key_figures
from fencewright.pipeline.pricing import price_design, price_settings
from fencewright.pipeline.record import Design
from fencewright.pipeline.risking import risk_settings, with_risk
from fencewright.pipeline.why_price import Priced
from fencewright.tables.price import Price, PriceBook

Progress = Callable[[str], None]


def book_of(job: Job, folder: Path) -> PriceBook | None:
    """Read the price book that a job names; None where it names none.

    Raises
    ------
    InputError
        It is not there, or something in it is wrong; one sentence.
    """
    name = job.asked.price.book
    if not name:
        return None
    try:
        return read_price_book(folder / name)
    except InputError as error:
        raise InputError(error.what, file=name, item=error.item) from error


def price_of(made: Design, folder: Path, progress: Progress | None = None) -> Price:
    """Price a design, with the alternatives that its job names.

    Parameters
    ----------
    made : Design
        The job's own design.
    folder : Path
        Where the job's files lie, its price book among them.
    progress : callable, optional
        Called with the name of each alternative as it is done.

    Returns
    -------
    Price

    Raises
    ------
    InputError
        A price book, terms or an alternative that cannot be.
    """
    own = own_price_of(made, folder)
    if progress:
        progress("price")
    return with_alternatives(own, folder, progress)


def own_price_of(made: Design, folder: Path) -> Priced:
    """Price a design with its risk, without the alternatives that its job names; errors as of `price_of`."""
    try:
        book = book_of(made.job, folder)
        priced = with_risk(made, price_design(made, book), book)
        return Priced(made, replace(priced, figures=key_figures(made, priced)), book)
    except InputError as error:
        raise error.within(file=made.job.file) from error


def with_alternatives(own: Priced, folder: Path, progress: Progress | None = None) -> Price:
    """Lay the alternatives that a job names beside its own price: each is designed anew; errors as of `price_of`."""
    job = own.design.job
    try:
        others = price_alternatives(job, folder, own.price, own.book, progress)
    except InputError as error:
        raise error.within(file=job.file) from error
    return replace(own.price, alternatives=others)


def priced_alone(made: Design, folder: Path) -> Priced:
    """Price a design without its risk and its alternatives, with what it was reckoned from; errors as of `price_of`."""
    try:
        book = book_of(made.job, folder)
        return Priced(made, price_design(made, book), book)
    except InputError as error:
        raise error.within(file=made.job.file) from error


def price_job(path: str | Path, progress: Progress | None = None) -> tuple[Design, Price]:
    """Read a job file, design it and price it; what is wrong with the price is said before the design is run."""
    path = Path(path)
    return price_read_job(read_job(path), path.parent, progress)


def price_read_job(job: Job, folder: Path, progress: Progress | None = None) -> tuple[Design, Price]:
    """Design and price a job whose files lie in a folder; errors as of `price_of`, before the design is run."""
    try:
        price_settings(job)
        risk_settings(job)
        book_of(job, folder)
    except InputError as error:
        raise error.within(file=job.file) from error
    made = run_design(job, progress)
    return made, price_of(made, folder, progress)
