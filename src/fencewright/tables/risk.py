"""Tables of the price's risk: what is uncertain, what it costs, and how the total came out."""

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


class Shape(IntEnum):
    """How chance is spread over three points."""

    PERT = 0
    TRIANGULAR = 1


class Kind(IntEnum):
    """What an uncertainty is: one value, the mean of many alike, or the part of many that are hit."""

    SINGLE = 0
    MEAN_OF_MANY = 1
    PART_OF_MANY = 2


@dataclass(frozen=True, slots=True, eq=False)
class Uncertainties:
    """One row an uncertainty.

    Columns (uncertainties,): `name` short and stable; `words` for people; `low`, `mode`, `high` its three points,
    in rising order; `unit` of them: what they are a part of (`of the holes`), empty for a factor on what is estimated;
    `remedy` what would narrow them; `shape` (`Shape`); `kind` (`Kind`); `count` how many alike things share it, 1 for a
    single one; `driver` row of the normal score that moves it with others, -1 none; `loading` its correlation with that
    score, 0 to 1.
    """

    name: tuple[str, ...]
    words: tuple[str, ...]
    unit: tuple[str, ...]
    remedy: tuple[str, ...]
    low: Floats
    mode: Floats
    high: Floats
    shape: Ints
    kind: Ints
    count: Ints
    driver: Ints
    loading: Floats

    def __len__(self) -> int:
        """Number of uncertainties."""
        return len(self.name)


@dataclass(frozen=True, slots=True, eq=False)
class CostTerms:
    """A cost as a sum of products: each row an amount times the uncertainties in its row of `factors`.

    Columns (terms,): `amount` of money; `factors` rows of `Uncertainties`, empty where nothing moves it.
    """

    amount: Floats
    factors: tuple[tuple[int, ...], ...]

    def __len__(self) -> int:
        """Number of terms."""
        return len(self.factors)


@dataclass(frozen=True, slots=True, eq=False)
class Swings:
    """How much each uncertainty moves the total's P80, the most first.

    Columns (uncertainties,): `row` of `Uncertainties`; `low_total`, `high_total` P80 with it held at its own 10 % and
    90 % quantile, `low_value` and `high_value`, all others uncertain as before.
    """

    row: Ints
    low_total: Floats
    high_total: Floats
    low_value: Floats
    high_value: Floats

    def __len__(self) -> int:
        """Number of uncertainties."""
        return len(self.row)


@dataclass(frozen=True, slots=True, eq=False)
class Risk:
    """How a total came out over many runs.

    `runs`, `seed`; `base` the estimate, nothing gone wrong or right and no contingency; `mean`, `sd`; `probability`
    and `total`: a row each quantile that is kept, rising; `error` standard error of each, from the number of runs;
    `uncertainties`; `swings`. All in the money of the total.
    """

    runs: int
    seed: int
    base: float
    mean: float
    sd: float
    probability: Floats
    total: Floats
    error: Floats
    uncertainties: Uncertainties
    swings: Swings

    def quantile(self, probability: float) -> float:
        """Total that the given part of the runs stays below; between kept quantiles by a straight line."""
        return float(np.interp(probability, self.probability, self.total))

    def covered(self, total: float) -> float:
        """Part of the runs that a total covers, 0 to 1; 0 or 1 beyond the outermost quantiles that are kept."""
        return float(np.interp(total, self.total, self.probability, left=0.0, right=1.0))
