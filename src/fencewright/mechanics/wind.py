"""Wind on wires, rails, posts and solid walls by the building loads standard."""

from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Exposure:
    """Roughness of the country upwind: power of the wind profile [-] and the height where it ends [m]."""

    power: float
    gradient_m: float


# alpha and zg: towns and woods B, open country C, open water and flats D; editions 2005 to 2016, source: asce-7
EXPOSURES = MappingProxyType(
    {"B": Exposure(7.0, 365.76), "C": Exposure(9.5, 274.32), "D": Exposure(11.5, 213.36)}
)
# Kz = 2.01 (z / zg)^(2 / alpha) from 15 ft up, source: asce-7
PROFILE_FACTOR = 2.01
LEAST_HEIGHT_M = 4.572
# q = 0.613 Kz Kzt Kd V^2 in Pa and m/s, source: asce-7
AIR_PA_S2_M2 = 0.613
# directionality of walls, signs and lattice, source: asce-7
DIRECTIONALITY = 0.85
# gust factor of stiff structures, source: asce-7
GUST = 0.85
# strength-level wind times 0.6 in allowable-stress combinations, source: asce-7
ALLOWABLE_FACTOR = 0.6
# design pressure on the solid area of open structures and walls is at least 16 psf, source: asce-7
LEAST_PRESSURE_PA = 766.08
# D sqrt(q) up to which round members count as small, in m and Pa, source: asce-7 table 29.4-2
SMALL_ROUND = 5.3
# solidity limits of the table's three rows; more than 0.7 is a solid sign, source: asce-7 table 29.4-2
SOLIDITY_STEPS = (0.1, 0.3, 0.7)
# coefficients of those rows: flat, small round, large round, source: asce-7 table 29.4-2
FLAT = (2.0, 1.8, 1.6)
ROUND_SMALL = (1.2, 1.3, 1.5)
ROUND_LARGE = (0.8, 0.9, 1.1)
# solid wall on the ground, cases A and B, by length over height, from memory, source: asce-7 figure 29.3-1
WALL_RATIOS = (0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 4.0, 5.0, 10.0)
WALL_COEFFICIENTS = (1.80, 1.70, 1.65, 1.55, 1.45, 1.40, 1.35, 1.35, 1.30)
# its resultant acts at 0.55 of its height, source: asce-7 figure 29.3-1
WALL_RESULTANT = 0.55
# openings below 30 % reduce a wall's load by 1 - (1 - solid)^1.5, source: asce-7
OPENING_POWER = 1.5


def height_factor(height_m: ArrayLike, exposure: Exposure) -> Floats:
    """Velocity pressure factor Kz; below 15 ft that of 15 ft. [-]

    References
    ----------
    asce-7 (editions 2005 to 2016; 2022 has other constants, from memory).
    """
    counted = np.maximum(np.asarray(height_m, np.float64), LEAST_HEIGHT_M)
    return np.asarray(PROFILE_FACTOR * (counted / exposure.gradient_m) ** (2.0 / exposure.power))


def velocity_pressure_pa(
    speed_m_s: ArrayLike,
    height_factor: ArrayLike,
    topography: ArrayLike = 1.0,
    directionality: float = DIRECTIONALITY,
) -> Floats:
    """Velocity pressure of the wind.

    Parameters
    ----------
    speed_m_s : array
        Basic three-second gust at 10 m in open country; at strength level since the 2010 edition. [m/s]
    height_factor : array
        `height_factor` Kz. [-]
    topography : array
        Kzt, above 1 on crests. [-]
    directionality : float
        Kd. [-]

    Returns
    -------
    float array
        0.613 Kz Kzt Kd V^2. [Pa]

    References
    ----------
    asce-7.
    """
    factors = np.asarray(height_factor, np.float64) * np.asarray(topography, np.float64) * directionality
    return np.asarray(AIR_PA_S2_M2 * factors * np.asarray(speed_m_s, np.float64) ** 2)


def open_coefficient(
    solidity: ArrayLike, diameter_m: ArrayLike, pressure_pa: ArrayLike, *, is_round: bool
) -> Floats:
    """Force coefficient of open fences on their solid area.

    Parameters
    ----------
    solidity : array
        Solid area over the area of the outline, 0 to 0.7. [-]
    diameter_m : array
        Of round members; not used for flat ones. [m]
    pressure_pa : array
        Velocity pressure. [Pa]
    is_round : bool
        Round wires and posts, or flat-faced rails.

    Returns
    -------
    float array
        [-]

    Raises
    ------
    ValueError
        Solidity outside 0 to 0.7: less than 30 % open is a solid wall.

    References
    ----------
    asce-7 (7-16 table 29.4-2).
    """
    solid = np.asarray(solidity, np.float64)
    low, middle, high = SOLIDITY_STEPS
    if not np.all((solid >= 0) & (solid <= high)):
        raise ValueError("solidity must lie between 0 and 0.7; what is less than 30 % open is a solid wall")
    row = (solid >= low).astype(np.intp) + (solid >= middle)
    if not is_round:
        return np.asarray(FLAT)[row]
    thick = np.asarray(diameter_m, np.float64) * np.sqrt(np.asarray(pressure_pa, np.float64))
    return np.where(thick <= SMALL_ROUND, np.asarray(ROUND_SMALL)[row], np.asarray(ROUND_LARGE)[row])


def wall_coefficient(length_m: ArrayLike, height_m: ArrayLike, solidity: ArrayLike = 1.0) -> Floats:
    """Force coefficient of a solid wall that stands on the ground, on its outline, cases A and B. [-]

    Notes
    -----
    Linear between the printed ratios. Case C, a higher load at the free end, is left out. Openings of less
    than 30 % reduce it by 1 - (1 - solid)^1.5.

    References
    ----------
    asce-7 (figure 29.3-1, from memory).
    """
    ratio = np.asarray(length_m, np.float64) / np.asarray(height_m, np.float64)
    closed = 1.0 - (1.0 - np.asarray(solidity, np.float64)) ** OPENING_POWER
    return np.asarray(np.interp(ratio, WALL_RATIOS, WALL_COEFFICIENTS) * closed)


def line_load_n_m(
    pressure_pa: ArrayLike, coefficient: ArrayLike, face_m: ArrayLike, gust: float = GUST
) -> Floats:
    """Wind per metre of a wire, rail or post, square to it: q G Cf times its face.

    Parameters
    ----------
    pressure_pa : array
        Velocity pressure; times `ALLOWABLE_FACTOR` for allowable stress. [Pa]
    coefficient : array
        Force coefficient. [-]
    face_m : array
        Height of a rail, diameter of a wire or post. [m]
    gust : float
        G. [-]

    Returns
    -------
    float array
        [N/m]

    References
    ----------
    asce-7.
    """
    face = np.asarray(coefficient, np.float64) * np.asarray(face_m, np.float64)
    return np.asarray(np.asarray(pressure_pa, np.float64) * gust * face)


def post_load(line_load_n_m: ArrayLike, above_ground_m: ArrayLike) -> tuple[Floats, Floats]:
    """Wind on the part of a post above ground: force, and its moment at grade. [N], [N m]"""
    height = np.asarray(above_ground_m, np.float64)
    force = np.asarray(line_load_n_m, np.float64) * height
    return np.asarray(force), np.asarray(force * height / 2.0)
