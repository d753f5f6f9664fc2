"""One run drawn again by the tension stage, and the inputs that its reasons share."""

from dataclasses import dataclass

from fencewright.catalogue.rows import Rail
from fencewright.pipeline.pulling import tension_task
from fencewright.pipeline.record import Design, post_id
from fencewright.pipeline.why_origin import asked, computed, practice
from fencewright.pipeline.why_record import Input
from fencewright.pipeline.why_rows import Part
from fencewright.pipeline.why_strength import strength_part
from fencewright.tables.strength import EndAssemblies
from fencewright.tables.tension import Tensions, TensionTask
from fencewright.takeoff.pieces import span_vectors
from fencewright.tension.pulled import PulledRuns
from fencewright.tension.stage import pull_tensions


@dataclass(frozen=True, slots=True, eq=False)
class PullPart:
    """One run drawn again: `strand` the row of `tensions`, `product` that of the rails, `run` of the design."""

    design: Design
    task: TensionTask
    tensions: Tensions
    pulled: PulledRuns
    ends: EndAssemblies
    post_names: tuple[str, ...]
    strand: int
    product: int

    @property
    def rail(self) -> Rail:
        """Data sheet of the rail."""
        return self.design.job.settings.strands[self.strand].rail

    def value(self, name: str) -> float:
        """Number of the pull in a column of `Tensions`."""
        return float(getattr(self.tensions, name)[self.strand])


def pull_part(design: Design, run: int, strand: int, part: Part) -> PullPart:
    """Draw one run again by the stage's own functions, its ends as sizing found them."""
    ends = strength_part(design, part.post_rows).ends_of(run)
    vector = span_vectors(part.layout, part.top_line.top_m)
    task = tension_task(part.layout, vector, ends)
    tensions, pulled, _ = pull_tensions(task, design.job.settings)
    names = tuple(post_id(int(part.post_rows[row])) for row in tensions.post_index[tensions.posts_of(strand)])
    return PullPart(design, task, tensions, pulled, ends, names, strand, int(tensions.product_index[strand]))


def sheet_origin(one: PullPart) -> str:
    """Say which data sheet a value is from."""
    return f'catalogue, rail "{one.rail.name}" [{one.rail.source}]'


def of_sheet(one: PullPart, key: str, default: str, what: tuple[str, str], value: float, unit: str) -> Input:
    """Name a value of the data sheet, or what is assumed where the sheet is silent."""
    if getattr(one.rail, key) is not None:
        return computed(*what, value, unit, sheet_origin(one))
    return practice(one.design.job, default, what, value, unit)


def stiffness_input(one: PullPart) -> Input:
    """Name the stiffness of one rail."""
    return computed("EA", "stiffness of one rail", float(one.pulled.rails.stiffness_n[one.product]), "N")


def expansion_input(one: PullPart) -> Input:
    """Name the expansion of the rail."""
    return computed("alpha", "expansion", float(one.pulled.rails.expansion_per_c[one.product]), "1/C")


def reference_input(one: PullPart) -> Input:
    """Name the temperature of the set tension."""
    tension, key = one.design.job.settings.tension, "tension.reference_temperature"
    return asked(
        one.design.job, key, key, ("t_0", "rail temperature of the set tension"), tension.reference_c, "C"
    )


def length_input(one: PullPart) -> Input:
    """Name the length of the pull."""
    return computed("L", "length, post to post", float(one.pulled.drawn.length_m[0]))


def coldest_input(one: PullPart) -> Input:
    """Name the coldest day."""
    job = one.design.job
    return asked(
        job, "site.coldest", "site.coldest", ("t_c", "coldest day"), job.settings.tension.coldest_c, "C"
    )


def rail_hottest_input(one: PullPart) -> Input:
    """Name the temperature of the rail on the hottest day."""
    return computed("t_h", "rail on the hottest day", float(one.pulled.rails.hottest_c[one.product]), "C")


def growth_inputs(one: PullPart) -> tuple[Input, Input, Input]:
    """From which day a rail grows or shrinks, by how much a degree, over what length."""
    return reference_input(one), expansion_input(one), length_input(one)
