"""The changes that a window is told, edit after edit, come to the tables that a window opened just now is told whole."""

import random
from collections.abc import Callable
from typing import Any

import httpx
import pytest

OPEN = Callable[..., Any]
EDITS = 14
LINE = "paddock"  # of the example of `fencewright new`


def gate(chance: random.Random) -> dict[str, Any]:
    at = f"{chance.randint(2, 60)} ft"
    return {"kind": "add", "table": "gate", "values": {"line": LINE, "at": at, "opening": "8 ft"}}


def tree(chance: random.Random) -> dict[str, Any]:
    place = [f"{chance.randint(-20, 120)} ft", f"{chance.randint(-20, 20)} ft"]
    return {
        "kind": "add",
        "table": "obstacle",
        "values": {"kind": "tree", "points": [place], "radius": "1 ft"},
    }


def removed(chance: random.Random) -> dict[str, Any]:
    table = chance.choice(("gate", "gate", "obstacle", "pin", "strain", "rock"))
    return {"kind": "remove", "table": table, "item": 0}


def corner(chance: random.Random) -> dict[str, Any]:
    by = [f"{chance.randint(-30, 30)} ft", f"{chance.randint(-30, 30)} ft"]
    return {"kind": "move_corner", "line": LINE, "corner": chance.randint(0, 3), "by": by}


def pin(chance: random.Random) -> dict[str, Any]:
    return {"kind": "pin_top", "line": LINE, "at": f"{chance.randint(5, 100)} ft", "height": "55 in"}


def rock(chance: random.Random) -> dict[str, Any]:
    return {"kind": "met_rock", "line": LINE, "at": f"{chance.randint(5, 100)} ft", "depth": "30 in"}


def strain(chance: random.Random) -> dict[str, Any]:
    return {"kind": "strain_post", "line": LINE, "at": f"{chance.randint(5, 100)} ft"}


def rails(chance: random.Random) -> dict[str, Any]:
    return {"kind": "set", "path": ["fence", "rails"], "value": chance.randint(2, 5)}


def sheets(chance: random.Random) -> dict[str, Any]:
    return {"kind": "set", "path": ["job", "sheets"], "value": chance.choice(("us", "metric"))}


def opened_line(chance: random.Random) -> dict[str, Any]:
    return {"kind": "close_line", "line": LINE, "closed": chance.random() < 0.5}


def another(chance: random.Random) -> dict[str, Any]:
    start = chance.randint(0, 200)
    return {"kind": "add_line", "points": [[f"{start} ft", "-90 ft"], [f"{start + 60} ft", "-90 ft"]]}


def gone(chance: random.Random) -> dict[str, Any]:
    return {"kind": "remove_line", "line": 0 if chance.random() < 0.5 else 1}


MADE = (
    gate,
    gate,
    tree,
    removed,
    removed,
    removed,
    corner,
    pin,
    rock,
    strain,
    rails,
    sheets,
    opened_line,
    another,
    gone,
)


def fresh_columns(page: Any) -> dict[str, tuple[int, dict[str, list[Any]]]]:
    """Every column that is not stale, by table."""
    return {
        table: (rows, {name: cells for name, cells in page.tables[table].items() if len(cells) == rows})
        for table, rows in page.rows.items()
    }


@pytest.mark.parametrize("seed", range(4))
def test_any_sequence_of_edits_tells_a_window_what_a_new_one_is_told(
    client: httpx.Client, job: dict[str, Any], open_page: OPEN, edit: Any, seed: int
) -> None:
    chance = random.Random(seed)
    page = open_page(job)
    page.stage(1)
    head, kept = 1, 0
    for number in range(EDITS):
        page.events.clear()
        way = chance.choice(("edit", "edit", "edit", "undo", "redo"))
        made = chance.choice(MADE)(chance)
        if way == "edit":
            if chance.random() < 0.4:
                tried = {"base": head, "window": "one", "trial": number + 1, "edit": made}
                client.post(f"/api/jobs/{job['id']}/trial", json=tried)
            answer = edit(job, head, made)
        else:
            answer = client.post(f"/api/jobs/{job['id']}/{way}", json={"base": head, "window": "one"})
        if answer.status_code != 200:  # refused: there is no such thing, or nothing to undo
            client.delete(f"/api/jobs/{job['id']}/trial?window=one").raise_for_status()
            continue
        state = answer.json().get("state", answer.json())
        if state["head"] == head:
            client.delete(f"/api/jobs/{job['id']}/trial?window=one").raise_for_status()
            continue
        head, kept = state["head"], kept + 1
        whole(page, head)
        again = open_page(job, f"beside {number}")
        whole(again, head)
        assert fresh_columns(page) == fresh_columns(again), (number, way, made)
    assert kept > EDITS // 4


def whole(page: Any, head: int) -> None:
    """Wait until a window has been told all of a revision."""
    page.wait(
        lambda name, one: (
            (name == "stage" and (one["stage"], one["trial"], one["revision"]) == ("design", None, head))
            or (name == "refused" and (one["trial"], one["revision"]) == (None, head))
        )
    )
