"""Ground from a track's own heights (GPX): smoothed along the way, for a receiver's heights wander."""

import math
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import solveh_banded

from fencewright.exchange.collect import FeatureCollector
from fencewright.exchange.gpx_walk import WAYPOINT, GpxPart, walk_gpx
from fencewright.exchange.ground_request import GroundRequest, need_file
from fencewright.exchange.intake import read_bytes
from fencewright.findings import CAUTION, Finding, InputError, Place
from fencewright.quantity.show import UnitSystem
from fencewright.site.profile_ground import ProfileGround

FloatArray = NDArray[np.float64]


def smooth_heights(
    station_m: FloatArray, elevation_m: FloatArray, *, shortest_hump_m: float
) -> tuple[FloatArray, float]:
    """Smooth heights along a line by a penalty on its bending.

    Parameters
    ----------
    station_m : float array (points,)
        Rising, each more than the one before. [m]
    elevation_m : float array (points,)
        Heights, finite. [m]
    shortest_hump_m : float
        A wave of this length is halved, longer ones stay, shorter ones go. [m]

    Returns
    -------
    smooth_m : float array (points,)
        Smoothed heights; those of fewer than four points are given back. [m]
    noise_sd_m : float
        Standard deviation of one raw height about the smooth line, from the residuals; 0 where there
        are too few to tell. [m]

    Raises
    ------
    ValueError
        Lengths differ, stations do not rise, or a value is not finite.

    Notes
    -----
    Minimises sum w (z - f)^2 + (L / 2 pi)^4 integral f''^2 with w the length that each point stands
    for (a Whittaker smoother on uneven steps): pentadiagonal, O(n). A wave of length l keeps
    1 / (1 + (L / l)^4) of its height. With H the smoother, the residuals' square sum is expected to be
    the noise's square times n - trace(2 H - H H), for even steps n less 1.25 times the line's length
    over 2 sqrt(2) L / 2 pi; 2 more for the ends.

    References
    ----------
    Whittaker smoothing (graduation by penalised differences): textbook, from memory.
    """
    station_m, elevation_m = np.asarray(station_m, float), np.asarray(elevation_m, float)
    if station_m.shape != elevation_m.shape or not np.isfinite([station_m, elevation_m]).all():
        raise ValueError("stations and heights must be as many, and finite")
    step_m = np.diff(station_m)
    if (step_m <= 0).any():
        raise ValueError("stations must rise")
    count = len(station_m)
    if count < 4:
        return elevation_m.copy(), 0.0
    weight = np.convolve(step_m, [0.5, 0.5])
    scale_m = shortest_hump_m / (2.0 * math.pi)
    band = _bending_band(step_m) * scale_m**4
    band[0] += weight
    middle_m = float(np.mean(elevation_m))
    smooth_m = solveh_banded(band, weight * (elevation_m - middle_m), lower=True) + middle_m
    spare = count - 1.25 * (station_m[-1] - station_m[0]) / (2.0 * math.sqrt(2.0) * scale_m) - 2.0
    residual_m = elevation_m - smooth_m
    noise_sd_m = math.sqrt(float(residual_m @ residual_m) / spare) if spare > 0 else 0.0
    return np.asarray(smooth_m, np.float64), noise_sd_m


def _bending_band(step_m: FloatArray) -> FloatArray:
    """Give the lower band (3, points) of the integral of the second derivative squared.

    Second derivative at an inner point: (change of slope) / (half the steps beside it), held over that half.
    """
    left, right = step_m[:-1], step_m[1:]
    part = 2.0 / (left + right)
    first, last = part / left, part / right
    middle = -(first + last)
    weight = 1.0 / part
    band = np.zeros((3, len(step_m) + 1))
    band[0, :-2] += weight * first * first
    band[0, 1:-1] += weight * middle * middle
    band[0, 2:] += weight * last * last
    band[1, :-2] += weight * first * middle
    band[1, 1:-1] += weight * middle * last
    band[2, :-2] += weight * first * last
    return band


def read_track_points(path: Path) -> list[FloatArray]:
    """Read the points of each track segment or route that carries heights.

    Parameters
    ----------
    path : Path
        A GPX file.

    Returns
    -------
    list of float array (points, 3)
        Longitude and latitude in degrees, height in metres; points without a height are left out.

    Raises
    ------
    InputError
        As `walk_gpx`; a place or height that is none of this world.
    """
    need_file(path)
    collector = FeatureCollector(path, is_geographic=True, file=path.name)
    segments: list[FloatArray] = []

    def take(part: GpxPart) -> None:
        for rows in part.segments if part.kind != WAYPOINT else ():
            collector.count(len(rows))
            points = np.array(rows, dtype=np.float64).reshape(-1, 3)
            collector.check(points, part.item)
            segments.append(points[np.isfinite(points[:, 2])])

    walk_gpx(read_bytes(path), path.name, take)
    return [points for points in segments if len(points)]


def read_track_ground(path: Path, request: GroundRequest) -> tuple[ProfileGround, list[Finding]]:
    """Read ground from a track's own heights.

    Parameters
    ----------
    path : Path
        A GPX file.
    request : GroundRequest
        What is wanted of it; `from_file` takes longitude and latitude to the job's plane.

    Returns
    -------
    ground : ProfileGround
        Smoothed heights along the track; unknown away from it.
    findings : list of Finding
        `ground-from-track` (caution): how far such heights wander.

    Raises
    ------
    InputError
        As `read_track_points`; no heights; heights that are all one number.
    """
    segments = read_track_points(path)
    if not segments:
        raise InputError("holds no heights: give other ground", file=path.name)
    heights_m = np.concatenate([segment[:, 2] for segment in segments])
    if len(heights_m) > 2 and np.ptp(heights_m) == 0.0:
        raise InputError(
            f"has the same height ({request.show.long(float(heights_m[0]))}) everywhere: give other ground",
            file=path.name,
        )
    points: list[FloatArray] = []
    legs: list[NDArray[np.intp]] = []
    noises: list[float] = []
    for segment in segments:
        smooth, noise_sd_m = _smooth_segment(segment, path.name, request)
        first = sum(len(part) for part in points)
        start = np.arange(len(smooth) - 1, dtype=np.intp) + first
        legs.append(np.column_stack([start, start + 1]))
        points.append(smooth)
        noises.append(noise_sd_m)
    sd_m = math.hypot(request.sd_m(request.precision.gpx_sd_m), max(noises))
    try:
        ground = ProfileGround(
            np.concatenate(points),
            point_sd_m=sd_m,
            legs=np.concatenate(legs),
            reach_m=request.precision.profile_reach_m,
            cross_slope=request.precision.cross_slope,
            source=f"{path.name}, a track's own heights, smoothed",
            is_coarse=sd_m > request.precision.coarse_sd_m,
        )
    except InputError as error:
        raise error.within(file=path.name) from error
    return ground, [_track_finding(path.name, sd_m, max(noises), request.show)]


def _smooth_segment(segment: FloatArray, file: str, request: GroundRequest) -> tuple[FloatArray, float]:
    """Move a segment to the plane and smooth it along its way; points that stand still are averaged."""
    place_m = request.from_file(segment[:, :2])
    if not np.isfinite(place_m).all():
        raise InputError("holds a place that its coordinate system cannot hold", file=file)
    step_m = np.hypot(*np.diff(place_m, axis=0).T) if len(place_m) > 1 else np.zeros(0)
    group = np.concatenate([[0], np.cumsum(step_m > 1e-3)])
    station_m = np.concatenate([[0.0], np.cumsum(step_m)])
    first = np.unique(group, return_index=True)[1]
    mean_m = np.bincount(group, segment[:, 2]) / np.bincount(group)
    smooth_m, noise_sd_m = smooth_heights(
        station_m[first], mean_m, shortest_hump_m=request.precision.gpx_smoothing_m
    )
    return np.column_stack([place_m[first], smooth_m]), noise_sd_m


def _track_finding(file: str, sd_m: float, noise_sd_m: float, show: UnitSystem) -> Finding:
    return Finding(
        CAUTION,
        "ground-from-track",
        Place("ground", file),
        f"heights of {file} are a receiver's own, smoothed: they scatter by {show.long(noise_sd_m)} along the way "
        f"and are known to about {show.long(sd_m)}",
        "survey the line with tape and level before any post is cut",
    )
