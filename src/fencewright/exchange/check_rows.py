"""Whether each post, hole and brace holds, as rows of design.json."""

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange import check_columns as columns
from fencewright.exchange.design_rows import names_at, table_rows
from fencewright.exchange.design_tables import Rows, post_ids
from fencewright.pipeline.record import Design, brace_id
from fencewright.tables.strength import KINDS, Check

MOST_CHECKS = 500_000  # rows; a longer fence keeps those that govern, and those near their capacity
_NEAR = 0.8

Ints = NDArray[np.int64]


def kept_checks(design: Design) -> Ints:
    """Rows of `Checks` that are written: all, or of a huge fence those that say most.

    Returns
    -------
    int array (kept,)
        Where there are more than `MOST_CHECKS` rows: of each post and brace the counted row with the largest
        utilisation, then every counted row of 0.8 or more, up to `MOST_CHECKS`, the largest first; in the order
        of the table.
    """
    checks = design.strength.checks
    if len(checks) <= MOST_CHECKS:
        return np.arange(len(checks))
    counted = np.flatnonzero(_is_counted()[checks.check])
    used = checks.utilisation[counted]
    order = counted[np.argsort(-used, kind="stable")]
    part = np.where(checks.brace_index >= 0, len(design.layout.posts) + checks.brace_index, checks.post_index)
    _, first = np.unique(part[order], return_index=True)
    near = order[checks.utilisation[order] >= _NEAR]
    room = max(MOST_CHECKS - len(first), 0)
    return np.unique(np.concatenate([order[first], near[:room]]))


def _is_counted() -> NDArray[np.bool_]:
    counted = np.zeros(max(Check) + 1, np.bool_)
    for check, kind in KINDS.items():
        counted[check] = kind.is_counted
    return counted


def checks_rows(design: Design) -> Rows:
    """One row a check of a post or brace; `kept_checks` says which."""
    checks, kept = design.strength.checks, kept_checks(design)
    kinds = [KINDS[Check(check)] for check in checks.check[kept].tolist()]
    braces = [brace_id(row) for row in range(len(design.layout.braces))]
    return table_rows(
        columns.CHECKS,
        {
            **{name: getattr(checks, name)[kept] for name in ("demand", "capacity", "utilisation")},
            "post": names_at(post_ids(design), checks.post_index[kept]),
            "brace": names_at(braces, checks.brace_index[kept]),
            "part": [kind.part for kind in kinds],
            "case": names_at(checks.cases, checks.case_index[kept]),
            "check": [kind.label for kind in kinds],
            "unit": [kind.unit for kind in kinds],
            "counted": [kind.is_counted for kind in kinds],
            "source": [kind.source for kind in kinds],
            "clause": [kind.clause for kind in kinds],
        },
    )
