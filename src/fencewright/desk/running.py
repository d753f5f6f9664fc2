"""Run a job."""

from collections.abc import Callable

from fencewright.findings import InputError
from fencewright.job.record import Job
from fencewright.pipeline.record import Design
from fencewright.pipeline.stages import run_stages


def design(job: Job, progress: Callable[[str], None] | None = None) -> Design:
    """Design a fence.

    Parameters
    ----------
    job : Job
        From `read_job`.
    progress : callable, optional
        Called with the name of each stage as it is done.

    Returns
    -------
    Design
        With its findings; `may_be_built` tells whether one of them is a `stop`.

    Raises
    ------
    InputError
        A job from which no design is possible.
    """
    try:
        return run_stages(job, progress)
    except InputError as error:
        raise error.within(file=job.file) from error
