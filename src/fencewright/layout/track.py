"""A line laid over its ground: points, headings and length along the slope at any station."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import Finding, InputError
from fencewright.geometry.polyline import headings, leg_at, places, with_closing
from fencewright.quantity.show import UnitSystem
from fencewright.site.ground import Ground, missing_ground_findings
from fencewright.tables.fence import FenceLine

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Track:
    """A reference line and the ground under it.

    Columns: `ring_m` (points, 2) with the first point repeated where closed [m]; `heading_rad` (legs,);
    `sample_m` stations of the ground samples, `ground_m` there, `slope_m` length along the ground up to there,
    (samples,) each [m].
    """

    line: FenceLine
    ring_m: Floats
    heading_rad: Floats
    sample_m: Floats
    ground_m: Floats
    slope_m: Floats

    def past(self, stubs: Ints) -> "Track":
        """Give the same track with each of some legs heading as the next leg that is none of them does.

        Such a leg lies between points that share a post: the fence leaves that post along the leg beyond.
        """
        if len(stubs) == 0:
            return self
        heading = self.heading_rad.copy()
        free = np.setdiff1d(np.arange(len(heading)), stubs)
        if len(free):
            heading[stubs] = heading[free[np.searchsorted(free, stubs) % len(free)]]
        return replace(self, heading_rad=heading)

    def at(self, station_m: Floats) -> Floats:
        """Points at stations: (places, 2). [m]"""
        return places(self.ring_m, self.line.station_m, self.wrap(station_m))

    def wrap(self, station_m: Floats) -> Floats:
        """Bring stations beyond the end of a closed line back to its start. [m]"""
        station = np.asarray(station_m, np.float64)
        return np.mod(station, self.line.length_m) if self.line.is_closed else station

    def heading(self, station_m: Floats, *, before: bool = False) -> Floats:
        """Heading of the leg at stations, of the leg after where a point stands there. [rad]"""
        station = self.wrap(station_m)
        if before and self.line.is_closed:
            station = np.where(station <= 1e-9, self.line.length_m, station)
        shift = -1e-7 if before else 1e-7
        leg = leg_at(self.line.station_m, np.clip(station + shift, 0.0, self.line.length_m - 1e-9))
        return np.asarray(self.heading_rad[leg])

    def elevation(self, station_m: Floats) -> Floats:
        """Ground at stations, straight between samples. [m]"""
        return np.asarray(np.interp(self.wrap(station_m), self.sample_m, self.ground_m))

    def slope_at(self, station_m: Floats) -> Floats:
        """Length along the ground up to stations; beyond the end of a closed line it goes on. [m]"""
        station = np.asarray(station_m, np.float64)
        if not self.line.is_closed:
            return np.interp(station, self.sample_m, self.slope_m)
        turns = np.floor(station / self.line.length_m)
        return np.asarray(
            turns * self.slope_m[-1]
            + np.interp(station - turns * self.line.length_m, self.sample_m, self.slope_m)
        )

    def station_at(self, slope_m: Floats) -> Floats:
        """Station at a length along the ground; inverse of `slope_at`. [m]"""
        slope = np.asarray(slope_m, np.float64)
        if not self.line.is_closed:
            return np.interp(slope, self.slope_m, self.sample_m)
        turns = np.floor(slope / self.slope_m[-1])
        rest = np.interp(slope - turns * self.slope_m[-1], self.slope_m, self.sample_m)
        return np.asarray(turns * self.line.length_m + rest)


def _samples_m(corner_m: Floats, step_m: float) -> Floats:
    """Stations of the samples: even along each leg, so that a corner that moves leaves those of the other legs."""
    leg_m = np.diff(corner_m)
    count = np.maximum(np.ceil(leg_m / step_m), 1).astype(np.int64)
    leg = np.repeat(np.arange(len(leg_m)), count)
    share = (np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count)) / count[leg]
    return np.append(corner_m[leg] + share * leg_m[leg], corner_m[-1])


def lay_track(
    line: FenceLine, ground: Ground, step_m: float, show: UnitSystem
) -> tuple[Track, list[Finding]]:
    """Sample the ground under a line.

    Parameters
    ----------
    line : FenceLine
        The reference line.
    ground : Ground
        Elevation at points.
    step_m : float
        Largest distance between samples. [m]
    show : UnitSystem
        Units of the findings.

    Returns
    -------
    track : Track
        Ground that is missing is drawn straight between its neighbours.
    findings : list of Finding
        `ground-missing`, a `stop` for each stretch without ground.

    Raises
    ------
    InputError
        No ground at all under the line.
    """
    ring = with_closing(line.xy_m, line.is_closed)
    sample = _samples_m(np.append(line.station_m, line.length_m)[: len(ring)], step_m)
    xy = places(ring, line.station_m, sample)
    ground_m = np.asarray(ground.elevation_m(xy[:, 0].copy(), xy[:, 1].copy()), np.float64)
    known = np.isfinite(ground_m)
    if not known.any():
        raise InputError(
            f'the ground ({ground.source}) does not reach line "{line.name}": check its coordinate system, or use '
            "another ground file",
            item="site, ground",
        )
    findings: list[Finding] = []
    if not known.all():
        findings += missing_ground_findings(ground_m, sample, line.name, ground.source, show)
        ground_m = np.interp(sample, sample[known], ground_m[known])
    slope = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(sample), np.diff(ground_m)))])
    heading = headings(line.xy_m, line.is_closed)
    return Track(line, ring, heading, sample, ground_m, slope), findings
