"""The design: every table that the stages gave, and nothing computed twice."""

from dataclasses import dataclass

import numpy as np

from fencewright.findings import Finding, Place, has_stop
from fencewright.job.record import Job
from fencewright.tables.as_measured import AsMeasured
from fencewright.tables.fence import Holes, Layout, OrderLine, Pulls, Strands
from fencewright.tables.load import LoadList
from fencewright.tables.stake_out import StakeOut
from fencewright.tables.strength import Strength
from fencewright.tables.tension import RailModels, SiteChecks, Tensions
from fencewright.tables.top_line import PostCuts, TopLine
from fencewright.takeoff.roll_records import CutList


@dataclass(frozen=True, slots=True, eq=False)
class RailCutting:
    """The rolls of one rail product.

    `rail` catalogue name; `pull_index` rows of `Pulls` in the order of the cut list's pulls; `cut_list`.
    """

    rail: str
    pull_index: np.ndarray
    cut_list: CutList


@dataclass(frozen=True, slots=True, eq=False)
class Design:
    """A whole design; everything that a person sees is drawn from it alone.

    Attributes
    ----------
    job : Job
        What was asked.
    layout : Layout
        Lines, posts, spans, runs, braces, openings.
    strands : Strands
        The rails, lowest first.
    top_line : TopLine
        Top, height above ground, uplift and gap of each post and span, with its certificate.
    top_sd_m, gap_sd_m, length_sd_m : float array (posts,), (spans,), (pulls,)
        Standard deviations from that of the ground. [m]
    cuts : PostCuts
        Stock length, cut, and whether it is set long.
    rail_marks_m : float array (posts, strands)
        Height of each rail's centre above grade, lowest first. [m]
    is_control : bool array (posts,)
        Posts to string between, where posts are set long.
    holes, brace_holes : Holes
        Rows as posts, and as braces.
    rail_models : RailModels
        The rails as the tension stage sees them.
    tension : Tensions
        How tight each pull is drawn.
    site_checks : SiteChecks
        What a person measures to prove it.
    strength : Strength
        Every check of posts, holes and braces, and the sizes that pass.
    bags, brace_bags : float array (posts,), (braces,)
        Bags of concrete, exact decimals, waste left out.
    pulls : Pulls
        One row a rail and run.
    cutting : tuple of RailCutting
        Rolls by product.
    order : tuple of OrderLine
        Everything to buy.
    load : LoadList
        What goes on the truck.
    stake_out : StakeOut
        How each hole is found on the ground.
    measured : AsMeasured
        What was found on the finished fence beside what was designed.
    findings : tuple of Finding
        Stops first.
    """

    job: Job
    layout: Layout
    strands: Strands
    top_line: TopLine
    top_sd_m: np.ndarray
    gap_sd_m: np.ndarray
    length_sd_m: np.ndarray
    cuts: PostCuts
    rail_marks_m: np.ndarray
    is_control: np.ndarray
    holes: Holes
    brace_holes: Holes
    rail_models: RailModels
    tension: Tensions
    site_checks: SiteChecks
    strength: Strength
    bags: np.ndarray
    brace_bags: np.ndarray
    pulls: Pulls
    cutting: tuple[RailCutting, ...]
    order: tuple[OrderLine, ...]
    load: LoadList
    stake_out: StakeOut
    measured: AsMeasured
    findings: tuple[Finding, ...]

    @property
    def may_be_built(self) -> bool:
        """Whether no finding stops it."""
        return not has_stop(self.findings)


def post_id(index: int) -> str:
    """Name of a post on every sheet: `P1` is the first row."""
    return f"P{index + 1}"


def brace_id(index: int) -> str:
    """Name of a brace: `B1` is the first row."""
    return f"B{index + 1}"


def pull_id(run_index: int, strand: int) -> str:
    """Name of a pull: run 1, lowest rail is `R1-1`."""
    return f"R{run_index + 1}-{strand + 1}"


def place_of(design: Design, post: int) -> Place:
    """Where a post is."""
    posts = design.layout.posts
    name = design.layout.lines[int(posts.line_index[post])].name
    return Place("post", post_id(post), name, float(posts.station_m[post]))
