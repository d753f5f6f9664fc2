"""Ground from a raster too large for memory: only the tiles that points fall in are read."""

from collections import OrderedDict
from typing import Any

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange.raster_cells import RasterFrame, open_raster, read_cells
from fencewright.site.grid_ground import GridGround

FloatArray = NDArray[np.float64]


class TiledRasterGround:
    """Elevations from a raster on disk, read tile by tile and forgotten again.

    Parameters
    ----------
    frame : RasterFrame
        The raster; points are given in its own coordinates.
    tile : (int, int)
        Rows and columns of a tile; tiles share a border of one cell. Best a multiple of the file's blocks.
    most_tiles : int
        Tiles kept in memory.
    """

    def __init__(
        self, frame: RasterFrame, *, tile: tuple[int, int] = (512, 512), most_tiles: int = 64
    ) -> None:
        self.source, self.is_coarse = frame.source, frame.is_coarse
        self._frame, self._tile, self._most_tiles = frame, tile, most_tiles
        self._kept: OrderedDict[tuple[int, int], GridGround] = OrderedDict()

    def _ground(self, dataset: Any, key: tuple[int, int]) -> GridGround:
        """Read a tile, with a cell more all round so that its edge points find their neighbours."""
        if key in self._kept:
            self._kept.move_to_end(key)
            return self._kept[key]
        frame = self._frame
        row, column = (max(index * size - 1, 0) for index, size in zip(key, self._tile, strict=True))
        rows = min((key[0] + 1) * self._tile[0] + 1, frame.rows) - row
        columns = min((key[1] + 1) * self._tile[1] + 1, frame.columns) - column
        ground = frame.grid(read_cells(dataset, frame, (row, column, rows, columns))[0], row, column)
        self._kept[key] = ground
        if len(self._kept) > self._most_tiles:
            self._kept.popitem(last=False)
        return ground

    def _by_tile(self, x: FloatArray, y: FloatArray, *, wants_sd: bool) -> FloatArray:
        place, frame = self._frame.place, self._frame
        x, y = np.asarray(x, float).ravel(), np.asarray(y, float).ravel()
        result = np.full(len(x), np.nan)
        column, row = (x - place.x0_m) / place.dx_m, (y - place.y0_m) / place.dy_m
        near = (column >= -0.5) & (column <= frame.columns - 0.5) & (row >= -0.5) & (row <= frame.rows - 0.5)
        points = np.flatnonzero(near)
        if not len(points):
            return result
        tiles = np.column_stack([np.clip(row[points], 0, None), np.clip(column[points], 0, None)])
        tiles = (tiles // np.array(self._tile)).astype(np.intp)
        keys, group = np.unique(tiles, axis=0, return_inverse=True)
        order = np.argsort(group.reshape(-1), kind="stable")
        bounds = np.searchsorted(group.reshape(-1)[order], np.arange(len(keys) + 1))
        with open_raster(frame.path) as dataset:
            for index, key in enumerate(keys):
                mine = points[order[bounds[index] : bounds[index + 1]]]
                ground = self._ground(dataset, (int(key[0]), int(key[1])))
                result[mine] = (ground.sd_m if wants_sd else ground.elevation_m)(x[mine], y[mine])
        return result

    def elevation_m(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        """Give the elevation at points (n,) of the raster's plane, NaN where unknown. [m]."""
        return self._by_tile(x_m, y_m, wants_sd=False)

    def sd_m(self, x_m: FloatArray, y_m: FloatArray) -> FloatArray:
        """Give the standard deviation at points (n,) of the raster's plane, NaN where unknown. [m]."""
        return self._by_tile(x_m, y_m, wants_sd=True)
