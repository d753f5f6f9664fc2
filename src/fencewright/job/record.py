"""A job ready to be designed: the job file, its catalogue, and the site that its files hold."""

from dataclasses import dataclass

from fencewright.catalogue.rows import Catalogue
from fencewright.findings import Finding
from fencewright.job.schema import JobFile
from fencewright.job.settings import Settings
from fencewright.site.features import Site


@dataclass(frozen=True, slots=True, eq=False)
class Job:
    """What is asked, with every file read.

    Attributes
    ----------
    asked : JobFile
        The job file.
    catalogue : Catalogue
        Shipped rows and the user's data sheets.
    settings : Settings
        Every number of the design: the job's where stated, else the trade default.
    site : Site
        Lines, obstacles and ground in the job's plane.
    findings : tuple of Finding
        What reading had to say.
    text : str
        The job file as read.
    file : str
        Its name, for messages.
    logo : str
        The builder's logo as SVG text; empty where the job names none.
    """

    asked: JobFile
    catalogue: Catalogue
    settings: Settings
    site: Site
    findings: tuple[Finding, ...]
    text: str
    file: str = "job.toml"
    logo: str = ""
