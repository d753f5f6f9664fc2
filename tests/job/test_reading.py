"""Text of a job file to a typed job: every table, and one sentence for whatever is wrong."""

import json
import tomllib
from collections.abc import Callable
from importlib import resources

import jsonschema
import pytest

from fencewright.findings import InputError
from fencewright.job.reading import check_job, decode_job, parse_job
from fencewright.job.schema import JobFile

Parsed = Callable[[str], JobFile]

EVERY_TABLE = """
[job]
name = "All of it"
client = "C"
builder = "B"
place = "P"
revision = "7"
sheets = "metric"
[stock]
kept = ["horses", "foals"]
[site]
crs = "local"
origin = [46.5, -87.4]
north = "3 deg"
ground = "flat"
ground_unit = "us-ft"
file_unit = "ft"
ground_sd = "5 mm"
survey = "rtk"
frost_depth = "47 in"
soil = "sand"
unstable = false
coldest = "-20 F"
hottest = "100 F"
[[soil_zone]]
line = "a"
from = "3 m"
to = "9 m"
soil = "peat"
unstable = true
[[line]]
name = "a"
points = [["0 m", "0 m"], ["50 m", "0 m"], ["50 m", "30 m"]]
closed = true
drawn = "boundary"
set_back = "2 ft"
inside = "left"
stock_side = "inside"
rail_side = "stock"
straighten = "10 mm"
[[line]]
name = "b"
file = "walk.gpx"
layer = "tracks"
feature = "home"
[[gate]]
name = "main"
line = "a"
at = "4 m"
opening = "12 ft"
leaf = "11 ft"
hinge = "far"
swing = "both"
[[crossing]]
name = "brook"
line = "a"
at = "20 m"
width = "5 m"
[[obstacle]]
name = "oak"
kind = "tree"
points = [["9 m", "9 m"]]
closed = false
clearance = "4 ft"
radius = "1 ft"
[fence]
rails = 4
rail = "polymer rail"
spacing_limit = "12 ft"
top_height = "54 in"
bottom_gap = "12 in"
top_reveal = "1 in"
corner_angle = "20 deg"
pull_length_limit = "1320 ft"
friction = 0.15
far_end_share = "40 %"
tail = "2 ft"
line_posts = "driven"
[[strand]]
rail = "coated wire"
height = "16 in"
[posts]
line_diameter = "4 in"
end_diameter = "6 in"
line_lengths = ["8 ft"]
end_lengths = ["9 ft"]
trim = "2 in"
[holes]
auger = "12 in"
bell = "6 in"
bell_height = "6 in"
end_depth = "48 in"
brace_depth = "48 in"
line_depth = "30 in"
recess = "4 in"
bag = "60 lb"
waste = "5 %"
[brace]
kind = "horizontal"
reach = "8 ft"
contact = "40 in"
lean = "1 in"
diameter = "4 in"
lengths = ["8 ft"]
[top_line]
low = "3 in"
high = "6 in"
gap_low = "4 in"
gap_high = "6 in"
cut_limit = "1 in"
[rolls]
length = "660 ft"
remainders = ["210 ft"]
splice_price = "30 ft"
least_fragment = "20 ft"
[[strain]]
line = "a"
at = "20 m"
[[pin]]
line = "a"
at = "30 m"
height = "56 in"
top = "101.2 m"
post = true
[[built]]
line = "a"
at = "33 m"
offset = "-6 1/2 in"
depth = "28 in"
height = "54 in"
[[rock]]
line = "a"
at = "40 m"
depth = "20 in"
[catalogue]
files = ["sheet.toml"]
"""


def test_every_key_of_every_table_is_read() -> None:
    job = parse_job(EVERY_TABLE)
    asked = tomllib.loads(EVERY_TABLE)
    for table, value in asked.items():
        read = getattr(job, table)
        for row, record in zip(
            value if isinstance(value, list) else [value],
            read if isinstance(value, list) else [read],
            strict=True,
        ):
            names = {field.alias or name for name, field in type(record).model_fields.items()}
            named = {type(record).model_fields[name].alias or name for name in record.model_fields_set}
            assert set(row) == named <= names, table
    assert job.built[0].offset == pytest.approx(-6.5 * 0.0254)
    assert (job.soil_zone[0].start, job.soil_zone[0].end) == (3.0, 9.0)
    assert job.site.coldest == pytest.approx(-28.888888888888889)
    assert job.fence.far_end_share == 0.4


def test_the_small_job_of_the_issue_is_read(small_job_text: str) -> None:
    job = parse_job(small_job_text)
    assert (job.job.name, job.job.sheets, job.fence.rails) == ("Small paddock", "us", 4)
    assert job.line[0].points == [(0.0, 0.0), (60.96, 0.0), (60.96, 36.576), (0.0, 36.576)]
    assert job.gate[0].opening == pytest.approx(3.6576)
    assert job.obstacle[0].clearance == pytest.approx(0.6096)


def test_the_commented_job_of_the_command_new_is_read() -> None:
    text = resources.files("fencewright").joinpath("data").joinpath("new-job.toml").read_text("utf-8")
    assert parse_job(text).line[0].name == "paddock"


def test_the_schema_for_editors_takes_what_the_program_takes(small_job_text: str) -> None:
    schema = JobFile.model_json_schema(by_alias=True)
    check = jsonschema.Draft202012Validator(json.loads(json.dumps(schema)))
    check.validate(tomllib.loads(small_job_text))
    check.validate(tomllib.loads(EVERY_TABLE))
    assert list(check.iter_errors({"job": {"name": "x", "colour": "red"}}))
    assert list(check.iter_errors({"job": {"name": "x"}, "fence": {"spacing_limit": 12}}))


@pytest.mark.parametrize(
    ("more", "item", "sentence"),
    [
        ("[fence]\nspacing_limt = '12 ft'\n", "fence, spacing_limt", "did you mean `spacing_limit`?"),
        ("[fense]\nrails = 4\n", "fense", "did you mean `fence`?"),
        ("[[gate]]\nline='a'\nat='1 m'\nopenning='12 ft'\n", "gate 1, openning", "did you mean `opening`?"),
        ("[[soil_zone]]\nline='a'\nfrom='1 m'\nto='2 m'\nsoil='sand'\nstart=1\n", "soil_zone 1, start", "there is no key"),
        ("[site]\nxyzzy = 1\n", "site, xyzzy", "known here: crs, origin"),
        ("[[gate]]\nline='a'\nat='1 m'\n", "gate 1, opening", "this key is missing"),
        ("[[gate]]\nname='main'\nline='a'\nat='1 m'\nopening=12\n", 'gate 1 "main", opening', "has no unit"),
        ("[fence]\nrails = 0\n", "fence, rails", "0 is too small: write 1 or more"),
        ("[fence]\nrails = 'four'\n", "fence, rails", "'four' is no whole number"),
        ("[fence]\nrails = true\n", "fence, rails", "true is no number: write a number"),
        ("[site]\norigin = [true, 3]\n", "site, origin 1", "true is no number"),
        ("[site]\norigin = [9, false]\n", "site, origin 2", "false is no number"),
        ("[price]\nvehicles = true\n", "price, vehicles", "true is no number"),
        ("[paper]\nplan_scale = true\n", "paper, plan_scale", "true is no number"),
        ("[brace]\nbays = true\n", "brace, bays", "true is no number"),
        ("[programme]\ncrew = true\n", "programme, crew", "true is no whole number"),
        ("[programme]\nlatitude = true\n", "programme, latitude", "true is no number"),
        ("[fence]\nspacing_limit = '12 kg'\n", "fence, spacing_limit", "no length with a unit"),
        ("[fence]\nspacing_limit = '-12 ft'\n", "fence, spacing_limit", "too small"),
        ("[fence]\ntop_height = '54 ft'\n[holes]\nauger='12 km'\n", "holes, auger", "too large"),
        ("[fence]\nfriction = nan\n", "fence, friction", "nan is no factor: write it like 0.15"),
        ("[brace]\nkind = 'slanted'\n", "brace, kind", "is not one of 'diagonal', 'horizontal' or 'none'"),
        ("[site]\norigin = [nan, 3]\n", "site, origin 1", "nan is no number"),
        ("[site]\norigin = [91, 3]\n", "site, origin 1", "91 is too large: write 90 or less"),
        ("[site]\ncoldest = '-20'\n", "site, coldest", "no temperature"),
        ("[site]\ncoldest = '-500 F'\n", "site, coldest", "too small"),
        ("[stock]\nkept = 'horses'\n", "stock, kept", "'horses' is no list"),
        ("fence = 3\n[site]\n", 'line 1 "a", fence', "there is no key"),
        ("[[pin]]\nline='a'\nat='2 m'\nheight='tall'\n", "pin 1, height", "no length"),
    ],
)  # fmt: skip
def test_one_sentence_with_item_and_remedy(parsed: Parsed, more: str, item: str, sentence: str) -> None:
    with pytest.raises(InputError) as refused:
        parsed(more)
    assert refused.value.item == item
    assert sentence in refused.value.what
    assert "\n" not in str(refused.value)
    assert str(refused.value).startswith(f"job.toml: {item}: ")


@pytest.mark.parametrize(
    ("more", "item", "sentence"),
    [
        ("[price]\ntax = 19\n", "price, tax", "19 is 1,900 %: write 19 % or 0.19"),
        ("[price]\ntax = '19'\n", "price, tax", "19 is 1,900 %: write 19 % or 0.19"),
        ("[price]\ntax = '119 %'\n", "price, tax", "119 % is too much for this item: write at most 100 %"),
        ("[price]\nmarkup = 1.5\n", "price, markup", "1.5 is 150 %: write 150 % if that is meant, else 1.5 % or 0.015"),
        ("[price]\noverhead = '500 %'\n", "price, overhead", "500 % is too much for this item: write at most 200 %"),
        ("[holes]\nwaste = 5\n", "holes, waste", "5 is 500 %: write 5 % or 0.05"),
        ("[fence]\nfriction = 50\n", "fence, friction", "50 is too much for this item: write at most 2"),
        ("[fence]\nfriction = '70 m'\n", "fence, friction", "'70 m' is no factor: write it like 0.15"),
        ("[fence]\nfar_end_share = '70 m'\n", "fence, far_end_share", "'70 m' is no share: write it like 5 % or 0.05"),
        ("[programme]\nweather = '7,5 %'\n", "programme, weather", "has a comma"),
        ("[[measured]]\nwhat='beats'\nvalue='70 m'\n", "measured 1, value", "'70 m' is no count of beats: write how many"),
    ],
)  # fmt: skip
def test_a_share_is_a_percentage_or_a_bare_number_up_to_one(
    parsed: Parsed, more: str, item: str, sentence: str
) -> None:
    with pytest.raises(InputError) as refused:
        parsed(more)
    assert refused.value.item == item
    assert sentence in refused.value.what


def test_a_share_reads_the_same_written_either_way(parsed: Parsed) -> None:
    job = parsed("[price]\ntax = 0.19\noverhead = '120 %'\n[holes]\nwaste = '5 %'\n[fence]\nfriction = 1.1\n")
    assert (job.price.tax, job.price.overhead, job.holes.waste, job.fence.friction) == (0.19, 1.2, 0.05, 1.1)


def test_a_point_is_named_by_its_line_and_number() -> None:
    text = '[job]\nname="x"\n[[line]]\nname="north"\npoints=[["0 m","0 m"],["5 m",7]]\n'
    with pytest.raises(InputError, match='line 1 "north", points 2 2: 7 has no unit'):
        parse_job(text)


@pytest.mark.parametrize(
    "text",
    ["[job", "job = ", '[job]\nname = "x\n', "[job]\nname='a'\nname='b'\n", "\x00", "a" * 5000, "[[[[[["],
)
def test_what_is_no_toml_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="not valid TOML"):
        parse_job(text)


def test_deep_nesting_is_refused() -> None:
    with pytest.raises(InputError, match=r"nested too deeply|not valid TOML"):
        parse_job("a = " + "[" * 50_000)


def test_a_long_text_is_refused() -> None:
    with pytest.raises(InputError, match="301 characters are too many: write at most 300"):
        parse_job(f'[job]\nname = "{"x" * 301}"\n')


def test_a_mapping_is_checked_like_a_file() -> None:
    assert check_job({"job": {"name": "x"}}).job.name == "x"
    with pytest.raises(InputError, match="job, name"):
        check_job({"job": {}}, "made.toml")


@pytest.mark.parametrize(
    ("raw", "sentence"),
    [
        (b"", "is empty"),
        (b" \n\t\n", "is empty"),
        (b"[job]\nname = 'caf\xe9'\n", "line 2 is not UTF-8"),
        (b"\xff\xfe[\x00j\x00", "line 1 is not UTF-8"),
        (b"#" * 20_000_001, "20,000,001 bytes are too many"),
    ],
)
def test_bytes_that_are_no_job_file(raw: bytes, sentence: str) -> None:
    with pytest.raises(InputError, match=sentence):
        decode_job(raw, "job.toml")


def test_a_byte_order_mark_is_no_fault() -> None:
    assert decode_job(b"\xef\xbb\xbf[job]", "job.toml") == "[job]"
