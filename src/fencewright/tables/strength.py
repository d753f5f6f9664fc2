"""What the strength stage hands on: the governing row of each check, the sizes that pass, ends for the tension."""

from dataclasses import dataclass
from enum import IntEnum
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]


class Check(IntEnum):
    """What is checked."""

    BENDING = 0
    SHEAR = 1
    EMBEDMENT = 2
    UPLIFT = 3
    BEARING = 4
    FROST = 5
    BRACE_COMPRESSION = 6
    FOOTING_PUSH = 7
    FOOTING_BEARING = 8
    TIE = 9
    LEAN = 10
    EMBEDMENT_BROMS = 11
    UPLIFT_SHAFT = 12
    UPLIFT_CYLINDER = 13
    UPLIFT_CONE = 14
    UPLIFT_LEDGE = 15
    FOOTING_TIPPING = 16

    @property
    def kind(self) -> "CheckKind":
        """Its names, unit and source."""
        return KINDS[self]

    @property
    def label(self) -> str:
        """Name in design.json."""
        return KINDS[self].label


@dataclass(frozen=True, slots=True)
class CheckKind:
    """A check's name, the part that it is of, the unit of demand and capacity, its source and clause.

    `is_counted`: it counts in the utilisation; the rest are second opinions, frost and lean.
    """

    label: str
    part: str
    unit: str
    source: str
    clause: str
    is_counted: bool = True


KINDS = MappingProxyType(
    {
        Check.BENDING: CheckKind("bending", "post", "N m", "nds-timber", "F S, round section"),
        Check.SHEAR: CheckKind("shear", "post", "N", "nds-timber", "3 A F / 4"),
        Check.EMBEDMENT: CheckKind("embedment", "hole", "N", "ibc-1807", "1807.3.2.1, eq. 18-1"),
        Check.UPLIFT: CheckKind("uplift", "hole", "N", "ibc-1810", "1810.3.3.1.4 and .5, by analogy"),
        Check.BEARING: CheckKind("bearing", "hole", "N", "ibc-1806", "table 1806.2"),
        Check.FROST: CheckKind("frost", "hole", "m", "practice", "concrete reaches below frost", False),
        Check.BRACE_COMPRESSION: CheckKind("brace compression", "brace", "N", "nds-timber", "3.7.1"),
        Check.FOOTING_PUSH: CheckKind(
            "footing sideways",
            "brace footing",
            "N",
            "ibc-1806-3",
            "1806.3.3 and 1806.3.4, base sliding 1806.2",
        ),
        Check.FOOTING_BEARING: CheckKind(
            "footing bearing", "brace footing", "N", "ibc-1806", "table 1806.2, or shaft by 1810.3.3.1.4"
        ),
        Check.FOOTING_TIPPING: CheckKind(
            "footing tipping",
            "brace footing",
            "N m",
            "ibc-1807",
            "factor against overturning of 1807.2.3, by analogy; soil by broms-1964a and broms-1964b",
        ),
        Check.TIE: CheckKind("tie", "brace", "N", "steel-wire", "share of its breaking load"),
        Check.LEAN: CheckKind(
            "lean", "post", "m", "practice", "movement at the top within the lean set", False
        ),
        Check.EMBEDMENT_BROMS: CheckKind("embedment, Broms", "hole", "N", "broms-1964a", "short post", False),
        Check.UPLIFT_SHAFT: CheckKind("uplift, shaft", "hole", "N", "ibc-1810", "weight and skin", False),
        Check.UPLIFT_CYLINDER: CheckKind(
            "uplift, cylinder",
            "hole",
            "N",
            "slip-cylinder",
            "weight, soil and skin on the bell's cylinder",
            False,
        ),
        Check.UPLIFT_CONE: CheckKind("uplift, cone", "hole", "N", "cone-sheet", "weight and a cone", False),
        Check.UPLIFT_LEDGE: CheckKind(
            "uplift, ledge", "hole", "N", "bowles-bell", "weight and soil over the ledge", False
        ),
    }
)


@dataclass(frozen=True, slots=True, eq=False)
class Checks:
    """The governing row of each check of each post and brace.

    Columns (checks,): `post_index`; `brace_index` -1 where the check is the post's own; `check` (`Check`);
    `case_index` row of `cases`; `demand`, `capacity` in the check's unit; `utilisation` demand over capacity.
    `cases` names of the load cases.
    """

    post_index: Ints
    brace_index: Ints
    check: Ints
    case_index: Ints
    demand: Floats
    capacity: Floats
    utilisation: Floats
    cases: tuple[str, ...]

    def __len__(self) -> int:
        """Number of rows."""
        return len(self.check)


@dataclass(frozen=True, slots=True, eq=False)
class Sizes:
    """Holes chosen, one row a post or a brace.

    Columns: `depth_m` chosen [m]; `least_depth_m` that still passes, infinite where none up to the deepest does [m];
    `governs` what decided the depth: practice, frost, stated, rock, already set, embedment, uplift, ...
    """

    depth_m: Floats
    least_depth_m: Floats
    governs: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class EndAssemblies:
    """What holds the two ends of each run, (runs, 2), its beginning first.

    `capacity_n` pull of all rails together, at their heights, that the end carries [N]; `stiffness_n_m` force of
    all rails for one metre of yield at their common height [N/m]; `check` (`Check`) that limits it.
    (runs,): `turn_capacity_n` pull that the weakest post at which the run turns carries, infinite without one [N];
    `turn_post` that post, -1 without one; `turn_check` that limits it.
    """

    capacity_n: Floats
    stiffness_n_m: Floats
    check: Ints
    turn_capacity_n: Floats
    turn_post: Ints
    turn_check: Ints


@dataclass(frozen=True, slots=True, eq=False)
class Strength:
    """The whole answer of the strength stage.

    Columns (posts,): `utilisation` largest of the counted checks of the post and its braces [-]; `check` the one
    (`Check`); `movement_m` at the top under the cold pull, towards it [m]. Columns (braces,): `brace_utilisation`;
    `fastener_n` force along the brace that its joint with the post carries [N]. `checks`, `sizes`, `brace_sizes`, `ends`.
    """

    utilisation: Floats
    check: Ints
    movement_m: Floats
    brace_utilisation: Floats
    fastener_n: Floats
    checks: Checks
    sizes: Sizes
    brace_sizes: Sizes
    ends: EndAssemblies
