"""What is written in any vector format is read back as it was, by hypothesis."""

import json
import tempfile
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

import ezdxf.filemanagement
import numpy as np
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays
from numpy.typing import NDArray
from pyogrio import raw

from fencewright.exchange.arcs import Chords, flatten_bulges
from fencewright.exchange.ground_files import check_ground
from fencewright.exchange.intake import shown
from fencewright.exchange.records import SiteFeature
from fencewright.exchange.site_files import read_site_file
from fencewright.findings import InputError
from fencewright.site.plane import Origin, Plane, to_geographic, to_plane
from fencewright.site.plane_choice import PlaneSource, choose_plane

Floats = NDArray[np.float64]

_NAMES = st.text(st.characters(codec="utf-8", exclude_categories=["C"]), min_size=1, max_size=30).filter(
    lambda text: shown(text, 200) == text and text.strip() == text
)
_PLANS = arrays.arrays(
    np.float64, st.tuples(st.integers(2, 12), st.just(2)), elements=st.floats(-80, 80), unique=True
)


def _read(suffix: str, content: str) -> SiteFeature:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"site{suffix}"
        path.write_text(content, encoding="utf-8")
        return read_site_file(path).features[0]


@given(_PLANS, _NAMES)
def test_geojson(plan: Floats, name: str) -> None:
    geometry = {"type": "LineString", "coordinates": plan.tolist()}
    feature = _read(
        ".geojson", json.dumps({"type": "Feature", "properties": {"name": name}, "geometry": geometry})
    )
    np.testing.assert_array_equal(feature.points, plan)
    assert feature.name == name


@given(_PLANS, _NAMES, st.floats(-400, 9000))
def test_gpx(plan: Floats, name: str, height: float) -> None:
    points = "".join(
        f"<rtept lat={quoteattr(repr(y))} lon={quoteattr(repr(x))}><ele>{height!r}</ele></rtept>"
        for x, y in plan.tolist()
    )
    feature = _read(".gpx", f"<gpx><rte><name>{escape(name)}</name>{points}</rte></gpx>")
    np.testing.assert_array_equal(feature.points, plan)
    assert set(feature.elevation.tolist()) == {height}
    assert feature.name == name


@given(_PLANS, _NAMES)
def test_kml(plan: Floats, name: str) -> None:
    points = " ".join(f"{x!r},{y!r}" for x, y in plan.tolist())
    feature = _read(
        ".kml",
        f"<kml><Folder><Placemark><name>{escape(name)}</name><LineString><coordinates>{points}</coordinates>"
        "</LineString></Placemark></Folder></kml>",
    )
    np.testing.assert_array_equal(feature.points, plan)
    assert feature.name == name


@given(_PLANS, _NAMES, st.sampled_from(["meter", "USSurveyFoot", "foot"]), st.booleans())
def test_landxml(plan: Floats, name: str, unit: str, is_chained: bool) -> None:
    system = "Metric" if unit == "meter" else "Imperial"
    legs = "".join(
        f"<Line><Start>{start[1]!r} {start[0]!r}</Start><End>{end[1]!r} {end[0]!r}</End></Line>"
        for start, end in zip(plan.tolist()[:-1], plan.tolist()[1:], strict=True)
    )
    points = "".join(
        f'<CgPoint name="{i}">{y!r} {x!r} {x!r}</CgPoint>' for i, (x, y) in enumerate(plan.tolist())
    )
    chain = f"<Chain>{' '.join(map(str, range(len(plan))))}</Chain>"
    feature = _read(
        ".xml",
        f'<LandXML><Units><{system} linearUnit="{unit}"/></Units><CgPoints>{points}</CgPoints><Alignments>'
        f"<Alignment name={quoteattr(name)}><CoordGeom>{chain if is_chained else legs}</CoordGeom></Alignment>"
        "</Alignments></LandXML>",
    )
    np.testing.assert_array_equal(feature.points, plan)
    assert feature.name == name


_LAND_TAGS = st.sampled_from(
    ["Line", "Curve", "Spiral", "IrregularLine", "Chain", "Start", "End", "Center", "PI", "PntList2D", "PntList3D",
     "CgPoints", "CgPoint", "Surface", "P", "Alignment", "PlanFeature", "Parcel", "CoordGeom", "Location", "Units"]
)  # fmt: skip
_LAND_TREES = st.recursive(
    st.sampled_from(["", "1 2", "1 2 3", "x", "nan 1", "1e400 0", "a b"]),
    lambda inside: st.builds(
        lambda tag, ref, children: f"<{tag}{ref}>{''.join(children)}</{tag}>",
        _LAND_TAGS,
        st.sampled_from(["", ' name="a"', ' pntRef="a"', ' rot="cw"', ' linearUnit="foot"']),
        st.lists(inside, max_size=4),
    ),
    max_leaves=20,
)


@given(st.lists(_LAND_TREES, max_size=6))
def test_landxml_of_any_shape_is_read_or_refused(trees: list[str]) -> None:
    """Elements where no schema has them, places that name themselves, numbers that are none."""
    text = f"<LandXML>{''.join(trees)}</LandXML>"
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "site.xml"
        path.write_text(text, encoding="utf-8")
        for read in (read_site_file, check_ground):
            told = ""
            try:
                read(path)
            except InputError as error:
                told = str(error)
            assert "\n" not in told


@given(_PLANS)
def test_csv(plan: Floats) -> None:
    rows = "\n".join(f"{x!r},{y!r}" for x, y in plan.tolist())
    np.testing.assert_array_equal(_read(".csv", f"x_m,y_m\n{rows}\n").points, plan)


@settings(max_examples=15, deadline=None)
@given(_PLANS)
def test_tables_and_drawings(plan: Floats) -> None:
    with tempfile.TemporaryDirectory() as folder:
        line = np.array([shapely.to_wkb(shapely.LineString(plan))], dtype=object)
        for suffix, driver in ((".shp", "ESRI Shapefile"), (".gpkg", "GPKG")):
            path = Path(folder) / f"site{suffix}"
            raw.write(path, line, [], [], geometry_type="LineString", crs="EPSG:4326", driver=driver)
            np.testing.assert_array_equal(read_site_file(path).features[0].points, plan)
        drawing = ezdxf.filemanagement.new("R2010")
        drawing.modelspace().add_lwpolyline(plan.tolist())
        drawing.saveas(Path(folder) / "site.dxf")
        read = read_site_file(Path(folder) / "site.dxf").features[0].points
        np.testing.assert_allclose(read, plan, rtol=1e-12, atol=1e-12)


@given(
    st.floats(-70, 70),
    st.floats(-179, 179),
    arrays.arrays(np.float64, (5, 2), elements=st.floats(-0.05, 0.05)),
    st.sampled_from(["EPSG:4326", "EPSG:4269"]),
)
def test_degrees_to_a_chosen_plane_and_back(lat: float, lon: float, offsets: Floats, crs: str) -> None:
    places = offsets + [lon, lat]
    west, south = places.min(axis=0)
    east, north = places.max(axis=0)
    plane, _ = choose_plane(None, [PlaneSource(crs, True, (west, south, east, north))])
    back = to_geographic(plane, to_plane(plane, places, crs))
    assert back is not None
    np.testing.assert_allclose(back, places, atol=1e-9)


@given(arrays.arrays(np.float64, (4, 2), elements=st.floats(-2000, 2000)), st.floats(-180, 180))
def test_an_origin_keeps_distances(points: Floats, north_deg: float) -> None:
    """Turning and placing a bare plane keeps its lengths: read back on a plane at the same place."""
    places = to_geographic(Plane(), points, Origin(46.5, -87.4, north_deg))
    assert places is not None
    plane, _ = choose_plane(None, [PlaneSource("EPSG:4326", True, (-87.4, 46.5, -87.4, 46.5))])
    moved = to_plane(plane, places, "EPSG:4326")
    np.testing.assert_allclose(
        np.hypot(*np.diff(moved, axis=0).T), np.hypot(*np.diff(points, axis=0).T), rtol=1e-6, atol=1e-6
    )


@given(_PLANS, st.lists(st.floats(-3, 3), min_size=12, max_size=12), st.booleans())
def test_arcs_reversed_are_the_same_arcs(plan: Floats, bulges: list[float], is_closed: bool) -> None:
    bends = np.array(bulges[: len(plan)])
    assume((np.hypot(*np.diff(np.vstack([plan, plan[:1]]), axis=0).T) > 1e-6).all())
    forward = flatten_bulges(plan, bends, is_closed, Chords(0.01))
    turned = -np.concatenate([bends[:-1][::-1], bends[-1:]])
    backward = flatten_bulges(plan[::-1], turned, is_closed, Chords(0.01))
    for place in plan:
        assert (forward == place).all(axis=1).any()
    if not is_closed:
        np.testing.assert_allclose(backward[::-1], forward, atol=1e-6)
