"""What is told of one design, stage by stage."""

import time
from collections.abc import Collection, Iterator
from dataclasses import dataclass, field
from typing import Any

from fencewright.exchange.live_tables import TOLD_AFTER, Tables, only_new, site_tables, stage_tables
from fencewright.job.record import Job
from fencewright.pipeline.stages import STAGES, Stage

FOLLOWED_SOON = ("site", "layout", "top line")
_HELD_MS = 60.0  # a stage that ends within this time waits for the next: one event is drawn in one go


@dataclass
class StageAnswer:
    """What is told of one design: each column once, what is quickly followed together with what follows it.

    Attributes
    ----------
    job : Job
        What is asked.
    begun_s : float
        When it was begun, by `time.perf_counter`. [s]
    followed_soon : collection of str
        Stages that wait for the next.
    gathered : dict
        Every table that the stages have yielded so far.
    """

    job: Job
    begun_s: float
    followed_soon: Collection[str] = ()
    gathered: dict[str, Any] = field(default_factory=dict)
    told: Tables = field(default_factory=dict)
    held: dict[str, Any] | None = None

    def after(self, stage: str, made: tuple[Tables, dict[str, Any]]) -> dict[str, Any] | None:
        """Give what is told after a stage; None where it waits for the next one, which will come soon."""
        done = STAGES.index(stage) + 1 if stage in STAGES else 0
        elapsed_ms = (time.perf_counter() - self.begun_s) * 1000
        content: dict[str, Any] = {
            "stage": stage,
            "pending": list(STAGES[done:]),
            "elapsed_ms": round(elapsed_ms, 1),
            "tables": only_new(made[0], self.told),
            "values": made[1],
        }
        if self.held is not None:
            content["values"] = self.held["values"] | content["values"]
            content["tables"] = _joined(self.held["tables"], content["tables"])
        self.held = content if stage in self.followed_soon and elapsed_ms < _HELD_MS else None
        return content if self.held is None else None

    def begun_elsewhere(self) -> None:
        """Note as told what another has told of the stages so far."""
        only_new(site_tables(self.job)[0], self.told)
        for stage in TOLD_AFTER[1:-1]:
            only_new(stage_tables(stage, self.gathered, self.job)[0], self.told)

    def rest(self, following: Iterator[Stage]) -> dict[str, Any] | None:
        """Compute the stages that are left, and give what is told at the end."""
        for stage in following:
            self.gathered |= stage.tables
        return self.after("design", stage_tables("design", self.gathered, self.job))


def _joined(first: dict[str, Any], second: dict[str, Any]) -> dict[str, Any]:
    """Tables of two stages that are told together."""
    joined = dict(first)
    for name, said in second.items():
        columns = first[name]["columns"] | said["columns"] if name in first else said["columns"]
        joined[name] = {"rows": said["rows"], "columns": columns}
    return joined
