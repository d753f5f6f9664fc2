"""Rows of work: how much of a thing a gang does in an hour, with which machine."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from fencewright.findings import InputError

Read = Callable[[str, str], float]


@dataclass(frozen=True, slots=True)
class WorkRow:
    """A production rate: a gang of `hands` does `per_hour` of `per` (in `unit`), `slow` at least, `quick` at most.

    `soil_classes` empty: any; `auger_m` widest hole of the row and `depth_m` the depth that it is told for, None
    where the row is of no hole; `metric` its name, depth [m] and reason on metric sheets, `also` its name on US ones
    where those are in use; `driver` what moves the hours of several rows together.
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
    metric: tuple[str, float | None, str] | None = None
    also: str = ""

    def on_metric_sheets(self) -> "WorkRow":
        """Give the row with its round metric name, depth and reason, `also` called as before; itself where it has none."""
        if self.metric is None:
            return self
        name, depth_m, why = self.metric
        return replace(self, name=name, depth_m=depth_m, why=why, also=self.name)


def work_key(works: Mapping[str, WorkRow], name: str) -> str:
    """Give the name under which a row of work stands, by that or by its other one; the name itself where there is none."""
    return next((key for key, row in works.items() if name in (key, row.also)), name)


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
        (
            str(row.get("name_metric", name)),
            read("depth_metric", "length") if "depth_metric" in row else None,
            str(row["why_metric"]),
        )
        if "why_metric" in row
        else None,
    )
