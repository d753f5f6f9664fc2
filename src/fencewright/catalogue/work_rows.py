"""Rows of work: how much of a thing a gang does in an hour, with which machine."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from fencewright.findings import InputError

Read = Callable[[str, str], float]


@dataclass(frozen=True, slots=True)
class WorkRow:
    """A production rate: a gang of `hands` does `per_hour` of `per` (in `unit`), `slow` at least, `quick` at most.

    `soil_classes` empty: any; `auger_m` widest hole of the row and `depth_m` the depth that it is told for, None
    where the row is of no hole; `driver` what moves the hours of several rows together.
    """

    name: str
    activity: str
    per: str
    unit: str
    per_hour: float
    slow: float
    quick: float
    hands: float
    trade: str
    plant: str
    soil_classes: tuple[int, ...]
    auger_m: float | None
    depth_m: float | None
    driver: str
    source: str
    why: str


def read_work(name: str, row: Mapping[str, Any], read: Read) -> WorkRow:
    """Work from its row; `read(key, kind)` gives a quantity of the row or says what is missing.

    Raises
    ------
    InputError
        A rate that is no number above 0, or slow, usual and quick out of order.
    """
    rate, slow, quick, hands = (float(row[key]) for key in ("per_hour", "slow", "quick", "hands"))
    if not 0 < slow <= rate <= quick < float("inf") or not hands > 0:
        raise InputError("slow, per_hour and quick must rise, all above 0", item=f'work "{name}"')
    return WorkRow(
        name,
        str(row["activity"]),
        str(row["per"]),
        str(row["unit"]),
        rate,
        slow,
        quick,
        hands,
        str(row["trade"]),
        str(row.get("plant", "")),
        tuple(int(one) for one in row.get("soil_classes", ())),
        read("auger", "length") if "auger" in row else None,
        read("depth", "length") if "auger" in row else None,
        str(row.get("driver", "")),
        str(row.get("source", "practice")),
        str(row.get("why", "")),
    )
