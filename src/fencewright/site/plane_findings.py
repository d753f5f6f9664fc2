"""What is to be said of a plane: the projection's scale, and another datum."""

import math

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import CAUTION, NOTE, STOP, Finding, Place
from fencewright.quantity.show import UnitSystem
from fencewright.site.plane import Plane, crs_title, parse_crs, shift_accuracy_m, to_geographic

Floats = NDArray[np.float64]

_NOTE_ABOVE = 1e-4
_CAUTION_ABOVE = 1e-3
_STOP_ABOVE = 1e-2
_ROUGH_ABOVE_M = 5.0
_SAMPLES = 200


def grid_scale_finding(plane: Plane, xy_m: Floats, show: UnitSystem) -> Finding | None:
    """Tell by how much lengths on the plane differ from lengths on the earth.

    Parameters
    ----------
    plane : Plane
        The job's plane.
    xy_m : float array (points, 2)
        Points of the site; at most 200 of them, evenly taken, are looked at. [m]
    show : UnitSystem
        Units of the finding.

    Returns
    -------
    Finding or None
        `grid-scale`: a note where the point scale differs from 1 by more than 1e-4, a caution above 1e-3 (no
        national grid's zone), a stop above 1e-2; None within, for a bare plane, and for no points. The scale
        is that on the ellipsoid: the site's height above it (1.6e-5 for each 100 m) is not counted.
    """
    if not plane.crs or not len(xy_m):
        return None
    from pyproj import Proj

    step = -(-len(xy_m) // _SAMPLES)
    places = to_geographic(plane, np.asarray(xy_m)[::step])
    if places is None:
        return None
    factors = Proj(parse_crs(plane.crs).to_2d()).get_factors(places[:, 0], places[:, 1])
    scales = np.concatenate([np.atleast_1d(factors.meridional_scale), np.atleast_1d(factors.parallel_scale)])
    scales = scales[np.isfinite(scales)]
    worst = float(scales[np.argmax(np.abs(scales - 1))]) if len(scales) else 1.0
    off = abs(worst - 1)
    if off <= _NOTE_ABOVE:
        return None
    level = STOP if off > _STOP_ABOVE else CAUTION if off > _CAUTION_ABOVE else NOTE
    more = "longer" if worst > 1 else "shorter"
    by = show.small(off * 100 * show.long_factor)
    message = f"lengths on {plane.name} are up to {by} in 100 {show.long_unit} {more} than on the ground (scale {worst:.6f})"
    remedy = "leave crs out with geographic files, or name the EPSG code of the zone that the site lies in"
    return Finding(level, "grid-scale", Place(), message, "" if level == NOTE else remedy)


def datum_findings(plane: Plane, crs: str, file: str, show: UnitSystem) -> tuple[Finding, ...]:
    """Tell how well a file of another datum fits onto the plane.

    Parameters
    ----------
    plane : Plane
        The job's plane.
    crs : str
        The file's system; empty gives nothing.
    file : str
        Its name, for the message.
    show : UnitSystem
        Units of the finding.

    Returns
    -------
    tuple of Finding
        `datum-shift`: a note with the accuracy, a caution where it is worse than 5 m or not known (the grid for
        it is not on this machine). Shapes within one file hold all the same; places against other files do not.
    """
    if not crs or not plane.crs:
        return ()
    accuracy_m = shift_accuracy_m(crs, plane.crs)
    if accuracy_m == 0:
        return ()
    rough = math.isnan(accuracy_m) or accuracy_m > _ROUGH_ABOVE_M
    tens = "tens of feet" if show.name == "us" else "tens of metres"
    told = f"an unknown amount, maybe {tens}" if math.isnan(accuracy_m) else f"up to {show.long(accuracy_m)}"
    message = (
        f"{file or 'a file'} is in {crs_title(crs)}, of another datum than {plane.name}: "
        f"it may lie off against other files by {told}"
    )
    remedy = "give all files in one datum" if rough else ""
    return (Finding(CAUTION if rough else NOTE, "datum-shift", Place("job", file), message, remedy),)
