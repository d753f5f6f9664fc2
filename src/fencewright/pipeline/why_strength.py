"""The strength stage run again on a few posts, with the braces and the posts that their statics hang on."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import LoadCase
from fencewright.pipeline.bridges import unstable_posts
from fencewright.pipeline.holding import strength_task
from fencewright.pipeline.pulling import chosen_tensions, greatest_tensions
from fencewright.pipeline.record import Design
from fencewright.pipeline.sizes import holes_asked, stated_sizes
from fencewright.pipeline.why_rows import take_rows, visits_at
from fencewright.strength.braces import BraceFrame, brace_frame
from fencewright.strength.load_cases import member_factors, soil_factors
from fencewright.strength.post_loads import Surroundings, forces_of, surroundings_of
from fencewright.strength.posts import Reactions
from fencewright.strength.reactions import reactions_of
from fencewright.strength.stage import check_strength
from fencewright.strength.task import Footing, Members, StrengthTask, footings_of, members_of
from fencewright.tables.fence import Braces, Layout, Openings, Runs
from fencewright.tables.strength import EndAssemblies, Strength
from fencewright.tables.top_line import TopLine

Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class StrengthPart:
    """A few posts with all that their strength hangs on, sized and checked again.

    `task` at the depths and tensions chosen; `sized` what sizing at the greatest tension gave, `checked` every check
    at the tension chosen; `footing`, `members`, `around`, `frame` columns of the part; `post_rows`, `brace_rows`,
    `run_rows` the design's rows. Only the posts asked for, and posts that hang together with them through braces,
    may be read: others lack some of their spans.
    """

    task: StrengthTask
    sized: Strength
    checked: Strength
    footing: Footing
    members: Members
    around: Surroundings
    frame: BraceFrame
    post_rows: Ints
    brace_rows: Ints
    run_rows: Ints

    def post(self, row: int) -> int:
        """Row of the part for a post of the design."""
        return int(np.flatnonzero(self.post_rows == row)[0])

    def brace(self, row: int) -> int:
        """Row of the part for a brace of the design."""
        return int(np.flatnonzero(self.brace_rows == row)[0])

    def ends_of(self, run: int) -> EndAssemblies:
        """What holds the two ends of a run of the design, as sized: for a part with all posts of the run.

        Its `turn_post` is a row of the design.
        """
        ends = take_rows(self.sized.ends, np.flatnonzero(self.run_rows == run))
        post = ends.turn_post
        return replace(ends, turn_post=np.where(post >= 0, self.post_rows[post], -1))

    def reactions(self, case: LoadCase, *, of_member: bool) -> Reactions:
        """What holds the posts in one case: for checks of timber and steel, or for those of the soil."""
        method = self.task.settings.strength.method
        factors = member_factors(case, method) if of_member else soil_factors(case)
        loads = forces_of(self.task, self.around, case, factors)
        return reactions_of(self.task, self.members, self.frame, loads)


def strength_part(design: Design, rows: Ints) -> StrengthPart:
    """Cut some posts out of a design, size their holes again and check them again: `rows` of `Posts`."""
    layout = design.layout
    brace_rows, whole = _joined(layout.braces, rows)
    spans = _span_rows(layout, whole)
    kept = take_rows(layout.spans, spans)
    posts = np.unique(np.concatenate([kept.from_post, kept.to_post, whole]))
    place = np.full(len(layout.posts), -1)
    place[posts] = np.arange(len(posts))
    run_rows = np.unique(kept.run_index[kept.run_index >= 0])
    run_index = np.where(kept.run_index >= 0, np.searchsorted(run_rows, kept.run_index), -1)
    part = replace(
        layout,
        posts=take_rows(layout.posts, posts),
        visits=visits_at(layout, posts),
        spans=replace(
            kept, from_post=place[kept.from_post], to_post=place[kept.to_post], run_index=run_index
        ),
        runs=_runs(layout, run_rows, spans, place),
        braces=_braces(layout.braces, brace_rows, place),
        openings=_openings(layout.openings, place, spans),
    )
    top = _top_of(design.top_line, posts)
    return _again(design, part, top, (posts, brace_rows, run_rows))


def _top_of(top: TopLine, posts: Ints) -> TopLine:
    return replace(
        top,
        top_m=top.top_m[posts],
        height_m=top.height_m[posts],
        uplift_n=top.uplift_n[posts],
        needs_concrete=top.needs_concrete[posts],
    )


def _again(design: Design, part: Layout, top: TopLine, rows: tuple[Ints, Ints, Ints]) -> StrengthPart:
    """Ask the strength stage about the part, twice, as the pipeline asks it about the whole."""
    posts, braces, runs = rows
    job, strands = design.job, design.strands
    sizes = stated_sizes(job, part)[0]
    practice = holes_asked(job, part, sizes, unstable_posts(job, part), top.needs_concrete)
    final = (take_rows(design.holes, posts), take_rows(design.brace_holes, braces))
    tension = {
        day: tension[runs] for day, tension in chosen_tensions(design.layout, strands, design.tension).items()
    }
    sizing = strength_task(job, part, strands, top, practice, greatest_tensions(part, strands, job))
    task = strength_task(job, part, strands, top, final, tension)
    return StrengthPart(
        task,
        check_strength(sizing)[0],
        check_strength(task, is_sizing=False)[0],
        footings_of(task),
        members_of(task),
        surroundings_of(task),
        brace_frame(task),
        posts,
        braces,
        runs,
    )


def _joined(braces: Braces, rows: Ints) -> tuple[Ints, Ints]:
    """Braces and posts that hang together with some posts through braces."""
    whole = np.unique(rows)
    while True:
        mine = np.isin(braces.post_index, whole) | np.isin(braces.second_post, whole)
        found = np.unique(np.concatenate([whole, braces.post_index[mine], braces.second_post[mine]]))
        found = found[found >= 0]
        if len(found) == len(whole):
            return np.flatnonzero(mine), whole
        whole = found


def _span_rows(layout: Layout, whole: Ints) -> Ints:
    """Spans that meet these posts, and the first and last of each run among them."""
    spans, runs = layout.spans, layout.runs
    mine = np.flatnonzero(np.isin(spans.from_post, whole) | np.isin(spans.to_post, whole))
    run = np.unique(spans.run_index[mine])
    run = run[run >= 0]
    return np.unique(np.concatenate([mine, runs.from_span[run], runs.to_span[run] - 1]))


def _runs(layout: Layout, rows: Ints, spans: Ints, place: Ints) -> Runs:
    """Runs with the rows of the part; their inner spans are left out."""
    runs = take_rows(layout.runs, rows)
    return replace(
        runs,
        from_span=np.searchsorted(spans, runs.from_span),
        to_span=np.searchsorted(spans, runs.to_span - 1) + 1,
        from_post=place[runs.from_post],
        to_post=place[runs.to_post],
    )


def _braces(braces: Braces, rows: Ints, place: Ints) -> Braces:
    own = take_rows(braces, rows)
    second = np.where(own.second_post >= 0, place[own.second_post], -1)
    return replace(own, post_index=place[own.post_index], second_post=second)


def _openings(openings: Openings, place: Ints, spans: Ints) -> Openings:
    """Gates and crossings between posts of the part."""
    rows = np.flatnonzero((place[openings.from_post] >= 0) & (place[openings.to_post] >= 0))
    rows = rows[np.isin(openings.span_index[rows], spans)]
    own = take_rows(openings, rows)
    return replace(
        own,
        from_post=place[own.from_post],
        to_post=place[own.to_post],
        hinge_post=place[own.hinge_post],
        span_index=np.searchsorted(spans, own.span_index),
    )
