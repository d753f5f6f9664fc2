"""Adjusted tape-and-level notes as ground, and what they have to say about themselves."""

import math

from fencewright.findings import CAUTION, NOTE, Finding, InputError, Place
from fencewright.quantity.show import UnitSystem
from fencewright.site.ground_precision import GroundPrecision
from fencewright.site.level_adjustment import AdjustedNotes
from fencewright.site.profile_ground import ProfileGround

_SUSPECT_MISFIT = 2.0  # residuals twice what the instruments promise: about one survey in twenty by chance


def level_ground(adjusted: AdjustedNotes, precision: GroundPrecision) -> ProfileGround:
    """Make ground of the legs that were walked with tape and level.

    Parameters
    ----------
    adjusted : AdjustedNotes
        The survey.
    precision : GroundPrecision
        Reach beside the legs, and the fall there that nobody measured.

    Returns
    -------
    ProfileGround
        Straight between the points; unknown away from the legs.

    Raises
    ------
    InputError
        No leg holds both a length and a rise.
    """
    if not len(adjusted.legs):
        raise InputError("no leg holds both a length and a rise: read the rises too", file=adjusted.file)
    return ProfileGround(
        adjusted.place_m,
        point_sd_m=adjusted.sd_m[:, 2],
        legs=adjusted.legs,
        reach_m=precision.profile_reach_m,
        cross_slope=precision.cross_slope,
        source=f"{adjusted.file}, tape and level, {len(adjusted.names)} points",
        is_coarse=bool(adjusted.sd_m[:, 2].max() > precision.coarse_sd_m),
    )


def level_findings(adjusted: AdjustedNotes, show: UnitSystem) -> tuple[Finding, ...]:
    """Show the misclosure, and what was assumed.

    Parameters
    ----------
    adjusted : AdjustedNotes
        The survey.
    show : UnitSystem
        Units of the findings.

    Returns
    -------
    tuple of Finding
        `level-misclosure` (note; caution where residuals are more than twice what the instruments
        promise), `level-unchecked` (caution: nothing was measured twice), `level-assumed` (note).
    """
    place = Place("ground", adjusted.file)
    closure = adjusted.closure
    parts = []
    if not math.isnan(closure.horizontal_m):
        ratio = "exact" if math.isinf(closure.ratio) else f"1:{closure.ratio:,.0f}"
        parts.append(
            f"{show.small(closure.horizontal_m)} over {show.long(closure.length_m)} of plan ({ratio})"
        )
    if not math.isnan(closure.vertical_m):
        parts.append(f"{show.small(closure.vertical_m)} in height")
    misfits = [misfit for misfit in (adjusted.misfit_plan, adjusted.misfit_height) if not math.isnan(misfit)]
    findings = []
    if not misfits:
        findings.append(
            Finding(
                CAUTION,
                "level-unchecked",
                place,
                f"nothing in {adjusted.file} is measured twice, so a blunder would not show",
                "close the round back to its first point, or tape a diagonal",
            )
        )
    else:
        worst = max(misfits)
        parts.append(f"residuals {worst:.1f} times what tape and level promise")
        findings.append(
            Finding(
                CAUTION if worst > _SUSPECT_MISFIT else NOTE,
                "level-misclosure",
                place,
                f"{adjusted.file} closes to within {'; '.join(parts)}",
                "measure the worst leg again" if worst > _SUSPECT_MISFIT else "",
            )
        )
    if adjusted.assumed:
        findings.append(
            Finding(NOTE, "level-assumed", place, f"{adjusted.file}: {adjusted.assumed}", "read one bearing")
        )
    return tuple(findings)
