"""Every number of a design in one record: the job's where stated, else the trade default.

A tape measures no better than 0.1 mm: nothing here is rounded.
"""

from dataclasses import dataclass

from fencewright.catalogue.rows import Bag, Rail, Soil
from fencewright.job.stake_out_settings import LoadSettings, MeasuredSettings, StakeOutSettings
from fencewright.job.strength_settings import StrengthSettings
from fencewright.job.tension_settings import TensionSettings


@dataclass(frozen=True, slots=True)
class StrandSetting:
    """One strand: its catalogue row, and the height of its centre above ground. [m]"""

    rail: Rail
    height_m: float


@dataclass(frozen=True, slots=True)
class LayoutSettings:
    """Angles in radians, lengths in metres."""

    corner_angle_rad: float
    straight_angle_rad: float
    leaf_allowance_m: float
    spacing_limit_m: float
    least_span_m: float
    pull_length_limit_m: float
    friction_worked: float
    far_end_share: float
    ground_turning_rad_per_m: float
    string_beyond_m: float
    join_distance_m: float
    least_passage_m: float
    profile_step_m: float
    gate_swing_clearance_m: float
    overhead_reach_m: float


@dataclass(frozen=True, slots=True)
class PostSettings:
    """Diameters and stock lengths in metres, bevel in radians."""

    line_diameter_m: float
    end_diameter_m: float
    line_lengths_m: tuple[float, ...]
    end_lengths_m: tuple[float, ...]
    trim_m: float
    long_spare_m: float
    bevel_rad: float


@dataclass(frozen=True, slots=True)
class HoleSettings:
    """Lengths in metres; `end_depth_m` etc. after frost; `*_governs` says what decided them."""

    auger_m: float
    bell_m: float
    bell_height_m: float
    end_depth_m: float
    brace_depth_m: float
    line_depth_m: float
    end_governs: str
    brace_governs: str
    line_governs: str
    line_set: str
    below_frost_m: float
    recess_m: float
    brace_top_m: float
    brace_concrete_m: float
    waste: float
    tamped_lift_out_n: float
    driven_lift_out_n: float
    uplift_factor: float
    bag: Bag


@dataclass(frozen=True, slots=True)
class BraceSettings:
    """Lengths in metres; `kind` is `diagonal`, `horizontal` or `none`.

    `bays` braces each way, one behind the other; `far_reach` of a second diagonal, as a part of `reach_m`; `lean_m`
    away from the pull, `lean_most_m` the most that a post is set.
    """

    kind: str
    bays: int
    far_reach: float
    reach_m: float
    contact_m: float
    lean_m: float
    lean_most_m: float
    diameter_m: float
    lengths_m: tuple[float, ...]

    @property
    def whole_reach_m(self) -> float:
        """From a post to the last foot or upright of its braces one way. [m]"""
        if self.bays == 1:
            return self.reach_m
        return self.reach_m * (self.bays if self.kind == "horizontal" else self.far_reach)


@dataclass(frozen=True, slots=True)
class TopLineChoice:
    """Bands about the nominal height and gap, in metres."""

    low_m: float
    high_m: float
    gap_low_m: float
    gap_high_m: float
    nominal_weight: float
    concrete_worth_m2: float
    cut_limit_m: float
    mark_sd_m: float
    string_tolerance_m: float


@dataclass(frozen=True, slots=True)
class RollSettings:
    """Lengths in metres."""

    length_m: float | None
    remainders_m: tuple[float, ...]
    splice_price_m: float
    splice_overlap_m: float
    splice_clearance_m: float
    splice_from_fixed_m: float
    least_fragment_m: float
    near_m: float
    tail_m: float


@dataclass(frozen=True, slots=True)
class Settings:
    """All of them."""

    strands: tuple[StrandSetting, ...]
    top_height_m: float
    bottom_gap_m: float
    top_reveal_m: float
    layout: LayoutSettings
    posts: PostSettings
    holes: HoleSettings
    brace: BraceSettings
    top_line: TopLineChoice
    rolls: RollSettings
    hardware_waste: float
    frost_m: float
    soil: Soil
    unstable: bool
    tension: TensionSettings
    strength: StrengthSettings
    stake_out: StakeOutSettings
    load: LoadSettings
    measured: MeasuredSettings
