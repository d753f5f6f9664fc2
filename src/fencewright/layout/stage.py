"""The layout stage: where each post stands, where the rail ends and turns, and why."""

from fencewright.findings import Finding, InputError
from fencewright.job.record import Job
from fencewright.layout.assemble import assemble
from fencewright.layout.bays import gather_bays, place_line_posts
from fencewright.layout.fixed_posts import refuse_far_zones
from fencewright.layout.gates import find_openings
from fencewright.layout.junctions import join_lines
from fencewright.layout.line_plan import kept_out_shapes, plan_line
from fencewright.layout.near_ends import near_end_findings
from fencewright.layout.post_checks import check_posts
from fencewright.layout.reference_lines import reference_lines
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import FenceLine, Layout

_MOST_POSTS = 200_000  # 730 km at 12 ft: what is longer has a wrong unit, and holds up every other design


def lay_out(job: Job) -> tuple[Layout, list[Finding]]:
    """Lay out every line of a job.

    Parameters
    ----------
    job : Job
        What is asked, with its site.

    Returns
    -------
    layout : Layout
        Posts, spans, runs, braces, openings and the ground between.
    findings : list of Finding
        See docs/findings.md.

    Raises
    ------
    InputError
        A job from which no layout is possible.

    Notes
    -----
    O(posts) but for clearances, dips and crests, which cost a program a bay that has them.
    """
    if not job.asked.line:
        raise InputError("the job has no [[line]]: draw one", item="line")
    _refuse_unknown_lines(job)
    lines, said = reference_lines(job)
    findings = list(said)
    show = UnitSystem(job.asked.job.sheets)
    _refuse_endless(lines, job.settings.layout.spacing_limit_m, show)
    lines, meetings, said = join_lines(lines, job.settings.layout.join_distance_m, show)
    findings += said
    refuse_far_zones(job, lines)
    openings, more = find_openings(job, lines)
    findings += more
    findings += near_end_findings(job, lines, meetings, openings)
    out = kept_out_shapes(job)
    names = [line.name for line in lines]
    plans = [plan_line(job, index, line, names, meetings, openings, out) for index, line in enumerate(lines)]
    for plan in plans:
        findings += plan.findings
    bays = gather_bays([plan.track for plan in plans], [plan.stretches for plan in plans])
    posts, more = place_line_posts(
        [plan.track for plan in plans],
        bays,
        [plan.kept_out_m for plan in plans],
        job.settings,
        job.asked.job.sheets,
    )
    findings += more
    layout = assemble(job, plans, bays, posts, openings, meetings)
    findings += check_posts(job, layout)
    return layout, findings


def _refuse_endless(lines: tuple[FenceLine, ...], limit_m: float, show: UnitSystem) -> None:
    """Refuse lines so long that the slip of a unit is likelier than the fence."""
    length = sum(line.length_m for line in lines)
    count = length / limit_m
    if count > _MOST_POSTS:
        longest = max(lines, key=lambda line: line.length_m)
        raise InputError(
            f"{show.far(length)} of fence would take {count:,.0f} posts, more than {_MOST_POSTS:,} in one job: "
            f'check the unit of its points (the longest is "{longest.name}"), or divide the job',
            item="line",
        )


def _refuse_unknown_lines(job: Job) -> None:
    names = [line.name for line in job.asked.line]
    twice = {name for name in names if names.count(name) > 1} if len(names) < 5000 else set()
    if twice:
        raise InputError(f'two lines are called "{min(twice)}": give each its own name', item="line")
    known = set(names)
    for kind in ("gate", "crossing", "pin", "strain", "built", "rock", "size", "soil_zone"):
        for number, row in enumerate(getattr(job.asked, kind)):
            if row.line not in known:
                raise InputError(
                    f'there is no line "{row.line}"; lines: {", ".join(names[:8])}',
                    item=f"{kind} {number + 1}",
                )
