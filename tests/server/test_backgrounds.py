"""Backgrounds of the plan: pictures stand where rasterio and pyproj put them, features where their lines would."""

import io
import json
import zipfile
from collections.abc import Callable
from typing import Any

import httpx
import numpy as np
import pyproj
import pytest
import rasterio
from numpy.typing import NDArray
from rasterio.enums import Resampling
from rasterio.transform import Affine
from rasterio.warp import reproject

pytestmark = pytest.mark.filterwarnings(
    "ignore::rasterio.errors.NotGeoreferencedWarning"
)  # of pictures made here

RED, GREEN, BLUE, WHITE = (220, 30, 30), (30, 180, 60), (40, 60, 200), (250, 250, 250)
UTM = "EPSG:26916"
EAST, NORTH, CELL = 469_000.0, 5_150_000.0, 0.5
Give = Callable[..., dict[str, Any]]
Shown = Callable[[str, str], dict[str, Any]]


def from_origin(west: float, north: float, across: float, down: float) -> Affine:
    """Placing of a raster that stands north up."""
    return Affine(across, 0.0, west, 0.0, -down, north)


def quarters(columns: int = 80, rows: int = 60) -> NDArray[np.uint8]:
    """Red above green on the left, blue above white on the right."""
    cells = np.empty((3, rows, columns), np.uint8)
    for rows_of, left, right in (
        (slice(0, rows // 2), RED, BLUE),
        (slice(rows // 2, rows), GREEN, WHITE),
    ):
        cells[:, rows_of, : columns // 2] = np.array(left).reshape(3, 1, 1)
        cells[:, rows_of, columns // 2 :] = np.array(right).reshape(3, 1, 1)
    return cells


def raster(cells: NDArray[Any], *, driver: str = "GTiff", palette: Any = None, **how: Any) -> bytes:
    """Write a raster of bands (bands, rows, columns)."""
    with rasterio.MemoryFile() as memory:
        with memory.open(
            driver=driver, count=cells.shape[0], height=cells.shape[1], width=cells.shape[2],
            dtype=cells.dtype.name, **how,
        ) as made:  # fmt: skip
            made.write(cells)
            if palette:
                made.write_colormap(1, palette)
        return bytes(memory.getbuffer())


def placed_tiff(cells: NDArray[Any] | None = None, **how: Any) -> bytes:
    """A GeoTIFF in UTM, half a metre a cell."""
    cells = quarters() if cells is None else cells
    return raster(cells, crs=UTM, transform=from_origin(EAST, NORTH, CELL, CELL), **how)


def colours_of(content: bytes) -> NDArray[np.uint8]:
    """Cells of an encoded picture (rows, columns, 4)."""
    with rasterio.MemoryFile(content) as memory, memory.open() as picture:
        cells = picture.read()
    if len(cells) == 3:
        cells = np.concatenate([cells, np.full((1, *cells.shape[1:]), 255, np.uint8)])
    return np.asarray(cells.transpose(1, 2, 0))


@pytest.fixture
def empty(client: httpx.Client) -> dict[str, Any]:
    """Make a job with nothing in it, on a bare local plane."""
    made: dict[str, Any] = client.post("/api/jobs", json={"name": "Pictures", "sheets": "metric"}).json()
    return made


@pytest.fixture
def give(client: httpx.Client) -> Give:
    """Give files to a job as it is now: `give(job, {"a.tif": ...})`."""

    def given(job: dict[str, Any], files: dict[str, bytes]) -> dict[str, Any]:
        head = client.get(f"/api/jobs/{job['id']}").json()["head"]
        parts = [("files", (name, content)) for name, content in files.items()]
        told: dict[str, Any] = client.post(f"/api/jobs/{job['id']}/files?base={head}", files=parts).json()
        return told

    return given


@pytest.fixture
def shown(client: httpx.Client) -> Shown:
    """Ask what a file shows: `shown(job id, "a.tif")`."""

    def told(job: str, path: str) -> dict[str, Any]:
        answer: dict[str, Any] = client.get(f"/api/jobs/{job}/backgrounds/{path}").json()
        return answer

    return told


@pytest.fixture
def plane(client: httpx.Client, edit: Any) -> Callable[..., None]:
    """Name a key of [site]: `plane(job, crs="EPSG:26916")`."""

    def named(job: dict[str, Any], **values: Any) -> None:
        for key, value in values.items():
            head = client.get(f"/api/jobs/{job['id']}").json()["head"]
            record = {"kind": "set", "path": ["site", key], "value": value}
            assert edit(job, head, record).status_code == 200

    return named


def colour_at(client: httpx.Client, answer: dict[str, Any], at_m: tuple[float, float]) -> tuple[int, ...]:
    """Colour of a picture at a place of the plane."""
    cells = colours_of(client.get(answer["address"]).content)
    west, south, east, north = answer["bounds_m"]
    column = int((at_m[0] - west) / (east - west) * cells.shape[1])
    row = int((north - at_m[1]) / (north - south) * cells.shape[0])
    return tuple(int(value) for value in cells[row, column])


def is_near(colour: tuple[int, ...], wanted: tuple[int, int, int]) -> bool:
    """JPEG keeps colours nearly."""
    return colour[3] == 255 and max(abs(a - b) for a, b in zip(colour, wanted, strict=False)) <= 6


def test_a_geotiff_in_the_plane_of_the_job_stands_as_it_is(
    client: httpx.Client, empty: dict[str, Any], give: Give, shown: Shown, plane: Callable[..., None]
) -> None:
    plane(empty, crs=UTM)
    given = give(empty, {"photo.tif": placed_tiff()})
    assert given["given"][0] | {"layers": []} == {
        "path": "photo.tif", "layers": [], "is_ground": False, "is_picture": True, "sentence": "",
    }  # fmt: skip
    answer = shown(empty["id"], "photo.tif")
    assert answer["kind"] == "picture"
    assert answer["bounds_m"] == pytest.approx([EAST, NORTH - 30, EAST + 40, NORTH], abs=1e-6)
    assert answer["cell_m"] == pytest.approx(CELL)
    for at, colour in (((5, -5), RED), ((35, -5), BLUE), ((5, -25), GREEN), ((35, -25), WHITE)):
        assert is_near(colour_at(client, answer, (EAST + at[0], NORTH + at[1])), colour)


@pytest.mark.parametrize("other", ["EPSG:32616", "EPSG:3857", "EPSG:4326"])
def test_a_picture_of_another_system_stands_where_rasterio_puts_it(
    client: httpx.Client,
    empty: dict[str, Any],
    give: Give,
    shown: Shown,
    plane: Callable[..., None],
    other: str,
) -> None:
    rows, columns = np.mgrid[0:300, 0:400]
    waves = np.stack([columns * 0.6, rows * 0.8, 128 + 100 * np.sin(columns / 30) * np.cos(rows / 20)])
    cells = waves.astype(np.uint8)
    corner = pyproj.Transformer.from_crs(UTM, other, always_xy=True).transform(EAST, NORTH)
    size = 0.5 / 111_000 if other == "EPSG:4326" else 0.5
    transform = from_origin(*corner, size, size)
    plane(empty, crs=UTM)
    give(empty, {"photo.tif": raster(cells, crs=other, transform=transform)})
    answer = shown(empty["id"], "photo.tif")
    corners = [transform @ corner_of for corner_of in ((0, 0), (400, 0), (400, 300), (0, 300))]
    to_utm = pyproj.Transformer.from_crs(other, UTM, always_xy=True)
    outline = to_utm.transform([x for x, _ in corners], [y for _, y in corners])
    west, south, east, north = answer["bounds_m"]
    assert (west, east) == pytest.approx((min(outline[0]), max(outline[0])), abs=0.02)
    assert (south, north) == pytest.approx((min(outline[1]), max(outline[1])), abs=0.02)

    ours = colours_of(client.get(answer["address"]).content)
    theirs = np.zeros((3, *ours.shape[:2]), np.uint8)
    reproject(
        cells, theirs, src_transform=transform, src_crs=other, dst_crs=UTM,
        dst_transform=from_origin(west, north, (east - west) / ours.shape[1], (north - south) / ours.shape[0]),
        resampling=Resampling.bilinear,
    )  # fmt: skip
    inside = ours[..., 3] == 255
    inside[:3] = inside[-3:] = inside[:, :3] = inside[:, -3:] = False
    apart = np.abs(ours[..., :3].astype(int) - theirs.transpose(1, 2, 0))[inside]
    assert inside.mean() > 0.7
    assert apart.max() <= 8  # JPEG keeps colours nearly
    assert apart.mean() < 1


def test_the_plane_that_the_program_chose_takes_a_picture_too(
    client: httpx.Client,
    empty: dict[str, Any],
    give: Give,
    shown: Shown,
    plane: Callable[..., None],
    edit: Any,
) -> None:
    """A line from a file in degrees makes the plane a transverse Mercator in its middle."""
    to_degrees = pyproj.Transformer.from_crs(UTM, "EPSG:4326", always_xy=True)
    corners = [(EAST + 5, NORTH - 5), (EAST + 35, NORTH - 5), (EAST + 35, NORTH - 25), (EAST + 5, NORTH - 25)]
    ring = [list(to_degrees.transform(*corner)) for corner in corners]
    line = {
        "type": "Feature",
        "properties": {"name": "a"},
        "geometry": {"type": "LineString", "coordinates": ring},
    }
    plane(empty, crs=None)
    give(empty, {"photo.tif": placed_tiff(), "line.geojson": json.dumps(line).encode()})
    head = client.get(f"/api/jobs/{empty['id']}").json()["head"]
    assert (
        edit(empty, head, {"kind": "import_file", "use": "line", "file": "line.geojson"}).status_code == 200
    )
    backdrop, picture = shown(empty["id"], "line.geojson"), shown(empty["id"], "photo.tif")
    assert backdrop["kind"] == "features"
    points = np.array(backdrop["features"][0]["points_m"]).reshape(-1, 2)
    for point, colour in zip(points, (RED, BLUE, WHITE, GREEN), strict=True):
        assert is_near(colour_at(client, picture, (point[0], point[1])), colour)


def test_a_world_file_places_a_turned_picture(
    client: httpx.Client, empty: dict[str, Any], give: Give, shown: Shown
) -> None:
    """Turned by 30 degrees about its first corner, on a bare local plane in metres."""
    way = Affine.translation(100, 200) @ Affine.rotation(30) @ Affine.scale(CELL, -CELL)
    first = way @ (0.5, 0.5)
    numbers = (way.a, way.d, way.b, way.e, *first)
    world = "\n".join(repr(number) for number in numbers).encode()
    given = give(empty, {"plan.png": raster(quarters(), driver="PNG"), "plan.PGW": world})
    assert [(one["path"], one["sentence"]) for one in given["given"]] == [("plan.png", ""), ("plan.PGW", "")]
    answer = shown(empty["id"], "plan.png")
    corners = np.array([way @ corner for corner in ((0, 0), (80, 0), (80, 60), (0, 60))])
    assert answer["bounds_m"] == pytest.approx([*corners.min(axis=0), *corners.max(axis=0)], abs=1e-6)
    for at, colour in (((10, 10), RED), ((70, 10), BLUE), ((10, 50), GREEN), ((70, 50), WHITE)):
        assert is_near(colour_at(client, answer, way @ at), colour)
    assert colour_at(client, answer, (answer["bounds_m"][0] + 0.6, answer["bounds_m"][1] + 0.6))[3] == 0


def test_a_picture_without_a_system_is_in_the_files_unit(
    empty: dict[str, Any], give: Give, shown: Shown, plane: Callable[..., None]
) -> None:
    world = b"0.5\n0\n0\n-0.5\n0.25\n29.75\n"
    give(empty, {"plan.png": raster(quarters(), driver="PNG"), "plan.pgw": world})
    assert shown(empty["id"], "plan.png")["bounds_m"] == pytest.approx([0, 0, 40, 30])
    plane(empty, file_unit="ft")
    assert shown(empty["id"], "plan.png")["bounds_m"] == pytest.approx([0, 0, 40 * 0.3048, 30 * 0.3048])


def test_a_local_plane_with_an_origin_takes_pictures(
    client: httpx.Client, empty: dict[str, Any], give: Give, shown: Shown, plane: Callable[..., None]
) -> None:
    lon, lat = pyproj.Transformer.from_crs(UTM, "EPSG:4326", always_xy=True).transform(EAST + 10, NORTH - 10)
    plane(empty, origin=[lat, lon])
    give(empty, {"photo.tif": placed_tiff()})
    answer = shown(empty["id"], "photo.tif")
    assert answer["kind"] == "picture"
    assert is_near(colour_at(client, answer, (0.0, 0.0)), RED)
    west, south, east, north = answer["bounds_m"]
    assert (west, south, east, north) == pytest.approx(
        (-10, -20, 30, 10), abs=0.4
    )  # the grid's own turn and scale


def test_a_local_plane_without_a_place_is_told_what_to_name(
    empty: dict[str, Any], give: Give, shown: Shown, plane: Callable[..., None]
) -> None:
    give(empty, {"photo.tif": placed_tiff()})
    answer = shown(empty["id"], "photo.tif")
    assert (answer["kind"], answer["plane"]) == ("none", UTM)
    assert answer["sentence"].startswith(
        "it is in EPSG:26916 NAD83 / UTM zone 16N, but the job's plane is local"
    )
    plane(empty, crs=answer["plane"])
    assert shown(empty["id"], "photo.tif")["kind"] == "picture"


def test_a_finer_part_is_given_at_the_pictures_own_fineness(
    client: httpx.Client, empty: dict[str, Any], give: Give, shown: Shown, plane: Callable[..., None]
) -> None:
    stripes = np.zeros((3, 100, 6000), np.uint8)
    stripes[:, :, ::2] = 255
    plane(empty, crs=UTM)
    give(empty, {"photo.tif": placed_tiff(stripes)})
    answer = shown(empty["id"], "photo.tif")
    assert answer["shown_cell_m"] == pytest.approx(3000 / 2048)
    part = {"west": EAST + 100, "east": EAST + 110, "south": NORTH - 10, "north": NORTH - 5}
    cells = colours_of(client.get(answer["address"], params=part | {"key": answer["address"][-16:]}).content)
    assert cells.shape[:2] == (10, 20)
    assert set(np.unique(cells[5, 2:-2, 0])) <= {*range(16), *range(240, 256)}
    assert client.get(answer["address"]).headers["cache-control"].endswith("immutable")
    refused = client.get(answer["address"], params=part | {"west": EAST + 9000, "east": EAST + 9010})
    assert refused.json()["error"]["sentence"] == "the picture does not reach this place"
    refused = client.get(answer["address"], params={"west": 1.0})
    assert "needs west, south, east and north" in refused.json()["error"]["sentence"]


KINDS: dict[str, Callable[[], tuple[bytes, tuple[int, int, int], int]]] = {
    "grey": lambda: (placed_tiff(np.full((1, 60, 80), 90, np.uint8)), (90, 90, 90), 255),
    "grey and opacity": lambda: (
        placed_tiff(
            np.stack([np.full((60, 80), 90), np.full((60, 80), 128)]).astype(np.uint8),
            alpha="YES",
        ),
        (90, 90, 90), 128,
    ),
    "four bands, the last one opacity": lambda: (
        placed_tiff(np.concatenate([np.full((3, 60, 80), 60), np.zeros((1, 60, 80))]).astype(np.uint8),
                    photometric="RGB", alpha="YES"),
        (0, 0, 0), 0,
    ),
    "four bands, the last one infrared": lambda: (
        placed_tiff(np.concatenate([np.full((3, 60, 80), 60), np.full((1, 60, 80), 9)]).astype(np.uint8),
                    photometric="RGB", alpha="NO"),
        (60, 60, 60), 255,
    ),
    "palette": lambda: (
        placed_tiff(np.full((1, 60, 80), 7, np.uint8), palette={7: (200, 100, 50, 255)}), (200, 100, 50), 255,
    ),
    "black is no data": lambda: (placed_tiff(np.zeros((3, 60, 80), np.uint8), nodata=0), (0, 0, 0), 0),
}  # fmt: skip


@pytest.mark.parametrize("name", list(KINDS))
def test_bands_become_colours(
    client: httpx.Client,
    empty: dict[str, Any],
    give: Give,
    shown: Shown,
    plane: Callable[..., None],
    name: str,
) -> None:
    content, colour, opacity = KINDS[name]()
    plane(empty, crs=UTM)
    give(empty, {"photo.tif": content})
    found = colour_at(client, shown(empty["id"], "photo.tif"), (EAST + 20, NORTH - 15))
    assert found[3] == opacity
    assert opacity == 0 or found[:3] == pytest.approx(colour, abs=3)


def test_sixteen_bits_are_stretched_and_floats_are_ground(
    client: httpx.Client, empty: dict[str, Any], give: Give, shown: Shown, plane: Callable[..., None]
) -> None:
    steps = np.repeat(np.linspace(300, 900, 80).astype(np.uint16)[None, None], 60, axis=1)
    plane(empty, crs=UTM)
    given = give(empty, {"deep.tif": placed_tiff(np.repeat(steps, 3, axis=0)), "one.tif": placed_tiff(steps),
                         "ground.tif": placed_tiff(steps.astype(np.float32))})["given"]  # fmt: skip
    offered = {one["path"]: (one["is_picture"], one["is_ground"]) for one in given}
    assert offered == {"deep.tif": (True, False), "one.tif": (True, True), "ground.tif": (False, True)}
    answer = shown(empty["id"], "deep.tif")
    assert colour_at(client, answer, (EAST + 1, NORTH - 15))[0] < 12
    assert colour_at(client, answer, (EAST + 39, NORTH - 15))[0] > 243
    assert "use it as the ground" in shown(empty["id"], "ground.tif")["sentence"]


BAD: dict[str, tuple[str, Callable[[], dict[str, bytes]], str]] = {
    "nothing places it": ("a.png", lambda: {"a.png": raster(quarters(), driver="PNG")}, "nothing says where"),
    "world file of words": (
        "a.png", lambda: {"a.png": raster(quarters(), driver="PNG"), "a.pgw": b"no numbers here"}, 'begins "no"',
    ),
    "world file cut short": (
        "a.png", lambda: {"a.png": raster(quarters(), driver="PNG"), "a.wld": b"1\n0\n0\n"}, "this one has 3",
    ),
    "cells of no size": (
        "a.png", lambda: {"a.png": raster(quarters(), driver="PNG"), "a.pgw": b"0 0 0 0 5 5"}, "no size",
    ),
    "unknown system": (
        "a.png",
        lambda: {"a.png": raster(quarters(), driver="PNG"), "a.pgw": b"1 0 0 -1 5 5", "a.prj": b"EPSG:no"},
        'coordinate system "EPSG:no" is unknown',
    ),
    "out of reach of the plane": (
        "a.tif", lambda: {"a.tif": raster(quarters(), crs="EPSG:4326", transform=from_origin(-180, 90, 4.5, 3))},
        "reach",
    ),
    "half a continent": (
        "a.tif", lambda: {"a.tif": raster(quarters(), crs=UTM, transform=from_origin(4e5, 6e6, 2e4, 2e4))},
        "spans 1,600 km",
    ),
    "enormous, without reduced copies": ("a.tif", lambda: {"a.tif": sparse(40_000)}, "million cells and no reduced"),
}  # fmt: skip


def sparse(side: int) -> bytes:
    """Write a tiled TIFF of which no tile is stored."""
    with rasterio.MemoryFile() as memory:
        memory.open(
            driver="GTiff", count=3, height=side, width=side, dtype="uint8", crs=UTM, tiled=True, sparse_ok=True,
            blockxsize=512, blockysize=512, transform=from_origin(EAST, NORTH, 0.1, 0.1), BIGTIFF="YES",
        ).close()  # fmt: skip
        return bytes(memory.getbuffer())


@pytest.mark.parametrize("name", list(BAD))
def test_what_cannot_be_shown_is_told_in_one_sentence(
    empty: dict[str, Any], give: Give, shown: Shown, plane: Callable[..., None], name: str
) -> None:
    path, files, sentence = BAD[name]
    plane(empty, crs=UTM)
    assert "state" in give(empty, files())
    answer = shown(empty["id"], path)
    assert (answer["kind"], answer["bounds_m"], answer["address"]) == ("none", [], "")
    assert sentence in answer["sentence"]
    assert "\n" not in answer["sentence"]


@pytest.mark.parametrize("driver", ["GTiff", "PNG", "JPEG"])
def test_a_picture_cut_short_is_told(
    empty: dict[str, Any], give: Give, shown: Shown, plane: Callable[..., None], driver: str
) -> None:
    noise = np.random.default_rng(7).integers(0, 255, (3, 400, 400), np.uint8)
    whole = placed_tiff(noise) if driver == "GTiff" else raster(noise, driver=driver)
    name = {"GTiff": "a.tif", "PNG": "a.png", "JPEG": "a.jpg"}[driver]
    plane(empty, crs=UTM)
    told = give(empty, {name: whole[: len(whole) // 2], "a.wld": b"1\n0\n0\n-1\n0\n0\n"})
    sentence = told["error"]["sentence"] if "error" in told else shown(empty["id"], name)["sentence"]
    assert sentence == "it cannot be read as a picture: it is cut short or damaged, export it again"


def test_a_small_part_of_an_enormous_picture_is_given(
    client: httpx.Client, empty: dict[str, Any], give: Give, plane: Callable[..., None]
) -> None:
    plane(empty, crs=UTM)
    give(empty, {"a.tif": sparse(40_000)})
    part = {"west": EAST + 100, "east": EAST + 150, "south": NORTH - 200, "north": NORTH - 150}
    answer = client.get(f"/api/jobs/{empty['id']}/pictures/a.tif", params=part)
    assert colours_of(answer.content).shape[:2] == (500, 500)


def test_a_far_background_and_a_missing_file_are_told(
    client: httpx.Client, job: dict[str, Any], give: Give, shown: Shown
) -> None:
    world = b"1\n0\n0\n-1\n500000\n5000000\n"
    give(job, {"a.png": raster(quarters(), driver="PNG"), "a.pgw": world})
    answer = shown(job["id"], "a.png")
    assert answer["kind"] == "picture"
    assert " mi from the lines" in answer["sentence"]  # the job is on US sheets
    assert client.get(f"/api/jobs/{job['id']}/backgrounds/none.png").status_code == 404


def test_features_wait_for_their_unit(
    empty: dict[str, Any], give: Give, shown: Shown, plane: Callable[..., None]
) -> None:
    give(empty, {"a.csv": b"line,x,y\na,0,0\na,40,0\na,40,30\n"})
    answer = shown(empty["id"], "a.csv")
    assert (answer["kind"], answer["needs_unit"]) == ("none", True)
    plane(empty, file_unit="ft")
    answer = shown(empty["id"], "a.csv")
    assert answer["features"][0]["points_m"] == pytest.approx([0, 0, 12.192, 0, 12.192, 9.144], abs=1e-3)
    assert answer["bounds_m"] == pytest.approx([0, 0, 12.192, 9.144], abs=1e-3)


@pytest.mark.parametrize(
    ("files", "sentence"),
    [
        ({"a.pgw": b"1 0 0 -1 0 0"}, "it places the picture of its name: give that too"),
        ({"a.dbf": b"x"}, "it is a part of a Shapefile: give its .shp too"),
        ({"a.prj": b"x"}, "it names the coordinates of the file of its name: give that too"),
        ({"a.svg": b"<svg/>"}, "it is kept with the job: a logo is named under Paper in the job file"),
    ],
)  # fmt: skip
def test_a_file_that_shows_nothing_says_what_it_is_for(
    empty: dict[str, Any], give: Give, files: dict[str, bytes], sentence: str
) -> None:
    (one,) = give(empty, files)["given"]
    assert one["sentence"] == sentence


def test_the_price_book_of_a_job_is_no_background(
    client: httpx.Client, job: dict[str, Any], edit: Any
) -> None:
    prices = [{"item": "round post", "unit": "piece", "price": "12.50"}]
    edit(job, 1, {"kind": "set", "path": ["price", "currency"], "value": "USD"})
    assert edit(job, 2, {"kind": "prices", "prices": prices}).status_code == 200
    shown = client.get(f"/api/jobs/{job['id']}/backgrounds/prices.csv").json()
    assert (shown["kind"], shown["sentence"]) == (
        "none",
        "it is a price book: give it to the job under Price",
    )


def test_files_given_before_say_again_what_they_can_be(
    client: httpx.Client, empty: dict[str, Any], give: Give
) -> None:
    given = give(empty, {"a.csv": b"line,x,y\na,0,0\na,40,0\n", "photo.tif": placed_tiff()})["given"]
    again = client.get(f"/api/jobs/{empty['id']}/files").json()
    assert again == sorted(given, key=lambda one: str(one["path"]))
    assert again[0]["layers"][0]["lines"] == ["a"]


def test_an_archive_without_site_files_is_refused(empty: dict[str, Any], give: Give) -> None:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as archive:
        archive.writestr("letter.docx", b"x")
    assert (
        give(empty, {"a.zip": made.getvalue()})["error"]["sentence"]
        == "it holds no file of a kind that a job holds"
    )


def test_a_picture_alone_makes_a_job(client: httpx.Client) -> None:
    made = client.post("/api/jobs/import", files=[("files", ("north field.tif", placed_tiff()))])
    assert made.status_code == 201
    assert made.json()["name"] == "north field"
    assert [one["path"] for one in made.json()["files"]] == ["north field.tif"]
