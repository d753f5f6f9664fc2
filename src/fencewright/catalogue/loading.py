"""Shipped TOML rows to records, and a user's data sheet on top of them."""

import math
import tomllib
from collections.abc import Iterable, Mapping
from functools import cache, partial
from importlib import resources
from typing import Any

from fencewright.catalogue.rows import Bag, Catalogue, Hardware, Kept, ObstacleKind, PracticeValue, Rail, Soil
from fencewright.catalogue.strength_rows import read_load_case, read_pipe, read_timber
from fencewright.catalogue.work_rows import read_work
from fencewright.findings import InputError
from fencewright.findings.toml_faults import read_toml
from fencewright.quantity.parse import FOOT_M, QuantityError, parse_quantity

_SHIPPED = ("rails", "bags", "hardware", "soils", "obstacles", "stock", "timber", "load_cases", "work")


def _read(row: Mapping[str, Any], key: str, kind: str, item: str, file: str) -> float:
    if key not in row:
        raise InputError(
            f"`{key}` is missing: add it from the data sheet, with its unit", file=file, item=item
        )
    try:
        return parse_quantity(row[key], kind)
    except QuantityError as error:
        raise InputError(str(error), file=file, item=f"{item}, {key}") from error


def _rail(name: str, row: Mapping[str, Any], file: str) -> Rail:
    item = f'rail "{name}"'

    def read(key: str, kind: str) -> float:
        value = _read(row, key, kind, item, file)
        if value <= 0:
            raise InputError("must be more than nothing", file=file, item=f"{item}, {key}")
        return value

    return Rail(
        name,
        str(row.get("kind", "polymer rail")),
        read("face_height", "length"),
        int(row.get("wires", 1)),
        read("wire_diameter", "length"),
        read("line_mass", "line mass"),
        read("roll_length", "length"),
        read("set_tension", "force"),
        read("cold_tension", "force"),
        read("breaking_load", "force"),
        str(row.get("source", "practice")),
        str(row.get("why", "")),
        **_rail_optional(row, item, file),
        tensioner=str(row.get("tensioner", "")),
        fixing=str(row.get("fixing", "")),
    )


# What a data sheet may leave out, with the kind of quantity; the tension stage says what it assumes instead.
_RAIL_OPTIONAL = {
    "stiffness": "force",
    "elastic_modulus": "stress",
    "expansion": "expansion",
    "polymer_stiffness": "force",
    "polymer_expansion": "expansion",
    "creep": "ratio",
    "absorptivity": "ratio",
    "emissivity": "ratio",
    "least_bend_radius": "length",
    "allowed_share": "ratio",
    "tensioner_holds": "length",
}
_RAIL_UNITS = {"force": "_n", "stress": "_pa", "expansion": "_per_c", "length": "_m", "ratio": ""}
_RAIL_SHARES = ("absorptivity", "emissivity", "allowed_share")
_MAY_BE_NOTHING = ("creep", "polymer_stiffness")


def _rail_optional(row: Mapping[str, Any], item: str, file: str) -> dict[str, float]:
    """Read what a rail's sheet may leave out: only the keys that it states, as `Rail` names them."""
    stated = {}
    for key, kind in _RAIL_OPTIONAL.items():
        if key not in row:
            continue
        value = _read(row, key, kind, item, file)
        if value < 0 or (value == 0 and key not in _MAY_BE_NOTHING):
            raise InputError("must be more than nothing", file=file, item=f"{item}, {key}")
        if key in _RAIL_SHARES and value > 1:
            raise InputError("is a share: at most 1", file=file, item=f"{item}, {key}")
        stated[key + _RAIL_UNITS[kind]] = value
    return stated


def _soil(name: str, row: Mapping[str, Any], file: str) -> Soil:
    item = f'soil "{name}"'
    known = "bearing" in row
    bearing = _read(row, "bearing", "stress", item, file) if known else math.nan
    lateral = _read(row, "lateral_per_depth", "stress", item, file) / FOOT_M if known else math.nan
    friction = _read(row, "friction", "ratio", item, file) if "friction" in row else math.nan
    cohesion = _read(row, "cohesion", "stress", item, file) if "cohesion" in row else math.nan
    heaves = bool(row.get("heaves", False))
    return Soil(name, int(row.get("class", 0)), bearing, lateral, heaves, friction, cohesion)


def _named_rows(table: str, make: Any, data: Mapping[str, Any], file: str) -> dict[str, Any]:
    """Read a table of strength or of work, row by row."""
    rows = data.get(table, {})
    return {
        name: make(name, row, partial(_read, row, item=f'{table} "{name}"', file=file))
        for name, row in rows.items()
    }


def _obstacle(name: str, row: Mapping[str, Any], file: str) -> ObstacleKind:
    return ObstacleKind(
        name,
        _read(row, "clearance", "length", f'obstacle "{name}"', file),
        str(row.get("colour", "none")),
        bool(row.get("service", False)),
        bool(row.get("water", False)),
        bool(row.get("overhead", False)),
        bool(row.get("no_machine", False)),
        bool(row.get("solid", False)),
        _read(row, "clearance_metric", "length", f'obstacle "{name}"', file)
        if "clearance_metric" in row
        else None,
    )


_KEPT_SIZES = ("top_height", "bottom_gap")


def _kept(name: str, row: Mapping[str, Any], file: str) -> Kept:
    item = f'stock "{name}"'
    top, gap = (_read(row, key, "length", item, file) for key in _KEPT_SIZES)
    metric = None
    if any(f"{key}_metric" in row for key in _KEPT_SIZES):
        high, low = (_read(row, f"{key}_metric", "length", item, file) for key in _KEPT_SIZES)
        metric = high, low
    return Kept(
        name,
        int(row["rails"]),
        top,
        gap,
        str(row["why"]),
        str(row["source"]),
        metric,
        str(row.get("why_metric", "")),
    )


def _bag(name: str, row: Mapping[str, Any], file: str) -> Bag:
    item = f'bag "{name}"'
    return Bag(name, _read(row, "mass", "mass", item, file), _read(row, "yield", "volume", item, file))


def _hardware(row: Mapping[str, Any], file: str) -> Hardware:
    item = f'hardware "{row["item"]}"'
    return Hardware(
        str(row["item"]),
        str(row["for"]),
        str(row["per"]),
        float(row["count"]),
        str(row.get("unit", "piece")),
        float(row.get("pack", 1)),
        str(row.get("why", "")),
        str(row.get("part", "")),
        _read(row, "mass", "mass", item, file) if "mass" in row else math.nan,
    )


def practice_value(value: object, name: str) -> object:
    """Read a practice value: text with a unit to SI, a list item by item, numbers and words as they are."""
    if isinstance(value, list):
        return tuple(practice_value(item, name) for item in value)
    if not isinstance(value, str) or not value.lstrip("-")[:1].isdigit():
        return value
    kinds = (
        "ratio",
        "angle",
        "length",
        "force",
        "area",
        "temperature",
        "stress",
        "expansion",
        "speed",
        "irradiance",
        "time",
        "density",
        "mass",
        "volume",
    )
    for kind in kinds:
        try:
            return parse_quantity(value, kind)
        except QuantityError:
            continue
    raise InputError(f"{value!r} is no quantity", file="practice.toml", item=name)


def _practice(data: Mapping[str, Any]) -> dict[str, PracticeValue]:
    values = {}
    for section, rows in data.items():
        for key, row in rows.items():
            name = f"{section}.{key}"
            values[name] = PracticeValue(
                practice_value(row["value"], name), str(row["value"]), row["source"], row["read"], row["why"]
            )
    return values


def _merge(catalogue: Catalogue, data: Mapping[str, Any], file: str) -> Catalogue:
    known = {"rail", "bag", "hardware", "soil", "obstacle", "keep", "timber", "pipe", "load_case", "work"}
    unknown = [key for key in data if key not in known]
    if unknown:
        raise InputError(f"there is no table `{unknown[0]}`; known: {', '.join(sorted(known))}", file=file)
    return Catalogue(
        rails={
            **catalogue.rails,
            **{name: _rail(name, row, file) for name, row in data.get("rail", {}).items()},
        },
        bags={**catalogue.bags, **{name: _bag(name, row, file) for name, row in data.get("bag", {}).items()}},
        hardware=catalogue.hardware + tuple(_hardware(row, file) for row in data.get("hardware", [])),
        soils={
            **catalogue.soils,
            **{name: _soil(name, row, file) for name, row in data.get("soil", {}).items()},
        },
        obstacles={
            **catalogue.obstacles,
            **{name: _obstacle(name, row, file) for name, row in data.get("obstacle", {}).items()},
        },
        kept={
            **catalogue.kept,
            **{name: _kept(name, row, file) for name, row in data.get("keep", {}).items()},
        },
        timbers={**catalogue.timbers, **_named_rows("timber", read_timber, data, file)},
        pipes={**catalogue.pipes, **_named_rows("pipe", read_pipe, data, file)},
        load_cases={**catalogue.load_cases, **_named_rows("load_case", read_load_case, data, file)},
        works={**catalogue.works, **_named_rows("work", read_work, data, file)},
        practice=catalogue.practice,
    )


@cache
def shipped_catalogue() -> Catalogue:
    """Load the shipped rows and trade defaults once."""
    home = resources.files("fencewright").joinpath("data")
    practice = _practice(tomllib.loads(home.joinpath("practice.toml").read_text("utf-8")))
    catalogue = Catalogue(practice=practice)
    for name in _SHIPPED:
        file = f"{name}.toml"
        data = tomllib.loads(home.joinpath("catalogue").joinpath(file).read_text("utf-8"))
        catalogue = _merge(catalogue, data, file)
    return catalogue


def with_data_sheets(catalogue: Catalogue, sheets: Iterable[tuple[str, str]]) -> Catalogue:
    """Add users' data sheets.

    Parameters
    ----------
    catalogue : Catalogue
        What there is.
    sheets : iterable of (file name, TOML text)
        In order; a row of the same name replaces the earlier one.

    Raises
    ------
    InputError
        Not TOML, an unknown table, a row without a value that it needs.
    """
    for file, text in sheets:
        data = read_toml(text, file)
        try:
            catalogue = _merge(catalogue, data, file)
        except (KeyError, TypeError, ValueError, AttributeError) as error:
            raise InputError(
                f"a row is not as the shipped ones are ({error}): see docs/job-file.md", file=file
            ) from error
    return catalogue
