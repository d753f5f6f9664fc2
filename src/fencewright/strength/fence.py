"""A fence with the columns that every part of the stage reads, worked out once."""

from dataclasses import dataclass, replace

from fencewright.catalogue.rows import LoadCase
from fencewright.strength.brace_footings import FootingSoil, footing_soil
from fencewright.strength.braces import BraceFrame, brace_frame, frame_at_depth
from fencewright.strength.load_cases import cases_of
from fencewright.strength.post_loads import Surroundings, drawn_again, surroundings_of
from fencewright.strength.posts import BracedRails, braced_rails
from fencewright.strength.task import Footing, Members, StrengthTask, footings_of, members_of
from fencewright.tables.strength import Sizes


@dataclass(frozen=True, slots=True, eq=False)
class Fence:
    """The task with its columns.

    `soil` is that of the braces' footings, `braced` where rails meet braced posts; `cases` are its own, the cold pull
    first.
    """

    task: StrengthTask
    around: Surroundings
    footing: Footing
    members: Members
    frame: BraceFrame
    soil: FootingSoil
    braced: BracedRails
    cases: tuple[LoadCase, ...]

    def at(self, sizes: Sizes, brace_sizes: Sizes) -> "Fence":
        """Give the same fence at other depths."""
        task = self.task.with_depths(sizes.depth_m, brace_sizes.depth_m)
        return replace(self, task=task, frame=frame_at_depth(task, self.frame))

    def drawn(self, task: StrengthTask) -> "Fence":
        """Give the same fence, its holes those of a task, under the tension of that task."""
        return replace(self, task=task, around=drawn_again(task, self.around))


def fence_of(task: StrengthTask) -> Fence:
    """Work out the columns of a task."""
    cases = cases_of(task.settings, task.layout.runs, task.layout.openings)
    footing, around, frame = footings_of(task), surroundings_of(task, cases), brace_frame(task)
    return Fence(
        task, around, footing, members_of(task), frame, footing_soil(task, footing),
        braced_rails(around.rails, frame.braced, len(task.layout.posts)), cases,
    )  # fmt: skip
