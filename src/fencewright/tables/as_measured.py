"""What was measured on the finished fence, beside what the design says."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class AsMeasured:
    """One row a `[[measured]]` of the job that finds its place in the design, in its order.

    Columns (rows,): `post_index`, -1 where a pull as a whole; `pull_index`, -1 where none; `what`; `kind` of
    quantity: `length` [m], `force` [N]; `designed`; `measured`; `difference` measured less designed; `least`,
    `most` between which it is in tolerance, infinite where one-sided; `is_in`; `by`; `when` as year-month-day;
    `says` what to do about it.
    """

    post_index: Ints
    pull_index: Ints
    what: tuple[str, ...]
    kind: tuple[str, ...]
    designed: Floats
    measured: Floats
    difference: Floats
    least: Floats
    most: Floats
    is_in: Flags
    by: tuple[str, ...]
    when: tuple[str, ...]
    says: tuple[str, ...]

    def __len__(self) -> int:
        """Number of rows."""
        return len(self.what)
