"""The stages of a design, one after the other: the only flow there is."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from fencewright.findings import Finding, limited, sorted_findings
from fencewright.job.record import Job
from fencewright.layout.stage import lay_out
from fencewright.pipeline.as_measured import nothing_measured, with_measured
from fencewright.pipeline.brace_sizes import hold_with_braces
from fencewright.pipeline.bridges import cut_posts, rails_of, shape, unstable_posts
from fencewright.pipeline.checks import design_findings
from fencewright.pipeline.record import Design
from fencewright.pipeline.rolling import cut_all_rolls
from fencewright.pipeline.sizes import holes_asked, sized_layout, stated_sizes
from fencewright.stakeout.stage import stake_out
from fencewright.takeoff.load_list import load_list
from fencewright.takeoff.order import Basis, order_lines
from fencewright.takeoff.pieces import length_sd_m, pull_table

_MOST_ALIKE = 20  # findings of one code that are named one by one; the rest are counted
STAGES = (
    "layout",
    "top line",
    "strength",
    "tension",
    "holes",
    "pulls",
    "rolls",
    "order",
    "stake-out",
    "design",
)
_SIZED = ("strength", "holes", "brace_holes")
_DRAWN = ("rail_models", "tension", "site_checks")
_CUT = ("cuts", "rail_marks_m", "is_control", "top_sd_m", "gap_sd_m")


@dataclass(frozen=True, slots=True, eq=False)
class Stage:
    """What one stage gave: its name, and its tables by name."""

    name: str
    tables: dict[str, Any]


def stages(job: Job) -> Iterator[Stage]:
    """Run the stages of a design, yielding each one's tables as it is done.

    Parameters
    ----------
    job : Job
        What is asked.

    Yields
    ------
    Stage
        `STAGES` in order; the last one's table `design` is the whole `Design`.

    Raises
    ------
    InputError
        A job from which no design is possible.
    """
    gathered: dict[str, Any] = {}
    for stage in first_stages(job):
        gathered |= stage.tables
        yield stage
    yield from following_stages(job, gathered)


def first_stages(job: Job) -> Iterator[Stage]:
    """Run the stages that say where the fence stands and whether it holds; as `stages`, up to the pulls."""
    findings: list[Finding] = list(job.findings)
    layout, said = lay_out(job)
    sizes, more = stated_sizes(job, layout)
    layout = sized_layout(layout, sizes, job.settings.posts)
    findings += [*said, *more]
    yield Stage("layout", {"layout": layout, "findings": tuple(findings)})
    strands = rails_of(job.settings)
    unstable = unstable_posts(job, layout)
    top_line = shape(job, layout, strands, unstable)
    yield Stage("top line", {"strands": strands, "top_line": top_line})
    holes, brace_holes = holes_asked(job, layout, sizes, unstable, top_line.needs_concrete)
    job, held = hold_with_braces(job, layout, strands, top_line, holes, brace_holes)
    findings += held.findings
    sized: dict[str, Any] = {name: getattr(held, name) for name in _SIZED}
    yield Stage("strength", {**sized, "settings": job.settings, "findings": tuple(findings)})
    yield Stage("tension", {name: getattr(held, name) for name in _DRAWN})
    holes, brace_holes = held.holes, held.brace_holes
    cuts, marks, control, top_sd, gap_sd = cut_posts(job, layout, strands, top_line, holes)
    cut = dict(zip(_CUT, (cuts, marks, control, top_sd, gap_sd), strict=True))
    yield Stage("holes", {"holes": holes, "brace_holes": brace_holes, **cut})
    pulls = pull_table(layout, strands, top_line.top_m, job.settings.rolls.tail_m)
    length_sd = length_sd_m(layout, pulls, top_line.top_m, top_sd)
    yield Stage("pulls", {"pulls": pulls, "length_sd_m": length_sd})


def following_stages(job: Job, gathered: Mapping[str, Any]) -> Iterator[Stage]:
    """Run the stages that follow from those: rolls, order, stake-out, the whole.

    Parameters
    ----------
    job : Job
        What is asked.
    gathered : mapping
        Every table that `first_stages` has yielded, by name.

    Yields
    ------
    Stage
        As `stages`, from the rolls on.
    """
    job = replace(job, settings=gathered["settings"])  # strength may have chosen some
    findings: list[Finding] = list(gathered["findings"])
    layout, strands, pulls = gathered["layout"], gathered["strands"], gathered["pulls"]
    holes, brace_holes = gathered["holes"], gathered["brace_holes"]
    cutting, said = cut_all_rolls(job, layout, strands, pulls, gathered["top_line"].top_m)
    findings += said
    yield Stage("rolls", {"cutting": cutting})
    lists = {one.rail: one.cut_list for one in cutting}
    basis = Basis(layout, strands, holes, brace_holes, gathered["cuts"], pulls, lists)
    order = order_lines(basis, job.settings, job.catalogue, job.asked.job.sheets)
    load = load_list(basis, order, job.settings, job.catalogue, job.asked.job.sheets)
    yield Stage("order", {"order": order, "load": load})
    staked, said = stake_out(job, layout)
    findings += said
    yield Stage("stake-out", {"stake_out": staked})
    bag = job.settings.holes.bag.yield_m3
    known = {name: gathered[name] for name in ("layout", "strands", "top_line", "pulls", "length_sd_m")}
    made = Design(
        job=job,
        **known,
        **{name: gathered[name] for name in (*_SIZED, *_DRAWN, *_CUT)},
        bags=holes.concrete_m3 / bag,
        brace_bags=brace_holes.concrete_m3 / bag,
        cutting=cutting,
        order=order,
        load=load,
        stake_out=staked,
        measured=nothing_measured(),
        findings=(),
    )
    made, said = with_measured(made)
    findings += said
    yield Stage("design", {"design": with_findings(made, findings)})


def with_findings(made: Design, findings: list[Finding]) -> Design:
    """Add what the finished tables have to say, and put stops first."""
    return replace(made, findings=sorted_findings(limited([*findings, *design_findings(made)], _MOST_ALIKE)))


def run_stages(job: Job, progress: Callable[[str], None] | None = None) -> Design:
    """Run every stage and give the design; `progress` is called with the name of each as it is done."""
    for stage in stages(job):
        if progress:
            progress(stage.name)
    made: Design = stage.tables["design"]
    return made
