"""How holes are marked and what the truck carries: what the job states, else the trade default."""

from dataclasses import dataclass

from fencewright.findings import InputError
from fencewright.job.filling import Filling


@dataclass(frozen=True, slots=True)
class StakeOutSettings:
    """Lengths in metres, angles in radians.

    `tape_sd_m` and `tape_share` of the length: the two parts of a taped length's standard deviation; `tie_angle_*`
    between which two ties cross well; `reference_clear_m` that a reference point keeps from every line.
    """

    tape_length_m: float
    tape_sd_m: float
    tape_share: float
    tie_angle_least_rad: float
    tie_angle_most_rad: float
    reference_clear_m: float
    peg_beyond_m: float
    check_leg_m: float
    right_angle_rad: float
    sheet_unit_m: float


@dataclass(frozen=True, slots=True)
class LoadSettings:
    """`payload_kg` of the truck; `wet_factor` of freshly treated posts over their catalogue density."""

    payload_kg: float
    wet_factor: float


@dataclass(frozen=True, slots=True)
class MeasuredSettings:
    """How far a finished fence may be off the design: lengths in metres, half the band each way."""

    top_m: float
    plumb_m: float
    depth_m: float
    post_offset_m: float
    gap_m: float
    spacing_m: float
    string_m: float


_MOST_PAYLOAD_KG = 50_000.0


def fill_stake_out(filling: Filling) -> StakeOutSettings:
    """Resolve `[stake_out]`.

    Raises
    ------
    InputError
        A tape, a peg's distance or a check leg of no length.
    """
    stake_out, take = filling.asked.stake_out, filling.take
    made = StakeOutSettings(
        take(stake_out.tape_length, "stake_out.tape_length"),
        take(stake_out.tape_sd, "ground.tape_sd"),
        take(stake_out.tape_share, "ground.tape_sd_ratio"),
        take(None, "stake_out.tie_angle_least"),
        take(None, "stake_out.tie_angle_most"),
        take(None, "stake_out.reference_clear"),
        take(stake_out.peg_beyond, "layout.string_beyond"),
        filling.take(stake_out.check_leg, "stake_out.check_leg"),
        take(None, "stake_out.right_angle"),
        take(None, "stake_out.whole"),
    )
    for key, value in (
        ("tape_length", made.tape_length_m), ("tape_sd", made.tape_sd_m), ("peg_beyond", made.peg_beyond_m),
        ("check_leg", made.check_leg_m),
    ):  # fmt: skip
        if value <= 0:
            raise InputError("must be more than nothing: check its unit", item=f"stake_out, {key}")
    return made


def fill_load(filling: Filling) -> LoadSettings:
    """Resolve `[load]`.

    Raises
    ------
    InputError
        A payload of nothing, or of more than any truck.
    """
    payload = filling.take(filling.asked.load.payload, "load.payload")
    if not 0 < payload <= _MOST_PAYLOAD_KG:
        raise InputError(
            f"must lie above nothing and below {_MOST_PAYLOAD_KG:,.0f} kg: check its unit",
            item="load, payload",
        )
    return LoadSettings(payload, filling.take(None, "load.wet_factor"))


def fill_measured(filling: Filling) -> MeasuredSettings:
    """Resolve the tolerances of a finished fence."""
    take = filling.take
    return MeasuredSettings(
        take(None, "measured.top"),
        take(None, "measured.plumb"),
        take(None, "measured.depth"),
        take(None, "measured.post_offset"),
        take(None, "measured.gap"),
        take(None, "measured.spacing"),
        take(None, "top_line.string_tolerance"),
    )
