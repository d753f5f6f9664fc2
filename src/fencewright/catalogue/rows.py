"""Rows of the catalogue as records in SI."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from fencewright.catalogue.work_rows import WorkRow

_METRIC = "_metric"


@dataclass(frozen=True, slots=True)
class Rail:
    """A rail or wire from its data sheet; None where the sheet leaves a value out.

    `stiffness_n` E A of the whole rail [N]; `elastic_modulus_pa`, `expansion_per_c` of its wires [Pa], [1/C];
    `polymer_stiffness_n`, `polymer_expansion_per_c` of what surrounds them [N], [1/C]; `creep` strain for each
    tenfold of time; `allowed_share` of the breaking load on the coldest day; `tensioner_holds_m` rail that a
    tensioner takes in before it is full [m].
    """

    name: str
    kind: str
    face_height_m: float
    wires: int
    wire_diameter_m: float
    line_mass_kg_m: float
    roll_length_m: float
    set_tension_n: float
    cold_tension_n: float
    breaking_load_n: float
    source: str
    why: str = ""
    stiffness_n: float | None = None
    elastic_modulus_pa: float | None = None
    expansion_per_c: float | None = None
    polymer_stiffness_n: float | None = None
    polymer_expansion_per_c: float | None = None
    creep: float | None = None
    absorptivity: float | None = None
    emissivity: float | None = None
    least_bend_radius_m: float | None = None
    allowed_share: float | None = None
    tensioner_holds_m: float | None = None
    tensioner: str = ""
    fixing: str = ""

    @property
    def is_wire(self) -> bool:
        """Tell a bare or coated wire from a rail with a face."""
        return self.kind.endswith("wire")


@dataclass(frozen=True, slots=True)
class Bag:
    """Bagged concrete."""

    name: str
    mass_kg: float
    yield_m3: float


@dataclass(frozen=True, slots=True)
class Hardware:
    """One item of hardware: `count` of it for each thing that `per` names.

    `part` is `tensioner` or `fixing` where a rail's own stands in its place; `mass_kg` of one unit, NaN unknown [kg].
    """

    item: str
    strand_kind: str
    per: str
    count: float
    unit: str
    pack: float
    why: str
    part: str = ""
    mass_kg: float = math.nan


@dataclass(frozen=True, slots=True)
class Soil:
    """A soil class; values NaN where the table presumes none."""

    name: str
    soil_class: int
    bearing_pa: float
    lateral_pa_per_m: float
    heaves: bool
    friction: float = math.nan
    cohesion_pa: float = math.nan


@dataclass(frozen=True, slots=True)
class Timber:
    """Round timber of a species group: allowable values at ten years' load. [Pa], [-], [kg/m3]"""

    name: str
    bending_pa: float
    shear_pa: float
    compression_pa: float
    modulus_pa: float
    least_modulus_pa: float
    wet_factor: float
    density_kg_m3: float
    source: str


@dataclass(frozen=True, slots=True)
class Pipe:
    """Steel pipe: outer diameter and wall [m], yield stress and modulus [Pa]."""

    name: str
    outer_m: float
    wall_m: float
    yield_pa: float
    modulus_pa: float
    source: str


@dataclass(frozen=True, slots=True)
class LoadCase:
    """What acts at once and by which factors; `factors` are of the pull, the wind and the extra.

    `duration` None takes the job's own for the cold pull.
    """

    name: str
    pull: str
    side: str
    wind: str
    extra: str
    factors: tuple[float, float, float]
    lrfd_factors: tuple[float, float, float]
    duration: float | None
    time_effect: float
    source: str
    why: str


@dataclass(frozen=True, slots=True)
class ObstacleKind:
    """What may lie in the way; `is_solid` where no rail can run through it."""

    name: str
    clearance_m: float
    colour: str
    is_service: bool
    is_water: bool
    is_overhead: bool
    bars_machines: bool
    is_solid: bool = False
    metric_m: float | None = None

    def on_metric_sheets(self) -> "ObstacleKind":
        """Give the row with its round metric clearance [m]; itself where it has none."""
        return self if self.metric_m is None else replace(self, clearance_m=self.metric_m)


@dataclass(frozen=True, slots=True)
class Kept:
    """What a kind of stock asks of its fence.

    `metric_m` top height and bottom gap on metric sheets, where the row has them [m], and `metric_why` their reason;
    `least_top_m` the top that its
    source asks for, where a round one is proposed in its place [m].
    """

    name: str
    rails: int
    top_height_m: float
    bottom_gap_m: float
    why: str
    source: str
    metric_m: tuple[float, float] | None = None
    metric_why: str = ""
    least_top_m: float | None = None

    def on_metric_sheets(self) -> "Kept":
        """Give the row with its round metric sizes; itself where it has none."""
        if self.metric_m is None:
            return self
        top, gap = self.metric_m
        least, why = min(top, self.top_height_m), self.metric_why or self.why
        return replace(self, top_height_m=top, bottom_gap_m=gap, least_top_m=least, why=why)


@dataclass(frozen=True, slots=True)
class PracticeValue:
    """A trade default: value in SI, as written, and where it is from."""

    value: object
    written: str
    source: str
    read: str
    why: str


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All rows by name."""

    rails: Mapping[str, Rail] = field(default_factory=dict)
    bags: Mapping[str, Bag] = field(default_factory=dict)
    hardware: tuple[Hardware, ...] = ()
    soils: Mapping[str, Soil] = field(default_factory=dict)
    obstacles: Mapping[str, ObstacleKind] = field(default_factory=dict)
    kept: Mapping[str, Kept] = field(default_factory=dict)
    timbers: Mapping[str, Timber] = field(default_factory=dict)
    pipes: Mapping[str, Pipe] = field(default_factory=dict)
    load_cases: Mapping[str, LoadCase] = field(default_factory=dict)
    works: Mapping[str, WorkRow] = field(default_factory=dict)
    practice: Mapping[str, PracticeValue] = field(default_factory=dict)

    def on_sheets(self, sheets: str) -> "Catalogue":
        """Give the catalogue whose trade defaults are whole numbers in the units of the sheets.

        Notes
        -----
        A row `x_metric` stands for row `x` on metric sheets: stock, holes and bags are sold and dug there by other steps.
        What animals ask for, clearances and the names of works are round there too.
        """
        if sheets != "metric":
            return self
        own = {
            name.removesuffix(_METRIC): row for name, row in self.practice.items() if name.endswith(_METRIC)
        }
        kept = {name: row.on_metric_sheets() for name, row in self.kept.items()}
        obstacles = {name: row.on_metric_sheets() for name, row in self.obstacles.items()}
        works = {row.name: row for row in (row.on_metric_sheets() for row in self.works.values())}
        return replace(self, practice={**self.practice, **own}, kept=kept, obstacles=obstacles, works=works)
