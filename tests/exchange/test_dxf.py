"""DXF: entities, units, layers, arcs, what is left out; drawings are written with ezdxf."""

import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import ezdxf.filemanagement
import numpy as np
import pytest

from fencewright.exchange.dxf import read_dxf
from fencewright.exchange.records import SiteFile
from fencewright.exchange.site_files import list_layers, read_site_file
from fencewright.findings import InputError


def _save(tmp_path: Path, draw: Callable[[Any], Any], units: int = 6) -> Path:
    drawing = ezdxf.filemanagement.new("R2010", units=units)
    drawing.header["$INSUNITS"] = units
    draw(drawing.modelspace())
    path = tmp_path / "site.dxf"
    drawing.saveas(path)
    return path


def _read(tmp_path: Path, draw: Callable[[Any], Any], units: int = 6) -> SiteFile:
    return read_dxf(_save(tmp_path, draw, units))


@pytest.mark.parametrize(
    ("code", "unit_m"), [(0, math.nan), (1, 0.0254), (2, 0.3048), (4, 0.001), (6, 1.0), (21, 1200 / 3937)]
)
def test_the_drawing_unit(tmp_path: Path, code: int, unit_m: float) -> None:
    """Codes of $INSUNITS: DXF reference, from memory."""
    site = _read(tmp_path, lambda space: space.add_line((0, 0), (1, 0)), code)
    np.testing.assert_equal((site.unit_m, site.elevation_unit_m), (unit_m, unit_m))
    assert (site.crs, site.is_geographic) == ("", False)


def test_lines_polylines_points_and_their_layers(tmp_path: Path) -> None:
    def draw(space: Any) -> None:
        space.add_line((0, 0, 5), (10, 0, 6), dxfattribs={"layer": "Fence"})
        space.add_lwpolyline([(0, 0), (5, 0), (5, 5)], close=True, dxfattribs={"layer": "Yard"})
        space.add_polyline3d([(0, 0, 1), (1, 0, 2), (1, 1, 3)])
        space.add_point((3, 4), dxfattribs={"layer": "Trees"})

    path = _save(tmp_path, draw)
    line, yard, rise, tree = read_dxf(path).features
    assert (line.geometry, line.elevation.tolist(), line.layer) == ("line", [5, 6], "Fence")
    assert (yard.is_closed, len(yard.points), bool(np.isnan(yard.elevation).all())) == (True, 3, True)
    assert (rise.elevation.tolist(), rise.layer) == ([1, 2, 3], "0")
    assert (tree.geometry, tree.points.tolist()) == ("point", [[3, 4]])
    assert list_layers(path) == ("Fence", "Yard", "0", "Trees")
    assert len(read_site_file(path, "trees").features) == 1
    assert line.name.startswith("line ")


def test_circles_arcs_and_bulges_are_flattened(tmp_path: Path) -> None:
    def draw(space: Any) -> None:
        space.add_circle((10, 10), 2)
        space.add_arc((0, 0), 5, 350, 10)
        space.add_lwpolyline([(0, 0, 1), (2, 0, 0)], format="xyb")
        space.add_polyline2d([(0, 0, -1), (2, 0, 0)], format="xyb")

    tank, arc, low, high = _read(tmp_path, draw).features
    assert (tank.geometry, tank.is_closed) == ("polygon", True)
    np.testing.assert_allclose(np.hypot(*(tank.points - 10).T), 2, rtol=1e-12)
    np.testing.assert_allclose(np.hypot(*arc.points.T), 5, rtol=1e-12)
    assert arc.points[:, 0].min() == pytest.approx(5 * math.cos(math.radians(10)))
    assert low.points[:, 1].min() == pytest.approx(-1, abs=0.01)
    assert high.points[:, 1].max() == pytest.approx(1, abs=0.01)


def test_a_mirrored_entity_is_turned_into_the_world(tmp_path: Path) -> None:
    """An extrusion of (0, 0, -1) mirrors x (arbitrary axis rule of the DXF reference, from memory)."""
    site = _read(
        tmp_path, lambda space: space.add_lwpolyline([(1, 2), (3, 4)], dxfattribs={"extrusion": (0, 0, -1)})
    )
    np.testing.assert_allclose(site.features[0].points, [[-1, 2], [-3, 4]], atol=1e-12)


def test_blocks_and_texts_are_counted(tmp_path: Path) -> None:
    def draw(space: Any) -> None:
        space.doc.blocks.new("GATE").add_line((0, 0), (1, 1))
        for x in range(3):
            space.add_blockref("GATE", (x, 0))
        space.add_text("north")
        space.add_line((0, 0), (1, 0))

    messages = [finding.message for finding in _read(tmp_path, draw).findings]
    assert any("3 x block left out" in message for message in messages)
    assert any("1 x text left out" in message for message in messages)


def test_a_drawing_without_shapes_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"can be used \(left out: 1 x text\)"):
        _read(tmp_path, lambda space: space.add_text("nothing"))


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"AC1027\x00\x00\x00", "DWG drawing"),
        (b"hello world\n", "no DXF drawing"),
        (b"  0\nSECTION\n  2\nHEADER\n", "cut short"),
        (b"  0\nSECTION\n  2\nENTITIES\n  0\nLINE\n 10\nabc\n  0\nENDSEC\n  0\nEOF\n", "damaged DXF"),
        (b"  0\nSECTION\n  2\nENTITIES\n  0\nLINE\nxx\nabc\n  0\nENDSEC\n  0\nEOF\n", "damaged DXF"),
        (b"AutoCAD Binary DXF\r\n\x1a\x00\x00", "damaged DXF"),
    ],
)
def test_damaged_drawings_are_told(tmp_path: Path, data: bytes, told: str) -> None:
    path = tmp_path / "bad.dxf"
    path.write_bytes(data)
    with pytest.raises(InputError) as caught:
        read_dxf(path)
    assert told in str(caught.value)
