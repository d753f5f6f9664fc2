"""Make the generated pages of docs/ from the program itself: `make docs`; a test keeps them fresh."""

import ast
import inspect
import json
import re
import sys
import tomllib
from collections.abc import Iterator
from importlib import resources
from pathlib import Path
from typing import Any, get_args

import holidays
import typer.main
from holidays.registry import COUNTRIES

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.cli.main import app
from fencewright.exchange.design_schema import design_schema
from fencewright.job import (
    defaults,
    fields,
    price_settings,
    programme_settings,
    risk_settings,
    stake_out_settings,
    strength_settings,
    tension_settings,
)
from fencewright.job.schema import JobFile, Section, job_schema_text
from fencewright.server.app import openapi_record
from fencewright.sources import all_sources

HOME = Path(__file__).parent
_MADE = "<!-- made by docs/make_docs.py: run `make docs`, do not edit -->\n\n"
_KINDS = {
    "Coordinate": "length, may be negative",
    "Length": "length",
    "Travel": "length",
    "SmallLength": "length",
    "Allowance": "length",
    "SignedLength": "length, may be negative",
    "Force": "force",
    "Angle": "angle",
    "Temperature": "temperature",
    "TemperatureStep": "temperature difference",
    "Irradiance": "irradiance",
    "Speed": "speed",
    "Time": "time",
    "Share": "share, at most 100 %",
    "Addition": "share, at most 200 %",
    "Factor": "factor, at most 2",
    "Date": "date",
    "Mass": "mass",
    "Money": "money",
    "Count": "number",
}


def commands() -> str:
    """Give the help of every command as a page."""
    parts = [_MADE, "# Commands\n"]
    for name, context in command_contexts():
        text = "\n".join(line.rstrip() for line in context.get_help().splitlines())
        parts.append(f"\n## `{name}`\n\n```text\n{text}\n```\n")
    return "".join(parts)


def command_contexts() -> Iterator[tuple[str, Any]]:
    """Every command by its full name, ready to be asked for its help and options."""
    root: Any = typer.main.get_command(app)
    wide: dict[str, Any] = {"resilient_parsing": True, "terminal_width": 100, "max_content_width": 100}
    top = root.make_context("fencewright", [], **wide)
    yield "fencewright", top
    for name in sorted(root.commands):
        yield f"fencewright {name}", root.commands[name].make_context(name, [], parent=top, **wide)


def job_schema() -> str:
    """Give the JSON schema of the job file, as `fencewright new` writes it."""
    return job_schema_text()


def job_file() -> str:
    """Give every table and key of the job file as a page."""
    schema = JobFile.model_json_schema(by_alias=True)
    practice = _practice_names()
    parts = [_MADE, (HOME / "job-file.head.md").read_text("utf-8")]
    for table, field in JobFile.model_fields.items():
        model = _model(field.annotation)
        many = field.annotation is not model
        head = f"[[{table}]]" if many else f"[{table}]"
        about = inspect.cleandoc(model.__doc__ or "").split(": ", 1)[-1]
        parts.append(
            f"\n## `{head}`\n\n{about[0].upper()}{about[1:]}\n\n| key | what | written as | left out |\n|---|---|---|---|\n"
        )
        for name, spec in schema["$defs"][model.__name__]["properties"].items():
            needed = name in schema["$defs"][model.__name__].get("required", ())
            what = spec.get("description") or _plain(table, name)
            parts.append(
                f"| `{name}` | {what} | {_kind(spec)} | {_default(practice, table, name, spec, needed)} |\n"
            )
    return "".join([*parts, *_catalogue(), *_defaults_page()])


_WORDS = {
    "line": "Name of the line.",
    "name": "Its name, kept on every sheet.",
    "file": "A site file instead of points.",
    "layer": "Layer of that file.",
    "feature": "Name of one feature in it, where it holds several.",
    "points": "Points in order, each `[x, y]` with units.",
    "neighbour.name": "Who pays.",
    "extra.name": "What it is.",
    "soil_zone.unstable": "Boggy or loose ground in this stretch.",
    "gate.hinge": "Post that carries the hinges: the nearer or the farther along the line.",
    "posts.line_diameter": "Of line posts.",
    "posts.end_diameter": "Of end, gate, corner, bend, strain, tee and crossing posts.",
    "holes.auger": "Width of a hole above its bell.",
    "holes.bell_height": "Height over which the hole widens to its bell.",
    "holes.brace_depth": "Of a brace's footing.",
    "holes.line_depth": "Line posts.",
    "brace.kind": "How an end is braced.",
    "brace.diameter": "Of the brace.",
    "brace.lengths": "Stock lengths of braces.",
    "rolls.least_fragment": "Shortest piece of rail that is spliced in.",
    "catalogue.files": "Names of the sheets, in order; a row of the same name replaces the earlier one.",
}
_LEFT_OUT = {
    "job.name": "must be stated",
    "site.crs": "a local plane, or chosen from the files",
    "site.frost_depth": "assumed, with a caution",
    "site.soil": "assumed, with a caution",
    "site.coldest": "assumed, with a caution",
    "site.hottest": "assumed, with a caution",
    "site.ground_sd": "by the kind of ground",
    "site.ground_unit": "as the file says",
    "site.file_unit": "as the file says",
    "line.points": "give `file`",
    "line.file": "give `points`",
    "line.layer": "the only one",
    "line.feature": "the only one",
    "line.closed": "as the file says, else no",
    "line.inside": "found where closed",
    "line.stock_side": "`inside` where that is known, else `both`",
    "line.rail_side": "`stock`",
    "gate.leaf": "the opening less hinge and latch room",
    "obstacle.points": "give `file`",
    "obstacle.file": "give `points`",
    "obstacle.layer": "the only one",
    "obstacle.feature": "all",
    "obstacle.clearance": "the catalogue's for its kind",
    "fence.rails": "as the stock asks, else `fence.rails`",
    "fence.top_height": "as the stock asks, else `fence.top_height`",
    "fence.bottom_gap": "as the stock asks, else `fence.bottom_gap`",
    "fence.line_posts": "tamped; concreted where unstable",
    "strand.height": "spread evenly",
    "brace.reach": "`brace.reach`, or `brace.horizontal_reach`",
    "rolls.length": "the catalogue's",
    "paper.size": "by the job's sheets",
    "paper.contacts": "a line to fill in by hand",
    "paper.ticket": "a line to fill in by hand",
    "paper.ticket_from": "a line to fill in by hand",
    "paper.ticket_to": "a line to fill in by hand",
    "paper.hospital": "a line to fill in by hand",
    "paper.plan_scale": "the largest at which line posts have their names and the sheets stay few",
    "reference.at": "give `lat_lon`",
    "reference.lat_lon": "give `at`",
    "reference.elevation": "that of the ground there",
    "stake_out.peg_beyond": "`layout.string_beyond`",
    "stake_out.check_leg": "`stake_out.check_leg`, or `stake_out.check_leg_metric` on metric sheets",
    "measured.line": "give `post` or `pull`",
    "measured.at": "give `post` or `pull`",
    "measured.post": "give `line` and `at`",
    "measured.pull": "give a post",
    "measured.push": "`tension.push`",
    "price.book": "quantities and hours, and no money",
    "price.currency": "the price book's",
    "price.day": "no price is called old",
    "price.markup": "a margin is taken",
    "price.tax": "no tax, with a note",
    "price.rounding": "not rounded",
    "price.distance": "no travel, with a note",
    "price.vehicles": "1",
    "price.ready_mix_distance": "its haul is not charged",
    "risk.rock_least": "`risk.rock_least`, or `[price] rock_share` where that is less",
    "risk.rock_most": "`risk.rock_most`, or `[price] rock_share` where that is more",
    "risk.weather_most": "`risk.weather_most`, or `[programme] weather` where that is more",
    "price.rock_share": "only rock that is known",
    "neighbour.from": "the line's beginning",
    "neighbour.to": "the line's end",
    "extra.price": "the price book's for that name",
    "rate.hands": "as shipped",
    "rate.trade": "as shipped",
    "programme.start": "days are numbered",
    "programme.crew": "as many as `names`, else two, with a caution",
    "programme.names": "numbered",
    "programme.country": "no holidays are kept, with a caution",
    "programme.latitude": "the plane's place; without one daylight limits nothing",
    "programme.private_services": "a stop of the programme",
    "programme.month_temperatures": "concrete cures as in the laboratory, with a caution",
}


def _plain(table: str, name: str) -> str:
    """Words for a key that its name explains."""
    return _WORDS.get(f"{table}.{name}", _WORDS.get(name, f"{name.replace('_', ' ').capitalize()}."))


def _model(annotation: Any) -> type[Section]:
    return next(iter(get_args(annotation)), annotation)


def _kind(spec: dict[str, Any]) -> str:
    """Say how a key is written."""
    options = [spec, *spec.get("anyOf", ())]
    options += [option["items"] for option in options if isinstance(option.get("items"), dict)]
    options += [item for option in options for item in option.get("prefixItems", ())]
    many = any(option.get("type") == "array" for option in options)
    for option in options:
        if "examples" in option:
            kind = next(_KINDS[name] for name in _KINDS if _examples(name) == option["examples"])
            is_point = "prefixItems" in str(spec.get("items", "")) or "prefixItems" in str(
                spec.get("anyOf", "")
            )
            return ("points" if is_point else f"list of {kind}s") if many else kind
    words = next((option["enum"] for option in options if "enum" in option), None)
    if words:
        return "one of " + ", ".join(f"`{word}`" for word in words)
    if any(option.get("type") == "array" for option in options):
        return "list"
    found = next(option["type"] for option in options if option.get("type") not in (None, "null"))
    if isinstance(found, list):
        return "quantity with its unit, or a number"
    return str(
        {"string": "text", "boolean": "`true` or `false`", "integer": "whole number"}.get(found, found)
    )


def _examples(name: str) -> list[str]:
    metadata = get_args(getattr(fields, name))
    return list(next(one.json_schema["examples"] for one in metadata if hasattr(one, "json_schema")))


def _default(
    practice: dict[tuple[str, str], str], table: str, name: str, spec: dict[str, Any], needed: bool
) -> str:
    if needed:
        return "must be stated"
    if f"{table}.{name}" in _LEFT_OUT:
        return _LEFT_OUT[f"{table}.{name}"]
    defaults_by_name = shipped_catalogue().practice
    row = defaults_by_name.get(practice.get((table, name), ""))
    if row:
        metric = defaults_by_name.get(f"{practice[table, name]}_metric")
        written = _listed(row.written) + (f", on metric sheets {_listed(metric.written)}" if metric else "")
        return f"{written}: {row.why} ({row.source})"
    value = spec.get("default")
    if value in (None, "", [], {}):
        return "none"
    return (
        f"`{str(value).lower()}`"
        if isinstance(value, bool)
        else f"`{value:g}`"
        if isinstance(value, float)
        else f"`{value}`"
    )


def _listed(written: str) -> str:
    """A default as written, a list without its brackets."""
    return written.strip("[]").replace("'", "")


def _practice_names() -> dict[tuple[str, str], str]:
    """Find which trade default fills which key, from the calls that fill them."""
    names: dict[tuple[str, str], str] = {}
    known = set(shipped_catalogue().practice)
    nodes = [
        node
        for module in (
            defaults,
            tension_settings,
            strength_settings,
            price_settings,
            programme_settings,
            risk_settings,
            stake_out_settings,
        )
        for node in ast.walk(ast.parse(inspect.getsource(module)))
    ]
    for node in nodes:
        if not isinstance(node, ast.Call):
            continue
        keys = [one for one in node.args if isinstance(one, ast.Attribute)]
        texts = [one.value for one in node.args if isinstance(one, ast.Constant) and one.value in known]
        if keys and texts:
            owner = ast.unparse(keys[0].value).split(".")[-1]
            table = {"top": "top_line", "asked": str(texts[0]).split(".")[0]}.get(owner, owner)
            names.setdefault((table, keys[0].attr), str(texts[0]))
    return names


def _catalogue() -> Iterator[str]:
    catalogue = shipped_catalogue()
    yield "\n## Words that the catalogue knows\n\n"
    for title, rows in (
        ("`[[strand]] rail`, `[fence] rail`", catalogue.rails),
        ("`[holes] bag`", catalogue.bags),
        ("`soil`", catalogue.soils),
        ("`[[obstacle]] kind`", catalogue.obstacles),
        ("`[stock] kept`", catalogue.kept),
    ):
        yield f"- {title}: " + ", ".join(f"`{name}`" for name in rows) + "\n"
    yield "\nA supplier's data sheet has the same shape as the shipped rows. One rail, as it is shipped:\n\n```toml\n"
    yield _first_row("rails.toml") + "```\n"


def _first_row(file: str) -> str:
    text = (
        resources.files("fencewright")
        .joinpath("data")
        .joinpath("catalogue")
        .joinpath(file)
        .read_text("utf-8")
    )
    found = re.search(r"^\[.*?(?=^\s*$)", text, re.MULTILINE | re.DOTALL)
    return found.group(0) if found else ""


def _defaults_page() -> Iterator[str]:
    yield "\n## Trade defaults\n\nWhat is left out of a job is taken from here. "
    yield "`source` is a key of [sources.md](sources.md).\n\n"
    yield "| default | value | source | how known | why |\n|---|---|---|---|---|\n"
    for name, row in shipped_catalogue().practice.items():
        value = row.written.strip("[]").replace("'", "")
        yield f"| `{name}` | {value} | {row.source} | {row.read} | {row.why} |\n"


def sources_page() -> str:
    """Give the register of sources as a page, with the rows that point at each."""
    used: dict[str, list[str]] = {}
    for file, name, key in rows_with_source():
        used.setdefault(key, []).append(f"{name} ({file})")
    parts = [
        _MADE,
        "# Sources\n\nEvery number of the program and of its tests points at one of these keys.\n",
    ]
    for key, source in all_sources().items():
        parts.append(f"\n## {key}\n\n{source.text}.\n")
        for label, value in (("Where", source.where), ("Seen", source.seen), ("Note", source.note)):
            parts += [f"\n{label}: {value}.\n"] if value else []
        if key != "practice" and key in used:
            parts.append(f"\nUsed by: {', '.join(used[key])}.\n")
    return re.sub(r"\.\.\n", ".\n", "".join(parts))


def rows_with_source() -> Iterator[tuple[str, str, str]]:
    """Every data row that names a source: file, name of the row, key."""
    home = resources.files("fencewright").joinpath("data")
    files = [
        home.joinpath("practice.toml"),
        *sorted(home.joinpath("catalogue").iterdir(), key=lambda one: one.name),
    ]
    for file in files:
        for path, row in _tables(tomllib.loads(file.read_text("utf-8")), ()):
            if "source" in row:
                yield file.name, ".".join(path), str(row["source"])


def _tables(data: Any, path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], dict[str, Any]]]:
    if isinstance(data, dict):
        yield path, data
        for key, value in data.items():
            yield from _tables(value, (*path, key))
    elif isinstance(data, list):
        for number, value in enumerate(data):
            yield from _tables(value, (*path, str(number + 1)))


def outputs() -> str:
    """Give the files that are written, and every column of design.json, as a page."""
    schema = design_schema()["properties"]
    parts = [_MADE, (HOME / "outputs.head.md").read_text("utf-8"), "\n## design.json\n"]
    parts.append("\nLengths in metres, forces in newtons, angles in radians; `null`: not known.\n")
    simple = {name: spec for name, spec in schema.items() if "properties" not in spec and "items" not in spec}
    parts.append(_columns("At the top", simple))
    for name, spec in schema.items():
        row = spec.get("items", spec)
        if "properties" in row:
            parts.append(
                _columns(f"`{name}`" + (", one a row" if "items" in spec else ""), row["properties"])
            )
    return "".join(parts)


def _columns(title: str, columns: dict[str, Any]) -> str:
    lines = [f"\n### {title}\n\n| name | what |\n|---|---|\n"]
    for name, spec in columns.items():
        words = spec.get("description") or (f"`{spec['const']}`" if "const" in spec else "")
        if "enum" in spec:
            words += " One of " + ", ".join(f"`{word}`" for word in spec["enum"]) + "."
        inner = spec.get("items", spec).get("properties")
        if inner:
            words = f"{words} With ".lstrip() + ", ".join(f"`{key}`" for key in inner) + "."
        lines.append(f"| `{name}` | {words or 'As named.'} |\n")
    return "".join(lines)


def holiday_places() -> str:
    """Give the countries and subdivisions of which public holidays are known, for a job that is read in haste."""
    rows = [
        [
            " ".join(code for code in codes if code.isupper()),
            list(holidays.country_holidays(codes[0]).subdivisions),
        ]
        for _, *codes in sorted(COUNTRIES.values(), key=lambda names: str(names[1]))
    ]
    lines = ",\n".join(json.dumps(row, ensure_ascii=False) for row in rows)
    made = json.dumps(
        f"by docs/make_docs.py from holidays {holidays.__version__}: run `make docs`, do not edit"
    )
    return f'{{"made": {made}, "places": [\n{lines}\n]}}\n'


def pages() -> dict[str, str]:
    """Every generated page by its place from docs/, and the one table of the program that is made."""
    return {
        "commands.md": commands(),
        "job-file.md": job_file(),
        "job.schema.json": job_schema(),
        "sources.md": sources_page(),
        "outputs.md": outputs(),
        "design.schema.json": json.dumps(design_schema(), indent=1, sort_keys=True) + "\n",
        "openapi.json": json.dumps(openapi_record(), indent=1, sort_keys=True) + "\n",
        "../src/fencewright/data/holiday_places.json": holiday_places(),
    }


def main() -> int:
    """Write the pages that are stale."""
    for name, text in pages().items():
        target = HOME / name
        if not target.is_file() or target.read_text("utf-8") != text:
            target.write_text(text, "utf-8")
            sys.stdout.write(f"made {target.resolve().relative_to(HOME.resolve().parent)}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
