"""Write `terrain.tif`, the ground of the ridge-boundary example, from the terrain that matplotlib ships.

Run it with `python examples/ridge-boundary/terrain_maker.py [FOLDER]` where matplotlib is installed (`make test`
installs it). The raster is matplotlib's sample data `jacksboro_fault_dem.npz`: 344 x 403 cells of 3 arc-seconds,
heights in whole metres. It is not kept here: it is read from the installed package each time. In that file
`ymin` is the north edge.
"""

import sys
from pathlib import Path

import numpy as np
import rasterio
from affine import Affine


def write_terrain(folder: Path) -> Path:
    """Write the raster into a folder and give its path."""
    from matplotlib.cbook import get_sample_data

    data = get_sample_data("jacksboro_fault_dem.npz")
    height = np.asarray(data["elevation"], np.int16)
    north, west = max(float(data["ymin"]), float(data["ymax"])), float(data["xmin"])
    place = Affine(float(data["dx"]), 0.0, west, 0.0, -abs(float(data["dy"])), north)
    path = folder / "terrain.tif"
    with rasterio.open(
        path, "w", driver="GTiff", height=height.shape[0], width=height.shape[1], count=1, dtype="int16",
        crs="EPSG:4326", transform=place, compress="deflate",
    ) as raster:  # fmt: skip
        raster.write(height, 1)
    return path


if __name__ == "__main__":
    write_terrain(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent)
