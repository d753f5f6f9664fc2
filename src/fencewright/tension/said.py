"""The tension stage's results with the words for its rows."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import Finding, Place
from fencewright.job.settings import Settings
from fencewright.quantity.show import UnitSystem
from fencewright.tables.tension import TensionTask
from fencewright.tension.pulled import PulledRuns

MOST = 21  # pulls of one kind that are put into words; of more than 20 alike the pipeline counts the rest


@dataclass(frozen=True, slots=True, eq=False)
class Said:
    """The stage's results, and the words for its rows."""

    task: TensionTask
    pulled: PulledRuns
    settings: Settings
    show: UnitSystem

    def place(self, run: int, product: int) -> Place:
        """Lowest strand of that product in that run."""
        return Place("pull", f"R{run + 1}-{self._strand(product) + 1}")

    def name(self, run: int, product: int) -> str:
        """`Pull R1-1 (polymer rail, 629.3 ft)`."""
        length = self.show.long(float(self.pulled.drawn.length_m[run]))
        return f"Pull {self.place(run, product).id} ({self.pulled.rails.rail[product]}, {length})"

    def _strand(self, product: int) -> int:
        name = self.pulled.rails.rail[product]
        return next(index for index, row in enumerate(self.settings.strands) if row.rail.name == name)

    @property
    def reference(self) -> str:
        """Rail temperature of the set tension."""
        return self.show.temperature(self.settings.tension.reference_c)


def first_rows(rows: NDArray[np.int64], level: str, code: str) -> tuple[list[list[int]], list[Finding]]:
    """Rows to put into words, and the finding that counts the rest."""
    if len(rows) <= MOST:
        return rows.tolist(), []
    rest = Finding(
        level, code, Place("job"), f"{len(rows) - MOST + 1} more findings like these, {code}, are not listed."
    )
    return rows[: MOST - 1].tolist(), [rest]
