"""How much warmer than the air a rail gets in sun and wind: the steady heat balance of an overhead conductor.

What the sun brings, wind and radiation carry off. The equations are those of the standard for bare overhead
conductors, without current; a flat rail is taken as a round one of the same skin.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fencewright.mechanics.bracketed_root import bracketed_root

Floats = NDArray[np.float64]

# source: ieee-738
ZERO_C_K = 273.0
RADIATION_W_M2_K4 = 17.8e-8
NATURAL_W = 3.645
# hotter than any rail in the sun: one sun on a black rail of 1 m in still air stays below
RISE_LIMIT_C = 400.0


@dataclass(frozen=True, slots=True)
class RailSkin:
    """What sun and wind see of a rail; arrays broadcast with the weather.

    Attributes
    ----------
    diameter_m : array
        Of a round rail, or `same_skin_diameter_m` of a flat one. [m]
    absorptivity, emissivity : array
        0 to 1: a dark rail about 0.9 and 0.9 (from the data sheet). [-]
    sunlit_m : array
        Breadth that faces the sun: the diameter, or the height of a flat rail's face. [m]
    """

    diameter_m: ArrayLike
    absorptivity: ArrayLike
    emissivity: ArrayLike
    sunlit_m: ArrayLike


@dataclass(frozen=True, slots=True)
class Air:
    """The air about a rail; arrays broadcast.

    Attributes
    ----------
    air_c : array
        [C]
    wind_m_s : array
        0 or more. [m/s]
    wind_angle_rad : array
        Between wind and rail, pi / 2 across it. [rad]
    elevation_m : array
        Above the sea. [m]
    """

    air_c: ArrayLike
    wind_m_s: ArrayLike
    wind_angle_rad: ArrayLike = np.pi / 2
    elevation_m: ArrayLike = 0.0


def same_skin_diameter_m(face_height_m: ArrayLike, thickness_m: ArrayLike = 0.0) -> Floats:
    """Diameter of a round rail with the skin of a flat one: perimeter over pi. [m]"""
    return np.asarray(
        2.0 * (np.asarray(face_height_m, np.float64) + np.asarray(thickness_m, np.float64)) / np.pi
    )


def wind_loss_w_m(rail_c: ArrayLike, diameter_m: ArrayLike, air: Air) -> Floats:
    """Heat that moving or still air carries off a metre of rail.

    Parameters
    ----------
    rail_c : array
        Rail's skin, not below the air; shapes broadcast. [C]
    diameter_m : array
        [m]
    air : Air

    Returns
    -------
    float array
        The greatest of weak wind, strong wind and still air; 0 at the temperature of the air. [W/m]

    Notes
    -----
    Weak wind K (1.01 + 1.35 Re^0.52) k dt, strong wind 0.754 K Re^0.6 k dt, still air
    3.645 rho^0.5 D^0.75 dt^1.25, air taken at the mean of rail and air.

    References
    ----------
    ieee-738, from memory (edition 2012, equations 3a, 3b and 5a).
    """
    rail, diameter = np.asarray(rail_c, np.float64), np.asarray(diameter_m, np.float64)
    warmer = rail - np.asarray(air.air_c, np.float64)
    film = (rail + np.asarray(air.air_c, np.float64)) / 2.0
    density, viscosity, conductivity = _air_at(film, np.asarray(air.elevation_m, np.float64))
    reynolds = diameter * density * np.asarray(air.wind_m_s, np.float64) / viscosity
    angle = np.asarray(air.wind_angle_rad, np.float64)
    across = 1.194 - np.cos(angle) + 0.194 * np.cos(2 * angle) + 0.368 * np.sin(2 * angle)
    weak = across * (1.01 + 1.35 * reynolds**0.52) * conductivity * warmer
    strong = across * 0.754 * reynolds**0.6 * conductivity * warmer
    still = NATURAL_W * np.sqrt(density) * diameter**0.75 * np.maximum(warmer, 0.0) ** 1.25
    blown = np.where(reynolds > 0, np.maximum(weak, strong), 0.0)
    return np.asarray(np.maximum(blown, still))


def radiation_loss_w_m(
    rail_c: ArrayLike, air_c: ArrayLike, diameter_m: ArrayLike, emissivity: ArrayLike
) -> Floats:
    """Heat that a metre of rail radiates to surroundings as warm as the air. [W/m]

    Notes
    -----
    17.8 D e ((Ts / 100)^4 - (Ta / 100)^4), absolute temperatures.

    References
    ----------
    ieee-738, from memory (edition 2012, equation 7a).
    """
    rail = np.asarray(rail_c, np.float64) + ZERO_C_K
    around = np.asarray(air_c, np.float64) + ZERO_C_K
    skin = np.asarray(diameter_m, np.float64) * np.asarray(emissivity, np.float64)
    return np.asarray(RADIATION_W_M2_K4 * skin * (rail**4 - around**4))


def rail_temperature_c(sun_w_m2: ArrayLike, air: Air, skin: RailSkin) -> Floats:
    """Temperature of a rail in sun and wind, once it no longer changes.

    Parameters
    ----------
    sun_w_m2 : array
        Sun on a surface turned to it, 0 or more; shapes broadcast with `air` and `skin`. [W/m2]
    air : Air
    skin : RailSkin

    Returns
    -------
    float array
        Never below the air; NaN where the balance lies more than 400 C above it. [C]

    Notes
    -----
    Losses rise with the rail's temperature, so there is one balance. Left out: a clear night sky, under
    which a rail falls a little below the air; heat from the ground; rain. O(n), about ten rounds.

    References
    ----------
    ieee-738, from memory.
    """
    sun, air_c, *others = (
        np.asarray(value, np.float64)
        for value in np.broadcast_arrays(
            sun_w_m2,
            air.air_c,
            air.wind_m_s,
            air.wind_angle_rad,
            air.elevation_m,
            skin.diameter_m,
            skin.absorptivity,
            skin.emissivity,
            skin.sunlit_m,
        )
    )
    wind, angle, elevation, diameter, absorptivity, emissivity, sunlit = others
    around = Air(air_c, wind, angle, elevation)
    gain = absorptivity * sun * sunlit

    def lost_w_m(rail_c: Floats) -> Floats:
        radiated = radiation_loss_w_m(rail_c, air_c, diameter, emissivity)
        return np.asarray(wind_loss_w_m(rail_c, diameter, around) + radiated - gain)

    return bracketed_root(lost_w_m, air_c, air_c + RISE_LIMIT_C)


def _air_at(film_c: Floats, elevation_m: Floats) -> tuple[Floats, Floats, Floats]:
    """Density [kg/m3], viscosity [kg/(m s)] and conductivity [W/(m C)] of air.

    References
    ----------
    ieee-738, from memory (edition 2012, equations 13a, 14a and 15a).
    """
    viscosity = 1.458e-6 * (film_c + ZERO_C_K) ** 1.5 / (film_c + 383.4)
    density = (1.293 - 1.525e-4 * elevation_m + 6.379e-9 * elevation_m**2) / (1.0 + 0.00367 * film_c)
    conductivity = 2.424e-2 + 7.477e-5 * film_c - 4.407e-9 * film_c**2
    return density, viscosity, conductivity
