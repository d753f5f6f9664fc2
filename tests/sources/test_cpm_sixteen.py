"""A textbook network of sixteen activities (cpm-sixteen, READ with its solution).

Durations in months and predecessors of A to Q; earliest and latest starts, total and free floats; 22 months in all.
"""

import numpy as np
import pytest

from fencewright.programme.network import Network, earliest, latest, slack

# activity: duration, predecessors, earliest start, latest start, total float, free float
TABLE = {
    "A": (1, "", 0, 7, 7, 5),
    "B": (4, "", 0, 0, 0, 0),
    "C": (2, "", 0, 5, 5, 5),
    "D": (2, "B", 4, 6, 2, 0),
    "E": (3, "B", 4, 4, 0, 0),
    "F": (3, "AD", 6, 12, 6, 0),
    "G": (2, "AD", 6, 8, 2, 2),
    "H": (1, "B", 4, 9, 5, 5),
    "I": (3, "CE", 7, 7, 0, 0),
    "J": (2, "CE", 7, 11, 4, 0),
    "K": (3, "F", 9, 15, 6, 4),
    "L": (6, "GHI", 10, 12, 2, 0),
    "M": (5, "GHI", 10, 10, 0, 0),
    "N": (2, "J", 9, 13, 4, 4),
    "P": (4, "KL", 16, 18, 2, 2),
    "Q": (7, "MN", 15, 15, 0, 0),
}


@pytest.fixture
def network() -> Network:
    names = list(TABLE)
    before = tuple(tuple(names.index(one) for one in row[1]) for row in TABLE.values())
    return Network(tuple(row[0] for row in TABLE.values()), before, np.zeros((16, 1), dtype=np.int64), (0,))


def test_duration(network: Network) -> None:
    assert max(earliest(network)[1]) == 22


def test_dates(network: Network) -> None:
    assert earliest(network)[0] == [row[2] for row in TABLE.values()]
    assert latest(network, 22)[0] == [row[3] for row in TABLE.values()]


def test_floats(network: Network) -> None:
    start = earliest(network)[0]
    total, free = slack(network, start, 22)
    assert [a - b for a, b in zip(total, start, strict=True)] == [row[4] for row in TABLE.values()]
    assert [a - b for a, b in zip(free, start, strict=True)] == [row[5] for row in TABLE.values()]


def test_the_critical_path_is_the_published_one(network: Network) -> None:
    start = earliest(network)[0]
    total, _ = slack(network, start, 22)
    assert "".join(name for name, a, b in zip(TABLE, total, start, strict=True) if a == b) == "BEIMQ"
