"""The roll sheet: which length comes off which roll, where it goes, and where it is spliced."""

from bisect import bisect_right
from itertools import accumulate
from typing import Any

from fencewright.papers.blocks import Band, Column, Section, Table, Words
from fencewright.papers.measures import UNKNOWN, Measures, Record

_NEAR_M = 1e-3


class _Way:
    """Where along a run a length of its rail lies: posts and their distance from the first."""

    def __init__(self, spans: list[dict[str, Any]]) -> None:
        self.at_m = [0.0, *accumulate(float(span["slope_length_m"] or span["length_m"]) for span in spans)]
        self.posts = [spans[0]["from_post"], *(span["to_post"] for span in spans)]

    def between(self, at_m: float) -> str:
        """Name the span at a distance from the first post. [m]."""
        row = min(max(bisect_right(self.at_m, at_m) - 1, 0), len(self.posts) - 2)
        return f"{self.posts[row]} to {self.posts[row + 1]}"


def run_ways(record: Record) -> dict[str, _Way]:
    """Posts of each run of rail, by its name."""
    spans: dict[str, list[dict[str, Any]]] = {}
    for span in record["spans"]:
        if span["run"]:
            spans.setdefault(span["run"], []).append(span)
    return {run: _Way(rows) for run, rows in spans.items()}


def _splice(piece: dict[str, Any], pull: dict[str, Any], way: _Way | None) -> str:
    """Say in which span a piece is joined to the next; a dash where it reaches the pull's end."""
    if piece["to_m"] >= pull["rail_m"] - _NEAR_M:
        return UNKNOWN
    return way.between(piece["to_m"] - pull["tail_m"]) if way else UNKNOWN


def roll_section(record: Record) -> Section:
    """Give the sheet; rolls in the order in which they are opened, pieces as they come off."""
    told = Measures(record)
    long = told.units.long_unit
    pulls = {pull["id"]: pull for pull in record["pulls"]}
    ways = run_ways(record)
    rows: list[list[str] | Band] = []
    for roll in record["rolls"]:
        kind = "from the yard" if roll["from_yard"] else "new"
        rows.append(
            Band(
                f"Roll {roll['id']}: {roll['product']}, {kind}, {told.long(roll['length_m'])};"
                f" left {told.long(roll['offcut_m'])}"
            )
        )
        for number, piece in enumerate(roll["pieces"], start=1):
            pull = pulls[piece["pull"]]
            rows.append([
                f"{roll['id']}/{number}",
                piece["pull"],
                f"{pull['from_post']} to {pull['to_post']}",
                told.bare_long(piece["rail_m"]),
                told.bare_long(piece["from_m"]),
                told.bare_long(piece["to_m"]),
                _splice(piece, pull, ways.get(pull["run"])),
                "",
            ])  # fmt: skip
    columns = [
        Column("Label", 22, is_strong=True),
        Column("Pull", 20, is_strong=True),
        Column("Of", 32),
        Column(f"Cut\n{long}", 24, "right", is_strong=True),
        Column(f"From\n{long}", 20, "right"),
        Column(f"To\n{long}", 20, "right"),
        Column("Splice between", 32),
        Column("By", 15, is_blank=True),
    ]
    said = (
        "Tie the label to each length as it comes off its roll. From and to are distances along the pull from its"
        " first post's end, tails included. Write what you cut under each number."
    )
    return Section("Roll sheet", [Words(said), Table(columns, rows, 9.5)])
