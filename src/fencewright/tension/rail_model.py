"""Rails from their data sheets, and what is assumed where a sheet is silent."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import Rail
from fencewright.findings import NOTE, Finding, InputError, Place
from fencewright.job.settings import Settings
from fencewright.job.tension_settings import RailAssumptions, Spool, TensionSettings
from fencewright.mechanics.composite import wires_area_m2
from fencewright.mechanics.spool import wound_m
from fencewright.mechanics.thermal import Air, RailSkin, rail_temperature_c, same_skin_diameter_m
from fencewright.quantity.parse import GRAVITY_M_S2
from fencewright.tables.tension import RailModels

Floats = NDArray[np.float64]


def rail_models(settings: Settings) -> tuple[RailModels, tuple[Finding, ...]]:
    """Each rail product of the fence as a row, and what was assumed of it.

    Parameters
    ----------
    settings : Settings
        Strands, temperatures, sun and wind, assumptions.

    Returns
    -------
    RailModels, tuple of Finding
        `rail-assumed` for each product whose data sheet leaves something out.

    Raises
    ------
    InputError
        A set or cold tension above the breaking load.

    References
    ----------
    steel-wire, composite-bar, ieee-738.
    """
    rails = list(dict.fromkeys(row.rail for row in settings.strands))
    tension = settings.tension
    for rail in rails:
        _refuse(rail)
    parts = [_stiffness_and_expansion(rail, tension.assumed) for rail in rails]
    allowed = [
        rail.breaking_load_n * _stated(rail.allowed_share, tension.assumed.allowed_share) for rail in rails
    ]
    wire = np.array([rail.wire_diameter_m for rail in rails])
    models = RailModels(
        rail=tuple(rail.name for rail in rails),
        strands=np.array([sum(row.rail == rail for row in settings.strands) for rail in rails]),
        stiffness_n=np.array([stiffness for stiffness, _ in parts]),
        expansion_per_c=np.array([expansion for _, expansion in parts]),
        weight_n_m=np.array([rail.line_mass_kg_m * GRAVITY_M_S2 for rail in rails]),
        breaking_load_n=np.array([rail.breaking_load_n for rail in rails]),
        share_allowed_n=np.array(allowed),
        cold_allowed_n=np.array([rail.cold_tension_n for rail in rails]),
        set_tension_n=np.array([rail.set_tension_n for rail in rails]),
        creep_per_decade=np.array([rail.creep or 0.0 for rail in rails]),
        hottest_c=np.array([hottest_rail_c(rail, tension) for rail in rails]),
        coldest_c=np.full(len(rails), tension.coldest_c),
        spool_holds_m=np.array([_spool_holds_m(rail, tension.spool) for rail in rails]),
        wire_m=wire,
    )
    return models, tuple(_said(rail, tension.assumed) for rail in rails if _left_out(rail, tension.assumed))


def hottest_rail_c(rail: Rail, tension: TensionSettings) -> float:
    """Temperature of the rail in the sun of the hottest day. [C]

    Notes
    -----
    Steady heat balance; a rail with a face is a thin flat one whose whole face turns to the sun.

    References
    ----------
    ieee-738.
    """
    skin = rail.face_height_m if rail.is_wire else float(same_skin_diameter_m(rail.face_height_m))
    absorptivity = _stated(rail.absorptivity, tension.assumed.absorptivity)
    emissivity = _stated(rail.emissivity, tension.assumed.emissivity)
    return _in_the_sun_c(
        tension.sun_w_m2,
        Air(tension.hottest_c, tension.wind_m_s),
        RailSkin(skin, absorptivity, emissivity, rail.face_height_m),
    )


@lru_cache(maxsize=256)
def _in_the_sun_c(sun_w_m2: float, air: Air, skin: RailSkin) -> float:
    """Steady temperature of a rail; kept, since no edit of a fence changes its rail's skin or its climate. [C]"""
    return float(rail_temperature_c(sun_w_m2, air, skin))


def _stated(value: float | None, assumed: float) -> float:
    return assumed if value is None else value


def _refuse(rail: Rail) -> None:
    for value, name in ((rail.set_tension_n, "set_tension"), (rail.cold_tension_n, "cold_tension")):
        if value >= rail.breaking_load_n:
            raise InputError(
                f"{name} is not below breaking_load: check both on the data sheet", item=f'rail "{rail.name}"'
            )


def _stiffness_and_expansion(rail: Rail, assumed: RailAssumptions) -> tuple[float, float]:
    """E A of the rail [N] and its expansion [1/C], wires and polymer stretching together."""
    area = float(wires_area_m2(rail.wire_diameter_m, rail.wires))
    wires = _stated(rail.elastic_modulus_pa, assumed.steel_modulus_pa) * area
    polymer = rail.polymer_stiffness_n or 0.0
    whole = _stated(rail.stiffness_n, wires + polymer)
    if rail.stiffness_n is not None:
        wires = max(whole - polymer, 0.0)
    expansion = _stated(rail.expansion_per_c, assumed.steel_expansion_per_c)
    if polymer and rail.polymer_expansion_per_c is not None:
        expansion = (wires * expansion + polymer * rail.polymer_expansion_per_c) / (wires + polymer)
    return whole, expansion


def _spool_holds_m(rail: Rail, spool: Spool) -> float:
    """Rail that a tensioner takes in before it is full. [m]"""
    if rail.tensioner_holds_m is not None:
        return rail.tensioner_holds_m
    if spool.holds_m is not None:
        return spool.holds_m
    wraps = max(int(spool.width_m / rail.wire_diameter_m), 1)
    layers = max(int((spool.full_m - spool.core_m) / 2 / rail.wire_diameter_m), 1)
    return float(wound_m(wraps * layers, spool.core_m, rail.wire_diameter_m, wraps))


def _left_out(rail: Rail, assumed: RailAssumptions) -> list[str]:
    """What the sheet does not say, each with the value taken and where it is from."""
    said = []
    if rail.stiffness_n is None and rail.elastic_modulus_pa is None:
        said.append(f"wires of steel, E {assumed.steel_modulus_pa / 1e9:.0f} GPa (source steel-wire)")
    if rail.expansion_per_c is None:
        said.append(f"expansion {assumed.steel_expansion_per_c * 1e6:.1f}e-6 /C (source steel-wire)")
    if not rail.is_wire and rail.polymer_stiffness_n is None and rail.stiffness_n is None:
        said.append("a polymer that carries nothing (no source: none is published)")
    if rail.polymer_stiffness_n and rail.polymer_expansion_per_c is None:
        said.append("a polymer that expands as its wires do (no source)")
    if rail.creep is None:
        said.append("no creep (wires of steel at this share of their strength; no source)")
    if rail.absorptivity is None:
        said.append(f"absorptivity {assumed.absorptivity:g}, a dark rail (from memory)")
    if rail.emissivity is None:
        said.append(f"emissivity {assumed.emissivity:g} (from memory)")
    if rail.allowed_share is None:
        said.append(f"{assumed.allowed_share:.0%} of its breaking load on the coldest day (common practice)")
    return said


def _said(rail: Rail, assumed: RailAssumptions) -> Finding:
    return Finding(
        NOTE,
        "rail-assumed",
        Place("rail", rail.name),
        f"The data sheet of {rail.name} leaves out what is assumed here: {'; '.join(_left_out(rail, assumed))}.",
        "Add what its supplier states as another row of [catalogue] files.",
    )
