"""DXF: read back by its library, layers and true coordinates, an audit without a fault, the same bytes."""

import math
from collections.abc import Callable
from io import StringIO

import numpy as np
import pytest
from ezdxf._options import options
from ezdxf.document import Drawing
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.entities.polyline import Polyline
from ezdxf.filemanagement import read

from fencewright.findings.cautions import DESIGN_CAUTIONS
from fencewright.pipeline.record import Design
from fencewright.sheets.dxf import plan_dxf
from fencewright.sheets.dxf_layers import LAYERS, unknown_layers
from fencewright.tables.fence import Role

Builder = Callable[..., Design]


def _read(design: Design) -> Drawing:
    return read(StringIO(plan_dxf(design).decode()))


def test_audit_finds_nothing(paddock: Builder, long_fence: Builder) -> None:
    for design in (paddock(), long_fence(60)):
        audit = _read(design).audit()
        assert not audit.errors
        assert not audit.fixes


def test_same_job_same_bytes_and_the_option_is_put_back(paddock: Builder) -> None:
    before = options.write_fixed_meta_data_for_testing
    assert plan_dxf(paddock()) == plan_dxf(paddock())
    assert options.write_fixed_meta_data_for_testing == before


def test_units_are_metres(paddock: Builder) -> None:
    """$INSUNITS 6 is metres, $MEASUREMENT 1 is metric (DXF reference, header variables; from memory)."""
    document = _read(paddock(sheets="us"))
    assert document.header["$INSUNITS"] == 6
    assert document.header["$MEASUREMENT"] == 1


def test_posts_are_circles_at_their_true_place_and_size(paddock: Builder) -> None:
    design = paddock()
    posts = design.layout.posts
    space = _read(design).modelspace()
    for role in (Role.CORNER, Role.LINE, Role.GATE):
        rows = np.flatnonzero(posts.role == role)
        circles = list(space.query(f'CIRCLE[layer=="POSTS-{role.name}"]'))
        assert len(circles) == len(rows)
        for circle, k in zip(circles, rows, strict=True):
            assert circle.dxf.center.x == pytest.approx(posts.x_m[k], abs=1e-9)
            assert circle.dxf.center.y == pytest.approx(posts.y_m[k], abs=1e-9)
            assert circle.dxf.radius == pytest.approx(posts.diameter_m[k] / 2)


def test_every_post_and_brace_is_named(paddock: Builder) -> None:
    design = paddock()
    space = _read(design).modelspace()
    names = {text.dxf.text for text in space.query('TEXT[layer=="POST-IDS"]')}
    assert names == {f"P{k + 1}" for k in range(34)}
    assert len(space.query('TEXT[layer=="BRACES"]')) == len(design.layout.braces) == 6


def test_service_has_its_layer_and_its_clearance(paddock: Builder) -> None:
    space = _read(paddock()).modelspace()
    (line,) = space.query('LWPOLYLINE[layer=="BURIED-WATER"]')
    assert isinstance(line, LWPolyline)
    assert [tuple(point[:2]) for point in line.get_points()] == [(18.0, -40.0), (18.0, 60.0)]
    bands = space.query('LWPOLYLINE[layer=="CLEARANCE"]')
    assert len(bands) == 2
    assert isinstance(bands[0], LWPolyline)
    assert min(p[0] for p in bands[0].get_points()) == pytest.approx(18.0 - 0.6096)


def test_top_line_is_in_three_dimensions(paddock: Builder) -> None:
    design = paddock()
    (line,) = _read(design).modelspace().query('POLYLINE[layer=="TOP-LINE"]')
    assert isinstance(line, Polyline)
    heights = [vertex.dxf.location.z for vertex in line.vertices]
    assert heights[:3] == pytest.approx(list(design.top_line.top_m[:3]))
    assert len(heights) == 35


def test_gate_swings_through_a_right_angle(paddock: Builder) -> None:
    (arc,) = _read(paddock()).modelspace().query('ARC[layer=="GATES"]')
    assert (arc.dxf.end_angle - arc.dxf.start_angle) % 360 == pytest.approx(90.0)
    assert arc.dxf.radius == pytest.approx(3.5052)


def test_all_entities_lie_on_known_layers(paddock: Builder) -> None:
    used = {entity.dxf.layer for entity in _read(paddock()).modelspace()}
    assert used <= set(LAYERS)
    assert {"FENCE", "BRACES", "GATES", "HOLES", "NOTES", "DIMENSIONS"} <= used
    assert unknown_layers() == set()


def test_hostile_name_stays_one_line_of_text(paddock: Builder) -> None:
    document = _read(paddock("line\n0\nEOF\n%%c ^J \ud800 job"))
    notes = [text.dxf.text for text in document.modelspace().query('TEXT[layer=="NOTES"]')]
    assert any("line 0 EOF % %c" in note for note in notes)
    assert not document.audit().errors


def test_stop_and_cautions_are_in_the_drawing(paddock: Builder) -> None:
    notes = [t.dxf.text for t in _read(paddock(is_stopped=True)).modelspace().query('TEXT[layer=="NOTES"]')]
    assert notes[0] == "NOT TO BE BUILT"
    assert set(DESIGN_CAUTIONS) <= set(notes)
    assert any("clay is assumed" in note for note in notes)


def test_text_height_follows_the_plan(paddock: Builder) -> None:
    heights = {t.dxf.height for t in _read(paddock()).modelspace().query("TEXT")}
    assert len(heights) == 1
    assert math.isclose(heights.pop(), 0.0022 * 240)
