"""Hours of daylight by latitude and day."""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

# cooper-1969: declination of the sun is its greatest times the sine of the year's angle from the March equinox
GREATEST_DECLINATION_DEG, DAYS_TO_EQUINOX, DAYS_IN_YEAR = 23.45, 284.0, 365.0
HOURS_PER_DEGREE = 2.0 / 15.0  # the earth turns 15 degrees in an hour; morning and evening


def declination_rad(day_of_year: Floats | float) -> Floats:
    """Declination of the sun.

    Parameters
    ----------
    day_of_year : float array or float
        1 on the first of January.

    Returns
    -------
    float array
        North positive, within about half a degree of the almanac's. [rad]

    References
    ----------
    .. [1] cooper-1969, declination
    """
    turned = np.radians(360.0 * (DAYS_TO_EQUINOX + np.asarray(day_of_year, dtype=np.float64)) / DAYS_IN_YEAR)
    tilt_rad: Floats = np.radians(GREATEST_DECLINATION_DEG) * np.sin(turned)
    return tilt_rad


def day_length_h(latitude_deg: float, day_of_year: Floats | float) -> Floats:
    """Time between sunrise and sunset.

    Parameters
    ----------
    latitude_deg : float
        North positive, -90 to 90. [degree]
    day_of_year : float array or float
        1 on the first of January.

    Returns
    -------
    float array
        0 in the polar night, 24 in the polar day. [h]

    Notes
    -----
    (2 / 15) acos(-tan(latitude) tan(declination)), the sun's centre on a level horizon: refraction and hills left out.

    References
    ----------
    .. [1] cooper-1969, declination; solar-day-length, sunset hour angle
    """
    tangent = np.tan(np.radians(latitude_deg)) * np.tan(declination_rad(day_of_year))
    hours: Floats = HOURS_PER_DEGREE * np.degrees(np.arccos(np.clip(-tangent, -1.0, 1.0)))
    return hours
