"""Make `terrain.tif`, the ground of the rolling-pasture example: invented, no real place.

Run it with `python examples/rolling-pasture/terrain_maker.py`; it writes the raster beside itself.
With u = easting - 470000 and v = northing - 5150000, both in metres, the ground is

* a land that falls 0.4 % eastwards and about 1.2 % towards the stream,
* swells of 0.9 m, 310 m from crest to crest, fading out between v = 100 and v = 400,
* a ridge of 2.6 m whose crest is u = 205 + 0.08 v, fading out between v = 330 and v = 400,
* a swale 0.9 m deep and 8 m wide along u = 430 + 12 sin(2 pi v / 400), from the south edge to the stream,
* a stream bed 1.2 m deep and 4 m wide along v = 430 + 10 sin(2 pi u / 350),
* roughness of 0.02 m standard deviation, smoothed over about 3 m.

Coordinates are EPSG:26916, heights are metres rounded to 0.01 m.
"""

from pathlib import Path

import numpy as np
import rasterio
from affine import Affine
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter

FloatArray = NDArray[np.float64]

WEST_M, NORTH_M = 470_000.0, 5_150_500.0
COLUMNS, ROWS, CELL_M = 700, 500, 1.0
SEED = 3


def crest_u_m(v_m: FloatArray) -> FloatArray:
    """Give the easting of the ridge's crest at each northing [m]."""
    return 205.0 + 0.08 * v_m


def swale_u_m(v_m: FloatArray) -> FloatArray:
    """Give the easting of the swale's bottom at each northing [m]."""
    return 430.0 + 12.0 * np.sin(2.0 * np.pi * v_m / 400.0)


def stream_v_m(u_m: FloatArray) -> FloatArray:
    """Give the northing of the stream's middle at each easting [m]."""
    return 430.0 + 10.0 * np.sin(2.0 * np.pi * u_m / 350.0)


def _smooth_step(value: FloatArray) -> FloatArray:
    """Rise smoothly from 0 to 1 while the value goes from 0 to 1."""
    clipped = np.clip(value, 0.0, 1.0)
    return clipped * clipped * (3.0 - 2.0 * clipped)


def upland_m(u_m: FloatArray, v_m: FloatArray) -> FloatArray:
    """Give the ground before swale and stream are cut into it [m]."""
    to_stream_m = v_m - stream_v_m(u_m)
    valley = 0.012 * (np.hypot(to_stream_m, 40.0) - 40.0)
    ridge_fade = _smooth_step((400.0 - v_m) / 70.0)
    swells = 0.9 * _smooth_step((400.0 - v_m) / 300.0) * np.sin(2.0 * np.pi * u_m / 310.0 + v_m / 300.0 + 0.9)
    ridge = 2.6 * np.exp(-0.5 * ((u_m - crest_u_m(v_m)) / 26.0) ** 2)
    return 288.0 - 0.004 * (u_m - 350.0) + valley + swells + ridge_fade * ridge


def channels_m(u_m: FloatArray, v_m: FloatArray) -> FloatArray:
    """Give how deep swale and stream are cut below the land, the deeper of the two [m]."""
    swale_turn = 12.0 * 2.0 * np.pi / 400.0 * np.cos(2.0 * np.pi * v_m / 400.0)
    from_swale_m = np.abs(u_m - swale_u_m(v_m)) / np.hypot(1.0, swale_turn)
    swale = np.where(from_swale_m < 4.0, 0.45 * (1.0 + np.cos(np.pi * from_swale_m / 4.0)), 0.0)
    stream_turn = 10.0 * 2.0 * np.pi / 350.0 * np.cos(2.0 * np.pi * u_m / 350.0)
    from_stream_m = np.abs(v_m - stream_v_m(u_m)) / np.hypot(1.0, stream_turn)
    stream = 1.2 * _smooth_step(2.0 - from_stream_m)
    south_of_stream = v_m < stream_v_m(u_m)
    return np.maximum(np.where(south_of_stream, swale, 0.0), stream)


def terrain() -> NDArray[np.float32]:
    """Compute the raster, north row first, heights at cell centres [m]."""
    u_m = np.arange(0.5, COLUMNS, dtype=np.float64)[np.newaxis, :] * CELL_M
    v_m = np.arange(ROWS - 0.5, 0.0, -1.0, dtype=np.float64)[:, np.newaxis] * CELL_M
    noise = np.random.default_rng(SEED).standard_normal((ROWS, COLUMNS))
    rough: FloatArray = np.asarray(gaussian_filter(noise, 1.5), dtype=np.float64)
    rough *= 0.02 / rough.std()
    height = upland_m(u_m, v_m) - channels_m(u_m, v_m) + rough
    return np.round(height, 2).astype(np.float32)


def write_terrain(path: Path) -> None:
    """Write the raster as a tiled GeoTIFF."""
    profile = {
        "driver": "GTiff", "width": COLUMNS, "height": ROWS, "count": 1, "dtype": "float32",
        "crs": "EPSG:26916", "transform": Affine(CELL_M, 0.0, WEST_M, 0.0, -CELL_M, NORTH_M),
        "tiled": True, "blockxsize": 256, "blockysize": 256,
        "compress": "deflate", "predictor": 3, "zlevel": 9, "nodata": -9999.0,
    }  # fmt: skip
    with rasterio.open(path, "w", **profile) as raster:
        raster.write(terrain(), 1)
        raster.set_band_unit(1, "metre")


if __name__ == "__main__":
    write_terrain(Path(__file__).with_name("terrain.tif"))
