"""How tight the rails were drawn, for the owner: each run, tension by temperature, and how it is checked."""

from collections.abc import Sequence
from typing import Any

from fencewright.findings.cautions import TIGHT_RAIL
from fencewright.papers.blocks import Block, Column, Heading, Points, Table, Words
from fencewright.papers.customer_words import check_words
from fencewright.papers.measures import UNKNOWN, Measures, Record

_MOST_DAYS = 8
Group = list[dict[str, Any]]


def tension_blocks(record: Record) -> list[Block]:
    """Give set tension of each run, the chart by temperature, and push and pluck values; words where nothing is pulled.

    Notes
    -----
    Pulls of one run and product are alike and share a row.
    """
    if not record["tension"]:
        return [Words("The fence has no rail that is drawn tight.")]
    told = Measures(record)
    tension = {row["pull"]: row for row in record["tension"]}
    groups: dict[tuple[str, str], Group] = {}
    for pull in record["pulls"]:
        groups.setdefault((pull["run"], pull["product"]), []).append(pull)
    own = list(groups.values())
    return [
        Words(TIGHT_RAIL, "caution"),
        Heading("Tension by design"),
        _set(own, tension, told),
        Heading("Tension by the temperature of the rail"),
        _chart(own, tension, told),
        Heading("How to check it"),
        Points(check_words()),
        *_proofs(record["site_checks"], told),
    ]


def _names(pulls: Group) -> str:
    first, last = pulls[0]["id"], pulls[-1]["id"]
    return str(first) if first == last else f"{first} to {last.rpartition('-')[2]}"


def _set(groups: Sequence[Group], tension: dict[str, Any], told: Measures) -> Table:
    force = told.units.force_unit
    warm = told.temperature(tension[groups[0][0]["id"]]["reference_temperature_c"])
    columns = [
        Column("Pulls", 26, is_strong=True),
        Column("Rail", 32),
        Column("From", 14),
        Column("To", 14),
        Column("Tensioner\nat", 20),
        Column(f"Set at {warm}\n{force}", 24, "right", is_strong=True),
        Column(f"Least\n{force}", 18, "right"),
        Column(f"Most\n{force}", 18, "right"),
        Column(f"Re-pull, take\nin, {told.units.small_unit}", 20, "right"),
    ]
    rows = []
    for pulls in groups:
        first = pulls[0]
        row = tension[first["id"]]
        both = ", {row['anchor_post']}" if row["drawn_from"] == "both" else ""
        rows.append([
            _names(pulls), first["product"], first["from_post"], first["to_post"], f"{row['tensioner_post']}{both}",
            told.bare_force(row["set_tension_n"]), *(told.bare_force(value) for value in row["window_n"]),
            told.bare_small(row["repull_m"]),
        ])  # fmt: skip
    return Table(columns, rows, 6.4, 9.5, has_room=False)


def _chart(groups: Sequence[Group], tension: dict[str, Any], told: Measures) -> Table:
    """Tension of each run at some temperatures."""
    days = tension[groups[0][0]["id"]]["chart"]
    step = -(-len(days) // _MOST_DAYS)
    wide = 160.0 / max(len(days[::step]), 1)
    unit = told.units.temperature_unit
    columns = [Column(f"Pulls, {told.units.force_unit}", 26, is_strong=True)]
    columns += [Column(f"{_degrees(day, told)} {unit}", wide, "right") for day in days[::step]]
    rows = [
        [
            _names(pulls),
            *(told.bare_force(day["tension_n"]) for day in tension[pulls[0]["id"]]["chart"][::step]),
        ]
        for pulls in groups
    ]
    return Table(columns, rows, 6.4, 9.5, has_room=False)


def _degrees(day: dict[str, Any], told: Measures) -> str:
    return told.temperature(day["rail_temperature_c"]).removesuffix(f" {told.units.temperature_unit}")


def _proofs(checks: Sequence[dict[str, Any]], told: Measures) -> list[Block]:
    """Push and pluck values at each place by temperature, the give from held to sliding."""
    if not checks:
        return []
    days = list(dict.fromkeys(check["rail_temperature_c"] for check in checks))[:_MOST_DAYS]
    places: dict[tuple[str, str, str], dict[float, dict[str, Any]]] = {}
    for check in checks:
        key = (check["pull"], check["post"], check["place"])
        places.setdefault(key, {})[check["rail_temperature_c"]] = check
    head = [Column("Lowest rail\nbeyond", 28, is_strong=True), Column("Where", 24)]
    wide = 134.0 / len(days)
    columns = [*head, *(Column(f"Rail at\n{told.temperature(day)}", wide, "right") for day in days)]
    push = [[f"{pull} {post}", place, *(_give(own.get(day), told) for day in days)]
            for (pull, post, place), own in places.items()]  # fmt: skip
    pluck = [[f"{pull} {post}", place, *(_beats(own.get(day)) for day in days)]
             for (pull, post, place), own in places.items()]  # fmt: skip
    small, force = told.units.small_unit, told.force(checks[0]["push_n"])
    return [
        Words(f"Push {force} at mid-span. How far the rail gives ({small}), held to sliding:"),
        Table(columns, push, 6.4, 9.5, has_room=False),
        Words("Or pluck it. How often it swings there and back in a second:"),
        Table(columns, pluck, 6.4, 9.5, has_room=False),
    ]


def _give(check: dict[str, Any] | None, told: Measures) -> str:
    if check is None:
        return UNKNOWN
    held, sliding = (told.bare_small(check[f"deflection_{one}_m"]) for one in ("pinned", "sliding"))
    return held if held == sliding else f"{held} to {sliding}"


def _beats(check: dict[str, Any] | None) -> str:
    if check is None or check["frequency_hz"] is None:
        return UNKNOWN
    return f"{check['frequency_hz']:.1f}"
