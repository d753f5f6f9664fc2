"""How well each kind of ground survey is known: one record, filled from the shipped practice rows."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class GroundPrecision:
    """Standard deviations of ground surveys, and the limits that sort usable heights from the rest.

    Parameters
    ----------
    tape_sd_m, tape_sd_ratio : float
        One taped length: a constant part [m], and a part of the length [-].
    level_sd_m : float
        One rise read with tape and level. [m]
    compass_sd_rad, transit_sd_rad : float
        One bearing written in whole degrees, and one written to minutes or finer. [rad]
    total_station_sd_m, rtk_sd_m, spots_sd_m : float
        One spot height: total station, satellite receiver with corrections, and where the job does
        not say which. [m]
    las_sd_m, raster_sd_m, gpx_sd_m : float
        One height of a point cloud, a terrain raster, a hand receiver's track. [m]
    subcell_share : float
        Part of the fall across one raster cell that counts as standard deviation, 0 to 1. [-]
    cross_slope : float
        Fall of the ground away from a surveyed line that is not known. [m/m]
    coarse_spacing_m, coarse_sd_m : float
        Ground whose data stand further apart, or is known worse, is called coarse. [m]
    gpx_smoothing_m : float
        Shortest hump that a smoothed track keeps. [m]
    profile_reach_m : float
        How far from a surveyed line its heights still hold. [m]
    spot_reach_m : float
        How far outside the outermost spot heights the ground is still read. [m]
    gap_fill_m : float
        Widest distance over which holes in a point cloud's ground are filled. [m]
    cell_points : float
        Ground points wanted in one cell of a gridded point cloud. [-]
    lowest_m, highest_m : float
        Heights outside are no heights of land: missing values left unmarked. [m]
    """

    tape_sd_m: float
    tape_sd_ratio: float
    level_sd_m: float
    compass_sd_rad: float
    transit_sd_rad: float
    total_station_sd_m: float
    rtk_sd_m: float
    spots_sd_m: float
    las_sd_m: float
    raster_sd_m: float
    gpx_sd_m: float
    subcell_share: float
    cross_slope: float
    coarse_spacing_m: float
    coarse_sd_m: float
    gpx_smoothing_m: float
    profile_reach_m: float
    spot_reach_m: float
    gap_fill_m: float
    cell_points: float
    lowest_m: float
    highest_m: float
